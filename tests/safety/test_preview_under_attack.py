"""The preview beside slow, silent and hostile clients: others are answered, nothing of the disk is told."""

import socket
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SMALL
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount, Route

from sitegen.app.loopback import LoopbackServer
from sitegen.app.preview.live_site import LiveSite
from sitegen.app.preview.pages import PreviewPages
from sitegen.build import Order

THEMES = Path(__file__).parents[2] / "themes"


MANY = 60
LARGE = bytes(6_000_000)  # more than any buffer of the system takes


def large(request: Request) -> Response:
    return Response(LARGE)


@pytest.fixture
def shown(tmp_path: Path) -> Iterator[LoopbackServer]:
    content = write_files(tmp_path / "content", SMALL + "private: {notes: zq-secret}\n")
    site, told = LiveSite(Order(content, tmp_path / "output", THEMES)), list[str]()
    site.remake()
    pages = PreviewPages(site, lambda finding: "the line", told.append).app()
    with LoopbackServer(Starlette(routes=[Route("/large", large), Mount("/", pages)]), told.append) as server:
        yield server
    assert told == []


Clients = Callable[[int], list[socket.socket]]


@pytest.fixture
def clients(shown: LoopbackServer) -> Iterator[Clients]:
    """So many connections that take little at once; closed before the server, which waits for them, is asked to end."""
    with ExitStack() as open_:

        def connect(number: int) -> list[socket.socket]:
            lines = []
            for _ in range(number):
                lines.append(line := open_.enter_context(socket.socket()))
                line.settimeout(60)
                line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1024)
                line.connect(("127.0.0.1", shown.port))
            return lines

        yield connect


def asked(server: LoopbackServer, path: str, *, head: str = "") -> bytes:
    with socket.create_connection(("127.0.0.1", server.port), timeout=20) as line:
        line.sendall(f"GET {path} HTTP/1.1\r\nHost: localhost:{server.port}\r\n{head}\r\n".encode())
        found = b""
        while part := line.recv(65536):
            found += part
    return found


def test_silent_clients_and_half_requests_keep_nobody_else_waiting(shown: LoopbackServer, clients: Clients) -> None:
    for rank, line in enumerate(clients(MANY)):
        line.sendall((b"", b"GET / HT", b"GET / HTTP/1.1\r\nHost: localhost\r\nX: y")[rank % 3])
    assert b" 200 " in asked(shown, "/")[:20]


def test_clients_that_do_not_read_keep_nobody_else_waiting(shown: LoopbackServer, clients: Clients) -> None:
    lines = clients(MANY)
    for line in lines:
        line.sendall(f"GET /large HTTP/1.1\r\nHost: localhost:{shown.port}\r\n\r\n".encode())
    time.sleep(0.3)
    assert b" 200 " in asked(shown, "/")[:20]


def test_no_other_address_of_this_machine_is_listened_on(shown: LoopbackServer) -> None:
    """Where a system takes all of 127.0.0.0/8 for itself, one that listens everywhere is met at 127.0.0.2, too."""
    own = {str(info[4][0]) for info in socket.getaddrinfo(socket.gethostname(), None)} - {"127.0.0.1"}
    for address in ("::1", "127.0.0.2", *own):
        with pytest.raises(OSError, match=r"refused|unreachable|unsupported|timed out|assign"):
            socket.create_connection((address, shown.port), timeout=2).close()


@pytest.mark.parametrize(
    "path",
    [
        "/%252e%252e/%252e%252e/etc/passwd", "/..;/..;/etc/passwd", "/%c0%ae%c0%ae/etc/passwd",
        "/%2e%2e%5c%2e%2e%5cetc",
        "/.git/config", "/.cache/sitegen/releases", "/content/site.yaml", "/../content/site.yaml",
        "/_preview/last-good/%2e%2e/%2e%2e/content/site.yaml", "/_preview/../content/site.yaml",
        "/animals/dam/animal.yaml",
        "/theme.yaml", "/templates/base.html", "/./index.html/../../content/site.yaml", "/?/../../etc/passwd/..",
        "file:///etc/passwd", "http://evil.example/etc/passwd", "/\u202e", "/" + "a/" * 3000,
    ],
)  # fmt: skip
def test_no_way_of_writing_an_address_reaches_the_disk(shown: LoopbackServer, path: str) -> None:
    reply = asked(shown, path)
    assert b"zq-secret" not in reply
    assert b"root:" not in reply
    assert b"species: corn-snake" not in reply
    assert b"Traceback" not in reply
    assert reply.startswith(b"HTTP/1.")


@pytest.mark.parametrize(
    "head",
    ["X: " + "y" * 70_000, "Host: evil.example", "Transfer-Encoding: chunked", "Content-Length: -1",
     "Expect: 100-continue",
     "Range: bytes=0-99999999999999", "X\u00e9: y", "Cookie: " + "a=b; " * 2000],
)  # fmt: skip
def test_odd_headers_do_no_harm(shown: LoopbackServer, head: str) -> None:
    reply = asked(shown, "/", head=head + "\r\n")
    assert b"Traceback" not in reply
    assert b" 200 " in asked(shown, "/")[:20]
