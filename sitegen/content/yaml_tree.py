"""Text to a tree in which everything stays as it was written, with its place.

YAML gives the shape only: ``name: No`` stays "No", ``12:30`` and ``0123`` and dates stay as written.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, NoReturn

import yaml

from sitegen.content.report import At, Report
from sitegen.content.yaml_faults import explanation, first_hidden, hidden_findings
from sitegen.findings import Finding, Kind, Level, Place

MAX_DEPTH = 24
"""How deeply lists and groups may be nested; a record needs six."""

LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
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

    @property
    def named(self) -> At[str]:
        """The text as a name that is looked up, with its place."""
        return At(self.text, self.place, self.width)


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
        self.next_event = LOADER(text).get_event
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


def is_blank(node: Node | None) -> bool:
    """True when nothing is written."""
    return node is None or (isinstance(node, Scalar) and node.blank)


def entries_of(tree: Node | None, report: Report) -> tuple[tuple[Scalar, Node], ...]:
    """What stands in a group, each with its name; what is not written at all is an empty group."""
    if isinstance(tree, Entries):
        return tree.entries
    if tree is not None and not is_blank(tree):
        report.wrong(
            tree,
            "a group of named values was expected here",
            "lines of a name, a colon and a value",
            "write each entry with its name and a colon",
        )
    return ()


def as_text_map(tree: Node | None, report: Report, *, blank_means_nothing: bool = False) -> list[tuple[Scalar, Scalar]]:
    """A group of single values, each with its name; with ``blank_means_nothing`` a missing one is an empty text."""
    found = []
    for key, node in entries_of(tree, report):
        if not isinstance(node, Scalar):
            tell_no_value(node, "a word or text", report)
        elif not node.blank:
            found.append((key, node))
        elif blank_means_nothing:
            found.append((key, Scalar("", node.place)))
    return found


def tell_no_value(node: Node, expected: str, report: Report) -> None:
    """Tells a list or group where one value was expected."""
    report.wrong(node, "a list or group stands where one value was expected", expected, "write one value")
