"""When eggs or young are due: a window of days that holds 80 in 100 litters.

The days from an event to what follows are normal with the spread that the species file has. The mean of a keeper's own
litters is not known: before any of them it is normal around the file's figure, which counts as ``worth`` litters. Of
the spread a part is taken to lie between dams (:data:`BETWEEN_DAMS`), so that a dam's own litters tell most of her
next one. What follows after all own litters is normal again; its middle 80 in 100 are the window.

Source: the conjugate normal mean with known variance, and normal random effects of known variance, as in Gelman and
others, Bayesian Data Analysis, chapters 2 and 5 (from memory).
"""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist

from sitegen.content.collection import Collection
from sitegen.content.intervals import Interval, Start
from sitegen.content.litters import Litter
from sitegen.content.species import Births
from sitegen.content.starts import known_day, what_follows
from sitegen.genetics.questions import AnimalId

BETWEEN_DAMS = 0.25
"""Part of the variance of days that lies between dams. Taken for granted, no source."""
HELD = 0.8
"""Share of litters that a window holds."""
_EDGE = NormalDist().inv_cdf((1 + HELD) / 2)


@dataclass(frozen=True, slots=True)
class Normal:
    """A normal number of days."""

    mean: float
    variance: float

    def after(self, other: "Normal") -> "Normal":
        """The days of both, one after the other."""
        return Normal(self.mean + other.mean, self.variance + other.variance)

    def days(self) -> tuple[int, int]:
        """The first and the last whole day of the window; as a day holds all of its hours, half of one at each end."""
        off = max(0.5, _EDGE * self.variance**0.5)
        first = round(self.mean - off + 0.5)
        return first, max(first, round(self.mean + off - 0.5))


def foretold(
    interval: Interval, own: Sequence[int], others: Sequence[Sequence[int]], between: float = BETWEEN_DAMS
) -> Normal:
    """The days of a dam's next litter by the species file, by her own litters, and by those of each other dam.

    An unknown dam stands alone; ``between`` is the part of the variance that lies between dams.
    """
    within = 1 - between  # variances here in units of the spread's square
    weight, total = float(interval.worth), interval.worth * float(interval.usual)
    for days in others:
        precision = 1 / (between + within / len(days))
        weight += precision
        total += precision * sum(days) / len(days)
    known = 1 / (1 / weight + between)
    precision = known + len(own) / within
    mean = (known * total / weight + sum(own) / within) / precision
    return Normal(mean, interval.spread**2 * (1 / precision + within))


@dataclass(frozen=True, slots=True)
class Rests:
    """On what one interval of a window rests: the event, the species' figure, how many own litters, of them hers."""

    start: Start
    interval: Interval
    own: int
    of_dam: int


@dataclass(frozen=True, slots=True)
class Window:
    """When eggs or young of a litter are due.

    Attributes:
        since: The day from which is counted: that of the latest event from which the species file counts.
        first, last: Days of which 80 in 100 litters come within.
        rests: On what it rests, in the order of the days; two intervals before the laying of eggs that hatch later.
    """

    litter: str
    since: dt.date
    first: dt.date
    last: dt.date
    middle: dt.date
    rests: tuple[Rests, ...]


def laying_due(litter: Litter, collection: Collection) -> Window | None:
    """When eggs are, or were, due; None for live young, or where no event or no figure of the species tells it."""
    species = collection.species[litter.species]
    if species.births is Births.LIVE:
        return None
    return _window(
        litter,
        collection,
        {start: day for start, day in collection.starts_of(litter.id).items() if start != Start.LAID},
    )


def young_due(litter: Litter, collection: Collection) -> Window | None:
    """When young are, or were, due; None where no event or no figure of the species tells it."""
    starts = collection.starts_of(litter.id)
    if collection.species[litter.species].births is Births.LIVE:
        return _window(litter, collection, starts)
    if laid := starts.get(Start.LAID):
        return _window(litter, collection, {Start.LAID: laid})
    return _window(litter, collection, starts, Start.LAID)


def _window(
    litter: Litter, collection: Collection, starts: Mapping[Start, dt.date], then: Start | None = None
) -> Window | None:
    """The window from the latest of the events that the species file counts from; ``then`` is counted after it."""
    figures = collection.species[litter.species].intervals
    counted = [start for start in starts if start in figures]
    if not counted or (then and then not in figures):
        return None
    parts = [_foretold(each, litter, collection) for each in (counted[-1], *((then,) if then else ()))]
    days = parts[0][0] if len(parts) == 1 else parts[0][0].after(parts[1][0])
    since = starts[counted[-1]]
    first, last = (since + dt.timedelta(each) for each in days.days())
    middle = since + dt.timedelta(round(days.mean))
    return Window(litter.id, since, first, last, middle, tuple(rests for _, rests in parts))


def _foretold(start: Start, litter: Litter, collection: Collection) -> tuple[Normal, Rests]:
    """The days from an event, and on what they rest."""
    interval = collection.species[litter.species].intervals[start]
    by_dam: dict[AnimalId, list[int]] = {}
    for other, days in _own_days(start, litter, collection):
        by_dam.setdefault(other.dam or f"{other.id}/", []).append(days)
    own = by_dam.pop(litter.dam or "", [])
    rests = Rests(start, interval, len(own) + sum(map(len, by_dam.values())), len(own))
    return foretold(interval, own, list(by_dam.values())), rests


def _own_days(start: Start, litter: Litter, collection: Collection) -> Iterator[tuple[Litter, int]]:
    """The keeper's other litters of the species with their days from an event to what followed it.

    Of a litter that ended only those that ended before it are told: what could be known then. Days about which the
    check asks teach nothing.
    """
    species, end = collection.species[litter.species], known_day(litter.born)
    for other in collection.litters.values():
        if other.species != species.id or other.id == litter.id:
            continue
        began, ended = collection.starts_of(other.id).get(start), known_day(what_follows(start, other, species))
        if began and ended and (end is None or ended < end):
            days = (ended - began).days
            if days in species.intervals[start].possible:
                yield other, days
