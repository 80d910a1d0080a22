"""Roads worked out by hand: what is born, kept and known by each season, and how stages end."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.by_hand import allele as named
from helpers.by_hand import animal, asked_of, dominant, keep, litter, locus, project, recessive, snake, stage
from helpers.drawn import near
from helpers.outlooks import outlook

from sitegen.content.animals import Animal
from sitegen.content.projects import Project
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Inheritance, Sex, SexSystem
from sitegen.plans.roads.kinds import Ending, RoadOutlook, StageState, Waits

TODAY = dt.date(2026, 1, 1)
ONE, HALF, QUARTER = Fraction(1), Fraction(1, 2), Fraction(1, 4)


def dam(name: str = "mum", **more: object) -> Animal:
    return animal(name, sex=Sex.FEMALE, born="2015-07-01", **more)  # type: ignore[arg-type]


def sire(name: str = "dad", **more: object) -> Animal:
    return animal(name, sex=Sex.MALE, born="2015-07-01", **more)  # type: ignore[arg-type]


def told(own: Project, *records: object) -> RoadOutlook:
    return outlook(asked_of(*records), own, TODAY)


def check(found: RoadOutlook, **chances: Mapping[int, Fraction]) -> None:
    """The exact chances by some seasons: ``kept={2027: ...}``."""
    for what, by_season in chances.items():
        shares = {each.season: getattr(each, what) for each in found.by_season}
        for season, exact in by_season.items():
            assert near(shares[season], exact, found.draws), (what, season, float(shares[season]), float(exact))


def seasons_that_bring(found: RoadOutlook) -> set[int]:
    """Those at whose end more plans have the goal than before."""
    before = Fraction(0)
    brought = set()
    for each in found.by_season:
        if each.kept > before:
            brought.add(each.season)
        before = each.kept
    return brought


SIBLINGS = project(
    stage("1", 2026, "mum", "dad", keep("d", sex="female"), keep("s", sex="male")),
    stage("2", 2027, "1.d", "1.s", keep("goal", "amel")),
    shows="amel", horizon=2029,
)  # fmt: skip


def test_a_visual_and_a_plain_one_then_siblings() -> None:
    # Every young of the first pairing carries amel; of n young of theirs none shows it with (3/4)^n. Litters of 4.
    # First stage: 4 young, at least one of each sex: 1 - 2/16 = 7/8 in the first season.
    own = snake(recessive("amel"), sizes=(4, 4, 4), grown={"female": 2, "male": 1})
    found = told(SIBLINGS, own, dam(shows="amel"), sire(shows=""))
    hit = 1 - Fraction(3, 4) ** 4
    at_once = 1 - 2 * HALF**4
    # The others have one sex only; young of the missing sex come with 15/16 in the next season. A dam of 2026 is of
    # age in 2028, and so is a sire of 2027; a dam of 2027 breeds first in 2029.
    sire_missing = HALF**4
    ready = at_once + sire_missing * (1 - HALF**4)
    late = HALF**4 * (1 - HALF**4) + sire_missing * HALF**4 * (1 - HALF**4)
    by_last = ready * (1 - (1 - hit) ** 2) + late * hit
    for what in ("born", "kept", "known"):
        check(found, **{what: {2026: Fraction(0), 2027: Fraction(0), 2028: ready * hit, 2029: by_last}})
    assert found.half_by == 2028
    first, second = found.stages
    assert near(first.bred[-1][1], ONE, found.draws)
    assert near(dict(second.bred)[2028], ready, found.draws)
    assert near(second.ended[Ending.GOAL], by_last, found.draws)
    assert Ending.STUCK not in {ending for ending, share in second.ended.items() if share}


def test_the_numbers_of_the_two_stages() -> None:
    own = snake(recessive("amel"), sizes=(4, 4, 4), grown={"female": 2, "male": 1})
    found = told(SIBLINGS, own, dam(shows="amel"), sire(shows=""))
    first, second = found.stages
    # Exact, since the parents are there.
    assert [(each.right, each.drawn, each.is_goal) for each in first.holdbacks] == [(HALF, 0, False)] * 2
    assert not first.can_be_goal
    assert (first.earliest, first.waits, first.state) == (2026, Waits.PLAN, StageState.NEXT)
    assert {row.looks: row.chance for row in first.looks} == {(): 1}
    # Drawn, since they are not; the young of one litter hang together, so the error is that of its litters at most.
    (goal,) = second.holdbacks
    assert goal.is_goal
    assert second.can_be_goal
    assert 0 < goal.drawn <= found.draws
    assert near(goal.right, QUARTER, goal.drawn)
    assert near(goal.expected / 4, QUARTER, goal.drawn)
    assert near(goal.in_one_litter, 1 - Fraction(3, 4) ** 4, goal.drawn)
    assert second.looks == ()
    assert second.inbreeding == QUARTER
    assert (second.earliest, second.waits, second.waits_for) == (2028, Waits.DAM_AGE, "1.d")


def test_what_a_season_brings() -> None:
    # Two litters of 4 in the second season: a daughter is kept of the first season with 15/16, and bred beside her dam.
    own = snake(recessive("amel"), sizes=(4, 4, 4))
    road = project(
        stage("1", 2026, "mum", "dad", keep("d", sex="female"), tries=1),
        stage("2", 2027, "mum", "dad", keep("x", sex="male"), tries=1),
        stage("3", 2027, "1.d", "dad", keep("goal", "amel"), tries=1),
        shows="amel", horizon=2027,
    )  # fmt: skip
    found = told(road, own, dam(shows=""), sire(shows=""))
    first, second = found.loads
    one = 1 - HALF**4
    assert (first.young.mean, first.young.low, first.young.high) == (4, 4, 4)
    assert near(first.kept.mean, one, found.draws)
    assert first.held == first.kept
    assert near(second.young.mean / 4 - 1, one, found.draws)
    assert (second.young.low, second.young.high) == (8, 8)
    assert near(second.kept.mean, one, found.draws)
    assert second.held.mean == first.held.mean + second.kept.mean


def test_a_certain_goal_is_reached_in_every_plan() -> None:
    own = snake(recessive("amel"), sizes=(2, 4, 7))
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2028)
    found = told(road, own, dam(shows="amel"), sire(shows="amel"))
    check(found, kept=dict.fromkeys((2026, 2027, 2028), ONE))
    assert (found.half_by, found.litters) == (2026, 1)
    assert found.error == 0
    # The road ends there: nothing more is born, one young is held.
    assert [each.young.mean for each in found.loads[1:]] == [0, 0]
    assert [each.held.mean for each in found.loads] == [1, 1, 1]


def test_what_cannot_be_is_in_no_plan() -> None:
    own = snake(recessive("a"), recessive("b"), recessive("c"), sizes=(3, 5, 9), takes=Fraction(9, 10), rest=1)
    road = project(
        stage("1", 2026, "mum", "dad", keep("d", sex="female"), keep("s", sex="male")),
        stage("2", 2027, "1.d", "1.s"),
        shows="a c", horizon=2035,
    )  # fmt: skip
    stated = {"a": "66%", "b": "50%"}
    found = told(road, own, dam(stated=stated), sire(stated=stated))
    assert {(each.born, each.kept, each.known) for each in found.by_season} == {(0, 0, 0)}
    assert found.half_by is None
    assert not any(each.can_be_goal for each in found.stages)


def test_the_doubt_of_a_parent_is_the_ceiling() -> None:
    # The dam carries with 2/3; a litter has 3 young. Not (1 - (1 - 1/3)^3) but 2/3 of (1 - (1/2)^3).
    own = snake(recessive("amel"), sizes=(3, 3, 3))
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2032)
    found = told(road, own, dam(shows="", stated={"amel": "66%"}), sire(shows="amel"))
    check(found, kept={year: Fraction(2, 3) * (1 - HALF ** (3 * (year - 2025))) for year in range(2026, 2033)})


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
    check(told(road, *records), kept={2026: both * QUARTER})


def test_three_genes_from_two_that_carry_all() -> None:
    own = snake(recessive("a"), recessive("b"), recessive("c"), sizes=(1, 1, 1))
    all_three = {"a": "certain", "b": "certain", "c": "certain"}
    road = project(stage("1", 2026, "mum", "dad", keep("goal", "a b c")), shows="a b c", horizon=2027)
    found = told(road, own, dam(stated=all_three), sire(stated=all_three))
    assert found.stages[0].holdbacks[0].right == Fraction(1, 64)
    check(found, kept={2026: Fraction(1, 64), 2027: 1 - Fraction(63, 64) ** 2})


def test_a_back_cross_of_a_son() -> None:
    # Amelanistic dam, plain sire; the son carries; back to his dam half the young show it. Inbreeding 1/4.
    own = snake(recessive("amel"), sizes=(2, 2, 2))
    road = project(
        stage("1", 2026, "mum", "dad", keep("s", carries="amel", sex="male")),
        stage("2", 2027, "mum", "1.s"),
        shows="amel", horizon=2027,
    )  # fmt: skip
    found = told(road, own, dam(shows="amel"), sire(shows=""))
    assert found.stages[1].inbreeding == found.inbreeding == QUARTER
    assert found.stages[0].holdbacks[0].carries == 1
    a_son, one = 1 - QUARTER, 1 - QUARTER
    check(found, kept={2026: Fraction(0), 2027: a_son * one})
    assert near(dict(found.stages[1].bred)[2027], a_son, found.draws)
    given = found.stages[1].kept_given_bred
    assert given is not None
    assert near(given, one, int(a_son * found.draws))


def test_what_cannot_be_seen_is_not_selected() -> None:
    # Carriers of both sides: any daughter is kept, whatever she is. An amelanistic son is born and not kept.
    own = snake(recessive("amel"), sizes=(1, 1, 1))
    road = project(
        stage("1", 2026, "mum", "dad", keep("d", carries="amel", sex="female")),
        stage("2", 2027, "1.d", "visual"),
        shows="amel", horizon=2027,
    )  # fmt: skip
    carrier = {"amel": "certain"}
    found = told(road, own, dam(stated=carrier), sire(stated=carrier), sire("visual", shows="amel"))
    # A daughter shows it herself with 1/4. If she does not, she carries with 2/3, and gives it with 1/2 if she does.
    # After a son the first stage is bred once more.
    plain = Fraction(3, 4)
    from_her = HALF * plain * Fraction(2, 3) * HALF
    after_a_plain_son = HALF * plain * QUARTER
    check(
        found,
        born={2026: QUARTER, 2027: QUARTER + from_her + after_a_plain_son},
        kept={2026: HALF * QUARTER, 2027: HALF * QUARTER + from_her + HALF * HALF * QUARTER},
    )  # fmt: skip


def test_several_sires_take_turns() -> None:
    # Two kept sons, one amelanistic and one not: the dam gets one in the first season, the other in the next.
    own = snake(dominant("tess"), recessive("amel"), sizes=(1, 1, 1))
    mum = dam(shows="amel tess", copies={"tess": ONE})
    records = (own, mum, dam("old"), sire(), sire("yes", shows="amel"), sire("no", shows=""))
    for order, season in ((("yes", "no"), 2026), (("no", "yes"), 2027)):
        road = project(
            stage("x", 2020, "old", "dad", keep("m", count=2, animals=order, sex="male")),
            stage("1", 2026, "mum", "x.m"),
            shows="amel tess", horizon=2029,
        )  # fmt: skip
        check(told(road, *records), kept={year: Fraction(year >= season) for year in range(2026, 2030)})


@pytest.mark.parametrize(("rest", "seasons"), [(0, {2026, 2027, 2028}), (1, {2026, 2028}), (2, {2026})])
def test_a_dam_rests_after_a_litter(rest: int, seasons: set[int]) -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1), rest=rest)
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2028)
    found = told(road, own, dam(shows="amel"), sire(stated={"amel": "certain"}))
    assert seasons_that_bring(found) == seasons
    check(found, kept={2028: 1 - HALF ** len(seasons)})


def test_a_project_may_have_its_own_rest() -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1), rest=0)
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2028, rest=1)
    found = told(road, own, dam(shows="amel"), sire(stated={"amel": "certain"}))
    assert seasons_that_bring(found) == {2026, 2028}


def test_a_pairing_that_does_not_take_is_tried_again_without_rest() -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1), rest=1, takes=HALF)
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2027)
    found = told(road, own, dam(shows="amel"), sire(shows="amel"))
    check(found, kept={2026: HALF, 2027: HALF + QUARTER})
    assert near(found.litters, HALF + QUARTER, found.draws)


def test_tries_end_a_stage() -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1))
    road = project(stage("1", 2026, "mum", "dad", tries=2), shows="amel", horizon=2030)
    found = told(road, own, dam(shows="amel"), sire(stated={"amel": "certain"}))
    assert seasons_that_bring(found) == {2026, 2027}
    (only,) = found.stages
    assert near(only.ended[Ending.GOAL], Fraction(3, 4), found.draws)
    assert only.ended[Ending.GOAL] + only.ended[Ending.STUCK] == 1
    used_up = project(stage("1", 2026, "mum", "dad", tries=0), shows="amel", horizon=2030)
    (only,) = told(used_up, own, dam(), sire()).stages
    assert (only.earliest, only.waits) == (None, Waits.NEVER)


@pytest.mark.parametrize(
    ("asked", "first", "waits"), [(90, 2026, Waits.PLAN), (100, 2026, Waits.PLAN), (101, 2027, Waits.READY)]
)
def test_a_dam_that_is_too_light_now_is_not_bred_in_the_next_season(asked: int, first: int, waits: Waits) -> None:
    own = replace(snake(recessive("amel"), sizes=(1, 1, 1)), breeding_weight_grams={Sex.FEMALE: asked})
    road = project(stage("1", 2026, "mum", "dad"), shows="amel", horizon=2027)
    found = told(road, own, dam(weighed="2025-12-01"), sire())  # by_hand weighs 100 g
    assert (found.stages[0].earliest, found.stages[0].waits) == (first, waits)
    assert dict(found.stages[0].bred)[2027] == 1
    assert dict(found.stages[0].bred).get(2026, 0) == (first == 2026)


def test_less_than_was_wanted_is_enough_to_go_on() -> None:
    # Two sons are wanted of one litter of 2: both with 1/4, one with 1/2, none with 1/4. All carry; back to their
    # visual dam half of the young show it.
    own = snake(recessive("amel"), sizes=(2, 2, 2))
    road = project(
        stage("1", 2026, "mum", "dad", keep("s", sex="male", count=2), tries=1),
        stage("2", 2027, "mum", "1.s", tries=1),
        shows="amel", horizon=2027,
    )  # fmt: skip
    found = told(road, own, dam(shows="amel"), sire(shows=""))
    ended = found.stages[0].ended
    for ending, exact in ((Ending.KEPT, QUARTER), (Ending.PARTLY, HALF), (Ending.STUCK, QUARTER)):
        assert near(ended[ending], exact, found.draws), ending
    check(found, kept={2027: (1 - QUARTER) * (1 - QUARTER)})


def test_sex_linked_goals_wait_for_the_right_sex() -> None:
    # ZW: a visual sire gives visual daughters only; a dam that shows it has one copy and gives carriers for sons.
    banded = locus("banded", named("banded"), sex_system=SexSystem.ZW, sex_linked=True)
    own = snake(banded, sizes=(2, 2, 2), sexes=SexSystem.ZW)
    road = project(
        stage("1", 2026, "mum", "dad", keep("s", sex="male")),
        stage("2", 2027, "mum", "1.s", keep("s", "banded", sex="male")),
        shows="banded", horizon=2027,
    )  # fmt: skip
    found = told(road, own, dam(shows="banded"), sire(shows=""))
    first, second = found.stages
    # dam Z(b)W, sire ZZ: sons Z(b)Z, daughters ZW plain.
    assert not first.can_be_goal
    assert first.holdbacks[0].right == HALF
    # son Z(b)Z to Z(b)W: half of the sons have two, half of the daughters show it. A daughter that does is kept, and
    # the stage goes on for a son.
    a_son = 1 - QUARTER
    check(found, kept={2026: Fraction(0), 2027: a_son * (1 - HALF**2)})
    assert near(second.ended[Ending.GOAL], a_son * (1 - Fraction(3, 4) ** 2), found.draws)


def test_an_animal_of_unknown_sex_has_the_sex_that_its_stage_needs() -> None:
    # A dominant on the Z: as a sire it has one copy of two, and half of the young show it; as a dam it would have its
    # only one, and give it to her sons.
    banded = locus("banded", named("banded", Inheritance.DOMINANT), sex_system=SexSystem.ZW, sex_linked=True)
    own = snake(banded, sizes=(2, 2, 2), sexes=SexSystem.ZW)
    road = project(stage("1", 2026, "mum", "dad"), shows="banded", horizon=2026)
    found = told(road, own, dam(shows=""), replace(sire(shows="banded"), sex=Sex.UNKNOWN))
    check(found, born={2026: 1 - HALF**2}, kept={2026: 1 - HALF**2})


def test_a_hidden_look_is_not_selected_and_a_hiding_one_is_not_kept() -> None:
    own = snake(recessive("amel"), recessive("hypo", hidden_by=("amel",)), sizes=(4, 4, 4))
    both = {"amel": "certain", "hypo": "certain"}
    kept = stage("1", 2026, "mum", "dad", keep("pair", "amel hypo"), keep("plain", "hypo"))
    found = told(project(kept, shows="amel hypo", horizon=2026), own, dam(stated=both), sire(stated=both))
    pair, plain = found.stages[0].holdbacks
    assert (pair.right, pair.unseen, pair.carries) == (QUARTER, ("hypo",), QUARTER)
    assert plain.right == Fraction(3, 4) * QUARTER
    assert (plain.unseen, plain.carries) == ((), None)
    # Any amelanistic young is kept as the pair; it is hypo as well with 1/4, and nobody can see that.
    check(
        found,
        born={2026: 1 - Fraction(15, 16) ** 4},
        kept={2026: (1 - Fraction(3, 4) ** 4) * QUARTER},
        known={2026: Fraction(0)},
    )  # fmt: skip


def test_of_young_that_look_right_some_carry() -> None:
    own = snake(recessive("amel"), sizes=(4, 4, 4))
    road = project(stage("1", 2026, "mum", "dad", keep("d", carries="amel", sex="female")), shows="amel", horizon=2026)
    for stated, exact in (("certain", HALF), ("50%", QUARTER)):
        (only,) = told(road, own, dam(stated={"amel": stated}), sire(shows="")).stages[0].holdbacks
        assert (only.carries, only.each, only.unseen) == (exact, {"amel": exact}, ("amel",))


def test_nothing_is_predicted_of_a_goal_that_is_reached() -> None:
    own = snake(recessive("amel"))
    road = project(
        stage("1", 2024, "mum", "dad", keep("goal", "amel", animals=("best",))), shows="amel", state="reached"
    )
    found = told(road, own, dam(), sire(), animal("best", shows="amel", born="2024-07-09"))
    assert (found.reached, found.by_season, found.loads, found.litters, found.draws) == (2024, (), (), 0, 0)
    assert found.stages[0].state is StageState.DONE


def test_a_dead_parent_ends_the_road() -> None:
    own = snake(recessive("amel"))
    gone = replace(dam(shows="amel"), died=PartialDate(2025, 3, 1))
    road = project(stage("1", 2026, "mum", "dad"), shows="amel")
    found = told(road, own, gone, sire(shows="amel"))
    assert (found.stages[0].earliest, found.stages[0].waits, found.stages[0].waits_for) == (None, Waits.NEVER, "mum")
    assert (found.by_season, found.half_by) == ((), None)
