"""Cross-checks of days between events: what the species can, and how soon a dam can have another litter."""

import datetime as dt
from collections.abc import Mapping
from itertools import pairwise

from sitegen.content.animals import Animal
from sitegen.content.declaration import Written
from sitegen.content.intervals import Start
from sitegen.content.litters import Litter
from sitegen.content.report import Report
from sitegen.content.species import Births, BoundSpecies, Species
from sitegen.content.starts import known_day, starts_by_litter
from sitegen.findings import Kind
from sitegen.genetics.questions import AnimalId

_EGGS_ANY = range(35, 91)
"""Usual days from laying to hatching where the species file does not tell. Source: 35 to 68 days in a zoo's sheet on
corn snakes, "two to three months" in a nature centre's sheet of 2019; 77 days for the ball python in AnAge."""
_HALF_A_YEAR = 182
_EVENT = {
    Start.PAIRED: "pairing", Start.COPULATION: "copulation", Start.OVULATED: "ovulation", Start.SHED: "shed",
    Start.LAID: "laying",
}  # fmt: skip


def check_intervals(
    litters: Mapping[str, Litter],
    animals: Mapping[AnimalId, Animal],
    forms: Mapping[str, Written | None],
    species: Mapping[str, BoundSpecies | None],
    report: Report,
) -> None:
    """Asks about days that the species file does not have for possible."""
    starts = starts_by_litter(litters, animals)
    for litter_id, litter in litters.items():
        form, bound = forms.get(litter_id), species.get(litter.species)
        if form is not None and bound is not None:
            _check_intervals(litter, starts[litter_id], form, bound.species, report)
    _check_too_soon(litters, forms, species, report)


def _check_intervals(
    litter: Litter, starts: Mapping[Start, dt.date], form: Written, species: Species, report: Report
) -> None:
    """Days from an event to what followed it, against what the species can."""
    for start, began in starts.items():
        laid = species.births is Births.EGGS and start is not Start.LAID and litter.laid is not None
        ended, possible = known_day(litter.laid if laid else litter.born), _possible(start, species, whole=not laid)
        if ended is None or possible is None or (days := (ended - began).days) < 0 or days in possible:
            continue
        came = "was laid" if laid else "was born" if species.births is Births.LIVE else "hatched"
        late = start is Start.PAIRED and days >= possible.stop
        again = "; if they were together later again, write that day" if late else ""
        report.notice(
            Kind.DATE_UNUSUAL,
            form.at("laid" if laid else "born"),
            f"{litter.id} {came} {days} days after the {_EVENT[start]}",
            expected=f"{possible.start} to {possible.stop - 1} days"
            + (f", by days_from of {species.name}" if start in species.intervals else ""),
            remedy=f"check both dates, or write confirmed: true{again}",
        )


def _possible(start: Start, species: Species, *, whole: bool) -> range | None:
    """Days that nobody needs to ask about, ``whole`` to the young and else to the laying; None where nothing tells."""
    own = species.intervals.get(start)
    days = own.possible if own else _EGGS_ANY if start is Start.LAID else None
    if days is None or not whole or start is Start.LAID or species.births is Births.LIVE:
        return days
    then = species.intervals[Start.LAID].possible if Start.LAID in species.intervals else _EGGS_ANY
    return range(days.start + then.start, days.stop + then.stop - 1)


def _check_too_soon(
    litters: Mapping[str, Litter],
    forms: Mapping[str, Written | None],
    species: Mapping[str, BoundSpecies | None],
    report: Report,
) -> None:
    """Two litters of a dam nearer to each other than the species is written to have them, or can carry them."""
    by_dam: dict[str, list[tuple[dt.date, Litter]]] = {}
    for litter in litters.values():
        day = known_day(litter.laid or litter.born)
        if litter.dam and day and not litter.failed:
            by_dam.setdefault(litter.dam, []).append((day, litter))
    for own in by_dam.values():
        for (first, before), (day, litter) in pairwise(sorted(own, key=lambda pair: (pair[0], pair[1].id))):
            bound, form = species.get(litter.species), forms.get(litter.id)
            if bound is None or form is None or bool(before.laid) is not bool(litter.laid):
                continue
            least = _least_between(bound.species)
            if (day - first).days < least:
                word = "laid" if litter.laid else "born"
                report.notice(
                    Kind.DATE_UNUSUAL,
                    form.at(word),
                    f"{litter.id} was {word} {(day - first).days} days after {before.id} of the same dam",
                    expected=f"at least {least} days between two litters of a dam, by the figures of "
                    f"{bound.species.name}",
                    remedy="check the dates and the dam, or write confirmed: true",
                    others=[before.place],
                )


def _least_between(species: Species) -> int:
    """The fewest days between two litters of a dam: half of what litters_a_year makes, or the time that she carries."""
    carried = [
        interval.possible.start
        for start, interval in species.intervals.items()
        if start in (Start.OVULATED, Start.SHED) and species.births is Births.LIVE
    ]
    return max([_HALF_A_YEAR // species.litters_a_year, *carried])
