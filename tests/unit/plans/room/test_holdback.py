"""Which young to keep: on rooms small enough to know what each set of young is worth, and where places are short."""

import pytest
from helpers.litters_to_keep import asked_room, exact_values, room_with_litter
from helpers.made_rooms import AS_OF, SPECIES, asked_of, goal_of, wishes_of

from sitegen.content.wishes import Wishes
from sitegen.genetics.counts import litter_sizes
from sitegen.plans.room.holdback import holdback
from sitegen.plans.room.kinds import HoldbackPlan

LITTER = "2025-sage-thyme"
P = goal_of("P", "anery")
GROWN = "litter_size: {low: 3, usual: 4, high: 8}\nbreeding_age: {female: 8 months, male: 8 months}\n"
CARRY = "stated: {anery: certain}; born: 2015-07-01"
GONE = f"{CARRY}; died: 2025-10-01"


def plan_of(parents: str, *young: str, others: tuple[str, ...] = (), more: str = "", **limits: object) -> HoldbackPlan:
    """The plan for a litter of Sage and Thyme, of young as ``f anery`` in their order."""
    text = f"=== litters/{LITTER}/litter.yaml\nconfirmed: true\ndam: sage\nsire: thyme\nborn: 2025-07-10\nyoung:\n"
    for at, each in enumerate(young, 1):
        sex, *shows = each.split()
        word = {"f": "female", "m": "male"}.get(sex[0], "unknown")
        text += f'  "{at:02}": {{sex: {word}, shows: [{", ".join(shows)}]{", kept: true" * (sex[1:] == "k")}}}\n'
    asked = asked_of(f"sage f {parents}", f"thyme m {parents}", *others, species=GROWN, others=text + more)
    wishes: Wishes = wishes_of(P, **{"last": 2027, "keep": 2, **limits})
    return holdback(asked, LITTER, wishes, AS_OF)


def kept(plan: HoldbackPlan) -> list[str]:
    return sorted(each.animal[-2:] for each in plan.young if each.keep)


@pytest.mark.parametrize("number", [14, 30, 37, 44, 51, 56, 84, 88])
def test_the_set_that_is_kept_is_worth_next_to_what_the_best_one_is(number: int) -> None:
    records, wished, litter, young = room_with_litter(number)
    truth = exact_values(records, wished, young)
    asked, wishes = asked_room(records, wished)
    plan = holdback(asked, litter, wishes, AS_OF)
    own = tuple(each.animal for each in plan.young if each.keep)
    value = truth[tuple(sorted(own))]
    assert max(truth.values()) - value <= 0.01
    for each in plan.young:
        if each.keep:
            without = truth[tuple(sorted(set(own) - {each.animal}))]
            assert abs(float(value - without) - each.gain / plan.weights) <= 0.005 + 4 * each.error / plan.weights


def test_a_brother_and_a_sister_that_help_only_together_are_found() -> None:
    goal = plan_of(GONE, "f", "f", "m", "f anery", "m", last=2027)
    assert kept(goal) == ["04"]  # she is the goal; nothing can be added to that
    plan = plan_of(GONE, "f", "f", "m", "m", last=2027)
    assert kept(plan) == ["01", "03"]
    # Alone neither can be paired; each carries with 2/3, and the litter of 2027 has 3 to 8 young.
    none = sum(float(chance) * (3 / 4) ** n for n, chance in litter_sizes(3, 4, 8).items())
    for each in plan.young[:2]:
        assert abs(each.gain - 4 / 9 * (1 - none)) <= 4 * each.error
    assert plan.as_good == {f"{LITTER}/02": f"{LITTER}/01", f"{LITTER}/04": f"{LITTER}/03"}


def test_none_is_kept_for_nothing() -> None:
    nothing = plan_of(CARRY, "f", "m", "f", others=("clove m shows: [anery]",))
    assert kept(nothing) == []
    assert all(each.gain == 0 for each in nothing.young)
    assert nothing.as_good == {}


def test_where_places_are_short_a_young_is_kept_for_what_it_adds_to_what_it_takes() -> None:
    full = plan_of(CARRY, "f anery", "m", places=2)
    assert kept(full) == []
    assert full.free == 0
    gains = {each.animal[-2:]: each.gain for each in full.young}
    assert gains["01"] > 0  # told for the case that room is made
    one = plan_of(CARRY, "f", "m", "f anery", "m anery", places=3)
    assert len(kept(one)) == one.free == 1
    assert kept(one)[0] in {"03", "04"}
    # A young that only may carry is no hindrance: it makes room for the goal when that hatches.
    maybe = plan_of(CARRY, "f", "m", places=3)
    assert all(each.gain >= -2 * each.error for each in maybe.young)


def test_what_is_decided_or_cannot_be_planned_with_is_told() -> None:
    more = (
        "=== litters/2025-fern-thyme/litter.yaml\nconfirmed: true\ndam: fern\nsire: thyme\nborn: 2025-07-12\nyoung:\n"
        '  "01": {sex: male, shows: []}\n  "02": {sex: female, shows: [], kept: true}\n'
        '  "03": {sex: female, shows: [], offer: {state: for sale}}\n'
    )
    plan = plan_of(GONE, "f", "u", "mk", others=("fern f",), more=more)
    assert plan.unsexed == (f"{LITTER}/02",)
    assert plan.stays == (f"{LITTER}/03",)
    assert plan.undecided == {"2025-fern-thyme": 1}
    assert [each.animal for each in plan.young] == [f"{LITTER}/01"]
    assert kept(plan) == ["01"]  # the brother that stays is her mate
    assert SPECIES == plan.species


def test_what_young_carry_unseen_is_told_also_where_it_is_certain() -> None:
    plan = plan_of("shows: [anery]; born: 2015-07-01", "f anery")
    assert plan.young[0].carries == {}
    asked_young = plan_of(CARRY, "f", "m anery")
    assert [(each.animal[-2:], each.carries) for each in asked_young.young if each.animal.endswith("01")] == [
        ("01", {"anery": 2 / 3})
    ]
