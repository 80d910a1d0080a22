"""What a plan tells, on rooms whose numbers are known by hand."""

from dataclasses import replace

import pytest
from helpers.made_rooms import AS_OF, SPECIES, asked_of, goal_of, wishes_of

from sitegen.findings import SitegenError
from sitegen.plans.room.kinds import LeftOut
from sitegen.plans.room.plan import plan_room

P = goal_of("P", "amel")


def test_one_pair_of_carriers_over_two_seasons() -> None:
    asked = asked_of("fern f stated: {amel: certain}", "clove m stated: {amel: certain}")
    plan = plan_room(asked, SPECIES, wishes_of(P, last=2027), AS_OF)
    first, both = 1 - (3 / 4) ** 2, 1 - (3 / 4) ** 4
    assert [(own.dam, own.sire) for own in plan.pairings] == [("fern", "clove")]
    told = {own.season: own for own in plan.goals["P"]}
    assert told[2026].kept == pytest.approx(first, abs=4 * told[2026].error)
    # Young of 2026 are grown in 2027, so a daughter may be paired as well; one litter a season either way.
    assert told[2027].kept >= both - 4 * told[2027].error
    assert told[2027].known == told[2027].kept
    assert plan.value == told[2027].kept
    assert plan.pairings[0].born["P"] == told[2026].born
    assert plan.pairings[0].young == 2


def test_a_gene_that_cannot_be_seen_is_kept_and_not_known() -> None:
    asked = asked_of("fern f shows: [amel]", "clove m", species="litter_size: {low: 3, usual: 3, high: 3}\n")
    plan = plan_room(asked, SPECIES, wishes_of(goal_of("P", carries=("amel",)), last=2026), AS_OF)
    assert plan.goals["P"][0].kept == 1  # fern herself
    assert plan.owned == ("P",)
    asked = asked_of("fern f stated: {amel: 50%}", "clove m", species="litter_size: {low: 3, usual: 3, high: 3}\n")
    plan = plan_room(asked, SPECIES, wishes_of(goal_of("P", carries=("amel",)), last=2026), AS_OF)
    told = plan.goals["P"][0]
    assert told.kept == pytest.approx(1 / 2, abs=4 * told.error)
    assert told.known == 0
    assert plan.owned == ()


def test_a_test_pairing_is_worth_what_later_seasons_gain() -> None:
    """Two dams that may carry, one try each season: whoever was paired without an amel young is doubted afterwards."""
    asked = asked_of(
        "fern f stated: {amel: 50%}", "sage f stated: {amel: 50%}", "clove m stated: {amel: certain}",
        species="litter_size: {low: 2, usual: 2, high: 2}\nbreeding_age: {female: 60 months, male: 60 months}\n",
    )  # fmt: skip
    plan = plan_room(asked, SPECIES, wishes_of(P, last=2027), AS_OF)
    one = 1 / 2 * (1 - (3 / 4) ** 2)
    # After a litter without amel the chance that she carries is 9/25; the other one has 1/2 still.
    informed, blind = one + (1 - one) * one, 1 / 2 * (1 - (3 / 4) ** 4)
    assert plan.value == pytest.approx(informed, abs=4 * plan.value_error)
    (pairing,) = plan.pairings
    (lesson,) = pairing.learns
    assert (lesson.animal, lesson.allele) == (pairing.dam, "amel")
    # Blind, the rule may repeat her or take the other by chance of the tie; it is at most what is lost by repeating.
    assert -4 * lesson.error <= lesson.worth <= informed - blind + 4 * lesson.error


def test_a_pairing_without_which_nothing_is_lost() -> None:
    asked = asked_of("fern f shows: [amel]", "sage f", "clove m shows: [amel]")
    plan = plan_room(asked, SPECIES, wishes_of(P, last=2026), AS_OF)
    assert plan.owned == ("P",)
    assert plan.value == 1
    assert all(each.alone == 0 and not each.serves for each in plan.pairings)


def test_nobody_too_young_too_light_resting_or_off_is_paired() -> None:
    species = (
        "litter_size: {low: 2, usual: 2, high: 2}\nbreeding_age: {female: 30 months, male: 8 months}\n"
        "breeding_weight: {female: 300 g}\nrest: 1\n"
    )
    litter = "=== litters/2025-basil/litter.yaml\ndam: basil\nsire: clove\nborn: 2025-07-10\n"
    asked = asked_of(
        "aster f shows: [amel]; born: 2025-07-01", "basil f shows: [amel]",
        "cress f shows: [amel]; weights: {2025-09-01: 250 g}",
        "dill f shows: [amel]",
        "elder f stated: {amel: certain}; weights: {2025-09-01: 310 g}",
        "clove m stated: {amel: certain}",
        species=species, others=litter,
    )  # fmt: skip
    wishes = wishes_of(goal_of("P", "amel", count=5), litters=9, last=2026, without=("dill",))
    plan = plan_room(asked, SPECIES, wishes, AS_OF)
    assert {each.dam for each in plan.pairings} == {"elder"}
    assert plan.resting == ()


def test_the_limit_of_relatedness_holds_and_is_told() -> None:
    asked = asked_of(
        "fern f dam: sage; sire: thyme", "clove m dam: sage; sire: thyme",
        "sage f born: 2015-07-01; stated: {amel: certain}; died: 2025-01-01",
        "thyme m born: 2015-07-01; stated: {amel: certain}; died: 2025-01-01",
    )  # fmt: skip
    free = plan_room(asked, SPECIES, wishes_of(P, last=2026), AS_OF, effort=0.1)
    assert free.pairings[0].kinship > 0
    limited = wishes_of(P, last=2026, relatedness=free.pairings[0].kinship / 2)
    plan = plan_room(asked, SPECIES, limited, AS_OF, effort=0.1)
    assert plan.pairings == ()
    assert [each.pairs for each in plan.not_tried if each.why is LeftOut.RELATED] == [(("fern", "clove"),)]


def test_places_are_hard() -> None:
    asked = asked_of("fern f shows: [amel]", "clove m stated: {amel: certain}")
    two = wishes_of(goal_of("P", "amel", count=3), keep=2, places=3)
    plan = plan_room(asked, SPECIES, two, AS_OF, effort=0.1)
    assert max(each.high for each in plan.places) == 3
    assert plan.short == 0
    assert plan.goals["P"][-1].kept == 0
    assert plan_room(asked, SPECIES, replace(two, places=1), AS_OF, effort=0.1).short == 1


def test_what_nobody_can_reach_is_told() -> None:
    asked = asked_of("fern f shows: [amel]", "clove m")
    plan = plan_room(asked, SPECIES, wishes_of(P, goal_of("Q", "anery")), AS_OF, effort=0.1)
    assert plan.unreachable == ("Q",)
    assert plan.value <= 1


def test_without_a_goal_there_is_nothing_to_plan() -> None:
    with pytest.raises(SitegenError, match="no goal"):
        plan_room(asked_of("fern f"), SPECIES, wishes_of(), AS_OF)


def test_ctrl_c_gives_the_best_so_far() -> None:
    told = []

    def stop(share: float) -> None:
        told.append(share)
        if len(told) == 1:
            raise KeyboardInterrupt

    asked = asked_of("fern f stated: {amel: certain}", "clove m stated: {amel: certain}")
    plan = plan_room(asked, SPECIES, wishes_of(P), AS_OF, effort=0.1, progress=stop)
    assert plan.stopped
    assert [own.pair for own in plan.pairings] == [("fern", "clove")]
