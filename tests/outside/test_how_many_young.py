"""How many young are needed, against published tables; strict answers, no logarithm."""

import math
from collections.abc import Sequence
from fractions import Fraction

import pytest
from helpers.by_hand import recessive

from sitegen.genetics.counts import at_least, counts, needed
from sitegen.genetics.crosses import Cross, wanted_shares
from sitegen.genetics.gametes import mode_of_locus
from sitegen.genetics.loci import Genotype

LEVELS = [Fraction(50, 100), Fraction(75, 100), Fraction(90, 100), Fraction(95, 100), Fraction(99, 100)]
LEVELS.append(Fraction(999, 1000))


def _needed(share: Fraction, level: Fraction, k: int = 1) -> int | None:
    return needed({share: Fraction(1)}, level, k).n_young


# Source: Royal Veterinary and Agricultural University (Copenhagen), course in population genetics, section 5.6.
# The printed 16 and 24 of the second row are just over their limits; the strict answers are 17 and 25.
@pytest.mark.parametrize(
    ("normal_young", "printed"),
    [(Fraction(1, 2), (5, 7, 10)), (Fraction(3, 4), (11, 17, 25)), (Fraction(7, 8), (23, 35, 52))],
    ids=["homozygous recessive mates", "known carriers", "own daughters"],
)
def test_young_before_an_animal_may_be_cleared(normal_young: Fraction, printed: tuple[int, ...]) -> None:
    limits = (Fraction(5, 100), Fraction(1, 100), Fraction(1, 1000))
    assert printed == tuple(_needed(1 - normal_young, 1 - limit) for limit in limits)
    for limit, n in zip(limits, printed, strict=True):
        assert normal_young**n <= limit < normal_young ** (n - 1)


# Source: n = ceil(ln(1-p) / ln(1-q)), Hanson WD (1959) Agron J 51:711-715 for the approach; worked out exactly.
@pytest.mark.parametrize(
    ("share", "table"),
    [
        (Fraction(1, 2), (1, 2, 4, 5, 7, 10)),
        (Fraction(1, 4), (3, 5, 9, 11, 17, 25)),
        (Fraction(1, 8), (6, 11, 18, 23, 35, 52)),
        (Fraction(1, 16), (11, 22, 36, 47, 72, 108)),
        (Fraction(1, 32), (22, 44, 73, 95, 146, 218)),
        (Fraction(1, 64), (45, 89, 147, 191, 293, 439)),
    ],
)
def test_smallest_number_for_one(share: Fraction, table: tuple[int, ...]) -> None:
    assert table == tuple(_needed(share, level) for level in LEVELS)
    for level, n in zip(LEVELS, table, strict=True):
        assert (1 - share) ** n <= 1 - level < (1 - share) ** (n - 1)


# Source: exact binomial; Sedcole JR (1977) Crop Sci 17:667-668 prints the same table (from memory).
@pytest.mark.parametrize(
    ("level", "share", "table"),
    [
        (Fraction(95, 100), Fraction(1, 2), (5, 8, 11, 13, 16)),
        (Fraction(95, 100), Fraction(1, 4), (11, 18, 23, 29, 34)),
        (Fraction(95, 100), Fraction(1, 8), (23, 37, 49, 60, 71)),
        (Fraction(95, 100), Fraction(1, 16), (47, 75, 99, 122, 144)),
        (Fraction(99, 100), Fraction(1, 2), (7, 11, 14, 17, 19)),
        (Fraction(99, 100), Fraction(1, 4), (17, 24, 31, 37, 43)),
        (Fraction(99, 100), Fraction(1, 16), (72, 104, 132, 158, 182)),
    ],
)
def test_smallest_number_for_several(level: Fraction, share: Fraction, table: tuple[int, ...]) -> None:
    assert table == tuple(_needed(share, level, k) for k in range(1, 6))
    for k, n in enumerate(table, start=1):
        assert sum(counts({share: Fraction(1)}, n)[k:]) >= level > sum(counts({share: Fraction(1)}, n - 1)[k:])


def test_ten_normal_young_are_not_proof() -> None:
    """Source: Mendel's F2 test by ten young each; (3/4)^10 = 0.0563, printed by course notes as about 5 %."""
    chance = 1 - at_least({Fraction(1, 4): Fraction(1)}, 10)
    assert Fraction(3, 4) ** 10 == chance
    assert round(chance * 10_000) == 563


# Source: Sedcole JR (1977) Crop Sci 17:667-668, an approximation (from memory), with z = 1.645 for 95 in 100.
@pytest.mark.parametrize(("k", "printed"), [(1, 11.8), (2, 18.1), (3, 23.9), (4, 29.5), (5, 34.8)])
def test_for_a_quarter_the_exact_number_is_the_published_approximation_cut_off(k: int, printed: float) -> None:
    q, z = 0.25, 1.645
    spread = z * math.sqrt(z**2 * (1 - q) ** 2 + 4 * (1 - q) * (k - 0.5))
    about = (2 * (k - 0.5) + z**2 * (1 - q) + spread) / (2 * q)
    assert round(about, 1) == printed
    assert _needed(Fraction(1, 4), Fraction(95, 100), k) == math.floor(about)


# Gathering genes of several parents in one animal: Servin B, Martin OC, Mezard M, Hospital F (2004) Genetics
# 168:513-523 (the abstract; no table was read) compare schemes by their generations and by the young that each
# generation needs. The shares and numbers here are worked out by hand.


def _wanted(pairs: Sequence[tuple[Genotype, Genotype]], looks: Sequence[str]) -> Fraction:
    """Share of the young of one pair that show all of some recessives; the pair is given gene by gene."""
    crosses = []
    for number, (dam, sire) in enumerate(pairs):
        mode = mode_of_locus(recessive(f"g{number}"))
        at = {genotypes[0]: state for state, genotypes in enumerate(mode.genotypes)}
        crosses.append(
            (Cross(mode, {(at[dam], at[sire]): Fraction(1)}), [f"g{number}"] if f"g{number}" in looks else [])
        )
    (share,) = wanted_shares(crosses)
    return share


def _genotype(number: int, copies: int) -> Genotype:
    names = ("+", "+"), ("+", f"g{number}"), (f"g{number}", f"g{number}")
    return names[copies]


@pytest.mark.parametrize("n_genes", [1, 2, 3, 4, 8])
def test_genes_gathered_in_one_step_need_four_times_the_young_for_each_gene(n_genes: int) -> None:
    """Young of two animals that carry every gene: (1/4)^n show all; the number is Hanson's rule."""
    carriers = [(_genotype(n, 1), _genotype(n, 1)) for n in range(n_genes)]
    share = _wanted(carriers, [f"g{n}" for n in range(n_genes)])
    assert share == Fraction(1, 4) ** n_genes
    by_rule = math.ceil(math.log(0.05) / math.log1p(-float(share)))
    found = needed({share: Fraction(1)}, Fraction(95, 100))
    if n_genes == 8:
        # 196,327 young: more than any pair has, which is told as such and not as never.
        assert by_rule > 10_000
        assert (found.n_young, found.never) == (None, False)
    else:
        assert found.n_young == by_rule


def test_one_generation_more_takes_fewer_young_in_all() -> None:
    """Three recessives. In one step, two carriers of all three: 1/64, 191 young for 95 in 100.

    With a step between: both parents carry a and b, and the dam shows c, so that every young carries c and 1/16 show a
    and b; of the young of two such 1/4 show c as well.
    """
    at_once = _wanted([(_genotype(n, 1), _genotype(n, 1)) for n in range(3)], ["g0", "g1", "g2"])
    between = _wanted(
        [(_genotype(0, 1), _genotype(0, 1)), (_genotype(1, 1), _genotype(1, 1)), (_genotype(2, 2), _genotype(2, 0))],
        ["g0", "g1"],
    )
    last = _wanted(
        [(_genotype(0, 2), _genotype(0, 2)), (_genotype(1, 2), _genotype(1, 2)), (_genotype(2, 1), _genotype(2, 1))],
        ["g0", "g1", "g2"],
    )
    assert (at_once, between, last) == (Fraction(1, 64), Fraction(1, 16), Fraction(1, 4))
    one_step = _needed(at_once, Fraction(95, 100))
    assert one_step == 191
    # Two are kept of the step between, and both steps have to succeed: 975/1000 twice is more than 95 in 100.
    first, second = _needed(between, Fraction(975, 1000), 2), _needed(last, Fraction(975, 1000))
    assert first is not None
    assert second is not None
    both = at_least({between: Fraction(1)}, first, 2) * at_least({last: Fraction(1)}, second)
    assert both >= Fraction(95, 100)
    assert first + second < one_step
