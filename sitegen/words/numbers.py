"""Chances in words: so many in 100, always of 100, and never rounded to certainty.

Source of the rules: Trevena et al. (2013) *BMC Med Inform Decis Mak* 13(Suppl 2):S7 (one denominator, both
sides, no "1 in x"). Trade shorthand: common practice, no source.
"""

from enum import Enum
from fractions import Fraction

from sitegen.genetics.loci import Allele, Inheritance
from sitegen.words.speech import _, told_alike

SIMPLE_DENOMINATOR = 64
"""A fraction with a denominator up to this is written beside the number in 100. Four generations back give 16ths."""


_IN_TRADE = {Fraction(1, 3): "33%", Fraction(1, 2): "50%", Fraction(2, 3): "66%"}
"""The chances for which the trade at large has a word; common practice, no source."""


class Edge(Enum):
    """A chance that would round to none or to all, and is not."""

    FEWER_THAN_1 = "fewer than 1"
    MORE_THAN_99 = "more than 99"


def about_in_100(chance: Fraction) -> int | Edge:
    """How many of 100, rounded half up; an :class:`Edge` within 1 of either end; 0 and 100 only when exact.

    >>> about_in_100(Fraction(2, 3)), about_in_100(Fraction(1, 8)), about_in_100(Fraction(1, 129))
    (67, 13, <Edge.FEWER_THAN_1: 'fewer than 1'>)

    Raises:
        ValueError: Not a chance.
    """
    part, whole = chance.numerator, chance.denominator
    if not 0 <= part <= whole:
        raise ValueError(f"{chance} is not a chance")
    if 0 < 100 * part < whole:
        return Edge.FEWER_THAN_1
    if 99 * whole < 100 * part < 100 * whole:
        return Edge.MORE_THAN_99
    return (200 * part + whole) // (2 * whole)


def both_sides(chance: Fraction) -> tuple[int | Edge, int | Edge]:
    """How many of 100, and how many not; the two add up to 100.

    >>> both_sides(Fraction(2, 3)), both_sides(Fraction(1, 8))
    ((67, 33), (13, 87))
    """
    count = about_in_100(chance)
    if isinstance(count, Edge):
        other = Edge.MORE_THAN_99 if count is Edge.FEWER_THAN_1 else Edge.FEWER_THAN_1
        return count, other
    return count, 100 - count


def count_text(count: int | Edge) -> str:
    """``67``, ``fewer than 1``, ``more than 99``."""
    if isinstance(count, int):
        return str(count)
    return _("fewer than 1") if count is Edge.FEWER_THAN_1 else _("more than 99")


def in_100(chance: Fraction) -> str:
    """``about 67 in 100``, ``fewer than 1 in 100``; ``0 in 100`` and ``100 in 100`` only when exact.

    >>> in_100(Fraction(2, 3)), in_100(Fraction(127, 128)), in_100(Fraction(1))
    ('about 67 in 100', 'more than 99 in 100', '100 in 100')
    """
    count = about_in_100(chance)
    if isinstance(count, Edge) or chance.denominator == 1:
        return _("{count} in 100").format(count=count_text(count))
    return _("about {count} in 100").format(count=count_text(count))


def simple_fraction(chance: Fraction) -> str:
    """``2/3`` when that is easier to read than to skip, else empty.

    Denominators up to 64, and beyond that a chance near an end that is one part of up to 1,000 away
    from it: there the number in 100 says little.

    >>> simple_fraction(Fraction(2, 3)), simple_fraction(Fraction(27, 91)), simple_fraction(Fraction(1, 129))
    ('2/3', '', '1/129')
    """
    if chance.denominator == 1:
        return ""
    one_part = 1 in (chance.numerator, chance.denominator - chance.numerator)
    near_an_end = isinstance(about_in_100(chance), Edge) and one_part and chance.denominator <= 1000
    return str(chance) if chance.denominator <= SIMPLE_DENOMINATOR or near_an_end else ""


def fraction_behind(chance: Fraction) -> str:
    """`` (1/4)`` to stand behind a number when the fraction is simple, else nothing."""
    fraction = simple_fraction(chance)
    return f" ({fraction})" if fraction else ""


def trade_percent(chance: Fraction) -> str:
    """The percentage the trade writes, which is for young of known parents only; empty for any other chance.

    >>> trade_percent(Fraction(2, 3)), trade_percent(Fraction(1, 2)), trade_percent(Fraction(13, 25))
    ('66%', '50%', '')
    """
    return _IN_TRADE.get(chance, "")


def trade_shorthand(chance: Fraction, allele: Allele) -> str:
    """What the trade would write of a hidden recessive: ``66% het``, ``het``; empty for every other allele."""
    if allele.inheritance is not Inheritance.RECESSIVE:
        return ""
    if chance == 1:
        return "het"
    percent = trade_percent(chance)
    return f"{percent} het" if percent else ""


def quoted(text: str) -> str:
    """The text in quotation marks: another's word, not ours."""
    return _("“{text}”").format(text=text)


@told_alike
def small_number(count: int) -> str:
    """``one`` to ``twelve`` in words, above that in figures."""
    words = (
        _("none"), _("one"), _("two"), _("three"), _("four"), _("five"), _("six"), _("seven"), _("eight"),
        _("nine"), _("ten"), _("eleven"), _("twelve"),
    )  # fmt: skip
    return words[count] if 0 <= count < len(words) else str(count)


def decimal_text(value: Fraction) -> str:
    """A count with one decimal where it has one, rounded half up: ``3.5``, ``4``. For expected numbers, never chances.

    >>> decimal_text(Fraction(7, 2)), decimal_text(Fraction(4)), decimal_text(Fraction(10, 3))
    ('3.5', '4', '3.3')
    """
    tenths = int(value * 10 + Fraction(1, 2))
    whole, part = divmod(tenths, 10)
    return _("{whole}.{part}").format(whole=whole, part=part) if part else str(whole)


def average_text(value: Fraction) -> str:
    """An expected number with one decimal; one that would round to nothing, and is not, is told as that.

    >>> average_text(Fraction(7, 2)), average_text(Fraction(1, 100)), average_text(Fraction(0))
    ('3.5', 'fewer than 0.1', '0')
    """
    return _("fewer than 0.1") if 0 < value < Fraction(1, 20) else decimal_text(value)
