"""A keeper at the desk: pages asked for and forms sent over HTTP, as a browser does, to a desk on this machine."""

import datetime as dt
import http.client
import json
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from urllib.parse import urlencode

from sitegen.app.commands.desk import desk_of, desk_routes
from sitegen.app.desk.desk import Desk
from sitegen.app.desk.door import Door
from sitegen.app.desk.pages import application
from sitegen.app.desk.phone import on_a_phone
from sitegen.app.loopback import AT_HOME, HOST, ON_THIS_MACHINE, Bounds, LoopbackServer
from sitegen.build import Order

DAY = dt.date(2026, 11, 25)


@dataclass(frozen=True)
class Answered:
    """What came back."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode()

    @property
    def facts(self) -> dict[str, object]:
        found: dict[str, object] = json.loads(self.body)
        return found


@dataclass
class Keeper:
    """Somebody at the desk; holds the token of the page that was last looked at."""

    port: int
    content: Path
    told: list[str] = field(default_factory=list)
    token: str = ""
    cookie: str = ""

    @property
    def address(self) -> str:
        return f"http://{HOST}:{self.port}"

    def ask(self, method: str, path: str, body: bytes | str = b"", **headers: str) -> Answered:
        """Any request; a word of a header is joined by ``_``."""
        line = http.client.HTTPConnection(HOST, self.port, timeout=60)
        try:
            named = {key.replace("_", "-"): value for key, value in headers.items()}
            line.request(method, path, body, ({"Cookie": self.cookie} if self.cookie else {}) | named)
            answer = line.getresponse()
            return Answered(answer.status, {k.lower(): v for k, v in answer.getheaders()}, answer.read())
        finally:
            line.close()

    def look(self, path: str) -> Answered:
        """A page."""
        found = self.ask("GET", path)
        if token := re.search(rb'data-token="([^"]+)"', found.body):
            self.token = token[1].decode()
        return found

    def send(self, path: str, as_json: bool = True, **fields: object) -> Answered:
        """A form of a page of the desk; a list is a field that stands there several times."""
        if not self.token:
            self.look("/")
        headers = {"Origin": self.address, "Content_Type": "application/x-www-form-urlencoded"}
        headers |= {"Accept": "application/json"} if as_json else {}
        return self.ask("POST", path, urlencode({"token": self.token, **fields}, doseq=True), **headers)


@contextmanager
def at_the_desk(content: Path, day: dt.date = DAY) -> Iterator[Keeper]:
    """A desk for a content folder, on a day."""
    told: list[str] = []
    order = Order(content, content.parent / "output", content.parent / "themes")
    with LoopbackServer(desk_of(order, lambda: day, told.append), told.append, methods=("GET", "HEAD", "POST")) as line:
        yield Keeper(line.port, content, told)


NEAR = replace(AT_HOME, networks=ON_THIS_MACHINE.networks)
"""What the desk asks of a phone, which in tests is on this machine."""
NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


@dataclass
class Home:
    """A desk, a phone that was not let in yet, and the door between them, with a clock of the test's own."""

    keeper: Keeper
    phone: Keeper
    door: Door
    now: list[dt.datetime]

    def wait(self, seconds: float) -> None:
        self.now[0] += dt.timedelta(seconds=seconds)

    def type(self, code: str, phone: Keeper | None = None) -> Answered:
        """Type a code on the phone, which keeps the key that it gets."""
        phone = phone or self.phone
        answer = phone.ask("POST", "/code", urlencode({"code": code}), Origin=phone.address)
        if key := answer.headers.get("set-cookie"):
            phone.cookie = key.partition(";")[0]
        return answer


@contextmanager
def desk_and_phone(content: Path, bounds: Bounds = NEAR, host: str = HOST) -> Iterator[Home]:
    """A desk on a day, and its pages for a phone."""
    told, now = list[str](), [NOON]
    desk = Desk(Order(content, content.parent / "output", content.parent / "themes"), lambda: DAY)
    door = Door(lambda: now[0])
    methods = ("GET", "HEAD", "POST")
    own = LoopbackServer(application(desk_routes(desk, told.append, door)), told.append, methods=methods)
    with own, LoopbackServer(on_a_phone(desk, door), told.append, methods=methods, host=host, bounds=bounds) as line:
        door.address = line.address
        yield Home(Keeper(own.port, content, told), Keeper(line.port, content, told), door, now)
