"""Where the parts of a record stand in its text: marks of the round-trip composer, as positions in the text."""

from dataclasses import dataclass
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from sitegen.findings import SitegenError


class CannotEdit(SitegenError):  # noqa: N818 - named for what happened
    """The record is written in a way that this program does not change; nothing was changed."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One value of a record.

    Attributes:
        node: The value; None in an empty file.
        key: The name before it; None for the whole record and for entries of lists.
        in_flow: The group that holds it is written in braces.
    """

    node: Any
    key: Any = None
    in_flow: bool = False


def composed(text: str) -> Spot:
    """The record as a whole.

    Raises:
        CannotEdit: The composer does not read what the records' own reader reads.
    """
    composer: Any = YAML(typ="rt", pure=True)
    try:
        return Spot(composer.compose(text))
    except (YAMLError, ValueError, RecursionError) as error:
        raise CannotEdit("the record cannot be changed by this command; write the line by hand") from error


def entries(spot: Spot) -> list[tuple[str, Spot]]:
    """The named values of a group, in the order of the text."""
    assert isinstance(spot.node, MappingNode)
    flow = bool(spot.node.flow_style)
    return [(str(key.value), Spot(node, key, flow)) for key, node in spot.node.value]


def items(spot: Spot) -> list[Spot]:
    """The entries of a list."""
    assert isinstance(spot.node, SequenceNode)
    return [Spot(node, None, bool(spot.node.flow_style)) for node in spot.node.value]


def is_group(spot: Spot) -> bool:
    """True for named values."""
    return isinstance(spot.node, MappingNode)


def is_list(spot: Spot) -> bool:
    """True for a list."""
    return isinstance(spot.node, SequenceNode)


def is_flow(spot: Spot) -> bool:
    """True for a group or list in braces or brackets."""
    return not isinstance(spot.node, ScalarNode) and bool(spot.node.flow_style)


def is_nothing(spot: Spot) -> bool:
    """True where no value is written."""
    node: Node | None = spot.node
    return node is None or (isinstance(node, ScalarNode) and node.style is None and node.value in ("", "~", "null"))


def start(spot: Spot) -> int:
    """Position of the first sign of the value."""
    return int(spot.node.start_mark.index)


def column(spot: Spot) -> int:
    """How far the value, or its name, is set in."""
    return int((spot.key or spot.node).start_mark.column)


def after_colon(text: str, spot: Spot) -> int:
    """Position after the colon of the value's name.

    Raises:
        CannotEdit: No colon follows the name.
    """
    end = int(spot.key.end_mark.index)
    at = end + len(text[end:]) - len(text[end:].lstrip(" \t"))
    if text[at : at + 1] != ":":
        raise CannotEdit(f'no colon follows "{spot.key.value}"; write it, or make this change by hand')
    return at + 1


def end(text: str, spot: Spot) -> int:
    """Position after the last sign of the value; comments and blank lines behind it are not part of it."""
    if is_nothing(spot) and not str(spot.node.value):
        return after_colon(text, spot)
    if is_flow(spot):
        return int(spot.node.end_mark.index)
    if is_group(spot):
        return end(text, entries(spot)[-1][1])
    if is_list(spot):
        return _end_of_list(text, spot)
    stop = int(spot.node.end_mark.index)
    return len(text[:stop].rstrip()) if spot.node.style in ("|", ">") else stop


def _end_of_list(text: str, spot: Spot) -> int:
    last = items(spot)[-1]
    if is_nothing(last) and not str(last.node.value):
        raise CannotEdit("a list ends with an empty entry; write the entry, or make this change by hand")
    return end(text, last)


def line_end(text: str, position: int) -> int:
    """Position of the next line's first sign, or of the end of the text."""
    found = text.find("\n", position)
    return len(text) if found < 0 else found + 1


def line_start(text: str, position: int) -> int:
    """Position of the first sign of the line."""
    return text.rfind("\n", 0, position) + 1
