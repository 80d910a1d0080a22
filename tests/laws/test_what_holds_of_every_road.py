"""What holds of every road, whatever its stages and branches: how its numbers hang together."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from helpers.by_hand import animal, asked_of, dominant, keep, project, recessive, snake, stage
from helpers.outlooks import outlook
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.content.projects import Project
from sitegen.evidence.asking import Asked
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.kinds import Ending, RoadOutlook, StageOutlook

TODAY = dt.date(2026, 1, 1)
STATED = st.sampled_from(["certain", "50%", "66%", "1/3", ""])
DRAWS = 1_000
LAST = 2031
BACK_CROSSES = [("1.d", "1.s"), ("mum", "1.s"), ("1.d", "dad"), ("aunt", "1.s"), ("1.e", "dad"), ("aunt", "1.f")]


@st.composite
def herds(draw: st.DrawFn) -> Asked:
    """Three founders in doubt at three loci, one with a lethal form now and then."""
    own = snake(
        recessive("a"), recessive("b"), dominant("c", two_copies_lethal=draw(st.booleans())),
        sizes=draw(st.sampled_from([(1, 1, 1), (3, 5, 8)])), takes=draw(st.sampled_from([Fraction(1), Fraction(4, 5)])),
        rest=draw(st.sampled_from([0, 1])), a_year=draw(st.sampled_from([1, 1, 2])),
        grown={"female": draw(st.sampled_from([1, 2])), "male": 1},
    )  # fmt: skip
    founders = []
    for name, sex in (("mum", Sex.FEMALE), ("aunt", Sex.FEMALE), ("dad", Sex.MALE)):
        stated = {gene: text for gene in "ab" if (text := draw(STATED))}
        shows = draw(st.sampled_from(["", "a", "c"]))
        stated.pop(shows, None)
        founders.append(animal(name, sex=sex, shows=shows, stated=stated, born="2015-07-01"))
    return asked_of(own, *founders)


@st.composite
def plans(draw: st.DrawFn) -> Project:
    """Two stages; the second is bred with what the first kept first, or kept else."""
    shows = st.sampled_from(["", "a", "c"])
    count = st.sampled_from([1, 2, 3])
    daughters = keep("d", draw(shows), "b", sex="female", count=draw(count))
    sons = keep("s", draw(shows), sex="male", count=draw(count))
    tries = st.sampled_from([None, 1, 2, 3])
    first = stage("1", 2026, "mum", "dad", daughters, sons, tries=draw(tries))
    pair = draw(st.sampled_from(BACK_CROSSES))
    if any(name in ("1.e", "1.f") for name in pair):
        others = (
            replace(keep("e", draw(shows), sex="female", count=draw(count)), only=draw(st.booleans())),
            replace(keep("f", draw(shows), sex="male", count=2), at_least=draw(st.sampled_from([1, 2]))),
        )
        tried = draw(st.sampled_from([1, 2]))
        first = replace(
            first, keep=(keep("goal", draw(st.sampled_from(["a", "a b"]))),), otherwise=others, tries=tried,
            until=draw(st.sampled_from(["tries", "else"])),
        )  # fmt: skip
    goal = draw(st.sampled_from(["a", "a b", "a b c", "b c"]))
    carried = draw(st.sampled_from(["", "b"]))
    last_keep = draw(st.sampled_from([(), (keep("g", goal, carried),), (keep("goal", "a", sex="male", count=2),)]))
    last = stage("2", 2027, *pair, *last_keep, tries=draw(tries))
    return project(first, last, shows=goal, carries=carried if carried not in goal else "", horizon=LAST)


def of(asked: Asked, own: Project) -> RoadOutlook:
    return outlook(asked, own, TODAY, draws=DRAWS)


def growing(shares: Sequence[Fraction]) -> bool:
    return all(0 <= one <= other <= 1 for one, other in pairwise((Fraction(0), *shares)))


@given(herds(), plans())
@settings(max_examples=60, deadline=None)
def test_known_is_kept_and_kept_is_born(asked: Asked, own: Project) -> None:
    found = of(asked, own)
    assert [each.season for each in found.by_season] == list(range(2026, LAST + 1))
    for each in found.by_season:
        assert 0 <= each.known <= each.kept <= each.born <= 1
        assert all((share * found.draws).denominator == 1 for share in (each.born, each.kept, each.known))
    assert growing([each.born for each in found.by_season])
    assert found.half_by == next((each.season for each in found.by_season if each.kept >= Fraction(1, 2)), None)
    shares = [share for each in found.by_season for share in (each.born, each.kept, each.known)]
    assert math.isclose(
        found.error, max(math.sqrt(share * (1 - share) / found.draws) for share in shares), abs_tol=0.0001
    )


@given(herds(), plans())
@settings(max_examples=60, deadline=None)
def test_a_stage_ends_once_and_only_where_it_was_bred(asked: Asked, own: Project) -> None:
    found = of(asked, own)
    for each in found.stages:
        bred = [share for _, share in each.bred]
        assert growing(bred)
        assert all(share >= 0 for share in each.ended.values())
        assert sum(each.ended.values()) <= 1
        assert _gave_something(each) <= bred[-1], "what was kept was born of a pairing that took"
        assert (each.kept_given_bred is None) == (bred[-1] == 0)
        if each.kept_given_bred is not None:
            assert 0 <= each.kept_given_bred <= 1
            assert found.by_season
            assert each.kept_given_bred * bred[-1] <= found.by_season[-1].kept
    # A goal ends the road, so no plan has two stages that ended so.
    assert sum(each.ended.get(Ending.GOAL, Fraction(0)) for each in found.stages) <= 1


def _gave_something(each: StageOutlook) -> Fraction:
    return sum((share for ending, share in each.ended.items() if ending is not Ending.STUCK), Fraction(0))


@given(herds(), plans())
@settings(max_examples=60, deadline=None)
def test_what_is_held_was_kept_and_what_is_kept_was_born(asked: Asked, own: Project) -> None:
    found = of(asked, own)
    held = Fraction(0)
    assert [each.season for each in found.loads] == [each.season for each in found.by_season]
    for each in found.loads:
        for range_ in (each.young, each.kept, each.held):
            assert 0 <= range_.low <= range_.high
            assert range_.mean >= 0
        assert each.kept.mean <= each.young.mean
        assert each.held.mean <= held + each.kept.mean
        held = each.held.mean


@given(herds(), plans())
@settings(max_examples=15, deadline=None)
def test_asked_twice_the_same_is_told(asked: Asked, own: Project) -> None:
    assert of(asked, own) == of(asked, own)


@given(herds(), plans())
@settings(max_examples=25, deadline=None, derandomize=True)
def test_looking_further_changes_nothing_nearer(asked: Asked, own: Project) -> None:
    # Derandomised: among many runs a right program passes any bound.
    near, far = of(asked, own), of(asked, replace(own, horizon=LAST + 2))
    for one, other in zip(near.by_season, far.by_season, strict=False):
        assert one.season == other.season
        for share, again in ((one.born, other.born), (one.kept, other.kept)):
            assert abs(share - again) <= 5 * math.sqrt(2) * float(max(near.error, far.error)) + 0.001
