"""How large the type of a buyer's paper can be, so that all of it fits on one side of A4 and of Letter.

The style sheet sets everything on the paper in units of its own type (em); here the height of it all is estimated
in the same unit, from the letters of its texts, and the largest size is chosen that leaves room. The measures were
taken in print, and a test prints every paper of the demonstration and of some very full ones.
"""

from collections.abc import Sequence
from fractions import Fraction

from sitegen.site.parts import ClaimView, Line
from sitegen.site.pedigree_chart import PedigreeChart

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
    for name, points in SIZES:
        wide, high = _WIDE / points, _HIGH / points
        column = wide / 2 - 1
        n_below = _n_lines(sum(len(text) + 1 for text in below), column)
        left = high - 18 - _family(chart, wide) - _records(n_below, n_rows)
        if _genes(claims, not_known, column) <= left:
            return name
    return SIZES[-1][0]


def _n_lines(n_letters: int, wide: Fraction) -> int:
    """Lines that a text takes in a column of so many em."""
    a_line = max(wide, Fraction(1)) / _LETTER
    return max(1, -(-n_letters * a_line.denominator // a_line.numerator))


def _length(line: Line) -> int:
    return sum(len(span.text) for span in line)


def _claim(claim: ClaimView, column: Fraction) -> Fraction:
    """The height of a claim, with what stands between two claims; a picture of odds stands beside its text."""
    wide, at_least = (column - 6, 5) if claim.odds else (column, 0)
    text = sum(_length(line) + 1 for line in claim.explanation) + _length(claim.basis)
    n_lines = _n_lines(_length(claim.headline) * 11 // 10, wide) + _n_lines(text, wide)
    return max(n_lines * _LEADING, Fraction(at_least)) + 1


def _genes(claims: Sequence[ClaimView], not_known: Sequence[str], column: Fraction) -> Fraction:
    """Two columns of claims: half of all, and half of the tallest one that may not be parted."""
    heights = [Fraction(3), *(_claim(claim, column) for claim in claims)]
    heights.append(sum(_n_lines(len(text), column) for text in not_known) * _LEADING + 3)
    return (sum(heights) + 3 + max(heights)) / 2


def _family(chart: PedigreeChart, paper_wide: Fraction) -> Fraction:
    """The pedigree beside its legend: the taller of the two."""
    chart_wide = (paper_wide - 2) * Fraction(5, 9)
    legend = (len(chart.keys) + 1) // 2 * Fraction("2.1") + 4
    return max(chart_wide * chart.high / chart.wide, legend) + 3


def _records(n_lines: int, n_rows: int) -> Fraction:
    """Weights beside meals, the cautions in two columns below them, and what stands at the foot."""
    return max(n_rows, 1) * Fraction("1.6") + (n_lines + 1) // 2 * _LEADING + 11
