"""A goal that may come of several stages: nothing is said of its parents that holds for one of them alone."""

import datetime as dt
from fractions import Fraction

from helpers.from_text import CORN, bound
from helpers.outlooks import outlook

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.plans.roads.kinds import RoadOutlook

ANIMALS = "".join(
    f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nsex: {sex}\nborn: 2020-07-01\nlocality: {origin}\n"
    f"shows: []\nstated: {{amel: certain}}\n"
    for name, sex, origin in (("sage", "female", "Saltby"), ("cumin", "male", "Quill"), ("basalt", "male", "Saltby"))
)
PROJECT = """
=== projects/p/project.yaml
species: corn-snake
goal: {shows: [amel]}
horizon: 2034
stages:
  first: {season: 2027, dam: sage, sire: cumin, tries: 1, keep: {goal: {shows: [amel]}}, else: {d: {sex: female}}}
  second: {season: 2030, dam: first.d, sire: SIRE, keep: {goal: {shows: [amel]}}}
"""


def of(sire: str) -> RoadOutlook:
    collection = bound(CORN + ANIMALS + PROJECT.replace("SIRE", sire))
    return outlook(ask(gather(collection)), collection.projects["p"], dt.date(2026, 10, 31), draws=2000)


def test_the_closest_of_the_stages_that_bring_the_goal_is_told() -> None:
    back, away = of("cumin"), of("basalt")
    assert [each.id for each in back.bringing] == ["first", "second"]
    assert [each.inbreeding for each in back.bringing] == [0, Fraction(1, 4)]
    assert back.inbreeding == Fraction(1, 4)
    assert [each.inbreeding for each in away.bringing] == [0, 0]
    assert away.inbreeding == 0


def test_ancestry_is_told_where_all_goal_animals_have_the_same() -> None:
    assert of("basalt").ancestry == ()
    only = PROJECT.replace("second:", "# ").replace("SIRE", "")
    collection = bound(CORN + ANIMALS + only)
    road = outlook(ask(gather(collection)), collection.projects["p"], dt.date(2026, 10, 31), draws=200)
    assert [(each.origin, each.share) for each in road.ancestry] == [
        ("Quill", Fraction(1, 2)),
        ("Saltby", Fraction(1, 2)),
    ]
