"""Law: once a litter is on record, a road goes on as it would in those plans in which that litter came.

What was kept of it is on record too. A holdback that has an animal on record counts as filled, so only such litters are
looked at that fill a holdback or leave it empty.
"""

import pytest
from helpers.near_the_truth import DRAWS, NONE, Share, beside, chance, far_off, mean
from helpers.outlooks import outlook
from helpers.played_roads import FirstSeason, first_season
from helpers.road_cases import Road, all_roads, drawn_road, written_roads
from helpers.road_rules import Rules, Seen
from helpers.slow_roads import slow_road

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather

Litter = list[tuple[str, str]]
"""Sex and looks of each young; none stands for slugs."""

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
    "slugs, and she rests as after a litter": ("she rests after a litter", [], {}),
    "slugs, and one try is used": ("two tries with a dam who may carry", [], {}),
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


def recorded(road: Road, litters: list[tuple[str, list[Seen] | None]], kept: dict[str, list[tuple[int, int]]]) -> Road:
    """The road in the autumn after its first season.

    Args:
        road: As it was before.
        litters: The stage of each pairing, and its young or None.
        kept: STAGE.HOLDBACK to what was kept under it: number of the pairing, place in its litter.
    """
    stages = {key: {**stage, "litters": []} for key, stage in road.text["stages"].items()}
    records: dict[str, object] = {}
    for number, (name, young) in enumerate(litters):
        stage = stages[name]
        stage["litters"].append(f"2027-{number}")
        record = {"dam": stage["dam"], "sire": stage["sire"], "paired": "2027-03-10"}
        if not young:
            record["failed"] = {"date": "2027-06-01", "what": "not-gravid" if young is None else "slugs"}
        else:
            record["born"] = "2027-07-01"
            record["young"] = {
                f"{place:02}": {"sex": each.sex, "shows": sorted(each.looks)} for place, each in enumerate(young)
            }
        records[f"2027-{number}"] = record
    for name, stage in stages.items():
        for branch in ("keep", "else"):
            for key, own in stage.get(branch, {}).items():
                if animals := kept.get(f"{name}.{key}"):
                    named = [f"2027-{number}/{place:02}" for number, place in animals]
                    stage[branch] = {**stage[branch], key: {**own, "animals": named}}
    own_litters = {**road.text.get("litters", {}), **records}
    return Road(f"{road.name}, later", {**road.text, "stages": stages, "litters": own_litters, "as_of": "2027-10-01"})


def goes_on(road: Road, litters: list[tuple[str, list[Seen] | None]], kept: dict[str, list[tuple[int, int]]]) -> None:
    """Holds the simulator, with those litters on record, against the exact numbers of plans in which they came."""
    exact = slow_road(Rules(*road.records(), road.as_of), given=[young for _, young in litters])
    later = recorded(road, litters, kept)
    collection, project = later.records()
    found = outlook(ask(gather(collection)), project, later.as_of, draws=DRAWS)
    told = {each.season: each for each in found.by_season}
    loads = {each.season: each for each in found.loads}
    shares: list[Share] = []
    seasons = list(exact.kept)[1:]
    for season in seasons:
        each, load = told.get(season), loads.get(season)
        shares.append(chance(f"kept {season}", each.kept if each else NONE, exact.kept[season]))
        shares.append(chance(f"known {season}", each.known if each else NONE, exact.known[season]))
        shares.append(mean(f"young {season}", load.young.mean if load else NONE, exact.young[season]))
        shares.append(mean(f"new {season}", load.kept.mean if load else NONE, exact.new[season]))
    begun = {name for name, _ in litters}
    for stage in found.stages:
        if stage.id not in begun:
            bred, ended = dict(stage.bred), {how.value: share for how, share in stage.ended.items()}
            for season in seasons:
                own = exact.bred[stage.id][season]
                shares.append(chance(f"{stage.id} bred {season}", bred.get(season, NONE), own))
            for how in ("goal", "kept", "partly", "else", "stuck"):
                own = exact.ended[stage.id].get(how, NONE)
                shares.append(chance(f"{stage.id} ended {how}", ended.get(how, NONE), own))
    assert not far_off(shares)


@pytest.mark.parametrize("name", CASES)
def test_a_road_goes_on_from_what_came(name: str) -> None:
    before, young, kept = CASES[name]
    road = written_roads()[before]
    first = next(iter(road.text["stages"]))
    seen = None if young is None else [Seen(sex, frozenset(looks.split())) for sex, looks in young]
    goes_on(road, [(first, seen)], {key: [(0, place) for place in places] for key, places in kept.items()})


SEEDS = (
    3, 4, 16, 23, 35, 46, 53, 64, 86, 108, 112, 119, 120, 129, 139, 155, 166, 167, 175, 178, 196, 200, 230, 301, 302,
    322, 361, 365, 405, 417,
)  # fmt: skip
"""Drawn roads whose first season, drawn too, can be told by records: see :func:`can_be_told`."""


def can_be_told(road: Road, rules: Rules, first: FirstSeason) -> bool:
    """True where records say all of it, and say it of a road that goes on.

    Each holdback is full or empty, since any animal on record fills it; a stage whose tries are used has all that it
    keeps otherwise, or nothing of it; no litter is empty, no young was kept beside, and none that was kept may be the
    goal.
    """
    if road.text["litters_a_year"] != 1 or first.over or first.beside or any(own == [] for _, own in first.litters):
        return False
    full = [len(first.kept[number]) in (0, slot.own.count) for number, slot in enumerate(rules.slots)]
    for at, stage in enumerate(rules.stages):
        other = [bool(first.kept[n]) for n, slot in enumerate(rules.slots) if slot.stage == at and slot.is_else]
        if any(other) and not all(other) and stage.tries == 1:
            return False
    return all(full) and not slow_road(rules, given=[own for _, own in first.litters]).kept[rules.first]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_drawn_road_goes_on_from_what_came(seed: int) -> None:
    road = drawn_road(seed)
    rules = Rules(*road.records(), road.as_of)
    first = first_season(rules, seed)
    assert can_be_told(road, rules, first)
    names = list(road.text["stages"])
    kept = {
        f"{names[slot.stage]}.{slot.own.id}": first.kept[number]
        for number, slot in enumerate(rules.slots)
        if first.kept[number]
    }
    goes_on(road, [(names[at], young) for at, young in first.litters], kept)


# A pairing on record.

PAIRED = [
    road
    for rank, road in enumerate(all_roads())
    if rank % 4 == 1 and road.text.get("litters_a_year", 1) == 1 and not {"breeding_season", "as_of"} & set(road.text)
]


@pytest.mark.parametrize("road", PAIRED, ids=lambda road: road.name)
def test_a_pairing_on_record_is_the_pairing_that_was_planned(road: Road) -> None:
    """In May, paired and not yet born: every number is the one from before the season; so too when eggs are laid."""
    rules = Rules(*road.records(), road.as_of)
    exact, pairings = slow_road(rules), first_season(rules, 1).litters
    for laid in (False, True) if rules.takes == 1 else (False,):
        stages = {key: {**stage, "litters": []} for key, stage in road.text["stages"].items()}
        records = {}
        for number, (at, _) in enumerate(pairings):
            stage = stages[list(stages)[at]]
            stage["litters"].append(f"2027-{number}")
            records[f"2027-{number}"] = {"dam": stage["dam"], "sire": stage["sire"], "paired": "2027-03-10"}
            if laid:
                records[f"2027-{number}"]["laid"] = "2027-04-20"
        litters = {**road.text.get("litters", {}), **records}
        text = {**road.text, "stages": stages, "litters": litters, "as_of": "2027-05-01"}
        later = Road(f"{road.name}, paired", text)
        collection, project = later.records()
        found = outlook(ask(gather(collection)), project, later.as_of, draws=DRAWS)
        assert not far_off(beside(found, exact))
