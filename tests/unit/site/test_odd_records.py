"""Records that hold next to nothing: every page says what is so, and denies nothing that nobody looked for."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.pages import ReadPage

from sitegen.build import Order, build

ODD = """
=== site.yaml
name: Odd records
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
  tessera: {name: tessera, inheritance: dominant}
  late: {name: latecoat, inheritance: recessive, visible_from: 18 months}
=== species/plain-snake.yaml
name: plain snake
loci: {}
=== species/late-snake.yaml
name: late snake
loci:
  late: {name: latecoat, inheritance: recessive, visible_from: 30 months}
=== animals/blank/animal.yaml
species: corn-snake
=== animals/unjudged/animal.yaml
{species: corn-snake, sex: male, shows: [], unsure: all}
=== animals/half-judged/animal.yaml
{species: corn-snake, shows: [], unsure: [amel]}
=== animals/normal/animal.yaml
{species: corn-snake, sex: female, born: 2020, shows: []}
=== animals/amelone/animal.yaml
{species: corn-snake, sex: male, shows: [amel]}
=== animals/dead/animal.yaml
{species: corn-snake, born: 2019-05-02, died: 2024-01-04}
=== animals/plain/animal.yaml
{species: plain-snake, shows: []}
=== animals/small/animal.yaml
{species: late-snake, born: 2025-08-01, shows: []}
=== litters/2023-lost/litter.yaml
{dam: normal, sire: amelone, laid: 2023-05-05, born: 2023-07-07, eggs: 10, infertile: 10}
=== litters/2024-bare/litter.yaml
{dam: normal}
=== litters/2024-sire/litter.yaml
{sire: amelone, born: 2024}
=== litters/2025-two/litter.yaml
dam: normal
sire: [amelone, unjudged]
born: 2025-07-01
young:
  "01": {}
  "02": {kept: true, died: 2025-09-09}
  "03": {kept: true, shows: []}
others:
  - {count: 2}
=== projects/empty/project.yaml
{name: Empty project, species: corn-snake, goal: {shows: [amel, tessera]}}
"""
GONE = """
=== site.yaml
name: Nobody left
=== species/corn-snake.yaml
{name: corn snake, loci: {}}
=== animals/dead/animal.yaml
{species: corn-snake, died: 2024-01-04}
"""


def text_of(folder: Path, files: str) -> Callable[[str], str]:
    report = build(Order(write_files(folder / "content", files), folder / "output", folder / "themes"))
    assert report.published is not None, [str(finding) for finding in report.findings]
    return lambda page: " ".join(ReadPage((folder / "output" / f"{page}.html").read_text("utf-8")).text.split())


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], str]:
    return text_of(tmp_path_factory.mktemp("odd"), ODD)


@pytest.mark.parametrize(
    ("page", "words"),
    [
        ("animals/blank", "Not described yet."),
        ("animals/unjudged", "Not judged yet."),
        ("animals/half-judged", "Looks normal, as far as it could be judged."),
        ("animals/normal", "Looks normal: none of the genes we work with shows."),
        ("animals/dead", "What it showed is not recorded."),
        ("animals/plain", "No gene is described for this species."),
        ("animals/small", "Too young to judge when we looked."),
        ("litters/2025-two/01", "Not described yet."),
        ("litters/2025-two/02", "What it showed is not recorded."),
        ("litters/2025-two/03", "Looks normal, as far as it could be judged."),
    ],
)
def test_what_it_shows_is_said_as_far_as_anybody_looked(told: Callable[[str], str], page: str, words: str) -> None:
    assert f"What shows {words}" in told(page)
    denials = re.findall(r"Looks normal[^.]*\.", told(page))
    assert set(denials) <= {words}


def test_nobody_who_died_stays_with_us(told: Callable[[str], str]) -> None:
    assert "stays with us" not in told("litters/2025-two/02")
    assert "stays with us" in told("litters/2025-two/03")
    assert told("litters/2025-two").count("stays with us") == 1


def test_the_pedigree_of_young_of_several_sires_names_them_all_in_one_place(told: Callable[[str], str]) -> None:
    page = told("litters/2025-two/01")
    assert "Possible sires amelone or unjudged" in page
    assert "Sire’s" not in page


def test_a_litter_says_no_more_than_its_record(told: Callable[[str], str]) -> None:
    assert "Young No living young recorded." in told("litters/2024-bare")
    assert "0 hatched alive" not in told("litters/2024-sire")
    assert "No living young recorded." in told("litters/2024-sire")
    assert "10 eggs, 10 infertile, 0 hatched alive" in told("litters/2023-lost")
    assert "Of these 0" not in told("litters/2023-lost")
    assert "Ended July 7, 2023" in told("litters/2023-lost")
    assert "normal and amelone 2023: ended" in told("journal")
    assert "hatched 2024" in told("litters")
    assert "2 more, not described yet." in told("litters/2025-two")
    ledger = told("litters")
    assert "dam not recorded" in ledger
    assert "with sire not recorded, corn snake" in ledger
    assert "Dam not recorded with amelone" in told("journal")


def test_a_goal_without_a_pairing_has_no_parents_to_be_related(told: Callable[[str], str]) -> None:
    assert "The parents of the goal animal" not in told("projects/empty")


def test_a_collection_of_which_nobody_is_left_is_not_called_unrecorded(tmp_path: Path) -> None:
    page = text_of(tmp_path, GONE)("collection")
    assert "No animal is kept here now." in page
    assert "No animal is recorded yet." not in page
