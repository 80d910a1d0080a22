"""Laws of the sheet of a room: it fits a screen and never says more than the numbers."""

import re
import textwrap
from fractions import Fraction

import pytest
from helpers.from_text import bound
from helpers.wished_rooms import KINGSNAKES
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.plans.room.kinds import (
    GoalSeason,
    Lesson,
    OtherChoice,
    RoomPairing,
    RoomPlan,
    SeasonPlaces,
    WorthOfTest,
)
from sitegen.words.room import RoomWords, seasons_of

DAMS = ("alder", "birch", "cedar", "elder", "hazel", "laurel", "linden", "maple")
SIRES = ("ash", "oak", "rowan", "thorn", "yew")
GOALS = ("pale", "striped-pale")
CHANCE = st.floats(0, 1)
SHARE = st.floats(-0.2, 0.2)
BY_GOAL = st.dictionaries(st.sampled_from(GOALS), SHARE)


@st.composite
def plans(draw: st.DrawFn) -> RoomPlan:
    """Plans of at most four litters in two seasons; weights sum to 4."""
    dams = draw(st.lists(st.sampled_from(DAMS), unique=True, max_size=4))
    pairings = tuple(
        RoomPairing(
            dam, draw(st.sampled_from(SIRES)), draw(st.dictionaries(st.sampled_from(GOALS), CHANCE)),
            4 * draw(SHARE), 0.01, (Lesson(dam, "lavender", 4 * draw(SHARE)),) if draw(st.booleans()) else (),
            draw(st.dictionaries(st.sampled_from(GOALS), st.floats(0.001, 1))), draw(st.floats(0, 12)),
        )
        for dam in dams
    )  # fmt: skip
    others = tuple(
        OtherChoice(((draw(st.sampled_from(DAMS)), "thorn"),), 4 * draw(SHARE), draw(st.floats(0, 0.1)), draw(BY_GOAL))
        for _ in range(draw(st.integers(0, 2)))
    )
    goals = {
        goal: tuple(GoalSeason(2027 + at, draw(CHANCE), draw(CHANCE), draw(CHANCE), 0.004) for at in range(2))
        for goal in GOALS
    }
    places = tuple(SeasonPlaces(2027 + at, draw(st.floats(14, 20)), 14, 20, draw(st.floats(0, 6))) for at in range(2))
    tests = tuple(
        WorthOfTest(dam, "lavender", 4 * draw(SHARE), 4 * draw(st.floats(0, 0.05)), Fraction(60)) for dam in dams
    )
    return RoomPlan(
        "kingsnake", 2027, 2028, pairings, tuple(own for own in DAMS if own not in dams), goals, 2.0, 0.01, 4.0, 4000,
        places, short=draw(st.integers(0, 2)), next_best=others,
        closer=draw(st.sampled_from([None, OtherChoice((("maple", "ash"),), 0.2, 0.01, {"pale": 0.05})])),
        tests=tuple(sorted(tests, key=lambda each: -each.worth)),
    )  # fmt: skip


@pytest.fixture(scope="module")
def words() -> RoomWords:
    collection = bound(KINGSNAKES)
    assert collection.wishes is not None
    return RoomWords(collection, collection.wishes, collection.species["kingsnake"])


@settings(max_examples=150, deadline=None)
@given(plans())
def test_the_sheet_of_four_litters_is_one_screen(words: RoomWords, plan: RoomPlan) -> None:
    lines = [part for line in words.sheet(plan) for part in textwrap.wrap(line, 80)]
    assert len(lines) <= 24


@settings(max_examples=300, deadline=None)
@given(plans())
def test_the_answer_never_says_more_than_the_numbers(words: RoomWords, plan: RoomPlan) -> None:
    sheet = list(words.sheet(plan))
    (outcome,) = (line for line in sheet if line.endswith(" by the end of 2028."))
    told = re.findall(r"(fewer than 1|more than 99|\d+) (?:has|have) ", outcome)
    assert len(told) == len(GOALS)
    for goal, number in zip(GOALS, told, strict=True):
        kept = 100 * plan.goals[goal][-1].kept
        assert not number.isdigit() or (abs(int(number) - kept) <= 0.51 and 1 <= int(number) <= 99)
        assert number != "more than 99" or kept >= 99
        assert number != "fewer than 1" or kept <= 1
    below = [*(words.pairing(each, plan) for each in plan.pairings), *words.tests(plan)]
    below += [words.season(each, plan) for each in seasons_of(plan)]
    whole = "\n".join([*sheet, *below, *words.details(plan)])
    assert not re.search(r"\b(0|100) (in|of) 100\b", whole)
    for worth in re.findall(r"worth (\d+|fewer than 1) in 100", whole):
        assert worth.isdigit()
        own = [each.worth / 4 for each in plan.tests] + [own.worth / 4 for p in plan.pairings for own in p.learns]
        assert any(abs(100 * each - int(worth)) <= 0.51 and each >= 0.01 for each in own)
    for line, other in zip([line for line in sheet if line.startswith("Next best")], plan.next_best[:1], strict=True):
        assert ("as good" in line) == (abs(other.value) < 0.04)
        assert ("not sure" in line) == (0.04 <= abs(other.value) <= 2 * other.value_error)
    for pairing, paragraph in zip(plan.pairings, below, strict=False):
        assert ("By itself it adds less than 1 in 100" in paragraph) == (pairing.alone < 0.04)
