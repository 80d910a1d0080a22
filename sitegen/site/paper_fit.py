"""How large the type of a buyer's paper can be, so that all of it fits on one side of A4 and of Letter.

The style sheet sets everything on the paper in units of its own type (em); here the height of it all is estimated
in the same unit, from the letters of its texts, and the largest size is chosen that leaves room. The measures were
taken in print, and a test prints every paper of the demonstration and of some very full ones.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import floor

from sitegen.site.parts import ClaimView, Line
from sitegen.site.pedigree import PedigreeChart

SIZES: tuple[tuple[str, Fraction], ...] = (
    ("1", Fraction(10)),
    ("2", Fraction("9.4")),
    ("3", Fraction("8.8")),
    ("4", Fraction("8.2")),
    ("5", Fraction("7.6")),
    ("6", Fraction(7)),
    ("7", Fraction("6.4")),
)
"""Name of each size in the style sheet, and the size in points."""
_HIGH, _WIDE = Fraction(715), Fraction(527)
"""Points of printed height on Letter and of width on A4, the smaller of each, within margins of 11 and 12 mm."""
_LETTER, _LEADING = Fraction("0.415"), Fraction("1.28")
"""Average width of a letter and height of a line, in em."""
_LEADING_HUNDREDTHS = int(_LEADING * 100)
"""The same in hundredths of an em, in which the heights of claims are added up as whole numbers."""


def type_size(
    claims: Sequence[ClaimView], not_known: Sequence[str], chart: PedigreeChart, below: Sequence[str], n_rows: int
) -> str:
    """The name of the largest size in which the paper fits; the smallest when none does.

    Args:
        claims: All that are printed.
        not_known: The paragraphs after them.
        chart: The pedigree.
        below: Texts at the bottom: cautions, readiness.
        n_rows: Lines of the longer one of the two records.
    """
    printed = [_Claim.of(claim) for claim in claims]
    letters_not_known, letters_below = [len(text) for text in not_known], sum(len(text) + 1 for text in below)
    for size in _MEASURES:
        n_lines = size.claims.needs(letters_below)
        left = _left(size.name, chart.high, chart.wide, len(chart.keys), n_lines, n_rows)
        if _genes(printed, letters_not_known, size) <= left:
            return size.name
    return SIZES[-1][0]


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of print, as the letters that it takes: so many in so many lines."""

    letters: int
    lines: int

    @classmethod
    def of(cls, wide: Fraction) -> "_Column":
        """Of a width in em."""
        a_line = max(wide, Fraction(1)) / _LETTER
        return cls(a_line.numerator, a_line.denominator)

    def needs(self, letters: int) -> int:
        """Lines that a text takes."""
        return max(1, -(-letters * self.lines // self.letters))


@dataclass(frozen=True, slots=True)
class _Size:
    """A size of type, and the columns of claims: with and without a picture of odds beside."""

    name: str
    wide: Fraction
    high: Fraction
    claims: _Column
    beside_odds: _Column

    @classmethod
    def of(cls, name: str, points: Fraction) -> "_Size":
        wide, high = _WIDE / points, _HIGH / points
        return cls(name, wide, high, _Column.of(wide / 2 - 1), _Column.of(wide / 2 - 7))


_MEASURES = tuple(_Size.of(name, points) for name, points in SIZES)


@dataclass(frozen=True, slots=True)
class _Claim:
    """How many letters a claim has: its headline, and all else; and whether a picture of odds stands beside it."""

    headline: int
    text: int
    odds: bool

    @classmethod
    def of(cls, claim: ClaimView) -> "_Claim":
        text = sum(_length(line) + 1 for line in claim.explanation) + _length(claim.basis)
        return cls(_length(claim.headline) * 11 // 10, text, claim.odds is not None)

    def high(self, size: _Size) -> int:
        """Its height in hundredths of an em, with what stands between two claims."""
        column = size.beside_odds if self.odds else size.claims
        lines = column.needs(self.headline) + column.needs(self.text)
        return max(lines * _LEADING_HUNDREDTHS, 500 if self.odds else 0) + 100


def _length(line: Line) -> int:
    return sum(len(span.text) for span in line)


def _genes(claims: Sequence[_Claim], not_known: Sequence[int], size: _Size) -> int:
    """Two columns of claims: half of all, and half of the tallest one that may not be parted; in 200ths of an em."""
    heights = [300, *(claim.high(size) for claim in claims)]
    heights.append(sum(size.claims.needs(letters) for letters in not_known) * _LEADING_HUNDREDTHS + 300)
    return sum(heights) + 300 + max(heights)


@lru_cache(maxsize=4096)
def _left(size: str, high: int, wide: int, n_keys: int, n_lines: int, n_rows: int) -> int:
    """What the rest of the paper leaves for the claims, in whole 200ths of an em; below 0 when it leaves nothing.

    Args:
        size: Name of the size.
        high: Of the pedigree.
        wide: Of the pedigree.
        n_keys: Lines of its legend.
        n_lines: Lines that the texts at the bottom take in one column.
        n_rows: Lines of the longer one of the two records.
    """
    measure = next(each for each in _MEASURES if each.name == size)
    return floor(200 * (measure.high - 18 - _family(high, wide, n_keys, measure.wide) - _records(n_lines, n_rows)))


def _family(high: int, wide: int, n_keys: int, paper_wide: Fraction) -> Fraction:
    """The pedigree beside its legend: the taller of the two."""
    chart_wide = (paper_wide - 2) * Fraction(5, 9)
    legend = (n_keys + 1) // 2 * Fraction("2.1") + 4
    return max(chart_wide * high / wide, legend) + 3


def _records(n_lines: int, n_rows: int) -> Fraction:
    """Weights beside meals, the cautions in two columns below them, and what stands at the foot."""
    return max(n_rows, 1) * Fraction("1.6") + (n_lines + 1) // 2 * _LEADING + 11
