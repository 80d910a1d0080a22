"""Money, dates, ages and weights by the language and units of the site."""

import datetime as dt
import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from babel import Locale
from babel.core import UnknownLocaleError
from babel.dates import format_date, format_skeleton
from babel.numbers import format_currency, format_decimal

from sitegen.content.values import Money, PartialDate, whole_months
from sitegen.words.speech import _, ngettext, told_alike

_OUNCE_IN_GRAMS = Fraction(28349523125, 1000000000)
"""Source: the international avoirdupois pound is 0.45359237 kg by definition (1959), the ounce a sixteenth of it."""

_WRITTEN_DATE = re.compile(r"^(\d{4})(?:-(\d\d))?(?:-(\d\d))?$")


@dataclass(frozen=True, slots=True)
class Locales:
    """The language of the site as a locale; an unknown language is told in English."""

    language: str = "en"

    @property
    def locale(self) -> Locale:
        """The locale that Babel knows."""
        try:
            return Locale.parse(self.language.replace("-", "_"))
        except (UnknownLocaleError, ValueError):
            return Locale("en")


@told_alike
def money_text(money: Money, language: str = "en") -> str:
    """The amount with its currency; whole amounts without decimals.

    >>> money_text(Money(Decimal("140"), "EUR")), money_text(Money(Decimal("99.50"), "GBP"))
    ('€140', '£99.50')
    """
    locale = Locales(language).locale
    pattern = str(locale.currency_formats["standard"].pattern)
    if money.amount == money.amount.to_integral_value():
        return format_currency(
            money.amount, money.currency, pattern.replace(".00", ""), locale=locale, currency_digits=False
        )
    return format_currency(money.amount, money.currency, locale=locale)


@lru_cache(maxsize=4096)
def date_text(date: PartialDate, language: str = "en") -> str:
    """The date as far as it is known: ``18 July 2026``, ``July 2026``, ``2026``, in the order of the language.

    >>> date_text(PartialDate(2026, 7, 18), "en-GB"), date_text(PartialDate(2026, 7)), date_text(PartialDate(2026))
    ('18 July 2026', 'July 2026', '2026')
    """
    locale = Locales(language).locale
    if date.day:
        return format_date(date.earliest, format="long", locale=locale)
    if date.month:
        return format_skeleton("yMMMM", date.earliest, locale=locale)
    return str(date.year)


def written_date(text: str, locales: Locales) -> str:
    """A date written as ``2024-02-01``, ``2024-02`` or ``2024`` in words; anything else as it stands."""
    match = _WRITTEN_DATE.match(text)
    if not match:
        return text
    return date_text(PartialDate(int(match[1]), int(match[2] or 0), int(match[3] or 0)), locales.language)


def months_text(months: int) -> str:
    """``18 months``, ``3 years``: months up to two years and wherever years would not come out even."""
    if months >= 24 and months % 12 == 0:
        return ngettext("{count} year", "{count} years", months // 12).format(count=months // 12)
    return ngettext("{count} month", "{count} months", months).format(count=months)


@told_alike
def age_text(born: PartialDate, day: dt.date) -> str:
    """The age on a day in words; ``about`` when the day of birth is not known; empty before birth.

    >>> age_text(PartialDate(2024, 5, 1), dt.date(2025, 7, 3)), age_text(PartialDate(2021), dt.date(2025, 7, 3))
    ('14 months', 'about 4 years')
    """
    if born.earliest > day:
        return ""
    if not born.month:
        years = day.year - born.year
        return _("under a year") if years == 0 else _("about {age}").format(age=_years(years))
    about = "{age}" if born.day else _("about {age}")
    first = born.earliest
    days = (day - first).days
    months = whole_months(first, day)
    if not born.day and months == 0:
        return _("under a month")
    if born.day and days < 14:
        return ngettext("{count} day", "{count} days", days).format(count=days)
    if born.day and months < 3:
        return ngettext("{count} week", "{count} weeks", days // 7).format(count=days // 7)
    return about.format(age=months_text(months) if months < 24 else _years(months // 12))


@told_alike
def weight_text(grams: int, units: str = "metric", language: str = "en") -> str:
    """The weight in grams, or in ounces with one decimal where units are imperial.

    >>> weight_text(402), weight_text(402, "imperial")
    ('402 g', '14.2 oz')
    """
    locale = Locales(language).locale
    if units == "metric":
        return _("{weight} g").format(weight=format_decimal(grams, locale=locale))
    tenths = int(Fraction(grams) / _OUNCE_IN_GRAMS * 10 + Fraction(1, 2))
    return _("{weight} oz").format(weight=format_decimal(Decimal(tenths) / 10, "#,##0.0", locale=locale))


def _years(years: int) -> str:
    return ngettext("{count} year", "{count} years", years).format(count=years)
