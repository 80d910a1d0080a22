"""Young that are on record as kept: fewer than are wanted, perhaps the goal themselves, or of a road that is over."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.by_hand import animal, asked_of, keep, project, recessive, snake, stage
from helpers.drawn import near
from helpers.outlooks import outlook

from sitegen.content.animals import Animal
from sitegen.content.prices import Offer, OfferState
from sitegen.content.projects import Project
from sitegen.genetics.loci import Sex
from sitegen.plans.roads import playing
from sitegen.plans.roads.beside import roads_of
from sitegen.plans.roads.kinds import RoadOutlook, StageState, Waits

TODAY = dt.date(2026, 1, 1)
KIND = snake(recessive("amel"), recessive("anery"), sizes=(1, 1, 1))
HALF, THIRD = Fraction(1, 2), Fraction(1, 3)


def grown(name: str, sex: Sex, **more: object) -> Animal:
    return animal(name, sex=sex, born="2020-07-01", **more)  # type: ignore[arg-type]


MUM, OTHER = grown("mum", Sex.FEMALE, shows=""), grown("other", Sex.FEMALE, shows="")
DAD, SON = grown("dad", Sex.MALE, shows=""), grown("son", Sex.MALE, shows="")


def told(own: Project, *records: object) -> RoadOutlook:
    return outlook(asked_of(KIND, *records), own, TODAY)


def shares(found: RoadOutlook, what: str) -> dict[int, Fraction]:
    return {each.season: getattr(each, what) for each in found.by_season}


def bred(found: RoadOutlook, at: int) -> dict[int, Fraction]:
    return dict(found.stages[at].bred)


# Fewer than are wanted.


def two_sons(kept: tuple[str, ...]) -> Project:
    first = stage("1", 2026, "mum", "dad", keep("s", count=2, animals=kept))
    return project(first, stage("2", 2026, "other", "1.s"), shows="amel", horizon=2028)


def test_one_of_two_is_not_enough_while_the_stage_goes_on() -> None:
    # One young a season: the second son is born in 2026 with 1/2, and stage 2 is bred from the season after that.
    found = told(two_sons(("son",)), MUM, OTHER, DAD, SON)
    first, second = found.stages
    assert (first.state, first.earliest, second.earliest) == (StageState.NEXT, 2026, 2027)
    for season in (2026, 2027, 2028):
        assert near(bred(found, 1)[season], 1 - HALF ** (season - 2026), found.draws)
    filled = told(two_sons(("son", "dad")), MUM, OTHER, DAD, SON)
    assert filled.stages[0].state is StageState.DONE
    assert bred(filled, 1)[2026] == 1


def test_only_what_is_missing_is_still_kept() -> None:
    for there, most in ((("son",), 1), ((), 2)):
        found = told(two_sons(there), MUM, OTHER, DAD, SON)
        assert found.loads[-1].held.high == most


def of_branch(*, keep_s: tuple[str, ...], daughters: tuple[str, ...], tries: int, second: str) -> Project:
    first = stage("1", 2025, "mum", "dad", keep("g", "amel", count=2, animals=keep_s), tries=tries)
    otherwise = keep("d", count=2, sex="female", animals=daughters), keep("s", sex="male", animals=("son",))
    first = replace(first, otherwise=otherwise)
    return project(first, stage("2", 2026, second, "dad"), shows="amel anery", horizon=2028)


@pytest.mark.parametrize(
    ("keep_s", "daughters", "second", "bred_in"),
    [
        ((), ("other",), "1.d", 2026),  # after the last try one daughter is enough: the other branch came true
        ((), (), "1.d", None),  # there is a son and no daughter: stuck
        (("son",), ("other",), "1.g", 2026),  # one of the two that were wanted first is enough as well
        (("son",), ("other",), "1.d", None),  # and then nothing is bred from what was kept otherwise
    ],
)
def test_a_stage_whose_tries_are_used_ends_on_record_as_it_does_in_the_plans(
    keep_s: tuple[str, ...], daughters: tuple[str, ...], second: str, bred_in: int | None
) -> None:
    road = of_branch(keep_s=keep_s, daughters=daughters, tries=0, second=second)
    found = told(road, MUM, OTHER, DAD, replace(SON, sex=Sex.UNKNOWN))
    stuck = not keep_s and not daughters
    assert (found.stages[0].state is StageState.DONE) is not stuck
    assert found.stages[1].earliest == bred_in
    assert (found.stages[1].waits is Waits.NEVER) is (bred_in is None)


# Perhaps the goal.

GOAL = ("amel", "anery")
"""It shows amel and carries anery."""
SISTER = {"amel": "certain", "anery": "66%"}


def hidden(*, horizon: int = 2028, **more: object) -> Project:
    """A kept daughter that shows amel is paired with a sire that shows anery: the young show neither."""
    return project(
        stage("1", 2020, "mum", "dad", keep("d", "amel", sex="female", animals=("sister",))),
        stage("2", 2026, "1.d", "pale"),
        shows=GOAL[0], carries=GOAL[1], horizon=horizon, **more,
    )  # fmt: skip


PALE = grown("pale", Sex.MALE, shows="anery")


def test_a_kept_animal_that_may_be_the_goal_counts_as_kept_and_is_known_by_its_young() -> None:
    sister = grown("sister", Sex.FEMALE, shows="amel", stated={"anery": "66%"})
    found = told(hidden(), MUM, DAD, PALE, sister)
    assert found.reached is None
    for season in (2026, 2027, 2028):
        # She is it with 2/3; then half of her young show anery, and the first one that does proves it.
        assert near(shares(found, "kept")[season], 2 * THIRD, found.draws)
        assert shares(found, "born")[season] == shares(found, "kept")[season]
        proved = 2 * THIRD * (1 - HALF ** (season - 2025))
        assert near(shares(found, "known")[season], proved, found.draws)


@pytest.mark.parametrize(
    "other",
    [
        {"shows": ""},  # it does not show what can be seen
        {"tests": {"anery": "+/+"}},
        {"died": "2025-05-01"},
        {"sold": True},
    ],
)
def test_a_kept_animal_that_cannot_be_the_goal_or_is_gone_does_not(other: dict[str, object]) -> None:
    more = {key: value for key, value in other.items() if key in ("shows", "tests")}
    sister = grown("sister", Sex.FEMALE, **{"shows": "amel", "stated": {"anery": "66%"}, **more})
    if other.get("died"):
        sister = replace(sister, died=grown("x", Sex.MALE).born)
    if other.get("sold"):
        sister = replace(sister, offer=Offer(state=OfferState.SOLD, place=sister.place))
    found = told(hidden(), MUM, DAD, PALE, sister)
    assert set(shares(found, "kept").values()) <= {Fraction(0)}


# Over.


@pytest.mark.parametrize("state", ["reached", "given up"])
def test_a_road_that_is_over_is_not_played(state: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("it was played")

    monkeypatch.setattr(playing, "drawn", never)
    sister = grown("sister", Sex.FEMALE, shows="amel", stated={"anery": "66%"})
    found = roads_of(asked_of(KIND, MUM, DAD, PALE, sister), hidden(state=state), TODAY)
    assert found.main is not None
    assert (found.main.draws, found.main.by_season, found.alternatives) == (0, (), {})
    assert (found.main.reached is None) is (state == "given up")
