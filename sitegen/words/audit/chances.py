"""A chance as people write it: "66%", "2 in 3", "two thirds", "sixty-six per cent"; English and German."""

import re
from fractions import Fraction

from sitegen.exact import parse_stated_chance

_ONES = [
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
]
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_VALUES = {word: value for value, word in enumerate(_ONES)} | {word: 20 + 10 * at for at, word in enumerate(_TENS)}
_PART = ["half", "third", "quarter", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"]
_PARTS = {word: at for at, word in enumerate(_PART, 2)}
_ROMAN = {"I": 1, "V": 5, "X": 10, "L": 50, "C": 100}

_ONE = rf"(?:{'|'.join(sorted(_ONES, key=len, reverse=True))})"
_TEN = rf"(?:{'|'.join(_TENS)})"
_WHOLE = rf"(?:(?:(?:a|one)\s+)?hundred|{_TEN}(?:[\s-]{_ONE})?|{_ONE})"
_SIGN = r"(?:%|(?:per\s?cent|pct|prozent)\b\.?)"
PERCENT = rf"(?:\d{{1,3}}(?:[.,]\d{{1,4}})?|\b{_WHOLE}|\b(?-i:[CLXVI]{{1,8}}))\s?{_SIGN}"
_OF = r"\s+(?:in|out\s+of|von)\s+"
NUMBER = (
    rf"(?:\d{{1,3}}\s?[-\u2013]\s?)?{PERCENT}|\d{{1,3}}\s?/\s?\d{{1,4}}(?!\d)|\d{{1,3}}{_OF}\d{{1,4}}\b"
    rf"|\b{_ONE}[\s-](?:{'|'.join(_PARTS)})s?\b|\b{_WHOLE}{_OF}{_WHOLE}\b"
)


def last_number(words: str) -> str:
    """The last chance that stands in the words, or nothing."""
    numbers = re.findall(NUMBER, words, re.IGNORECASE)
    return numbers[-1] if numbers else ""


def chance_of(number: str) -> Fraction:
    """A chance as it is written; of a range its upper end; 1 for what is no chance."""
    text = re.sub(r".*\d\s?[-\u2013]\s?(?=\d)", "", number.strip())
    text = re.sub(r"\b[CLXVI]+(?=\W)", lambda match: str(_roman(match[0])), text)
    text = re.sub(_SIGN, "%", text, flags=re.IGNORECASE).replace(",", ".")
    text = re.sub(rf"\b{_WHOLE}\b", lambda match: str(_in_figures(match[0].lower())), text, flags=re.IGNORECASE)
    parts = rf"[\s-]({'|'.join(_PARTS)})s?\b"
    text = re.sub(parts, lambda match: f"/{_PARTS[match[1].lower()]}", text, flags=re.IGNORECASE)
    chance = parse_stated_chance(re.sub(_OF, "/", text, flags=re.IGNORECASE))
    return min(chance, Fraction(1)) if chance is not None else Fraction(1)


def _in_figures(words: str) -> int:
    return 100 if "hundred" in words else sum(_VALUES[word] for word in re.split(r"[\s-]", words))


def _roman(numeral: str) -> int:
    values = [_ROMAN[sign] for sign in numeral]
    return sum(-each if each < max(values[at:]) else each for at, each in enumerate(values))
