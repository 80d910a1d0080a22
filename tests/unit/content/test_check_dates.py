"""Dates that cannot be."""

import datetime as dt

import pytest
from helpers.from_text import CORN, PAIR, content_of, kinds, told

from sitegen.content.binding import bind_content
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


FAILED = "=== litters/l/litter.yaml\ndam: juniper\nsire: flint\npaired: 2024-03-10\n{}\n"


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("failed: {date: 2024-06-03, what: slugs}", []),
        ("failed: {date: 2024, what: not gravid}", []),
        ("laid: 2024-05-20\nfailed: {date: 2024-08-01, what: stillborn}", []),
        ("expected: 2024-07-20\nfailed: {date: 2024-08-01, what: reabsorbed}", []),
        ("expected: 2024-07-20\nfailed: {date: 2024-05-01, what: reabsorbed}", []),
        ("failed: {date: 2024-02-03, what: slugs}", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]),
        ("laid: 2024-05-20\nfailed: {date: 2024-05-19, what: slugs}", [(Kind.DATE_IMPOSSIBLE, Level.ERROR)]),
        ("failed: {date: 2024-06-03}", [(Kind.KEY_MISSING, Level.ERROR)]),
        ("failed: {date: 2024-06-03, what: eaten}", [(Kind.VALUE_WRONG, Level.ERROR)]),
    ],
)
def test_a_pairing_fails_after_it_was_made(lines: str, expected: list[tuple[Kind, Level]]) -> None:
    assert kinds(PAIR + FAILED.format(lines)) == expected


@pytest.mark.parametrize(("day", "ahead"), [("2024-06-04", False), ("2024-06-06", True)])
def test_a_pairing_cannot_have_failed_on_a_day_that_has_not_come(day: str, ahead: bool) -> None:
    content = content_of(CORN + PAIR + FAILED.format(f"failed: {{date: {day}, what: slugs}}"))
    _, findings = bind_content(content, dt.date(2024, 6, 3))
    assert [finding.kind for finding in findings] == [Kind.DATE_AHEAD] * ahead


@pytest.mark.parametrize(
    ("what", "line", "clash"),
    [
        ("slugs", "eggs: 8\ninfertile: 8\nlaid: 2024-05-20", False),
        ("stillborn", "stillborn: 6", False),
        ("not-gravid", "expected: 2024-07-20", False),
        ("stillborn", "born: 2024-07-01", True),
        ("slugs", 'young: {"01": {}}', True),
        ("reabsorbed", "others: [{count: 1, shows: []}]", True),
        ("not-gravid", "laid: 2024-05-20", True),
        ("not-gravid", "stillborn: 2", True),
    ],
)
def test_what_failed_gave_nothing_that_lived(what: str, line: str, clash: bool) -> None:
    text = PAIR + FAILED.format(f"failed: {{date: 2024-08-03, what: {what}}}\n{line}")
    assert [kind for kind, _ in kinds(text)] == [Kind.FAILED_CLASH] * clash
