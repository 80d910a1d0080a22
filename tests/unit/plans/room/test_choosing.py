"""Choices that are as good: the smallest is told, and what is left out adds nothing together."""

from fractions import Fraction

import pytest
from helpers.made_rooms import AS_OF, SPECIES, asked_of, goal_of, wishes_of

from sitegen.plans.room.choosing import NOBODY, aligned, made, without
from sitegen.plans.room.plan import plan_room

P = goal_of("P", "amel", count=2)
"""The sire is one already."""


def test_what_is_left_out_leaves_its_place_and_another_pairing_takes_it() -> None:
    best = ((0, 5), (1, 6), (2, 5))
    less = without(best, 1)
    assert less == ((0, 5), NOBODY, (2, 5))
    assert made(less) == ((0, 5), (2, 5))
    assert aligned(made(best), less) == best
    assert aligned(((3, 6), (2, 5), (0, 5)), less) == ((0, 5), (3, 6), (2, 5))
    assert aligned(((0, 5),), best) == ((0, 5), NOBODY, NOBODY)


def test_a_pairing_that_adds_nothing_rests() -> None:
    """Sage's young come a generation too late, and she carries nothing."""
    asked = asked_of("fern f shows: [amel]", "sage f", "clove m shows: [amel]", "thyme m")
    plan = plan_room(asked, SPECIES, wishes_of(goal_of("P", "amel", count=3), last=2026, litters=2), AS_OF, effort=0.5)
    assert [each.pair for each in plan.pairings] == [("fern", "clove")]
    assert plan.resting == ("sage",)


def test_several_that_add_little_each_and_something_together_stay() -> None:
    """Four dams, of which any one can be left out for less than 1 in 100, and all of them not."""
    dams = [f"{name} f stated: {{amel: certain}}" for name in ("fern", "sage", "rue", "dill")]
    asked = asked_of(*dams, "clove m shows: [amel]", species="litter_size: {low: 4, usual: 4, high: 4}\ntakes: 1\n")
    plan = plan_room(asked, SPECIES, wishes_of(P, last=2026, litters=4), AS_OF)
    whole, half = 1 - (1 / 2) ** 16, 1 - (1 / 2) ** 8
    assert whole - half < 0.01 < whole - (1 - (1 / 2) ** 4)
    assert len(plan.pairings) == 2
    assert plan.value == pytest.approx(half, abs=4 * plan.value_error)
    assert all(each.alone > 0.01 for each in plan.pairings)


def test_of_what_is_as_good_the_less_related_is_told() -> None:
    asked = asked_of(
        "fern f dam: sage; sire: thyme; shows: [amel]", "clove m dam: sage; sire: thyme; shows: [amel]",
        "oak m shows: [amel]",
        "sage f born: 2015-07-01; stated: {amel: certain}; died: 2025-01-01",
        "thyme m born: 2015-07-01; stated: {amel: certain}; died: 2025-01-01",
    )  # fmt: skip
    plan = plan_room(asked, SPECIES, wishes_of(goal_of("P", "amel", count=4), last=2026, keep=2), AS_OF, effort=0.5)
    assert [each.pair for each in plan.pairings] == [("fern", "oak")]
    assert any(each.pairings == (("fern", "clove"),) and abs(each.value) < 0.01 for each in plan.next_best)


def test_where_the_limit_shuts_out_a_better_choice_it_is_told() -> None:
    asked = asked_of(
        "fern f dam: sage; sire: thyme; shows: [amel]", "clove m dam: sage; sire: thyme; shows: [amel]",
        "oak m stated: {amel: 1/2}",
        "sage f born: 2015-07-01; stated: {amel: certain}; died: 2025-01-01",
        "thyme m born: 2015-07-01; stated: {amel: certain}; died: 2025-01-01",
        species="litter_size: {low: 2, usual: 2, high: 2}\ntakes: 1\n",
    )  # fmt: skip
    two = goal_of("P", "amel", count=3)
    plan = plan_room(asked, SPECIES, wishes_of(two, last=2026, relatedness=Fraction(1, 8)), AS_OF)
    assert [each.pair for each in plan.pairings] == [("fern", "oak")]
    assert plan.closer is not None
    assert plan.closer.pairings == (("fern", "clove"),)
    gain = 1 - 1 / 2 * (1 - (1 / 2) ** 2)
    assert plan.closer.value == pytest.approx(gain, abs=4 * plan.closer.value_error)
    free = plan_room(asked, SPECIES, wishes_of(two, last=2026), AS_OF)
    assert free.closer is None
    assert [each.pair for each in free.pairings] == [("fern", "clove")]
