"""What may be wrong with a text: a YAML parser's complaints in a breeder's words, and signs that cannot be seen."""

import re
import unicodedata
from dataclasses import dataclass

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


_TAB = Explanation(
    "a tab stands where spaces are needed", "spaces at the beginning of a line", "replace the tab by spaces"
)
_COLON = Explanation(
    "a colon is missing on this line, or the line is set in wrongly",
    'a name, a colon, a space and a value, as in "sex: female"',
    "write the colon, with a space after it",
    at_start=True,
)
_COLON_IN_VALUE = Explanation(
    "a second colon stands on this line, or the line is set in more than the lines beside it",
    "one name and one value on a line, in line with its neighbours",
    "put a value that contains a colon in quotes, or set the line in like the others",
)
_QUOTE = Explanation(
    "a quotation mark is opened here and never closed",
    "a closing quotation mark",
    "close it on the same line; an apostrophe inside single quotes is written twice",
    at_start=True,
)
_LIST = Explanation(
    "a list is opened with [ here and does not go on or end as it should",
    "a comma between the entries and ] at the end",
    "write the missing comma or ]",
    at_start=True,
)
_GROUP = Explanation(
    "a group is opened with { here and does not go on or end as it should",
    "a comma between the entries and } at the end",
    "write the missing comma or }",
    at_start=True,
)
_INDENT = Explanation(
    "this line does not fit the lines before it",
    'a line such as "sex: female", set in like its neighbours',
    "check how far the line is set in, and the quotes and brackets of the lines above it",
)
_DASH = Explanation(
    "a list goes on with a line that does not begin with a dash",
    'a line that begins with "- "',
    "begin the line with a dash and a space, or set it in like the part it belongs to",
)
_SIGN = Explanation(
    "a value begins with a sign that has a meaning of its own in this format",
    "a word, a number, or text in quotes",
    "put the whole value in quotes",
    at_start=True,
)
_ESCAPE = Explanation(
    "a backslash in double quotes is followed by a sign that means nothing there",
    "text in single quotes, or two backslashes",
    "use single quotes around the text",
)
_CHARACTER = Explanation(
    "the file holds a character that no text should contain",
    "letters, digits and signs, saved as UTF-8",
    "delete the character and write the line again",
)
_BLOCK = Explanation(
    "the text that begins with | or > is not set in evenly",
    "every line of the text set in by the same spaces, more than the name above it",
    "set the lines in evenly",
)
_OTHER = Explanation(
    "the file cannot be read from here on",
    'lines such as "sex: female", lists in [ ] and groups in { }',
    "compare the line with the examples of sitegen guide records",
)

_USUAL: tuple[tuple[str, str, Explanation], ...] = (
    (r"block scalar", r"", _BLOCK),
    (r"", r"tab character|\\t", _TAB),
    (r"quoted scalar", r"end of stream|document indicator", _QUOTE),
    (r"", r"unknown escape|hexdecimal|hexadecimal", _ESCAPE),
    (r"", r"could not find expected ':'", _COLON),
    (r"", r"mapping values are not allowed|simple keys? (is|are) not allowed", _COLON_IN_VALUE),
    (r"", r"expected ',' or '\]'", _LIST),
    (r"", r"expected ',' or '\}'", _GROUP),
    (r"", r"expected '-'|block sequence entries are not allowed", _DASH),
    (r"flow sequence", r"", _LIST),
    (r"flow mapping", r"", _GROUP),
    (r"block collection", r"", _DASH),
    (r"flow node", r"", _LIST),
    (r"", r"cannot start any token|alphabetic|anchor|alias|tag|directive", _SIGN),
    (r"", r"expected key|expected <block end>|expected <document start>|indent|block mapping|block entry", _INDENT),
    (r"", r"control characters|special characters|invalid|encoding", _CHARACTER),
)


def explanation(context: str, problem: str, line: str) -> Explanation:
    """What a complaint of the parser means: what it was doing, what it stumbled over (in its words), in which line."""
    if re.match(r"\s*\t", line) and not re.search(r"quoted", context):
        return _TAB
    for doing, stumbled, meaning in _USUAL:
        if re.search(doing, context) and re.search(stumbled, problem):
            return meaning
    return _OTHER


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
