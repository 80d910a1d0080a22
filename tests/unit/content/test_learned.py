"""What own litters teach of a species: the share of pairings that take, and how many young a litter has."""

from fractions import Fraction

import pytest
from helpers.from_text import bound
from scipy.stats import beta, gamma

from sitegen.content.learned import ENOUGH, WORTH, shifted, weighed
from sitegen.content.species import Learned, LitterSize, Species
from sitegen.genetics.counts import litter_sizes


def species(litters: list[str], figures: str = "takes: 9/10\nlitter_size: {low: 4, usual: 12, high: 28}") -> Species:
    text = f"=== species/s.yaml\n{figures}\nloci: {{}}\n=== animals/mum/animal.yaml\nspecies: s\nsex: female\n"
    for number, each in enumerate(litters):
        text += f"=== litters/{number}/litter.yaml\ndam: mum\npaired: 20{10 + number}-03-01\n{each}\n"
    return bound(text).species["s"]


def came(number: int, year: int) -> str:
    return f"born: 20{10 + year}-07-01\nothers: [{{count: {number}, shows: []}}]"


def failed(year: int) -> str:
    return f"failed: {{date: 20{10 + year}-07-01, what: slugs}}"


def mean(size: LitterSize) -> Fraction:
    return sum((n * p for n, p in litter_sizes(size.low, size.usual, size.high).items()), Fraction(0))


@pytest.mark.parametrize(("took", "of"), [(0, 3), (3, 3), (7, 8), (40, 60)])
def test_a_share_by_the_conjugate_rule_is_the_mean_of_a_beta(took: int, of: int) -> None:
    """SciPy's beta distribution; the rule as in Bayesian Data Analysis, chapter 2 (from memory)."""
    usual = Fraction(9, 10)
    found = weighed(usual, [1] * took + [0] * (of - took))
    assert float(found) == pytest.approx(beta(WORTH * 0.9 + took, WORTH * 0.1 + of - took).mean())


@pytest.mark.parametrize("seen", [[12, 14, 9], [3] * 20, [25, 26, 27]])
def test_a_number_by_the_conjugate_rule_is_the_mean_of_a_gamma(seen: list[int]) -> None:
    found = weighed(Fraction(44, 3), seen)
    assert float(found) == pytest.approx(gamma(WORTH * 44 / 3 + sum(seen), scale=1 / (WORTH + len(seen))).mean())


def test_too_few_teach_nothing() -> None:
    litters = [came(10, year) for year in range(ENOUGH - 1)]
    assert species(litters).learned == {}
    assert species(litters).takes == Fraction(9, 10)


def test_pairings_that_took_and_that_failed() -> None:
    found = species([came(10, 0), failed(1), came(11, 2), "expected: 2013-07-01"])
    assert found.takes == (WORTH * Fraction(9, 10) + 2) / (WORTH + 3)
    assert found.learned == {"takes": Learned(3, 2, Fraction(9, 10))}


def test_where_no_share_is_written_every_pairing_is_taken_to_take_until_one_fails() -> None:
    assert species([came(10, year) for year in range(4)], "name: s").takes == 1
    assert species([failed(0), *(came(10, year) for year in (1, 2, 3))], "name: s").takes == Fraction(
        WORTH + 3, WORTH + 4
    )


def test_the_usual_number_moves_with_own_litters() -> None:
    few = species([came(8, year) for year in range(6)])
    assert few.learned["litter_size"] == Learned(6, 48, LitterSize(4, 12, 28))
    # The mean goes from 44/3 to (5 * 44/3 + 48) / 11, about 0.75 of it.
    assert few.litter_size == LitterSize(3, 9, 21)


@pytest.mark.parametrize("size", [LitterSize(4, 12, 28), LitterSize(1, 2, 2), LitterSize(6, 13, 28)])
@pytest.mark.parametrize("seen", [[12, 14, 9], [5] * 30, [26] * 50, [2, 2, 2], [10_000] * 9])
def test_the_mean_of_the_moved_size_is_that_of_the_rule_to_the_nearest_young(size: LitterSize, seen: list[int]) -> None:
    wanted = weighed(mean(size), [min(max(each, size.low), size.high) for each in seen])
    moved = shifted(size, seen)
    assert abs(mean(moved) - wanted) < Fraction(3, 4)
    assert moved.low <= moved.usual <= moved.high


def test_litters_as_usual_change_nothing() -> None:
    size = LitterSize(4, 12, 28)
    assert shifted(size, [15, 14, 15, 14, 15]) == size
