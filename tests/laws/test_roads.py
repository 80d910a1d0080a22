"""The road as it is added up and as it is drawn, against every road written out one by one in fractions."""

import datetime as dt
from fractions import Fraction
from itertools import product

import pytest
from helpers.by_hand import animal, asked_of, dominant, keep, project, recessive, snake, stage
from helpers.plain_roads import Rules, Told, plain_road
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.content.projects import Goal, Project, Stage
from sitegen.evidence.asking import Asked
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.questions import Impossible, TooTangled
from sitegen.plans.roads.courses import Course, Roads

TODAY = dt.date(2026, 1, 1)
FIRST = 2026
HALF = Fraction(1, 2)

AT_A = st.sampled_from(
    [recessive("a"), dominant("a"), recessive("a", penetrance=Fraction(3, 4)), dominant("a", two_copies_lethal=True)]
)
AT_B = st.sampled_from([recessive("b"), recessive("b", hidden_by=("a",)), None])
STATED = st.sampled_from(["certain", "50%", "66%", ""])
SEXED = st.sampled_from(["female", ""])


@st.composite
def routes(draw: st.DrawFn, looks: list[str]) -> tuple[Stage, ...]:
    """Two or three stages: siblings, back-crosses, several young in turn."""
    shows = st.sampled_from(["", *looks])
    tries = st.sampled_from([None, 1, 2])
    daughters = keep("d", draw(shows), draw(shows), sex="female", count=draw(st.sampled_from([1, 1, 2])))
    sons = keep("s", draw(shows), sex="male", count=draw(st.sampled_from([1, 1, 2])))
    either = keep("e", draw(shows))
    kind = draw(st.sampled_from(["siblings", "back-cross", "outcross", "three"]))
    first = stage("1", FIRST, "mum", "dad", *draw(st.permutations([daughters, sons])), tries=draw(tries))
    last_keep = draw(st.sampled_from([(), (either,), (keep("e", draw(shows), count=2),)]))
    if kind == "siblings":
        return first, stage("2", draw(st.sampled_from([FIRST, FIRST + 1])), "1.d", "1.s", *last_keep, tries=draw(tries))
    if kind == "back-cross":
        only = stage("1", FIRST, "mum", "dad", sons, tries=draw(tries))
        return only, stage("2", FIRST, "mum", "1.s", *last_keep, tries=draw(tries))
    if kind == "outcross":
        only = stage("1", FIRST, "mum", "dad", daughters, tries=draw(tries))
        return only, stage("2", FIRST, "1.d", "dad", *last_keep, tries=draw(tries))
    one = stage("1", FIRST, "mum", "dad", keep("s", draw(shows), sex="male"))
    two = stage("2", FIRST, "aunt", "dad")
    return one, two, stage("3", FIRST, "mum", "1.s", *last_keep, tries=draw(tries))


@st.composite
def roads(draw: st.DrawFn) -> tuple[Asked, Project, Rules]:
    loci: list[Locus] = [draw(AT_A)]
    if (other := draw(AT_B)) is not None:
        loci.append(other)
    looks = [each.alleles[0].id for each in loci]
    a_year, takes, rest = draw(st.sampled_from([(1, 1, 0), (1, 1, 1), (1, HALF, 0), (1, HALF, 1), (2, 1, 0)]))
    grown = {"female": draw(st.sampled_from([1, 2])), "male": 1}
    sizes = draw(st.sampled_from([(1, 1, 1), (0, 1, 2), (1, 1, 2)])) if a_year == 1 else (1, 1, 1)
    founders = []
    for name, sex in (("mum", Sex.FEMALE), ("aunt", Sex.FEMALE), ("dad", Sex.MALE)):
        stated = {look: text for look in looks if (text := draw(STATED))}
        founders.append(animal(name, sex=sex, stated=stated, born="2015-07-01"))
    goal = Goal(tuple(draw(st.permutations(looks))[: draw(st.integers(1, len(looks)))]), ())
    if draw(st.booleans()) and len(looks) == 2:
        goal = Goal(("a",), ("b",))
    stages = draw(routes(looks))
    last = FIRST + draw(st.sampled_from([1, 2])) + (grown["female"] - 1)
    own = snake(*loci, sizes=sizes, a_year=a_year, takes=Fraction(takes), rest=rest, grown=grown)
    asked = asked_of(own, *founders)
    odds = {}
    for each in founders:
        at = [asked.of(each.id, locus.id) for locus in loci]
        joint: dict[tuple[tuple[str, str], ...], Fraction] = {}
        for choice in product(*(found.items() for found in at if not isinstance(found, Impossible | TooTangled))):
            chance = Fraction(1)
            for _, share in choice:
                chance *= share
            joint[tuple(pair for pair, _ in choice)] = chance
        odds[each.id] = joint
    rules = Rules(tuple(loci), goal, stages, odds, FIRST, last, sizes, grown, a_year, Fraction(takes), rest)
    road = project(*stages, horizon=last, shows=" ".join(goal.shows), carries=" ".join(goal.carries))
    return asked, road, rules


def close(one: Fraction, other: Fraction) -> bool:
    return abs(one - other) < Fraction(1, 10**12)


def check(course: Course, told: Told, stages: tuple[Stage, ...]) -> None:
    by = Fraction(0)
    seasons = {each.season: each for each in course.by_season}
    for season, then in told.then.items():
        by += then
        if season in seasons:
            assert close(by, seasons[season].by), season
            assert close(then, seasons[season].then), season
            assert (by == 1) == (seasons[season].by == 1)
            assert (by == 0) == (seasons[season].by == 0)
        else:
            assert by == 0
    assert close(told.litters, course.litters)
    assert close(told.kept, course.kept)
    for each in stages:
        for chance in course.yielded.get(each.id, ()):
            assert close(chance.by, told.done[each.id, chance.season]), (each.id, chance.season)


@pytest.mark.slow
@given(roads())
@settings(max_examples=20, deadline=None)
def test_adding_up_equals_every_road_written_out(road: tuple[Asked, Project, Rules]) -> None:
    asked, own, rules = road
    course = Roads(asked, own.species).course(own, TODAY)
    assert course.method.runs == 0
    check(course, plain_road(rules), rules.stages)


SHAPES = {
    "two holdbacks want the same young": (
        stage("1", FIRST, "mum", "dad", keep("any", sex="female"), keep("visual", "a", sex="female")),
        stage("2", FIRST, "1.visual", "dad"),
    ),
    "two holdbacks want the same young, the other way round": (
        stage("1", FIRST, "mum", "dad", keep("visual", "a", sex="female"), keep("any", sex="female")),
        stage("2", FIRST, "1.any", "dad"),
    ),
    "two kept sires in turn": (
        stage("1", FIRST, "mum", "dad", keep("s", sex="male", count=2)),
        stage("2", FIRST, "mum", "1.s"),
    ),
    "some of the kept sires when the tries are used": (
        stage("1", FIRST, "mum", "dad", keep("s", sex="male", count=2), tries=1),
        stage("2", FIRST, "mum", "1.s"),
    ),
    "two kept dams, each with her own rest": (
        stage("1", FIRST, "mum", "dad", keep("d", sex="female", count=2)),
        stage("2", FIRST, "1.d", "dad", keep("e", "a", count=2)),
    ),
    "a stage that only waits for a litter": (
        stage("1", FIRST, "aunt", "dad"),
        stage("2", FIRST, "mum", "dad", tries=2),
    ),
    "a dam that two stages want": (
        stage("1", FIRST, "mum", "dad", keep("s", "a", sex="male")),
        stage("2", FIRST, "mum", "dad", keep("d", sex="female")),
        stage("3", FIRST, "2.d", "1.s"),
    ),
}


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(("takes", "rest"), [(Fraction(1), 0), (HALF, 1)])
def test_roads_of_every_shape(name: str, takes: Fraction, rest: int) -> None:
    own = snake(recessive("a"), recessive("b"), sizes=(1, 1, 2), takes=takes, rest=rest)
    stated = {
        "mum": {"a": "certain", "b": "50%"},
        "aunt": {"a": "66%", "b": "certain"},
        "dad": {"a": "certain", "b": "66%"},
    }
    founders = [
        animal(key, sex=Sex.MALE if key == "dad" else Sex.FEMALE, stated=odds, born="2015-07-01")
        for key, odds in stated.items()
    ]  # fmt: skip
    asked = asked_of(own, *founders)
    chances = {"certain": Fraction(1), "50%": HALF, "66%": Fraction(2, 3)}
    odds = {
        key: {
            ((("+", "a") if a else ("+", "+")), (("+", "b") if b else ("+", "+"))): chance
            for a, b in product((0, 1), repeat=2)
            if (chance := _of(chances[own_["a"]], a) * _of(chances[own_["b"]], b))
        }
        for key, own_ in stated.items()
    }
    stages = SHAPES[name]
    last = FIRST + (2 if takes == 1 and "sires" in name else 1)
    goal = Goal(("a",), ("b",))
    ages = {"female": 1, "male": 1}
    told = plain_road(Rules(own.genome.loci, goal, stages, odds, FIRST, last, (1, 1, 2), ages, 1, takes, rest))
    course = Roads(asked, "snake").course(project(*stages, shows="a", carries="b", horizon=last), TODAY)
    assert course.method.runs == 0
    check(course, told, stages)


def _of(chance: Fraction, there: int) -> Fraction:
    return chance if there else 1 - chance
