"""Text to a tree in which everything stays as it was written, with its place.

YAML gives the shape only: ``name: No`` stays "No", ``12:30`` and ``0123`` and dates stay as written.
"""

import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, NoReturn

import yaml

from sitegen.content.report import Report
from sitegen.content.yaml_faults import explanation
from sitegen.findings import Finding, Kind, Level, Place

MAX_DEPTH = 24
"""How deeply lists and groups may be nested; a record needs six."""

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_EMPTY = ("", "~", "null")


@dataclass(frozen=True, slots=True)
class Scalar:
    """A word, number or text, as written. ``width`` is 0 when it goes over several lines."""

    text: str
    place: Place
    width: int = 0
    quoted: bool = False

    @property
    def blank(self) -> bool:
        """True when nothing was written."""
        return not self.quoted and self.text in _EMPTY


@dataclass(frozen=True, slots=True)
class Items:
    """A list."""

    items: tuple["Node", ...]
    place: Place
    width: int = 0


@dataclass(frozen=True, slots=True)
class Entries:
    """A group of named values. No name stands twice."""

    entries: tuple[tuple[Scalar, "Node"], ...]
    place: Place
    width: int = 0


Node = Scalar | Items | Entries


_QUOTES = (
    "\u201c\u201d",
    "\u201e\u201c",
    "\u201e\u201d",
    "\u2018\u2019",
    "\u201a\u2018",
    "\u00ab\u00bb",
    "\u00bb\u00ab",
)


def unquoted(text: str) -> str:
    """A text without the curly quotes that a word processor put around it in place of straight ones."""
    return text[1:-1].strip() if len(text) > 1 and text[0] + text[-1] in _QUOTES else text


def _is_rest(before: tuple[Scalar, Node], key: Node, value: Node) -> bool:
    """True for what stands behind a decimal comma in braces, which YAML takes for a name: ``{price: 140,00 EUR}``."""
    held = before[1]
    return (
        isinstance(held, Scalar) and isinstance(key, Scalar) and isinstance(value, Scalar)
        and not (held.quoted or key.quoted or value.text or value.quoted)
        and held.text[-1:].isdigit() and key.text[:1].isdigit()
        and (key.place.line, key.place.column) == (held.place.line, held.place.column + held.width + 1)
    )  # fmt: skip


def _joined(held: Node, key: Node) -> Scalar:
    """A number with what stands behind its comma."""
    assert isinstance(held, Scalar)
    assert isinstance(key, Scalar)
    return Scalar(f"{held.text},{key.text}", held.place, held.width + 1 + key.width)


class _TooDeep(Exception):  # noqa: N818 - ends the reading of one file; never leaves this module
    """Nested more deeply than any record."""


class _Builder:
    """Turns parser events into a tree; faults that do not stop the reading are collected."""

    next_event: Callable[[], Any]
    may_hide: bool
    """False when no value can hold what cannot be seen: it stands nowhere in the text, and nothing is spelt out."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.report = Report()

    def build(self, text: str) -> Node | None:
        """The tree of the text.

        Raises:
            yaml.YAMLError: The text has not the form of a record.
            _TooDeep: It is nested too deeply.
        """
        self.next_event = _LOADER(text).get_event
        self.may_hide = "\\" in text or first_hidden(text) >= 0 or not text.isascii()
        root, documents = None, 0
        while (kind := type(event := self.next_event())) is not yaml.StreamEndEvent:
            if kind is yaml.DocumentStartEvent:
                documents += 1
                if documents == 2:
                    self._several(event)
                    break
            elif kind is not yaml.StreamStartEvent and kind is not yaml.DocumentEndEvent:
                root = self._node(event, 0)
        return root

    def _node(self, event: Any, depth: int) -> Node:
        """The part of the tree that begins with this event, below so many lists and groups."""
        kind = type(event)
        if kind is yaml.ScalarEvent:
            return self._scalar(event)
        place = Place(self.file, event.start_mark.line + 1, event.start_mark.column + 1)
        if kind is yaml.AliasEvent:
            self._unsafe(place, f'"*{event.anchor}" refers to another part of the file')
            return Scalar("", place)
        if event.tag is not None or event.anchor is not None:
            self._marked(place, event)
        if depth >= MAX_DEPTH:
            self._too_deep(place)
        return self._items(place, depth) if kind is yaml.SequenceStartEvent else self._entries(place, depth)

    def _scalar(self, event: Any) -> Scalar:
        start, end = event.start_mark, event.end_mark
        line, column = start.line, start.column
        place = Place(self.file, line + 1, column + 1)
        if event.tag is not None or event.anchor is not None:
            self._marked(place, event)
        if self.may_hide:
            self.report.findings += hidden_findings(event.value, place)
        text = event.value if event.style else unquoted(event.value)
        quoted = bool(event.style) or text is not event.value
        return Scalar(text, place, end.column - column if end.line == line else 0, quoted)

    def _items(self, place: Place, depth: int) -> Items:
        items = []
        while type(event := self.next_event()) is not yaml.SequenceEndEvent:
            items.append(self._node(event, depth + 1))
        return Items(tuple(items), place)

    def _entries(self, place: Place, depth: int) -> Entries:
        entries: dict[str, tuple[Scalar, Node]] = {}
        while type(event := self.next_event()) is not yaml.MappingEndEvent:
            key = self._node(event, depth + 1)
            value = self._node(self.next_event(), depth + 1)
            if entries and _is_rest(previous := next(reversed(entries.values())), key, value):
                entries[previous[0].text] = previous[0], _joined(previous[1], key)
            elif self._is_new(key, entries) and isinstance(key, Scalar):
                entries[key.text] = key, value
        return Entries(tuple(entries.values()), place)

    def _is_new(self, key: Node, entries: Mapping[str, tuple[Scalar, Node]]) -> bool:
        """True for a name that can stand in a group beside what it has; what is wrong is told."""
        if not isinstance(key, Scalar):
            self.report.error(
                Kind.YAML_BROKEN,
                key.place,
                "a list or group stands where a name was expected",
                expected='a name before the colon, as in "sex: female"',
                remedy="write a name there; a name in braces or brackets must be put in quotes",
            )
            return False
        if key.text not in entries:
            return True
        first = entries[key.text][0]
        self.report.error(
            Kind.KEY_TWICE,
            key,
            f'"{key.text}" is written twice in the same part of the record',
            expected=f"one line with this name (the first is line {first.place.line})",
            remedy="put the two together, or delete one",
            others=(first.place,),
        )
        return False

    def _too_deep(self, place: Place) -> NoReturn:
        self.report.error(
            Kind.YAML_UNSAFE,
            place,
            f"lists and groups are nested more than {MAX_DEPTH} deep",
            expected="a record, which needs six at most",
            remedy="check the brackets of this line and of the lines above it",
        )
        raise _TooDeep

    def _marked(self, place: Place, event: Any) -> None:
        if event.anchor is not None:
            self._unsafe(place, f'"&{event.anchor}" marks a part of the file for use elsewhere')
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._unsafe(place, f'"{tag}" names a data type')

    def _unsafe(self, place: Place, message: str) -> None:
        self.report.error(
            Kind.YAML_UNSAFE,
            place,
            f"{message}; records do not use that",
            expected="plain names, values, lists and groups",
            remedy="write the value out, in quotes if it begins with &, * or !",
        )

    def _several(self, event: Any) -> None:
        self.report.error(
            Kind.YAML_BROKEN,
            Place(self.file, event.start_mark.line + 1, event.start_mark.column + 1),
            "a second record begins here, after a line of three dashes",
            expected="one record in a file",
            remedy="move it to a file of its own, or delete the line of dashes",
        )


def parse_tree(text: str, file: str) -> tuple[Node | None, tuple[Finding, ...]]:
    """The tree of a record and what is wrong with its written form; no tree when it cannot be read at all.

    An empty text gives an empty group.

    Args:
        text: The whole file.
        file: Its path relative to the content folder, for places.
    """
    builder = _Builder(file)
    try:
        root = builder.build(text)
    except _TooDeep:
        return None, tuple(builder.report.findings)
    except yaml.YAMLError as error:
        return None, (*builder.report.findings, _broken(error, text, file))
    except UnicodeError:
        return None, (*builder.report.findings, _finding(Place(file, 1, 1), "", "encoding", ""))
    if root is None or (isinstance(root, Scalar) and root.blank):
        root = Entries((), Place(file, 1, 1))
    return root, tuple(builder.report.findings)


def _broken(error: yaml.YAMLError, text: str, file: str) -> Finding:
    """A parser's complaint as a finding at the place that helps most."""
    lines = text.split("\n")
    if isinstance(error, yaml.reader.ReaderError):
        before = text[: int(error.position or 0)]
        row, column = before.count("\n"), len(before) - before.rfind("\n") - 1
        return _finding(Place(file, row + 1, column + 1), "", "special characters", "")
    context = str(getattr(error, "context", "") or "")
    problem = str(getattr(error, "problem", "") or "")
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    if mark is None:
        return _finding(Place(file, 1, 1), context, problem, "")
    stopped = lines[mark.line] if mark.line < len(lines) else ""
    if "mapping values" in problem and (colonless := _line_without_colon(lines, mark.line)) is not None:
        return _finding(Place(file, colonless + 1, 1), "", "could not find expected ':'", "")
    start = getattr(error, "context_mark", None)
    if start is not None and explanation(context, problem, stopped).at_start:
        mark = start
    return _finding(Place(file, mark.line + 1, mark.column + 1), context, problem, stopped)


def _line_without_colon(lines: list[str], line: int) -> int | None:
    """The line just before ``line`` when it lacks its colon, or the space after it, and so swallowed this one."""
    if ": " in lines[line].partition(": ")[2]:
        return None
    for number in range(line - 1, -1, -1):
        text = lines[number].partition(" #")[0].rstrip()
        if text.strip() and not text.lstrip().startswith("#"):
            lacks = ": " not in text and not text.endswith((":", ",", "[", "{")) and not text.lstrip().startswith("-")
            return number if lacks else None
    return None


def _finding(place: Place, context: str, problem: str, line: str) -> Finding:
    meaning = explanation(context, problem, line)
    return Finding(
        Level.ERROR, Kind.YAML_BROKEN, place, meaning.message, expected=meaning.expected, remedy=meaning.remedy
    )


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
