"""Reads single cells: sexes, days, weights, lengths, prices, states of offers, sires; or says why they say nothing."""

import re
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.prices import STATE_WORDS, OfferState, read_amount
from sitegen.content.report import Report
from sitegen.content.values import MONTH_NAMES, SEX_WORDS, PartialDate, parse_date, read_grams, read_millimetres
from sitegen.content.yaml_tree import Scalar, unquoted
from sitegen.exact import parse_fraction
from sitegen.findings import Place
from sitegen.genetics.loci import Sex

NOTHING = frozenset({"", "-", "\u2013", "?", "unknown", "n/a", "na", "none", "not known", "unk"})
"""What stands in a cell when nothing is known."""

_YES = {"yes": True, "y": True, "true": True, "x": True, "no": False, "n": False, "false": False}
_MONTHS = [month.lower() for month in MONTH_NAMES]
_NAMED = {spelt: number for number, name in enumerate(_MONTHS, 1) for spelt in (name, name[:3])} | {"sept": 9}
_SLASHED = re.compile(r"(\d{1,2})\s?[./-]\s?(\d{1,2})\s?[./-]\s?(\d{4})")
_MONTH_YEAR = re.compile(r"(\d{1,2})[./](\d{4})")
_WORDED = re.compile(
    r"(?:(?P<before>\d{1,2})(?:st|nd|rd|th)?\.?[\s-]+)?(?P<month>[a-z]{3,9})\.?[\s-]+"
    r"(?:(?P<after>\d{1,2})(?:st|nd|rd|th)?,?\s+)?(?P<year>\d{4})"
)
_HATCHED = re.compile(r"(?:c\.?b\.?b?\.?|ch)[\s'’-]*(\d{4}|\d{2})", re.IGNORECASE)
_PIVOT = 69
"""A year of two digits up to this one lies in 2000 to 2069, a later one in the century before. Source: POSIX."""
_ODDS = re.compile(r"(?P<name>.*\S)\s+(?P<odds>\d{1,3}\s?/\s?\d{1,4}|\d{1,3}\s?%)")


@dataclass(frozen=True, slots=True)
class Unread:
    """Why a cell, a row, or words of a label say nothing; ``unknown`` where a gene of that name was expected."""

    message: str
    expected: str = ""
    nearest: str = ""
    remedy: str = ""
    unknown: bool = False


def with_century(year: str) -> str:
    """A year of two digits with the two before it; anything else as it is."""
    return year if len(year) != 2 else f"{20 if int(year) <= _PIVOT else 19}{year}"


def read_sex(text: str) -> Sex | Unread:
    """The sex; males.females.unknown counts one animal."""
    word = unquoted(text.strip()).lower()
    if word in NOTHING:
        return Sex.UNKNOWN
    if word in SEX_WORDS or word in ("female", "male"):
        return SEX_WORDS.get(word) or Sex(word)
    if counts := re.fullmatch(r"(\d{1,4})\.(\d{1,4})(?:\.(\d{1,4}))?", word):
        total = sum(int(number or 0) for number in counts.groups())
        return Unread(f'"{text}" stands for {total} animals', "one animal a row", remedy="write one row for each")
    return Unread(f'"{text}" is no sex', "female, male, f, m, 0.1, 1.0 or unknown", remedy="write the word")


def read_day(text: str, order: str = "") -> PartialDate | Unread | None:
    """A day, a month or a year; None when nothing is known.

    ``order`` is ``day first`` or ``month first`` for 05/07/2021; otherwise that is not guessed.
    """
    word = " ".join(text.strip().lower().split())
    if word in NOTHING:
        return None
    found = parse_date(re.sub(r"[T ]00:00(:00)?\Z", "", word.upper()).replace("/", "-"))
    if found is None and (match := _SLASHED.fullmatch(word)):
        return _turned(text, match, order)
    if found is None and (match := _MONTH_YEAR.fullmatch(word)):
        found = parse_date(f"{match[2]}-{int(match[1]):02d}")
    if found is None and (match := _WORDED.fullmatch(word)) and match["month"] in _NAMED:
        day = match["before"] or match["after"]
        both = match["before"] and match["after"]
        month = f"{match['year']}-{_NAMED[match['month']]:02d}"
        found = None if both else parse_date(f"{month}-{int(day):02d}" if day else month)
    if found is None and (match := _HATCHED.fullmatch(word)):
        found = parse_date(with_century(match[1]))
    if found is None or not 1900 <= found.year <= 2199:
        return Unread(f'"{text}" is no day', "2021-07-14, 2021-07, 2021 or CB21", remedy="write the year first")
    return found


def _turned(text: str, match: re.Match[str], order: str) -> PartialDate | Unread:
    """A day with its year last, when it can be read in one way only, or the order is said."""
    first, second, year = int(match[1]), int(match[2]), match[3]
    ways = {"day first": f"{year}-{second:02d}-{first:02d}", "month first": f"{year}-{first:02d}-{second:02d}"}
    wanted = [ways[order]] if order in ways else sorted(set(ways.values()))
    real = [found for way in wanted if (found := parse_date(way))]
    if len(real) == 1:
        return real[0]
    if not real:
        return Unread(f'there is no day "{text}"', "2021-07-14", remedy="correct it")
    return Unread(
        f'"{text}" can be read in two ways', f"{real[0]} or {real[1]}",
        remedy='write the year first, or "dates: day first" (or month first) in a columns file',
    )  # fmt: skip


def read_weight(text: str, *, in_grams: bool) -> str | Unread:
    """A weight as a record writes it."""
    written = f"{text} g" if in_grams and re.fullmatch(r"[\d.]+", text) else text
    report = Report()
    grams = read_grams(Scalar(written, Place("")), report)
    if grams is None or grams > 1_000_000:
        return Unread(f'"{text}" is no weight with its unit', "310 g", remedy='write the unit, or head it "weight (g)"')
    return f"{grams} g"


def read_length(text: str, *, in_centimetres: bool) -> str | Unread:
    """A length as a record writes it."""
    written = f"{text} cm" if in_centimetres and re.fullmatch(r"[\d.]+", text) else text
    found = read_millimetres(Scalar(written, Place("")), Report())
    if found is None or found > 100_000:
        return Unread(
            f'"{text}" is no length with its unit', "102 cm", remedy='write the unit, or head it "length (cm)"'
        )
    return f"{found / 10:g} cm"


def read_price(text: str, currency: str) -> str | Unread:
    """A price as a record writes it."""
    report = Report()
    found = read_amount(Scalar(text, Place("")), report)
    if found is None or found[0] < 0:
        why = report.findings[0].message if report.findings else f'"{text}" is no price'
        return Unread(why, "140, or 140 EUR", remedy="write digits, and a currency code")
    named = found[1].isalpha() and found[1].upper() in text.upper()  # a sign says less than a column of its own
    written = found[1] if named or not currency else currency
    return f"{found[0]:f} {written}".strip()


def read_state(text: str) -> OfferState | Unread:
    """Where an offer stands."""
    word = " ".join(unquoted(text.strip()).lower().replace("-", " ").replace("_", " ").split())
    found = STATE_WORDS.get(word) or next((state for state in OfferState if state.value == word), None)
    return found or Unread(f'"{text}" is no state of an offer', "available, on hold, sold or not for sale")


def read_yes(text: str) -> bool | Unread:
    """Yes or no."""
    found = _YES.get(unquoted(text.strip()).lower())
    return Unread(f'"{text}" is neither yes nor no', "yes or no") if found is None else found


def read_sires(text: str) -> tuple[tuple[str, Fraction | None], ...]:
    """The possible sires, parted by "or", each with its odds where they are written."""
    found: list[tuple[str, Fraction | None]] = []
    for part in re.split(r"\s+or\s+", text.strip(), flags=re.IGNORECASE):
        match = _ODDS.fullmatch(part)
        odds = parse_fraction(match["odds"].replace(" ", "")) if match else None
        found.append((match["name"], odds) if match and odds is not None else (part.strip(), None))
    return tuple(found)
