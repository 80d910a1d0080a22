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
from sitegen.genetics.loci import WILD, Sex, SexSystem
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
        # Iverson (2019) Herpetol Conserv Biol 14:627-640, wild Nebraska: 8.0, 2 to 16. D1 13; D2 11.75.
        ("western-hognose", 2, 16, (8, 13, 11.75)),
        # Range: a general encyclopaedia, of the desert kingsnake. Averages: D1; D2.
        ("kingsnake", 5, 12, (11, 10.5)),
        # Range and 5.5: a published note on wild ones in Kansas. D1 7; D2 8.8.
        ("milk-snake", 4, 12, (5.5, 7, 8.8)),
        # Natusch and Lyons (2012) Aust J Zool 59:236-241, New Guinea: 17. Most: WIRES. Fewest, of the inland form:
        # Melbourne Museum, quoted by a naturalist. D1 21.6; D2 16.2.
        ("carpet-python", 10, 30, (17, 21.6, 16.2)),
        # Shine and others (1999) Biol Conserv 87:349-357, wild Sumatra: 24.2; neither D1's 47.5 nor D2's 76.5.
        # The range is common practice, no source.
        ("reticulated-python", 10, 45, (24.2,)),
        # Elmwood Park Zoo: two eggs.
        ("fat-tailed-gecko", 1, 2, (2,)),
        # Range: Cleveland Metroparks Zoo. Averages: D1; D2.
        ("bearded-dragon", 11, 25, (19, 20.8)),
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
    [("corn-snake", Fraction(1)), ("boa-constrictor", Fraction(1, 2)), ("kingsnake", Fraction(1))],
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


def test_clutches_of_pythons(species: dict[str, Species]) -> None:
    """Carpet pythons: 0.45 a year (D2); 17 eggs in New Guinea (Natusch and Lyons 2012). Reticulated ones: once every
    two to four years in the wild (Shine and others 1999)."""
    carpet, reticulated = species["carpet-python"], species["reticulated-python"]
    assert abs(Fraction(carpet.litters_a_year, 1 + carpet.rest) - Fraction(45, 100)) <= Fraction(1, 10)
    assert abs(carpet.litter_size.usual - 17) <= 1
    assert 2 <= Fraction(1 + reticulated.rest, reticulated.litters_a_year) <= 4


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


def test_months_of_the_kingsnake(species: dict[str, Species]) -> None:
    """A general encyclopaedia, of the desert kingsnake: mating March to June, laying late June to July, 60 days."""
    season = species["kingsnake"].breeding_season
    assert season is not None
    assert season.paired == _middle((3, 1), (6, 30), 0, 0)
    assert season.born == _middle((6, 20), (7, 31), 60, 60)


def test_months_of_the_western_hognose(species: dict[str, Species]) -> None:
    """Laying late June to early July: Iverson (2019), wild. 56 days in the egg: D1. Of the pairing nothing was read."""
    season = species["western-hognose"].breeding_season
    assert season is not None
    assert season.born == _middle((6, 20), (7, 10), 56, 56)


def test_months_of_the_carpet_python(species: dict[str, Species]) -> None:
    """Natusch and Lyons (2012): hatching in December and January in New Guinea; six months later in the north."""
    season = species["carpet-python"].breeding_season
    assert season is not None
    assert season.born in [(month + 6 - 1) % 12 + 1 for month in (12, 1)] == [6, 7]


def test_what_was_not_read_is_left_empty(species: dict[str, Species]) -> None:
    """No share of pairings that take was found for any of them; seasons and rest for few."""
    assert [name for name, each in species.items() if "takes" in each.written] == []
    assert [name for name, each in species.items() if "rest" in each.written] == [
        "boa-constrictor", "carpet-python", "corn-snake", "kingsnake", "reticulated-python",
    ]  # fmt: skip
    assert [name for name, each in species.items() if each.breeding_season is None] == [
        "bearded-dragon", "crested-gecko", "fat-tailed-gecko", "leopard-gecko", "milk-snake", "reticulated-python",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "youngest"),
    [
        ("corn-snake", 18 * DAYS_IN_A_MONTH),  # Forest Park Zoo 18 to 36 months; D1 600 days
        ("ball-python", 36 * DAYS_IN_A_MONTH),  # Brandywine Zoo three to four years; D1 five
        ("boa-constrictor", 36 * DAYS_IN_A_MONTH),  # D1 three years
        ("kenyan-sand-boa", 24 * DAYS_IN_A_MONTH),  # Oakland Zoo two to three years
        ("leopard-gecko", Fraction(400)),  # D1 400 days
        ("western-hognose", 24 * DAYS_IN_A_MONTH),  # D1 two years
        ("kingsnake", 36 * DAYS_IN_A_MONTH),  # D1 three years
        ("milk-snake", 39 * DAYS_IN_A_MONTH),  # D1 3.25 years
        ("reticulated-python", 36 * DAYS_IN_A_MONTH),  # D1 three years
        ("fat-tailed-gecko", 12 * DAYS_IN_A_MONTH),  # D2 one year
        ("bearded-dragon", 18 * DAYS_IN_A_MONTH),  # D1 a year and a half
    ],
)
def test_no_female_is_bred_before_she_is_mature(species: dict[str, Species], name: str, youngest: Fraction) -> None:
    assert species[name].breeding_age_months[Sex.FEMALE] * DAYS_IN_A_MONTH >= youngest


def test_weights_of_the_sand_boa(species: dict[str, Species]) -> None:
    """A general encyclopaedia on African sand boas: ready to breed at 400 to 900 g (female), 70 to 100 g (male)."""
    assert species["kenyan-sand-boa"].breeding_weight_grams == {Sex.FEMALE: 400, Sex.MALE: 70}


def test_how_sex_is_determined(species: dict[str, Species]) -> None:
    """Gamble and others (2017) Curr Biol 27:2148 for boas and pythons; ZW in colubrids by a review, PMC11721783.

    Warm eggs: Elmwood Park Zoo (fat-tailed gecko); Castelli and others (2021) Divers Distrib 27:427 (bearded dragon).
    """
    assert {name: each.genome.sex_system for name, each in species.items()} == {
        "ball-python": SexSystem.XY,
        "bearded-dragon": SexSystem.TEMPERATURE,
        "boa-constrictor": SexSystem.XY,
        "carpet-python": SexSystem.UNKNOWN,
        "corn-snake": SexSystem.ZW,
        "crested-gecko": SexSystem.UNKNOWN,
        "fat-tailed-gecko": SexSystem.TEMPERATURE,
        "kenyan-sand-boa": SexSystem.UNKNOWN,
        "kingsnake": SexSystem.ZW,
        "leopard-gecko": SexSystem.TEMPERATURE,
        "milk-snake": SexSystem.ZW,
        "reticulated-python": SexSystem.UNKNOWN,
        "western-hognose": SexSystem.ZW,
    }


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
        # D1: 56; a student summary of Animal Diversity Web: 52 to 64.
        ("western-hognose", Start.LAID, (56, 52, 64)),
        # D1: 59; a general encyclopaedia, of the desert kingsnake: about 60.
        ("kingsnake", Start.LAID, (59, 60)),
        # D1: 58; a published note on wild ones in Kansas: 42 to 65.
        ("milk-snake", Start.LAID, (58, 42, 65)),
        # D1: 64.5; WIRES, of the coastal form: 50 to 60.
        ("carpet-python", Start.LAID, (64.5, 50, 60)),
        # D1: 85; Louisville Zoo: about 100.
        ("reticulated-python", Start.LAID, (85, 100)),
        # D1: 72.
        ("fat-tailed-gecko", Start.LAID, (72,)),
        # D1: 75; Animal Diversity Web: 55 to 75 at 28.9 degrees C.
        ("bearded-dragon", Start.LAID, (75, 55)),
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


def test_patterns_of_a_kingsnake_are_one_series(species: dict[str, Species]) -> None:
    """Zweifel (1981) J Hered 72:238-244: ringed is recessive to striped, a third form is an allele of the same gene."""
    genome = species["kingsnake"].genome
    locus = genome.locus("pattern-series")
    assert [allele.id for allele in locus.alleles] == ["striped", "long-beach"]
    assert locus.shown[WILD, "striped"] == locus.shown["striped", "striped"] == "striped"
    assert (WILD, WILD) not in locus.shown
    assert [each.id for each in genome.loci for look in each.looks if "striped" in look.id] == ["pattern-series"] * 2


def test_scales_of_a_bearded_dragon(species: dict[str, Species]) -> None:
    """Di-Poï and Milinkovitch (2016) Sci Adv 2:e1600708: one copy and two copies of one gene look different."""
    locus = species["bearded-dragon"].genome.locus("leatherback")
    assert len({locus.shown.get(each, "") for each in locus.genotypes()}) == 3
