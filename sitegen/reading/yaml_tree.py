"""Text to a tree in which everything stays as it was written, with its place.

YAML gives the shape only: ``name: No`` stays "No", ``12:30`` and ``0123`` and dates stay as written.
"""

from dataclasses import field
from typing import Any

import yaml

from sitegen.findings import Finding, Kind, Level, Place
from sitegen.frozen import dataclass
from sitegen.reading.hidden import first_hidden, hidden_finding
from sitegen.reading.yaml_faults import explanation

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


@dataclass(slots=True)
class _Open:
    """A list or group whose end has not been read yet."""

    place: Place
    is_list: bool
    items: list[Node] = field(default_factory=list)
    keys: dict[str, Scalar] = field(default_factory=dict)
    entries: list[tuple[Scalar, Node]] = field(default_factory=list)
    key: Scalar | None = None
    doubled: bool = False

    def closed(self, width: int) -> Node:
        """The finished list or group."""
        if self.is_list:
            return Items(tuple(self.items), self.place, width)
        return Entries(tuple(self.entries), self.place, width)


class _TooDeep(Exception):  # noqa: N818 - ends the reading of one file; never leaves this module
    """Nested more deeply than any record."""


class _Builder:
    """Turns parser events into a tree; faults that do not stop the reading are collected."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.findings: list[Finding] = []
        self.stack: list[_Open] = []
        self.root: Node | None = None

    def build(self, text: str) -> Node | None:
        """The tree of the text.

        Raises:
            yaml.YAMLError: The text has not the form of a record.
            _TooDeep: It is nested too deeply.
        """
        next_event = _LOADER(text).get_event
        documents = 0
        while not isinstance(event := next_event(), yaml.StreamEndEvent):
            if isinstance(event, yaml.ScalarEvent):
                self._add(self._scalar(event))
            elif isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
                self._open(event)
            elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
                done = self.stack.pop()
                self._add(done.closed(0))
            elif isinstance(event, yaml.AliasEvent):
                place = self._place(event.start_mark)
                self._unsafe(place, f'"*{event.anchor}" refers to another part of the file')
                self._add(Scalar("", place))
            elif isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents == 2:
                    self._several(event)
                    break
        return self.root

    def _place(self, mark: Any) -> Place:
        return Place(self.file, mark.line + 1, mark.column + 1)

    def _scalar(self, event: yaml.ScalarEvent) -> Scalar:
        start: Any = event.start_mark
        end: Any = event.end_mark
        place = self._place(start)
        if event.tag is not None or event.anchor is not None:
            self._marked(place, event)
        if (at := first_hidden(event.value)) >= 0:
            self.findings.append(hidden_finding(event.value, at, place))
        width = end.column - start.column if end.line == start.line else 0
        return Scalar(event.value, place, width, bool(event.style))

    def _open(self, event: yaml.MappingStartEvent | yaml.SequenceStartEvent) -> None:
        place = self._place(event.start_mark)
        if event.tag is not None or event.anchor is not None:
            self._marked(place, event)
        if len(self.stack) >= MAX_DEPTH:
            self.findings.append(
                Finding(
                    Level.ERROR,
                    Kind.YAML_UNSAFE,
                    place,
                    f"lists and groups are nested more than {MAX_DEPTH} deep",
                    expected="a record, which needs six at most",
                    remedy="check the brackets of this line and of the lines above it",
                )
            )
            raise _TooDeep
        self.stack.append(_Open(place, isinstance(event, yaml.SequenceStartEvent)))

    def _add(self, node: Node) -> None:
        if not self.stack:
            self.root = node
            return
        parent = self.stack[-1]
        if parent.is_list:
            parent.items.append(node)
        elif parent.key is None:
            self._add_key(parent, node)
        else:
            if not parent.doubled:
                parent.entries.append((parent.key, node))
            parent.key = None

    def _add_key(self, parent: _Open, node: Node) -> None:
        if not isinstance(node, Scalar):
            self.findings.append(
                Finding(
                    Level.ERROR,
                    Kind.YAML_BROKEN,
                    node.place,
                    "a list or group stands where a name was expected",
                    expected='a name before the colon, as in "sex: female"',
                    remedy="write a name there; a name in braces or brackets must be put in quotes",
                )
            )
            parent.key, parent.doubled = Scalar("", node.place), True
            return
        first = parent.keys.setdefault(node.text, node)
        parent.key, parent.doubled = node, first is not node
        if parent.doubled:
            self.findings.append(
                Finding(
                    Level.ERROR,
                    Kind.KEY_TWICE,
                    node.place,
                    f'"{node.text}" is written twice in the same part of the record',
                    expected=f"one line with this name (the first is line {first.place.line})",
                    remedy="put the two together, or delete one",
                    width=node.width,
                    others=(first.place,),
                )
            )

    def _marked(self, place: Place, event: yaml.ScalarEvent | yaml.CollectionStartEvent) -> None:
        if event.anchor is not None:
            self._unsafe(place, f'"&{event.anchor}" marks a part of the file for use elsewhere')
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._unsafe(place, f'"{tag}" names a data type')

    def _unsafe(self, place: Place, message: str) -> None:
        self.findings.append(
            Finding(
                Level.ERROR,
                Kind.YAML_UNSAFE,
                place,
                f"{message}; records do not use that",
                expected="plain names, values, lists and groups",
                remedy="write the value out, in quotes if it begins with &, * or !",
            )
        )

    def _several(self, event: yaml.DocumentStartEvent) -> None:
        self.findings.append(
            Finding(
                Level.ERROR,
                Kind.YAML_BROKEN,
                self._place(event.start_mark),
                "a second record begins here, after a line of three dashes",
                expected="one record in a file",
                remedy="move it to a file of its own, or delete the line of dashes",
            )
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
        return None, tuple(builder.findings)
    except yaml.YAMLError as error:
        return None, (*builder.findings, _broken(error, text, file))
    except UnicodeError:
        return None, (*builder.findings, _finding(Place(file, 1, 1), "", "encoding", ""))
    if root is None or (isinstance(root, Scalar) and root.blank):
        root = Entries((), Place(file, 1, 1))
    return root, tuple(builder.findings)


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
