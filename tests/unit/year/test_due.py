"""Windows of litters in a collection: from which event, on what they rest, and when there is none."""

import datetime as dt

import pytest
from helpers.from_text import bound

from sitegen.content.collection import Collection
from sitegen.content.intervals import Interval, Start
from sitegen.year.due import foretold, laying_due, young_due

PAIRED = Interval(usual=45, spread=9, worth=1)
LAID = Interval(usual=62, spread=3, worth=2)
SPECIES = """
=== species/s.yaml
births: eggs
days_from:
  paired: {usual: 45, spread: 9}
  laid: {usual: 62, spread: 3, worth: 2, source: Forest Park Zoo}
loci: {}
=== animals/juniper/animal.yaml
species: s
sex: female
=== animals/fennel/animal.yaml
species: s
sex: female
"""
LIVE = SPECIES.replace("eggs", "live").replace("laid: ", "ovulated: ")


def of(*litters: str, species: str = SPECIES) -> Collection:
    files = "".join(
        f"=== litters/{number}/litter.yaml\nspecies: s\n" + "\n".join(line.split("; ")) + "\n"
        for number, line in enumerate(litters)
    )
    return bound(species + files)


def day(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


def test_from_the_laying_by_the_species_alone() -> None:
    collection = of("dam: juniper; paired: 2026-03-20; laid: 2026-05-01")
    window = young_due(collection.litters["0"], collection)
    assert window
    assert (window.since, window.middle) == (day("2026-05-01"), day("2026-05-01") + dt.timedelta(62))
    first, last = foretold(LAID, [], []).days()
    assert (window.first - window.since).days, (window.last - window.since).days == (first, last)
    assert [(each.start, each.own, each.of_dam) for each in window.rests] == [(Start.LAID, 0, 0)]
    assert window.rests[0].interval.source == "Forest Park Zoo"


def test_from_the_pairing_both_spreads_add() -> None:
    collection = of("dam: juniper; paired: 2026-03-20")
    window, laying = (due(collection.litters["0"], collection) for due in (young_due, laying_due))
    assert window
    assert laying
    both = foretold(PAIRED, [], []).after(foretold(LAID, [], []))
    assert both.variance == pytest.approx(9**2 * 2 + 3**2 * 1.5)
    assert ((window.first - window.since).days, (window.last - window.since).days) == both.days()
    assert laying.middle == day("2026-03-20") + dt.timedelta(45)
    assert [each.start for each in window.rests] == [Start.PAIRED, Start.LAID]


def test_own_litters_are_counted_and_those_of_the_dam_among_them() -> None:
    collection = of(
        "dam: juniper; laid: 2024-05-01; born: 2024-07-06",
        "dam: fennel; laid: 2024-05-01; born: 2024-07-05",
        "dam: fennel; laid: 2025-05-01; born: 2025-07-04",
        "dam: juniper; laid: 2026-05-01",
    )
    window = young_due(collection.litters["3"], collection)
    assert window
    expected = foretold(LAID, [66], [[65, 64]])
    assert ((window.first - window.since).days, (window.last - window.since).days) == expected.days()
    assert [(each.own, each.of_dam) for each in window.rests] == [(3, 1)]


def test_of_a_litter_that_came_what_could_be_known_before() -> None:
    collection = of(
        "dam: juniper; laid: 2024-05-01; born: 2024-07-06",
        "dam: juniper; laid: 2025-05-01; born: 2025-07-06",
        "dam: juniper; laid: 2026-05-01; born: 2026-07-06",
    )
    window = young_due(collection.litters["1"], collection)
    assert window
    assert window.rests[0].own == 1


def test_live_young_are_counted_to_the_birth() -> None:
    collection = of("dam: juniper; paired: 2026-03-20", species=LIVE)
    window = young_due(collection.litters["0"], collection)
    assert window
    assert window.middle == day("2026-03-20") + dt.timedelta(45)
    assert laying_due(collection.litters["0"], collection) is None


@pytest.mark.parametrize("dates", ["paired: 2026-03", "paired: 2026", "expected: 2026-07-08", "eggs: 12"])
def test_without_the_day_of_an_event_there_is_none(dates: str) -> None:
    collection = of(f"dam: juniper; {dates}")
    assert young_due(collection.litters["0"], collection) is None


def test_without_a_figure_there_is_none() -> None:
    bare = SPECIES.replace("  laid: {usual: 62, spread: 3, worth: 2, source: Forest Park Zoo}\n", "")
    collection = of("dam: juniper; paired: 2026-03-20; laid: 2026-05-01", species=bare)
    assert young_due(collection.litters["0"], collection) is None


DIARY = """
=== animals/flint/animal.yaml
species: s
sex: male
"""


def test_the_latest_event_that_the_species_counts_from() -> None:
    species = SPECIES + DIARY
    introduced = "{date: 2026-03-01, what: introduced}, {date: 2026-03-20, what: introduced}"
    later = (
        "{date: 2026-04-02, what: copulation}, {date: 2026-03-30, what: copulation}, {date: 2026-04-20, what: ovulated}"
    )
    first = of(f"dam: juniper; sire: flint; events: [{introduced}]", species=species)
    both = of(f"dam: juniper; sire: flint; events: [{introduced}, {later}]", species=species)
    assert first.starts_of("0") == {Start.PAIRED: day("2026-03-01")}
    assert both.starts_of("0") == {
        Start.PAIRED: day("2026-03-01"), Start.COPULATION: day("2026-04-02"), Start.OVULATED: day("2026-04-20"),
    }  # fmt: skip
    window = laying_due(both.litters["0"], both)
    assert window
    assert window.since == day("2026-04-02")  # nothing is written of days from the ovulation
    assert [(each.start, each.own) for each in window.rests] == [(Start.COPULATION, 0)]


def test_the_dams_own_diary_belongs_to_the_litter_that_came_next() -> None:
    diary = (
        "events: [{date: 2025-04-01, what: ovulated}, {date: 2025-04-12, what: prelay-shed}, "
        "{date: 2026-04-04, what: ovulated}, {date: 2026-03-30, what: copulation, with: flint}, "
        "{date: 2026-04-09, what: copulation, with: basalt}]"
    )
    species = (
        SPECIES.replace("=== animals/fennel", f"{diary}\n=== animals/fennel") + DIARY + DIARY.replace("flint", "basalt")
    )
    collection = of(
        "dam: juniper; sire: flint; laid: 2025-05-01", "dam: juniper; sire: flint; paired: 2026-03-20", species=species
    )
    assert collection.starts_of("0") == {
        Start.OVULATED: day("2025-04-01"), Start.SHED: day("2025-04-12"), Start.LAID: day("2025-05-01"),
    }  # fmt: skip
    assert collection.starts_of("1") == {
        Start.PAIRED: day("2026-03-20"), Start.COPULATION: day("2026-03-30"), Start.OVULATED: day("2026-04-04"),
    }  # fmt: skip
    assert collection.published.starts_of("1") == {Start.PAIRED: day("2026-03-20")}
