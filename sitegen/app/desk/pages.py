"""The desk as a web application: its pages by address, and what every request is met with first.

A page of another site, open in the same browser, may send requests here: each that changes something must come from
the desk's own address and carry the token that only the desk's own pages hold. Nothing here opens a file by a path
that was sent.
"""

import hmac
import itertools
import secrets
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send

from sitegen.app.console import excerpt_of, finding_facts
from sitegen.app.desk.desk import Desk, Outcome
from sitegen.findings import ContentError, Finding, Kind
from sitegen.keeper.undo_record import Change, changes_of
from sitegen.render.themes import carried_themes

_HERE = Path(__file__).parent
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' blob:; "
    "media-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_MOST_FIELDS, _MOST_BYTES = 4000, 1_000_000
"""Of a form without files: more than the largest litter's table has."""
_RECENT = 20
"""So many changes back an address is told what was changed."""
_TOO_MUCH = "Nothing was kept: that is more than is taken at once."
_MOST_ANSWERED = 2000
"""Of entries so many are remembered, the latest: more than wait in an open page."""
PLACES = (
    ("/", "Today"),
    ("/round", "The round"),
    ("/animals", "Animals"),
    ("/litters", "Litters"),
    ("/offers", "Offers"),
    ("/waiting", "Waiting"),
    ("/projects", "Projects"),
    ("/plan", "Plan"),
    ("/diary", "Diary"),
    ("/changes", "Changes"),
    ("/site/", "The site"),
)
"""The pages that every page leads to."""

Answer = Callable[[Request, FormData], Response]
"""Answers a form that was sent."""


class Pages:
    """What the pages of the desk share.

    Attributes:
        token: Held by every form of the desk's own pages.
        places: The pages that every page leads to; fewer on a phone.
        on_phone: True for pages that may lead to those of a phone alone.
    """

    on_phone = False

    def __init__(self, desk: Desk, places: Iterable[tuple[str, str]] = PLACES) -> None:
        """Make a token of its own, so that a page of an earlier desk cannot send anything."""
        self.desk, self.places = desk, tuple(places)
        self.token = secrets.token_urlsafe(24)
        self._answered: dict[str, Response] = {}
        self._templates = Environment(
            loader=FileSystemLoader(_HERE / "templates"), autoescape=True, undefined=StrictUndefined,
            trim_blocks=True, lstrip_blocks=True,
        )  # fmt: skip

    def show(self, request: Request, template: str, status: int = 200, **values: Any) -> HTMLResponse:
        """A page; what was told of the change before it stands at its top."""
        shared: dict[str, object] = {"token": self.token, "places": self.places, "here": request.url.path}
        shared["on_phone"] = self.on_phone
        outcome = values.pop("outcome", None)
        shared["outcome"] = self.facts_of(outcome) if outcome else None
        shared["done"] = self.change(request.query_params.get("done", ""))
        return HTMLResponse(self._templates.get_template(template).render(shared | values), status)

    def answer(self, request: Request, outcome: Outcome, back: str, again: Callable[[Outcome], Response]) -> Response:
        """What a form that was sent is answered with.

        Args:
            request: The request.
            outcome: What came of it.
            back: The address that is shown when all is well.
            again: Makes the page with the form as it was sent, for when it is refused.
        """
        if "application/json" in request.headers.get("accept", ""):
            return JSONResponse(self.facts_of(outcome), 422 if outcome.is_refused else 200)
        if outcome.is_refused:
            return again(outcome)
        asked = f"{'&' if '?' in back else '?'}done={outcome.number}" if outcome.number else ""
        return RedirectResponse(f"{back}{asked}", 303)

    def change(self, number: str) -> Change | None:
        """The change that a page was led to by, told from the undo record and not from what the address says."""
        latest = changes_of(self.desk.order.content) if number.isdigit() else ()
        return next((each for each in itertools.islice(latest, _RECENT) if str(each.number) == number), None)

    def facts_of(self, outcome: Outcome) -> dict[str, object]:
        """What came of a change, for a page or a script."""
        return {
            "told": outcome.told,
            "refused": outcome.is_refused,
            "undo": outcome.number,
            "findings": self.told_findings(outcome.findings),
        }

    def told_findings(self, findings: Iterable[Finding]) -> list[dict[str, object]]:
        """Findings in words, each with the line that it is about."""
        return [self.told_finding(each) for each in findings]

    def told_finding(self, finding: Finding) -> dict[str, object]:
        """A finding in words, with the line that it is about."""
        line = excerpt_of(finding, self.desk.order.content).strip()
        return {**finding_facts(finding), "place": str(finding.place or ""), "excerpt": line}

    def reading(self, page: Callable[[Request], Response]) -> Callable[[Request], Response]:
        """A page that reads the records; where there are none, a collection can begin."""

        def read(request: Request) -> Response:
            try:
                with self.desk.alone:
                    return page(request)
            except ContentError as error:
                if any(each.kind is Kind.FOLDER_MISSING for each in error.findings):
                    return RedirectResponse("/begin", 303)
                return self.in_trouble(request, error.findings)

        return read

    def in_trouble(self, request: Request, findings: Iterable[Finding], fault: str = "") -> Response:
        """What is shown instead of a page for which the records must be sound; ``fault`` is trouble without a place."""
        told = sorted(self.told_findings(findings), key=lambda each: each["level"] != "error")
        return self.show(request, "trouble.html", 409, findings=told, fault=fault)

    def writing(self, page: Answer, most_files: int = 0, most_bytes: int = _MOST_BYTES) -> Callable[[Request], Any]:
        """A page that changes something: only for forms of the desk's own pages, and bounded ones."""

        async def written(request: Request) -> Response:
            if int(request.headers.get("content-length") or most_bytes + 1) > most_bytes:
                return PlainTextResponse(f"{_TOO_MUCH}\n", 413)
            try:
                form = await request.form(max_files=most_files, max_fields=_MOST_FIELDS, max_part_size=_MOST_BYTES)
            except HTTPException as error:  # more files or fields than that, or no form
                return PlainTextResponse(f"{_TOO_MUCH} {error.detail}\n", error.status_code)
            try:
                sent = str(form.get("token") or request.headers.get("x-desk-token") or "")
                if not hmac.compare_digest(sent.encode(), self.token.encode()):
                    return self.show(request, "stale.html", 403)
                return await run_in_threadpool(self._alone, page, request, form)
            finally:
                await form.close()

        return written

    def _alone(self, page: Answer, request: Request, form: FormData) -> Response:
        """Answer; a form with an id under ``entry`` that comes again, since its answer was lost, counts once."""
        entry = str(form.get("entry") or "")
        with self.desk.alone:
            if entry in self._answered:
                return self._answered[entry]
            answer = page(request, form)
            if entry and answer.status_code < 400:
                self._answered[entry] = answer
                for oldest in list(self._answered)[:-_MOST_ANSWERED]:
                    del self._answered[oldest]
            return answer


class FromHereAlone:
    """Refuses what another site asked the browser to send; adds the policy of the desk's own pages."""

    def __init__(self, app: ASGIApp) -> None:
        """Stand before an application."""
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or refuse."""
        headers = {name: value.decode("latin-1") for name, value in scope.get("headers", ())}
        origin, site = headers.get(b"origin"), headers.get(b"sec-fetch-site", "none")
        own = f"http://{headers.get(b'host', '')}"
        foreign = origin != own or site not in ("none", "same-origin")
        if scope["type"] == "http" and scope["method"] not in ("GET", "HEAD") and foreign:
            await PlainTextResponse("This was not sent by the desk's own page.\n", 403)(scope, receive, send)
            return
        await self._app(scope, receive, _with_policy(scope, send))


def _with_policy(scope: Scope, send: Send) -> Send:
    async def guarded(message: Any) -> None:
        if message["type"] == "http.response.start" and not scope["path"].startswith("/site/"):
            message["headers"] = [*message["headers"], (b"content-security-policy", _POLICY.encode())]
            message["headers"] += [(b"referrer-policy", b"same-origin")]
        await send(message)

    return guarded


_FONTS = ("alegreya-roman-text.woff2", "alegreya-roman-more.woff2", "alegreya-roman-ext.woff2")
_TYPES = {"css": "text/css", "js": "text/javascript", "woff2": "font/woff2"}


def own_files() -> list[Route]:
    """The desk's own style and scripts, which stand beside this module, and the font of the site's first theme."""
    fonts = carried_themes() / "specimen-sheet" / "assets" / "fonts"
    own = (file for file in sorted(_HERE.iterdir()) if file.suffix in (".css", ".js"))
    files = [*own, *(fonts / name for name in _FONTS)]
    without_icon = Route("/favicon.ico", lambda request: Response(status_code=204))  # browsers ask for one
    return [without_icon, *(Route(f"/desk/{file.name}", _sends(file)) for file in files)]


def _sends(file: Path) -> Callable[[Request], Response]:
    kept = {"Cache-Control": "max-age=86400"} if file.suffix == ".woff2" else None
    return lambda request: FileResponse(file, media_type=_TYPES[file.suffix[1:]], headers=kept)


def application(routes: Iterable[Route]) -> ASGIApp:
    """The desk."""
    return FromHereAlone(Starlette(routes=[*own_files(), *routes]))
