"""Characters that cannot be seen and make a text look other than it is.

The direction overrides and isolates of Unicode (UAX 9, sections 2.1 to 2.4; the attack is described in UTR 36)
can turn "does not carry" around on the page; control characters have no place in a record. The marks that a text in
Arabic or Hebrew needs (U+200E, U+200F, U+061C) are left alone.
"""

import re
import unicodedata

from sitegen.findings import Finding, Kind, Level, Place

_HIDDEN = re.compile("[\u202a-\u202e\u2066-\u2069\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\u2028\u2029]")


def first_hidden(text: str) -> int:
    """Where the first such character stands in the text; -1 if there is none."""
    found = _HIDDEN.search(text)
    return found.start() if found else -1


def hidden_finding(text: str, at: int, place: Place) -> Finding:
    """The finding about the character at that position of the text."""
    code = ord(text[at])
    name = unicodedata.name(text[at], "a control character").lower()
    return Finding(
        Level.ERROR,
        Kind.TEXT_MISLEADING,
        place,
        f"there is a character here that cannot be seen and can make the text look other than it is: "
        f"U+{code:04X}, {name}",
        expected="characters that can be seen",
        remedy="delete the text around it and write it again by hand",
    )


def hidden_in_text(text: str, file: str) -> tuple[Finding, ...]:
    """A finding for the first such character of a text file, if it has one."""
    at = first_hidden(text)
    if at < 0:
        return ()
    line = text.count("\n", 0, at)
    return (hidden_finding(text, at, Place(file, line + 1, at - text.rfind("\n", 0, at))),)
