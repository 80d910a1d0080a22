"""All offers in one table: price, state and days changed in place, and who waits for what."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import quote

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome, Told
from sitegen.app.desk.pages import Pages
from sitegen.app.desk.today_page import page_of
from sitegen.content.animals import Animal
from sitegen.content.prices import OfferState
from sitegen.content.values import parse_date
from sitegen.findings import WrongUse
from sitegen.keeper.entries import where_offered
from sitegen.keeper.lookup import find_animal
from sitegen.keeper.offering import FIELDS, change_offer, offered_fields
from sitegen.keeper.records import Proposal, Records
from sitegen.plans.readiness import is_there
from sitegen.plans.waiting import fits

_CHOICES = {
    "": ("To be had or on hold", (OfferState.AVAILABLE, OfferState.ON_HOLD)),
    "sold": ("Sold", (OfferState.SOLD,)),
    "not-for-sale": ("Not for sale", (OfferState.NOT_FOR_SALE,)),
    "none": ("Without an offer", ()),
}


@dataclass(frozen=True, slots=True)
class OfferRow:
    """One animal in the table.

    Attributes:
        id, name: Of the animal.
        label: What may be said of it.
        form: The form of its record.
        paper: Its buyer's paper on the site; empty where it has none.
        fields: What its record says of the offer, by ``FIELDS``.
        buyer: To whom it was sold, which is never published.
        waits: Who waits for such an animal.
    """

    id: str
    name: str
    label: str
    form: str
    paper: str
    fields: dict[str, str]
    buyer: str
    waits: tuple[str, ...]


class OffersPage:
    """The table, and what is sent from it."""

    def __init__(self, pages: Pages) -> None:
        """For a desk."""
        self.pages, self.desk = pages, pages.desk

    def routes(self) -> list[Route]:
        """The page, and where a row is sent."""
        return [
            Route("/offers", self.pages.reading(self._show), methods=["GET"]),
            Route("/offers", self.pages.writing(self._save), methods=["POST"]),
        ]

    def _show(self, request: Request, outcome: Outcome | None = None, sent: dict[str, str] | None = None) -> Response:
        told = self.desk.told()
        if told is None:
            return self.pages.in_trouble(request, self.desk.now().stands.findings)
        chosen = request.query_params.get("state", "")
        chosen = chosen if chosen in _CHOICES else ""
        return self.pages.show(
            request, "offers.html", 422 if outcome else 200, outcome=outcome, rows=list(self._rows(told, chosen)),
            chosen=chosen, choices={key: words for key, (words, _) in _CHOICES.items()}, sent=sent,
            states=[state.value for state in OfferState], today=self.desk.today(),
        )  # fmt: skip

    def _rows(self, told: Told, chosen: str) -> Iterable[OfferRow]:
        states = _CHOICES[chosen][1]
        waits: dict[str, list[str]] = {}
        for fit in fits(told.collection, told.claims, self.desk.today()):
            waits.setdefault(fit.animal.id, []).append(
                fit.person.name if fit.is_sure else f"{fit.person.name}, perhaps"
            )
        for animal in told.collection.animals.values():
            if animal.offer.state in states if animal.offer else not states and is_there(animal) and not animal.kept:
                yield self._row(told, animal, tuple(waits.get(animal.id, ())))

    def _row(self, told: Told, animal: Animal, waits: tuple[str, ...]) -> OfferRow:
        records, own = told.records, quote(page_of(animal))
        place = where_offered(records, find_animal(records, animal.id))
        private = records.held(place, "private")
        name = (
            f"No. {animal.number} of {told.collection.litters[animal.litter].name}" if animal.is_young else animal.name
        )
        return OfferRow(
            animal.id, name, told.label(animal), own, f"/site{own}-paper.html" if animal.offer else "",
            offered_fields(records.held(place, "offer")),
            str(private.get("buyer") or "") if isinstance(private, dict) else "", waits,
        )  # fmt: skip

    def _save(self, request: Request, form: FormData) -> Response:
        said, shown = ({key: str(form.get(f"{was}{key}", "")) for key in FIELDS} for was in ("", "was."))
        written = parse_date(str(form.get("on", "")))
        day = written.earliest if written and written.day else self.desk.today()

        def change(records: Records) -> Proposal:
            if day > self.desk.today() + dt.timedelta(1):
                raise WrongUse(f"{day} lies ahead; write the day on which it was so")
            return change_offer(records, str(form.get("animal", "")), shown, said, day, str(form.get("buyer", "")))

        outcome = self.desk.save(change)
        own = {**said, **{key: str(form.get(key, "")) for key in ("animal", "on", "buyer")}}
        back = f"/offers?state={quote(request.query_params.get('state', ''))}"
        return self.pages.answer(request, outcome, back, lambda refused: self._show(request, refused, own))
