"""What may be wrong with a text: a YAML parser's complaints in a breeder's words, and signs that cannot be seen."""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources

import yaml

from sitegen.findings import Finding, Kind, Level, Place


@dataclass(frozen=True, slots=True)
class Explanation:
    """A fault of the written form: what is wrong, what was expected, what to do.

    ``at_start`` is True when the place to show is where the faulty piece begins, not where reading stopped.
    """

    message: str
    expected: str
    remedy: str
    at_start: bool = False


@cache
def _meanings() -> tuple[Mapping[str, Explanation], Sequence[tuple[str, str, str]]]:
    """What complaints mean, by name, and which complaint means which; read when the first one comes."""
    read = yaml.safe_load((resources.files("sitegen") / "content" / "yaml_faults.yaml").read_text("utf-8"))
    complaints = read.pop("read_as")
    return {name: Explanation(**told) for name, told in read.items()}, complaints


def explanation(context: str, problem: str, line: str) -> Explanation:
    """What a complaint of the parser means: what it was doing, what it stumbled over (in its words), in which line."""
    meanings, complaints = _meanings()
    if re.match(r"\s*\t", line) and not re.search(r"quoted", context):
        return meanings["tab"]
    fitting = (name for doing, over, name in complaints if re.search(doing, context) and re.search(over, problem))
    return meanings[next(fitting, "other")]


# The direction overrides and isolates of Unicode (UAX 9, sections 2.1 to 2.4; the attack is described in UTR 36) can
# turn "does not carry" around on the page, and control characters have no place in a record: these are errors. What is
# only not seen (UTS 39, section 3.1; Default_Ignorable_Code_Point of DerivedCoreProperties.txt) hides nothing from the
# audit, which reads without it; it is a notice where nothing needs it. Left alone are the marks that a text in Arabic
# or Hebrew needs (U+200E, U+200F, U+061C), joiners in such scripts and between pictures, blanks of no width in scripts
# without blanks, variation selectors behind a picture or an ideograph, and a soft hyphen with two letters on either
# side, where a long word may be broken.
_HIDDEN = re.compile("[\u202a-\u202e\u2066-\u2069\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\u2028\u2029]")
_LETTER = "[A-Za-z\u00c0-\u058f]"
_BLANK = "[\u034f\u115f\u1160\u200b\u2060-\u2065\u206a-\u206f\u3164\ufeff\uffa0\ufff9-\ufffb]"
_BETWEEN = "[\u061c\u180b-\u180e\u200c-\u200f\ufe00-\ufe0f\U000e0100-\U000e01ef]"
_NEEDLESS = re.compile(
    "(?<![^\\W\\d_]{2})\u00ad|\u00ad(?![^\\W\\d_]{2})"
    f"|(?<={_LETTER}){_BLANK}|{_BLANK}(?={_LETTER})|(?<={_LETTER}){_BETWEEN}+(?={_LETTER})"
    "|(?<![\U000e0020-\U000e007e\U0001f3f4])[\U000e0001-\U000e007f]"
)
"""Beside letters from Latin to Armenian; and tags, but for those that make the flag of a country of a black flag."""


def first_hidden(text: str) -> int:
    """Where the first character stands that makes the text look other than it is; -1 if there is none."""
    found = _HIDDEN.search(text)
    return found.start() if found else -1


def first_needless(text: str) -> int:
    """Where the first unseen character stands that nothing needs; -1 if there is none."""
    if text.isascii():
        return -1
    found = _NEEDLESS.search(text)
    return found.start() if found else -1


def hidden_findings(text: str, place: Place | None = None, file: str = "") -> tuple[Finding, ...]:
    """A finding for the first character of each sort; at its place in the file if no place of the text is given."""
    found = []
    for at, level, does in (
        (first_hidden(text), Level.ERROR, "can make the text look other than it is"),
        (first_needless(text), Level.NOTICE, "is needed by nothing"),
    ):
        if at >= 0:
            code = ord(text[at])
            name = unicodedata.name(text[at], "a control character").lower()
            line = text.count("\n", 0, at)
            found.append(
                Finding(
                    level,
                    Kind.TEXT_MISLEADING,
                    place or Place(file, line + 1, at - text.rfind("\n", 0, at)),
                    f"there is a character here that cannot be seen and {does}: U+{code:04X}, {name}",
                    expected="characters that can be seen",
                    remedy="delete the text around it and write it again by hand",
                )
            )
    return tuple(found)
