"""Characters that cannot be seen: those that make a text look other than it is, and those that no script needs there.

The direction overrides and isolates of Unicode (UAX 9, sections 2.1 to 2.4; the attack is described in UTR 36)
can turn "does not carry" around on the page; control characters have no place in a record: these are errors. What is
only not seen (UTS 39, section 3.1; Default_Ignorable_Code_Point of DerivedCoreProperties.txt) hides nothing from the
audit, which reads without it; it is a notice where nothing needs it. Left alone are the marks that a text in Arabic or
Hebrew needs (U+200E, U+200F, U+061C), joiners in such scripts and between pictures, blanks of no width in scripts
without blanks, variation selectors behind a picture or an ideograph, and a soft hyphen with two letters on either
side, where a long word may be broken.
"""

import re
import unicodedata

from sitegen.findings import Finding, Kind, Level, Place

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
