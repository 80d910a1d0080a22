"""Counts of young when the parents are in doubt."""

from fractions import Fraction
from math import comb

import pytest
from scipy.stats import binomtest

from sitegen.genetics.counts import (
    Needed,
    all_together,
    as_uneven,
    at_least,
    at_least_in_litter,
    counts,
    litter_sizes,
    needed,
    per_young,
)

HALF = Fraction(1, 2)
DOUBTFUL = {HALF: HALF, Fraction(0): HALF}
"""A dam that carries with 1 in 2, and a visual mate."""


def test_doubt_is_shared_by_the_whole_litter() -> None:
    mixture = HALF * (1 - HALF**7)
    assert mixture == at_least(DOUBTFUL, 7)
    assert at_least(DOUBTFUL, 7) < 1 - (1 - per_young(DOUBTFUL)) ** 7


def test_counts_are_a_mixture_and_sum_to_one() -> None:
    expected = tuple(HALF * comb(3, k) * HALF**3 + (HALF if k == 0 else 0) for k in range(4))
    assert expected == counts(DOUBTFUL, 3)
    assert sum(counts(DOUBTFUL, 3)) == 1
    assert counts(DOUBTFUL, 0) == (Fraction(1),)


def test_at_least_agrees_with_the_counts() -> None:
    shares = {Fraction(1, 3): Fraction(2, 5), Fraction(1): Fraction(1, 5), Fraction(0): Fraction(2, 5)}
    for k in range(7):
        assert sum(counts(shares, 5)[k:], Fraction(0)) == at_least(shares, 5, k)


def test_a_ceiling_is_never_passed() -> None:
    wanted = needed(DOUBTFUL, Fraction(9, 10))
    assert wanted.never
    assert wanted.ceiling == HALF
    assert needed(DOUBTFUL, HALF).never, "half is approached and never reached"
    assert needed(DOUBTFUL, Fraction(49, 100)).n_young == 6
    assert HALF * (1 - HALF**6) >= Fraction(49, 100) > HALF * (1 - HALF**5)


def test_a_certain_share_reaches_its_ceiling() -> None:
    assert needed({Fraction(1): HALF, Fraction(0): HALF}, HALF).n_young == 1
    assert needed({Fraction(1): Fraction(1)}, Fraction(1), 3).n_young == 3


def test_too_many_to_look_for_is_not_never() -> None:
    found = needed({Fraction(1, 4**10): Fraction(1)}, Fraction(9, 10))
    assert found.n_young is None
    assert not found.never


def test_litter_sizes_rise_and_fall_in_equal_steps() -> None:
    sizes = litter_sizes(2, 4, 7)
    weights = {2: Fraction(1, 3), 3: Fraction(2, 3), 4: 1, 5: Fraction(3, 4), 6: HALF, 7: Fraction(1, 4)}
    assert {n: weight / sum(weights.values()) for n, weight in weights.items()} == sizes
    assert litter_sizes(5, 5, 5) == {5: 1}


def test_a_litter_of_doubtful_size() -> None:
    sizes = {1: HALF, 3: HALF}
    expected = HALF * at_least(DOUBTFUL, 1) + HALF * at_least(DOUBTFUL, 3)
    assert expected == at_least_in_litter(DOUBTFUL, sizes)


@pytest.mark.parametrize("wrong", [(3, 2, 5), (-1, 2, 3), (2, 6, 5)])
def test_litter_sizes_out_of_order_are_refused(wrong: tuple[int, int, int]) -> None:
    with pytest.raises(ValueError, match="in this order"):
        litter_sizes(*wrong)


def test_negative_numbers_are_refused() -> None:
    with pytest.raises(ValueError, match="0 or more"):
        counts(DOUBTFUL, -1)
    with pytest.raises(ValueError, match="0 or more"):
        at_least(DOUBTFUL, -1)


def test_more_wanted_than_there_are_young_is_never() -> None:
    for share in (Fraction(1), HALF):
        assert at_least({share: Fraction(1)}, 2, 3) == 0
        assert at_least({share: Fraction(1)}, 2, 5) == 0


def test_what_is_needed_says_what_it_is_needed_for() -> None:
    level = Fraction(9, 10)
    assert needed({HALF: Fraction(1)}, level, 2) == Needed(level, 2, 7, Fraction(1))
    assert at_least({HALF: Fraction(1)}, 7, 2) >= level > at_least({HALF: Fraction(1)}, 6, 2)


def test_what_is_never_reached_is_told_with_what_was_asked() -> None:
    assert needed(DOUBTFUL, Fraction(9, 10)) == Needed(Fraction(9, 10), 1, None, HALF)
    assert needed(DOUBTFUL, Fraction(9, 10), 2) == Needed(Fraction(9, 10), 2, None, HALF)


def test_of_no_young_none_is_as_wanted_and_fewer_than_none_is_refused() -> None:
    assert at_least(DOUBTFUL, 0) == 0
    assert at_least(DOUBTFUL, 0, 0) == 1
    with pytest.raises(ValueError, match="0 or more"):
        at_least(DOUBTFUL, -1)


def test_a_litter_may_have_no_young() -> None:
    assert litter_sizes(0, 0, 1) == {0: Fraction(2, 3), 1: Fraction(1, 3)}


@pytest.mark.parametrize("share", [Fraction(1, 4), HALF, Fraction(3, 4), Fraction(9, 40)])
@pytest.mark.parametrize("n_young", [1, 7, 20])
def test_the_tail_is_that_of_the_exact_binomial_test(share: Fraction, n_young: int) -> None:
    """Source: scipy.stats.binomtest, two-sided."""
    for k in range(n_young + 1):
        assert float(as_uneven(share, n_young, k)) == pytest.approx(binomtest(k, n_young, float(share)).pvalue)


def test_the_tail_of_what_is_certain() -> None:
    assert [as_uneven(Fraction(0), 5, k) for k in (0, 1)] == [1, 0]
    assert [as_uneven(Fraction(1), 5, k) for k in (5, 4)] == [1, 0]
    assert as_uneven(HALF, 20, 20) == Fraction(2, 2**20)


def test_independent_counts_add_up() -> None:
    third = (Fraction(2, 3), Fraction(1, 3))
    assert all_together([third] * 4) == counts({Fraction(1, 3): Fraction(1)}, 4)
    assert all_together([]) == (1,)
