"""Chances as people write them, read and written without a single floating-point number."""

import math
import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import TypeVar

K = TypeVar("K")

_NUMBER = r"(\d+(?:\.\d+)?|\.\d+)"
_PERCENT = re.compile(rf"^{_NUMBER}\s*%$")
_PLAIN = re.compile(rf"^{_NUMBER}$")
_LONGEST = 100
"""Signs of the longest number that is read; a chance that a person writes has a dozen."""
_PLACES = 10**40
_RATIO = re.compile(r"^(\d+)\s*/\s*(\d+)$")

TRADE_PERCENT = {"66": Fraction(2, 3), "33": Fraction(1, 3)}
"""Trade roundings of thirds. Source: common practice, no source."""


def parse_fraction(text: str, longest: int = _LONGEST) -> Fraction | None:
    """The fraction written as ``1/4``, ``0.25`` or ``25%``; None when the text is none of these, or longer than that.

    >>> parse_fraction("25%"), parse_fraction("1/4"), parse_fraction(".25")
    (Fraction(1, 4), Fraction(1, 4), Fraction(1, 4))
    """
    text = text.strip()
    if len(text) > longest:
        return None
    if ratio := _RATIO.match(text):
        return Fraction(int(ratio[1]), int(ratio[2])) if int(ratio[2]) else None
    if percent := _PERCENT.match(text):
        return Fraction(percent[1]) / 100
    return Fraction(text) if _PLAIN.match(text) else None


def parse_stated_chance(text: str) -> Fraction | None:
    """Like :func:`parse_fraction`, but ``66%`` means 2/3 and ``33%`` means 1/3, as the trade writes them.

    >>> parse_stated_chance("66%"), parse_stated_chance("50%")
    (Fraction(2, 3), Fraction(1, 2))
    """
    percent = _PERCENT.match(text.strip())
    return TRADE_PERCENT.get(percent[1]) or parse_fraction(text) if percent else parse_fraction(text)


def written(chance: Fraction) -> str:
    """The exact form used in machine output: ``p/q``, ``0`` or ``1``.

    >>> written(Fraction(2, 3)), written(Fraction(1))
    ('2/3', '1')
    """
    return str(chance)


def writable(odds: Mapping[K, Fraction]) -> Mapping[K, Fraction]:
    """Odds that sum to 1, as a record can hold them: the very ones, or, where one is too long to be read, to 40 places.

    What is possible stays possible, so nothing becomes certain.
    """
    if all(len(written(chance)) <= _LONGEST for chance in odds.values()):
        return odds
    parts = {key: max(1, int(chance * _PLACES)) for key, chance in odds.items()}
    most = max(parts, key=lambda key: parts[key])
    parts[most] += _PLACES - sum(parts.values())
    return {key: Fraction(part, _PLACES) for key, part in parts.items()}


def common_denominator(chances: Iterable[Fraction]) -> int:
    """The least common denominator; 1 for none."""
    return math.lcm(*(chance.denominator for chance in chances))
