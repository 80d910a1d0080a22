"""How many young are needed, against published tables; strict answers, no logarithm."""

from fractions import Fraction

import pytest

from sitegen.genetics.counts import at_least, counts, needed

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
