"""A litter at the desk: its young in one table, a row each, and what would follow from a row before it is saved."""

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from sitegen.app.desk.desk import Outcome, Propose, Standing
from sitegen.app.desk.pages import Pages
from sitegen.app.desk.photo_pages import Picture, pictures_of
from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import FailedAs, Litter
from sitegen.content.site import Site
from sitegen.content.values import PartialDate, parse_date
from sitegen.evidence.answers import Known
from sitegen.evidence.becoming import becomings, claims_about, near_to
from sitegen.evidence.pairings import pairing
from sitegen.findings import SitegenError, WrongUse
from sitegen.genetics.by_eye import Expected, by_eye
from sitegen.genetics.loci import Look
from sitegen.keeper.new_records import add_outcome
from sitegen.keeper.records import Proposal, Records
from sitegen.keeper.young_rows import FIELDS, NOTHING, Row, describe_young, row_as_it_stands
from sitegen.words.becoming import becoming_lines, what_it_gives
from sitegen.words.inheritance import birth_words
from sitegen.words.label_line import label_line
from sitegen.words.labels import offer_state
from sitegen.words.numbers import date_text, weight_text
from sitegen.words.pairings import failed_sentence, litter_counts
from sitegen.words.speech import Voice, animal_name, capital, plain

_DAYS = {"paired": "Paired", "laid": "Laid", "expected": "Expected", "born": "Born"}
_COUNTS = {"eggs": "Eggs", "infertile": "Infertile", "stillborn": "Stillborn"}


@dataclass(frozen=True, slots=True)
class TableRow:
    """One young in the table.

    Attributes:
        animal: Its record; one with a folder of its own is changed there.
        stands: What the record says of it.
        said: What its fields hold: that, or what was sent and refused.
        beside: Its last weight, and where its offer stands, in words.
        pictures: Its photographs.
    """

    animal: Animal
    stands: Row
    said: Row
    beside: tuple[str, str]
    pictures: tuple[Picture, ...]


def routes(pages: Pages) -> list[Route]:
    """The page, the forms on it, and what would follow from a row."""
    table = _Table(pages)
    at = "/litters/{litter}"
    return [
        Route(f"{at}/consider", pages.writing(table.consider), methods=["POST"]),
        Route(f"{at}/outcome", pages.writing(table.note_outcome), methods=["POST"]),
        Route(at, pages.reading(table.page), methods=["GET"]),
        Route(at, pages.writing(table.save), methods=["POST"]),
    ]


class _Table:
    def __init__(self, pages: Pages) -> None:
        self.pages, self.desk = pages, pages.desk

    def page(self, request: Request, outcome: Outcome | None = None, sent: FormData | None = None) -> Response:
        """The page; ``sent`` is a form that was refused, so that nothing of it is typed twice."""
        standing = self.desk.now()
        known, collection = standing.stands.known, standing.collection
        if known is None or collection is None:
            return self.pages.in_trouble(request, standing.stands.findings)
        litter = collection.litters.get(request.path_params["litter"])
        if litter is None:
            fault = f"There is no litter {request.path_params['litter']} in the records."
            return self.pages.show(request, "trouble.html", 404, findings=[], fault=fault)
        rows = expected_rows(known, litter)
        genome = collection.species[litter.species].genome
        sent = sent or FormData()
        day = self._day(str(sent.get("on", request.query_params.get("on", ""))))
        return self.pages.show(
            request, "litter.html", 422 if outcome else 200, outcome=outcome, litter=litter, day=day,
            state=state_lines(litter, collection), gives=gives_line(rows, litter, collection),
            rows=[self._row(young, sent, day, standing) for young in litter.young],
            looks=looks_offered(litter, rows, collection), every_look=[each for x in genome.loci for each in x.looks],
            nothing=NOTHING, missing=_missing(litter), failures=list(FailedAs), sent=sent,
        )  # fmt: skip

    def _day(self, said: str) -> dt.date:
        day = parse_date(said)
        return day.earliest if day and day.day else self.desk.today()

    def _row(self, young: str, sent: FormData, day: dt.date, standing: Standing) -> TableRow:
        assert standing.collection
        animal, site = standing.collection.animals[young], standing.collection.site
        stands = row_as_it_stands(animal, day, site.currency)
        said = _said(animal.number, sent, "") if animal.number in sent.getlist("row") else stands
        last = [
            f"{weight_text(each.grams, site.units)} on {_day_text(each.date, site)}" for each in animal.weights[-1:]
        ]
        offer = offer_state(animal.offer.state) if animal.offer else ""
        photos = pictures_of(standing.records, [photo.path for photo in animal.photos])
        return TableRow(animal, stands, said, ("".join(last), offer), photos)

    def _sent(self, litter: str, form: FormData) -> dict[str, Row]:
        """Number of each young of which something else is said than the page showed, to that.

        Raises:
            WrongUse: The record says something else by now than the page showed.
        """
        collection, day = self.desk.now().collection, self._day(str(form.get("on", "")))
        if collection is None or litter not in collection.litters:
            return {}
        site, own = collection.site, [collection.animals[young] for young in collection.litters[litter].young]
        unit, numbers = "g" if site.units == "metric" else "oz", form.getlist("row")
        changes = {
            each.number: _changed(each.number, form, row_as_it_stands(each, day, site.currency), unit)
            for each in own
            if each.is_young and each.number in numbers
        }
        return {number: row for number, row in changes.items() if row}

    def _tried(self, litter: str, form: FormData, do: Callable[[Propose], Outcome]) -> tuple[list[str], Outcome]:
        """The young that are described, and what comes of that."""
        day, today = self._day(str(form.get("on", ""))), self.desk.today()
        try:
            rows = self._sent(litter, form)
        except WrongUse as error:
            return [], Outcome(str(error), is_refused=True)
        described = [f"{litter}/{number}" for number in rows]
        return described, do(lambda records: describe_young(records, litter, rows, day, today))

    def save(self, request: Request, form: FormData) -> Response:
        litter, on = request.path_params["litter"], str(form.get("on", ""))
        _, outcome = self._tried(litter, form, self.desk.save)
        back = f"/litters/{litter}?on={on}"
        answer = self.pages.answer(request, outcome, back, lambda told: self.page(request, told, form))
        collection = self.desk.now().collection
        if not isinstance(answer, JSONResponse) or outcome.is_refused or collection is None:
            return answer
        own = [collection.animals[each] for each in collection.litters[litter].young]
        stand = {each.number: row_as_it_stands(each, self._day(on), collection.site.currency) for each in own}
        return JSONResponse({**self.pages.facts_of(outcome), "rows": stand})

    def consider(self, request: Request, form: FormData) -> Response:
        """What cannot be, and what would be said of the young itself and its relatives; nothing is written."""
        litter, before = request.path_params["litter"], self.desk.now().stands.known
        described, outcome = self._tried(litter, form, self.desk.consider)
        after = outcome.after.known if outcome.after and described and not outcome.is_refused else None
        told = list(_becomes(before, after, litter, described, self.desk.today())) if before and after else []
        return JSONResponse({**self.pages.facts_of(outcome), "follows": told})

    def note_outcome(self, request: Request, form: FormData) -> Response:
        """What came of the pairing, how many young are to be listed among it."""
        litter = request.path_params["litter"]
        said = {key: str(form.get(key, "")) for key in (*_DAYS, *_COUNTS)}
        count, what = str(form.get("count", "")).strip(), str(form.get("failed", ""))
        on = str(form.get("failed_on", "")) or self.desk.today().isoformat()

        def noted(records: Records) -> Proposal:
            if count and not count.isdecimal():
                raise WrongUse(f'"{count}" is not a number of young; write how many there are, such as 12')
            failed = {"date": on, "what": what} if what else None
            return add_outcome(records, litter, said, int(count or 0), failed)

        outcome = self.desk.save(noted)
        return self.pages.answer(request, outcome, f"/litters/{litter}", lambda told: self.page(request, told, form))


def _said(number: str, form: FormData, unit: str) -> Row:
    """What a form says of a young; ``unit`` is that of a weight that names none."""
    weight = str(form.get(f"{number}.weight", "")).strip()
    looks = [str(look).strip() for look in form.getlist(f"{number}.shows")]
    bare = bool(unit) and weight.replace(".", "").replace(",", "").isdecimal()
    return {key: str(form.get(f"{number}.{key}", "")).strip() for key in FIELDS} | {
        "shows": ", ".join(sorted(look for look in looks if look)),
        "weight": f"{weight} {unit}" if bare else weight,
    }


def _changed(number: str, form: FormData, stands: Row, unit: str) -> Row:
    said, shown = _said(number, form, unit), {key: str(form.get(f"{number}.was.{key}", "")) for key in FIELDS}
    changes = {key: said[key] for key in FIELDS if said[key] != shown[key] and said[key] != stands[key]}
    for key in changes:
        if stands[key] != shown[key]:
            now = stands[key] or "empty"
            raise WrongUse(
                f"{key} of No. {number} was changed meanwhile and is {now} now; look again, and keep it then"
            )
    return changes


def _becomes(before: Known, after: Known, litter: str, described: list[str], today: dt.date) -> Iterator[str]:
    record = after.collection.litters[litter]
    near = near_to(record, after.collection)
    old, new = (claims_about(known, near, today) for known in (before, after))
    voices = [Voice(known.collection, known.answers, today) for known in (before, after)]
    for young in described:
        animal = after.collection.animals[young]
        yield f"No. {animal.number}: {plain(label_line(animal, new[young], voices[1]).whole())}."
    yield from becoming_lines(becomings(old, new), record, described, *voices)


def expected_rows(known: Known, litter: Litter) -> tuple[Expected, ...]:
    """How young of the parents can look, the likeliest first; none where that cannot be told."""
    genome = known.collection.species[litter.species].genome
    found: list[Expected] = []
    for sire, _ in litter.sires if litter.dam else ():
        try:
            plan = pairing(known.asked, litter.dam or "", sire, teach=False)
        except SitegenError:
            continue
        found += by_eye(plan.looks, genome)
    return tuple(found)


def gives_line(rows: tuple[Expected, ...], litter: Litter, collection: Collection) -> str:
    """What the pairing could give; empty where the sire is not certain."""
    genome = collection.species[litter.species].genome
    told = [([genome.look(look).name for look in row.looks], row.chance) for row in rows]
    return what_it_gives(told) if len(litter.sires) == 1 else ""


def looks_offered(litter: Litter, rows: tuple[Expected, ...], collection: Collection) -> list[Look]:
    """The looks that its parents can give, and those that were seen all the same, in the order of the species."""
    given = {look for row in rows for look in row.looks}
    given |= {seen.look for each in litter.young for seen in collection.animals[each].genes[0].judged.seen}
    return [
        look for locus in collection.species[litter.species].genome.loci for look in locus.looks if look.id in given
    ]


def state_lines(litter: Litter, collection: Collection) -> list[str]:
    """How far the litter is: its days, and what came of it."""
    species = collection.species[litter.species]
    words = _DAYS | {"born": birth_words(species).came}
    days = [(word, getattr(litter, key)) for key, word in words.items() if key != "expected" or not litter.born]
    told = ", ".join(f"{word.lower()} {_day_text(day, collection.site)}" for word, day in days if day)
    lines = [f"{capital(told)}."] if told else []
    if litter.failed:
        dam = animal_name(collection, litter.dam) if litter.dam else ""
        lines.append(plain(failed_sentence(litter.failed, dam, species, collection.site.language)))
    elif litter.born or litter.young:
        living = len(litter.young) + sum(each.count for each in litter.others)
        lines.append(f"{capital(litter_counts(species, living, litter.eggs, litter.infertile, litter.stillborn))}.")
    return lines


def _missing(litter: Litter) -> dict[str, dict[str, str]]:
    """The days and counts of which nothing is written yet; those that are, are changed in the record's own form."""
    absent = {key for key in (*_DAYS, *_COUNTS) if getattr(litter, key) is None}
    absent -= {"expected"} if litter.born else set()
    return {kind: {key: word for key, word in words.items() if key in absent}
            for kind, words in (("days", _DAYS), ("counts", _COUNTS))}  # fmt: skip


def _day_text(day: PartialDate, site: Site) -> str:
    return date_text(day, site.language if site.language.startswith("en") else "en-GB")
