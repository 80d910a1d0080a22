"""The figures of the species files that come with the program, beside what was published; the source stands with each.

D1: Myhrvold and others (2015) Ecology 96:3109. D2: a compilation by Allen and others (2017, the year from memory).
Sheets of zoos and of state agencies, and general encyclopaedias, are named as such.
"""

import datetime as dt
from fractions import Fraction

import pytest

from sitegen.content.binding import bind_content
from sitegen.content.folder import Content
from sitegen.content.intervals import Start
from sitegen.content.species import Species
from sitegen.genetics.counts import litter_sizes
from sitegen.genetics.loci import Sex, SexSystem
from sitegen.keeper.new_records import carried
from sitegen.year.due import foretold

DAYS_IN_A_MONTH = Fraction(1461, 48)


@pytest.fixture(scope="module")
def species() -> dict[str, Species]:
    files = {f"species/{name}.yaml": text for name, text in carried().items()}
    collection, findings = bind_content(Content({"site.yaml": "name: Small\ncurrency: EUR\nformat: 2\n", **files}))
    assert findings == ()
    assert collection is not None
    return dict(collection.species)


@pytest.mark.parametrize(
    ("name", "fewest", "most", "averages"),
    [
        # Range: Louisiana Wildlife and Fisheries. Averages: D1; D2.
        ("corn-snake", 4, 28, (12, 17.8)),
        # Gorzula, Nsiah and Oduro (1997), Royal python in Ghana, CITES Secretariat: 8.1, 4 to 15. D1 7.35; D2 7.
        ("ball-python", 4, 15, (8.1, 7.35, 7)),
        # Range: a general encyclopaedia. Averages: D1 and that encyclopaedia; D2; AnAge.
        ("boa-constrictor", 10, 65, (25, 32.7, 35)),
        # Fewest: a general encyclopaedia, of the genus; the middle of its 5 to 12. Average: D1 and D2.
        # Most: common practice, no source.
        ("kenyan-sand-boa", 5, 20, (8.5, 12)),
        # Two eggs: D1. That one may fail is common practice, no source.
        ("leopard-gecko", 1, 2, (2,)),
        ("crested-gecko", 1, 2, (2,)),
    ],
)
def test_litter_sizes(
    species: dict[str, Species], name: str, fewest: int, most: int, averages: tuple[float, ...]
) -> None:
    size = species[name].litter_size
    assert (size.low, size.high) == (fewest, most)
    assert min(averages) - 0.5 <= size.usual <= max(averages) + 0.5
    # The triangle that is drawn from is no rosier than the largest printed average by more than an eighth.
    mean = sum(n * p for n, p in litter_sizes(size.low, size.usual, size.high).items())
    assert mean <= Fraction(9, 8) * Fraction(str(max(averages)))


@pytest.mark.parametrize(
    ("name", "a_year"),
    # D1: litters or clutches of a female in a year.
    [("corn-snake", Fraction(1)), ("boa-constrictor", Fraction(1, 2))],
)
def test_litters_a_year_and_rest_together_make_the_printed_number(
    species: dict[str, Species], name: str, a_year: Fraction
) -> None:
    found = species[name]
    assert Fraction(found.litters_a_year, 1 + found.rest) == a_year
    assert found.written["rest"] == found.written["litters_a_year"] == "Myhrvold and others 2015"


def test_clutches_of_a_crested_gecko(species: dict[str, Species]) -> None:
    """A general encyclopaedia: every four to six weeks for eight to ten months; the file has the fewest."""
    fewest = 8 * DAYS_IN_A_MONTH / (6 * 7)
    assert species["crested-gecko"].litters_a_year == round(fewest)


def _months(first: tuple[int, int], last: tuple[int, int], least: int, most: int) -> set[int]:
    """The months that lie from ``least`` days after one day of a year to ``most`` days after another."""
    start, end = dt.date(2025, *first) + dt.timedelta(least), dt.date(2025, *last) + dt.timedelta(most)
    return {(start + dt.timedelta(days)).month for days in range((end - start).days + 1)}


def _middle(first: tuple[int, int], last: tuple[int, int], least: int, most: int) -> int:
    start, end = dt.date(2025, *first) + dt.timedelta(least), dt.date(2025, *last) + dt.timedelta(most)
    return (start + (end - start) / 2).month


def test_months_of_the_corn_snake(species: dict[str, Species]) -> None:
    """Mating March to May, 60 to 65 days in the egg: Forest Park Zoo. Laid about a month after mating: Dudley Zoo."""
    season = species["corn-snake"].breeding_season
    assert season is not None
    assert season.paired == _middle((3, 1), (5, 31), 0, 0)
    assert season.born == _middle((3, 1), (5, 31), 30 + 60, 30 + 65)
    assert season.born in (7, 8, 9)  # Florida Museum, as quoted by another text: hatching July to September


def test_months_of_the_ball_python(species: dict[str, Species]) -> None:
    """Wild, West Africa: mating September to November, laying February to March, 80 to 105 days in the egg (Touroparc).

    In an incubator 67.8 days (D1).
    """
    season = species["ball-python"].breeding_season
    assert season is not None
    assert season.paired == _middle((9, 1), (11, 30), 0, 0)
    assert season.born == _middle((2, 1), (3, 31), 68, 105)
    assert season.born in _months((2, 1), (3, 31), 68, 68) & _months((2, 1), (3, 31), 80, 105)


def test_months_of_the_boa(species: dict[str, Species]) -> None:
    """Garcia and Almeida-Santos (2022) Zoo Biol 41:74-83, captive, Brazil: mating late March to late September, births
    December to March. North of the equator six months later."""
    season = species["boa-constrictor"].breeding_season
    assert season is not None
    shifted = [(month + 6 - 1) % 12 + 1 for month in (12, 1, 2, 3)]
    assert season.born in shifted == [6, 7, 8, 9]
    assert season.paired == (6 + 6 - 1) % 12 + 1  # the middle of late March to late September is late June


def test_what_was_not_read_is_left_empty(species: dict[str, Species]) -> None:
    """No share of pairings that take was found for any of them; seasons and rest for few."""
    assert [name for name, each in species.items() if "takes" in each.written] == []
    assert [name for name, each in species.items() if "rest" in each.written] == ["boa-constrictor", "corn-snake"]
    assert [name for name, each in species.items() if each.breeding_season is None] == [
        "crested-gecko", "leopard-gecko",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "youngest"),
    [
        ("corn-snake", 18 * DAYS_IN_A_MONTH),  # Forest Park Zoo 18 to 36 months; D1 600 days
        ("ball-python", 36 * DAYS_IN_A_MONTH),  # Brandywine Zoo three to four years; D1 five
        ("boa-constrictor", 36 * DAYS_IN_A_MONTH),  # D1 three years
        ("kenyan-sand-boa", 24 * DAYS_IN_A_MONTH),  # Oakland Zoo two to three years
        ("leopard-gecko", Fraction(400)),  # D1 400 days
    ],
)
def test_no_female_is_bred_before_she_is_mature(species: dict[str, Species], name: str, youngest: Fraction) -> None:
    assert species[name].breeding_age_months[Sex.FEMALE] * DAYS_IN_A_MONTH >= youngest


def test_weights_of_the_sand_boa(species: dict[str, Species]) -> None:
    """A general encyclopaedia on African sand boas: ready to breed at 400 to 900 g (female), 70 to 100 g (male)."""
    assert species["kenyan-sand-boa"].breeding_weight_grams == {Sex.FEMALE: 400, Sex.MALE: 70}


def test_how_sex_is_determined(species: dict[str, Species]) -> None:
    """Gamble and others (2017) Curr Biol 27:2148 for boas and pythons; ZW in colubrids by a review, PMC11721783."""
    shown = {
        "ball-python": SexSystem.XY,
        "boa-constrictor": SexSystem.XY,
        "corn-snake": SexSystem.ZW,
        "crested-gecko": SexSystem.UNKNOWN,
        "kenyan-sand-boa": SexSystem.UNKNOWN,
        "leopard-gecko": SexSystem.TEMPERATURE,
    }
    assert {name: species[name].genome.sex_system for name in shown} == shown


@pytest.mark.parametrize(
    ("name", "start", "printed"),
    [
        # Forest Park Zoo: 60 to 65 days; Dudley Zoo: 62 to 65; D1: 61.
        ("corn-snake", Start.LAID, (60, 65, 62, 65, 61)),
        # Dudley Zoo: about a month after mating; a nature centre's sheet of 2019: one to two months.
        ("corn-snake", Start.PAIRED, (30, 60)),
        # Oakland Zoo and a general encyclopaedia: four months.
        ("kenyan-sand-boa", Start.PAIRED, (122,)),
        # AnAge 125 days. D1 has 138.6, and neither says from when it counts.
        ("boa-constrictor", Start.OVULATED, (125, 138.6)),
        # Ross and Marzec (1990), from memory: 123 from the ovulation.
        ("boa-constrictor", Start.OVULATED, (123,)),
        # A general encyclopaedia: 100 to 120. Ross and Marzec (1990), from memory: 105.
        ("boa-constrictor", Start.SHED, (100, 120, 105)),
        # D1: 67.8.
        ("ball-python", Start.LAID, (67.8,)),
        # D1: 53; AnAge: 55.
        ("leopard-gecko", Start.LAID, (53, 55)),
        # D1: 65.5; a general encyclopaedia: 60 to 90.
        ("crested-gecko", Start.LAID, (65.5, 60, 90)),
    ],
)
def test_days_between_events(species: dict[str, Species], name: str, start: Start, printed: tuple[float, ...]) -> None:
    """The figure lies within two spreads of what is printed, and that is nothing to ask about."""
    interval = species[name].intervals[start]
    assert all(round(each) in interval.possible for each in printed)
    assert min(printed) - 2 * interval.spread <= interval.usual <= max(printed) + 2 * interval.spread
    assert interval.source


def test_incubation_of_a_corn_snake(species: dict[str, Species]) -> None:
    """Forest Park Zoo: 60 to 65 days. The middle of it, and a first window that holds it and not much more."""
    interval = species["corn-snake"].intervals[Start.LAID]
    first, last = foretold(interval, [], []).days()
    assert 60 <= interval.usual <= 65
    assert 57 <= first <= 60
    assert 65 <= last <= 68
