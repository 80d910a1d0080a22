"""Serves the site to this machine alone. Files are found by address in what was made, never by path on a disk."""

import contextlib
import http.server
import re
import secrets
import socket
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from http import HTTPStatus
from importlib import resources
from typing import Any
from urllib.parse import unquote, urlsplit

from sitegen.app.console import plain_finding
from sitegen.app.preview.made import Made
from sitegen.app.preview.trouble import LAST_GOOD, SCRIPT, STYLE, Excerpt, trouble_page, with_script
from sitegen.app.preview.workshop import State, Workshop
from sitegen.findings import Finding, SitegenError
from sitegen.render.links import broken_links
from sitegen.site.addresses import NOT_FOUND, START, root_path

HOST = "127.0.0.1"
MOST_AT_ONCE = 48
"""Requests that are worked on at once; further ones wait in the queue of the system."""
MOST_WAITING = 24
"""Pages that wait for a change at once; others ask again after a moment."""
_QUEUE = 256
_SILENCE_S = 10
_ASKING_S = 10
"""How long a request may take to arrive as a whole: a client that sends a letter now and then holds no thread."""
_WAIT_S = 20
_AFTER = re.compile(r"_preview/after/([0-9a-f]{8})-([0-9]{1,12})\.js")
_TYPES = {
    "html": "text/html; charset=utf-8", "css": "text/css; charset=utf-8", "js": "text/javascript; charset=utf-8",
    "json": "application/json", "xml": "application/xml", "txt": "text/plain; charset=utf-8", "woff2": "font/woff2",
    "avif": "image/avif", "jpg": "image/jpeg", "png": "image/png", "svg": "image/svg+xml", "ico": "image/x-icon",
}  # fmt: skip
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)


@dataclass(frozen=True, slots=True)
class Reply:
    """What is sent back."""

    body: bytes
    kind: str = "text/plain; charset=utf-8"
    status: HTTPStatus = HTTPStatus.OK
    keep: bool = False
    policy: str = ""


@dataclass(slots=True)
class Desk:
    """Answers requests from the workshop's state.

    Attributes:
        workshop: Has the site.
        excerpt: The line that a finding is about.
        tell: Told of what went wrong while something was made for a request.
    """

    workshop: Workshop
    excerpt: Excerpt
    tell: Callable[[str], None]
    _session: str = field(default_factory=lambda: secrets.token_hex(4))
    _waiting: threading.Semaphore = field(default_factory=lambda: threading.BoundedSemaphore(MOST_WAITING))
    _encoding: threading.Lock = field(default_factory=threading.Lock)
    _told: set[Finding] = field(default_factory=set)

    def answer(self, address: str) -> Reply:
        """The reply to an address, written from the site's root."""
        if match := _AFTER.fullmatch(address):
            return self._after(match[1], int(match[2]))
        if address in (SCRIPT, STYLE):
            return Reply(_own_file(address), _type_of(address))
        state = self.workshop.state
        if address.startswith(LAST_GOOD):
            good = state.good
            address = address.removeprefix(LAST_GOOD) or START
            return self._of_site(good, address, state) if good else _not_found()
        address = address or START
        if not state.is_sound and _is_page(address):
            return self._trouble(state, address)
        return self._of_site(state.good, address, state) if state.good else _not_found()

    def _tag(self, state: State) -> str:
        return f"{self._session}-{state.number}"

    def _of_site(self, made: Made, address: str, state: State) -> Reply:
        """A file of the site; the site's own page for an address that is not there."""
        address = _from_root(made, address)
        try:
            if address in made.photographs:
                return self._picture(made, address)
            content = self.workshop.find(made, address)
            missing = content is None
            if missing and _is_page(address):
                content, address = self.workshop.find(made, NOT_FOUND), NOT_FOUND
        except SitegenError as error:
            self.tell(str(error))
            return self._trouble(State(state.number, state.good, fault=str(error)), address, last_good=False)
        if content is None:
            return _not_found()
        status = HTTPStatus.NOT_FOUND if missing else HTTPStatus.OK
        self._tell_links(made, address)
        body = with_script(content, self._tag(state)) if _is_page(address) else content
        return Reply(body, _type_of(address), status)

    def _tell_links(self, made: Made, address: str) -> None:
        """Links of a page's texts that lead nowhere, told when the page is looked at, and once."""
        with self.workshop.making:
            if address not in made.site.pages or not broken_links([made.page(address)]):
                return  # most pages have no text that links anywhere
            others = {*made.site.pages, *made.other_addresses(), *made.photographs}
        for finding in broken_links([made.page(address)], others):
            if finding not in self._told:
                self._told.add(finding)
                self.tell(plain_finding(finding))

    def _picture(self, made: Made, address: str) -> Reply:
        """A picture; those that were never made are encoded one photograph at a time."""
        with self._encoding:
            found = made.picture(address)
        return Reply(found.read(), _type_of(address), keep=True) if found else _not_found()

    def _trouble(self, state: State, address: str, *, last_good: bool = True) -> Reply:
        page = trouble_page(
            state.trouble, state.fault, self._tag(state), self.excerpt, address,
            with_last_good=last_good and state.good is not None,
        )  # fmt: skip
        return Reply(page, _type_of(START), HTTPStatus.INTERNAL_SERVER_ERROR, policy=_POLICY)

    def _after(self, session: str, number: int) -> Reply:
        """A script that tells a page whether it is to load again, sent when there is something to tell."""
        changed = session != self._session
        if not changed:
            if self._waiting.acquire(blocking=False):
                try:
                    changed = self.workshop.wait_beyond(number, _WAIT_S).number != number
                finally:
                    self._waiting.release()
            else:
                changed = self.workshop.wait_beyond(number, 1).number != number
        word = "changed" if changed else "same"
        script = f'document.dispatchEvent(new CustomEvent("sitegen-preview", {{ detail: "{word}" }}));\n'
        return Reply(script.encode("ascii"), _TYPES["js"])


def _from_root(made: Made, address: str) -> str:
    """The address from the site's root, also when the path of its public address stands before it.

    The page "not found" links so, because it is shown at any address.
    """
    path = root_path(made.site.material.collection.site.address).removeprefix("/")
    known = not path or not address.startswith(path) or address in made.site.pages or address in made.photographs
    return address if known else address.removeprefix(path) or START


def _own_file(address: str) -> bytes:
    return (resources.files("sitegen.app.preview") / address.rpartition("/")[2]).read_bytes()


def _is_page(address: str) -> bool:
    return address.endswith((".html", "/")) or "." not in address.rpartition("/")[2]


def _type_of(address: str) -> str:
    return _TYPES.get(address.rpartition(".")[2].lower(), "application/octet-stream")


def _not_found() -> Reply:
    return Reply(b"There is nothing at this address.\n", status=HTTPStatus.NOT_FOUND)


class _Handler(http.server.BaseHTTPRequestHandler):
    """One request: checked, answered, closed."""

    server: "PreviewServer"
    timeout = _SILENCE_S
    server_version = "sitegen"
    sys_version = ""

    def setup(self) -> None:
        """Begins to count the time that the request takes to arrive."""
        super().setup()
        self._arriving = threading.Timer(_ASKING_S, self._cut)
        self._arriving.daemon = True
        self._arriving.start()

    def finish(self) -> None:
        """Counts no longer, also where no request came."""
        self._arriving.cancel()
        super().finish()

    def _cut(self) -> None:
        with contextlib.suppress(OSError):
            self.connection.shutdown(socket.SHUT_RDWR)

    def do_GET(self) -> None:
        """Answers a request."""
        self._reply()

    def do_HEAD(self) -> None:
        """Answers without the body."""
        self._reply()

    def parse_request(self) -> bool:
        """True for a request that may be answered; others are refused here."""
        arrived = super().parse_request()
        self._arriving.cancel()
        if not arrived:
            return False
        if self.command not in ("GET", "HEAD"):
            self.send_error(HTTPStatus.METHOD_NOT_ALLOWED)
            return False
        hosts = self.headers.get_all("Host") or []
        if len(hosts) != 1 or hosts[0].strip().lower() not in self.server.names:
            # A page elsewhere that made a name of its own lead to this machine must not read the site.
            self.send_error(HTTPStatus.MISDIRECTED_REQUEST)
            return False
        return True

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """Refuses in one plain line."""
        self._send(Reply(f"{HTTPStatus(code).phrase}.\n".encode("ascii"), status=HTTPStatus(code)))

    def log_message(self, format: str, *args: Any) -> None:
        """Tells nothing: the terminal is for the records."""

    def _reply(self) -> None:
        try:
            path = unquote(urlsplit(self.path).path, errors="strict")
        except ValueError:
            self.send_error(HTTPStatus.BAD_REQUEST)
            return
        if not path.startswith("/"):
            self.send_error(HTTPStatus.BAD_REQUEST)
            return
        self._send(self.server.desk.answer(path.removeprefix("/")))

    def _send(self, reply: Reply) -> None:
        self.close_connection = True
        self.send_response(reply.status)
        self.send_header("Content-Type", reply.kind)
        self.send_header("Content-Length", str(len(reply.body)))
        self.send_header("Cache-Control", "max-age=86400, immutable" if reply.keep else "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Cross-Origin-Resource-Policy", "same-origin")
        self.send_header("Connection", "close")
        self.send_header("Content-Security-Policy", reply.policy or "frame-ancestors 'none'")
        if reply.status == HTTPStatus.METHOD_NOT_ALLOWED:
            self.send_header("Allow", "GET, HEAD")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(reply.body)


class PreviewServer(http.server.ThreadingHTTPServer):
    """Listens on loopback.

    Attributes:
        desk: Answers.
        names: What a request may call this server.
    """

    daemon_threads = True
    block_on_close = False
    request_queue_size = _QUEUE

    def __init__(self, desk: Desk, port: int = 0) -> None:
        """Listen on a port; 0 for any that is free.

        Raises:
            OSError: The port is taken, or may not be used.
        """
        self.desk = desk
        self._at_once = threading.BoundedSemaphore(MOST_AT_ONCE)
        super().__init__((HOST, port), _Handler)
        own = [HOST, "localhost"]
        self.names = frozenset([f"{name}:{self.server_port}" for name in own] + (own if self.server_port == 80 else []))

    @property
    def address(self) -> str:
        """What to type into a browser."""
        return f"http://{HOST}:{self.server_port}/"

    def process_request(self, request: Any, client_address: Any) -> None:
        """Work on a request in a thread of its own, as soon as fewer than the most are at work."""
        self._at_once.acquire()
        super().process_request(request, client_address)

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        """One request, from beginning to end."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._at_once.release()

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that went away is no fault; anything else is ours, and told."""
        error = sys.exc_info()[1]
        if not isinstance(error, ConnectionError | TimeoutError):
            self.desk.tell(f"a page could not be answered: {type(error).__name__}: {error}")
