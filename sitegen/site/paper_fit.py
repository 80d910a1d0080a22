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
_LETTER = Fraction("0.415")
"""Average width of a letter, in em."""
_LEADING = 128
"""Height of a line in hundredths of an em: heights are added up so often that whole numbers pay."""


def type_size(
    claims: Sequence[ClaimView], not_known: Sequence[str], chart: PedigreeChart, below: Sequence[str], n_rows: int
) -> str:
    """The name of the largest size in which the paper fits; the smallest when none does.

    ``below`` stands at the bottom: cautions, readiness; ``n_rows`` are the lines of the longer one of the two records.
    """
    letters, n_below = [_letters(claim) for claim in claims], sum(len(text) + 1 for text in below)
    for name, points in SIZES:
        wide, high = _WIDE / points, _HIGH / points
        column = wide / 2 - 1
        left = 100 * (high - 18) - _family(chart, wide) - _records(_n_lines(n_below, _a_line(column)), n_rows)
        if _genes(letters, not_known, column) <= left:
            return name
    return SIZES[-1][0]


def lines_of(text: str, wide: Fraction) -> int:
    """Lines that a text takes in a column so many em wide; a tenth is lost where words do not part."""
    return _n_lines(len(text) * 11 // 10, _a_line(wide))


def _a_line(wide: Fraction) -> Fraction:
    """Letters that stand in a line of so many em."""
    return max(wide, Fraction(1)) / _LETTER


def _n_lines(n_letters: int, a_line: Fraction) -> int:
    """Lines that a text takes; a line holds so many letters."""
    return max(1, -(-n_letters * a_line.denominator // a_line.numerator))


def _length(line: Line) -> int:
    return sum(len(span.text) for span in line)


def _letters(claim: ClaimView) -> tuple[int, int, bool]:
    """Letters of a claim's headline, as wide as those of its text; letters of its text; is there a picture of odds."""
    text = sum(_length(line) + 1 for line in claim.explanation) + _length(claim.basis)
    return _length(claim.headline) * 11 // 10, text, claim.odds is not None


def _genes(claims: Sequence[tuple[int, int, bool]], not_known: Sequence[str], column: Fraction) -> Fraction:
    """Two columns of claims: half of all, and half of the tallest one that may not be parted; in hundredths of an em.

    A claim has the height of its lines, with what stands between two claims; a picture of odds stands beside its text.
    """
    alone, beside = _a_line(column), _a_line(column - 6)
    heights = [300]
    for headline, text, odds in claims:
        a_line = beside if odds else alone
        high = (_n_lines(headline, a_line) + _n_lines(text, a_line)) * _LEADING
        heights.append(max(high, 500 if odds else 0) + 100)
    heights.append(sum(_n_lines(len(text), alone) for text in not_known) * _LEADING + 300)
    return Fraction(sum(heights) + 300 + max(heights), 2)


def _family(chart: PedigreeChart, paper_wide: Fraction) -> Fraction:
    """The pedigree beside its legend: the taller of the two, in hundredths of an em."""
    chart_wide = (paper_wide - 2) * Fraction(500, 9)
    legend = (len(chart.keys) + 1) // 2 * 210 + 400
    return max(chart_wide * chart.high / chart.wide, Fraction(legend)) + 300


def _records(n_lines: int, n_rows: int) -> int:
    """Weights beside meals, the cautions in two columns below them, and the foot, in hundredths of an em."""
    return max(n_rows, 1) * 160 + (n_lines + 1) // 2 * _LEADING + 1100
