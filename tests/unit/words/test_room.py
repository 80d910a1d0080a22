"""The plan for the whole room in words, of plans made by hand."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from helpers.from_text import bound
from helpers.wished_rooms import SMALL

from sitegen.content.collection import Collection
from sitegen.content.prices import Money
from sitegen.content.wishes import WishedTests
from sitegen.plans.room.kinds import (
    GoalSeason,
    LeftOut,
    Lesson,
    NotTried,
    OtherChoice,
    RoomPairing,
    RoomPlan,
    SeasonPlaces,
    WorthOfTest,
)
from sitegen.words.room import RoomWords, seasons_of
from sitegen.words.room_names import chance_text, difference_text


@pytest.fixture(scope="module")
def collection() -> Collection:
    return bound(SMALL)


@pytest.fixture(scope="module")
def words(collection: Collection) -> RoomWords:
    assert collection.wishes is not None
    return RoomWords(collection, collection.wishes, collection.species["corn-snake"])


def goal(*kept: float, born: float = 0.0, known: float = 0.0) -> tuple[GoalSeason, ...]:
    return tuple(
        GoalSeason(2027 + at, max(born, chance), chance, known or chance, 0.004) for at, chance in enumerate(kept)
    )


TEACHES = RoomPairing("rue", "cumin", {}, 0.36, 0.01, (Lesson("rue", "anery", 0.36, 0.01),), {}, 8.2)
PLAN = RoomPlan(
    "corn-snake", 2027, 2029,
    pairings=(
        RoomPairing("sage", "cumin", {"copper": 0.4, "snow-motley": 0.03}, 1.2, 0.02, (), {"copper": 0.31}, 12.5),
        RoomPairing("fern", "flint", {"snow-motley": 0.2}, 0.2, 0.02, (), {}, 11.0, Fraction(1, 16)),
        TEACHES,
    ),
    resting=("yarrow",),
    goals={"copper": goal(0.3, 0.63, 0.97), "snow-motley": goal(0.0, 0.4, 0.8, born=0.9, known=0.5)},
    value=3.7, value_error=0.02, weights=4.0, draws=4000,
    places=(SeasonPlaces(2027, 14.2, 13, 16, 4.6), SeasonPlaces(2029, 17.1, 15, 18, 0.04)),
    next_best=(
        OtherChoice((("sage", "cumin"), ("fern", "flint"), ("yarrow", "cumin")), -0.05, 0.01,
                    {"copper": 0.01, "snow-motley": -0.02}),
        OtherChoice((("sage", "cumin"), ("fern", "flint")), -0.02, 0.01, {"copper": -0.004}),
    ),
    tried=1412,
)  # fmt: skip


def test_the_sheet_is_one_screen_and_begins_with_the_pairings(words: RoomWords) -> None:
    assert list(words.sheet(PLAN)) == [
        "Corn snake, season 2027, three clutches:",
        "  Sage x Cumin for Copper lace and snow motley",
        "  Fern x Flint for snow motley",
        "  Rue x Cumin to learn whether Rue carries anerythristic: about 8 young decide",
        "Resting, though ready: Yarrow.",
        "Of their young you will keep about 5 (your limit is 6).",
        "Of 100 such plans 97 have Copper lace and 80 have snow motley by the end of 2029.",
        "17 of 18 places will be taken (15 to 18).",
        "Next best: Yarrow x Cumin instead of Rue x Cumin: Copper lace 1 higher, snow motley 2 lower.",
    ]


def test_waiting_is_an_answer(words: RoomWords) -> None:
    waiting = replace(PLAN, pairings=(), resting=("sage",), next_best=())
    assert list(words.sheet(waiting))[:2] == [
        "Corn snake, season 2027: no pairing. There is no pair of yours that can be made now.",
        "Resting, though ready: Sage.",
    ]
    nothing = "None that can be made now would add as much as 1 in 100."
    for lost, why in ((-0.02, nothing), (-0.2, "You do better to wait.")):
        other = replace(PLAN.next_best[0], value=lost)
        assert next(iter(words.sheet(replace(waiting, next_best=(other,))))).endswith(f"no pairing. {why}")


def test_a_pairing_that_loses_nothing_is_told_as_one_to_leave_out(words: RoomWords) -> None:
    idle = replace(PLAN, pairings=(replace(TEACHES, alone=0.03, learns=()),), next_best=())
    assert list(words.sheet(idle))[1] == "  Rue x Cumin for what its young may bring later (less than 1 in 100)"
    assert words.pairing(idle.pairings[0], idle).endswith(
        "By itself it adds less than 1 in 100; leave it out if she had better rest."
    )


def test_what_cannot_be_reached_and_what_is_there_is_said(words: RoomWords) -> None:
    told = list(words.sheet(replace(PLAN, owned=("copper",), unreachable=("snow-motley",), short=3)))
    assert told[6] == "There already: Copper lace."
    assert not [line for line in told if line.startswith("By the end of 2029")]
    assert "You have 3 animals more than places; none of yours is given up for that." in told
    assert "Nobody in this room can bring snow motley by 2029, whatever is paired." in told


def test_a_limit_that_shuts_out_the_best_is_told_and_stands(words: RoomWords) -> None:
    closer = OtherChoice((("sage", "flint"),), 0.2, 0.01, {"copper": 0.06})
    told = list(words.sheet(replace(PLAN, pairings=PLAN.pairings[:1], closer=closer)))
    assert told[-1] == (
        "Without your relatedness limit (1/8), closer pairs later, and Sage x Flint instead of Sage x Cumin now: "
        "Copper lace 6 higher. The limit stands."
    )
    shut_out = (NotTried(LeftOut.RELATED, pairs=(("sage", "flint"),)),)
    now = list(words.sheet(replace(PLAN, pairings=PLAN.pairings[:1], closer=closer, not_tried=shut_out)))
    assert "Sage x Flint instead of Sage x Cumin: Copper lace 6 higher." in now[-1]
    same = replace(closer, pairings=(("sage", "cumin"),))
    later = list(words.sheet(replace(PLAN, pairings=PLAN.pairings[:1], closer=same)))
    assert "(1/8), closer pairs later: Copper lace 6 higher." in later[-1]


def test_differences_below_1_in_100_are_as_good(words: RoomWords) -> None:
    even = OtherChoice((("sage", "cumin"), ("fern", "flint")), -0.02, 0.01, {"copper": -0.004})
    told = list(words.sheet(replace(PLAN, next_best=(even,))))
    assert told[-1] == "Next best: leaving out Rue x Cumin would be as good."


def test_goals_that_weigh_each_other_up_are_named(words: RoomWords) -> None:
    even = OtherChoice((("sage", "cumin"), ("fern", "flint")), -0.02, 0.01, {"copper": -0.02, "snow-motley": 0.05})
    told = list(words.sheet(replace(PLAN, next_best=(even,))))
    assert (
        told[-1] == "Next best: leaving out Rue x Cumin: Copper lace 2 lower, snow motley 5 higher, all in all as good."
    )


def test_goals_that_are_too_far_are_told_with_what_to_do(words: RoomWords) -> None:
    far = replace(PLAN, goals={"copper": goal(0.0, 0.002)})
    assert "No goal comes near by then; write a later season under last to see what can begin it." in words.sheet(far)


def test_an_order_that_is_not_sure_says_so(words: RoomWords) -> None:
    doubtful = replace(PLAN.next_best[0], value_error=0.03)
    told = list(words.sheet(replace(PLAN, next_best=(doubtful,), sure=False)))
    assert told[-1].endswith("snow motley 2 lower, and which is better is not sure.")
    assert not list(words.sheet(replace(PLAN, sure=False)))[-1].endswith("not sure."), "this one is sure by itself"


def test_where_all_is_there_nothing_is_compared(words: RoomWords) -> None:
    told = list(words.sheet(replace(PLAN, pairings=(), owned=("copper", "snow-motley"))))
    assert told[0].endswith("no pairing. All you want is there already.")
    assert not [line for line in told if line.startswith("Next best")]


def test_a_pairing_says_what_it_gives_what_it_teaches_and_what_is_given_up(words: RoomWords) -> None:
    first, second, third = (words.pairing(each, PLAN) for each in PLAN.pairings)
    assert first == (
        "Sage x Cumin. In 31 of 100 such seasons it brings Copper lace at once. A clutch has about 13 living young. "
        "Without it, and with nothing in its place: Copper lace 40 lower, snow motley 3 lower."
    )
    assert "Their inbreeding coefficient would be 1/16." in second
    assert third == (
        "Rue x Cumin. A clutch has about 8 living young. Judging them is worth 9 in 100 to you: they tell whether Rue "
        "carries anerythristic. Without it, and with nothing in its place: 9 lower over all goals. The best without "
        "it: Yarrow x Cumin in its place: Copper lace 1 higher, snow motley 2 lower."
    )


def test_what_one_look_teaches_of_two_animals_is_worth_something_once(words: RoomWords) -> None:
    both = replace(TEACHES, learns=(*TEACHES.learns, Lesson("cumin", "anery", 0.36), Lesson("rue", "amel", 0.0)))
    told = words.pairing(both, replace(PLAN, pairings=(both,)))
    assert told.count("is worth 9 in 100 to you") == 1
    assert "to you: they tell whether Rue carries anerythristic and Cumin carries anerythristic." in told
    assert "Judging them changes no later choice: they tell whether Rue carries amelanistic." in told


def test_seasons_tell_born_kept_and_known_apart_where_they_differ(words: RoomWords) -> None:
    assert seasons_of(PLAN) == [2027, 2028, 2029]
    assert words.season(2027, PLAN) == (
        "By the end of 2027: Copper lace in 30 of 100; snow motley born in 90, kept in fewer than 1 and known in 50 of "
        "100; 14 animals (13 to 16), about 5 new."
    )


def test_details_say_what_was_not_tried_and_how_sure_the_numbers_are(words: RoomWords) -> None:
    left = (
        NotTried(LeftOut.RELATED, pairs=(("sage", "flint"),)),
        NotTried(LeftOut.EXCHANGE),
        NotTried(LeftOut.DRAWN),
        NotTried(LeftOut.TANGLED, animals=("fern",)),
        NotTried(LeftOut.CANDIDATES, count=1200),
        NotTried(LeftOut.INTERRUPTED),
    )
    told = list(words.details(replace(PLAN, not_tried=left)))
    assert told[:2] == ["1,412 choices for 2027 were looked at.", "Also: leaving out Rue x Cumin would be as good."]
    assert told[2] == "Not tried, for your relatedness limit (1/8): Sage x Flint."
    assert len(told) == 2 + len(left) + 2
    assert told[-2].endswith("each chance may be off by 1 in 100.")
    assert next(iter(words.sheet(replace(PLAN, not_tried=left)))).startswith("You stopped the search")


def test_dna_tests_are_told_with_what_they_are_worth_and_cost(words: RoomWords, collection: Collection) -> None:
    priced = WishedTests(Money(Decimal(60), "EUR"), {"corn-snake": ("anery", "amel")})
    words = RoomWords(collection, replace(words.wishes, tests=priced), words.species)
    tests = (("rue", "anery", 0.2), ("fern", "anery", 0.12), ("sage", "anery", 0.03), ("sage", "amel", -0.001),
             ("yarrow", "anery", 0.0))  # fmt: skip
    plan = replace(PLAN, tests=tuple(WorthOfTest(*each, 0.03, Fraction(60)) for each in tests))
    assert list(words.sheet(plan))[-1] == (
        "A DNA test of Rue for anerythristic before you pair is worth 5 in 100 to you (give or take 2) and costs €60."
    )
    assert list(words.tests(plan)) == [
        "A DNA test of Fern for anerythristic before you pair is worth 3 in 100 to you (give or take 2) and costs €60.",
        "Worth nothing to this plan: a DNA test of Sage and Yarrow for anerythristic.",
        "Worth nothing to this plan: a DNA test of Sage for amelanistic.",
    ]
    assert next(words.tests(PLAN)).startswith("None of the DNA tests in plan.yaml is worth anything to this plan")


def test_limits_that_nobody_wrote_are_told(words: RoomWords, collection: Collection) -> None:
    assert list(words.limits(PLAN)) == []
    free = RoomWords(collection, replace(words.wishes, litters=None, keep=None, places=None), words.species)
    assert list(free.limits(PLAN)) == [
        "Where you wrote no limit the plan takes at most 8 clutches a season, at most 3 young kept of each, or as many "
        "as a goal wants and any number of places."
    ]


def test_every_reason_for_leaving_out_has_words(words: RoomWords) -> None:
    for why in LeftOut:
        told = list(words.details(replace(PLAN, not_tried=(NotTried(why),))))
        assert len(told) > len(list(words.details(PLAN)))


def test_the_first_line_warns_of_a_welfare_note(words: RoomWords) -> None:
    (told,) = words.warnings({("sage", "cumin"): ("tessera",), ("fern", "flint"): ()}, {"copper": ("tessera",)})
    assert told.startswith("Read this first: Sage x Cumin can give tessera; Copper lace asks for tessera.")
    assert "veterinarian" in told
    assert list(words.warnings({("fern", "flint"): ()}, {"snow-motley": ()})) == []


@pytest.mark.parametrize(
    ("chance", "told"),
    [(0.0, "fewer than 1"), (1.0, "more than 99"), (0.125, "13"), (0.995, "more than 99"), (0.5, "50")],
)
def test_a_drawn_chance_is_never_none_or_all(chance: float, told: str) -> None:
    assert chance_text(chance) == told


@pytest.mark.parametrize(("value", "told"), [(0.009, ""), (-0.009, ""), (0.012, "1 higher"), (-0.024, "2 lower")])
def test_a_difference_is_told_from_1_in_100_on(value: float, told: str) -> None:
    assert difference_text(value) == told
