"""A light animal is ready in the first season in which it is likelier than not that it weighs enough."""

import datetime as dt

from helpers.from_text import bound

from sitegen.content.breeding_years import breeding_year
from sitegen.genetics.loci import Sex
from sitegen.plans.readiness import Hindrance, Readiness, readiness, weighed
from sitegen.plans.season import Breeder
from sitegen.words.planning import weight_words
from sitegen.year.growth import growth

TODAY = dt.date(2026, 10, 25)
LINE = "2025-08-16: 7 g, 2025-12-06: 22 g, 2026-03-14: 44 g, 2026-06-20: 71 g, 2026-10-03: 108 g"
FLAT = "2023-08-16: 100 g, 2024-12-06: 150 g, 2025-10-14: 152 g, 2026-10-03: 151 g"


def in_season(weights: str, asked: int, season: int) -> Readiness:
    collection = bound(
        f"=== species/s.yaml\nbreeding_weight: {asked} g\nbreeding_season: {{paired: March, born: July}}\nloci: {{}}\n"
        f"=== animals/a/animal.yaml\nspecies: s\nsex: female\nborn: 2023-07-14\nweights: {{{weights}}}\n"
    )
    species, animal = collection.species["s"], collection.animals["a"]
    return readiness(collection, breeding_year(collection, species), animal, Sex.FEMALE, season, TODAY)


def test_by_its_own_growth() -> None:
    collection = bound(
        f"=== species/s.yaml\nbreeding_weight: 200 g\nloci: {{}}\n"
        f"=== animals/a/animal.yaml\nspecies: s\nsex: female\nweights: {{{LINE}}}\n"
    )
    found = growth(collection.animals["a"], 200)
    assert found
    middle = found.day(0.5)
    assert middle
    assert dt.date(2027, 3, 1) < middle < dt.date(2028, 3, 1)
    assert weighed(collection, collection.animals["a"], Sex.FEMALE).growth == found
    assert in_season(LINE, 200, 2027) == Readiness(
        2027, (Hindrance.TOO_LIGHT,), 2028, Hindrance.TOO_LIGHT, {Hindrance.TOO_LIGHT: 2028}
    )
    assert in_season(LINE, 200, 2028) == Readiness(2028, (Hindrance.MUST_GAIN,), 2028)


def test_a_weight_that_is_near_is_no_bar_even_in_the_next_season() -> None:
    assert in_season(LINE, 115, 2027) == Readiness(2027, (Hindrance.MUST_GAIN,), 2027)


def test_where_growth_tells_nothing_the_last_weighing_bars_the_next_season_alone() -> None:
    three = LINE.partition(", ")[2].partition(", ")[2]
    for weights in (three, FLAT):
        assert in_season(weights, 300, 2027) == Readiness(
            2027, (Hindrance.TOO_LIGHT,), 2028, Hindrance.TOO_LIGHT, {Hindrance.TOO_LIGHT: 2028}
        )
        assert in_season(weights, 300, 2028) == Readiness(2028, (Hindrance.MUST_GAIN,), 2028)


def test_the_range_stands_beside_the_weight() -> None:
    collection = bound(
        f"=== species/s.yaml\nbreeding_weight: 200 g\nloci: {{}}\n"
        f"=== animals/a/animal.yaml\nspecies: s\nsex: female\nweights: {{{LINE}}}\n"
    )
    weight = weighed(collection, collection.animals["a"], Sex.FEMALE)
    assert weight.growth
    early, middle, late = (weight.growth.day(chance) for chance in (0.1, 0.5, 0.9))
    assert early
    assert middle
    breeder = Breeder("a", Sex.FEMALE, "s", (Readiness(2027, (), 2027), Readiness(2028, (), 2028)), weight, None, ())
    assert weight_words(breeder, collection) == (
        f"108 g on 2026-10-03, 200 g asked, about {middle:%Y-%m} at this rate "
        f"({early:%Y-%m} to {f'{late:%Y-%m}' if late else 'never'})"
    )
