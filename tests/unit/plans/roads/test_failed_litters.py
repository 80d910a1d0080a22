"""A litter that failed is a try of its stage, is not waited for, and lets the dam rest as it should."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.by_hand import animal, asked_of, date, litter, project, recessive, snake, stage
from helpers.drawn import near
from helpers.outlooks import outlook

from sitegen.content.animals import Animal
from sitegen.content.litters import Failed, FailedAs, Litter
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.kinds import RoadOutlook, StageState, Waits

TODAY = dt.date(2026, 6, 10)
MUM = animal("mum", sex=Sex.FEMALE, born="2015-07-01", stated={"amel": "certain"})
DAD = animal("dad", sex=Sex.MALE, born="2015-07-01", shows="amel")
HALF = Fraction(1, 2)


def failed(what: FailedAs | None) -> tuple[Litter, tuple[Animal, ...]]:
    """Paired in spring; of None nothing is heard yet."""
    record, young = litter("l", "mum", "dad")
    over = Failed(date=date("2026-06-03"), what=what) if what else None
    return replace(record, paired=date("2026-03-10"), failed=over), young


def told(what: FailedAs | None, tries: int | None = None, rest: int = 1, after_failure: int = 0) -> RoadOutlook:
    own = replace(snake(recessive("amel"), sizes=(1, 1, 1), rest=rest), rest_after_failure=after_failure)
    road = project(stage("1", 2026, "mum", "dad", tries=tries, litters="l"), shows="amel", horizon=2030)
    return outlook(asked_of(own, MUM, DAD, failed(what)), road, TODAY)


def kept_by(found: RoadOutlook, season: int) -> Fraction:
    return next(each.kept for each in found.by_season if each.season == season)


@pytest.mark.parametrize(
    ("what", "after_failure", "earliest", "waits"),
    [
        (FailedAs.SLUGS, 0, 2028, Waits.REST),
        (FailedAs.REABSORBED, 0, 2028, Waits.REST),
        (FailedAs.STILLBORN, 0, 2028, Waits.REST),
        (FailedAs.NOT_GRAVID, 0, 2027, Waits.TODAY),
        (FailedAs.NOT_GRAVID, 2, 2029, Waits.REST),
        (None, 0, 2026, Waits.PLAN),
    ],
)
def test_the_next_pairing_waits_for_the_rest_that_is_due(
    what: FailedAs | None, after_failure: int, earliest: int, waits: Waits
) -> None:
    found = told(what, after_failure=after_failure)
    (own,) = found.stages
    assert (own.earliest, own.waits) == (earliest, waits)
    assert (own.state is StageState.BEGUN) == (what is not None)
    assert near(kept_by(found, earliest), HALF, found.draws)
    assert not any(each.kept for each in found.by_season if each.season < earliest)


def test_a_failure_uses_up_a_try() -> None:
    found = told(FailedAs.NOT_GRAVID, tries=2)
    assert near(kept_by(found, 2027), HALF, found.draws)
    assert kept_by(found, 2030) == kept_by(found, 2027)
    over = told(FailedAs.NOT_GRAVID, tries=1)
    assert (over.stages[0].earliest, over.stages[0].waits) == (None, Waits.NEVER)
    assert not any(each.kept for each in over.by_season)
