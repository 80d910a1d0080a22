"""Litters that were born beside what was expected of them, and what did not come true."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.by_hand import animal, collection, date, keep, litter, project, recessive, snake, stage
from helpers.drawn import near
from helpers.outlooks import outlook

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Failed, FailedAs
from sitegen.content.projects import Project
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.kinds import (
    Ancestry,
    Ending,
    LitterResult,
    RoadOutlook,
    Setback,
    StageOutlook,
    StageState,
    Waits,
)

TODAY = dt.date(2026, 10, 1)
HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)

MUM = animal("mum", sex=Sex.FEMALE, shows="", stated={"amel": "50%"}, born="2015-07-01")
DAD = animal("dad", sex=Sex.MALE, shows="amel", born="2015-07-01")


def told(own: Project, *records: object, **litters: object) -> RoadOutlook:
    kept: Collection = collection(*records)  # type: ignore[arg-type]
    kept = replace(kept, litters={key: replace(each, **litters) for key, each in kept.litters.items()})  # type: ignore[arg-type]
    return outlook(ask(gather(kept)), own, TODAY)


def result(found: RoadOutlook, at: int = 0) -> LitterResult:
    (only,) = found.stages[at].litters
    return only


def chance_of(look: str, at: StageOutlook) -> Fraction:
    """Chance that one young of a stage shows it."""
    return sum((row.chance for row in at.looks if look in row.looks), Fraction(0))


def young(**looks: str) -> dict[str, dict[str, object]]:
    sexes = {"f": Sex.FEMALE, "m": Sex.MALE, "u": Sex.UNKNOWN}
    return {key: {"shows": shows, "sex": sexes[key[0]]} for key, shows in looks.items()}


ROAD = project(
    stage("1", 2026, "mum", "dad", keep("d", "amel", sex="female", count=1), litters="x"), shows="amel", horizon=2030
)


def test_a_litter_is_expected_by_the_records_of_the_day_before() -> None:
    # Today it is certain that the dam carries, because two young show it; on the day before it was 1 in 2.
    found = told(
        ROAD, snake(recessive("amel")), MUM, DAD,
        litter("x", "mum", "dad", young(f1="amel", m2="amel", f3="", f4=""), born="2026-07-08"),
        paired=date("2026-03-10"),
    )  # fmt: skip
    own = result(found)
    assert (own.litter, own.as_of) == ("x", dt.date(2026, 7, 7))
    daughters, goal = own.counted
    assert (daughters.kind, daughters.looks, daughters.sex) == ("d", ("amel",), "female")
    assert (daughters.n_young, daughters.came) == (4, 1)
    # 1/2 of the time a quarter of the young are amelanistic daughters.
    assert daughters.expected == 4 * HALF * QUARTER
    none, one = Fraction(3, 4) ** 4, 4 * QUARTER * Fraction(3, 4) ** 3
    assert daughters.as_few == HALF + HALF * (none + one)
    assert daughters.as_many == HALF * (1 - none)
    assert (goal.kind, goal.n_young, goal.came, goal.expected) == ("goal", 4, 2, 1)
    assert goal.as_few == HALF + HALF * Fraction(1 + 4 + 6, 16)
    assert goal.as_many == HALF * Fraction(6 + 4 + 1, 16)
    # The rest of the road knows better: half the young of a carrier and a visual.
    assert chance_of("amel", found.stages[0]) == HALF


def test_young_that_were_not_judged_or_sexed_do_not_count() -> None:
    looks = young(f1="amel", u2="amel", m3="")
    looks["f4"] = {"shows": "", "unsure": "amel", "sex": Sex.FEMALE}
    found = told(
        ROAD, snake(recessive("amel")), MUM, DAD,
        litter("x", "mum", "dad", looks, others={"": 2, "amel": 1}, born="2026-07-08"),
        paired=date("2026-03-10"),
    )  # fmt: skip
    daughters, goal = result(found).counted
    assert (daughters.n_young, daughters.came) == (2, 1)
    assert (goal.n_young, goal.came) == (6, 3)


def test_a_look_that_comes_with_growth_is_not_judged_at_birth() -> None:
    own = snake(recessive("amel", visible_from_months=12))
    found = told(
        ROAD, own, MUM, DAD, litter("x", "mum", "dad", young(f1="", m2=""), born="2026-07-08"),
        paired=date("2026-03-10"),
    )  # fmt: skip
    assert [each.n_young for each in result(found).counted] == [0, 0]
    assert [each.expected for each in result(found).counted] == [0, 0]


def test_a_stage_that_has_begun_is_bred_again() -> None:
    own = snake(recessive("amel"), rest=1)
    found = told(ROAD, own, MUM, DAD, litter("x", "mum", "dad", young(f1="", m2=""), born="2026-07-08"),
                 paired=date("2026-03-10"))  # fmt: skip
    (only,) = found.stages
    assert (only.state, only.earliest, only.waits, only.waits_for) == (StageState.BEGUN, 2028, Waits.REST, "mum")
    # Two plain young of a visual: 1/2 * 1/4 against 1/2, so 1 in 5 that the dam carries.
    assert chance_of("amel", only) == Fraction(1, 5) * HALF
    assert found.by_season[0].season == 2028
    # However often she is bred, one in five is the most.
    assert found.by_season
    assert found.by_season[-1].kept < Fraction(1, 5) + 4 * found.error


def kept_son(shows: str, **more: object) -> Animal:
    return animal("son", sex=Sex.MALE, shows=shows, dam="mum", sire="dad", born="2024-07-01", **more)  # type: ignore[arg-type]


TWO = project(
    stage("1", 2024, "mum", "dad", keep("s", carries="amel", sex="male", animals=("son",))),
    stage("2", 2026, "niece", "1.s", keep("goal", "amel")),
    shows="amel", horizon=2034,
)  # fmt: skip
NIECE = animal("niece", sex=Sex.FEMALE, shows="amel", born="2020-07-01")
PLAIN = animal("dad", sex=Sex.MALE, shows="", born="2015-07-01")


def test_kept_young_that_do_not_carry_cost_years() -> None:
    own = snake(recessive("amel"), grown={"female": 2, "male": 2})
    carrier = animal("mum", sex=Sex.FEMALE, stated={"amel": "certain"}, born="2015-07-01")
    found = told(TWO, own, carrier, PLAIN, NIECE, kept_son("", tests={"amel": "+/+"}))
    # Today is October 2026: the pairing can be made again in 2027, its sons are of age in 2029; planned was 2026.
    assert found.setbacks == (Setback("1", "s", "amel", ("son",), 2029, 3),)
    assert chance_of("amel", found.stages[1]) == 0
    assert {each.kept for each in found.by_season} == {0}
    told_too = told(TWO, own, carrier, PLAIN, NIECE, kept_son(""))
    assert told_too.setbacks == ()
    assert chance_of("amel", told_too.stages[1]) == HALF * HALF


def test_a_stage_that_cannot_be_repeated_has_no_cost_in_years() -> None:
    own = snake(recessive("amel"))
    gone = replace(animal("mum", sex=Sex.FEMALE, stated={"amel": "certain"}), died=date("2025-01-01"))
    found = told(TWO, own, gone, PLAIN, NIECE, kept_son("", tests={"amel": "+/+"}))
    assert found.setbacks == (Setback("1", "s", "amel", ("son",), None, None),)


def test_a_litter_on_the_way_is_waited_for() -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1), takes=HALF, rest=1)
    sure = replace(MUM, genes=DAD.genes)
    bred = litter("x", "mum", "dad")
    kept = collection(own, sure, DAD, bred)  # type: ignore[arg-type]
    for laid, first in ((None, HALF), (date("2026-05-01"), Fraction(1))):
        now = replace(kept, litters={"x": replace(bred[0], paired=date("2026-03-10"), laid=laid)})
        found = outlook(ask(gather(now)), ROAD, dt.date(2026, 6, 1))
        assert found.by_season[0].season == 2026
        # She rests in 2027 if she has this litter; a pairing that does not take costs no rest.
        again = HALF * (1 - first)
        assert near(found.by_season[0].kept, first, found.draws)
        assert near(found.by_season[1].kept, first + again, found.draws)
    late = replace(kept, litters={"x": replace(bred[0], paired=date("2026-03-10"))})
    assert outlook(ask(gather(late)), ROAD, dt.date(2026, 12, 1)).by_season[0].season == 2028


def test_ancestry_and_inbreeding_of_planned_young() -> None:
    own = snake(recessive("amel"))
    mum = animal("mum", sex=Sex.FEMALE, born="2015-07-01", locality="Red Hills")
    dad = animal("dad", sex=Sex.MALE, born="2015-07-01", locality="Black Fen")
    road = project(
        stage("1", 2027, "mum", "dad", keep("s", sex="male")),
        stage("2", 2029, "mum", "1.s", keep("d", sex="female")),
        stage("3", 2031, "2.d", "1.s"),
        shows="amel",
    )  # fmt: skip
    found = told(road, own, mum, dad)
    # Back-cross 1/4; their daughter by the same son: kinship of s and d is (1/4 + 1/2) / 2 = 3/8.
    assert [each.inbreeding for each in found.stages] == [0, QUARTER, Fraction(3, 8)]
    assert found.inbreeding == Fraction(3, 8)
    # s: 1/2; d: 3/4 and 1/4; their young: 5/8 and 3/8.
    assert found.ancestry == (Ancestry("Red Hills", Fraction(5, 8)), Ancestry("Black Fen", Fraction(3, 8)))
    assert told(road, own, replace(mum, locality=""), replace(dad, locality="")).ancestry == ()


def test_parents_of_unknown_age_are_told() -> None:
    found = told(ROAD, snake(recessive("amel")), replace(MUM, born=None), DAD, litter("x", "mum", "dad"))
    assert found.unknown_ages == ("mum",)
    assert not found.assumed_season


# One litter of 2 came in 2026: a plain daughter, kept, and a plain brother. Her parents are known carriers.
CARRIER = {"amel": "certain"}
OLD = (
    animal("mum", sex=Sex.FEMALE, stated=CARRIER, born="2015-07-01"),
    animal("dad", sex=Sex.MALE, stated=CARRIER, born="2015-07-01"),
)
HIT = 1 - Fraction(3, 4) ** 2
"""A litter of 2 from two carriers has one that shows it."""


def branched(tries: int, *kept: str, litters: str = "x", until: str = "tries") -> Project:
    """Amel if it comes; else a plain daughter, bred back to her sire."""
    first = stage("1", 2026, "mum", "dad", keep("goal", "amel"), tries=tries, litters=litters)
    first = replace(first, otherwise=(keep("d", carries="amel", sex="female", animals=kept),), until=until)
    return project(first, stage("2", 2028, "1.d", "dad", keep("goal", "amel"), tries=1), shows="amel", horizon=2028)


def test_what_was_kept_else_waits_until_the_tries_are_used() -> None:
    own = snake(recessive("amel"), sizes=(2, 2, 2))
    bred = litter("x", "mum", "dad", young(f1="", m2=""), born="2026-07-08")
    # She carries with 2/3, and is bred only if the second try brings no amelanistic young.
    found = told(branched(2, "x/f1"), own, *OLD, bred)
    first, second = found.stages
    assert (first.state, first.earliest, second.earliest) == (StageState.BEGUN, 2027, 2028)
    assert found.by_season[0].season == 2027
    again = HIT + (1 - HIT) * Fraction(2, 3) * HIT
    assert near(found.by_season[0].kept, HIT, found.draws)
    assert near(found.by_season[1].kept, again, found.draws)
    assert near(dict(second.bred)[2028], 1 - HIT, found.draws)
    assert near(first.ended[Ending.ELSE], 1 - HIT, found.draws)
    given = second.kept_given_bred
    assert given is not None
    assert near(given, Fraction(2, 3) * HIT, int((1 - HIT) * found.draws))


def test_when_the_tries_are_used_the_other_branch_is_the_road() -> None:
    own = snake(recessive("amel"), sizes=(2, 2, 2))
    bred = litter("x", "mum", "dad", young(f1="", m2=""), born="2026-07-08")
    for plan in (branched(1, "x/f1"), branched(1, "x/f1", until="else")):
        found = told(plan, own, *OLD, bred)
        first, second = found.stages
        assert (first.state, first.bred, second.state) == (StageState.DONE, (), StageState.NEXT)
        assert [each.season for each in found.by_season] == [2028]
        assert dict(second.bred) == {2028: 1}
        assert near(found.by_season[0].kept, Fraction(2, 3) * HIT, found.draws)
        # The parents are there, so the numbers of the stage are exact.
        assert [each.drawn for each in second.holdbacks] == [0]
        assert second.holdbacks[0].in_one_litter == Fraction(2, 3) * HIT


def test_a_branch_without_anything_kept_is_never_bred() -> None:
    own = snake(recessive("amel"), sizes=(2, 2, 2))
    bred = litter("x", "mum", "dad", young(m1="", m2=""), born="2026-07-08")
    found = told(branched(1), own, *OLD, bred)
    assert [each.earliest for each in found.stages] == [None, None]
    assert [each.waits for each in found.stages] == [Waits.NEVER, Waits.NEVER]
    assert (found.by_season, found.half_by) == ((), None)


@pytest.mark.parametrize(
    ("what", "first"), [(FailedAs.NOT_GRAVID, 2027), (FailedAs.SLUGS, 2028), (FailedAs.STILLBORN, 2028)]
)
def test_a_failed_litter_is_a_try_and_costs_rest_if_she_was_gravid(what: FailedAs, first: int) -> None:
    own = snake(recessive("amel"), sizes=(1, 1, 1), rest=1)
    sure = replace(MUM, genes=DAD.genes)
    road = project(stage("1", 2026, "mum", "dad", tries=2, litters="x"), shows="amel", horizon=2030)
    found = told(
        road, own, sure, DAD, litter("x", "mum", "dad"), paired=date("2026-03-10"),
        failed=Failed(date=date("2026-06-03"), what=what),
    )  # fmt: skip
    (only,) = found.stages
    assert (only.state, only.earliest) == (StageState.BEGUN, first)
    assert only.waits == (Waits.REST if first == 2028 else Waits.TODAY)
    assert found.by_season[0].season == first
    assert {each.kept for each in found.by_season} == {1}
    used = told(
        replace(road, stages=(replace(road.stages[0], tries=1),)), own, sure, DAD, litter("x", "mum", "dad"),
        paired=date("2026-03-10"), failed=Failed(date=date("2026-06-03"), what=what),
    )  # fmt: skip
    assert (used.stages[0].earliest, used.stages[0].waits, used.by_season) == (None, Waits.NEVER, ())
