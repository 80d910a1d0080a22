"""When an animal is heavy enough: beside SciPy's fit of the same curve, and right as often as is told for made animals.

Run as a program it prints how often the range of 80 in 100 held, by the curve that animals truly follow.
"""

import datetime as dt
import math
import random
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from helpers.from_text import bound
from scipy.optimize import curve_fit
from scipy.stats import norm

from sitegen.content.animals import Animal
from sitegen.content.values import PartialDate, Weighing
from sitegen.year.growth import GROWN, GROWN_SCATTER, SCATTER, YEARS, Growth, growth

BORN = dt.date(2020, 7, 1)
Curve = Callable[[float], float]
"""Grams by age in days."""


@cache
def anybody() -> Animal:
    return bound("=== species/s.yaml\nloci: {}\n=== animals/a/animal.yaml\nspecies: s\nborn: 2020-07-01\n").animals["a"]


def weighed_at(weights: dict[int, float], grams: int) -> Growth | None:
    """The growth of an animal weighed at some ages."""
    found = []
    for age, weight in weights.items():
        day = BORN + dt.timedelta(age)
        found.append(Weighing(PartialDate(day.year, day.month, day.day), round(weight)))
    return growth(_with(found), grams)


def _with(weighings: list[Weighing]) -> Animal:
    return replace(anybody(), weights=tuple(weighings))


def gompertz(grown: float, hatched: float, half: float) -> Curve:
    return lambda age: grown * math.exp(-math.log(grown / hatched) * 2 ** (-age / half))


def bertalanffy(grown: float, hatched: float, half: float) -> Curve:
    """Weight as the third power of a length that nears its end."""
    return lambda age: grown * (1 - (1 - (hatched / grown) ** (1 / 3)) * 2 ** (-age / half)) ** 3


CURVES = {"Gompertz": gompertz, "von Bertalanffy": bertalanffy}


def held(kind: str, grams: int, dice: random.Random, animals: int = 400) -> tuple[float, float]:
    """How many of 100 ranges held the true day, and of 100 middles that were too early."""
    right = early = told = 0
    for _ in range(animals):
        curve = CURVES[kind](dice.lognormvariate(math.log(1.5 * grams), 0.3), grams / 45, dice.uniform(180, 400))
        days = next((age for age in range(4000) if curve(age) >= grams), None)
        n, last = dice.randint(4, 12), dice.uniform(250, 700)
        ages = [round(30 + last * step / (n - 1)) for step in range(n)]
        found = weighed_at({age: curve(age) * dice.lognormvariate(0, 0.07) for age in ages}, grams)
        if found is None:
            continue
        told += 1
        low, high = found.day(0.1), found.day(0.9)
        true = BORN + dt.timedelta(days) if days is not None else dt.date.max
        right += (low or dt.date.max) <= true <= (high or dt.date.max)
        middle = found.day(0.5)
        early += middle is not None and middle < true
    return 100 * right / told, 100 * early / told


@pytest.mark.parametrize(("kind", "least", "most"), [("von Bertalanffy", 75, 97), ("Gompertz", 65, 90)])
def test_ranges_of_80_in_100_hold(kind: str, least: int, most: int) -> None:
    right, _ = held(kind, 300, random.Random(3), 150)
    assert least <= right <= most


def test_a_well_known_curve_is_found_as_scipy_finds_it() -> None:
    """With many weighings what is taken for granted no longer matters."""
    curve, dice = bertalanffy(420, 7, 360), random.Random(5)
    weights = {age: curve(age) * dice.lognormvariate(0, 0.03) for age in range(20, 800, 40)}
    found = weighed_at(weights, 300)
    assert found

    def root(age: float, grown: float, first: float, rate: float) -> float:
        return grown - (grown - first) * np.exp(-rate * age)

    seen = np.cbrt([round(weight) for weight in weights.values()])
    (grown, first, rate), _ = curve_fit(root, list(weights), seen, p0=(8, 2, 0.002))
    age = -math.log((grown - np.cbrt(300)) / (grown - first)) / rate
    middle = found.day(0.5)
    assert middle
    assert abs((middle - BORN).days - age) < age / 14


def test_the_chance_is_that_of_a_sum_over_a_fine_grid() -> None:
    """The same posterior, summed by brute force with SciPy's normal densities instead of in closed form."""
    weights = {30: 8, 150: 30, 300: 70, 420: 110}
    found = weighed_at(weights, 200)
    assert found
    grown = np.linspace(0.3, 2.2, 800)[:, None]
    rates = (math.log(2) / np.array([90 * 1.15**step for step in range(21)]))[None, :]

    def root(grams: float) -> float:
        return float((grams / 200) ** (1 / 3))

    def noise(days: int) -> Any:
        return np.sqrt(SCATTER**2 + YEARS**2 / 365 * (1 - np.exp(-2 * rates * days)) / (2 * rates))

    log = norm.logpdf(grown, GROWN, GROWN_SCATTER)
    for (age, grams), (later, more) in pairwise(weights.items()):
        left = np.exp(-rates * (later - age))
        log = log + norm.logpdf(root(more), grown * (1 - left) + root(grams) * left, noise(later - age))
    posterior = np.exp(log - log.max())
    for days in (100, 400, 700, 2000):
        left = np.exp(-rates * days)
        above = norm.sf(1, grown * (1 - left) + root(110) * left, noise(days))
        chance = (posterior * above).sum() / posterior.sum()
        assert abs(found.chance(BORN + dt.timedelta(420 + days)) - chance) < 0.002


@pytest.mark.parametrize("grams", [200, 300])
def test_chance_grows_with_time_and_quantiles_are_in_order(grams: int) -> None:
    found = weighed_at({30: 8, 150: 30, 300: 70, 420: 110}, grams)
    assert found
    days = [found.newest + dt.timedelta(30 * step) for step in range(60)]
    chances = [found.chance(day) for day in days]
    assert all(second >= first - 0.02 for first, second in pairwise(chances))
    low, middle = found.day(0.1), found.day(0.5)
    assert low
    assert middle
    assert found.newest < low < middle


@pytest.mark.parametrize(
    "weights",
    [
        {30: 8, 150: 30, 300: 70},
        {30: 8, 31: 8, 32: 8, 33: 9},
        {30: 8, 150: 30, 300: 70, 420: 60},
        {30: 8, 150: 30, 300: 70, 420: 310},
        {},
    ],
)
def test_too_few_too_near_shrinking_or_there_already(weights: dict[int, float]) -> None:
    assert weighed_at(weights, 300) is None


def test_without_a_weight_that_is_asked_there_is_none() -> None:
    assert growth(anybody(), None) is None


if __name__ == "__main__":
    for name in CURVES:
        for asked in (45, 300, 1500):
            print(
                name, asked, "in the range {:.0f}, middle too early {:.0f}".format(*held(name, asked, random.Random(7)))
            )
