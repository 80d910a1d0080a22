"""The machine form of a plan for the room, as plans-reference describes it."""

import json
from dataclasses import replace
from fractions import Fraction

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
from sitegen.plans.room.machine import room_json, rooms_json

PLAN = RoomPlan(
    "corn-snake", 2027, 2029,
    pairings=(
        RoomPairing("sage", "cumin", {"P": 0.31}, 0.12, 0.01, (Lesson("sage", "x", 0.1),), {"P": 0.25}, 8.24,
                    Fraction(1, 8)),
    ),
    resting=("fern",),
    goals={"P": (GoalSeason(2029, 0.63, 0.55, 0.41, 0.007),)},
    value=0.55, value_error=0.007, weights=1.0, draws=4000,
    places=(SeasonPlaces(2027, 14.25, 13, 16, 2.4),),
    next_best=(OtherChoice((("yarrow", "cumin"),), -0.02, 0.003, {"P": -0.00001}),),
    sure=False, tried=412, not_tried=(NotTried(LeftOut.CANDIDATES, count=3), NotTried(LeftOut.EXCHANGE)),
)  # fmt: skip


def test_every_key_of_the_reference_is_there_and_every_number_is_text() -> None:
    found = room_json(PLAN)
    assert found["pairings"] == [
        {
            "dam": "sage", "sire": "cumin", "serves": {"P": "0.3100"}, "learns": {"sage": ["x"]}, "alone": "0.1200",
            "alone_error": "0.0100", "born": {"P": "0.2500"}, "young": "8.2", "kinship": "1/8",
        }
    ]  # fmt: skip
    assert found["goals"] == {
        "P": {
            "born": {"2029": "0.6300"}, "kept": {"2029": "0.5500"}, "known": {"2029": "0.4100"},
            "error": {"2029": "0.0070"},
        }
    }  # fmt: skip
    assert (found["value"], found["value_error"], found["draws"]) == ("0.5500", "0.0070", 4000)
    assert found["places"] == {"2027": {"mean": "14.2", "low": 13, "high": 16}}
    assert (found["keep"], found["resting"]) == ({"2027": "2.4"}, ["fern"])
    assert found["next_best"] == [
        {
            "pairings": [{"dam": "yarrow", "sire": "cumin"}], "value": "-0.0200", "value_error": "0.0030",
            "goals": {"P": "0.0000"},
        }
    ]  # fmt: skip
    assert (found["order"], found["tried"], found["not_tried"]) == ("within-0.01", 412, ["candidates: 3", "exchange"])
    assert json.loads(json.dumps(found)) == found


def test_tests_and_a_closer_choice_stand_there_where_there_are_any() -> None:
    assert not {"tests", "closer", "owned", "unreachable", "short"}.intersection(room_json(PLAN))
    closer = OtherChoice((("fern", "flint"),), 0.05, 0.004, {"P": 0.05})
    found = room_json(replace(PLAN, tests=(WorthOfTest("sage", "x", 0.04, 0.01, Fraction(60)),), closer=closer))
    assert found["tests"] == [{"animal": "sage", "locus": "x", "worth": "0.0400", "error": "0.0100", "price": "60"}]
    assert found["closer"]["pairings"] == [{"dam": "fern", "sire": "flint"}]
    assert (found["closer"]["value"], found["closer"]["value_error"]) == ("0.0500", "0.0040")


def test_one_species_stands_as_it_is_and_several_are_put_together() -> None:
    assert rooms_json([]) == {}
    assert rooms_json([PLAN]) == room_json(PLAN)
    other = replace(PLAN, species="sand-boa", goals={"Q": PLAN.goals["P"]}, resting=("agate",))
    both = rooms_json([PLAN, other])
    assert (list(both["goals"]), both["resting"]) == (["P", "Q"], ["fern", "agate"])
    assert both["species"] == {"corn-snake": room_json(PLAN), "sand-boa": room_json(other)}
