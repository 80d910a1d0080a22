"""Changes one value in the text of a record and leaves every other sign of it as it was.

A whole record written anew by a library would keep its comments, but fold lines and move blanks. So the library only
says where things stand, one splice is made, and the result is read again: unless it is the old record with just this
value changed, the change is refused.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from sitegen.content.yaml_tree import Entries, Items, Node, parse_tree
from sitegen.findings import ContentError, Kind
from sitegen.keeper import layout
from sitegen.keeper.layout import CannotEdit, Spot
from sitegen.keeper.spelling import WIDEST, Value, flow, lines, name

Path = Sequence[str]
Order = Callable[[Sequence[str], str], int]
"""The names that stand there and a new one, to the position of the new one among them."""


def last(names: Sequence[str], new: str) -> int:
    """Behind all others."""
    return len(names)


def by_name(names: Sequence[str], new: str) -> int:
    """Before the first that is greater, for dates."""
    return next((position for position, each in enumerate(names) if each > new), len(names))


def like(usual: Sequence[str]) -> Order:
    """Behind the last of those that usually stand before it."""

    def position(names: Sequence[str], new: str) -> int:
        before = usual[: usual.index(new)] if new in usual else usual
        return max((at + 1 for at, each in enumerate(names) if each in before), default=0)

    return position


def put(text: str, path: Path, value: Value, orders: Sequence[Order] = ()) -> str:
    """The record with one value written or replaced.

    Args:
        text: The whole record.
        path: The names that lead to the value.
        value: What is to stand there.
        orders: Where a new name stands in the group of each step; behind all others if not given.

    Raises:
        ContentError: The record cannot be read.
        CannotEdit: It is written in a way that cannot be changed safely.
    """
    wanted = _with(plain(text), path, plain_value(value))
    return _verified(_unfolded(_put(text, path, value, orders), path), wanted)


def append(text: str, path: Path, value: Value, orders: Sequence[Order] = ()) -> str:
    """The record with one more entry at the end of a list, which is begun if there is none.

    Args, Raises: As for ``put``.
    """
    before = plain(text)
    held = standing(before, path)
    if not (held is None or isinstance(held, list)):
        raise CannotEdit(f"{path[-1]} is not a list; put its entry in brackets, or make this change by hand")
    wanted = _with(before, path, [*(held or []), plain_value(value)])
    spot, at = _found(text, path)
    if at < len(path):
        added = _put(text, path, [value], orders)
    elif layout.is_nothing(spot):
        added = _put(text, path, [value], orders) if spot.in_flow else _first_of_block(text, spot, value)
    else:
        added = _appended(text, spot, value)
    return _verified(_list_unfolded(_unfolded(added, path), path), wanted)


def plain(text: str) -> Any:
    """The record as groups, lists and texts, None where nothing is written.

    Raises:
        ContentError: It cannot be read.
    """
    tree, findings = parse_tree(text, "")
    if tree is None or findings:
        raise ContentError(findings)
    return _plain(tree)


def _plain(node: Node) -> Any:
    if isinstance(node, Entries):
        return {key.text: _plain(each) for key, each in node.entries}
    if isinstance(node, Items):
        return [_plain(each) for each in node.items]
    return None if node.blank else node.text


def plain_value(value: Value) -> Any:
    """The value as ``plain`` would read it from a record."""
    if isinstance(value, bool):
        return flow(value)
    if value is None or isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        return {key: plain_value(each) for key, each in value.items()}
    return [plain_value(each) for each in value]


def standing(found: Any, path: Path) -> Any:
    """What stands in a plain record at the end of the path; None for nothing."""
    for key in path:
        found = found.get(key) if isinstance(found, dict) else None
    return found


def _with(found: Any, path: Path, value: Any) -> Any:
    """The plain record with the value set."""
    if not path:
        return value
    if not isinstance(found, dict | None):
        raise CannotEdit(f"{path[0]} belongs into a group, and something else stands there; make this change by hand")
    return (found or {}) | {path[0]: _with((found or {}).get(path[0]), path[1:], value)}


def _verified(text: str, wanted: Any) -> str:
    try:
        same = plain(text) == wanted
    except ContentError as error:
        hidden = [each for each in error.findings if each.kind is Kind.TEXT_MISLEADING]
        if hidden:
            raise CannotEdit(f"{hidden[0].message}; {hidden[0].remedy}") from None
        same = False
    if not same:
        raise CannotEdit("this record is written in an unusual way; make this change by hand")
    return text


def _found(text: str, path: Path) -> tuple[Spot, int]:
    """The deepest part of the path that stands in the record, and how many steps lead to it."""
    spot = layout.composed(text)
    for at, key in enumerate(path):
        held = {} if layout.is_nothing(spot) or not layout.is_group(spot) else dict(layout.entries(spot))
        if key not in held:
            return spot, at
        spot = held[key]
    return spot, len(path)


def _put(text: str, path: Path, value: Value, orders: Sequence[Order]) -> str:
    spot, at = _found(text, path)
    for key in reversed(path[at + 1 :]):
        value = {key: value}
    if at == len(path):
        return _replaced(text, spot, value)
    if layout.is_nothing(spot):
        return _filled(text, spot, {path[at]: value})
    if not layout.is_group(spot):
        raise CannotEdit(f"{path[at]} belongs into a group, and something else stands there; make this change by hand")
    order = orders[at] if at < len(orders) else last
    return _inserted(text, spot, path[at], value, order)


def _replaced(text: str, spot: Spot, value: Value) -> str:
    if layout.is_nothing(spot):
        return _filled(text, spot, value)
    if layout.is_group(spot) or layout.is_list(spot):
        raise CannotEdit("several values stand where one is to be written; make this change by hand")
    return text[: layout.start(spot)] + flow(value) + text[layout.end(text, spot) :]


def _filled(text: str, spot: Spot, value: Value) -> str:
    """A value where none was written."""
    if spot.node is None or spot.key is None:
        assert isinstance(value, Mapping)
        head = text if not text or text.endswith("\n") else text + _newline(text)
        return head + "".join(line + _newline(text) for line in lines(value.items()))
    at = layout.after_colon(text, spot)
    stop = layout.end(text, spot)
    return text[:at] + " " + flow(value) + text[stop:]


def _inserted(text: str, group: Spot, key: str, value: Value, order: Order) -> str:
    """A new name in a group."""
    held = layout.entries(group)
    position = order([each for each, _ in held], key)
    if layout.is_flow(group):
        return _inserted_in_flow(text, group, f"{name(key)}: {flow(value)}", position)
    indent = " " * layout.column(held[0][1])
    added = lines([(key, value)], indent)
    if position:
        return _after_line(text, layout.end(text, held[position - 1][1]), added)
    at = int(held[0][1].key.start_mark.index)
    return text[:at] + _newline(text).join(added)[len(indent) :] + _newline(text) + indent + text[at:]


def _inserted_in_flow(text: str, group: Spot, entry: str, position: int) -> str:
    held = layout.entries(group) if layout.is_group(group) else [("", each) for each in layout.items(group)]
    if position:
        at = layout.end(text, held[position - 1][1])
        return f"{text[:at]}, {entry}{text[at:]}"
    at = layout.start(group) + 1
    return f"{text[:at]}{entry}{', ' if held else ''}{text[at:]}"


def _after_line(text: str, position: int, added: Sequence[str]) -> str:
    """New lines behind the line that holds the position."""
    at = layout.line_end(text, position)
    newline = _newline(text)
    if at == len(text) and not text.endswith("\n"):
        return text + "".join(newline + line for line in added)
    return text[:at] + "".join(line + newline for line in added) + text[at:]


def _first_of_block(text: str, spot: Spot, value: Value) -> str:
    at = layout.after_colon(text, spot)
    if str(spot.node.value):
        text = text[:at] + text[layout.end(text, spot) :]
    return _after_line(text, at, [f"{' ' * layout.column(spot)}  - {flow(value)}"])


def _appended(text: str, spot: Spot, value: Value) -> str:
    held = layout.items(spot)
    if layout.is_flow(spot):
        return _inserted_in_flow(text, spot, flow(value), len(held))
    dash = " " * int(spot.node.start_mark.column)
    return _after_line(text, layout.end(text, held[-1]), [f"{dash}- {flow(value)}"])


def _unfolded(text: str, path: Path) -> str:
    """The record with the outermost group in braces on the way written as lines, while its line is too long."""
    for steps in range(1, len(path)):
        spot, at = _found(text, path[:steps])
        if at == steps and layout.is_group(spot) and _too_long(text, spot):
            parts = [text[int(e.key.start_mark.index) : layout.end(text, e)] for _, e in layout.entries(spot)]
            text = _as_lines(text, spot, parts)
    return text


def _list_unfolded(text: str, path: Path) -> str:
    """The record with the list in brackets written as lines, if its line is too long."""
    spot, at = _found(text, path)
    if at < len(path) or not layout.is_list(spot) or not _too_long(text, spot):
        return text
    parts = ["- " + text[layout.start(e) : layout.end(text, e)] for e in layout.items(spot)]
    return _as_lines(text, spot, parts)


def _too_long(text: str, spot: Spot) -> bool:
    """A group or list in brackets on a line of its own, without a comment, that has grown too long."""
    if not layout.is_flow(spot) or spot.in_flow or spot.key is None:
        return False
    begin, stop = layout.start(spot), layout.end(text, spot)
    line = text[layout.line_start(text, begin) : layout.line_end(text, begin)]
    alone = "\n" not in text[begin:stop] and not text[stop : layout.line_end(text, stop)].strip()
    return alone and len(line.rstrip()) > WIDEST


def _as_lines(text: str, spot: Spot, parts: Sequence[str]) -> str:
    indent = _newline(text) + " " * (layout.column(spot) + 2)
    stop = layout.end(text, spot)
    return text[: layout.after_colon(text, spot)] + "".join(indent + part for part in parts) + text[stop:]


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"
