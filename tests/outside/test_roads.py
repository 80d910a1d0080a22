"""Roads beside published tables and SciPy."""

import datetime as dt
import math
from fractions import Fraction

import pytest
from helpers.by_hand import animal, asked_of, keep, project, recessive, snake, stage
from scipy import stats

from sitegen.genetics.counts import counts, litter_sizes, needed
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.courses import Roads
from sitegen.plans.roads.litter_yields import litter_yield
from sitegen.plans.roads.outlook import outlook

TODAY = dt.date(2026, 1, 1)
QUARTER = Fraction(1, 4)


def founders(stated: dict[str, str]) -> tuple[object, object]:
    return (
        animal("mum", sex=Sex.FEMALE, stated=stated, born="2015-07-01"),
        animal("dad", sex=Sex.MALE, stated=stated, born="2015-07-01"),
    )


@pytest.mark.parametrize(
    ("genes", "half", "nine_in_ten"),
    # Smallest n with 1 - (1 - q)^n of at least 50 and 90 in 100 for q = 1/4, 1/16, 1/64: exact values by the rule
    # n = ceil(ln(1 - p) / ln(1 - q)), Hanson WD (1959) Agron J 51:711-715 (rule as cited in course notes).
    [("a", 3, 9), ("a b", 11, 36), ("a b c", 45, 147)],
)
def test_young_needed_for_one_of_a_kind(genes: str, half: int, nine_in_ten: int) -> None:
    own = snake(recessive("a"), recessive("b"), recessive("c"))
    stated = dict.fromkeys("abc", "certain")
    road = project(stage("1", 2026, "mum", "dad", keep("goal", genes)), shows=genes)
    (only,) = outlook(asked_of(own, *founders(stated)), road, TODAY).stages[0].holdbacks
    assert [each.n_young for each in only.needed] == [half, nine_in_ten]
    assert only.looks_right == QUARTER ** len(genes.split())


@pytest.mark.parametrize(
    ("share", "young"),
    # At least r = 1..5 with 95 in 100: exact binomial; they match the table of Sedcole JR (1977) Crop Sci 17:667-668
    # as remembered (from memory).
    [
        (Fraction(1, 2), (5, 8, 11, 13, 16)),
        (QUARTER, (11, 18, 23, 29, 34)),
        (Fraction(1, 8), (23, 37, 49, 60, 71)),
        (Fraction(1, 16), (47, 75, 99, 122, 144)),
    ],
)
def test_young_needed_for_several_of_a_kind(share: Fraction, young: tuple[int, ...]) -> None:
    found = tuple(needed({share: Fraction(1)}, Fraction(95, 100), k).n_young for k in range(1, 6))
    assert found == young


@pytest.mark.parametrize(("count", "expected"), [(1, 9), (2, 15), (3, 20)])
def test_several_young_of_a_holdback(count: int, expected: int) -> None:
    # The smallest n for which SciPy's binomial gives at least ``count`` of 1/4 with 90 in 100.
    own = snake(recessive("a"))
    road = project(stage("1", 2026, "mum", "dad", keep("g", "a", count=count)), shows="a")
    (only,) = outlook(asked_of(own, *founders({"a": "certain"})), road, TODAY).stages[0].holdbacks
    by_scipy = next(n for n in range(1, 200) if stats.binom.sf(count - 1, n, 0.25) >= 0.9)
    assert only.needed[1].n_young == by_scipy == expected


def test_a_litter_is_a_binomial_over_the_sizes() -> None:
    sizes = {n: float(p) for n, p in litter_sizes(6, 13, 28).items()}
    found = litter_yield(((0, 0.7), (1, 0.1), (2, 0.2)), (2,), sizes)
    goal = sum(p * (1 - 0.9**n) for n, p in sizes.items())
    assert math.isclose(found.goal, goal, rel_tol=1e-12)
    kept = {len(gain): chance for chance, gain in found.kept}
    for k in (0, 1):
        by_hand = sum(p * 0.9**n * stats.binom.pmf(k, n, 0.2 / 0.9) for n, p in sizes.items())
        assert math.isclose(kept[k], by_hand, rel_tol=1e-12)
    two = sum(p * 0.9**n * stats.binom.sf(1, n, 0.2 / 0.9) for n, p in sizes.items())
    assert math.isclose(kept[2], two, rel_tol=1e-12)
    assert math.isclose(found.goal + sum(kept.values()), 1, rel_tol=1e-12)


def test_tails_of_a_mixture() -> None:
    shares = {QUARTER: Fraction(2, 3), Fraction(0): Fraction(1, 3)}
    chances = counts(shares, 10)
    for k in range(11):
        few = 2 / 3 * stats.binom.cdf(k, 10, 0.25) + 1 / 3
        many = 2 / 3 * stats.binom.sf(k - 1, 10, 0.25) + (1 / 3 if k == 0 else 0)
        assert math.isclose(float(sum(chances[: k + 1])), few, rel_tol=1e-12)
        assert math.isclose(float(sum(chances[k:])), many, rel_tol=1e-12)


def test_another_generation_against_fewer_young() -> None:
    # The idea of Servin B and others (2004) Genetics 168:513-523 (abstract): schemes that gather genes are compared by
    # their generations and by the young that each needs, and one is better only if it is no worse in both. The numbers
    # are worked out here by hand. A visual for a and b and a visual for c. Siblings of the first generation are triple
    # carriers: 1/64, 147 young for 90 in 100. With a back-cross in between, daughters that show a and b (1/4 of the
    # young that are daughters, half of which carry c) go to a triple carrier: 1/2 * 1/2 * 1/4 if she carries.
    own = snake(recessive("a"), recessive("b"), recessive("c"), grown={"female": 1, "male": 1}, sizes=(12, 12, 12))
    mum = animal("mum", sex=Sex.FEMALE, shows="a b", born="2015-07-01")
    dad = animal("dad", sex=Sex.MALE, shows="c", born="2015-07-01")
    siblings = (
        stage("1", 2026, "mum", "dad", keep("d", sex="female"), keep("s", sex="male")),
        stage("2", 2027, "1.d", "1.s", keep("goal", "a b c")),
    )
    back = (
        stage("1", 2026, "mum", "dad", keep("s", sex="male")),
        stage("2", 2027, "mum", "1.s", keep("d", "a b", "c", sex="female")),
        stage("3", 2028, "2.d", "1.s", keep("goal", "a b c")),
    )
    asked = asked_of(own, mum, dad)
    short = outlook(asked, project(*siblings, shows="a b c", horizon=2031), TODAY)
    long = outlook(asked, project(*back, shows="a b c", horizon=2031), TODAY)
    assert short.stages[1].goal_each == Fraction(1, 64)
    assert long.stages[2].goal_each == Fraction(1, 2) * QUARTER * QUARTER
    assert long.stages[1].holdbacks[0].looks_right == QUARTER * Fraction(1, 2)
    assert long.stages[1].holdbacks[0].carries == Fraction(1, 2)
    assert [each.n_young for each in short.stages[1].holdbacks[0].needed] == [45, 147]
    # One generation later: neither is better in both.
    assert short.stages[1].earliest == 2027
    assert long.stages[2].earliest == 2028
    for told, first in ((short, 2027), (long, 2028)):
        assert {each.season for each in told.by_season if not each.by} == set(range(2026, first))


def test_the_chance_by_season_of_a_known_pair_is_geometric() -> None:
    own = snake(recessive("a"), sizes=(6, 13, 28))
    road = project(stage("1", 2026, "mum", "dad"), shows="a", horizon=2040)
    asked = asked_of(own, *founders({"a": "certain"}))
    miss = sum(float(p) * 0.75**n for n, p in litter_sizes(6, 13, 28).items())
    for each in Roads(asked, "snake").course(road, TODAY).by_season:
        expected = stats.geom.sf(each.season - 2025, 1 - miss)
        assert math.isclose(float(1 - each.by), expected, rel_tol=1e-9)
