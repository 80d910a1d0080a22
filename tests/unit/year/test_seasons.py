"""A season beside what was to be expected: counts, windows, and what each season teaches, in data and in words."""

from fractions import Fraction

import pytest
from helpers.from_text import bound

from sitegen.content.collection import Collection
from sitegen.content.learned import WORTH, mean_size
from sitegen.content.species import LitterSize
from sitegen.words.speech import plain
from sitegen.words.year import (
    came_sentence,
    compared_sentences,
    dam_sentence,
    hatched_sentence,
    window_sentences,
)
from sitegen.year.due import young_due
from sitegen.year.seasons import Season, season_of

SPECIES = """
=== species/s.yaml
births: eggs
litter_size: {low: 4, usual: 12, high: 28}
takes: 9/10
days_from:
  paired: {usual: 45, spread: 9, source: "common practice, no source"}
  laid: {usual: 62, spread: 3, source: Forest Park Zoo}
loci: {}
=== animals/mum/animal.yaml
species: s
sex: female
"""


def clutch(year: int, came: str) -> str:
    return f"=== litters/{year}/litter.yaml\ndam: mum\npaired: {year}-03-10\nlaid: {year}-05-05\n{came}\n"


def hatched(year: int, young: int, day: str = "07-06") -> str:
    return clutch(year, f"born: {year}-{day}\neggs: {young + 2}\nothers: [{{count: {young}}}]")


YEARS = (
    hatched(2020, 10), hatched(2021, 12), clutch(2022, "failed: {date: 2022-06-01, what: slugs}"), hatched(2023, 8),
    hatched(2024, 9, "07-30"), clutch(2025, ""),
)  # fmt: skip


@pytest.fixture(scope="module")
def collection() -> Collection:
    return bound(SPECIES + "".join(YEARS))


def season(collection: Collection, year: int) -> Season:
    (found,) = season_of(collection, year)
    return found


def test_the_first_season_is_compared_with_the_species_file_alone(collection: Collection) -> None:
    found = season(collection, 2020)
    assert (found.took, found.young) == (Fraction(9, 10), mean_size(LitterSize(4, 12, 28)))
    assert found.species.learned == {}
    assert found.by_dam == {}
    assert [plain(each) for each in compared_sentences(found)] == [
        "Of 1 pairing that ended 1 gave young; 0.9 was to be expected.",
        "Those that came had 10 living young; about 15 were to be expected.",
        "1 of 1 clutch came within the expected days; about 80 in 100 do.",
    ]


def test_a_later_season_with_what_earlier_ones_taught(collection: Collection) -> None:
    found = season(collection, 2024)
    assert found.took == (WORTH * Fraction(9, 10) + 3) / (WORTH + 4)
    assert found.species.learned["takes"].count == 5
    assert (found.eggs, found.hatched) == (47, 39)
    assert found.came_within() == 0
    assert plain(hatched_sentence(found)) == "Of 47 eggs counted so far 39 gave living young."
    assert plain(dam_sentence("Mum", found.by_dam["mum"])) == (
        "Mum: 4 of 5 pairings took, with 9.8 living young on average."
    )


def test_what_failed_counts_among_the_pairings_and_has_no_size(collection: Collection) -> None:
    found = season(collection, 2022)
    assert [plain(each) for each in compared_sentences(found)] == [
        "Of 1 pairing that ended 0 gave young; 0.9 was to be expected."
    ]
    assert found.foretold == {}


@pytest.mark.parametrize(("year", "how"), [(2020, "within those days"), (2024, "late")])
def test_when_a_litter_came_beside_its_window(collection: Collection, year: int, how: str) -> None:
    found, litter = season(collection, year), collection.litters[str(year)]
    told = plain(came_sentence(litter.id, litter, found.foretold[litter.id], found.species, "en-GB"))
    assert told.startswith(f"{year}: hatched ")
    assert told.endswith(f"; it came {how}.")


def test_the_window_of_what_is_waited_for(collection: Collection) -> None:
    litter = collection.litters["2025"]
    window = young_due(litter, collection)
    assert window
    assert plain(window_sentences(window, collection.species["s"], "en-GB")) == (
        "Between 3 July and 9 July 2025, on the word of our own three clutches. About 80 in 100 clutches come within "
        "such days, counted from the laying on 5 May 2025."
    )


def test_the_window_without_own_litters_names_its_sources() -> None:
    first = bound(SPECIES + clutch(2025, "").replace("laid: 2025-05-05\n", ""))
    window = young_due(first.litters["2025"], first)
    assert window
    assert plain(window_sentences(window, first.species["s"], "en-GB")) == (
        "Between 8 June and 12 July 2025, by what is usual for this kind (breeders’ custom, no published source) "
        "(Forest Park Zoo). About 80 in 100 clutches come within such days, counted from the pairing on 10 March 2025."
    )
