"""The preview beside slow, silent and hostile clients: others are answered, nothing of the disk is told."""

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from command_line import SMALL
from written import write_files

from sitegen.build import Order
from sitegen.preview import server as serving
from sitegen.preview.server import MOST_AT_ONCE, Desk, PreviewServer
from sitegen.preview.workshop import Workshop

THEMES = Path(__file__).parents[2] / "themes"


@pytest.fixture
def shown(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[PreviewServer]:
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


def asked(server: PreviewServer, path: str, *, head: str = "") -> bytes:
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=60) as line:
        line.sendall(f"GET {path} HTTP/1.1\r\nHost: localhost:{server.server_port}\r\n{head}\r\n".encode())
        found = b""
        while part := line.recv(65536):
            found += part
    return found


def test_clients_that_send_a_letter_now_and_then_keep_nobody_else_waiting(shown: PreviewServer) -> None:
    ended = threading.Event()

    def drip(line: socket.socket) -> None:
        with suppress(OSError):
            line.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\nX: ")
            while not ended.wait(0.2):
                line.sendall(b"y")

    lines = [socket.create_connection(("127.0.0.1", shown.server_port), timeout=60) for _ in range(MOST_AT_ONCE + 12)]
    drips = [threading.Thread(target=drip, args=(line,), daemon=True) for line in lines]
    for each in drips:
        each.start()
    time.sleep(0.3)
    began = time.monotonic()
    assert b" 200 " in asked(shown, "/")[:20]
    assert time.monotonic() - began < 30
    ended.set()
    for line in lines:
        line.close()


def test_silent_clients_and_half_requests_are_let_go(shown: PreviewServer) -> None:
    lines = [socket.create_connection(("127.0.0.1", shown.server_port), timeout=60) for _ in range(MOST_AT_ONCE)]
    for rank, line in enumerate(lines):
        line.sendall(b"" if rank % 2 else b"GET / HT")
    assert b" 200 " in asked(shown, "/")[:20]
    for line in lines:
        with suppress(ConnectionResetError):
            assert b"zq-secret" not in line.recv(1000)
        line.close()


def test_a_client_that_does_not_read_is_let_go(shown: PreviewServer) -> None:
    lines = []
    for _ in range(MOST_AT_ONCE):
        line = socket.socket()
        line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1024)
        line.connect(("127.0.0.1", shown.server_port))
        line.sendall(f"GET /data/collection.json HTTP/1.1\r\nHost: localhost:{shown.server_port}\r\n\r\n".encode())
        lines.append(line)
    assert b" 200 " in asked(shown, "/")[:20]
    for line in lines:
        line.close()


def test_the_other_loopback_and_other_addresses_are_not_listened_on(shown: PreviewServer) -> None:
    own = [info[4][0] for info in socket.getaddrinfo(socket.gethostname(), None)]
    for address in ("::1", *(each for each in own if not str(each).startswith("127."))):
        with pytest.raises(OSError, match=r"refused|unreachable|unsupported|timed out|assign"):
            socket.create_connection((str(address), shown.server_port), timeout=2).close()


@pytest.mark.parametrize(
    "path",
    [
        "/%252e%252e/%252e%252e/etc/passwd", "/..;/..;/etc/passwd", "/%c0%ae%c0%ae/etc/passwd",
        "/%2e%2e%5c%2e%2e%5cetc",
        "/.git/config", "/.sitegen/release-output/seen.json", "/content/site.yaml", "/../content/site.yaml",
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
