"""The server: to this machine alone, and calm under load."""

import socket
import threading
import time
from collections.abc import Iterator

import pytest
from helpers.over_loopback import get, sent
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from sitegen.app.loopback import LoopbackServer


def hello(request: Request) -> Response:
    return PlainTextResponse("hello")


def fails(request: Request) -> Response:
    raise LookupError("nothing here")


@pytest.fixture
def told() -> list[str]:
    return []


@pytest.fixture
def server(told: list[str]) -> Iterator[LoopbackServer]:
    with LoopbackServer(Starlette(routes=[Route("/", hello), Route("/fails", fails)]), told.append) as server:
        yield server


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example", "[::1]"])
def test_another_host_name_is_refused(server: LoopbackServer, host: str) -> None:
    status, _, body = get(server, "/", host)
    assert (status, body) == (421, b"Misdirected Request.\n")


def test_the_own_names_are_answered_and_several_or_none_are_not(server: LoopbackServer) -> None:
    port = server.port
    assert get(server, "/", f"localhost:{port}")[0] == 200
    assert get(server, "/", f"LOCALHOST:{port}")[0] == 200
    assert b" 421 " in sent(server, b"GET / HTTP/1.0\r\n\r\n")
    twice = f"GET / HTTP/1.1\r\nHost: localhost:{port}\r\nHost: evil.example\r\n\r\n"
    assert b" 400 " in sent(server, twice.encode())  # RFC 9112, section 3.2


def test_only_this_machine_can_connect(server: LoopbackServer) -> None:
    assert server.address == f"http://127.0.0.1:{server.port}/"
    with pytest.raises(OSError, match=r"refused|unreachable|unsupported|timed out|assign"):
        socket.create_connection(("::1", server.port), timeout=2).close()


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "CONNECT", "TRACE", "get"])
def test_other_methods_are_refused(server: LoopbackServer, method: str) -> None:
    status, head, _ = get(server, "/", method=method)
    assert status == 405
    assert b"allow: GET, HEAD" in head


def test_head_has_the_length_and_no_body(server: LoopbackServer) -> None:
    status, head, body = get(server, "/", method="HEAD")
    length = len(get(server, "/")[2])
    assert (status, body) == (200, b"")
    assert f"content-length: {length}".encode() in head


@pytest.mark.parametrize(
    "request_bytes",
    [
        b"\r\n\r\n", b"\x00\x01\x02\r\n\r\n", b"GET\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n", b"GET / FTP/1.0\r\n\r\n", b"",
        b"GET /" + b"a" * 70_000 + b" HTTP/1.1\r\n\r\n", b"GET / HTTP/1.1\r\nHost\r\n\r\n",
        b"GET http:// HTTP/1.1\r\n\r\n",
        b"GET / HTTP/1.1\r\n" + b"X: y\r\n" * 500 + b"\r\n", b"GET /%ff%fe HTTP/1.1\r\nHost: HERE\r\n\r\n",
        b"GET [ HTTP/1.1\r\nHost: HERE\r\n\r\n", b"GET //[ HTTP/1.1\r\nHost: HERE\r\n\r\n",
    ],
)  # fmt: skip
def test_a_malformed_request_is_refused_and_the_next_is_answered(server: LoopbackServer, request_bytes: bytes) -> None:
    here = f"127.0.0.1:{server.port}".encode()
    reply = sent(server, request_bytes.replace(b"HERE", here), ended=True)
    assert b" 200 " not in reply[:40]
    assert b"Traceback" not in reply
    assert get(server, "/")[0] == 200


def test_two_hundred_clients_at_once_are_all_answered_by_few_threads(server: LoopbackServer) -> None:
    statuses: list[int] = []
    most = [0]

    def ask() -> None:
        statuses.append(get(server, "/")[0])
        at_work = sum(thread.name.startswith("AnyIO worker") for thread in threading.enumerate())
        most[0] = max(most[0], at_work)

    clients = [threading.Thread(target=ask) for _ in range(200)]
    for client in clients:
        client.start()
    for client in clients:
        client.join(60)
    assert statuses == [200] * 200
    assert most[0] <= 50


def test_what_the_application_fails_at_is_told_and_the_next_request_is_answered(
    server: LoopbackServer, told: list[str]
) -> None:
    status, _, body = get(server, "/fails")
    assert (status, body) == (500, b"Internal Server Error")
    assert told == ["a page could not be answered: LookupError: nothing here"]
    assert get(server, "/")[0] == 200


def test_every_answer_says_that_no_other_site_may_frame_or_read_it(server: LoopbackServer) -> None:
    for path, host in (("/", ""), ("/none", ""), ("/", "evil.example")):
        head = get(server, path, host)[1]
        for line in (b"content-security-policy: frame-ancestors 'none'", b"cross-origin-resource-policy: same-origin",
                     b"x-content-type-options: nosniff", b"cache-control: no-store"):  # fmt: skip
            assert line in head


def test_a_port_that_is_taken_is_told_at_once(server: LoopbackServer) -> None:
    with pytest.raises(OSError, match="in use"):
        LoopbackServer(Starlette(), print, server.port)


def test_the_end_waits_for_nobody(told: list[str]) -> None:
    begun = threading.Event()

    def slow(request: Request) -> Response:
        begun.set()
        time.sleep(4)
        return PlainTextResponse("late")

    server = LoopbackServer(Starlette(routes=[Route("/slow", slow)]), told.append)
    with server, socket.create_connection(("127.0.0.1", server.port)) as line:
        line.sendall(f"GET /slow HTTP/1.1\r\nHost: localhost:{server.port}\r\n\r\n".encode())
        assert begun.wait(10)
        ended = time.monotonic()
    assert time.monotonic() - ended < 3
    assert told == []
