"""The preview tells what is doubtful in plans, by the records as they are now."""

from pathlib import Path

from helpers.from_text import write_files

from sitegen.app.preview.workshop import Workshop
from sitegen.build import Order
from sitegen.findings import Kind

THEMES = Path(__file__).parents[4] / "themes"
FLINT = "animals/flint/animal.yaml"
RECORDS = """
=== site.yaml
name: A Collection
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
born: 2020-01-01
shows: [amel]
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2020-01-01
shows: [amel]
=== projects/p/project.yaml
species: corn-snake
goal: {shows: [amel]}
decisions: [{date: 2026-01-01, text: We begin.}]
stages:
  only: {season: 2027, dam: juniper, sire: flint}
"""


def kinds(workshop: Workshop) -> list[Kind]:
    good = workshop.state.good
    assert good is not None
    return [finding.kind for finding in good.findings]


def test_a_change_that_is_no_evidence_is_seen_in_the_plans(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", RECORDS)
    workshop = Workshop(Order(content, tmp_path / "output", THEMES, workers=1))
    workshop.remake()
    assert kinds(workshop) == []
    whole = (content / FLINT).read_text()
    (content / FLINT).write_text(whole + "offer: {state: sold, since: 2026-02-01}\n")
    workshop.remake()
    assert kinds(workshop) == [Kind.PLAN_PARENT_GONE]
    (content / FLINT).write_text(whole)
    workshop.remake()
    assert kinds(workshop) == []


def test_an_impossible_plan_is_told_and_the_last_good_site_stays(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", RECORDS)
    workshop = Workshop(Order(content, tmp_path / "output", THEMES, workers=1))
    before = workshop.remake().good
    (content / FLINT).write_text((content / FLINT).read_text().replace("shows: [amel]", "shows: []"))
    state = workshop.remake()
    assert [finding.kind for finding in state.trouble] == [Kind.PLAN_TOO_SHORT]
    assert state.good is before
