"""Single values that records are made of, and how they are written: dates, ages, weights, chances, listed words."""

import calendar
import datetime as dt
import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import ceil
from typing import Any, TypeVar

from sitegen.content.declaration import AsWritten, Leaf, ListOf
from sitegen.content.report import At, Report
from sitegen.content.yaml_tree import Scalar
from sitegen.exact import meant_chance, parse_fraction
from sitegen.findings import Kind, nearest
from sitegen.genetics.loci import Sex

E = TypeVar("E", bound=StrEnum)
N = TypeVar("N", int, Fraction)
U = TypeVar("U")

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
_MILLIMETRES = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Fraction(10)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(1000)),
    **dict.fromkeys(("in", "inch", "inches"), Fraction("25.4")),
    **dict.fromkeys(("ft", "foot", "feet"), Fraction("304.8")),
}
"""Source: international yard of 1959, exactly 0.9144 m, of 3 feet and 36 inches; definition."""
_GRAMS = {
    **dict.fromkeys(("g", "gram", "grams"), Fraction(1)),
    "kg": Fraction(1000),
    **dict.fromkeys(("oz", "ounce", "ounces"), Fraction("28.349523125")),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), Fraction("453.59237")),
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


@dataclass(frozen=True, slots=True, order=True)
class PartialDate:
    """A date of which only the year, or only year and month, may be known. A month or day of 0 is not known."""

    year: int
    month: int = 0
    day: int = 0

    @property
    def earliest(self) -> dt.date:
        """The first day it can mean."""
        return dt.date(self.year, self.month or 1, self.day or 1)

    @property
    def latest(self) -> dt.date:
        """The last day it can mean."""
        month = self.month or 12
        return dt.date(self.year, month, self.day or calendar.monthrange(self.year, month)[1])

    def __str__(self) -> str:
        parts = [f"{self.year:04d}"]
        parts += [f"{self.month:02d}"] if self.month else []
        parts += [f"{self.day:02d}"] if self.day else []
        return "-".join(parts)


def whole_months(first: dt.date, day: dt.date) -> int:
    """Whole months from one day to another; negative when the other is the earlier one."""
    return (day.year - first.year) * 12 + day.month - first.month - (day.day < first.day)


@dataclass(frozen=True, slots=True)
class WrittenAge:
    """An age as it was written: whole months, or whole days."""

    months: int = 0
    days: int = 0

    def reached(self, born: dt.date) -> dt.date:
        """The day on which one born on a day reaches the age; the last day of a month that is too short."""
        total = born.year * 12 + born.month - 1 + self.months
        year, month = divmod(total, 12)
        if year > dt.MAXYEAR:
            return dt.date.max
        last = calendar.monthrange(year, month + 1)[1]
        return dt.date(year, month + 1, min(born.day, last)) + dt.timedelta(days=self.days)


@dataclass(frozen=True, slots=True)
class Weighing:
    """A weight in grams on a day."""

    date: PartialDate
    grams: int


@dataclass(frozen=True, slots=True)
class Measuring:
    """A length in millimetres on a day, from the snout to the end of the tail."""

    date: PartialDate
    millimetres: int


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
        report.wrong(
            node,
            f'"{text}" is not a date' if not _DATE.match(text) else f"there is no day {text}",
            "a date written as year-month-day, 2021-07-14; also 2021-07 or 2021, or unknown",
            "write the year first",
            near=_turned_round(text),
        )
    elif date.year not in _YEARS:
        report.wrong(
            node, f"the year {date.year} lies far from our time", "a year of this century or the last", "check the year"
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
    age = _number_and_unit(node, report)
    return None if age is None else ceil(age[0] * _MONTHS[age[1]])


def read_age(node: Scalar, report: Report) -> WrittenAge | None:
    """An age in the unit it is written in: days and weeks as days, months and years as months, rounded up."""
    age = _number_and_unit(node, report)
    if age is None:
        return None
    number, unit = age
    factor = {"day": 1, "week": 7}.get(unit)
    return WrittenAge(days=ceil(number * factor)) if factor else WrittenAge(months=ceil(number * _MONTHS[unit]))


def _number_and_unit(node: Scalar, report: Report) -> tuple[Fraction, str] | None:
    """An age as a number and day, week, month or year; None, and a finding, when it is none that a reptile reaches."""
    match = _QUANTITY.match(node.text.strip())
    unit = match[2].lower().removesuffix("s") if match else ""
    number = parse_fraction(match[1].replace(",", ".")) if match else None
    if number is None or unit not in _MONTHS:
        near = nearest(match[2], [*_MONTHS, *(f"{each}s" for each in _MONTHS)]) if match else ""
        report.wrong(
            node,
            f'"{node.text}" is not an age',
            "a number and a unit: 18 months, 2 years, 600 days",
            "write the unit after the number",
            near=f"{match[1]} {near}" if match and near else "",
        )
        return None
    if ceil(number * _MONTHS[unit]) > _OLDEST_MONTHS:
        report.wrong(node, f"{node.text} is older than any reptile", "an age such as 18 months", "check the number")
        return None
    return number, unit


def read_grams(node: Scalar, report: Report) -> int | None:
    """A weight in grams, rounded to the nearest gram; of two units the second counts what the first leaves over."""
    if pair := _PAIR.fullmatch(node.text.strip()):
        whole, rest = _GRAMS[pair[2].lower()], Fraction(pair[3].replace(",", ".")) * _GRAMS[pair[4].lower()]
        if rest < whole:
            return round(int(pair[1]) * whole + rest)
    read = _quantity(node, _GRAMS, ("weight", "310 g, 0.31 kg, 11 oz, 2 lb", "g", "grams"), report)
    if read is None:
        return None
    written, number, factor = read
    if factor < 100 and re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", written):
        report.wrong(
            node,
            f'"{node.text}" can be read in two ways: as thousands, or as thousandths',
            "a number without a point or comma, or kilograms",
            "write it without the point or comma when thousands are meant, else with two digits behind it",
        )
        return None
    return round(number * factor)


def read_millimetres(node: Scalar, report: Report) -> int | None:
    """A length in millimetres, rounded to the nearest one."""
    read = _quantity(node, _MILLIMETRES, ("length", "102 cm, 1.02 m, 40 in", "cm", "centimetres"), report)
    return round(read[1] * read[2]) if read else None


def _quantity(
    node: Scalar, units: Mapping[str, Fraction], told: tuple[str, str, str, str], report: Report
) -> tuple[str, Fraction, Fraction] | None:
    """A number as written and as read, and what its unit stands for; ``told``: what it is, such, the usual unit."""
    match = _QUANTITY.match(node.text.strip())
    factor = units.get(match[2].lower()) if match else None
    number = parse_fraction(match[1].replace(",", ".")) if match else None
    if match and number is not None and factor is not None:
        return match[1], number, factor
    what, such, unit, units_word = told
    plain = re.fullmatch(r"\d+(\.\d+)?", node.text.strip())
    report.wrong(
        node,
        f'"{node.text}" is not a {what}' + (": the unit is missing" if plain else ""),
        f"a number and a unit: {such}",
        f"write {node.text.strip()} {unit} when {units_word} are meant" if plain else "write the unit after the number",
    )
    return None


def read_whole(node: Scalar, report: Report) -> int | None:
    """A whole number, 0 or more."""
    text = node.text.strip()
    if text.isascii() and text.isdigit() and len(text) < 10:
        return int(text)
    report.wrong(node, f'"{text}" is not a whole number', "a whole number, 0 or more", "write it in digits")
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
    report.wrong(
        node,
        f'"{node.text.strip()}" is not a month',
        "the name of a month, or its number from 1 to 12",
        f"write {near}" if near else "write a month such as March",
        near=near,
    )
    return None


def read_yes(node: Scalar, report: Report) -> bool | None:
    """True or false."""
    word = node.text.strip().lower()
    if word in ("true", "yes", "on"):
        return True
    if word in ("false", "no", "off"):
        return False
    report.wrong(node, f'"{node.text}" is neither true nor false', "true or false", "write true or false")
    return None


def read_chance(node: Scalar, report: Report) -> Fraction | None:
    """A chance from 0 to 1."""
    chance = parse_fraction(node.text)
    if chance is None or chance > 1:
        above = "more than 1" if chance is not None else "not a chance"
        near = meant_chance(node.text)
        report.wrong(
            node,
            f'"{node.text}" is {above}',
            "a fraction from 0 to 1, such as 1/4, 0.25 or 25%",
            f"write {near}" if near else "write it as a fraction or a percentage",
            near=near,
        )
        return None
    return chance


def read_half(node: Scalar, report: Report) -> Fraction | None:
    """A recombination fraction, from 0 to 1/2."""
    chance = read_chance(node, report)
    if chance is not None and chance > Fraction(1, 2):
        report.wrong(
            node,
            f"a recombination fraction is never more than 1/2, and this is {node.text}",
            "a fraction from 0 to 1/2",
            "write the share of gametes in which the two loci are exchanged",
        )
        return None
    return chance


def above_zero(written: At[N] | None, usual: U, report: Report, message: str, expected: str, remedy: str) -> N | U:
    """A number that cannot be 0, which is told and taken as the ``usual`` one, as where none is written."""
    if written is None:
        return usual
    if not written.value:
        report.wrong(written, message, expected, remedy)
    return written.value or usual


def _by_sound(word: str) -> str:
    return " ".join(word.replace("_", " ").replace("-", " ").split())


def words_of(words: type[E], *, also: Mapping[str, E] | None = None, meant: Mapping[str, str] | None = None) -> Leaf:
    """One of a few words.

    ``also`` are others in use that can mean nothing else; they are read too. For those of ``meant`` it is told which
    word was meant.
    """
    known = {word.value.lower(): word for word in words}
    by_sound = {_by_sound(key): word for key, word in known.items()} | dict(also or {})
    expected = " or ".join(word.value for word in words)

    def read(node: Scalar, report: Report) -> E | None:
        text = _by_sound(node.text.lower())
        if found := by_sound.get(text):
            return found
        near = (meant or {}).get(text) or nearest(node.text, known)
        what = f'"{node.text}" is not one of the words that may stand here'
        report.unknown(Kind.VALUE_WRONG, node, what, expected, near, "write one of these words")
        return None

    return Leaf(read, expected, {"enum": [word.value for word in words]})


_WORD: dict[str, Any] = {"type": ["string", "number", "boolean"]}
_AGE: dict[str, Any] = {"pattern": r"^[\d.,/ ]+ ?(day|week|month|year)s?$", "type": "string"}
_GRAMS_PATTERN = r"^[\d.,/ ]+ ?(g|grams?|kg|oz|ounces?|lbs?|pounds?)( ?[\d.,]+ ?(g|oz))?$"
_DATE_PATTERN = r"^(\d{4}(-\d{1,2}(-\d{1,2})?)?|unknown)$"
TEXT = Leaf(read_text, "a word or text", _WORD, "")
PROSE = Leaf(read_text, "text", _WORD, "")
"""A text that may have several paragraphs."""
NAME = Leaf(read_text, "a word or text", {"type": ["string", "number"]})
"""A text that a group cannot do without."""
TEXTS = ListOf(TEXT, {"anyOf": [_WORD, {"items": _WORD, "type": "array"}, {"type": "null"}]})
DAY = Leaf(read_date, "a date", {"pattern": _DATE_PATTERN, "type": ["string", "integer"]})
KNOWN_DAY = Leaf(read_date, "a date", {"type": ["string", "integer"]})
"""A day that a group cannot do without."""
MONTH = Leaf(
    read_month, "a month", {"anyOf": [{"enum": list(MONTH_NAMES)}, {"maximum": 12, "minimum": 1, "type": "integer"}]}
)
AGE_MONTHS = Leaf(read_months, "an age such as 18 months", _AGE)
AGE = Leaf(read_age, "an age such as 8 weeks", _AGE)
WEIGHT = Leaf(read_grams, "a weight such as 310 g", {"pattern": _GRAMS_PATTERN, "type": "string"})
WHOLE = Leaf(read_whole, "a whole number", {"minimum": 0, "type": "integer"})
YES = Leaf(read_yes, "true or false", {"type": "boolean"}, usual=False)
CHANCE = Leaf(read_chance, "a fraction", {"type": ["string", "number"]})
HALF = Leaf(read_half, "a fraction from 0 to 1/2", {"type": ["string", "number"]})
TEXT_BY_NAME = AsWritten({"additionalProperties": {"type": ["string", "number"]}, "type": "object"})
ANYTHING = AsWritten()

SEX_WORDS = {
    "f": Sex.FEMALE, "0.1": Sex.FEMALE, "0,1": Sex.FEMALE, "0.1.0": Sex.FEMALE, "\u2640": Sex.FEMALE,
    "m": Sex.MALE, "1.0": Sex.MALE, "1,0": Sex.MALE, "1.0.0": Sex.MALE, "\u2642": Sex.MALE,
    "u": Sex.UNKNOWN, "0.0.1": Sex.UNKNOWN, "unsexed": Sex.UNKNOWN, "?": Sex.UNKNOWN, "m/f": Sex.UNKNOWN,
    "f/m": Sex.UNKNOWN,
}  # fmt: skip
"""How else the sex of one animal is written; ``1.0`` counts males.females, and ``m/f`` says either, so not known which.

Source: common practice, no source.
"""
SEX = words_of(Sex, also=SEX_WORDS)
