"""Law: what the simulator tells of a road is what the slow truth tells, and it decides on nothing that nobody sees."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from helpers.near_the_truth import DRAWS, NONE, Share, beside, chance, far_off
from helpers.outlooks import outlook
from helpers.road_cases import Road, all_roads
from helpers.road_rules import Rules
from helpers.slow_roads import slow_road
from helpers.slow_told import First, Told

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.plans.roads.kinds import RoadOutlook

ROADS = {road.name: road for road in all_roads()}
FEW = [name for rank, name in enumerate(ROADS) if rank % 5 == 0]


@cache
def truth(name: str) -> Told:
    road = ROADS[name]
    return slow_road(Rules(*road.records(), road.as_of))


def played(road: Road, order: int = 0, names: dict[str, str] | None = None, more: str = "") -> RoadOutlook:
    collection, project = road.records(order, names, more)
    return outlook(ask(gather(collection)), project, road.as_of, draws=DRAWS)


@cache
def played_as_written(name: str) -> RoadOutlook:
    return played(ROADS[name])


LESS_IS_KNOWN = ("the sire in doubt is told by the other gene",)
"""Where a sire in doubt ties loci, the program looks at each by itself and calls less known than is (``known.py``)."""


@pytest.mark.parametrize("name", ROADS)
def test_every_number_is_near_the_exact_one(name: str) -> None:
    shares = beside(played_as_written(name), truth(name))
    if name in LESS_IS_KNOWN:
        shares = (each for each in shares if not (each.what.startswith("known") and each.told < each.exact))
    assert not far_off(shares)


def first_litters(found: RoadOutlook, exact: Told) -> Iterator[Share]:
    """What the first litter of a stage gives: exact where the parents are there, else among the plans that bred it."""
    for stage in found.stages:
        for held in stage.holdbacks:
            own = exact.first.get((stage.id, held.id), First())
            if not own.right:
                yield chance(f"{stage.id}.{held.id} right", held.right, NONE)
                continue
            what, exactly = f"{stage.id}.{held.id}", not held.drawn
            if exactly and next(iter(exact.bred[stage.id].values())) < 1:
                continue  # told of the parents as they are known today, not of the plans that get so far
            of = Fraction(DRAWS)
            if not exactly:
                yield chance(f"{what} drawn", Fraction(held.drawn, DRAWS), own.litters)
            enough, right = own.enough / own.litters, own.right / own.young
            shares = [
                Share(f"{what} expected", held.expected, own.expected.mean, own.expected.variance, of * own.litters),
                chance(f"{what} enough", held.in_one_litter, enough, of * own.litters),
            ]
            # Littermates hang together: as if only one in so many told of the share.
            together = max(1, own.young / own.litters) ** 2
            shares.append(chance(f"{what} right", held.right, right, of * own.young / together))
            if held.unseen:
                told = {**held.each, "": held.carries or NONE}
                for name, share in told.items():
                    has = own.has[name] / own.right
                    shares.append(chance(f"{what} has {name}", share, has, of * own.right / together))
            for each in shares:
                yield replace(each, variance=NONE) if exactly else each


@pytest.mark.parametrize("name", [name for name in ROADS if name != "a hidden form that kills with two copies"])
def test_what_stages_give_is_near_the_exact_one(name: str) -> None:
    """(Where it hangs on what cannot be seen how many live, one young of a pair stands for it, as in inference.)"""
    assert not far_off(first_litters(played_as_written(name), truth(name)))


@pytest.mark.parametrize("name", FEW)
def test_ranges_hold_eight_in_ten(name: str) -> None:
    """A tenth of all plans lies below the range or at its low end, and a tenth at its high end or above."""
    for load in played_as_written(name).loads:
        for told, exact in (
            (load.young, truth(name).young[load.season]),
            (load.kept, truth(name).new[load.season]),
            (load.held, truth(name).held[load.season]),
        ):
            for end, inward in ((told.low, 1), (told.high, -1)):
                beyond = sum(chance for number, chance in exact.chances.items() if (end - number) * inward > 0)
                up_to = sum(chance for number, chance in exact.chances.items() if (end - number) * inward >= 0)
                assert beyond <= Fraction(1, 10) or chance("beyond", Fraction(1, 10), beyond).is_near
                assert up_to >= Fraction(1, 10) or chance("up to", Fraction(1, 10), up_to).is_near


# Nobody is told the genotypes.


@cache
def told_the_genotypes(name: str) -> Told:
    """The truth of somebody who keeps the true goal first, and then what carries the most."""
    road = ROADS[name]
    return slow_road(Rules(*road.records(), road.as_of), told_genotypes=True)


HIDDEN = (
    "a goal of which nobody sees one gene",
    "a daughter who seems to carry, twice",
    "linked, and nobody knows which stand together",
    "four founders, two of them uncertain",
    "one of three who may carry",
    "one daughter of three, two in three of them carry",
    "two unseen genes of two uncertain parents",
    "the hidden look among the goals",
    "sons who may carry on the Z",
    "one wild type among those that look so",
    "else daughters who may carry, and only one is kept",
    "of one hidden gene in a series",
    "linked genes kept by one of them",
    *(f"drawn {seed}" for seed in (19, 32, 80, 102, 129, 169, 187, 524)),
)
"""Roads on which it would pay to be told."""


@pytest.mark.parametrize("name", HIDDEN)
def test_who_is_told_the_genotypes_keeps_more_and_the_simulator_is_told_nothing(name: str) -> None:
    last = max(truth(name).kept)
    told = told_the_genotypes(name).kept[last]
    assert told - truth(name).kept[last] > Fraction(3, 100)  # eight standard errors at the most
    found = next(each.kept for each in played_as_written(name).by_season if each.season == last)
    assert not chance("kept", found, told).is_near


def test_where_all_is_seen_it_does_not_pay_to_be_told() -> None:
    for name in ("one try for a visible goal", "else a daughter back to her sire", "a goal of the unwanted sex"):
        assert told_the_genotypes(name).born[2027] == truth(name).born[2027]
        assert told_the_genotypes(name).kept[2027] == truth(name).kept[2027]
    name = "one of three who may carry"
    assert truth(name).kept[2027] == Fraction(1, 2)
    assert told_the_genotypes(name).kept[2027] == 1 - Fraction(1, 2) ** 3


# What does not matter changes nothing.

NAMES = {"mum": "zora", "dad": "abel", "aunt": "mum", "uncle": "dad"}
STRANGERS = """
=== animals/aa-first/animal.yaml
{species: snake, sex: female, born: 2020-07-01}
=== animals/zz-last/animal.yaml
{species: snake, sex: male}
=== animals/mz-young/animal.yaml
{species: snake, dam: aa-first, sire: zz-last, shows: []}
=== litters/2025-strangers/litter.yaml
{dam: aa-first, sire: zz-last, born: 2025-07-02, young: {"01": {sex: male, shows: []}}, others: [{count: 3, shows: []}]}
"""


@pytest.mark.parametrize("name", FEW)
def test_order_names_and_strangers_change_nothing(name: str) -> None:
    for found in (played(ROADS[name], order=3), played(ROADS[name], names=NAMES), played(ROADS[name], more=STRANGERS)):
        assert not far_off(beside(found, truth(name)))


@pytest.mark.parametrize("name", FEW[:6])
def test_the_same_records_give_the_same(name: str) -> None:
    assert repr(played(ROADS[name])) == repr(played_as_written(name))


def test_the_roads_have_everything() -> None:
    """The features that the truth is there for, counted over all roads."""
    texts = [str(road.text) for road in ROADS.values()]
    assert len(texts) >= 70
    for feature in (
        "'else'", "'until': 'else'", "'only'", "'tries'", "'at_least'", "'count': 2", "'rest': 1", "'takes'",
        "'lethal'", "'sex_linked'", "'compounds'", "'incomplete_dominant'", "'dominant'", "'hidden_by'",
        "'penetrance'", "'linked'",
        "'litters_a_year': 2", "'breeding_age'", "66%", "'from_litter'", "'XY'",
    ):  # fmt: skip
        assert sum(feature in text for text in texts) >= 1, feature
    ended = {how for name in ROADS for own in truth(name).ended.values() for how in own}
    assert ended == {"goal", "kept", "partly", "else", "stuck"}
    unlike = [name for name in ROADS if truth(name).known != truth(name).kept]
    assert len(unlike) >= 15
