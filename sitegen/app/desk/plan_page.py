"""The plan of the room, with its choices to play with; nothing of it is written.

The search runs in a process of its own: it may take a minute, and the desk goes on answering meanwhile.
"""

import contextlib
import datetime as dt
import multiprocessing
import threading
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from sitegen.app.desk.pages import Pages
from sitegen.app.room_question import RoomAnswer, RoomQuestion, wishes_for
from sitegen.content.collection import Collection
from sitegen.content.folder import Content
from sitegen.evidence.answers import read_known
from sitegen.findings import WrongUse
from sitegen.plans.readiness import is_there

_PROCESSES = multiprocessing.get_context("spawn")


@dataclass(frozen=True, slots=True)
class Choices:
    """What is asked: as the options of ``sitegen plan``."""

    ask: str = "plan"
    season: int | None = None
    litters: int | None = None
    places: int | None = None
    without: tuple[str, ...] = ()
    litter: str = ""

    def of(self, question: RoomQuestion) -> RoomAnswer:
        """The answer.

        Raises:
            WrongUse: It cannot be asked so.
        """
        if wrong := question.impossible(said=self.season is not None):
            raise WrongUse(f"{wrong[0].message}. {wrong[0].hint}")
        if self.ask == "buy":
            return question.buy()
        return question.holdback(self.litter) if self.ask == "keep" else question.plan()


@dataclass(slots=True)
class Search:
    """One search: how far it is, and what it found. ``content`` is what it was asked of."""

    choices: Choices
    content: Content
    told: str = "Reading the records"
    share: float = 0
    answer: RoomAnswer | None = None
    refused: str = ""
    process: Any = field(default=None, repr=False)

    @property
    def is_done(self) -> bool:
        """True when there is an answer, or the reason why there is none."""
        return self.answer is not None or bool(self.refused)

    @property
    def progress(self) -> str:
        """How far it is, in words."""
        return f"{self.told}: {round(100 * self.share)} of 100"

    def follow(self, line: Connection) -> None:
        """Take what the process sends, until it has ended."""
        with contextlib.suppress(EOFError, OSError):
            while not self.is_done:
                match line.recv():
                    case RoomAnswer() as answer:
                        self.answer = answer
                    case str(refused):
                        self.refused = refused
                    case (str(told), float(share)):
                        self.told, self.share = told, share
        if not self.is_done:
            self.refused = "The search was ended before it had an answer."


def search(content: Path, today: dt.date, choices: Choices, line: Connection) -> None:
    """Ask, in a process of its own, and send what is found."""
    try:
        known, _ = read_known(content, today)
        if known is None:
            raise WrongUse("a record is in error, so nothing can be planned yet")
        wishes = wishes_for(known.collection, choices.season, choices.litters, choices.places, choices.without)
        question = RoomQuestion(known, wishes, today, lambda told, share: line.send((told, float(share))))
        line.send(choices.of(question))
    except WrongUse as error:
        line.send(str(error))


class PlanPage:
    """The page, and the one search that it shows."""

    def __init__(self, pages: Pages) -> None:
        """Search for nothing yet."""
        self.pages = pages
        self._search: Search | None = None

    def routes(self) -> list[Route]:
        """The page, the start of a search, and its end."""
        return [
            Route("/plan", self.pages.reading(self._show)),
            Route("/plan/how-far", self._how_far),
            Route("/plan/ask", self.pages.writing(self._ask), methods=["POST"]),
            Route("/plan/stop", self.pages.writing(self._stop), methods=["POST"]),
        ]

    def _show(self, request: Request) -> Response:
        standing = self.pages.desk.now()
        if standing.collection is None:
            return self.pages.in_trouble(request, standing.stands.findings)
        asked = self._search
        return self.pages.show(
            request,
            "plan.html",
            search=asked,
            choices=asked.choices if asked else Choices(),
            is_of_now=asked is not None and asked.content == standing.records.content,
            adults=_adults(standing.collection),
            litters=[litter for litter in standing.collection.litters.values() if litter.young],
        )

    def _how_far(self, request: Request) -> Response:
        asked = self._search
        done = asked is None or asked.is_done
        return JSONResponse({"done": done, "told": "" if asked is None else asked.progress})

    def _ask(self, request: Request, form: FormData) -> Response:
        standing = self.pages.desk.now()
        self._end()
        season, litters, places = (_number(form.get(each)) for each in ("season", "litters", "places"))
        without = tuple(str(each) for each in form.getlist("without"))
        ask, litter = str(form.get("ask", "plan")), str(form.get("litter", ""))
        choices = Choices(ask, season, litters, places, without, litter)
        here, there = _PROCESSES.Pipe(duplex=False)
        self._search = found = Search(choices, standing.records.content)
        desk = self.pages.desk
        found.process = _PROCESSES.Process(target=search, args=(desk.order.content, desk.today(), choices, there))
        found.process.start()
        there.close()
        threading.Thread(target=found.follow, args=(here,), daemon=True).start()
        return RedirectResponse("/plan", 303)

    def _stop(self, request: Request, form: FormData) -> Response:
        self._end()
        return RedirectResponse("/plan", 303)

    def _end(self) -> None:
        if self._search and self._search.process.is_alive():
            self._search.process.terminate()


def _number(sent: object) -> int | None:
    text = str(sent or "").strip()
    return int(text) if text.isascii() and text.isdigit() and int(text[:6]) > 0 else None


def _adults(collection: Collection) -> list[tuple[str, str]]:
    """Animals that may be told to rest: id and name."""
    own = [animal for animal in collection.animals.values() if is_there(animal) and not animal.is_young]
    return [(animal.id, animal.name) for animal in own]
