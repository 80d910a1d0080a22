"""How many of n young are as wanted, and how many young are needed, when the parents are not known for certain.

All young of a pair share their parents' genotypes, so every count is a mixture of binomials over the
parents' kinds; it is never a binomial with the average share.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.exact import common_denominator

Shares = Mapping[Fraction, Fraction]
"""Share of the young that are as wanted, to the chance that the parents are such; sums to 1."""

MOST_YOUNG = 10_000
"""No pair has more young than this; a larger number is not looked for."""

_NONE = Fraction(0)


def per_young(shares: Shares) -> Fraction:
    """Chance that one young is as wanted."""
    return sum((share * chance for share, chance in shares.items()), _NONE)


def counts(shares: Shares, n_young: int) -> tuple[Fraction, ...]:
    """Chance that exactly 0, 1, ... ``n_young`` of the young are as wanted; sums to 1.

    Raises:
        ValueError: ``n_young`` is negative.
    """
    if n_young < 0:
        raise ValueError("a number of young is 0 or more")
    found = [_NONE] * (n_young + 1)
    for share, chance in shares.items():
        good, all_ = share.numerator, share.denominator
        whole = all_**n_young * chance.denominator
        for k in range(n_young + 1):
            ways = math.comb(n_young, k) * good**k * (all_ - good) ** (n_young - k)
            found[k] += Fraction(ways * chance.numerator, whole)
    return tuple(found)


def at_least(shares: Shares, n_young: int, k: int = 1) -> Fraction:
    """Chance that at least ``k`` of ``n_young`` young are as wanted.

    Raises:
        ValueError: ``n_young`` is negative.
    """
    fewer, whole = _fewer(shares, n_young, k)
    return 1 - Fraction(fewer, whole)


def _fewer(shares: Shares, n_young: int, k: int) -> tuple[int, int]:
    """Weight of fewer than ``k`` of ``n_young`` young, and the whole; whole numbers, so that large ones stay quick."""
    if n_young < 0:
        raise ValueError("a number of young is 0 or more")
    common = common_denominator(shares)
    weights = common_denominator(shares.values())
    fewer = 0
    for share, chance in shares.items():
        good = int(share * common)
        ways = (math.comb(n_young, j) * good**j * (common - good) ** (n_young - j) for j in range(min(k, n_young + 1)))
        fewer += int(chance * weights) * sum(ways)
    return fewer, weights * common**n_young


def as_uneven(share: Fraction, n_young: int, k: int) -> Fraction:
    """Chance of a number of young that is no likelier than ``k`` of ``n_young``: the exact two-sided binomial tail.

    Source: the two-sided exact test by likelihood, as in ``scipy.stats.binomtest``.
    """
    so, otherwise = share.numerator, share.denominator - share.numerator
    if not so or not otherwise:
        return Fraction(int(k == (n_young if so else 0)))
    weight, weights = otherwise**n_young, [otherwise**n_young]
    for j in range(n_young):
        weight = weight * (n_young - j) * so // ((j + 1) * otherwise)
        weights.append(weight)
    return Fraction(sum(each for each in weights if each <= weights[k]), share.denominator**n_young)


def all_together(parts: Iterable[Sequence[Fraction]]) -> tuple[Fraction, ...]:
    """Chance of each sum of independent counts, each given by the chance of 0, 1, ...; sums to 1."""
    found = [Fraction(1)]
    for part in parts:
        grown = [_NONE] * (len(found) + len(part) - 1)
        for count, chance in enumerate(found):
            for more, other in enumerate(part):
                grown[count + more] += chance * other
        found = grown
    return tuple(found)


def litter_sizes(low: int, usual: int, high: int) -> Mapping[int, Fraction]:
    """Discrete triangular distribution of the number of young: rising to ``usual``, falling after it; sums to 1.

    The weight grows in equal steps from ``low`` to ``usual`` and falls in equal steps to ``high``; one step
    outside either end it would be 0.

    Raises:
        ValueError: The three are not in order.
    """
    if not 0 <= low <= usual <= high:
        raise ValueError("a litter size is low, usual, high in this order")
    weights = {
        n: Fraction(n - low + 1, usual - low + 1) if n <= usual else Fraction(high - n + 1, high - usual + 1)
        for n in range(low, high + 1)
    }
    total = sum(weights.values())
    return {n: weight / total for n, weight in weights.items()}


def at_least_in_litter(shares: Shares, sizes: Mapping[int, Fraction], k: int = 1) -> Fraction:
    """Chance of at least ``k`` young as wanted in a litter whose size has that distribution."""
    return sum((chance * at_least(shares, n, k) for n, chance in sizes.items()), _NONE)


@dataclass(frozen=True, slots=True)
class Needed:
    """How many young are needed for a chance of at least ``level`` of ``k`` young as wanted.

    ``n_young`` is None when no number is enough: the chance never passes ``ceiling``, the chance that the
    parents can give such young at all. It is also None, with a ceiling that would be enough, when more than
    :data:`MOST_YOUNG` are needed.
    """

    level: Fraction
    k: int
    n_young: int | None
    ceiling: Fraction

    @property
    def never(self) -> bool:
        """True when no number of young is enough."""
        return self.n_young is None and self.ceiling <= self.level


def needed(shares: Shares, level: Fraction, k: int = 1) -> Needed:
    """The smallest number of young that gives a chance of at least ``level`` (up to 1) of ``k`` young as wanted.

    Exact: no logarithm, no rounding.
    """

    def enough(n_young: int) -> bool:
        fewer, whole = _fewer(shares, n_young, k)
        return (whole - fewer) * level.denominator >= level.numerator * whole

    ceiling = sum((chance for share, chance in shares.items() if share), _NONE)
    reached = sum((chance for share, chance in shares.items() if share == 1), _NONE)
    if not (level < ceiling or level == ceiling == reached):
        return Needed(level, k, None, ceiling)
    low, high = k - 1, k
    while not enough(high):
        if high >= MOST_YOUNG:
            return Needed(level, k, None, ceiling)
        low, high = high, min(2 * high, MOST_YOUNG)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return Needed(level, k, high, ceiling)
