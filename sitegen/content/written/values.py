"""How single values are written: dates, ages, weights, money, chances, words from a list."""

import datetime as dt
import re
from collections.abc import Mapping
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import ceil
from typing import Annotated, Any, TypeVar

from pydantic import WithJsonSchema

from sitegen.content.report import At, Report
from sitegen.content.values import PartialDate, WrittenAge
from sitegen.content.written.forms import LISTED, leaf, raw
from sitegen.content.yaml_tree import Scalar
from sitegen.exact import meant_chance, parse_fraction
from sitegen.findings import Kind, nearest

E = TypeVar("E", bound=StrEnum)

_DATE = re.compile(r"^(\d{4})(?:-(\d{1,2})(?:-(\d{1,2}))?)?$")
_OTHER_DATE = re.compile(r"^(\d{1,2})[./](\d{1,2})[./](\d{4})$")
_PAIR = re.compile(r"(\d+)\s*(kg|lbs?|pounds?)\s*,?\s*(\d+(?:[.,]\d+)?)\s*(g|grams?|oz|ounces?)", re.IGNORECASE)
"""Two units in one weight: 9 lb 4 oz."""
_QUANTITY = re.compile(r"^(\d+(?:[.,]\d+)?|\d+\s*/\s*\d+)\s*([a-zA-Z]+)$")
_MONTHS = {
    "day": Fraction(12 * 4, 1461),
    "week": Fraction(7 * 12 * 4, 1461),
    "month": Fraction(1),
    "year": Fraction(12),
}
_GRAMS = {
    "g": Fraction(1),
    "gram": Fraction(1),
    "grams": Fraction(1),
    "kg": Fraction(1000),
    "oz": Fraction("28.349523125"),
    "ounce": Fraction("28.349523125"),
    "ounces": Fraction("28.349523125"),
    "lb": Fraction("453.59237"),
    "lbs": Fraction("453.59237"),
    "pound": Fraction("453.59237"),
    "pounds": Fraction("453.59237"),
}
"""Source: international avoirdupois pound of 1959, exactly 0.45359237 kg, of 16 ounces; definition."""
MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
"""As records name them, January first."""
_OLDEST_MONTHS = 200 * 12
_YEARS = range(1900, 2200)
NOT_KNOWN = ("unknown", "?")


def _wrong(report: Report, node: Scalar, message: str, expected: str, *, near: str = "", remedy: str = "") -> None:
    report.error(Kind.VALUE_WRONG, node, message, expected=expected, nearest=near, remedy=remedy)


def read_text(node: Scalar, report: Report) -> str | None:
    """Any text, without spaces around it."""
    return node.text.strip() or None


def parse_date(text: str) -> PartialDate | None:
    """The date written as ``2021-07-14``, ``2021-07`` or ``2021``; None when it is none of these or no real day.

    >>> parse_date("2021-07")
    PartialDate(year=2021, month=7, day=0)
    """
    match = _DATE.match(text.strip())
    if match is None:
        return None
    year, month, day = int(match[1]), int(match[2] or 0), int(match[3] or 0)
    try:
        dt.date(year, month or 1, day or 1)
    except ValueError:
        return None
    if (match[2] and not month) or (match[3] and not day):
        return None
    return PartialDate(year, month, day)


def read_date(node: Scalar, report: Report) -> PartialDate | None:
    """A date of which only the year, or year and month, may be known; ``unknown`` is no date."""
    text = node.text.strip()
    if text.lower() in NOT_KNOWN:
        return None
    date = parse_date(text)
    if date is None:
        _wrong(
            report,
            node,
            f'"{text}" is not a date' if not _DATE.match(text) else f"there is no day {text}",
            "a date written as year-month-day, 2021-07-14; also 2021-07 or 2021, or unknown",
            near=_turned_round(text),
            remedy="write the year first",
        )
    elif date.year not in _YEARS:
        _wrong(
            report,
            node,
            f"the year {date.year} lies far from our time",
            "a year of this century or the last",
            remedy="check the year",
        )
        return None
    return date


def _turned_round(text: str) -> str:
    """A date with its year last, turned round when it can only be read in one way."""
    match = _OTHER_DATE.match(text)
    if match is None:
        return ""
    first, second = int(match[1]), int(match[2])
    candidates = {f"{match[3]}-{month:02d}-{day:02d}" for day, month in ((first, second), (second, first))}
    real = [text for text in sorted(candidates) if parse_date(text)]
    return real[0] if len(real) == 1 else ""


def read_months(node: Scalar, report: Report) -> int | None:
    """An age in months, rounded up to whole months."""
    match = _QUANTITY.match(node.text.strip())
    unit = match[2].lower().removesuffix("s") if match else ""
    number = parse_fraction(match[1].replace(",", ".")) if match else None
    if number is None or unit not in _MONTHS:
        _wrong(
            report,
            node,
            f'"{node.text}" is not an age',
            "a number and a unit: 18 months, 2 years, 600 days",
            near=f"{match[1]} {near}"
            if match and (near := nearest(match[2], [*_MONTHS, *(f"{u}s" for u in _MONTHS)]))
            else "",
            remedy="write the unit after the number",
        )
        return None
    months = number * _MONTHS[unit]
    whole = -(-months.numerator // months.denominator)
    if whole > _OLDEST_MONTHS:
        _wrong(
            report,
            node,
            f"{node.text} is older than any reptile",
            "an age such as 18 months",
            remedy="check the number",
        )
        return None
    return whole


def read_age(node: Scalar, report: Report) -> WrittenAge | None:
    """An age in the unit it is written in: days and weeks as days, months and years as months, rounded up."""
    months = read_months(node, report)
    if months is None:
        return None
    match = _QUANTITY.match(node.text.strip())
    number = parse_fraction(match[1].replace(",", ".")) if match else None
    assert match is not None
    assert number is not None
    factor = {"day": 1, "week": 7}.get(match[2].lower().removesuffix("s"))
    return WrittenAge(days=ceil(number * factor)) if factor else WrittenAge(months=months)


def read_grams(node: Scalar, report: Report) -> int | None:
    """A weight in grams, rounded to the nearest gram; of two units the second counts what the first leaves over."""
    if pair := _PAIR.fullmatch(node.text.strip()):
        whole, rest = _GRAMS[pair[2].lower()], Fraction(pair[3].replace(",", ".")) * _GRAMS[pair[4].lower()]
        if rest < whole:
            return round(int(pair[1]) * whole + rest)
    match = _QUANTITY.match(node.text.strip())
    factor = _GRAMS.get(match[2].lower()) if match else None
    number = parse_fraction(match[1].replace(",", ".")) if match else None
    if number is None or factor is None:
        plain = re.fullmatch(r"\d+(\.\d+)?", node.text.strip())
        _wrong(
            report,
            node,
            f'"{node.text}" is not a weight' + (": the unit is missing" if plain else ""),
            "a number and a unit: 310 g, 0.31 kg, 11 oz, 2 lb",
            remedy=f"write {node.text.strip()} g when grams are meant" if plain else "write the unit after the number",
        )
        return None
    if factor < 100 and re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", match[1] if match else ""):
        _wrong(
            report,
            node,
            f'"{node.text}" can be read in two ways: as thousands, or as thousandths',
            "a number without a point or comma, or kilograms",
            remedy="write it without the point or comma when thousands are meant, else with two digits behind it",
        )
        return None
    return round(number * factor)


def read_whole(node: Scalar, report: Report) -> int | None:
    """A whole number, 0 or more."""
    text = node.text.strip()
    if text.isascii() and text.isdigit() and len(text) < 10:
        return int(text)
    _wrong(report, node, f'"{text}" is not a whole number', "a whole number, 0 or more", remedy="write it in digits")
    return None


def read_month(node: Scalar, report: Report) -> int | None:
    """A month as a number from 1 to 12, from its number, its name or the first three letters of it."""
    word = node.text.strip().lower().removesuffix(".")
    named = [number for number, name in enumerate(MONTH_NAMES, 1) if word in (name.lower(), name[:3].lower())]
    if named:
        return named[0]
    if word.isascii() and word.isdigit() and 1 <= int(word[:3]) <= 12:
        return int(word)
    near = nearest(word, [name.lower() for name in MONTH_NAMES]).capitalize()
    _wrong(
        report,
        node,
        f'"{node.text.strip()}" is not a month',
        "the name of a month, or its number from 1 to 12",
        near=near,
        remedy=f"write {near}" if near else "write a month such as March",
    )
    return None


def read_yes(node: Scalar, report: Report) -> bool | None:
    """True or false."""
    word = node.text.strip().lower()
    if word in ("true", "yes", "on"):
        return True
    if word in ("false", "no", "off"):
        return False
    _wrong(report, node, f'"{node.text}" is neither true nor false', "true or false", remedy="write true or false")
    return None


def read_chance(node: Scalar, report: Report) -> Fraction | None:
    """A chance from 0 to 1."""
    chance = parse_fraction(node.text)
    if chance is None or chance > 1:
        above = "more than 1" if chance is not None else "not a chance"
        near = meant_chance(node.text)
        _wrong(
            report,
            node,
            f'"{node.text}" is {above}',
            "a fraction from 0 to 1, such as 1/4, 0.25 or 25%",
            near=near,
            remedy=f"write {near}" if near else "write it as a fraction or a percentage",
        )
        return None
    return chance


def read_half(node: Scalar, report: Report) -> Fraction | None:
    """A recombination fraction, from 0 to 1/2."""
    chance = read_chance(node, report)
    if chance is not None and chance > Fraction(1, 2):
        _wrong(
            report,
            node,
            f"a recombination fraction is never more than 1/2, and this is {node.text}",
            "a fraction from 0 to 1/2",
            remedy="write the share of gametes in which the two loci are exchanged",
        )
        return None
    return chance


SIGNS = {"€": "EUR", "£": "GBP", "$": "$", "euro": "EUR", "euros": "EUR", "pound": "GBP", "pounds": "GBP",
         "dollar": "$", "dollars": "$"}  # fmt: skip
"""Signs and words of money, to the currency code; ``$`` is the sign of several, and is looked up later."""
_PRICE = re.compile(r"([A-Za-z]{2,7}|[€£$])?\s*(-?\d[\d., '\u2019\u00a0\u202f]*?)(?:[.,]-+)?\s*([A-Za-z]{2,7}|[€£$])?")
_GROUPED = re.compile(
    r"(-?\d{1,3})((?P<by>[., '\u2019\u00a0\u202f])\d{3}(?:(?P=by)\d{3})*)(?:(?!(?P=by))[.,](\d{1,2}))?"
)


def read_amount(node: Scalar, report: Report) -> tuple[Decimal, str] | None:
    """A price: an amount and its currency; the currency is empty when only the number is written.

    The cents may stand behind a comma, and thousands may be parted, where no other reading is possible: ``1,400`` is
    told. ``1.400`` is taken as it is, since some currencies have three digits behind the point.
    """
    text = node.text.strip()
    match = _PRICE.fullmatch(text)
    amount = _amount(match[2]) if match and not (match[1] and match[3]) else None
    unit = (match[1] or match[3] or "") if match else ""
    if amount is not None and (len(unit) < 5 or unit.lower() in SIGNS):
        return amount, SIGNS.get(unit.lower(), unit)
    number = match[2] if match else ""
    two = re.fullmatch(r"-?\d{1,3},\d{3}", number)
    report.error(
        Kind.PRICE_WRONG,
        node,
        f'"{text}" can be read in two ways: {number.replace(",", "")} or {number.replace(",", ".")}'
        if two
        else f'"{text}" is not a price',
        expected="an amount, or an amount and a currency code: 140 or 140 EUR",
        remedy="write thousands without a comma, and cents behind a point"
        if two
        else "write the currency as three capital letters, or once for all in site.yaml",
    )
    return None


def _amount(number: str) -> Decimal | None:
    """The number of a price; None where it is none, or where a comma may part thousands or a fraction."""
    if re.fullmatch(r"-?\d{1,12}(?:\.\d{1,6}|,\d{1,2})?", number):
        return Decimal(number.replace(",", "."))
    grouped = _GROUPED.fullmatch(number)
    if grouped is None or (grouped["by"] in ".," and len(grouped[2]) == 4 and not grouped[4]):
        return None
    whole = re.sub(r"\D", "", grouped[2])
    return Decimal(f"{grouped[1]}{whole}.{grouped[4] or 0}") if grouped[4] else Decimal(f"{grouped[1]}{whole}")


def word_reader(words: type[E], *, also: Mapping[str, E] | None = None, meant: Mapping[str, str] | None = None) -> Any:
    """The two marks of a field that holds one of a few words.

    Args:
        words: Those that a record should hold.
        also: Others in use that can mean nothing else; they are read too.
        meant: Others that are told, with the word that was meant.
    """
    known = {word.value.lower(): word for word in words}
    by_sound = {key.replace("_", " "): word for key, word in known.items()} | dict(also or {})
    expected = " or ".join(word.value for word in words)

    def read(node: Scalar, report: Report) -> E | None:
        text = " ".join(node.text.lower().replace("_", " ").replace("-", " ").split())
        if found := by_sound.get(text):
            return found
        near = (meant or {}).get(text) or nearest(node.text, known)
        _wrong(
            report,
            node,
            f'"{node.text}" is not one of the words that may stand here',
            expected,
            near=near,
            remedy=f'write "{near}"' if near else "write one of these words",
        )
        return None

    return leaf(read, expected, {"enum": [word.value for word in words]})


def _leaf(read: Any, expected: str, **schema: Any) -> Any:
    return leaf(read, expected, schema)


_TEXT = _leaf(read_text, "a word or text", type=["string", "number", "boolean"])
_DAY = _leaf(read_date, "a date", type=["string", "integer"], pattern=r"^(\d{4}(-\d{1,2}(-\d{1,2})?)?|unknown)$")
_AGE = _leaf(read_months, "an age such as 18 months", type="string", pattern=r"^[\d.,/ ]+ ?(day|week|month|year)s?$")
_AGE_AS_WRITTEN = _leaf(
    read_age, "an age such as 8 weeks", type="string", pattern=r"^[\d.,/ ]+ ?(day|week|month|year)s?$"
)
_WEIGHT = _leaf(
    read_grams,
    "a weight such as 310 g",
    type="string",
    pattern=r"^[\d.,/ ]+ ?(g|grams?|kg|oz|ounces?|lbs?|pounds?)( ?[\d.,]+ ?(g|oz))?$",
)
_WHOLE = _leaf(read_whole, "a whole number", type="integer", minimum=0)
_YES = _leaf(read_yes, "true or false", type="boolean")
_CHANCE = _leaf(read_chance, "a fraction", type=["string", "number"])
_HALF = _leaf(read_half, "a fraction from 0 to 1/2", type=["string", "number"])

Text = Annotated[At[str] | None, *_TEXT]
SureText = Annotated[At[str], *leaf(read_text, "a word or text", {"type": ["string", "number"]}, sure=True)]
SureDay = Annotated[At[PartialDate], *leaf(read_date, "a date", {"type": ["string", "integer"]}, sure=True)]
SureMonth = Annotated[
    At[int],
    *leaf(
        read_month,
        "a month",
        {"anyOf": [{"enum": list(MONTH_NAMES)}, {"type": "integer", "minimum": 1, "maximum": 12}]},
        sure=True,
    ),
]
SureWhole = Annotated[At[int], *leaf(read_whole, "a whole number", {"type": "integer", "minimum": 0}, sure=True)]
Day = Annotated[At[PartialDate] | None, *_DAY]
Age = Annotated[At[int] | None, *_AGE]
AgeAsWritten = Annotated[At[WrittenAge] | None, *_AGE_AS_WRITTEN]
Weight = Annotated[At[int] | None, *_WEIGHT]
Whole = Annotated[At[int] | None, *_WHOLE]
YesNo = Annotated[At[bool] | None, *_YES]
Chance = Annotated[At[Fraction] | None, *_CHANCE]
Half = Annotated[At[Fraction] | None, *_HALF]
_WORD: dict[str, Any] = {"type": ["string", "number", "boolean"]}
Texts = Annotated[
    tuple[Text, ...] | None,
    LISTED,
    WithJsonSchema({"anyOf": [_WORD, {"type": "array", "items": _WORD}, {"type": "null"}]}),
]
Tree = Annotated[Any, *raw({})]
GROUP = raw({"type": "object"})
Group = Annotated[Any, *GROUP]
