"""Runs a web application for the user of this machine alone.

The server listens on the loopback address, so no other machine reaches it. What is left is met before the application
is asked. A page of another site, open in the same browser, may send requests and may make a name of its own lead here:
so each request must call this server by its own name, and no answer may be framed or read by other sites. A client that
sends or takes its bytes slowly costs no thread while it waits. A path is only ever given to the application: nothing
here opens a file.
"""

import socket
import threading
from collections.abc import Callable, Collection
from http import HTTPStatus
from types import TracebackType
from typing import Self

from starlette.datastructures import MutableHeaders
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send
from uvicorn import Config, Server

HOST = "127.0.0.1"
_QUEUE = 256
_HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": "frame-ancestors 'none'",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
}
"""Sent with every answer that does not say otherwise itself."""


class LoopbackServer:
    """Serves an application from a thread of its own while it is entered with ``with``.

    Attributes:
        port: Where it listens.
    """

    def __init__(
        self, app: ASGIApp, tell: Callable[[str], None], port: int = 0, methods: Collection[str] = ("GET", "HEAD")
    ) -> None:
        """Listen on a port; requests wait until the server is entered.

        Args:
            app: What answers the requests that are not refused.
            tell: Told when the application fails.
            port: 0 for any that is free.
            methods: Those that the application answers.

        Raises:
            OSError: The port is taken, or may not be used.
        """
        self._app, self._tell, self._methods = app, tell, methods
        self._socket = socket.create_server((HOST, port), backlog=_QUEUE)
        self.port: int = self._socket.getsockname()[1]
        names = (HOST, "localhost")
        self._hosts = {f"{name}:{self.port}" for name in names} | set(names if self.port == 80 else ())
        self._server = Server(
            Config(
                self._answer, interface="asgi3", http="h11", ws="none", lifespan="off", loop="asyncio",
                log_config=None, log_level="critical", access_log=False, proxy_headers=False,
                server_header=False, date_header=False, timeout_graceful_shutdown=0,
            )
        )  # fmt: skip
        # The threads in which the application works are daemons as this one is, so the command ends without them.
        self._thread = threading.Thread(target=self._server.run, args=([self._socket],), daemon=True)

    @property
    def address(self) -> str:
        """What to type into a browser."""
        return f"http://{HOST}:{self.port}/"

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
        except Exception as error:  # Starlette has answered by now, and raises it again to be told
            self._tell(f"a page could not be answered: {type(error).__name__}: {error}")

    def _refusal(self, scope: Scope) -> Response | None:
        """The answer to a request that the application is not asked; None for all others."""
        hosts = [value.decode("latin-1").strip().lower() for name, value in scope["headers"] if name == b"host"]
        if scope["method"] not in self._methods:
            return _refused(HTTPStatus.METHOD_NOT_ALLOWED, Allow=", ".join(self._methods))
        if len(hosts) != 1 or hosts[0] not in self._hosts:
            return _refused(HTTPStatus.MISDIRECTED_REQUEST)
        return None if scope["path"].startswith("/") else _refused(HTTPStatus.BAD_REQUEST)


def _refused(status: HTTPStatus, **headers: str) -> Response:
    return PlainTextResponse(f"{status.phrase}.\n", status, headers)
