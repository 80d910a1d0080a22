"""Roads beside published tables and SciPy."""

import datetime as dt
import math
from fractions import Fraction

import pytest
from helpers.by_hand import animal, asked_of, keep, project, recessive, snake, stage
from helpers.drawn import near
from helpers.outlooks import outlook
from scipy import stats

from sitegen.content.animals import Animal
from sitegen.genetics.counts import counts, litter_sizes
from sitegen.genetics.loci import Linkage, Sex
from sitegen.plans.roads.kinds import RoadOutlook, SeasonChance

TODAY = dt.date(2026, 1, 1)
HALF, QUARTER = Fraction(1, 2), Fraction(1, 4)


def pair(**more: object) -> tuple[Animal, Animal]:
    """A dam and a sire with the same evidence."""
    return (
        animal("mum", sex=Sex.FEMALE, born="2015-07-01", **more),  # type: ignore[arg-type]
        animal("dad", sex=Sex.MALE, born="2015-07-01", **more),  # type: ignore[arg-type]
    )


def last(found: RoadOutlook) -> SeasonChance:
    assert found.by_season
    return found.by_season[-1]


@pytest.mark.parametrize(
    ("genes", "half", "nine_in_ten"),
    # Smallest n with 1 - (1 - q)^n of at least 50 and 90 in 100 for q = 1/4, 1/16, 1/64: exact values by the rule
    # n = ceil(ln(1 - p) / ln(1 - q)), Hanson WD (1959) Agron J 51:711-715 (rule as cited in course notes).
    [("a", 3, 9), ("a b", 11, 36), ("a b c", 45, 147)],
)
def test_a_litter_as_large_as_the_table_says_gives_one_of_a_kind(genes: str, half: int, nine_in_ten: int) -> None:
    share = QUARTER ** len(genes.split())
    road = project(stage("1", 2026, "mum", "dad", keep("goal", genes)), shows=genes, horizon=2026)
    for level, n in ((HALF, half), (Fraction(9, 10), nine_in_ten)):
        for young, enough in ((n, True), (n - 1, False)):
            own = snake(recessive("a"), recessive("b"), recessive("c"), sizes=(young, young, young))
            found = outlook(asked_of(own, *pair(stated=dict.fromkeys("abc", "certain"))), road, TODAY)
            (only,) = found.stages[0].holdbacks
            assert only.right == share
            assert (only.in_one_litter >= level) == enough
            assert near(last(found).kept, 1 - (1 - share) ** young, found.draws)


@pytest.mark.parametrize(("count", "expected"), [(1, 9), (2, 15), (3, 20)])
def test_several_young_of_a_holdback(count: int, expected: int) -> None:
    # The smallest n for which SciPy's binomial gives at least ``count`` of 1/4 with 90 in 100.
    assert next(n for n in range(1, 200) if stats.binom.sf(count - 1, n, 0.25) >= 0.9) == expected
    road = project(
        stage("1", 2026, "mum", "dad", keep("goal", "a", count=count), tries=1), shows="a", horizon=2026
    )  # fmt: skip
    for n in (expected, expected - 1):
        own = snake(recessive("a"), sizes=(n, n, n))
        found = outlook(asked_of(own, *pair(stated={"a": "certain"})), road, TODAY)
        (only,) = found.stages[0].holdbacks
        assert math.isclose(only.in_one_litter, stats.binom.sf(count - 1, n, 0.25), rel_tol=1e-12)
        assert near(found.stages[0].ended.get("goal", Fraction(0)), only.in_one_litter, found.draws)


def test_a_litter_is_a_binomial_over_the_sizes() -> None:
    sizes = litter_sizes(6, 13, 28)
    own = snake(recessive("a"), recessive("b"), sizes=(6, 13, 28))
    kept = stage("1", 2026, "mum", "dad", keep("goal", "a b", count=2), tries=1)
    found = outlook(
        asked_of(own, *pair(stated={"a": "certain", "b": "certain"})),
        project(kept, shows="a b", horizon=2026), TODAY,
    )  # fmt: skip
    (only,) = found.stages[0].holdbacks
    two = sum(float(p) * stats.binom.sf(1, n, 1 / 16) for n, p in sizes.items())
    assert math.isclose(only.in_one_litter, two, rel_tol=1e-12)
    one = 1 - sum(p * Fraction(15, 16) ** n for n, p in sizes.items())
    assert near(last(found).kept, one, found.draws)
    # The number of young: its mean within four standard errors, its tenths as SciPy's quantiles of the distribution.
    mean = sum(n * p for n, p in sizes.items())
    spread = math.sqrt(sum((n - mean) ** 2 * p for n, p in sizes.items()) / found.draws)
    young = found.loads[0].young
    assert abs(young.mean - mean) <= 4 * spread
    litters = stats.rv_discrete(values=([*sizes], [float(p) for p in sizes.values()]))
    assert (young.low, young.high) == (litters.ppf(0.1), litters.ppf(0.9))


def test_tails_of_a_mixture() -> None:
    shares = {QUARTER: Fraction(2, 3), Fraction(0): Fraction(1, 3)}
    chances = counts(shares, 10)
    for k in range(11):
        few = 2 / 3 * stats.binom.cdf(k, 10, 0.25) + 1 / 3
        many = 2 / 3 * stats.binom.sf(k - 1, 10, 0.25) + (1 / 3 if k == 0 else 0)
        assert math.isclose(float(sum(chances[: k + 1])), few, rel_tol=1e-12)
        assert math.isclose(float(sum(chances[k:])), many, rel_tol=1e-12)


LITTER = 12
SIBLINGS = (
    stage("1", 2026, "mum", "dad", keep("d", sex="female"), keep("s", sex="male"), tries=1),
    stage("2", 2027, "1.d", "1.s", keep("goal", "a b c"), tries=1),
)
BACK = (
    stage("1", 2026, "mum", "dad", keep("s", sex="male"), tries=1),
    stage("2", 2027, "mum", "1.s", keep("d", "a b", "c", sex="female"), tries=1),
    stage("3", 2028, "2.d", "1.s", keep("goal", "a b c"), tries=1),
)


def test_another_generation_against_fewer_young() -> None:
    # The idea of Servin B and others (2004) Genetics 168:513-523 (abstract): schemes that gather genes are compared by
    # their generations, by the young that they need, and by their chance; one is better only if it is no worse in any.
    # The numbers are worked out here by hand. A visual for a and b and a visual for c; litters of 12, one of each pair.
    own = snake(recessive("a"), recessive("b"), recessive("c"), sizes=(LITTER,) * 3)
    mum = animal("mum", sex=Sex.FEMALE, shows="a b", born="2015-07-01")
    dad = animal("dad", sex=Sex.MALE, shows="c", born="2015-07-01")
    asked = asked_of(own, mum, dad)
    short = outlook(asked, project(*SIBLINGS, shows="a b c", horizon=2030), TODAY)
    long = outlook(asked, project(*BACK, shows="a b c", horizon=2030), TODAY)

    # Siblings are carriers of all three: 1/64 of their young show them.
    both_sexes = 1 - 2 * HALF**LITTER
    by_siblings = both_sexes * (1 - Fraction(63, 64) ** LITTER)
    assert near(last(short).kept, by_siblings, short.draws)
    # Back to their dam: an eighth of the young are daughters that show a and b, half of which carry c; such a one and
    # her half-brother give 1/2 * 1/2 * 1/4.
    a_son, a_daughter = 1 - HALF**LITTER, 1 - Fraction(7, 8) ** LITTER
    by_back_cross = a_son * a_daughter * HALF * (1 - Fraction(15, 16) ** LITTER)
    assert near(last(long).kept, by_back_cross, long.draws)

    # Generations, young and chance: the longer way has the better chance and more young, so neither is better in all.
    for found, first in ((short, 2027), (long, 2028)):
        assert {each.season for each in found.by_season if not each.kept} == set(range(2026, first))
    young = [sum(each.young.mean for each in found.loads) for found in (short, long)]
    for mean, litters in zip(young, (1 + both_sexes, 1 + a_son + a_son * a_daughter), strict=True):
        assert abs(mean - LITTER * litters) <= LITTER * 4 * math.sqrt(0.25 / short.draws)
    assert young[0] < young[1]
    assert last(short).kept < last(long).kept


@pytest.mark.parametrize(("coupled", "rate"), [(True, Fraction(1, 10)), (False, Fraction(1, 10)), (True, HALF)])
def test_linked_genes_are_gathered_by_the_rate_of_recombination(coupled: bool, rate: Fraction) -> None:
    # Servin and others (2004): the chance of a scheme follows from the rates of recombination. Both genes from one
    # grandparent come together with (1 - r)/2 from each parent, from two grandparents only with r/2.
    own = snake(
        recessive("a"), recessive("b"), sizes=(LITTER,) * 3, linkages=(Linkage(("a", "b"), {Sex.UNKNOWN: (rate,)}),)
    )
    mum = animal("mum", sex=Sex.FEMALE, shows="a b" if coupled else "a", born="2015-07-01")
    dad = animal("dad", sex=Sex.MALE, shows="" if coupled else "b", born="2015-07-01")
    stages = (SIBLINGS[0], stage("2", 2027, "1.d", "1.s", keep("goal", "a b"), tries=1))
    found = outlook(asked_of(own, mum, dad), project(*stages, shows="a b", horizon=2027), TODAY)
    together = ((1 - rate) / 2 if coupled else rate / 2) ** 2
    exact = (1 - 2 * HALF**LITTER) * (1 - (1 - together) ** LITTER)
    assert near(last(found).kept, exact, found.draws)


def test_the_chance_by_season_of_a_known_pair_is_geometric() -> None:
    own = snake(recessive("a"), sizes=(6, 13, 28), takes=HALF)
    road = project(stage("1", 2026, "mum", "dad"), shows="a", horizon=2035)
    found = outlook(asked_of(own, *pair(stated={"a": "certain"})), road, TODAY)
    miss = HALF + HALF * sum(p * Fraction(3, 4) ** n for n, p in litter_sizes(6, 13, 28).items())
    for each in found.by_season:
        waited = each.season - 2025
        assert math.isclose(miss**waited, stats.geom.sf(waited, float(1 - miss)), rel_tol=1e-9)
        assert near(each.kept, 1 - miss**waited, found.draws)
