"""The desk, on this machine and on the home network, beside forged, foreign, slow, huge and hostile requests."""

import contextlib
import datetime as dt
import os
import re
import socket
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.at_the_desk import NEAR, Answered, Home, Keeper, desk_and_phone
from helpers.from_text import write_files
from PIL import Image
from starlette.applications import Starlette
from starlette.responses import Response
from starlette.routing import Route

from sitegen.app.commands.desk import desk_routes
from sitegen.app.desk.desk import Desk
from sitegen.app.desk.door import Door
from sitegen.app.desk.pages import own_files
from sitegen.app.loopback import AT_HOME, HOST, LoopbackServer
from sitegen.build import Order

RECORDS = """
=== site.yaml
name: Test
currency: GBP
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
name: Juniper
sex: female
born: 2020-07-01
shows: [amel]
weights: {2026-11-01: 402 g}
offer: {price: 140, state: available, since: 2026-11-01}
private:
  notes: zq-private-note
  permits: [{kind: zq-permit, number: zq-number, valid_until: 2026-11-02}]
=== animals/flint/animal.yaml
species: corn-snake
name: Flint
sex: male
born: 2020-07-01
shows: []
=== litters/2026-a/litter.yaml
dam: juniper
sire: flint
born: 2026-07-01
young: {"01": {sex: female, shows: []}, "02": }
=== projects/red/project.yaml
name: Zq-project
species: corn-snake
goal: {shows: [amel]}
=== waiting.yaml
people:
  Zq of the fair: {contact: zq-contact, shows: [amel], sex: female, up_to: 150}
"""
SECRETS = ("zq-", "Zq")


def shown(found: Answered) -> str:
    """What a page shows, without the desk's token: random signs, among which any two may stand."""
    return re.sub(rb'"[\w-]{32}"', b'""', found.body).decode("latin-1")


"""What a phone must never be told, in any answer."""


@pytest.fixture
def home(tmp_path: Path) -> Iterator[Home]:
    content = write_files(tmp_path / "content", RECORDS)
    Image.new("RGB", (80, 60), "red").save(content / "animals/juniper/2026-10-01.jpg")
    with desk_and_phone(content) as home:
        yield home
    assert home.keeper.told == []


@pytest.fixture
def phone(home: Home) -> Keeper:
    """A phone that was let in."""
    assert home.type(home.door.code).status == 303
    return home.phone


def every_route(content: Path) -> list[tuple[str, tuple[str, ...]]]:
    """Every address of the desk with what stands in the records, and its methods."""
    order, door = Order(content, content.parent / "output", content.parent / "themes"), Door(dt.datetime.now)
    every = [*own_files(), *desk_routes(Desk(order, lambda: dt.date(2026, 11, 25)), print, door)]
    return [(filled(route.path), tuple(sorted(route.methods or ()))) for route in every]


THERE = {
    "animals": {"id": "juniper"}, "litters": {"id": "2026-a", "litter": "2026-a", "number": "01"},
    "projects": {"id": "red"}, "waiting": {"id": "Zq%20of%20the%20fair", "name": "Zq%20of%20the%20fair"},
    "changes": {"number": "1"}, "photos": {"record": "juniper", "mark": "0" * 24},
    "site": {"address": "animals/juniper.html"}, "offers": {"id": "juniper", "animal": "juniper"},
}  # fmt: skip


def filled(path: str) -> str:
    """An address of what is there; one of a new kind is told by a missing name."""
    return re.sub(r"{(\w+)(?::\w+)?}", lambda found: THERE[path.split("/")[1]][found[1]], path)


def every_byte(folder: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


@pytest.fixture
def unchanged(home: Home) -> Iterator[None]:
    """Whatever a test does, nothing of the records changes, nor is anything noted as changed."""
    folders = (home.keeper.content, Path(os.environ["SITEGEN_UNDO"]))
    before = [every_byte(folder) for folder in folders]
    yield
    assert [every_byte(folder) for folder in folders] == before


# Forged requests


FORGED: dict[str, dict[str, str]] = {
    "no origin": {},
    "a foreign origin": {"Origin": "http://evil.example"},
    "no origin that may be told": {"Origin": "null"},
    "another port of this machine": {"Origin": f"http://{HOST}:1"},
    "a secure page of the same name": {"Origin": "https://OWN"},
    "a user before the name": {"Origin": "http://OWN@evil.example"},
    "a page of the same site": {"Origin": "http://OWN", "Sec-Fetch-Site": "same-site"},
    "no token": {"Origin": "http://OWN"},
    "a wrong token": {"Origin": "http://OWN", "X-Desk-Token": "x" * 32},
    "an empty token": {"Origin": "http://OWN", "X-Desk-Token": ""},
}


@pytest.mark.usefixtures("unchanged")
@pytest.mark.parametrize("how", FORGED)
@pytest.mark.parametrize("who", ["desk", "phone"])
def test_a_forged_form_changes_nothing_at_any_address(home: Home, phone: Keeper, how: str, who: str) -> None:
    asked = home.keeper if who == "desk" else phone
    headers = {key: value.replace("OWN", f"{HOST}:{asked.port}") for key, value in FORGED[how].items()}
    tried = 0
    for path, methods in every_route(home.keeper.content):
        if "POST" in methods:
            body = "weight:juniper=500&sure:juniper=500&count=7&name=x&price=1&contact=x"
            found = asked.ask("POST", path, body, Content_Type="application/x-www-form-urlencoded", **headers)
            assert found.status in (403, 404, 405) if who == "phone" else found.status == 403, (path, found.text)
            tried += 1
    assert tried > 10


@pytest.mark.usefixtures("unchanged")
def test_a_token_of_an_earlier_desk_or_of_the_other_one_is_refused(home: Home, phone: Keeper, tmp_path: Path) -> None:
    with desk_and_phone(home.keeper.content) as earlier:
        earlier.keeper.look("/")
        home.keeper.token = earlier.keeper.token
    assert home.keeper.send("/round", **{"weight:juniper": "403"}).status == 403
    home.keeper.look("/")
    phone.token = home.keeper.token
    assert phone.send("/round", **{"weight:juniper": "403"}).status == 403


@pytest.mark.usefixtures("unchanged")
def test_to_look_changes_nothing(home: Home, phone: Keeper) -> None:
    for path, methods in every_route(home.keeper.content):
        for asked in (home.keeper, phone):
            if "GET" in methods and not path.startswith("/plan"):
                found = asked.ask("GET", f"{path}?weight:juniper=500&sure:juniper=500&token=x&count=7")
                assert found.status < 500, path
                assert asked is phone or found.status != 404 or "/photos/small" in path, path
                assert asked.ask("HEAD", path).body == b""


@pytest.mark.usefixtures("unchanged")
@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "post", "PROPFIND"])
def test_other_methods_are_refused_everywhere(home: Home, phone: Keeper, method: str) -> None:
    for asked in (home.keeper, phone):
        for path in ("/", "/round", "/code", "/phone/code", "/site/"):
            assert asked.ask(method, path, Origin=asked.address).status == 405


HOSTS = [
    "evil.example", "evil.example:PORT", "127.0.0.1", "127.0.0.1.evil.example:PORT", "127.0.0.1:PORT@evil.example",
    "192.168.1.7:PORT", "[::1]:PORT", "127.0.0.1:PORT, evil.example", "0.0.0.0:PORT", "127.1:PORT", "",
]  # fmt: skip


@pytest.mark.usefixtures("unchanged")
@pytest.mark.parametrize("host", HOSTS)
def test_a_name_that_was_made_to_lead_here_is_refused(home: Home, phone: Keeper, host: str) -> None:
    """DNS rebinding: the page of another site has a name of its own lead to this machine."""
    for asked in (home.keeper, phone):
        named = host.replace("PORT", str(asked.port))
        for method in ("GET", "POST"):
            assert asked.ask(method, "/", Host=named, Origin=f"http://{named}").status == 421


# Too much and too slow


@pytest.mark.usefixtures("unchanged")
def test_what_is_too_large_is_refused_before_it_is_read(home: Home, phone: Keeper) -> None:
    for asked in (home.keeper, phone):
        for path in ("/round", "/litters/2026-a", "/photos/juniper"):
            head = f"POST {path} HTTP/1.1\r\nHost: {HOST}:{asked.port}\r\nOrigin: {asked.address}\r\n"
            if asked.cookie:
                head += f"Cookie: {asked.cookie}\r\n"
            assert raw(asked, head + "Content-Length: 300000000\r\n\r\n").startswith(b"HTTP/1.1 413")
            assert raw(asked, head + "Content-Length: 99999999999999999999\r\n\r\n")[:12] in (
                b"HTTP/1.1 413", b"HTTP/1.1 400",
            )  # fmt: skip
            assert raw(asked, head + "\r\n").startswith(b"HTTP/1.1 413")


@pytest.mark.usefixtures("unchanged")
@pytest.mark.parametrize("size", ["", "Content-Length: 10\r\n"])
def test_a_body_of_pieces_without_an_end_is_refused(home: Home, phone: Keeper, size: str) -> None:
    """Of a body in pieces nobody knows the size; a length beside it would say less than comes (RFC 9112, 6.3)."""
    for asked in (home.keeper, phone):
        head = f"POST /photos/juniper HTTP/1.1\r\nHost: {HOST}:{asked.port}\r\nOrigin: {asked.address}\r\n"
        head += f"Cookie: {asked.cookie}\r\n" if asked.cookie else ""
        assert raw(asked, f"{head}{size}Transfer-Encoding: chunked\r\n\r\n").split()[1] in (b"411", b"400")


@pytest.mark.usefixtures("unchanged")
@pytest.mark.parametrize("length", ["-1", "ten", "1, 2", "1\r\nContent-Length: 2", "0x10", "+5", " "])
def test_a_length_that_is_none_is_refused(home: Home, length: str) -> None:
    head = f"POST /code HTTP/1.1\r\nHost: {HOST}:{home.phone.port}\r\nOrigin: {home.phone.address}\r\n"
    assert raw(home.phone, f"{head}Content-Length: {length}\r\n\r\n").startswith(b"HTTP/1.1 4")


def raw(asked: Keeper, sent: str, seconds: float = 20) -> bytes:
    """All that comes back until the desk closes; of a connection that is broken off what came before."""
    found = b""
    with socket.create_connection((HOST, asked.port), timeout=seconds) as line, contextlib.suppress(ConnectionError):
        line.sendall(sent.encode("latin-1"))
        while part := line.recv(65536):
            found += part
    return found


SHORT = replace(NEAR, patience_seconds=0.5, unread_seconds=0.5, n_of_one=10)


@pytest.fixture
def hurried(tmp_path: Path) -> Iterator[Home]:
    """A desk that has little patience with a phone."""
    with desk_and_phone(write_files(tmp_path / "content", RECORDS), SHORT) as home:
        yield home
    assert home.keeper.told == []


@pytest.mark.parametrize(
    "begun",
    ["", "GET / HT", "GET / HTTP/1.1\r\nHost: x\r\nX: y", "POST /code HTTP/1.1\r\nHost: HERE\r\nOrigin: http://HERE\r\n"
     "Content-Length: 900\r\n\r\ncode=", "GET / HTTP/1.1\r\n" + "X: y\r\n" * 200],
    ids=["silent", "half a line", "half a head", "half a body", "a head without an end"],
)  # fmt: skip
def test_who_is_slow_on_the_network_is_sent_away(hurried: Home, begun: str) -> None:
    since = time.monotonic()
    found = raw(hurried.phone, begun.replace("HERE", f"{HOST}:{hurried.phone.port}"))
    assert b" 200 " not in found
    assert time.monotonic() - since < 8


def test_a_photograph_sent_in_drops_is_broken_off_and_nothing_is_kept(hurried: Home) -> None:
    phone = hurried.phone
    hurried.type(hurried.door.code)
    before, since = every_byte(hurried.keeper.content), time.monotonic()
    head = f"POST /photos/juniper HTTP/1.1\r\nHost: {HOST}:{phone.port}\r\nOrigin: {phone.address}\r\n"
    with socket.create_connection((HOST, phone.port), timeout=10) as line:
        line.sendall(
            f"{head}Cookie: {phone.cookie}\r\nContent-Type: multipart/form-data; boundary=x\r\n"
            "Content-Length: 5000000\r\n\r\n".encode()
        )
        with contextlib.suppress(ConnectionError):
            while time.monotonic() - since < 20:
                line.sendall(b"x")
                time.sleep(0.02)
    assert time.monotonic() - since < 10
    assert every_byte(hurried.keeper.content) == before


def test_who_does_not_take_the_answer_is_sent_away() -> None:
    large = Route("/", lambda request: Response(bytes(6_000_000)))  # more than any buffer of the system takes
    with LoopbackServer(Starlette(routes=[large]), print, bounds=SHORT) as server, contextlib.ExitStack() as lines:
        for _ in range(SHORT.n_of_one):
            line = lines.enter_context(socket.socket())
            line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1024)
            line.connect((HOST, server.port))
            line.sendall(f"GET / HTTP/1.1\r\nHost: {HOST}:{server.port}\r\n\r\n".encode())
        time.sleep(0.2)
        with pytest.raises(OSError, match=r"reset|closed"):
            Keeper(server.port, Path()).ask("GET", "/")  # one more of that address than may be open
        until = time.monotonic() + 20
        while time.monotonic() < until:
            with contextlib.suppress(OSError):
                if Keeper(server.port, Path()).ask("GET", "/").status == 200:
                    return
            time.sleep(0.1)
    pytest.fail("others were kept out")


def test_many_connections_of_one_keep_neither_the_desk_nor_others_waiting(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", RECORDS)
    with desk_and_phone(content) as home, contextlib.ExitStack() as lines:
        assert home.keeper.ask("GET", "/").status == 200
        opened = [lines.enter_context(socket.create_connection((HOST, home.phone.port))) for _ in range(100)]
        closed = 0
        for line in opened[NEAR.n_of_one :]:
            line.settimeout(10)
            with contextlib.suppress(ConnectionError):
                assert line.recv(1) == b""
            closed += 1
        assert closed == 100 - NEAR.n_of_one
        assert home.keeper.ask("GET", "/").status == 200
        for line in opened:
            line.close()
        time.sleep(0.2)
        assert home.phone.ask("GET", "/").status == 403  # asked for the code


def test_no_more_connections_are_open_than_are_allowed_in_all(tmp_path: Path) -> None:
    content, bounds = write_files(tmp_path / "content", RECORDS), replace(NEAR, n_connections=8, n_of_one=100)
    with desk_and_phone(content, bounds) as home, contextlib.ExitStack() as lines:
        opened = [lines.enter_context(socket.create_connection((HOST, home.phone.port))) for _ in range(8)]
        assert raw(home.phone, f"GET / HTTP/1.1\r\nHost: {HOST}:{home.phone.port}\r\n\r\n") == b""
        for line in opened:
            line.close()
        time.sleep(0.2)
        assert home.phone.ask("GET", "/").status == 403


def test_who_is_on_no_network_of_ones_own_is_not_listened_to(tmp_path: Path) -> None:
    """The bounds of a home network, to which 127.0.0.1 is as foreign as any address of the world."""
    for foreign in ("127.0.0.1", "8.8.8.8", "192.0.2.1", "100.64.0.1", "172.32.0.1", "2001:db8::1", "::1", "fe80::1"):
        assert not AT_HOME.allow(foreign)
    for own in ("10.1.2.3", "172.16.0.1", "172.31.255.1", "192.168.1.2", "169.254.1.1", "fd00::2", "fc00::1"):
        assert AT_HOME.allow(own)
    with desk_and_phone(write_files(tmp_path / "content", RECORDS), AT_HOME) as home:
        assert raw(home.phone, f"GET / HTTP/1.1\r\nHost: {HOST}:{home.phone.port}\r\n\r\n") == b""


# The code and the key


def test_without_the_key_there_is_the_form_for_the_code_and_nothing_else(home: Home) -> None:
    for path, _ in every_route(home.keeper.content):
        for method in ("GET", "POST"):
            found = home.phone.ask(method, path, Origin=home.phone.address, Cookie="phone=; phone=x")
            if path == "/favicon.ico" and method == "GET":
                assert (found.status, found.body) == (204, b"")
            elif not path.startswith("/desk/") and path != "/favicon.ico":
                assert found.status == 403, path
                assert "six digits" in found.text
                assert 'data-token=""' in found.text
                assert "Juniper" not in found.text
    assert "the round" not in home.phone.look("/round?done=1").text.lower()


def test_the_key_is_kept_from_scripts_and_other_sites_and_ends_with_the_day(home: Home) -> None:
    told = home.type(home.door.code).headers["set-cookie"]
    assert re.fullmatch(r"phone=[\w-]{43}; HttpOnly; Max-Age=43200; Path=/; SameSite=strict", told)
    home.wait(12 * 3600)
    assert home.phone.ask("GET", "/round").status == 403


def test_wrong_codes_end_the_code_and_the_right_one_is_of_no_use_then(home: Home) -> None:
    code = home.door.code
    others = [each for each in ("000000", "111111", "222222", "333333", "444444", "555555") if each != code][:5]
    for tried, other in enumerate(others, 1):
        found = home.type(other)
        assert found.status == 403
        assert "set-cookie" not in found.headers
        assert home.type(code).status == (429 if tried < 5 else 403)
        home.wait(2**tried)
    assert home.type(code).status == 403
    assert home.phone.ask("GET", "/round").status == 403
    assert "Make a code for a phone" in home.keeper.look("/").text


def test_a_code_that_was_used_lets_in_no_second_phone(home: Home, phone: Keeper, tmp_path: Path) -> None:
    code, second = "", Keeper(phone.port, phone.content)
    assert home.door.code == code
    assert "A phone is let in" in home.keeper.look("/").text
    assert second.ask("GET", "/").status == 403
    assert home.keeper.send("/phone/code", as_json=False).status == 303
    assert phone.ask("GET", "/round").status == 403
    assert home.type(home.door.code, second).status == 303
    assert second.ask("GET", "/round").status == 200
    assert home.keeper.send("/phone/shut", as_json=False).status == 303
    assert second.ask("GET", "/round").status == 403


def test_a_stolen_key_is_of_no_use_once_the_desk_was_started_anew(home: Home, phone: Keeper) -> None:
    with desk_and_phone(home.keeper.content) as later:
        thief = Keeper(later.phone.port, later.phone.content, cookie=phone.cookie)
        assert thief.ask("GET", "/round").status == 403
        later.type(later.door.code)
        assert thief.ask("GET", "/round").status == 403


@pytest.mark.parametrize("origin", ["", "http://evil.example", "null"])
def test_a_code_that_another_site_sends_is_not_looked_at(home: Home, origin: str) -> None:
    headers = {"Origin": origin} if origin else {}
    assert home.phone.ask("POST", "/code", f"code={home.door.code}", **headers).status == 403
    assert home.door.code


def test_the_form_for_the_code_takes_little(home: Home) -> None:
    found = home.phone.ask("POST", "/code", "code=" + "1" * 2000, Origin=home.phone.address)
    assert found.status == 413
    assert home.phone.ask("POST", "/code", b"\xff\x00%zz&&==", Origin=home.phone.address).status == 403


# What the phone has


ON_THE_PHONE = re.compile(
    r"/|/round|/litters/[^/]+|/litters/[^/]+/(consider|outcome)|/photos/.*|/desk/[\w.-]+|/favicon.ico|/changes/\w+/undo"
)
"""Its whole application; a page that is added to the desk must not be here by itself."""


def test_the_phone_has_no_page_of_the_desk_but_those_that_are_named(home: Home, phone: Keeper) -> None:
    phone.look("/")
    seen = set()
    for path, methods in every_route(home.keeper.content):
        for method in methods:
            body = f"token={phone.token}"
            headers = {"Origin": phone.address, "Content-Type": "application/x-www-form-urlencoded"}
            found = phone.ask(method, path, body if method == "POST" else b"", **headers)
            if not ON_THE_PHONE.fullmatch(path):
                assert found.status in (404, 405), (method, path)
                seen.add(path)
            assert not any(secret in shown(found) for secret in SECRETS), (method, path)
    for path in ("/waiting", "/offers", "/plan", "/changes", "/diary", "/site/animals/juniper.html", "/animals",
                 "/animals/juniper", "/litters", "/animals/new", "/projects", "/begin", "/phone/code"):  # fmt: skip
        assert path in seen, path
    assert phone.look("/litters/new").status == 404
    for path in ("/", "/round", "/litters/2026-a", "/photos/juniper", "/photos/2026-a/01", "/desk/round.js"):
        assert phone.look(path).status == 200, path


def test_no_page_of_the_phone_leads_to_one_that_it_does_not_have(home: Home, phone: Keeper) -> None:
    small = re.search(r"/photos/small/\w+\.jpg", phone.look("/photos/juniper").text)
    assert small is not None
    for page in ("/", "/round", "/litters/2026-a", "/photos/juniper"):
        text = phone.look(page).text
        leads = {each.partition("#")[0] for each in re.findall(r'(?:href|src)="(/[^"]*)"', text)}
        assert len(leads) >= 3
        for address in leads:
            assert phone.look(address.replace("&amp;", "&")).status == 200, (page, address)


def test_what_the_phone_enters_stands_in_the_records_and_it_may_take_back_that_alone(home: Home, phone: Keeper) -> None:
    waits = {"name": "Zq too", "contact": "zq-more", "shows": "amel"}
    assert home.keeper.send("/waiting", as_json=False, **waits).status == 303
    at_the_desk = int(home.keeper.send("/round", **{"weight:flint": "390"}).facts["undo"])  # type: ignore[call-overload]
    phone.look("/round")
    found = phone.send("/round", **{"weight:juniper": "411"}).facts
    file = home.keeper.content / "animals/juniper/animal.yaml"
    assert "411 g" in file.read_text()
    own = int(found["undo"])  # type: ignore[call-overload]
    for number in range(own + 3):
        told = shown(phone.look(f"/round?done={number}"))
        assert not any(secret in told for secret in SECRETS)
        assert ("Take it back" in told) is (number == own)
        if number != own:
            assert phone.send(f"/changes/{number}/undo").status == 404
    assert at_the_desk < own
    assert phone.send(f"/changes/{own}/undo").status == 200
    assert "411 g" not in file.read_text()


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("waiting.yaml", "people:\n  Zq of the fair: {contact: zq-contact, up_to: zq-much}\n"),
        ("animals/juniper/animal.yaml", "species: corn-snake\nprivate:\n  permits: [{kind: zq-x, valid_until: zq}]\n"),
        ("animals/juniper/animal.yaml", "species: corn-snake\nprivate: {permits: [{\n  zq-odd: zq-thing}]}\n"),
        ("animals/juniper/animal.yaml", "species: corn-snake\nprivate:\n  notes: [zq-a, zq-b\nborn: 2020\n"),
        ("animals/juniper/animal.yaml", "{species: corn-snake, private: {permits: [{\nvalid_until: zq}]}}\n"),
        ("litters/2026-a/litter.yaml", 'dam: juniper\nyoung:\n  "01":\n    private:\n      permits: [zq: 1]\n'),
        ("projects/red/project.yaml", "name: Zq-project\ngoal: [zq-gene]\n"),
    ],
)  # fmt: skip
def test_no_finding_tells_the_phone_of_who_waits_or_of_what_is_private(
    home: Home, phone: Keeper, path: str, text: str
) -> None:
    (home.keeper.content / path).write_text(text)
    for page in ("/", "/round", "/litters/2026-a", "/photos/juniper"):
        found = phone.look(page)
        assert not any(secret in shown(found) for secret in SECRETS), found.text
    phone.token = phone.token or "x"
    sent = phone.send("/round", **{"weight:juniper": "411", "sure:juniper": "411"})
    assert not any(secret in shown(sent) for secret in SECRETS), sent.text


def test_a_finding_that_is_nobodys_secret_is_told_with_its_line(home: Home, phone: Keeper) -> None:
    file = home.keeper.content / "animals/flint/animal.yaml"
    file.write_text("species: corn-snake\nprivate:\n  notes: zq-private-note\nshows: [amle]\n")
    found = phone.look("/round")
    assert found.status == 409
    assert "animals/flint/animal.yaml:4:9" in found.text
    assert "amle" in found.text


# Odd addresses and headers


PATHS = [
    "/../content/site.yaml", "/%2e%2e/%2e%2e/etc/passwd", "/desk/../desk.py", "/desk/%2e%2e/door.py", "/desk//desk.py",
    "/desk/templates/base.html", "/desk/desk.css/../desk.py", "/photos/../../etc/passwd", "/photos/%2e%2e/waiting.yaml",
    "/photos/..%2f..%2fwaiting.yaml", "/photos/small/..%2f..%2fanimal.jpg", "/photos//etc/passwd",
    "/photos/waiting.yaml",
    "/litters/..%2fwaiting.yaml", "/litters/%2e%2e", "/site/..%2f..%2fcontent/waiting.yaml", "/site//etc/passwd",
    "/site/%2e%2e/%2e%2e/etc/passwd", "/photos/animals/juniper/animal.yaml", "/photos/%00", "/round%00", "/\u202e",
    "/%c0%ae%c0%ae/etc/passwd", "http://evil.example/etc/passwd", "//evil.example/", "/" + "a/" * 3000,
]  # fmt: skip


@pytest.mark.usefixtures("unchanged")
@pytest.mark.parametrize("path", PATHS)
def test_no_way_of_writing_an_address_reaches_the_disk(home: Home, phone: Keeper, path: str) -> None:
    for asked in (home.keeper, phone):
        for method in ("GET", "POST"):
            head = f"{method} {path} HTTP/1.1\r\nHost: {HOST}:{asked.port}\r\nOrigin: {asked.address}\r\n"
            cookie = f"Cookie: {asked.cookie}\r\n" if asked.cookie else ""
            found = raw(asked, f"{head}{cookie}Content-Length: 0\r\n\r\n".encode().decode("latin-1"))
            for planted in (b"root:", b"zq-private-note", b"zq-contact", b"import ", b"{% block", b"Traceback"):
                assert planted not in found
            assert b"evil.example" not in found.partition(b"\r\n\r\n")[0]


@pytest.mark.parametrize("sign", ["%0d%0aX-Planted:%20yes", "%0aX-Planted:%20yes", "%0d%0a%0d%0a<script>", "\r\n"])
def test_no_line_end_that_is_sent_becomes_one_of_a_header(home: Home, phone: Keeper, sign: str) -> None:
    home.keeper.look("/")
    phone.look("/")
    for asked in (home.keeper, phone):
        cookie = f"Cookie: {asked.cookie}\r\n" if asked.cookie else ""
        for path in (f"{each}{sign}" for each in ("/round?day=", "/round?done=", "/litters/", "/photos/", "/site/")):
            for method, body in (("GET", ""), ("POST", f"token={asked.token}&weight:flint=390&sure:flint=390")):
                found = raw(
                    asked,
                    f"{method} {path} HTTP/1.1\r\nHost: {HOST}:{asked.port}\r\nOrigin: {asked.address}\r\n{cookie}"
                    f"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {len(body)}\r\n\r\n{body}",
                )
                head = found.partition(b"\r\n\r\n")[0].lower()
                assert b"\nx-planted" not in head
                assert b"<script>" not in found


def told_by(found: Answered) -> dict[str, str]:
    return {key: found.headers.get(key, "") for key in ("cache-control", "x-content-type-options",
            "cross-origin-resource-policy", "referrer-policy", "content-security-policy")}  # fmt: skip


def test_no_answer_may_be_framed_kept_or_read_by_others(home: Home, phone: Keeper) -> None:
    anybody = Keeper(phone.port, phone.content)
    for asked in (home.keeper, phone, anybody):
        for path in ("/", "/round", "/litters/2026-a", "/photos/juniper", "/none", "/desk/desk.js", "/code"):
            told = told_by(asked.ask("GET", path))
            assert told["cache-control"] == "no-store", path
            assert told["x-content-type-options"] == "nosniff"
            assert told["cross-origin-resource-policy"] == "same-origin"
            assert told["referrer-policy"] == "same-origin"
            assert "frame-ancestors 'none'" in told["content-security-policy"]
            assert "unsafe" not in told["content-security-policy"]


def test_the_phones_server_refuses_a_host_that_is_not_its_address(tmp_path: Path) -> None:
    """On the network the one name is the address itself; ``localhost`` is none."""
    for address, name in (("127.0.0.2", "127.0.0.2"), ("::1", "[::1]")):
        bounds = replace(NEAR, networks=("127.0.0.0/8", "::1/128"))
        server = LoopbackServer(lambda *_: None, print, host=address, bounds=bounds)  # type: ignore[arg-type,return-value]
        assert server.address == f"http://{name}:{server.port}/"
        with server, socket.create_connection((address, server.port), timeout=10) as line:
            line.sendall(f"GET / HTTP/1.1\r\nHost: localhost:{server.port}\r\n\r\n".encode())
            assert line.recv(100).startswith(b"HTTP/1.1 421")
