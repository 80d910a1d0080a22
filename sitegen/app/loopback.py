"""Runs a web application for the user of this machine, or of the network at home.

The server listens on the loopback address, so no other machine reaches it, or on one other address that is named. What
is left is met before the application is asked. A page of another site, open in the same browser, may send requests and
may make a name of its own lead here: so each request must call this server by its own name, and no answer may be framed
or read by other sites. A client that sends or takes its bytes slowly costs no thread while it waits, and does not wait
for ever. A path is only ever given to the application: nothing here opens a file.
"""

import asyncio
import math
import socket
import threading
from collections.abc import Callable, Collection
from dataclasses import dataclass
from functools import partial
from http import HTTPStatus
from ipaddress import ip_address, ip_network
from types import TracebackType
from typing import Any, Self

from starlette.datastructures import MutableHeaders
from starlette.requests import ClientDisconnect
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send
from uvicorn import Config, Server
from uvicorn.protocols.http.h11_impl import H11Protocol

HOST = "127.0.0.1"
_QUEUE = 256
_HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": "frame-ancestors 'none'",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
}
"""Sent with every answer that does not say otherwise itself."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a client may ask of a server; a connection that asks for more is closed without a word.

    Attributes:
        networks: Where a client may be.
        n_connections: How many may be open at once, from all.
        n_of_one: How many of those may come from one address.
        patience_seconds: How long the whole request may take to come, and one second more for each ``slowest`` bytes
            that did come.
        slowest: Bytes.
        unread_seconds: For how long in all an answer may lie there that is not taken.
    """

    networks: tuple[str, ...]
    n_connections: int
    n_of_one: int
    patience_seconds: float = 15
    slowest: int = 20_000
    unread_seconds: float = math.inf

    def allow(self, address: str) -> bool:
        """Tell whether a client may be there."""
        return any(ip_address(address) in ip_network(each) for each in self.networks)


ON_THIS_MACHINE = Bounds(("127.0.0.0/8",), 1000, 1000)
"""A film of the site that stands still in its page leaves its answer unread, as long as somebody likes."""
AT_HOME = Bounds(
    ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "fc00::/7"), 60, 16, unread_seconds=30
)
"""Addresses for networks of one's own (RFC 1918, RFC 3927, RFC 4193). A browser opens six connections to a server."""


class LoopbackServer:
    """Serves an application from a thread of its own while it is entered with ``with``.

    Attributes:
        port: Where it listens.
    """

    def __init__(
        self, app: ASGIApp, tell: Callable[[str], None], port: int = 0, methods: Collection[str] = ("GET", "HEAD"),
        host: str = HOST, bounds: Bounds = ON_THIS_MACHINE,
    ) -> None:  # fmt: skip
        """Listen on a port; requests wait until the server is entered.

        Args:
            app: What answers the requests that are not refused.
            tell: Told when the application fails.
            port: 0 for any that is free.
            methods: Those that the application answers.
            host: The address of this machine on which it listens.
            bounds: What is asked of clients.

        Raises:
            OSError: The port is taken, or may not be used.
        """
        self._app, self._tell, self._methods = app, tell, methods
        family = socket.AF_INET6 if ":" in host else socket.AF_INET
        self._socket = socket.create_server((host, port), family=family, backlog=_QUEUE)
        self.port: int = self._socket.getsockname()[1]
        self._name = f"[{host}]" if ":" in host else host
        names = (self._name, "localhost") if host == HOST else (self._name,)
        self._hosts = {f"{name}:{self.port}" for name in names} | set(names if self.port == 80 else ())
        self._server = Server(
            Config(
                self._answer, interface="asgi3", http=partial(_Bounded, bounds),  # type: ignore[arg-type]
                ws="none", lifespan="off", loop="asyncio", log_config=None, log_level="critical", access_log=False,
                proxy_headers=False, server_header=False, date_header=False, timeout_graceful_shutdown=0,
            )
        )  # fmt: skip
        # The threads in which the application works are daemons as this one is, so the command ends without them.
        self._thread = threading.Thread(target=self._server.run, args=([self._socket],), daemon=True)

    @property
    def address(self) -> str:
        """What to type into a browser."""
        return f"http://{self._name}:{self.port}/"

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._server.should_exit = self._server.force_exit = True
        self._thread.join(1)  # a thread that is still at work then ends with the process

    async def _answer(self, scope: Scope, receive: Receive, send: Send) -> None:
        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(raw=list(message["headers"]))
                for name, value in _HEADERS.items():
                    headers.setdefault(name, value)
                headers["Connection"] = "close"  # one request each, so that no open one is waited for at the end
                message["headers"] = headers.raw
            await send(message)

        try:
            await (self._refusal(scope) or self._app)(scope, receive, send_guarded)
        except ClientDisconnect:
            return  # it went, or was too slow; nobody is there to be answered
        except Exception as error:  # Starlette has answered by now, and raises it again to be told
            self._tell(f"a page could not be answered: {type(error).__name__}: {error}")

    def _refusal(self, scope: Scope) -> Response | None:
        """The answer to a request that the application is not asked; None for all others."""
        hosts = [value.decode("latin-1").strip().lower() for name, value in scope["headers"] if name == b"host"]
        if scope["method"] not in self._methods:
            return _refused(HTTPStatus.METHOD_NOT_ALLOWED, Allow=", ".join(self._methods))
        if len(hosts) != 1 or hosts[0] not in self._hosts:
            return _refused(HTTPStatus.MISDIRECTED_REQUEST)
        if any(name == b"transfer-encoding" for name, _ in scope["headers"]):
            return _refused(HTTPStatus.LENGTH_REQUIRED)  # else a body could be longer than its head says
        return None if scope["path"].startswith("/") else _refused(HTTPStatus.BAD_REQUEST)


def _refused(status: HTTPStatus, **headers: str) -> Response:
    return PlainTextResponse(f"{status.phrase}.\n", status, headers)


class _Bounded(H11Protocol):
    """A connection within bounds: what is late or too much is closed, and costs nothing while it waits."""

    def __init__(self, bounds: Bounds, **own: Any) -> None:
        super().__init__(**own)
        self._bounds = bounds
        self._n_bytes, self._unread = 0, 0.0
        self._watch: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        self._begun, address = self.loop.time(), self.client[0] if self.client else ""
        of_one = sum((getattr(each, "client", None) or ("",))[0] == address for each in self.connections)
        too_many = len(self.connections) > self._bounds.n_connections or of_one > self._bounds.n_of_one
        if too_many or not address or not self._bounds.allow(address):
            transport.abort()
        else:
            self._look()

    def data_received(self, data: bytes) -> None:
        self._n_bytes += len(data)
        super().data_received(data)

    def connection_lost(self, exc: Exception | None) -> None:
        if self._watch:
            self._watch.cancel()
        super().connection_lost(exc)

    def _look(self) -> None:
        """Close what is late; else look again a little later."""
        each, bounds = self._bounds.patience_seconds / 15, self._bounds
        is_whole = self.cycle is not None and not self.cycle.more_body
        patience = bounds.patience_seconds + self._n_bytes / bounds.slowest
        self._unread += each if self.transport.get_write_buffer_size() else 0
        if (not is_whole and self.loop.time() - self._begun > patience) or self._unread > bounds.unread_seconds:
            self.transport.abort()
        else:
            self._watch = self.loop.call_later(each, self._look)
