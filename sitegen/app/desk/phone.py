"""The desk on a phone: the round, litters' tables and photographs for the one phone that was let in, and nothing else.

Its pages are a list of their own: a page that is added to the desk is not on the phone by itself. The phone is told
less, too: no finding that could tell of the waiting list or of private lines, and of changes only those that it made.
"""

from collections.abc import Callable, Iterable, Iterator
from http import HTTPStatus
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs

import yaml
from starlette.applications import Starlette
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send

from sitegen.app.console import LARGEST_SOURCE
from sitegen.app.desk import litter_page, photo_pages, round_page
from sitegen.app.desk.desk import Desk, Outcome
from sitegen.app.desk.door import Came, Door
from sitegen.app.desk.pages import FromHereAlone, Pages, own_files
from sitegen.app.desk.record_lists import litter_lines
from sitegen.below import read_below
from sitegen.content.yaml_tree import LOADER
from sitegen.findings import Finding, Kind
from sitegen.keeper.undo import undo_proposal
from sitegen.keeper.undo_record import Change, changes_of

_PLACES = (("/", "Litters"), ("/round", "The round"))
_COOKIE = "phone"
_MOST_BYTES = 1000
"""Of the form for the code."""
_SAID = {
    Came.WRONG: (HTTPStatus.FORBIDDEN, "That is not the code. Wait a moment, look at the computer, and type it again."),
    Came.TOO_SOON: (HTTPStatus.TOO_MANY_REQUESTS, "That was too soon after a wrong code. Wait a moment."),
    Came.NO_CODE: (HTTPStatus.FORBIDDEN, "No code lets a phone in now. Make a new one at the computer."),
}


def on_a_phone(desk: Desk, door: Door) -> ASGIApp:
    """The desk as the phone has it; all others get a form for the code."""
    pages = PhonePages(desk)
    routes = (*round_page.routes(pages), *litter_page.routes(pages), *photo_pages.routes(pages), *_own_pages(pages))
    return FromHereAlone(_Gate(Starlette(routes=[*own_files(), *routes]), pages, door))


def door_routes(pages: Pages, door: Door) -> list[Route]:
    """What the desk's own first page does with the door."""

    def press(request: Request, form: FormData) -> Response:
        (door.make_code if request.url.path == "/phone/code" else door.shut)()
        return RedirectResponse("/#phone", 303)

    return [Route(each, pages.writing(press), methods=["POST"]) for each in ("/phone/code", "/phone/shut")]


class PhonePages(Pages):
    """The pages of the phone; they lead to one another alone."""

    on_phone = True

    def __init__(self, desk: Desk) -> None:
        """Know of no change yet."""
        super().__init__(desk, _PLACES)
        self._made: dict[int, str] = {}

    def answer(self, request: Request, outcome: Outcome, back: str, again: Callable[[Outcome], Response]) -> Response:
        """What a form that was sent is answered with."""
        self._made[outcome.number] = outcome.told
        return super().answer(request, outcome, back, again)

    def facts_of(self, outcome: Outcome) -> dict[str, object]:
        """What came of a change."""
        self._made[outcome.number] = outcome.told
        return super().facts_of(outcome)

    def change(self, number: str) -> Change | None:
        """A change that the phone itself made; numbers begin again when all are forgotten."""
        told = self._made.get(int(number)) if number.isdigit() else None
        every = changes_of(self.desk.order.content) if told is not None else ()
        found = next((each for each in every if str(each.number) == number), None)
        return found if found and str(told).startswith(found.told) else None

    def told_findings(self, findings: Iterable[Finding]) -> list[dict[str, object]]:
        """Findings in words, and that there are more where some are not for a phone."""
        every = [*findings]
        told = super().told_findings(each for each in every if _may_be_told(each, self.desk.order.content))
        more: dict[str, object] = {
            "level": "notice",
            "message": "More of this is told at the computer",
            "hint": "",
            "place": "",
        }
        return [*told, more] if len(told) < len(every) else told


def _own_pages(pages: PhonePages) -> list[Route]:
    def litters(request: Request, outcome: Outcome | None = None) -> Response:
        known, day = pages.desk.now().stands.known, pages.desk.today()
        if known is None:
            return pages.in_trouble(request, pages.desk.now().stands.findings)
        return pages.show(request, "phone_litters.html", rows=litter_lines(known, day), outcome=outcome)

    def take_back(request: Request, form: FormData) -> Response:
        change = pages.change(request.path_params["number"])
        if change is None:
            return elsewhere(request)
        outcome = pages.desk.save(lambda records: undo_proposal(records, change.number))
        return pages.answer(request, outcome, "/", lambda refused: litters(request, refused))

    def elsewhere(request: Request) -> Response:
        return pages.show(request, "trouble.html", 404, findings=[], fault="The phone does not have this page.")

    return [
        Route("/", pages.reading(litters)),
        Route("/changes/{number}/undo", pages.writing(take_back), methods=["POST"]),
        Route("/{rest:path}", elsewhere),
    ]


class _Gate:
    """Lets the phone through to its pages."""

    def __init__(self, app: ASGIApp, pages: Pages, door: Door) -> None:
        self._app, self._pages, self._door = app, pages, door
        self._public = {route.path for route in own_files()}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        request = Request(scope, receive)
        if scope["path"] in self._public or self._door.knows(request.cookies.get(_COOKIE, "")):
            await self._app(scope, receive, send)
        elif scope["method"] == "POST" and scope["path"] == "/code":
            await (await self._typed(request))(scope, receive, send)
        else:
            words = "" if self._door.code else _SAID[Came.NO_CODE][1]
            await self._asks(request, HTTPStatus.FORBIDDEN, words)(scope, receive, send)

    async def _typed(self, request: Request) -> Response:
        if int(request.headers.get("content-length") or _MOST_BYTES + 1) > _MOST_BYTES:
            return self._asks(request, HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "")
        form = parse_qs((await request.body()).decode("latin-1"))
        came, key = self._door.try_code("".join(form.get("code", ())))
        if came is not Came.IN:
            return self._asks(request, *_SAID[came])
        answer = RedirectResponse("/", 303)
        left = self._door.seconds_left()
        answer.set_cookie(_COOKIE, key, max_age=left, path="/", httponly=True, samesite="strict")
        return answer

    def _asks(self, request: Request, status: HTTPStatus, words: str) -> Response:
        # without the token of the phone's pages, and without the way to them
        shown: dict[str, Any] = {"token": "", "places": (), "words": words, "has_code": bool(self._door.code)}
        return self._pages.show(request, "phone_code.html", status, **shown)


def _may_be_told(finding: Finding, content: Path) -> bool:
    """Tell whether a finding tells nothing of who waits, nor of what stands under ``private``, such as permits."""
    place = finding.place
    if place is None or finding.kind is Kind.OFFER_CLASH:  # which may name a permit
        return False
    if place.file.partition("/")[0] not in ("animals", "litters", "species"):
        return False
    try:
        text = read_below(content, place.file, LARGEST_SOURCE).decode("utf-8-sig")
        return place.line - 1 not in {*_private_lines(yaml.compose(text, Loader=LOADER))}
    except (OSError, ValueError, yaml.YAMLError, RecursionError):
        return False


def _private_lines(node: yaml.Node | None) -> Iterator[int]:
    if isinstance(node, yaml.SequenceNode):
        for each in node.value:
            yield from _private_lines(each)
    for key, value in node.value if isinstance(node, yaml.MappingNode) else ():
        if key.value == "private":
            begins, ends = key.start_mark, value.end_mark
            yield from range(begins.line, ends.line + (ends.column > begins.column))  # else the next key begins there
        else:
            yield from _private_lines(value)
