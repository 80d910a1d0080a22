"""On which days the events of a litter were from which days are counted, and what followed each."""

import datetime as dt
from collections.abc import Iterable, Mapping

from sitegen.content.animals import Animal
from sitegen.content.events import Event, EventKind
from sitegen.content.intervals import Start
from sitegen.content.litters import Litter
from sitegen.content.species import Births, Species
from sitegen.content.values import PartialDate
from sitegen.genetics.questions import AnimalId

_START = {
    EventKind.INTRODUCED: Start.PAIRED, EventKind.COPULATION: Start.COPULATION, EventKind.OVULATED: Start.OVULATED,
    EventKind.PRELAY_SHED: Start.SHED, EventKind.POSTOVULATION_SHED: Start.SHED,
}  # fmt: skip
LONGEST = dt.timedelta(366)
"""Events of a dam so long before a laying or a birth belong to it at most, where no other litter lies between."""


def starts_by_litter(
    litters: Mapping[str, Litter], animals: Mapping[AnimalId, Animal]
) -> dict[str, Mapping[Start, dt.date]]:
    """The events of each litter whose day is known, in their order: the first pairing, of all others the last one.

    What stands in the dam's own diary belongs to the litter that ended next, or to the one that has not ended.
    """
    by_dam: dict[AnimalId, list[Litter]] = {}
    for litter in litters.values():
        by_dam.setdefault(litter.dam or "", []).append(litter)
    found = {}
    for dam, own in by_dam.items():
        diary = animals[dam].events if dam in animals else ()
        before = dt.date.min
        for end, _, litter in sorted((_end(each) or dt.date.max, each.id, each) for each in own):
            since = max(before, end - LONGEST if end < dt.date.max else before)
            hers = [each for each in diary if since < each.date.earliest <= end and _of_its_sires(each, litter)]
            found[litter.id] = _starts(litter, [*hers, *litter.events])
            before = end
    return found


def _end(litter: Litter) -> dt.date | None:
    """The day after which nothing of the dam's diary belongs to it."""
    day = litter.laid or litter.born or (litter.failed.date if litter.failed else None)
    return day.latest if day else None


def _of_its_sires(event: Event, litter: Litter) -> bool:
    return event.partner is None or event.partner in dict(litter.sires)


def _starts(litter: Litter, events: Iterable[Event]) -> Mapping[Start, dt.date]:
    found = {Start.PAIRED: known_day(litter.paired)}
    for event in sorted(events, key=lambda each: each.date):
        start, day = _START.get(event.what), known_day(event.date)
        if start and day and not (start is Start.PAIRED and found[start]):
            found[start] = day
    found[Start.LAID] = known_day(litter.laid)
    return {start: day for start in Start if (day := found.get(start))}


def known_day(date: PartialDate | None) -> dt.date | None:
    """The day of a date; None where only its month or year is known."""
    return date.earliest if date and date.day else None


def what_follows(start: Start, litter: Litter, species: Species) -> PartialDate | None:
    """To what days from an event are counted: the laying of eggs, else the birth."""
    return litter.laid if species.births is Births.EGGS and start is not Start.LAID else litter.born
