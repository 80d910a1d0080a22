"""The round: every animal that is here, a row each with fields for what was seen of it on a day.

A script sends each entry as it is made and keeps it in the browser until it is saved; without it one button sends all.
"""

import datetime as dt
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from hashlib import sha256
from urllib.parse import urlencode

from starlette.datastructures import FormData, QueryParams
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome
from sitegen.app.desk.pages import Pages
from sitegen.app.desk.today_page import page_of
from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.site import Units
from sitegen.content.values import parse_date
from sitegen.keeper.rounds import Seen, add_seen, question_of, weighing_on
from sitegen.plans.readiness import is_there
from sitegen.plans.today import Asks, is_grown, matters_of
from sitegen.words.rounds import day_text, last_meal, last_weight, order_text
from sitegen.words.speech import animal_name

_WHOSE = (("", "all"), ("adults", "adults"), ("due", "those to be weighed"))
_WHAT = {"": "everything", "weights": "weights", "meals": "meals"}
"""Choices, as the address and as the page have them."""
_UNITS: Mapping[str, str] = {Units.METRIC: "g", Units.IMPERIAL: "oz"}
_MOST_MEALS = 20


class Choice:
    """Which animals on which day, and what of them; ``of`` names some, ``who`` is all, adults, due or a litter."""

    def __init__(self, collection: Collection, today: dt.date, asked: QueryParams) -> None:
        """Read it from the address; what cannot be is as if it were left out."""
        self.collection, self.who, self.what = collection, asked.get("who", ""), asked.get("what", "")
        written = parse_date(asked.get("day", ""))
        self.day = min(written.earliest, today) if written and written.day else today
        self.of = [each for each in asked.getlist("of") if each in collection.animals]
        self.there = {key: each for key, each in collection.animals.items() if is_there(each)}
        self.litters = dict.fromkeys(each.litter for each in self.there.values() if each.is_young)

    def address(self, **other: str) -> str:
        """The address of this choice, or of another."""
        of = [] if "who" in other else self.of
        asked = {"who": self.who, "what": self.what, "day": self.day.isoformat(), "of": of, **other}
        return "/round?" + urlencode({key: value for key, value in asked.items() if value}, doseq=True)

    def animals(self) -> list[Animal]:
        """The animals, first the one whose weight, or of meals whose meal, lies back longest."""
        chosen = [each for each in self.there.values() if self._is_asked(each)]
        if self.who == "due":
            due = {each.id for each in matters_of(self.collection, self.day) if each.what is Asks.WEIGH}
            chosen = [each for each in chosen if each.id in due]
        return sorted(chosen, key=self._since)

    def _is_asked(self, animal: Animal) -> bool:
        if self.of:
            return animal.id in self.of
        if self.who == "adults":
            return is_grown(animal, self.collection, self.day)
        return self.who in ("", "due") or (animal.is_young and animal.litter == self.who)

    def _since(self, animal: Animal) -> dt.date:
        entered = [each for each in animal.meals if each.taken] if self.what == "meals" else animal.weights
        return entered[-1].date.earliest if entered else dt.date.min

    def row(self, animal: Animal) -> Mapping[str, str]:
        """The row of an animal; whoever enters a weight knew of the ``known`` grams of that day."""
        site, there = self.collection.site, weighing_on(animal, self.day)
        meal = animal.meals[-1] if animal.meals else None
        return {
            "id": animal.id, "name": animal_name(self.collection, animal.id), "form": page_of(animal),
            "weight": last_weight(animal.weights[-1] if animal.weights else None, site),
            "meal": last_meal(meal, site), "again": meal.what if meal else "",
            "known": str(there.grams) if there else "",
        }  # fmt: skip

    def seen(self, form: FormData) -> list[Seen]:
        """What a form tells."""
        fields: dict[str, dict[str, str]] = {}
        for key, value in form.items():
            what, colon, animal = key.partition(":")
            if colon and isinstance(value, str) and value.strip():
                fields.setdefault(animal, {})[what] = value.strip()
        told = [replace(self._seen(*each), before=self._seen(*each, "was-")) for each in fields.items()]
        return [each for each in told if f"{each}" or each.refused]

    def _seen(self, animal: str, fields: Mapping[str, str], before: str = "") -> Seen:
        def said(name: str) -> str:
            return fields.get(before + name, "")

        own, weight, unit = self.collection.animals.get(animal), said("weight"), _UNITS[self.collection.site.units]
        usual = own.meals[-1].what if said("refused") and own and own.meals else ""
        return Seen(
            animal=animal, weight=f"{weight} {unit}" if weight[-1:].isdigit() else weight,
            fed=said("fed") or said("again") or usual, refused=bool(said("refused")), shed=bool(said("shed")),
            note=said("note"), known=said("known"), sure=said("sure") == weight,
        )  # fmt: skip

    def questions(self, seen: Sequence[Seen]) -> dict[str, str]:
        """What is asked before it is kept, by animal."""
        animals, site = self.collection.animals, self.collection.site
        told = (each for each in seen if each.animal in animals)
        found = {each.animal: question_of(each, animals[each.animal], self.day, site) for each in told}
        return {animal: question for animal, question in found.items() if question}


def routes(pages: Pages) -> list[Route]:
    """The page, and where its entries are sent."""

    def shown(request: Request, outcome: Outcome | None = None, sent: Mapping[str, object] | None = None) -> Response:
        standing, today = pages.desk.now(), pages.desk.today()
        if standing.collection is None:
            return pages.in_trouble(request, standing.stands.findings)
        choice = Choice(standing.collection, today, request.query_params)
        site, rows = standing.collection.site, [choice.row(each) for each in choice.animals()]
        usual = Counter(each.what for animal in choice.there.values() for each in animal.meals[-1:])
        return pages.show(
            request, "round.html", 422 if outcome else 200, outcome=outcome, choice=choice, rows=rows, whats=_WHAT,
            order=order_text(len(rows), meals=choice.what == "meals"), day=day_text(choice.day, site),
            whose=[*_WHOSE, *((each, standing.collection.litters[each].name) for each in choice.litters)],
            meals=[what for what, _ in usual.most_common(_MOST_MEALS)], sent=sent or {}, today=today,
            unit=_UNITS[site.units], kept_as=sha256(bytes(pages.desk.order.content.resolve())).hexdigest()[:16],
        )  # fmt: skip

    def entered(request: Request, form: FormData) -> Response:
        standing = pages.desk.now()
        if standing.collection is None:
            return pages.in_trouble(request, standing.stands.findings)
        choice = Choice(standing.collection, pages.desk.today(), request.query_params)
        seen = choice.seen(form)
        if questions := choice.questions(seen):
            outcome = Outcome(" ".join(questions.values()), is_refused=True)
        else:
            outcome = pages.desk.save(lambda records: add_seen(records, seen, choice.day))
        if "application/json" in request.headers.get("accept", ""):
            said = {"said": ", ".join(map(str, seen)), "asks": bool(questions)}
            return JSONResponse(pages.facts_of(outcome) | said, 422 if outcome.is_refused else 200)
        sent = {**form, "questions": questions}
        return pages.answer(request, outcome, choice.address(), lambda refused: shown(request, refused, sent))

    return [Route("/round", pages.reading(shown)), Route("/round", pages.writing(entered), methods=["POST"])]
