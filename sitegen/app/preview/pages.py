"""The preview as a web application: the site's files by address, and a page of what is to be mended.

Files are found by address in what the records make, never by path on a disk. An open page learns of the next state
from a script that is answered when there is one (``reload.js``), because the site's own policy allows scripts from the
site and no other connection.
"""

import asyncio
import re
import time
from collections.abc import Callable
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from sitegen.app.console import plain_finding
from sitegen.app.preview.live_site import LiveSite, PreviewState
from sitegen.findings import Finding, Level, SitegenError
from sitegen.site.addresses import NOT_FOUND, START

LAST_GOOD = "_preview/last-good/"
"""The last sound site stands below this address; its links are relative, so that one can read on in it."""
_SCRIPT, _STYLE = "/_preview/reload.js", "/_preview/trouble.css"
_WAIT_S = 20
"""How long a page's question for the next state stays open before it asks again."""
_LOOK_AGAIN_S = 0.02
_TYPES = {
    "html": "text/html", "css": "text/css", "js": "text/javascript", "json": "application/json",
    "xml": "application/xml", "txt": "text/plain", "woff2": "font/woff2", "avif": "image/avif", "jpg": "image/jpeg",
    "png": "image/png", "svg": "image/svg+xml", "ico": "image/x-icon", "mp4": "video/mp4",
    "vtt": "text/vtt",
}  # fmt: skip
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)

_TROUBLE = Environment(
    loader=FileSystemLoader(Path(__file__).parent), autoescape=True, undefined=StrictUndefined, trim_blocks=True,
    lstrip_blocks=True,
).get_template("trouble.html")  # fmt: skip

Excerpt = Callable[[Finding], str]
"""A finding to its lines with marks, as the terminal shows them; empty for none."""
Added = Callable[[str, PreviewState], str]
"""What is put at the end of a page of the site, by its address."""


class PreviewPages:
    """Answers requests from the state of the site."""

    def __init__(
        self, site: LiveSite, excerpt: Excerpt, tell: Callable[[str], None], added: Added | None = None
    ) -> None:
        """Answer for a site.

        ``tell`` is told of what went wrong while something was made for a request, and of links that lead nowhere;
        ``added`` is the end of each page, the script that waits for the next state if left out.
        """
        self._site, self._excerpt, self._tell, self._added = site, excerpt, tell, added or _script
        self._told: set[Finding] = set()

    def app(self) -> Starlette:
        """The application."""
        return Starlette(
            routes=[
                Route(_SCRIPT, _own_file),
                Route(_STYLE, _own_file),
                Route("/_preview/after/{number:int}.js", self._after),
                Route(f"/{LAST_GOOD}{{address:path}}", self._last_good),
                Route("/{address:path}", self._now),
            ]
        )

    def _now(self, request: Request) -> Response:
        address, state = request.path_params["address"] or START, self._site.state
        if not state.is_sound and _is_page(address):
            return _trouble(state, address, self._excerpt)
        return self.asked(request, address, state)

    def asked(self, request: Request, address: str, state: PreviewState) -> Response:
        """A file of the last sound site, or the part of it that was asked for."""
        return _part_of(self._file(address, state), request.headers.get("range", ""))

    def _last_good(self, request: Request) -> Response:
        return self.asked(request, request.path_params["address"] or START, self._site.state)

    def _file(self, address: str, state: PreviewState) -> Response:
        """A file of the last sound site; the site's own page for an address that is not there."""
        files, status = state.good, 200
        if files is None:
            return _nothing_there()
        address = files.from_root(address)
        try:
            content = files.find(address)
            if content is None and _is_page(address):
                address, status, content = NOT_FOUND, 404, files.find(NOT_FOUND)
        except SitegenError as error:
            self._tell(str(error))
            return _trouble(PreviewState(state.number, fault=str(error)), address, self._excerpt)
        if content is None:
            return _nothing_there()
        for finding in set(files.broken_links(address)) - self._told:
            self._told.add(finding)
            self._tell(plain_finding(finding))
        body = _with_end(content, self._added(address, state)) if _is_page(address) else content
        kept = {"Cache-Control": "max-age=86400, immutable"}  # the name of a picture changes with its content
        kind = _TYPES.get(address.rpartition(".")[2].lower(), "application/octet-stream")
        return Response(body, status, kept if address in files.photographs else None, kind)

    async def _after(self, request: Request) -> Response:
        """A script that tells a page whether it is to load again, sent when there is something to tell."""
        number, end = request.path_params["number"], time.monotonic() + _WAIT_S
        while self._site.state.number == number and time.monotonic() < end:
            await asyncio.sleep(_LOOK_AGAIN_S)
        word = "same" if self._site.state.number == number else "changed"
        script = f'document.dispatchEvent(new CustomEvent("sitegen-preview", {{ detail: "{word}" }}));\n'
        return Response(script, media_type=_TYPES["js"])


def _own_file(request: Request) -> Response:
    path = Path(__file__).with_name(request.url.path.rpartition("/")[2])  # one of the two that are routed here
    return Response(path.read_bytes(), media_type=_TYPES[path.suffix[1:]])


def _part_of(whole: Response, asked: str) -> Response:
    """A part of a video, where one is asked for; some browsers (Safari) play none that they cannot have in parts.

    Source: RFC 9110, sections 14.1.2 and 14.4; a range in another form may be passed over (14.2).
    """
    match, body = re.fullmatch(r"bytes=(\d+)-(\d*)", asked), bytes(whole.body)
    if not match or whole.media_type != "video/mp4" or int(match[1]) >= len(body):
        return whole
    first, last = int(match[1]), min(int(match[2] or len(body)), len(body) - 1)
    headers = {"Content-Range": f"bytes {first}-{last}/{len(body)}", "Accept-Ranges": "bytes"}
    return Response(body[first : last + 1], 206, headers, whole.media_type)


def _nothing_there() -> Response:
    return PlainTextResponse("There is nothing at this address.\n", 404)


def _is_page(address: str) -> bool:
    return address.endswith((".html", "/")) or "." not in address.rpartition("/")[2]


def _trouble(state: PreviewState, address: str, excerpt: Excerpt) -> Response:
    """What is shown in place of the page that was asked for: what is wrong, errors first, and how to mend it."""
    told = sorted(state.trouble, key=lambda finding: finding.level is not Level.ERROR)
    html = _TROUBLE.render(
        state=state, told=[(finding, excerpt(finding)) for finding in told], address=address, last_good=LAST_GOOD,
        style=_STYLE, script=_SCRIPT,
    )  # fmt: skip
    headers = {"Content-Security-Policy": _POLICY}
    return Response(html.encode("utf-8", "replace"), 500, headers, _TYPES["html"])


def _script(address: str, state: PreviewState) -> str:
    """The one line that only the preview adds to a page: the script that waits for the next state."""
    return f'<script src="{_SCRIPT}" data-state="{state.number}" defer></script>\n'


def _with_end(html: bytes, added: str) -> bytes:
    before, end, after = html.rpartition(b"</body>")
    return before + added.encode() + end + after if end else html + added.encode()
