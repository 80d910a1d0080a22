"""Inbreeding against published tables and worked pedigrees."""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest

from sitegen.genetics.kinship import Kinship
from sitegen.genetics.questions import Member


def _bred(young: str, dam: str | None, sire: str | None) -> Member:
    return Member(young, dam=dam, sires=((sire, Fraction(1)),) if sire else ())


def _pedigree(*rows: str) -> list[Member]:
    """Rows of ``young dam sire``, with ``-`` for a parent that is not recorded."""
    split = [row.split() for row in rows]
    return [_bred(young, *(None if parent == "-" else parent for parent in parents)) for young, *parents in split]


_FULL_SIBS = ("d - -", "s - -", "a d s", "b d s")
_COUSINS = (*_FULL_SIBS, "u - -", "v - -", "c a u", "e b v")
_SECOND = (*_COUSINS, "w - -", "y - -", "f c w", "g e y")
_THIRD = (*_SECOND, "p - -", "q - -", "h f p", "i g q")

# Rows marked by an asterisk: Oxford Dictionary of Zoology (on Encyclopedia.com). First cousins also:
# 4 x (1/2)^6, a university genetics course figure, chapter 25. The others: standard rows of the same table,
# read only in study notes and worked out again from the definition.
RELATIVES = {
    "full siblings*": (_FULL_SIBS, "a", "b", Fraction(1, 4)),
    "parent and young": (_FULL_SIBS, "a", "d", Fraction(1, 4)),
    "half siblings": (("d - -", "s - -", "t - -", "a d s", "b d t"), "a", "b", Fraction(1, 8)),
    "uncle and niece*": ((*_FULL_SIBS, "u - -", "c a u"), "c", "b", Fraction(1, 8)),
    "double first cousins*": (
        ("d - -", "s - -", "a d s", "b d s", "x - -", "y - -", "e x y", "f x y", "g a e", "h b f"),
        "g",
        "h",
        Fraction(1, 8),
    ),
    "grandparent and grandyoung": ((*_FULL_SIBS, "u - -", "c a u"), "c", "d", Fraction(1, 8)),
    "first cousins*": (_COUSINS, "c", "e", Fraction(1, 16)),
    "first cousins once removed": (_SECOND, "f", "e", Fraction(1, 32)),
    "half first cousins": (
        ("d - -", "s - -", "t - -", "a d s", "b d t", "u - -", "v - -", "c a u", "e b v"),
        "c",
        "e",
        Fraction(1, 32),
    ),
    "second cousins": (_SECOND, "f", "g", Fraction(1, 64)),
    "second cousins once removed": (_THIRD, "h", "g", Fraction(1, 128)),
    "third cousins": (_THIRD, "h", "i", Fraction(1, 256)),
}


@pytest.mark.parametrize("name", RELATIVES)
def test_young_of_relatives(name: str) -> None:
    rows, dam, sire, expected = RELATIVES[name]
    kin = Kinship([*_pedigree(*rows), _bred("young", dam, sire)])
    assert expected == kin.pair(dam, sire)
    assert expected == kin.inbreeding("young")


def test_young_of_an_animal_with_itself() -> None:
    """Source: Oxford Dictionary of Zoology, selfing 1/2."""
    assert Kinship([Member("a")]).pair("a", "a") == Fraction(1, 2)


def _selfing(t: int) -> list[Member]:
    return [_bred("0", None, None)] + [_bred(str(n), str(n - 1), str(n - 1)) for n in range(1, t + 1)]


def _full_sibs(t: int) -> list[Member]:
    rows = ["0a - -", "0b - -"]
    for n in range(1, t + 1):
        rows += [f"{n}a {n - 1}a {n - 1}b", f"{n}b {n - 1}a {n - 1}b"]
    return _pedigree(*rows, f"{t + 1} {t}a {t}b")


def _younger_parent(t: int) -> list[Member]:
    rows = ["-1 - -", "0 - -", "1 -1 0"]
    return _pedigree(*rows, *(f"{n} {n - 1} {n - 2}" for n in range(2, t + 2)))


def _half_sib_sisters(t: int) -> list[Member]:
    """One male a generation with females that are half sisters of his and of each other, each of another dam."""
    lines = range(t + 2)
    rows = ["0m - -", *(f"0f{line} - -" for line in lines)]
    for n in range(1, t + 1):
        rows.append(f"{n}m {n - 1}f{n - 1} {n - 1}m")
        rows += [f"{n}f{line} {n - 1}f{line} {n - 1}m" for line in lines if line >= n]
    return _pedigree(*rows, f"{t + 1} {t}f{t} {t}m")


def _back_cross(t: int) -> list[Member]:
    return _pedigree("s - -", "0 - -", "1 0 s", *(f"{n} {n - 1} s" for n in range(2, t + 2)))


# Source: the layout of table 5.1 of Falconer & Mackay, Introduction to Quantitative Genetics, 4th edition, after
# Wright S (1921) Genetics 6:111-178; the values were worked out from the recurrences, of which the half-sib one is
# printed in an encyclopaedia text after Crow & Kimura.
SERIES: dict[str, tuple[Callable[[int], list[Member]], int, str]] = {
    "selfing": (_selfing, 0, ".500 .750 .875 .938 .969 .984 .992 .996 .998 .999"),
    "full siblings": (_full_sibs, 1, ".250 .375 .500 .594 .672 .734 .785 .826 .859 .886"),
    "young with the younger parent": (_younger_parent, 1, ".250 .375 .500 .594 .672 .734 .785 .826 .859 .886"),
    "half siblings": (_half_sib_sisters, 1, ".125 .219 .305 .381 .449 .509 .563 .611 .654 .691"),
    "back-cross to one animal": (_back_cross, 1, ".250 .375 .438 .469 .484 .492 .496 .498 .499 .500"),
}


@pytest.mark.parametrize("name", SERIES)
def test_ten_generations(name: str) -> None:
    system, more, printed = SERIES[name]
    for t, expected in enumerate(printed.split(), start=1):
        exact = Kinship(system(t)).inbreeding(str(t + more))
        rounded = (Decimal(exact.numerator) / Decimal(exact.denominator)).quantize(Decimal("0.001"), "ROUND_HALF_UP")
        assert Decimal(expected) == rounded, t


def test_recurrences_hold_exactly() -> None:
    """F = (1+2F'+F'')/4 for full siblings, (1+6F'+F'')/8 for half siblings (Crow & Kimura, as quoted)."""
    for system, factor, divisor in ((_full_sibs, 2, 4), (_half_sib_sisters, 6, 8)):
        series = [Fraction(0), Fraction(0)] + [Kinship(system(t)).inbreeding(str(t + 1)) for t in range(1, 11)]
        for two_back, one_back, now in zip(series, series[1:], series[2:], strict=False):
            assert (1 + factor * one_back + two_back) / divisor == now


def test_back_cross_never_passes_one_half() -> None:
    assert Kinship(_back_cross(60)).inbreeding("61") == Fraction(1, 2) - Fraction(1, 2) ** 61


def test_a_parent_that_is_not_recorded() -> None:
    """Source: Mrode, Linear Models for the Prediction of Animal Breeding Values, 3rd edition, appendix B, p. 310."""
    kin = Kinship(_pedigree("1 - -", "2 - -", "3 1 2", "4 1 -", "5 4 3"))
    assert Fraction("0.125") == kin.inbreeding("5")


def test_nested_inbreeding() -> None:
    """Source: printed covariances of a university animal-breeding course (Olson, spring 2009).

    A covariance is twice the kinship. The drawing was not read; this pedigree gives every printed figure.
    """
    kin = Kinship(_pedigree("R - -", "U - -", "T R U", "A R T", "Q R T", "D A Q", "S R D", "X S D", "W X S"))
    printed = {"RA": "0.75", "AS": "0.875", "SS": "1.375", "SX": "1.21875", "XX": "1.53125"}
    for (first, second), covariance in printed.items():
        assert Fraction(covariance) == 2 * kin.pair(first, second), (first, second)
    assert {animal: kin.inbreeding(animal) for animal in "AQDSXW"} == {
        "A": Fraction(1, 4),
        "Q": Fraction(1, 4),
        "D": Fraction(3, 8),
        "S": Fraction(3, 8),
        "X": Fraction("0.53125"),
        "W": Fraction("0.609375"),
    }
