"""A search for routes: what is best is known by hand or by trying everything."""

import datetime as dt
import random
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product

import pytest
from helpers.from_text import bound, told

from sitegen.content.projects import Holdback, Project, Stage
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.findings import Place, SitegenError
from sitegen.genetics.loci import Sex
from sitegen.plans.roads import routes
from sitegen.plans.roads.courses import Roads
from sitegen.plans.roads.outlook import outlook
from sitegen.plans.roads.routes import Rank, horizon_of, rank_of, search, worked_out_by
from sitegen.plans.roads.routes_bounds import estimate
from sitegen.plans.roads.routes_kinds import Bounds, Found, Route, Why, Worth
from sitegen.plans.roads.routes_shapes import Role, shapes
from sitegen.plans.roads.routes_stages import as_record

DAY = dt.date(2026, 10, 1)
NOWHERE = Place("")

SPECIES = """
=== species/s.yaml
sexes: ZW
litter_size: {low: 6, usual: 13, high: 28}
breeding_age: {female: 30 months, male: 18 months}
loci:
  a: {inheritance: recessive}
  b: {inheritance: recessive}
  c: {inheritance: recessive}
  d: {inheritance: dominant}
"""


def animal(name: str, sex: str, shows: str = "", stated: str = "", born: str = "2021-07-01", more: str = "") -> str:
    return (
        f"=== animals/{name}/animal.yaml\nspecies: s\nsex: {sex}\nborn: {born}\nshows: [{shows}]\n"
        f"stated: {{{stated}}}\n{more}\n"
    )


def project(goal: str, more: str = "") -> str:
    return f"=== projects/p/project.yaml\nspecies: s\ngoal: {{{goal}}}\n{more}\n"


def asked_of(text: str) -> tuple[Asked, Project]:
    asked = ask(gather(bound(SPECIES + text)))
    return asked, asked.evidence.collection.projects["p"]


def found_in(text: str, **bounds: object) -> tuple[Found, Asked, Project]:
    asked, own = asked_of(text)
    return searched(asked, own, **bounds), asked, own


def searched(asked: Asked, own: Project, **bounds: object) -> Found:
    wanted = {"horizon": horizon_of(asked, own, DAY), "relatedness": own.relatedness_limit, **bounds}
    evaluate = worked_out_by(Roads(asked, "s"), own, DAY, int(str(wanted["horizon"])))
    return search(asked, own, DAY, evaluate, replace(Bounds(), **wanted))


def last_share(asked: Asked, own: Project, route: Route) -> Fraction:
    """Share of goals among young of the last stage."""
    return outlook(asked, own, DAY, stages=route.stages).stages[-1].goal_each


def pairs(route: Route) -> list[tuple[str, str]]:
    return [(stage.dam, stage.sire) for stage in route.stages]


# By hand.


def test_two_visuals_of_two_recessives_are_crossed_and_their_young_with_each_other() -> None:
    found, asked, own = found_in(animal("x", "female", "a") + animal("y", "male", "b") + project("shows: [a, b]"))
    assert found.routes
    best = found.routes[0]
    assert pairs(best) == [("x", "y"), ("first.daughters", "first.sons")]
    assert last_share(asked, own, best) == Fraction(1, 16)
    for kept in best.stages[0].keep:
        assert (kept.shows, kept.carries) == ((), ("a", "b"))
    assert [stage.season for stage in best.stages] == [2027, 2030]  # 30 months on 1 March 2030, not on 1 March 2029


def test_one_that_shows_both_is_crossed_back() -> None:
    text = animal("x", "female", "a") + animal("y", "male", "b") + animal("z", "male", "a, b")
    found, asked, own = found_in(text + project("shows: [a, b]"))
    best = min(found.routes, key=lambda route: (route.young, -route.worth.chance))
    assert pairs(best) == [("x", "z"), ("first.daughters", "z")]
    assert last_share(asked, own, best) == Fraction(1, 2)
    assert best.stages[0].keep[0].shows == ("a",)  # all young show it
    assert not any(("y" in pair) for route in found.routes for pair in pairs(route))  # z has all that y has, and more


def test_a_visual_male_of_one_generation_may_be_a_son() -> None:
    """With one dam the quickest second generation is her own son: males breed a season earlier."""
    text = animal("x", "female", "a, b") + animal("y", "male") + animal("z", "male", "a")
    found, asked, own = found_in(text + project("shows: [a, b]"))
    assert pairs(found.routes[0]) == [("x", "z"), ("x", "first.sons")]
    assert last_share(asked, own, found.routes[0]) == Fraction(1, 2)
    assert [left.animal for left in found.left_out if left.why is Why.CARRIES_NOTHING] == ["y"]


def test_three_recessives_from_two_animals_are_one_in_64() -> None:
    text = animal("x", "female", "a, b") + animal("y", "male", "c") + project("shows: [a, b, c]")
    found, asked, own = found_in(text, generations=2)
    siblings = [route for route in found.routes if pairs(route)[-1] == ("first.daughters", "first.sons")]
    assert siblings
    assert {last_share(asked, own, route) for route in siblings} == {Fraction(1, 64)}


def test_what_two_first_pairings_bring_meets_in_the_second_generation() -> None:
    """Four animals, each with a gene of its own (four genes): no two of them have the whole."""
    text = "".join(
        animal(name, sex, gene) for name, sex, gene in (
            ("w", "female", "a"), ("x", "male", "b"), ("y", "female", "c"), ("z", "male", "d"),
        )
    )  # fmt: skip
    found, *_ = found_in(text + project("shows: [d], carries: [a, b, c]"), generations=2)
    assert found.routes
    for route in found.routes:
        assert {parent for stage in route.stages for parent in (stage.dam, stage.sire)} >= {"w", "x", "y", "z"}
        assert len(route.stages) == 3


def test_a_direct_pairing_is_best_where_it_can_be() -> None:
    text = animal("x", "female", "a, b") + animal("y", "male", "a", "b: certain")
    found, asked, own = found_in(text + project("shows: [a, b]"))
    assert pairs(found.routes[0]) == [("x", "y")]
    assert found.routes[0].young == 0
    assert last_share(asked, own, found.routes[0]) == Fraction(1, 2)


def test_young_that_are_the_goal_are_not_bred_on() -> None:
    text = animal("x", "female", "a") + animal("y", "male", "a") + project("shows: [a]")
    found, *_ = found_in(text)
    assert [pairs(route) for route in found.routes] == [[("x", "y")]]


# Everything tried.


def every_road(asked: Asked, own: Project) -> Iterator[tuple[tuple[Stage, ...], int]]:
    """Every road of one or two generations without a second first pairing, all counts and looks, plainly listed."""
    animals = asked.evidence.collection.animals
    by_sex = {sex: sorted(each.id for each in animals.values() if each.sex is sex) for sex in Sex}
    looks = [tuple(part) for n in range(3) for part in combinations(own.goal.shows, n) if n < len(own.goal.shows)]
    goal = Holdback(id="goal", shows=own.goal.shows, carries=(), count=1, sex="", animals=(), place=NOWHERE)
    for dam, sire in product(by_sex[Sex.FEMALE], by_sex[Sex.MALE]):
        yield (Stage(id="first", season=2027, dam=dam, sire=sire, litters=(), keep=(goal,), place=NOWHERE),), 0
        for shows, n, m in product(looks, (0, 1, 2, 4), (0, 1, 2, 4)):
            daughters = (
                (Holdback(id="daughters", shows=shows, carries=(), count=n, sex="female", animals=(), place=NOWHERE),)
                if n
                else ()
            )
            sons = (
                (Holdback(id="sons", shows=shows, carries=(), count=m, sex="male", animals=(), place=NOWHERE),)
                if m
                else ()
            )
            first = Stage(
                id="first", season=2027, dam=dam, sire=sire, litters=(), keep=(*daughters, *sons), place=NOWHERE
            )
            if n and m:
                mates = [("first.daughters", "first.sons")] if n + m <= 8 else []
            elif n:
                mates = [("first.daughters", other) for other in by_sex[Sex.MALE]]
            else:
                mates = [(other, "first.sons") for other in by_sex[Sex.FEMALE]] if m else []
            for dam_name, sire_name in mates:
                second = Stage(
                    id="second", season=2027, dam=dam_name, sire=sire_name, litters=(), keep=(goal,), place=NOWHERE
                )
                yield (first, second), n + m


def best_of(ranks: list[Rank]) -> set[Rank]:
    return {
        rank for rank in ranks if rank.of_100 and not any(other.no_worse(rank) and other != rank for other in ranks)
    }


def ranks_of(found: Found) -> set[Rank]:
    horizon = found.bounds.horizon
    return {rank_of(each.worth.median, each.young, each.worth.chance, horizon) for each in found.routes}


TINY = (
    animal("x", "female", "a") + animal("y", "male", "b"),
    animal("x", "female", "a", "b: 50%") + animal("y", "male", "b")
    + animal("z", "male", "a", "b: certain", "2025-07-01"),
    animal("v", "female", "", "a: certain, b: certain") + animal("x", "female", "a")
    + animal("y", "male", "b"),
)  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("text", TINY)
def test_the_routes_are_those_that_remain_when_every_road_is_worked_out(text: str) -> None:
    asked, own = asked_of(text + project("shows: [a, b]", "horizon: 2033"))
    evaluate = worked_out_by(Roads(asked, "s"), own, DAY, 2033)
    ranks = []
    for stages, young in every_road(asked, own):
        worth = evaluate(stages)
        ranks.append(rank_of(worth.median, young, worth.chance, 2033))
    found = searched(asked, own, generations=2, animals=3, worked_out=10_000, looked_at=1_000_000)
    assert found.open == 0
    assert ranks_of(found) == best_of(ranks)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(4))
def test_no_route_is_better_than_its_bound(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Random herds with doubtful animals: what is worked out is never better than what it could be at best."""
    dice = random.Random(seed)
    kinds = ("certain", "50%", "66%", "1/3")
    parts = []
    for number in range(6):
        own = {gene: dice.choice(("show", "", *kinds)) for gene in "ab"}
        shows = ", ".join(gene for gene, kind in own.items() if kind == "show")
        stated = ", ".join(f"{gene}: {kind}" for gene, kind in own.items() if kind in kinds)
        born = f"{dice.choice((2022, 2025))}-07-01"
        parts.append(animal(f"n{number}", ("female", "male")[number % 2], shows, stated, born))
    asked, own_project = asked_of("".join(parts) + project("shows: [a, b, d]" if seed % 2 else "shows: [a, b]"))
    if seed % 2:
        asked, own_project = asked_of(
            "".join(parts) + animal("t", "male", "d") + project("shows: [a, b, d]", "rest: 1")
        )
    before = routes._Search._work_out
    compared = []

    def work_out(self: routes._Search, way: routes.Way, chosen: tuple[routes.Want, ...]) -> bool:
        passed = self.heritage.passed(way, dict(zip(way.shape.roles, chosen, strict=True)))
        counts = dict(zip(way.shape.roles, way.counts, strict=True))
        best = estimate(way.shape, way.ready, passed, counts, self.timing)
        done = before(self, way, chosen)
        if done:
            rank, route = self.done[-1]
            method = route.worth.method
            assert method is not None
            assert float(route.worth.chance) <= best.chance + 1e-6 + 5 * float(method.error)
            assert method.runs or best.season <= rank.season
            compared.append((best, route))
        return done

    monkeypatch.setattr(routes._Search, "_work_out", work_out)
    horizon = horizon_of(asked, own_project, DAY)
    evaluate = worked_out_by(Roads(asked, "s"), own_project, DAY, horizon, runs=300, states=8_000)
    search(asked, own_project, DAY, evaluate, Bounds(generations=2, horizon=horizon, worked_out=15))
    assert compared


MANY_KINDS = """
=== species/s.yaml
sexes: ZW
litter_size: {low: 4, usual: 8, high: 12}
litters_a_year: 2
rest: 1
takes: 3/4
breeding_age: {female: 30 months, male: 18 months}
breeding_season: {paired: November, born: July}
loci:
  a: {inheritance: recessive}
  e: {inheritance: incomplete_dominant, two_copies: super e}
  z: {inheritance: recessive, sex_linked: true}
  l: {inheritance: recessive}
  r: {inheritance: recessive}
  h: {inheritance: recessive, hidden_by: [a]}
  m-n:
    alleles: {m: {inheritance: recessive}, n: {inheritance: recessive}}
    compounds: {m/n: mn}
  p: {inheritance: dominant, penetrance: 3/4}
linked:
  - {loci: [l, r], recombination: 1/10}
"""


@pytest.mark.parametrize(
    ("goal", "x", "y"),
    [
        ("shows: [super e, a]", "e", "a"),
        ("shows: [z, a]", "a", "z"),
        ("shows: [l, r]", "l", "r"),
        ("shows: [a, h]", "a", "h"),
        ("shows: [mn, a]", "m, a", "n"),
        ("shows: [p, a]", "p", "a"),
        ("shows: [e], carries: [a]", "e", "a"),
    ],
)
def test_goals_of_every_kind_have_routes_within_their_bounds(
    goal: str, x: str, y: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = MANY_KINDS + animal("x", "female", x) + animal("y", "male", y) + animal("w", "female", y) + project(goal)
    asked = ask(gather(bound(text)))
    own = asked.evidence.collection.projects["p"]
    before = routes._Search._work_out

    def work_out(self: routes._Search, way: routes.Way, chosen: tuple[routes.Want, ...]) -> bool:
        passed = self.heritage.passed(way, dict(zip(way.shape.roles, chosen, strict=True)))
        best = estimate(way.shape, way.ready, passed, dict(zip(way.shape.roles, way.counts, strict=True)), self.timing)
        done = before(self, way, chosen)
        method = self.done[-1][1].worth.method
        assert method is not None
        assert float(self.done[-1][1].worth.chance) <= best.chance + 1e-6 + 5 * float(method.error)
        return done

    monkeypatch.setattr(routes._Search, "_work_out", work_out)
    horizon = horizon_of(asked, own, DAY)
    evaluate = worked_out_by(Roads(asked, "s"), own, DAY, horizon, runs=300, states=8_000)
    found = search(asked, own, DAY, evaluate, Bounds(generations=2, horizon=horizon, worked_out=10))
    assert found.routes
    assert all(last_share(asked, own, route) for route in found.routes)


def test_the_bound_is_exact_where_parents_are_certain_and_one_of_a_kind_is_kept(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked, own = asked_of(animal("x", "female", "a") + animal("y", "male", "b") + project("shows: [a, b]"))
    found = searched(asked, own, generations=2)
    two = next(route for route in found.routes if route.young == 2)
    before = routes._Search._work_out
    seen: dict[str, float] = {}

    def work_out(self: routes._Search, way: routes.Way, chosen: tuple[routes.Want, ...]) -> bool:
        passed = self.heritage.passed(way, dict(zip(way.shape.roles, chosen, strict=True)))
        counts = dict(zip(way.shape.roles, way.counts, strict=True))
        if tuple(way.counts) == (1, 1):
            seen["best"] = estimate(way.shape, way.ready, passed, counts, self.timing).chance
        return before(self, way, chosen)

    monkeypatch.setattr(routes._Search, "_work_out", work_out)
    searched(asked, own, generations=2)
    assert seen["best"] == pytest.approx(float(two.worth.chance), abs=1e-6)


# Laws.

HERD = (
    animal("u", "female", "a", "c: 66%") + animal("v", "female", "b") + animal("w", "female", "c", "a: certain")
    + animal("x", "male", "a", "b: 50%") + animal("y", "male", "c") + animal("z", "male", "b", "", "2025-07-01")
)  # fmt: skip


def test_the_same_records_give_the_same_routes_in_any_order() -> None:
    goal = project("shows: [a, b]", "horizon: 2034")
    parts = ["=== " + part for part in HERD.split("=== ") if part]
    first, *_ = found_in(HERD + goal)
    again, *_ = found_in(HERD + goal)
    turned, *_ = found_in("".join(reversed(parts)) + goal)
    assert first == again == turned
    assert first.routes


def test_no_route_is_beaten_by_another() -> None:
    found, *_ = found_in(HERD + project("shows: [a, b]"))
    ranks = [rank_of(each.worth.median, each.young, each.worth.chance, found.bounds.horizon) for each in found.routes]
    assert len(set(ranks)) == len(ranks)
    assert best_of(ranks) == set(ranks)


def test_a_limit_of_relatedness_is_kept() -> None:
    text = animal("x", "female", "a") + animal("y", "male", "b") + animal("v", "female", "a") + animal("z", "male", "b")
    kept, *_ = found_in(text + project("shows: [a, b]", "relatedness_limit: 1/8"), generations=2)
    assert kept.too_related  # siblings, and young with a parent
    assert kept.routes
    assert all(route.inbreeding <= Fraction(1, 8) for route in kept.routes)
    assert len(kept.routes[0].stages) == 3  # two unrelated first pairings


def test_the_stages_are_what_the_records_reader_reads() -> None:
    found, *_ = found_in(HERD + project("shows: [a, b]"))
    kinds = set()
    for route in found.routes:
        text = HERD + project("shows: [a, b]", as_record(route.stages))
        assert [each for each in told(SPECIES + text) if each.level.value == "error"] == []
        read = bound(SPECIES + text).projects["p"]
        assert tuple(map(placeless, read.stages)) == route.stages
        kinds.add(len(route.stages))
    assert kinds


def placeless(stage: Stage) -> Stage:
    keep = tuple(replace(each, place=NOWHERE) for each in stage.keep)
    return replace(stage, place=NOWHERE, keep=keep)


# Who takes part.


def test_who_is_gone_takes_no_part() -> None:
    text = (
        animal("x", "female", "a") + animal("y", "male", "a", more="died: 2026-01-01")
        + animal("z", "male", "a", more="offer: {state: sold, since: 2026-02-01}")
        + animal("w", "male", "a", more="offer: {state: on hold, since: 2026-02-01}")
        + animal("v", "unknown", "a") + animal("u", "male", "a", born="2026-07-01")
    )  # fmt: skip
    found, *_ = found_in(text + project("shows: [a]"), horizon=2027)
    whys: Mapping[str, Why] = {each.animal: each.why for each in found.left_out}
    assert whys == {"y": Why.DEAD, "z": Why.SOLD, "w": Why.ON_HOLD, "v": Why.NO_SEX, "u": Why.TOO_YOUNG}
    assert found.routes == ()
    later, *_ = found_in(text + project("shows: [a]"), horizon=2029)
    assert [pairs(route) for route in later.routes] == [[("x", "u")]]


def test_equal_animals_are_one_and_lesser_ones_stand_behind() -> None:
    text = (
        animal("x", "female", "a") + animal("w", "female", "a") + animal("v", "female", "", "a: certain")
        + animal("y", "male", "b")
    )  # fmt: skip
    found, *_ = found_in(text + project("shows: [a, b]"), generations=2)
    assert {founder.id: founder.alike for founder in found.founders} == {"w": ("x",), "y": ()}
    assert [(each.animal, each.why, each.beside) for each in found.left_out] == [("v", Why.BEHIND, "w")]
    assert all(route.alike == {"w": ("x",)} for route in found.routes)


def test_nobody_carries_a_part_of_the_goal() -> None:
    found, *_ = found_in(animal("x", "female", "a") + animal("y", "male", "a") + project("shows: [a, b]"))
    assert found.nobody_has == ("b",)
    assert found.routes == ()


def test_a_goal_that_cannot_live_has_no_route() -> None:
    text = SPECIES + "  e: {inheritance: incomplete_dominant, two_copies: super e, two_copies_lethal: true}\n"
    text += animal("x", "female", "e") + animal("y", "male", "e") + project("shows: [super e]")
    asked = ask(gather(bound(text)))
    found = searched(asked, asked.evidence.collection.projects["p"])
    assert found.cannot_live
    assert found.routes == ()


def test_one_that_is_the_goal_already_is_named() -> None:
    text = animal("x", "female", "a, b") + animal("y", "male", "a") + project("shows: [a, b]")
    assert found_in(text)[0].already == ("x",)


def test_a_goal_that_names_nothing_is_refused() -> None:
    with pytest.raises(SitegenError, match="no goal"):
        found_in(animal("x", "female", "a") + project("shows: []"))


def test_a_search_that_is_stopped_gives_the_best_so_far() -> None:
    asked, own = asked_of(HERD + project("shows: [a, b]"))
    calls = []

    def evaluate(stages: tuple[Stage, ...]) -> Worth:
        calls.append(stages)
        if len(calls) > 1:
            raise KeyboardInterrupt
        return Worth(2036, Fraction(6, 10))

    found = search(asked, own, DAY, evaluate, Bounds(horizon=2036))
    assert found.stopped
    assert [route.stages for route in found.routes] == calls[:1]


def test_a_goal_that_cannot_be_seen_is_bred_for_to_the_end() -> None:
    """The first young that looks right need not carry; so the last stage keeps none and goes on."""
    text = animal("x", "female", "a", "b: certain") + animal("y", "male", "a") + project("shows: [a], carries: [b]")
    found, asked, own = found_in(text)
    assert found.routes[0].stages[-1].keep == ()
    assert last_share(asked, own, found.routes[0]) == Fraction(1, 2)


def test_the_shapes_are_what_they_say() -> None:
    """One generation: a pairing. Two: siblings; either sex to a parent, to another; young of two first pairings."""
    assert [len(shapes(number)) for number in (1, 2)] == [1, 7]
    siblings = (Role(0, Sex.FEMALE), Role(0, Sex.MALE))
    assert siblings in [shape.crosses[-1] for shape in shapes(2)]
    for shape in shapes(3):
        assert max(shape.depth) <= 3
        used = {parent.stage for cross in shape.crosses for parent in cross if isinstance(parent, Role)}
        assert used == set(range(len(shape.crosses) - 1))  # every stage but the last serves a later one
