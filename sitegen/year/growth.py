"""When an animal will be heavy enough, by its own line of weights.

The third root of the weight, which goes with the length, nears that of the grown animal by the same part in every day:
von Bertalanffy's curve; good and poor years add their own. For each of some rates the grown animal's root has a normal
posterior in closed form; rates are weighed by how well they fit. What is told is the chance of a weight on a day to
come.

Taken for granted, no source: a weighing scatters by :data:`SCATTER` of the root (a meal, a shed) and a year by
:data:`YEARS`; the root of a grown animal is about :data:`GROWN` times that of the breeding weight, give or take
:data:`GROWN_SCATTER`; and half of the way takes three months to four years.

Sources, from memory: von Bertalanffy (1957) Quarterly Review of Biology 32:217; Andrews (1982) in Biology of the
Reptilia 13:273, the curve in reptiles; Gelman and others, Bayesian Data Analysis, chapter 14, regression with a normal
prior. With noise in each step the root is an Ornstein-Uhlenbeck process.
"""

import datetime as dt
import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from statistics import NormalDist

from sitegen.content.animals import Animal
from sitegen.content.values import Weighing

FEWEST, SHORTEST_DAYS = 4, 90
"""Weighings and days between the first and the last without which nothing is told."""
SHRUNK = 0.95
"""The newest weighing of an animal that grows is at least this part of its heaviest."""
SCATTER, YEARS, GROWN, GROWN_SCATTER = 0.02, 0.04, 1.15, 0.13
_RATES = [math.log(2) / (90 * 1.15**step) for step in range(21)]
"""Parts of the way in a day; half of it takes 90 to 1473 days."""
_AHEAD, _STEP, _RARE = 10 * 365, 180, 1e-4
_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class _Line:
    """The posterior at one rate: mean and variance of the grown animal's root, in units of that of the asked weight.

    ``weight`` is how well the rate fits, up to a common factor.
    """

    rate: float
    grown: float
    variance: float
    weight: float

    def above(self, newest: float, days: int) -> float:
        """Chance that the root is above 1 so many days after the newest weighing."""
        left, noise = _step(self.rate, days)
        mean = self.grown * (1 - left) + newest * left
        return _NORMAL.cdf((mean - 1) / (self.variance * (1 - left) ** 2 + noise) ** 0.5)


def _step(rate: float, days: int) -> tuple[float, float]:
    """What is left of the way after some days, and the variance of a weighing then."""
    left = math.exp(-rate * days)
    return left, SCATTER**2 + YEARS**2 / 365 * (1 - left**2) / (2 * rate)


@dataclass(frozen=True, slots=True)
class Growth:
    """An animal's curve to the weight that is asked for; how many weighings it rests on, the last one and its day."""

    grams: int
    weighings: int
    last: int
    newest: dt.date
    lines: tuple[_Line, ...]

    def chance(self, day: dt.date) -> float:
        """Chance that it is heavy enough on a day after its newest weighing."""
        days = max(0, (day - self.newest).days)
        total, newest = sum(line.weight for line in self.lines), (self.last / self.grams) ** (1 / 3)
        return sum(line.weight * line.above(newest, days) for line in self.lines) / total

    def day(self, chance: float) -> dt.date | None:
        """A day, the first to a few days, on which it is heavy enough with a chance; None in ten years."""
        after = (self.newest + dt.timedelta(days) for days in range(0, _AHEAD, _STEP))
        late = next((day for day in after if self.chance(day) >= chance), None)
        if late is None or late == self.newest:
            return late
        days = range(_STEP)
        early = late - dt.timedelta(_STEP)
        return early + dt.timedelta(bisect_left(days, chance, key=lambda each: self.chance(early + dt.timedelta(each))))


def growth(animal: Animal, grams: int | None) -> Growth | None:
    """The curve of an animal that is to reach a weight.

    None without a weight that is asked for, for one that has reached it, for one that shrinks, and where its weighings
    are too few or too near each other.
    """
    weighings = tuple(each for each in animal.weights if each.date.day and each.grams)
    return _growth(weighings, grams) if grams else None


@lru_cache(maxsize=1024)
def _growth(weighings: tuple[Weighing, ...], grams: int) -> Growth | None:
    by_day = sorted({each.date.earliest: each.grams for each in weighings}.items())
    if len(by_day) < FEWEST or (by_day[-1][0] - by_day[0][0]).days < SHORTEST_DAYS:
        return None
    heaviest, newest = max(weight for _, weight in by_day), by_day[-1][1]
    if newest < SHRUNK * heaviest or heaviest >= grams:
        return None
    points = [(day, (weight / grams) ** (1 / 3)) for day, weight in by_day]
    steps = [((day - before).days, first, second) for (before, first), (day, second) in pairwise(points)]
    lines = tuple(_line(rate, steps) for rate in _RATES)
    best = max(line.weight for line in lines)
    weighted = (replace(line, weight=math.exp(line.weight - best)) for line in lines)
    fitting = tuple(line for line in weighted if line.weight > _RARE)
    return Growth(grams, len(by_day), newest, by_day[-1][0], fitting)


def _line(rate: float, steps: Sequence[tuple[int, float, float]]) -> _Line:
    """The posterior at a rate, with the logarithm of its marginal likelihood as weight."""
    precision = 1 / GROWN_SCATTER**2
    total, square, spread = precision * GROWN, precision * GROWN**2, 0.0
    for days, first, second in steps:
        left, noise = _step(rate, days)
        seen, slope = second - left * first, 1 - left
        precision += slope**2 / noise
        total += slope * seen / noise
        square += seen**2 / noise
        spread += math.log(noise)
    mean = total / precision
    fit = -(square - mean * total + spread + math.log(precision)) / 2
    return _Line(rate, mean, 1 / precision, fit)
