"""Dates that cannot be."""

import pytest
from helpers.from_text import CORN, PAIR, kinds, told

from sitegen.findings import Kind, Level

BEFORE = "=== litters/l/litter.yaml\ndam: juniper\nsire: flint\nborn: {born}\n"


@pytest.mark.parametrize(
    ("born", "expected"),
    [
        ("2020", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)] * 2),
        ("2020-07-13", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)] * 2),
        ("2022-12-31", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]),
        ("2023-01-13", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]),
        ("2023-01-14", []),
        ("2023", []),
    ],
)
def test_a_young_is_never_born_before_its_parents_could_breed(born: str, expected: list[tuple[Kind, Level]]) -> None:
    """30 months after 2020-07-14 is 2023-01-14; dates of which only the year is known get the benefit of the doubt."""
    assert kinds(PAIR + BEFORE.format(born=born)) == expected


def test_young_with_a_birthday_of_their_own_and_animals_without_a_litter_are_checked_too() -> None:
    text = "=== animals/a/animal.yaml\nspecies: corn-snake\nborn: 2021\ndam: juniper\n"
    assert kinds(PAIR + text) == [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]


@pytest.mark.parametrize(
    "lines",
    [
        "died: 2019",
        "acquired: {date: 2019-12-31}",
        "weights: {2019-05: 10 g}",
        "meals: [{date: 2019-05, what: mouse}]",
        "tests: [{locus: amel, result: +/+, date: 2019-01-01}]",
        "offer: {state: sold, since: 2019-01-01}",
        "offer: {state: available, ready: 2019-01-01}",
        "shows: []\njudged: 2019-01-01",
    ],
)
def test_nothing_in_a_life_comes_before_birth(lines: str) -> None:
    text = f"=== animals/a/animal.yaml\nspecies: corn-snake\nborn: 2020\n{lines}\n"
    assert kinds(text) == [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]


def test_dates_that_may_be_right_are_not_told() -> None:
    text = (
        "=== animals/a/animal.yaml\nspecies: corn-snake\nborn: 2020-06-15\ndied: 2020\n"
        "acquired: {date: 2020-06}\nweights: {2020: 8 g}\n"
    )
    assert kinds(text) == []


def test_a_photo_from_before_the_birth_is_a_notice() -> None:
    text = CORN + "=== animals/a/animal.yaml\nspecies: corn-snake\nborn: 2020\n"
    findings = told(text, animals__a=("2019-01-01.jpg",))
    assert [(f.kind, f.level, str(f.place)) for f in findings] == [
        (Kind.DATE_UNUSUAL, Level.NOTICE, "animals/a/2019-01-01.jpg")
    ]


def test_a_dead_dam_lays_no_eggs_but_its_eggs_may_hatch() -> None:
    dam = "=== animals/d/animal.yaml\nspecies: corn-snake\ndied: 2025-06-01\n"
    litter = "=== litters/l/litter.yaml\ndam: d\nlaid: {laid}\nborn: 2025-07-15\n"
    assert kinds(dam + litter.format(laid="2025-05-20")) == []
    assert kinds(dam + litter.format(laid="2025-06-02")) == [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]


def test_a_clutch_that_has_not_hatched_is_checked_by_the_day_it_was_laid() -> None:
    text = "=== litters/l/litter.yaml\ndam: juniper\nsire: flint\nlaid: 2021-05-01\n"
    assert kinds(PAIR + text) == [(Kind.DATE_IMPOSSIBLE, Level.ERROR)] * 2
