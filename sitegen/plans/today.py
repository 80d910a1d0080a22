"""What a day asks of the keeper: what is late, what is due, who needs a look, and what comes next. Data, no sentence.

The records are read as they stand; heredity is not asked. Nothing here is a diagnosis.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from sitegen.content.animals import Animal
from sitegen.content.breeding_years import BreedingYear, breeding_year
from sitegen.content.collection import Collection
from sitegen.content.learned import ended
from sitegen.content.litters import Litter, gravid
from sitegen.content.prices import OfferState
from sitegen.content.site import ReadyRules
from sitegen.content.species import Births
from sitegen.content.values import Weighing, WrittenAge
from sitegen.evidence.offers import missing
from sitegen.findings import Place
from sitegen.genetics.questions import AnimalId
from sitegen.plans.promises import all_promises
from sitegen.plans.readiness import Hindrance, is_ours, is_there, readiness
from sitegen.year.due import laying_due, young_due

WEEK, MONTH, PERMIT_DAYS = dt.timedelta(7), dt.timedelta(30), dt.timedelta(60)
"""So far ahead is looked for what is pressing, for litters, and for permits."""
REFUSED = 3
"""So many meals refused in a row are told."""
LOST, LOST_DAYS = 90, 180
"""An animal is told that weighs less, in 100, than at its heaviest within so many days. Common practice, no source."""
USUALLY_GROWN_MONTHS = 18
"""Below this age an animal is young where its species has no breeding age."""


class Asks(StrEnum):
    """What is asked; the words are the keys of machine output."""

    OVERDUE = "overdue"
    DUE = "due"
    WEIGH = "weigh"
    REFUSING = "refusing"
    LOSING = "losing"
    LIGHT = "light"
    READY = "ready"
    HOLDS = "holds"
    PERMITS = "permits"
    QUARANTINE = "quarantine"
    NEXT = "next"


class Comes(StrEnum):
    """What is waited for."""

    EGGS = "eggs"
    HATCHLINGS = "hatchlings"
    YOUNG = "young"


@dataclass(frozen=True, slots=True)
class Matter:
    """One thing that a day asks.

    Attributes:
        what: What is asked.
        id: The animal, the litter, or ``PROJECT/STAGE``.
        place: The record.
        day: Since when, or by when; None where nobody knows.
        pressing: The day has passed, or comes within a week.
        until: The last day of a litter's window.
        comes: What is waited for.
        foretold: The window's last day is that of the species' and the keeper's own figures, not one that was written.
        weights: The newest weighing, and of one that loses weight the heaviest.
        number: Meals refused, or grams that are asked.
        text: The permit.
        dams, sires: The parents of a stage; of a litter the dam that still has the eggs or the young in her.
    """

    what: Asks
    id: str
    place: Place
    day: dt.date | None
    pressing: bool = False
    until: dt.date | None = None
    comes: Comes = Comes.YOUNG
    foretold: bool = True
    weights: tuple[Weighing, ...] = ()
    number: int = 0
    text: str = ""
    dams: tuple[AnimalId, ...] = ()
    sires: tuple[AnimalId, ...] = ()


_ORDER = (
    (Asks.OVERDUE, True), (Asks.REFUSING, True), (Asks.LOSING, True), (Asks.PERMITS, True), (Asks.HOLDS, True),
    (Asks.DUE, True), (Asks.QUARANTINE, True), (Asks.HOLDS, False), (Asks.READY, False), (Asks.DUE, False),
    (Asks.PERMITS, False), (Asks.LIGHT, False), (Asks.WEIGH, False), (Asks.NEXT, False),
)  # fmt: skip
"""What cannot wait stands first."""


def matters_of(collection: Collection, day: dt.date) -> tuple[Matter, ...]:
    """What a day asks, first what cannot wait, then by day and by name."""
    there = [animal for animal in collection.animals.values() if is_there(animal)]
    years = {species.id: breeding_year(collection, species) for species in collection.species.values()}
    found = [
        *litters_of_day(collection, day),
        *(matter for animal in there for matter in _animal(animal, collection, years[animal.species], day)),
        *_stages(collection, years, day),
    ]
    if any(animal.weights for animal in collection.animals.values()):  # else nobody here weighs
        found += [matter for animal in there for matter in _weigh(animal, collection, day)]
    return tuple(
        sorted(found, key=lambda each: (_ORDER.index((each.what, each.pressing)), each.day or dt.date.min, each.id))
    )


def litters_of_day(collection: Collection, day: dt.date) -> Iterator[Matter]:
    """The litters that are late or due, in record order."""
    for litter in collection.litters.values():
        yield from _litter(litter, collection, day)


def _litter(litter: Litter, collection: Collection, day: dt.date) -> Iterator[Matter]:
    """A litter that is due, or late: the laying of eggs that are not laid yet, else the young."""
    if ended([litter]):
        return
    lays = collection.species[litter.species].births is Births.EGGS
    window, own = (laying_due(litter, collection) if lays and not litter.laid else None), None
    comes = Comes.EGGS if window else Comes.HATCHLINGS if lays else Comes.YOUNG
    if window is None:
        window, own = young_due(litter, collection), litter.expected
    days = ((window.first, window.last) if window else None, (own.earliest, own.latest) if own else None)
    known = [each for each in days if each]
    if not known:
        return
    first, last = known[0][0], max(end for _, end in known)  # not late before the day that was written is past too
    foretold = window is not None and last == window.last
    if last < day:
        dam = collection.animals[litter.dam] if litter.dam and not litter.laid else None
        yield Matter(
            Asks.OVERDUE, litter.id, litter.place, last, pressing=True, comes=comes, foretold=foretold,
            dams=(dam.id,) if dam and is_there(dam) else (),
        )  # fmt: skip
    elif first <= day + MONTH:
        pressing = first <= day + WEEK
        yield Matter(
            Asks.DUE, litter.id, litter.place, first, pressing=pressing, until=last, comes=comes, foretold=foretold
        )


def _animal(animal: Animal, collection: Collection, year: BreedingYear, day: dt.date) -> Iterator[Matter]:
    """All that is asked of one animal but to weigh it."""
    yield from _refusing(animal, day)
    yield from _losing(animal, collection, day)
    yield from _light(animal, collection, year, day)
    yield from _offer(animal, collection.site.ready_when, day)
    for permit in animal.permits:
        last = permit.valid_until.latest if permit.valid_until else None
        if last and last <= day + PERMIT_DAYS:
            named = ", ".join(part for part in (permit.kind, permit.number) if part)
            yield Matter(Asks.PERMITS, animal.id, permit.place, last, pressing=last < day, text=named)
    if animal.quarantine and day <= (last := animal.quarantine.until.latest) <= day + WEEK:
        yield Matter(Asks.QUARANTINE, animal.id, animal.place, last, pressing=True)


def _refusing(animal: Animal, day: dt.date) -> Iterator[Matter]:
    since, count = None, 0
    for meal in reversed([each for each in animal.meals if each.date.earliest <= day]):
        if meal.taken:
            break
        since, count = meal.date.earliest, count + 1
    if count >= REFUSED:
        yield Matter(Asks.REFUSING, animal.id, animal.place, since, pressing=True, number=count)


def _losing(animal: Animal, collection: Collection, day: dt.date) -> Iterator[Matter]:
    """One that lost weight, unless she laid or bore in between, or slugs were all that came."""
    lately = [each for each in animal.weights if 0 <= (day - each.date.earliest).days <= LOST_DAYS]
    if not lately:
        return
    newest, heaviest = lately[-1], max(lately, key=lambda each: each.grams)
    if 100 * newest.grams >= LOST * heaviest.grams:
        return
    first, last = heaviest.date.earliest, newest.date.latest
    for litter in collection.bred_by(animal.id):
        over = (litter.laid, litter.born, litter.failed.date if litter.failed and gravid(litter) else None)
        if litter.dam == animal.id and any(each and first <= each.latest and each.earliest <= last for each in over):
            return
    since = newest.date.earliest
    yield Matter(Asks.LOSING, animal.id, animal.place, since, pressing=True, weights=(newest, heaviest))


def _light(animal: Animal, collection: Collection, year: BreedingYear, day: dt.date) -> Iterator[Matter]:
    """One against whose coming season nothing stands but its weight."""
    asked = collection.species[animal.species].breeding_weight_grams.get(animal.sex)
    if not asked or not is_ours(animal):
        return
    season = year.next_open(day)
    if readiness(collection, year, animal, animal.sex, season, day).reasons == (Hindrance.TOO_LIGHT,):
        by = year.pairing_day(season)
        yield Matter(Asks.LIGHT, animal.id, animal.place, by, weights=animal.weights[-1:], number=asked)


def _offer(animal: Animal, rules: ReadyRules, day: dt.date) -> Iterator[Matter]:
    """One that can go: on hold until it is fetched, others in the month after they became ready; a hold that ends."""
    offer = animal.offer
    if offer is None or offer.state not in (OfferState.AVAILABLE, OfferState.ON_HOLD):
        return
    held = offer.state is OfferState.ON_HOLD
    if held and offer.until and offer.until.latest <= day + WEEK:
        last = offer.until.latest
        yield Matter(Asks.HOLDS, animal.id, offer.place, last, pressing=last < day)
    days = [day - dt.timedelta(back) for back in range(MONTH.days, -1, -1)]
    if not is_ready(animal, rules, day):
        return
    since = next(each for each in days if _can_go(animal, rules, each))
    if held or since > days[0]:
        yield Matter(Asks.READY, animal.id, offer.place, since if since > days[0] else None, text=offer.state)


def is_ready(animal: Animal, rules: ReadyRules, day: dt.date) -> bool:
    """Whether an offered animal can go on a day, and is not in quarantine."""
    return not (animal.quarantine and animal.quarantine.until.latest >= day) and _can_go(animal, rules, day)


def _can_go(animal: Animal, rules: ReadyRules, day: dt.date) -> bool:
    """Whether an offered animal could go on a day, by what was recorded until then."""
    ready = animal.offer.ready if animal.offer else None
    until = replace(
        animal,
        weights=tuple(each for each in animal.weights if each.date.earliest <= day),
        meals=tuple(each for each in animal.meals if each.date.earliest <= day),
    )
    return not (ready and ready.earliest > day) and not missing(until, rules, day)


def is_grown(animal: Animal, collection: Collection, day: dt.date) -> bool:
    """It has the breeding age of its species and sex on a day; of unknown age, it has a record of its own."""
    ages = collection.species[animal.species].breeding_age_months
    months = ages.get(animal.sex) or max(ages.values(), default=USUALLY_GROWN_MONTHS)
    birth = collection.birth_of(animal)
    return WrittenAge(months=months).reached(birth.latest) <= day if birth else not animal.is_young


def _weigh(animal: Animal, collection: Collection, day: dt.date) -> Iterator[Matter]:
    every = collection.site.weigh_every
    last = animal.weights[-1:]
    since = last[0].date if last else collection.birth_of(animal)
    due = (every.adult if is_grown(animal, collection, day) else every.young).reached(since.latest) if since else None
    if due is None or due <= day:
        yield Matter(Asks.WEIGH, animal.id, animal.place, due, weights=last)


def _stages(collection: Collection, years: Mapping[str, BreedingYear], day: dt.date) -> Iterator[Matter]:
    """The open stages of the coming season whose parents are there."""
    promises = iter(all_promises(collection, day))
    for dam, sire in zip(promises, promises, strict=True):  # two of each stage, the dam first
        year = years[collection.projects[dam.project].species]
        dams, sires = (
            tuple(animal for animal in each.parents.animals if is_there(collection.animals[animal]))
            for each in (dam, sire)
        )
        if dams and sires and dam.season == year.next_open(day):
            by = year.pairing_day(dam.season)
            yield Matter(Asks.NEXT, f"{dam.project}/{dam.stage}", dam.place, by, dams=dams, sires=sires)
