"""The waiting list: who waits for what, which offers fit, and a form for somebody new. Never on a phone or public."""

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome, Told
from sitegen.app.desk.pages import Pages
from sitegen.content.waiting import PERSON, Person
from sitegen.keeper.entries import set_values
from sitegen.keeper.new_records import split
from sitegen.keeper.record_text import Value
from sitegen.keeper.waiting import add_person, find_person, remove_person
from sitegen.plans.waiting import fits
from sitegen.words.numbers import date_text, money_text
from sitegen.words.today import DayWords

_ASKED = ("contact", "since", "wants", "species", "sex", "shows", "carries", "up_to")
_LISTS = ("shows", "carries")


class WaitingPage:
    """The page, and what is sent from it."""

    def __init__(self, pages: Pages) -> None:
        """For a desk."""
        self.pages, self.desk = pages, pages.desk

    def routes(self) -> list[Route]:
        """The list; one entry is changed as any record is."""
        writing = self.pages.writing
        return [
            Route("/waiting", self.pages.reading(self._show), methods=["GET"]),
            Route("/waiting", writing(self._add), methods=["POST"]),
            Route("/waiting/{name}/done", writing(self._done), methods=["POST"]),
            Route("/waiting/{name}/remove", writing(self._remove), methods=["POST"]),
        ]

    def _show(self, request: Request, outcome: Outcome | None = None, sent: dict[str, str] | None = None) -> Response:
        told, day = self.desk.told(), self.desk.today()
        if told is None:
            return self.pages.in_trouble(request, self.desk.now().stands.findings)
        words, found = DayWords(told.collection, day), fits(told.collection, told.claims, day)
        people = []
        for person in told.collection.waiting:
            fitting = words.fits((fit for fit in found if fit.person == person), told.voice)
            since = date_text(person.since, words.language) if person.since else ""
            people.append((person, since, self._wish(person, told, words.language), [line for line, _ in fitting]))
        abouts = {key.name: key.about for key in PERSON.listed}
        species = [(each, bound.name) for each, bound in told.collection.species.items()]
        return self.pages.show(
            request, "waiting.html", 422 if outcome else 200, outcome=outcome, people=people, abouts=abouts,
            sent={"name": "", **dict.fromkeys(_ASKED, ""), "since": str(day), **(sent or {})}, species=species,
        )  # fmt: skip

    def _wish(self, person: Person, told: Told, language: str) -> str:
        """What is held against offers, as the entry says it."""
        held = told.records.held(find_person(told.records, person.name))
        entry = held if isinstance(held, dict) else {}
        parts = [told.collection.species[person.species].name if person.species else "", str(entry.get("sex") or "")]
        parts += [f"{key} {', '.join(_listed(entry[key]))}" for key in _LISTS if entry.get(key)]
        parts += [f"up to {money_text(person.up_to, language)}"] if person.up_to else []
        return "; ".join(filter(None, parts))

    def _add(self, request: Request, form: FormData) -> Response:
        said = {key: str(form.get(key, "")).strip() for key in ("name", *_ASKED)}
        values: dict[str, Value] = {key: split([said[key]]) if key in _LISTS else said[key] for key in _ASKED}
        outcome = self.desk.save(lambda records: add_person(records, said["name"], values))
        return self.pages.answer(request, outcome, "/waiting", lambda refused: self._show(request, refused, said))

    def _done(self, request: Request, form: FormData) -> Response:
        name, day = request.path_params["name"], self.desk.today().isoformat()
        outcome = self.desk.save(lambda records: set_values(records, find_person(records, name), {("done",): day}))
        return self.pages.answer(request, outcome, "/waiting", lambda refused: self._show(request, refused))

    def _remove(self, request: Request, form: FormData) -> Response:
        name = request.path_params["name"]
        outcome = self.desk.save(lambda records: remove_person(records, name))
        return self.pages.answer(request, outcome, "/waiting", lambda refused: self._show(request, refused))


def _listed(held: object) -> list[str]:
    return [str(each) for each in held] if isinstance(held, list) else [str(held)]
