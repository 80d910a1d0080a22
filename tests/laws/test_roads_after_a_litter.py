"""Law: once a litter is on record, a road goes on as it would in those plans in which that litter came.

What was kept of it is on record too. A holdback that has an animal on record counts as filled, so only such litters are
looked at that fill a holdback or leave it empty.
"""

from fractions import Fraction

import pytest
from helpers.road_cases import Road, written_roads
from helpers.road_rules import Rules, Seen
from helpers.slow_roads import slow_road

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.plans.roads.outlook import outlook

DRAWS = 20_000
Litter = list[tuple[str, str]]
"""Sex and looks of each young."""

CASES: dict[str, tuple[str, Litter | None, dict[str, list[int]]]] = {
    "a daughter is kept else": (
        "else a daughter back to her sire", [("male", ""), ("female", "")], {"one.d": [1]},
    ),
    "two daughters, and one is kept else": (
        "else a daughter back to her sire", [("female", ""), ("female", "")], {"one.d": [0]},
    ),
    "neither the goal nor a daughter": ("else a daughter back to her sire", [("male", ""), ("male", "")], {}),
    "no litter came, and there is no other try": ("a pairing that takes half the time, else a daughter", None, {}),
    "nothing from a dam who may carry": ("two tries with a dam who may carry", [("male", ""), ("female", "")], {}),
    "on for the goal, with a daughter kept else": (
        "for the goal until the tries are used", [("female", "")], {"one.d": [0]},
    ),
    "on for the goal, and for a daughter": ("for the goal until the tries are used", [("male", "")], {}),
    "else is filled, and the stage ends": ("until else is filled", [("female", "")], {"one.d": [0]}),
    "until else, and nothing yet": ("until else is filled", [("male", "")], {}),
    "no litter, and she rests all the same": ("she rests after a failure too", None, {}),
    "no litter, and she does not rest": ("she rests after a litter", None, {}),
    "a normal young, and she rests": ("she rests after a litter", [("male", "")], {}),
    "a dam and her son, and nothing yet": (
        "a dam and her son who may carry together", [("male", ""), ("female", "")], {},
    ),
    "two daughters are there": ("two daughters each a litter", [("female", ""), ("female", "")], {"one.d": [0, 1]}),
    "two sons are there": ("two sons in turn", [("male", ""), ("male", "")], {"one.s": [0, 1]}),
    "a daughter of two uncertain parents": (
        "a daughter who seems to carry, twice", [("female", ""), ("male", "")], {"one.d": [0]},
    ),
    "a sex-linked daughter is there": (
        "a sex-linked goal that has to be a male", [("female", "z"), ("male", "t")], {"one.d": [0]},
    ),
    "both are there for the next stage": (
        "two copies make a look of their own", [("female", "g"), ("male", "g")], {"one.d": [0], "one.s": [1]},
    ),
    "linked, kept else": (
        "two linked genes", [("female", "a"), ("male", "b")], {"one.d": [0], "one.s": [1]},
    ),
    "both daughters of the example, and no son": (
        "the first example of the reference", [("female", "t"), ("female", "t")], {"first.daughters": [0, 1]},
    ),
    "both that else asks for": (
        "else asks for both, and one of them is not used", [("female", ""), ("male", "")], {"one.d": [0], "one.s": [1]},
    ),
    "the son of the example, and no daughter": (
        "the first example of the reference", [("male", "t"), ("male", "")], {"first.sons": [0]},
    ),
}  # fmt: skip


def recorded(road: Road, young: Litter | None, kept: dict[str, list[int]]) -> Road:
    """The road in the autumn after its first litter, with that litter on record and what was kept of it."""
    text = dict(road.text)
    first, *_ = text["stages"].values()
    record: dict[str, object] = {"dam": first["dam"], "sire": first["sire"], "paired": "2027-03-10"}
    if young is None:
        record["failed"] = {"date": "2027-06-01", "what": "not-gravid"}
    else:
        record["born"] = "2027-07-01"
        record["young"] = {
            f"{number:02}": {"sex": sex, "shows": looks.split()} for number, (sex, looks) in enumerate(young)
        }
    text["litters"] = {**text.get("litters", {}), "2027-first": record}
    stages = {}
    for name, stage in text["stages"].items():
        own = dict(stage)
        for branch in ("keep", "else"):
            if branch in own:
                own[branch] = {
                    key: {**each, "animals": [f"2027-first/{number:02}" for number in kept[f"{name}.{key}"]]}
                    if f"{name}.{key}" in kept
                    else each
                    for key, each in own[branch].items()
                }
        stages[name] = own
    next(iter(stages.values()))["litters"] = ["2027-first"]
    text["stages"] = stages
    text["as_of"] = "2027-10-01"
    return Road(f"{road.name}, later", text)


@pytest.mark.parametrize("name", CASES)
def test_a_road_goes_on_from_what_came(name: str) -> None:
    before, young, kept = CASES[name]
    road = written_roads()[before]
    given = None if young is None else [Seen(sex, frozenset(looks.split())) for sex, looks in young]
    exact = slow_road(Rules(*road.records(), road.as_of), given=[given])
    later = recorded(road, young, kept)
    collection, project = later.records()
    found = outlook(ask(gather(collection)), project, later.as_of, draws=DRAWS)
    told = {each.season: each for each in found.by_season}
    loads = {each.season: each for each in found.loads}
    shares: list[tuple[str, Fraction, Fraction]] = []
    for season in list(exact.kept)[1:]:
        each, load = told.get(season), loads.get(season)
        shares.append((f"kept {season}", each.kept if each else Fraction(0), exact.kept[season]))
        assert abs((load.young.mean if load else Fraction(0)) - exact.young[season].mean) ** 2 * DRAWS <= (
            16 * exact.young[season].variance
        ), ("young", season)
    bred = dict(found.stages[1].bred) if len(found.stages) > 1 else {}
    for stage in found.stages[1:]:
        shares += [(f"bred {s}", bred.get(s, Fraction(0)), exact.bred[stage.id][s]) for s in list(exact.kept)[1:]]
        ended = {how.value: share for how, share in stage.ended.items()}
        for how in ("goal", "kept", "partly", "else", "stuck"):
            shares.append((f"ended {how}", ended.get(how, Fraction(0)), exact.ended[stage.id].get(how, Fraction(0))))
    far = [
        (what, float(one), float(other))
        for what, one, other in shares
        if (one - other) ** 2 * DRAWS > 16 * other * (1 - other)
    ]
    assert not far
