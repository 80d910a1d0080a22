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

    ``50/50`` is none: people say it of even chances, and as a fraction it would be certain.

    >>> parse_fraction("25%"), parse_fraction("1/4"), parse_fraction(".25"), parse_fraction("50/50")
    (Fraction(1, 4), Fraction(1, 4), Fraction(1, 4), None)
    """
    text = text.strip()
    if len(text) > longest:
        return None
    if ratio := _RATIO.match(text):
        above, below = int(ratio[1]), int(ratio[2])
        return Fraction(above, below) if below and not above == below > 1 else None
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


def parse_carried(text: str) -> Fraction | None:
    """How likely one copy is, as a keeper states it: more than 0, and 1 only as ``certain`` or ``100%``.

    The trade writes "100% het" for what is certain, and nothing else can be meant by that percentage. A bare 1 may be
    a count of copies and 1/1 may be even odds, so neither is read.

    >>> parse_carried("certain"), parse_carried("100 %"), parse_carried("1"), parse_carried("0%")
    (Fraction(1, 1), Fraction(1, 1), None, None)
    """
    if text.strip().lower() == "certain":
        return Fraction(1)
    chance = parse_stated_chance(text)
    sound = chance is not None and (0 < chance < 1 or (chance == 1 and text.strip().endswith("%")))
    return chance if sound else None


def meant_chance(text: str) -> str:
    """The one way in which a chance that is written otherwise would be read; empty where more than one can be meant.

    A bare 66 can only be a percentage; 14 may be 1/4 without its stroke, and 2.5 may be 0.5 with a slip in it.

    >>> [meant_chance(text) for text in ("50/50", "50:50", "66", "14", "0,5", "66,6 %", "50% possible het", "2.5")]
    ['1/2', '1/2', '66%', '', '0.5', '66.6 %', '50%', '']
    """
    text = re.sub(r"\s*(poss(ible)?\.?\s*)?het$", "", text.strip().lower())
    if even := re.fullmatch(r"(\d{2,})\s*[-/:]\s*(\d+)", text):
        return "1/2" if even[1] == even[2] else ""
    if re.fullmatch(r"[1-9]\d", text):
        return f"{text}%" if text[0] >= text[1] else ""
    text = re.sub(r"^(\d{1,3}),(?=\d{1,4}\s*%?$)", r"\1.", text)
    return text if 0 < (parse_fraction(text) or 0) < 1 else ""


def written(chance: Fraction) -> str:
    """The exact form used in machine output: ``p/q``, ``0`` or ``1``.

    >>> written(Fraction(2, 3)), written(Fraction(1))
    ('2/3', '1')
    """
    return str(chance)


def decimals(value: Fraction, places: int) -> str:
    """A number from 0 on with so many places after the point, rounded half up in whole numbers.

    >>> decimals(Fraction(2, 3), 4), decimals(Fraction(25, 2), 1)
    ('0.6667', '12.5')
    """
    whole, part = divmod(int(value * 10**places + Fraction(1, 2)), 10**places)
    return f"{whole}.{part:0{places}}"


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
