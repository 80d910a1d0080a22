"""One animal more, and which young to keep."""

from helpers.made_rooms import AS_OF, SPECIES, asked_of, goal_of, wishes_of

from sitegen.plans.room.buying import buying
from sitegen.plans.room.holdback import holdback

P = goal_of("P", "amel")
LITTER = """=== litters/2025-sage-thyme/litter.yaml
dam: sage
sire: thyme
born: 2025-07-10
young:
  "01": {sex: female, shows: []}
  "02": {sex: female, shows: [anery]}
  "03": {sex: male, shows: []}
  "04": {sex: unknown, shows: []}
"""
YOUNG = "litter_size: {low: 3, usual: 4, high: 8}\nbreeding_age: {female: 8 months, male: 8 months}\n"


def test_the_mate_that_is_missing_adds_most() -> None:
    asked = asked_of("fern f stated: {amel: certain}", "clove m")
    plan = buying(asked, SPECIES, wishes_of(P, last=2026), AS_OF, effort=0.5)
    assert len(plan.purchases) <= 12
    best = {each.animal.animal.sex.value: each for each in reversed(plan.purchases)}
    # A visual animal of either sex is the goal at once; a male that carries for certain gives it by a litter of two.
    assert best["male"].gain == best["female"].gain == 1
    carrier = next(
        each for each in plan.purchases
        if each.animal.animal.sex == "male" and each.animal.animal.genes[0].stated
        and each.animal.animal.genes[0].stated[0].as_written == "certain"
    )  # fmt: skip
    assert abs(carrier.gain - (1 - (3 / 4) ** 2)) <= 4 * carrier.error
    assert carrier.goals["P"] == carrier.gain
    useless = [
        each for each in plan.purchases if each.animal.animal.sex == "female" and each.animal.animal.genes[0].stated
    ]
    assert all(each.gain == 0 for each in useless)


def test_the_young_that_lead_to_the_goal_are_kept() -> None:
    goal = goal_of("P", "anery")
    asked = asked_of(
        "sage f born: 2015-07-01; stated: {anery: certain}; died: 2025-10-01",
        "thyme m born: 2015-07-01; stated: {anery: certain}; died: 2025-10-01",
        "clove m stated: {anery: certain}", species=YOUNG, others=LITTER,
    )  # fmt: skip
    plan = holdback(asked, "2025-sage-thyme", wishes_of(goal, last=2027), AS_OF, effort=0.3)
    assert plan.young[0].animal == "2025-sage-thyme/02"
    assert [each.keep for each in plan.young] == [True, False, False]
    assert plan.young[0].gain > 0
    other = next(each for each in plan.young if each.animal.endswith("01"))
    assert other.carries == {"anery": 2 / 3}
    assert {each.animal[-2:] for each in plan.young} == {"01", "02", "03"}  # of 04 the sex is not known
