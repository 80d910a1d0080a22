"""Numbers in words: chances, counts, money, dates, ages and weights, by the language and units of the site.

A chance is told as so many in 100, always of 100, and never rounded to certainty.

Source of the rules: Trevena et al. (2013) *BMC Med Inform Decis Mak* 13(Suppl 2):S7 (one denominator, both
sides, no "1 in x"). Trade shorthand: common practice, no source.
"""

import datetime as dt
import re
from collections.abc import Mapping
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from functools import lru_cache

from babel import Locale
from babel.core import UnknownLocaleError
from babel.dates import format_date, format_skeleton, get_month_names
from babel.numbers import format_currency, format_decimal

from sitegen.content.prices import Money
from sitegen.content.values import PartialDate, whole_months
from sitegen.genetics.loci import Allele, Inheritance
from sitegen.words.speech import _, ngettext, when_asked

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
    return (200 * part + whole) // (2 * whole)  # half up, in whole numbers: round() rounds half to even


def both_sides(chance: Fraction) -> tuple[int | Edge, int | Edge]:
    """How many of 100, and how many not; the two add up to 100, though 12.5 and 87.5 would both be rounded up.

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


def sides(chance: Fraction) -> dict[str, str]:
    """A chance and its other side, as places of a sentence.

    ``{chance}``: ``about 67 in 100``; ``{others}``: ``33``; ``{fraction}``: `` (2/3)`` or empty.
    """
    fraction = simple_fraction(chance)
    return {
        "chance": in_100(chance),
        "others": count_text(both_sides(chance)[1]),
        "fraction": f" ({fraction})" if fraction else "",
    }


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


_SMALL = (
    when_asked("none"), when_asked("one"), when_asked("two"), when_asked("three"), when_asked("four"),
    when_asked("five"), when_asked("six"), when_asked("seven"), when_asked("eight"), when_asked("nine"),
    when_asked("ten"), when_asked("eleven"), when_asked("twelve"),
)  # fmt: skip


def small_number(count: int) -> str:
    """``one`` to ``twelve`` in words, above that in figures."""
    return _SMALL[count]() if 0 <= count < len(_SMALL) else str(count)


def average_text(value: Fraction) -> str:
    """An expected number with one decimal where it has one, rounded half up; never for chances.

    One that would round to nothing, and is not, is told as that. In whole tenths, because ``round`` would round half to
    even and tell 2.25 young as 2.2.

    >>> average_text(Fraction(7, 2)), average_text(Fraction(4)), average_text(Fraction(10, 3))
    ('3.5', '4', '3.3')
    >>> average_text(Fraction(1, 100)), average_text(Fraction(0))
    ('fewer than 0.1', '0')
    """
    if 0 < value < Fraction(1, 20):
        return _("fewer than 0.1")
    whole, part = divmod(int(value * 10 + Fraction(1, 2)), 10)
    return _("{whole}.{part}").format(whole=whole, part=part) if part else str(whole)


_INCH_IN_MILLIMETRES = Fraction("25.4")
"""Source: international yard of 1959; definition."""
_OUNCE_IN_GRAMS = Fraction(28349523125, 1000000000)
"""Source: the international avoirdupois pound is 0.45359237 kg by definition (1959), the ounce a sixteenth of it."""

_WRITTEN_DATE = re.compile(r"^(\d{4})(?:-(\d\d))?(?:-(\d\d))?$")


@lru_cache(maxsize=16)
def locale_of(language: str) -> Locale:
    """The locale of a language such as ``en-GB``; English for one that is not known."""
    try:
        return Locale.parse(language.replace("-", "_"))
    except (UnknownLocaleError, ValueError):
        return Locale("en")


@lru_cache(maxsize=1024)
def money_text(money: Money, language: str = "en") -> str:
    """The amount with its currency; whole amounts without decimals.

    >>> money_text(Money(Decimal("140"), "EUR")), money_text(Money(Decimal("99.50"), "GBP"))
    ('€140', '£99.50')
    """
    locale = locale_of(language)
    if money.amount != money.amount.to_integral_value():
        return format_currency(money.amount, money.currency, locale=locale)
    pattern = str(locale.currency_formats["standard"].pattern).replace(".00", "")
    return format_currency(money.amount, money.currency, pattern, locale=locale, currency_digits=False)


@lru_cache(maxsize=4096)
def date_text(date: PartialDate | dt.date, language: str = "en") -> str:
    """The date as far as it is known: ``18 July 2026``, ``July 2026``, ``2026``, in the order of the language.

    Kept, as amounts of money are, because the library takes its time and the same dates stand on many pages.

    >>> date_text(PartialDate(2026, 7, 18), "en-GB"), date_text(PartialDate(2026, 7)), date_text(PartialDate(2026))
    ('18 July 2026', 'July 2026', '2026')
    """
    if not date.month:
        return str(date.year)
    if not date.day:
        return format_skeleton("yMMMM", dt.date(date.year, date.month, 1), locale=locale_of(language))
    return format_date(dt.date(date.year, date.month, date.day), format="long", locale=locale_of(language))


def month_names(language: str) -> Mapping[int, str]:
    """The names of the months by their number, 1 to 12."""
    return get_month_names("wide", context="format", locale=locale_of(language))


def written_date(text: str, language: str) -> str:
    """A date written as ``2024-02-01``, ``2024-02`` or ``2024`` in words; anything else as it stands."""
    match = _WRITTEN_DATE.match(text)
    if not match:
        return text
    return date_text(PartialDate(int(match[1]), int(match[2] or 0), int(match[3] or 0)), language)


def whole_text(number: int, language: str) -> str:
    """A whole number with the signs between thousands that the language has: ``20,000``."""
    return format_decimal(number, locale=locale_of(language))


def decimal_text(tenths: int, language: str) -> str:
    """Tenths with the sign before them that the language has: ``3.4``."""
    return format_decimal(tenths / 10, "0.0", locale=locale_of(language))


def days_text(days: int) -> str:
    """``10 days``."""
    return ngettext("{count} day", "{count} days", days).format(count=days)


def weeks_text(weeks: int) -> str:
    """``8 weeks``."""
    return ngettext("{count} week", "{count} weeks", weeks).format(count=weeks)


def months_text(months: int) -> str:
    """``18 months``, ``3 years``: months up to two years and wherever years would not come out even."""
    if months >= 24 and months % 12 == 0:
        return _years_text(months // 12)
    return ngettext("{count} month", "{count} months", months).format(count=months)


def _years_text(years: int) -> str:
    return ngettext("{count} year", "{count} years", years).format(count=years)


def age_text(born: PartialDate, day: dt.date) -> str:
    """The age on a day in words; ``about`` when the day of birth is not known; empty before birth.

    Days up to two weeks, weeks up to three months, months up to two years: finer would claim an exactness that no
    buyer needs, coarser would hide how young a hatchling is.

    >>> age_text(PartialDate(2024, 5, 1), dt.date(2025, 7, 3)), age_text(PartialDate(2021), dt.date(2025, 7, 3))
    ('14 months', 'about 4 years')
    """
    if born.earliest > day:
        return ""
    if not born.month:
        years = day.year - born.year
        return _("about {age}").format(age=_years_text(years)) if years else _("under a year")
    days, months = (day - born.earliest).days, whole_months(born.earliest, day)
    rounded = months_text(months) if months < 24 else _years_text(months // 12)
    if not born.day:
        return _("about {age}").format(age=rounded) if months else _("under a month")
    if days < 14:
        return days_text(days)
    return weeks_text(days // 7) if months < 3 else rounded


def weight_text(grams: int, units: str = "metric", language: str = "en") -> str:
    """The weight in grams, or in ounces with one decimal where units are imperial.

    >>> weight_text(402), weight_text(402, "imperial")
    ('402 g', '14.2 oz')
    """
    locale = locale_of(language)
    if units == "metric":
        return _("{weight} g").format(weight=format_decimal(grams, locale=locale))
    tenths = int(Fraction(grams) / _OUNCE_IN_GRAMS * 10 + Fraction(1, 2))
    return _("{weight} oz").format(weight=format_decimal(Decimal(tenths) / 10, "#,##0.0", locale=locale))


def length_text(millimetres: int, units: str = "metric", language: str = "en") -> str:
    """The length in centimetres, or in inches where units are imperial, with one decimal where it is not whole.

    >>> length_text(1020), length_text(845), length_text(1016, "imperial")
    ('102 cm', '84.5 cm', '40 in')
    """
    unit = 10 if units == "metric" else _INCH_IN_MILLIMETRES
    tenths = int(Fraction(millimetres) / unit * 10 + Fraction(1, 2))
    length = format_decimal(Decimal(tenths) / 10, "#,##0.#", locale=locale_of(language))
    return (_("{length} cm") if units == "metric" else _("{length} in")).format(length=length)
