"""Projects, their stages and dated notes."""

import pytest
from bound import CORN, bound, told

from sitegen.findings import Kind
from sitegen.records.projects import Goal
from sitegen.records.values import PartialDate

PAIR = """
=== animals/juniper/animal.yaml
species: corn-snake
=== animals/flint/animal.yaml
species: corn-snake
=== litters/2024-juniper-flint/litter.yaml
dam: juniper
sire: flint
young: {"06": }
"""
BY_NAME = """
=== projects/ladder/project.yaml
name: Ladder
species: corn-snake
state: Under way
started: 2023-11
goal: {shows: [snow, striped motley], carries: [hypo, snow]}
stages:
  first:
    season: 2024
    dam: juniper
    sire: flint
    litters: [2024-juniper-flint]
    keep:
      daughters: {shows: [], carries: [amel], count: 2, sex: female, animals: [2024-juniper-flint/06]}
  second: {season: 2027, dam: first.daughters, sire: flint, keep: {goal: }}
=== projects/ladder/updates/2024-07-20-two-reds.md
# Two reds

Both are out.
=== projects/ladder/updates/2023-12-01 plan.md
A plan without a heading.
"""


def test_stages_and_holdbacks_by_name() -> None:
    project = bound(CORN + PAIR + BY_NAME).projects["ladder"]
    assert (project.name, project.state, project.started) == ("Ladder", "under way", PartialDate(2023, 11))
    assert project.goal == Goal(("amel", "anery", "striped-motley"), ("hypo", "amel", "anery"))
    first, second = project.stages
    assert (first.id, first.season, first.litters) == ("first", 2024, ("2024-juniper-flint",))
    (kept,) = first.keep
    assert (kept.id, kept.carries, kept.count, kept.sex) == ("daughters", ("amel",), 2, "female")
    assert kept.animals == ("2024-juniper-flint/06",)
    assert second.dam == "first.daughters"
    assert [(entry.id, entry.count, entry.sex) for entry in second.keep] == [("goal", 1, "")]


def test_stages_and_holdbacks_as_lists() -> None:
    text = (
        "=== projects/ladder/project.yaml\nspecies: corn-snake\ngoal: {shows: [amel]}\nstages:\n"
        "  - {id: first, season: 2024, dam: juniper, sire: flint, keep: [{id: sons, sex: male}]}\n"
        "  - {season: 2026, dam: juniper, sire: first.sons}\n"
    )
    stages = bound(CORN + PAIR + text).projects["ladder"].stages
    assert [(stage.id, stage.sire) for stage in stages] == [("first", "flint"), ("2", "first.sons")]


def test_notes_stand_oldest_first_with_title_and_photos() -> None:
    photos = {"projects__ladder__updates": ("2024-07-20 a.jpg", "2020-01-01.jpg"), "projects__ladder": ("x.jpg",)}
    project = bound(CORN + PAIR + BY_NAME, **photos).projects["ladder"]
    assert [(str(u.date), u.title, u.text.strip()) for u in project.updates] == [
        ("2023-12-01", "Plan", "A plan without a heading."),
        ("2024-07-20", "Two reds", "Both are out."),
    ]
    assert [photo.path for photo in project.updates[1].photos] == ["projects/ladder/updates/2024-07-20 a.jpg"]
    assert [photo.path for photo in project.photos] == ["projects/ladder/x.jpg"]


@pytest.mark.parametrize(
    ("stages", "kind"),
    [
        ("{first: {season: 2024, dam: junipr, sire: flint}}", Kind.ANIMAL_UNKNOWN),
        ("{first: {season: 2024, dam: juniper, sire: zero.sons}}", Kind.STAGE_UNKNOWN),
        ("{first: {season: 2024, dam: juniper, sire: flint, litters: [2024]}}", Kind.LITTER_UNKNOWN),
        ("{first: {season: 2024, dam: juniper, sire: flint, keep: {a: {animals: [x]}}}}", Kind.ANIMAL_UNKNOWN),
        ("{first: {season: 2024, dam: juniper, sire: flint, keep: {a: {shows: [x]}}}}", Kind.GENE_UNKNOWN),
        ("{first: {season: 20, dam: juniper, sire: flint}}", Kind.VALUE_WRONG),
        ("{first: {dam: juniper, sire: flint}}", Kind.KEY_MISSING),
        ("{a b: {season: 2024, dam: juniper, sire: flint}}", Kind.ID_WRONG),
        ("first", Kind.VALUE_WRONG),
    ],
)
def test_a_fault_is_one_finding(stages: str, kind: Kind) -> None:
    text = f"=== projects/p/project.yaml\nspecies: corn-snake\ngoal: {{shows: [amel]}}\nstages: {stages}\n"
    assert [finding.kind for finding in told(CORN + PAIR + text)] == [kind]
