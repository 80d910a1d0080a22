"""The preview beside slow, silent and hostile clients: others are answered, nothing of the disk is told."""

import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, suppress
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SMALL

from sitegen.app.preview import server as serving
from sitegen.app.preview.server import MOST_AT_ONCE, Desk, PreviewServer, Reply
from sitegen.app.preview.workshop import Workshop
from sitegen.build import Order

THEMES = Path(__file__).parents[2] / "themes"


@pytest.fixture
def shown(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[PreviewServer]:
    assert serving._Handler.timeout == serving._SILENCE_S <= 60
    monkeypatch.setattr(serving, "_ASKING_S", 1)
    monkeypatch.setattr(serving._Handler, "timeout", 3)
    content = write_files(tmp_path / "content", SMALL + "private: {notes: zq-secret}\n")
    workshop, told = Workshop(Order(content, tmp_path / "output", THEMES)), list[str]()
    workshop.remake()
    server = PreviewServer(Desk(workshop, lambda finding: "the line", told.append))
    threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
    yield server
    workshop.close()
    server.shutdown()
    server.server_close()
    assert told == []


Clients = Callable[[int], list[socket.socket]]


@pytest.fixture
def clients(shown: PreviewServer) -> Iterator[Clients]:
    """So many connections that take little at once; closed before the server, which waits for them, is asked to end."""
    with ExitStack() as open_:

        def connect(number: int) -> list[socket.socket]:
            lines = []
            for _ in range(number):
                lines.append(line := open_.enter_context(socket.socket()))
                line.settimeout(60)
                line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1024)
                line.connect(("127.0.0.1", shown.server_port))
            return lines

        yield connect


def asked(server: PreviewServer, path: str, *, head: str = "") -> bytes:
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=20) as line:
        line.sendall(f"GET {path} HTTP/1.1\r\nHost: localhost:{server.server_port}\r\n{head}\r\n".encode())
        found = b""
        while part := line.recv(65536):
            found += part
    return found


def test_clients_that_send_a_letter_now_and_then_keep_nobody_else_waiting(
    shown: PreviewServer, clients: Clients
) -> None:
    def drip(line: socket.socket) -> None:
        with suppress(OSError):
            line.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\nX: ")
            while True:
                time.sleep(0.2)
                line.sendall(b"y")

    for line in clients(MOST_AT_ONCE + 12):
        threading.Thread(target=drip, args=(line,), daemon=True).start()
    time.sleep(0.3)
    assert b" 200 " in asked(shown, "/")[:20]


def test_silent_clients_and_half_requests_are_let_go(shown: PreviewServer, clients: Clients) -> None:
    lines = clients(MOST_AT_ONCE)
    for rank, line in enumerate(lines):
        line.sendall(b"" if rank % 2 else b"GET / HT")
    assert b" 200 " in asked(shown, "/")[:20]
    for line in lines:
        with suppress(ConnectionResetError):
            assert b"zq-secret" not in line.recv(1000)


def test_clients_that_do_not_read_are_let_go(
    shown: PreviewServer, clients: Clients, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer, large = Desk.answer, Reply(bytes(16_000_000))  # more than any buffer of the system takes
    monkeypatch.setattr(Desk, "answer", lambda desk, address: large if address == "large" else answer(desk, address))
    for line in clients(MOST_AT_ONCE):
        line.sendall(f"GET /large HTTP/1.1\r\nHost: localhost:{shown.server_port}\r\n\r\n".encode())
    time.sleep(0.3)
    assert b" 200 " in asked(shown, "/")[:20]


def test_no_other_address_of_this_machine_is_listened_on(shown: PreviewServer) -> None:
    """Where a system takes all of 127.0.0.0/8 for itself, one that listens everywhere is met at 127.0.0.2, too."""
    own = {str(info[4][0]) for info in socket.getaddrinfo(socket.gethostname(), None)} - {"127.0.0.1"}
    for address in ("::1", "127.0.0.2", *own):
        with pytest.raises(OSError, match=r"refused|unreachable|unsupported|timed out|assign"):
            socket.create_connection((address, shown.server_port), timeout=2).close()


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
def test_no_way_of_writing_an_address_reaches_the_disk(shown: PreviewServer, path: str) -> None:
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
def test_odd_headers_do_no_harm(shown: PreviewServer, head: str) -> None:
    reply = asked(shown, "/", head=head + "\r\n")
    assert b"Traceback" not in reply
    assert b" 200 " in asked(shown, "/")[:20]
