"""When a goal is reached, worked out by hand."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.by_hand import allele as named
from helpers.by_hand import animal, asked_of, dominant, keep, litter, locus, project, recessive, snake, stage

from sitegen.content.animals import Animal
from sitegen.content.projects import Project
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex, SexSystem
from sitegen.plans.roads.courses import Course, Roads
from sitegen.plans.roads.kinds import StageState, Waits
from sitegen.plans.roads.outlook import outlook

TODAY = dt.date(2026, 1, 1)
HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)


def dam(name: str = "mum", **more: object) -> Animal:
    return animal(name, sex=Sex.FEMALE, born="2015-07-01", **more)  # type: ignore[arg-type]


def sire(name: str = "dad", **more: object) -> Animal:
    return animal(name, sex=Sex.MALE, born="2015-07-01", **more)  # type: ignore[arg-type]


def course(own: Project, *records: object, **more: int) -> Course:
    asked = asked_of(*records)
    return Roads(asked, own.species).course(own, TODAY, **more)  # type: ignore[arg-type]


def by(found: Course) -> dict[int, Fraction]:
    return {each.season: each.by for each in found.by_season}


def near(one: Fraction, other: Fraction) -> bool:
    return abs(one - other) < Fraction(1, 10**13)


SIBLINGS = project(
    stage("1", 2026, "mum", "dad", keep("d", sex="female"), keep("s", sex="male")),
    stage("2", 2027, "1.d", "1.s", keep("goal", "amel")),
    shows="amel",
)


def test_a_visual_and_a_plain_one_then_siblings() -> None:
    # Every young of the first pairing carries amel; of n young of theirs none shows it with (3/4)^n. Litters of 4.
    # First stage: 4 young, at least one of each sex: 1 - 2/16 = 7/8 in the first season.
    own = snake(recessive("amel"), sizes=(4, 4, 4), grown={"female": 2, "male": 1})
    found = course(SIBLINGS, own, dam(shows="amel"), sire(shows=""), horizon=2029)
    hit = 1 - Fraction(3, 4) ** 4
    at_once = 1 - 2 * HALF**4
    # The others have one sex only; young of the missing sex come with 15/16 in the next season. A dam of 2026 is of
    # age in 2028, and so is a sire of 2027; a dam of 2027 breeds first in 2029.
    sire_missing = HALF**4
    assert by(found)[2027] == 0
    second = (at_once + sire_missing * (1 - HALF**4)) * hit
    assert near(by(found)[2028], second)
    missing = (at_once + sire_missing * (1 - HALF**4)) * (1 - hit)
    dam_missing = HALF**4 * (1 - HALF**4) + sire_missing * HALF**4 * (1 - HALF**4)
    assert near(by(found)[2029], second + missing * hit + dam_missing * hit)
    assert found.median == 2028
    assert found.ever == 1
    assert found.method.runs == 0


def test_the_numbers_of_the_two_stages() -> None:
    own = snake(recessive("amel"), sizes=(4, 4, 4), grown={"female": 2, "male": 1})
    asked = asked_of(own, dam(shows="amel"), sire(shows=""))
    first, second = outlook(asked, SIBLINGS, TODAY).stages
    assert [each.looks_right for each in first.holdbacks] == [HALF, HALF]
    assert first.goal_each == 0
    assert (first.earliest, first.waits, first.state) == (2026, Waits.PLAN, StageState.NEXT)
    (goal,) = second.holdbacks
    assert second.goal_each == goal.looks_right == QUARTER
    assert goal.expected == 1
    assert goal.in_one_litter == 1 - Fraction(3, 4) ** 4
    # published-checks, at least one of 1/4: 3 young give 50 in 100, 9 give 90.
    assert [each.n_young for each in goal.needed] == [3, 9]
    assert {row.looks: row.chance for row in second.looks} == {(): Fraction(3, 4), ("amel",): QUARTER}
    assert second.looks[0].carries == {"amel": Fraction(2, 3)}
    assert second.inbreeding == QUARTER
    assert (second.earliest, second.waits, second.waits_for) == (2028, Waits.DAM_AGE, "1.d")


def test_a_certain_goal_is_said_to_be_certain() -> None:
    own = snake(recessive("amel"), sizes=(2, 4, 7))
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2028)
    found = course(road, own, dam(shows="amel"), sire(shows="amel"))
    assert by(found) == {2026: 1, 2027: 1, 2028: 1}
    assert found.ever == 1
    assert (found.median, found.litters, found.kept) == (2026, 1, 1)


def test_what_is_nearly_certain_is_never_said_to_be_certain() -> None:
    # 100 litters of 30: (1/2)^3000 is left, less than any floating-point number.
    own = snake(recessive("amel"), sizes=(30, 30, 30))
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2125)
    for states in (30_000, 0):
        found = course(road, own, dam(shows="amel"), sire(stated={"amel": "certain"}), states=states)
        assert 1 - Fraction(1, 10**300) < found.by_season[-1].by < 1
        assert found.ever == 1


def test_what_cannot_be_is_zero_and_not_a_rounding_error() -> None:
    own = snake(recessive("a"), recessive("b"), recessive("c"), sizes=(3, 5, 9), takes=Fraction(9, 10), rest=1)
    road = project(
        stage("1", 2026, "mum", "dad", keep("d", sex="female"), keep("s", sex="male")),
        stage("2", 2027, "1.d", "1.s"),
        shows="a c", horizon=2035,
    )  # fmt: skip
    stated = {"a": "66%", "b": "50%"}
    for states in (30_000, 0):
        found = course(road, own, dam(stated=stated), sire(stated=stated), states=states)
        assert {each.by for each in found.by_season} == {0}
        assert found.ever == 0
        assert found.median is None


def test_the_doubt_of_a_parent_is_the_ceiling() -> None:
    # The dam carries with 2/3; a litter has 3 young. Not (1 - (1 - 1/3)^3) but 2/3 of (1 - (1/2)^3).
    own = snake(recessive("amel"), sizes=(3, 3, 3))
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2027)
    found = course(road, own, dam(shows="", stated={"amel": "66%"}), sire(shows="amel"))
    assert near(by(found)[2026], Fraction(2, 3) * (1 - HALF**3))
    assert near(by(found)[2027], Fraction(2, 3) * (1 - HALF**6))
    assert near(found.ever, Fraction(2, 3))


def test_littermates_share_their_parents_doubt() -> None:
    # Two plain young of a dam that carries with 1/2 and a known carrier: their doubt is their dam's.
    own = snake(recessive("amel"), sizes=(1, 1, 1))
    records = (
        own,
        dam(shows="", stated={"amel": "50%"}),
        sire(shows="", stated={"amel": "certain"}),
        litter("x", "mum", "dad", {"f": {"sex": Sex.FEMALE, "shows": ""}, "m": {"sex": Sex.MALE, "shows": ""}},
               born="2020-07-01"),
    )  # fmt: skip
    road = project(stage("1", 2026, "x/f", "x/m"), shows="amel", horizon=2026)
    wild, het = HALF, HALF * Fraction(3, 4) ** 2
    both = (wild * QUARTER + het * Fraction(2, 3) ** 2) / (wild + het)
    assert near(by(course(road, *records))[2026], both * QUARTER)


def test_three_genes_from_two_that_carry_all() -> None:
    own = snake(recessive("a"), recessive("b"), recessive("c"), sizes=(1, 1, 1))
    all_three = {"a": "certain", "b": "certain", "c": "certain"}
    road = project(stage("1", 2026, "mum", "dad"), shows="a b c", horizon=2027)
    asked = asked_of(own, dam(stated=all_three), sire(stated=all_three))
    found = outlook(asked, road, TODAY)
    assert found.stages[0].goal_each == Fraction(1, 64)
    assert near(found.by_season[0].by, Fraction(1, 64))
    assert near(found.by_season[1].by, 1 - Fraction(63, 64) ** 2)


def test_a_back_cross_of_a_son() -> None:
    # Amelanistic dam, plain sire; the son carries; back to his dam half the young show it. Inbreeding 1/4.
    own = snake(recessive("amel"), sizes=(2, 2, 2))
    road = project(
        stage("1", 2026, "mum", "dad", keep("s", carries="amel", sex="male")),
        stage("2", 2027, "mum", "1.s"),
        shows="amel", horizon=2027,
    )  # fmt: skip
    asked = asked_of(own, dam(shows="amel"), sire(shows=""))
    found = outlook(asked, road, TODAY)
    assert found.stages[1].goal_each == HALF
    assert found.stages[1].inbreeding == found.inbreeding == QUARTER
    assert near(found.by_season[-1].by, (1 - QUARTER) * (1 - QUARTER))
    assert found.stages[0].holdbacks[0].carries == 1


def test_what_cannot_be_seen_is_not_selected() -> None:
    # Carriers of both sides: a plain young carries with 2/3; the road goes on with it whatever it is.
    own = snake(recessive("amel"), sizes=(1, 1, 1))
    road = project(
        stage("1", 2026, "mum", "dad", keep("d", carries="amel", sex="female")),
        stage("2", 2027, "1.d", "visual"),
        shows="amel", horizon=2030,
    )  # fmt: skip
    carrier = {"amel": "certain"}
    found = course(road, own, dam(stated=carrier), sire(stated=carrier), sire("visual", shows="amel"))
    # 2026: the goal itself with 1/4; else a daughter with 1/2, that carries with 2/3.
    assert near(by(found)[2026], QUARTER)
    # 2027: after a son once more the goal itself with 1/4; from a daughter and the visual sire 2/3 of 1/2.
    daughter = son = Fraction(3, 4) * HALF
    assert near(by(found)[2027], QUARTER + son * QUARTER + daughter * Fraction(2, 3) * HALF)
    assert found.ever < 1
    assert found.by_season[-1].by < found.ever


def test_several_sires_take_turns() -> None:
    # Two kept sons, one carrying and one not, by what they show: the dam gets one in the first season, the other then.
    own = snake(dominant("tess"), recessive("amel"), sizes=(1, 1, 1))
    tried = stage("1", 2026, "mum", "x.m")
    litters = stage("x", 2020, "old", "dad", keep("m", animals=("yes", "no"), sex="male"))
    road = project(litters, tried, shows="amel", horizon=2029)
    found = course(
        road, own, dam(shows="amel"), dam("old"), sire(), sire("yes", shows="amel"), sire("no", shows=""),
    )  # fmt: skip
    assert by(found)[2026] == 1
    swapped = project(
        stage("x", 2020, "old", "dad", keep("m", animals=("no", "yes"), sex="male")), tried, shows="amel", horizon=2029
    )
    found = course(
        swapped, own, dam(shows="amel"), dam("old"), sire(), sire("yes", shows="amel"), sire("no", shows=""),
    )  # fmt: skip
    assert by(found) == {2026: 0, 2027: 1, 2028: 1, 2029: 1}


@pytest.mark.parametrize(("rest", "seasons"), [(0, {2026, 2027, 2028}), (1, {2026, 2028}), (2, {2026})])
def test_a_dam_rests_after_a_litter(rest: int, seasons: set[int]) -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1), rest=rest)
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2028)
    found = course(road, own, dam(shows="amel"), sire(stated={"amel": "certain"}))
    assert {each.season for each in found.by_season if each.then} == seasons


def test_a_project_may_have_its_own_rest() -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1), rest=0)
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2028, rest=1)
    found = course(road, own, dam(shows="amel"), sire(stated={"amel": "certain"}))
    assert {each.season for each in found.by_season if each.then} == {2026, 2028}


def test_a_pairing_that_does_not_take_is_tried_again_without_rest() -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1), rest=1, takes=HALF)
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2027)
    found = course(road, own, dam(shows="amel"), sire(shows="amel"))
    assert by(found) == {2026: HALF, 2027: HALF + QUARTER}
    assert found.litters == HALF + QUARTER


def test_tries_end_a_stage() -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1))
    road = project(stage("1", 2026, "mum", "dad", tries=2), shows="amel", horizon=2030)
    found = course(road, own, dam(shows="amel"), sire(stated={"amel": "certain"}))
    assert {each.season for each in found.by_season if each.then} == {2026, 2027}
    assert near(found.ever, Fraction(3, 4))
    used_up = project(stage("1", 2026, "mum", "dad", tries=0), shows="amel", horizon=2030)
    stage_told = outlook(asked_of(own, dam(), sire()), used_up, TODAY).stages[0]
    assert (stage_told.earliest, stage_told.waits) == (None, Waits.NEVER)


def test_sex_linked_goals_wait_for_the_right_sex() -> None:
    # ZW: a visual sire gives visual daughters only; a dam that shows it has one copy and gives carriers for sons.
    banded = locus("banded", named("banded"), sex_system=SexSystem.ZW, sex_linked=True)
    own = snake(banded, sizes=(2, 2, 2), sexes=SexSystem.ZW)
    road = project(
        stage("1", 2026, "mum", "dad", keep("s", sex="male")),
        stage("2", 2027, "mum", "1.s", keep("s", "banded", sex="male")),
        shows="banded", horizon=2027,
    )  # fmt: skip
    asked = asked_of(own, dam(shows="banded"), sire(shows=""))
    first, second = outlook(asked, road, TODAY).stages
    # dam Z(b)W, sire ZZ: sons Z(b)Z, daughters ZW plain.
    assert first.goal_each == 0
    assert first.holdbacks[0].looks_right == HALF
    # son Z(b)Z to Z(b)W: half of the sons have two, half of the daughters show it.
    assert second.goal_each == HALF
    assert second.holdbacks[0].looks_right == QUARTER


def test_a_hidden_look_is_not_selected_and_a_hiding_one_is_not_kept() -> None:
    own = snake(recessive("amel"), recessive("hypo", hidden_by=("amel",)), sizes=(4, 4, 4))
    both = {"amel": "certain", "hypo": "certain"}
    asked = asked_of(own, dam(stated=both), sire(stated=both))
    kept = stage("1", 2026, "mum", "dad", keep("pair", "amel hypo"), keep("plain", "hypo"))
    pair, plain = outlook(asked, project(kept, shows="amel hypo", horizon=2026), TODAY).stages[0].holdbacks
    assert (pair.looks_right, pair.unseen, pair.carries) == (QUARTER, ("hypo",), QUARTER)
    assert plain.looks_right == Fraction(3, 4) * QUARTER
    assert (plain.unseen, plain.carries) == ((), None)


def test_keep_so_many_that_one_carries() -> None:
    # 2/3 of the plain young of two carriers carry: 1 is enough for 50 in 100, 1 - (1/3)^3 > 9/10 needs 3.
    own = snake(recessive("amel"), sizes=(4, 4, 4))
    kept = stage("1", 2026, "mum", "dad", keep("d", carries="amel", sex="female"))
    carrier = {"amel": "certain"}
    told = outlook(asked_of(own, dam(stated=carrier), sire(shows="")), project(kept, shows="amel"), TODAY)
    (only,) = told.stages[0].holdbacks
    assert only.carries == HALF
    assert [each.n_young for each in only.to_keep] == [1, 4]
    doubtful = outlook(asked_of(own, dam(stated={"amel": "50%"}), sire(shows="")), project(kept, shows="amel"), TODAY)
    (only,) = doubtful.stages[0].holdbacks
    assert only.carries == QUARTER
    assert [each.n_young for each in only.to_keep] == [None, None]
    assert only.to_keep[1].never
    assert only.to_keep[1].ceiling == HALF


def test_nothing_is_predicted_of_a_goal_that_is_reached() -> None:
    own = snake(recessive("amel"))
    road = project(
        stage("1", 2024, "mum", "dad", keep("goal", "amel", animals=("best",))), shows="amel", state="reached"
    )
    asked = asked_of(own, dam(), sire(), animal("best", shows="amel", born="2024-07-09"))
    found = outlook(asked, road, TODAY)
    assert (found.reached, found.by_season, found.litters, found.kept) == (2024, (), 0, 0)
    assert found.stages[0].state is StageState.DONE


def test_a_dead_parent_ends_the_road() -> None:
    own = snake(recessive("amel"))
    gone = replace(dam(shows="amel"), died=PartialDate(2025, 3, 1))
    road = project(stage("1", 2026, "mum", "dad"), shows="amel")
    found = outlook(asked_of(own, gone, sire(shows="amel")), road, TODAY)
    assert (found.stages[0].earliest, found.stages[0].waits, found.stages[0].waits_for) == (None, Waits.NEVER, "mum")
    assert (found.by_season, found.ever) == ((), 0)
