"""Each figure of a plan is told with where it comes from, and with what is taken where nobody wrote it."""

from fractions import Fraction

import pytest
from helpers.from_text import bound

from sitegen.content.breeding_years import BreedingYear
from sitegen.content.species import FIGURES, LitterSize
from sitegen.genetics.loci import Sex
from sitegen.plans.assumed import Figure, Granted, Known, taken_for_granted

LINES = {
    "breeding_season": "breeding_season: {paired: October, born: May}",
    "takes": "takes: 3/4",
    "rest": "rest: 2",
    "rest_after_failure": "rest_after_failure: 1",
    "litters_a_year": "litters_a_year: 3",
    "litter_size": "litter_size: {low: 2, usual: 3, high: 5}",
    "breeding_age": "breeding_age: {female: 3 years}",
}
NOTHING = {
    "takes": Figure(Fraction(1), Known.TAKEN),
    "litters_a_year": Figure(1, Known.TAKEN),
    "litter_size": Figure(LitterSize(4, 10, 20), Known.TAKEN),
    "breeding_season": Figure(BreedingYear(3, 7, assumed=True), Known.TAKEN),
    "rest": Figure(0, Known.TAKEN),
    "rest_after_failure": Figure(0, Known.TAKEN),
    "breeding_age": Figure({}, Known.TAKEN),
}
WRITTEN = {
    "breeding_season": BreedingYear(10, 5),
    "takes": Fraction(3, 4),
    "rest": 2,
    "rest_after_failure": 1,
    "litters_a_year": 3,
    "litter_size": LitterSize(2, 3, 5),
    "breeding_age": {Sex.FEMALE: 36},
}


def granted(species: str, more: str = "") -> Granted:
    collection = bound(f"=== species/s.yaml\n{species}\nloci: {{}}\n{more}")
    return taken_for_granted(collection.species["s"], collection, collection.projects.get("p"))


def test_what_nobody_wrote_is_taken() -> None:
    assert granted("name: s") == NOTHING


@pytest.mark.parametrize("key", LINES)
@pytest.mark.parametrize("source", ["", "Somebody 2015"])
def test_a_written_figure_has_its_source_and_changes_no_other(key: str, source: str) -> None:
    sources = f"sources: {{{key}: {source}}}" if source else ""
    found = granted(f"{LINES[key]}\n{sources}")
    assert found == {**NOTHING, key: Figure(WRITTEN[key], Known.WRITTEN, source)}


def test_every_figure_that_plans_use_is_one_that_may_have_a_source() -> None:
    """A weight is no part of a plan's sum."""
    assert set(FIGURES) - {"breeding_weight"} == set(LINES) == set(NOTHING)


def test_months_are_those_of_the_litters_on_record_where_the_species_file_has_none() -> None:
    litters = "=== litters/a/litter.yaml\nspecies: s\ndam: mum\npaired: 2024-05-02\nborn: 2024-08-01\n"
    mum = "=== animals/mum/animal.yaml\nspecies: s\nsex: female\n"
    assert granted("name: s", mum + litters)["breeding_season"] == Figure(BreedingYear(5, 8), Known.LITTERS)
    written = granted(LINES["breeding_season"], mum + litters)
    assert written["breeding_season"] == Figure(BreedingYear(10, 5), Known.WRITTEN)


def test_one_month_of_two_is_still_taken() -> None:
    litters = "=== litters/a/litter.yaml\nspecies: s\ndam: mum\nborn: 2024-08-01\n"
    mum = "=== animals/mum/animal.yaml\nspecies: s\nsex: female\n"
    assert granted("name: s", mum + litters)["breeding_season"] == Figure(BreedingYear(3, 8, assumed=True), Known.TAKEN)


@pytest.mark.parametrize("rest", ["rest: 2\nsources: {rest: Somebody 2015}", "name: s"])
def test_a_project_that_asks_for_another_rest_goes_before_the_species(rest: str) -> None:
    project = "=== projects/p/project.yaml\nspecies: s\nrest: 0\ngoal: {shows: [a]}\n"
    species = f"{rest}\nloci: {{a: {{inheritance: recessive}}}}"
    collection = bound(f"=== species/s.yaml\n{species}\n{project}")
    found = taken_for_granted(collection.species["s"], collection, collection.projects["p"])
    assert found["rest"] == Figure(0, Known.PROJECT)
