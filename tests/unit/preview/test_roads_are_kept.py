"""The roads of projects in the preview: kept while nothing that they rest on changed, and not a day longer."""

import datetime as dt

from bound import CORN, bound

from sitegen.preview.evidence import proven
from sitegen.records.collection import Collection

AS_OF = dt.date(2026, 10, 1)
RECORDS = (
    CORN
    + """
=== animals/sage/animal.yaml
species: corn-snake
sex: female
born: 2020-07-01
shows: []
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2020-07-01
shows: [amel]
=== litters/next/litter.yaml
dam: sage
sire: flint
expected: 2027-07
=== projects/red/project.yaml
species: corn-snake
state: planned
goal: {shows: [amel]}
stages:
  first: {season: 2027, dam: sage, sire: flint, keep: {sons: {carries: [amel], sex: male}}}
  second: {season: 2032, dam: sage, sire: first.sons, keep: {goal: {shows: [amel]}}}
"""
)


def records(old: str = "", new: str = "") -> Collection:
    assert old in RECORDS
    return bound(RECORDS.replace(old, new) if old else RECORDS)


def test_a_road_is_kept_while_its_project_and_the_evidence_are_the_same() -> None:
    first = proven(records())
    before = first.roads(records(), AS_OF)["red"]
    named = records("sex: female\nborn", "sex: female\nname: Sage of the Moor\nborn")
    again = proven(named, first)
    assert again is first
    assert again.roads(named, AS_OF)["red"] is before


def test_a_changed_plan_day_or_awaited_litter_is_worked_out_anew() -> None:
    first = proven(records())
    first.roads(records(), AS_OF)["red"]
    for collection, as_of in (
        (records("expected: 2027-07", "expected: 2028-07"), AS_OF),
        (records("season: 2027, dam", "season: 2028, dam"), AS_OF),
        (records(), dt.date(2034, 1, 1)),
    ):
        now = proven(collection, first)
        assert now is first
        assert now.roads(collection, as_of)["red"] == proven(collection).roads(collection, as_of)["red"]
        assert now.roads(collection, as_of)["red"] != first.roads(records(), AS_OF)["red"]
