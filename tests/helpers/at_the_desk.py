"""A keeper at the desk: pages asked for and forms sent over HTTP, as a browser does, to a desk on this machine."""

import datetime as dt
import http.client
import json
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlencode

from sitegen.app.commands.desk import desk_of
from sitegen.app.loopback import HOST, LoopbackServer
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

    @property
    def address(self) -> str:
        return f"http://{HOST}:{self.port}"

    def ask(self, method: str, path: str, body: bytes | str = b"", **headers: str) -> Answered:
        """Any request; a word of a header is joined by ``_``."""
        line = http.client.HTTPConnection(HOST, self.port, timeout=60)
        try:
            named = {key.replace("_", "-"): value for key, value in headers.items()}
            line.request(method, path, body, named)
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
