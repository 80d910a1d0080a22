"""Where the values of a record stand in its text, to the sign, and the comments between them."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError
from ruamel.yaml.nodes import MappingNode, ScalarNode, SequenceNode

from sitegen.findings import SitegenError

Path = tuple[str, ...]
"""The names that lead from the top of a record to a value; an entry of a list has its position, ``"0"`` the first."""

BY_HAND = "make this change by hand"


class CannotEdit(SitegenError):  # noqa: N818 - named for what happened
    """The record is written in a way that this program does not change; nothing was changed."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One value of a record, with the marks that the round-trip composer gives it: positions in the text.

    Attributes:
        node: The value; None in an empty file.
        key: The name before it; None for the whole record and for entries of lists.
        in_flow: The group that holds it is written in braces.
    """

    node: Any
    key: Any = None
    in_flow: bool = False

    @property
    def is_group(self) -> bool:
        """True for named values."""
        return isinstance(self.node, MappingNode)

    @property
    def is_list(self) -> bool:
        """True for a list."""
        return isinstance(self.node, SequenceNode)

    @property
    def is_flow(self) -> bool:
        """True for a group or list in braces or brackets."""
        return not isinstance(self.node, ScalarNode) and bool(self.node.flow_style)

    @property
    def is_nothing(self) -> bool:
        """True where no value is written."""
        node = self.node
        return node is None or (isinstance(node, ScalarNode) and node.style is None and node.value in ("", "~", "null"))

    @property
    def parts(self) -> list[tuple[str, "Spot"]]:
        """The named values of a group, or the entries of a list by position, in the order of the text."""
        if self.is_list:
            return [(str(at), Spot(node, None, self.is_flow)) for at, node in enumerate(self.node.value)]
        return [(str(key.value), Spot(node, key, self.is_flow)) for key, node in self.node.value]

    @property
    def start(self) -> int:
        """Position of the first sign of the value."""
        return int(self.node.start_mark.index)

    @property
    def column(self) -> int:
        """How far the value, or its name, is set in."""
        return int((self.key or self.node).start_mark.column)


@lru_cache(maxsize=4)
def _composed(text: str) -> Spot:
    """The record as a whole.

    Raises:
        CannotEdit: The composer does not read what the records' own reader reads.
    """
    composer: Any = YAML(typ="rt", pure=True)
    try:
        return Spot(composer.compose(text))
    except (YAMLError, ValueError, RecursionError) as error:
        raise CannotEdit("the record cannot be changed by this command; write the line by hand") from error


def deepest(text: str, path: Path) -> tuple[Spot, int]:
    """The deepest part of the path that stands in the record, and how many steps lead to it."""
    spot = _composed(text)
    for depth, key in enumerate(path):
        held = dict(spot.parts) if spot.is_group or spot.is_list else {}
        if key not in held:
            return spot, depth
        spot = held[key]
    return spot, len(path)


def after_colon(text: str, spot: Spot) -> int:
    """Position after the colon of the value's name.

    Raises:
        CannotEdit: No colon follows the name.
    """
    end = int(spot.key.end_mark.index)
    at = end + len(text[end:]) - len(text[end:].lstrip(" \t"))
    if text[at : at + 1] != ":":
        raise CannotEdit(f'no colon follows "{spot.key.value}"; write it, or {BY_HAND}')
    return at + 1


def end_of(text: str, spot: Spot) -> int:
    """Position after the last sign of the value; comments and blank lines behind it are not part of it."""
    if spot.is_nothing and not str(spot.node.value):
        if spot.key is None:
            raise CannotEdit(f"a list ends with an empty entry; write the entry, or {BY_HAND}")
        return after_colon(text, spot)
    if spot.is_group or spot.is_list:
        return int(spot.node.end_mark.index) if spot.is_flow else end_of(text, spot.parts[-1][1])
    stop = int(spot.node.end_mark.index)
    return len(text[:stop].rstrip()) if spot.node.style in ("|", ">") else stop


def comments_in(text: str, spot: Spot) -> list[str]:
    """The comments between the name of a value, where it has one, and its last sign."""
    found, at, last = "", int(spot.key.end_mark.index) if spot.key else spot.start, end_of(text, spot)
    for begin, stop in _texts(text, spot):
        found, at = f"{found}{text[at : min(begin, last)]}\n", stop
    return [each.rstrip() for each in re.findall("#.*", found + text[at:last])]


def _texts(text: str, spot: Spot) -> Iterator[tuple[int, int]]:
    """Where the names and single values within a value begin and end: a # between them begins a comment."""
    if isinstance(spot.node, ScalarNode):
        # the sign of a text of several lines may have a comment of its own
        begin = line_end(text, spot.start) - 1 if spot.node.style in ("|", ">") else spot.start
        yield begin, int(spot.node.end_mark.index)
        return
    for _, each in spot.parts:
        if each.key is not None:
            yield int(each.key.start_mark.index), int(each.key.end_mark.index)
        yield from _texts(text, each)


def line_end(text: str, position: int) -> int:
    """Position of the next line's first sign, or of the end of the text."""
    found = text.find("\n", position)
    return len(text) if found < 0 else found + 1


def newline_of(text: str) -> str:
    """How the lines of the text end."""
    return "\r\n" if "\r\n" in text else "\n"
