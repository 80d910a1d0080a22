"""Changes or takes out one value in the text of a record and leaves every other sign of it as it was.

A whole record written anew by a library would keep its comments, but fold lines and move blanks. So the library only
says where things stand, one splice is made, and the result is read again: unless it is the old record with just this
value changed or gone, the change is refused.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from sitegen.content.yaml_tree import Entries, Items, Node, parse_tree
from sitegen.findings import ContentError, Kind
from sitegen.keeper.record_text import USUAL, WIDEST, Value, flow, lines, name
from sitegen.keeper.spots import (
    BY_HAND,
    CannotEdit,
    Path,
    Spot,
    after_colon,
    comments_in,
    deepest,
    end_of,
    line_end,
    newline_of,
)


def put(text: str, kind: str, path: Path, value: Value) -> str:
    """The record with one value written or replaced.

    Its kind says where a new name stands among the others; groups that are missing on the way to ``path`` are begun.

    Raises:
        ContentError: The record cannot be read.
        CannotEdit: It is written in a way that cannot be changed safely.
    """
    wanted = with_value(plain(text), path, plain_value(value))
    return _verified(_unfolded(_put(text, kind, path, value), path), wanted)


def append(text: str, kind: str, path: Path, value: Value) -> str:
    """The record with one more entry at the end of a list, which is begun if there is none.

    Args, Raises: As for ``put``.
    """
    before = plain(text)
    held = value_at(before, path)
    if not (held is None or isinstance(held, list)):
        raise CannotEdit(f"{path[-1]} is not a list; put its entry in brackets, or {BY_HAND}")
    wanted = with_value(before, path, [*(held or []), plain_value(value)])
    spot, depth = deepest(text, path)
    if depth == len(path) and not spot.is_nothing:
        changed = _appended(text, spot, value)
    elif depth == len(path) and not spot.in_flow:
        changed = _first_of_block(text, spot, value)
    else:
        changed = _put(text, kind, path, [value])
    return _verified(_list_unfolded(_unfolded(changed, path), path), wanted)


def drop(text: str, kind: str, path: Path) -> str:
    """The record without one name and what stands behind it, or one entry of a list; as it is where it does not stand.

    A group or list of which nothing is left goes too, but the number of a young stays listed. Comments stay.

    Args, Raises: As for ``put``.
    """
    before = plain(text)
    if deepest(text, path)[1] < len(path):
        return text
    while len(path) > 1 and len(value_at(before, path[:-1])) == 1 and not _is_named_entry(kind, path[:-1]):
        path = path[:-1]
    group, spot = deepest(text, path[:-1])[0], deepest(text, path)[0]
    changed = _dropped_in_flow(text, group, spot) if spot.in_flow else _dropped_lines(text, spot, kind)
    return _verified(changed, _without(before, path) or {})


def plain(text: str) -> Any:
    """The record as groups, lists and texts, None where nothing is written.

    Raises:
        ContentError: It cannot be read.
    """
    tree, findings = parse_tree(text, "")
    if tree is None or findings:
        raise ContentError(findings)
    return plain_tree(tree)


def plain_tree(node: Node | None) -> Any:
    """A tree as groups, lists and texts, None where nothing is written."""
    if isinstance(node, Entries):
        return {key.text: plain_tree(each) for key, each in node.entries}
    if isinstance(node, Items):
        return [plain_tree(each) for each in node.items]
    return None if node is None or node.blank else node.text


def plain_value(value: Value) -> Any:
    """The value as ``plain`` would read it from a record."""
    if isinstance(value, bool):
        return flow(value)
    if value is None or isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        return {key: plain_value(each) for key, each in value.items()}
    return [plain_value(each) for each in value]


def value_at(found: Any, path: Path) -> Any:
    """What stands in a plain record at the end of the path; None for nothing."""
    for key in path:
        found = parts_of(found).get(key)
    return found


def parts_of(found: Any) -> dict[str, Any]:
    """The named values of a plain group, or the entries of a list by position; of anything else none."""
    if isinstance(found, list):
        return {str(at): each for at, each in enumerate(found)}
    return found if isinstance(found, dict) else {}


def with_value(found: Any, path: Path, value: Any) -> Any:
    """The plain record with the value set."""
    if not path:
        return value
    if isinstance(found, list) and path[0] in parts_of(found):
        at = int(path[0])
        return [*found[:at], with_value(found[at], path[1:], value), *found[at + 1 :]]
    if not isinstance(found, dict | None):
        raise CannotEdit(f"{path[0]} belongs into a group, and something else stands there; {BY_HAND}")
    return (found or {}) | {path[0]: with_value((found or {}).get(path[0]), path[1:], value)}


def _without(found: Any, path: Path) -> Any:
    """The plain record without a name or an entry; None for a group or list of which nothing is left."""
    left = dict(parts_of(found))
    below = left.pop(path[0])
    if len(path) > 1:
        return with_value(found, path[:1], _without(below, path[1:]))
    return (list(left.values()) if isinstance(found, list) else left) or None


def _is_named_entry(kind: str, path: Path) -> bool:
    """True for the names that lead to the entry of a young, or of somebody who waits: it says something when empty."""
    return len(path) == 2 and (kind, path[0]) in (("litter", "young"), ("waiting", "people"))


def _verified(text: str, wanted: Any) -> str:
    """The changed text, if it is read as the record that is wanted."""
    try:
        same = plain(text) == wanted
    except ContentError as error:
        hidden = [each for each in error.findings if each.kind is Kind.TEXT_MISLEADING]
        if hidden:
            raise CannotEdit(f"{hidden[0].message}; {hidden[0].remedy}") from None
        same = False
    if not same:
        raise CannotEdit(f"this record is written in an unusual way; {BY_HAND}")
    return text


def _put(text: str, kind: str, path: Path, value: Value) -> str:
    spot, depth = deepest(text, path)
    if depth == len(path):
        return _replaced(text, spot, value)
    for key in reversed(path[depth + 1 :]):
        value = {key: value}
    if spot.is_nothing:
        return _filled(text, spot, {path[depth]: value})
    if not spot.is_group:
        raise CannotEdit(f"{path[depth]} belongs into a group, and something else stands there; {BY_HAND}")
    return _inserted(text, spot, path[depth], value, _position(kind, path[:depth], path[depth], spot))


def _position(kind: str, above: Path, new: str, group: Spot) -> int:
    """How many of the names of a group a new one stands behind.

    Dates stand in their order, names of the records behind those that usually stand before them, all others last.
    """
    names = [each for each, _ in group.parts]
    if kind == "litter" and above[:1] == ("young",):
        if len(above) == 1:  # the number of a young
            return len(names)
        kind, above = "animal", above[2:]
    if above in (("weights",), ("lengths",)):
        return next((position for position, each in enumerate(names) if each > new), len(names))
    usual = USUAL.get(kind, ()) if not above else USUAL["offer"] if above == ("offer",) else ()
    if not usual:
        return len(names)
    before = usual[: usual.index(new)] if new in usual else usual
    return max((at + 1 for at, each in enumerate(names) if each in before), default=0)


def _replaced(text: str, spot: Spot, value: Value) -> str:
    if spot.is_nothing:
        return _filled(text, spot, value)
    single = not (spot.is_group or spot.is_list)
    if not single and (value is None or spot.key is None or comments_in(text, spot)):
        raise CannotEdit(f"what stands there cannot be replaced as a whole without loss; {BY_HAND}")
    if spot.in_flow or spot.key is None or (single and isinstance(value, str) and "\n" not in value):
        return text[: spot.start] + flow(value) + text[end_of(text, spot) :]
    written = lines([(spot.key.value, value)], " " * spot.column)
    written[0] = written[0][spot.column + len(name(spot.key.value)) + 1 :]
    return text[: after_colon(text, spot)] + newline_of(text).join(written) + text[end_of(text, spot) :]


def _dropped_lines(text: str, spot: Spot, kind: str) -> str:
    """The lines of a name, or of an entry with its dash, taken out; their comments stay, each on a line of its own.

    Those on somebody who waits go too: personal data is not left behind.
    """
    begin, stop = _begin(text, spot), end_of(text, spot)
    line, after = text.rfind("\n", 0, begin) + 1, line_end(text, stop)
    indent, rest = text[line:begin], text[stop:after].strip()
    if indent.strip() or (rest and not rest.startswith("#")):
        raise CannotEdit(f"something else stands on the line of {_called(spot)}; {BY_HAND}")
    kept = [] if kind == "waiting" else [*comments_in(text, spot), rest] if rest else comments_in(text, spot)
    return text[:line] + "".join(f"{indent}{each}{newline_of(text)}" for each in kept) + text[after:]


def _begin(text: str, spot: Spot) -> int:
    """Position of the name of a value, or of the dash before an entry of a list."""
    if spot.key is not None:
        after_colon(text, spot)
        return int(spot.key.start_mark.index)
    dash = re.search(r"-[ \t]+\Z", text[: spot.start])
    if spot.in_flow or dash is None:
        raise CannotEdit(f"an entry does not stand behind its dash; {BY_HAND}")
    return dash.start()


def _called(spot: Spot) -> str:
    return str(spot.key.value) if spot.key is not None else "this entry"


def _dropped_in_flow(text: str, group: Spot, spot: Spot) -> str:
    """A name in braces taken out, with the comma behind it, or before it where it is the last."""
    held = [each for _, each in group.parts]
    if len(held) == 1 and group.key is not None and not comments_in(text, group):
        return text[: after_colon(text, group)] + (" null" if group.in_flow else "") + text[end_of(text, group) :]
    at = [each.start for each in held].index(spot.start)
    begin = name_at = int((spot.key or spot.node).start_mark.index)
    stop = end_of(text, spot)
    if comma := re.compile(r"\s*,[ \t]*").match(text, stop):
        stop = comma.end()
    elif at:
        begin = end_of(text, held[at - 1])
    if comments_in(text, spot) or "#" in text[begin:name_at]:
        raise CannotEdit(f"a comment stands within {_called(spot)}; {BY_HAND}")
    return text[:begin] + text[stop:]


def _filled(text: str, spot: Spot, value: Value) -> str:
    """A value where none was written."""
    if spot.node is None or spot.key is None:
        assert isinstance(value, Mapping)
        head = text if not text or text.endswith("\n") else text + newline_of(text)
        return head + "".join(line + newline_of(text) for line in lines(value.items()))
    return text[: after_colon(text, spot)] + " " + flow(value) + text[end_of(text, spot) :]


def _inserted(text: str, group: Spot, key: str, value: Value, position: int) -> str:
    """A new name in a group."""
    if group.is_flow:
        return _inserted_in_flow(text, group, f"{name(key)}: {flow(value)}", position)
    held = [spot for _, spot in group.parts]
    indent = " " * held[0].column
    added = lines([(key, value)], indent)
    if position:
        return _after_line(text, end_of(text, held[position - 1]), added)
    at = int(held[0].key.start_mark.index)
    return text[:at] + newline_of(text).join(added)[len(indent) :] + newline_of(text) + indent + text[at:]


def _inserted_in_flow(text: str, group: Spot, entry: str, position: int) -> str:
    """A new entry of a group or list in braces or brackets."""
    if position:
        at = end_of(text, group.parts[position - 1][1])
        return f"{text[:at]}, {entry}{text[at:]}"
    at = group.start + 1
    return f"{text[:at]}{entry}{', ' if group.parts else ''}{text[at:]}"


def _after_line(text: str, position: int, added: Sequence[str]) -> str:
    """New lines behind the line that holds the position."""
    at = line_end(text, position)
    newline = newline_of(text)
    if at == len(text) and not text.endswith("\n"):
        return text + "".join(newline + line for line in added)
    return text[:at] + "".join(line + newline for line in added) + text[at:]


def _first_of_block(text: str, spot: Spot, value: Value) -> str:
    """The first entry of a list of which only the name stands there."""
    at = after_colon(text, spot)
    if str(spot.node.value):
        text = text[:at] + text[end_of(text, spot) :]
    return _after_line(text, at, [f"{' ' * spot.column}  - {flow(value)}"])


def _appended(text: str, spot: Spot, value: Value) -> str:
    if spot.is_flow:
        return _inserted_in_flow(text, spot, flow(value), len(spot.parts))
    dash = " " * int(spot.node.start_mark.column)
    return _after_line(text, end_of(text, spot), [f"{dash}- {flow(value)}"])


def _unfolded(text: str, path: Path) -> str:
    """The record with the outermost group in braces on the way written as lines, while its line is too long."""
    for steps in range(1, len(path)):
        spot, depth = deepest(text, path[:steps])
        if depth == steps and spot.is_group and _too_long(text, spot):
            parts = [text[int(each.key.start_mark.index) : end_of(text, each)] for _, each in spot.parts]
            text = _as_lines(text, spot, parts)
    return text


def _list_unfolded(text: str, path: Path) -> str:
    """The record with the list in brackets written as lines, if its line is too long."""
    spot, depth = deepest(text, path)
    if depth < len(path) or not spot.is_list or not _too_long(text, spot):
        return text
    return _as_lines(text, spot, ["- " + text[each.start : end_of(text, each)] for _, each in spot.parts])


def _too_long(text: str, spot: Spot) -> bool:
    """A group or list in brackets on a line of its own, without a comment, that has grown too long."""
    if not spot.is_flow or spot.in_flow or spot.key is None:
        return False
    begin, stop = spot.start, end_of(text, spot)
    line = text[text.rfind("\n", 0, begin) + 1 : line_end(text, begin)]
    alone = "\n" not in text[begin:stop] and not text[stop : line_end(text, stop)].strip()
    return alone and len(line.rstrip()) > WIDEST


def _as_lines(text: str, spot: Spot, parts: Sequence[str]) -> str:
    indent = newline_of(text) + " " * (spot.column + 2)
    return text[: after_colon(text, spot)] + "".join(indent + part for part in parts) + text[end_of(text, spot) :]
