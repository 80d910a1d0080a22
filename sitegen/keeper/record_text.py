"""Records as YAML text: the usual order of their names, values as they are spelt, and whole new records.

A word stands bare wherever it is read back as the same word, and in double quotes elsewhere; a text of several lines
is a block of lines, which people can read and edit.
"""

import json
import os
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from sitegen.content.yaml_tree import Entries, Items, Scalar, parse_tree

Value = str | bool | None | Sequence["Value"] | Mapping[str, "Value"]
"""What may be written: a text, true or false, nothing yet, a list, or a group by name."""

USUAL: Mapping[str, Sequence[str]] = {
    "animal": (
        "name", "species", "sex", "from_litter", "born", "died", "dam", "sire", "acquired", "shows", "unsure", "judged",
        "copies", "stated", "tests", "haplotypes", "markers", "line", "locality", "weights", "lengths", "meals",
        "events", "quarantine", "kept", "offer", "on_site", "public", "captions", "off_site", "about", "reviewed",
        "private",
    ),
    "litter": (
        "name", "species", "dam", "sire", "mixed_sires", "paired", "laid", "expected", "born", "failed", "eggs",
        "infertile", "stillborn", "young", "others", "events", "on_site", "public", "confirmed", "captions", "off_site",
        "about", "reviewed", "private",
    ),
    "project": (
        "name", "species", "state", "started", "goal", "horizon", "rest", "relatedness_limit", "welfare", "stages",
        "alternatives", "decisions", "on_site", "captions", "off_site", "about", "reviewed", "private",
    ),
    "waiting": ("people",),
    "offer": ("price", "state", "since", "ready", "until"),
}  # fmt: skip
"""Kind of record, or of group, to the order in which its names usually stand; a record is a page, read from the top."""

WIDEST = 110
"""A line longer than this is written as several, one for each name."""

SCHEMAS = ".schemas"
"""The folder beside the content folder in which an editor finds the schemas of the records."""

# Words that another program would read as something else than a word. Source: YAML 1.1 and 1.2, core schema.
_TAKEN = re.compile(r"^(~|null|true|false|yes|no|on|off|y|n)$", re.IGNORECASE)


def new_record(content: Path, path: str, kind: str, entries: Mapping[str, Value], comments: Iterable[str] = ()) -> str:
    """The text of a record that does not stand there yet.

    Its path is relative to the content folder; its entries stand in their order, below the comments, each on one line.
    """
    above = [*modeline(content, path, kind), *(f"# {line}".rstrip() for line in comments)]
    return "\n".join([*above, *lines(entries.items())]) + "\n"


def in_usual_order(kind: str, entries: Mapping[str, Value]) -> dict[str, Value]:
    """The values of a record in the order in which its names usually stand."""
    return {key: entries[key] for key in USUAL[kind] if key in entries}


def schema_file(kind: str) -> str:
    """The file name of the schema of one kind of record: ``animal.schema.json``."""
    return f"{kind}.schema.json"


def modeline(content: Path, path: str, kind: str) -> list[str]:
    """The line that tells an editor which schema a record follows, if one stands beside the content folder.

    Its form is an open convention of editors' language servers.
    """
    schema = content.absolute().parent / SCHEMAS / schema_file(kind)
    if not schema.is_file():
        return []
    address = os.path.relpath(schema, (content.absolute() / path).parent).replace(os.sep, "/")
    return [f"# yaml-language-server: $schema={address}"]


def lines(entries: Iterable[tuple[str, Value]], indent: str = "") -> list[str]:
    """Named values, one a line; a group that would be too long, and a list of groups, on lines of its own."""
    found = []
    for key, value in entries:
        line = f"{indent}{name(key)}: {flow(value)}"
        if isinstance(value, Mapping) and value and (len(line) > WIDEST or _is_spread(key, value)):
            found += [f"{indent}{name(key)}:", *lines(value.items(), indent + "  ")]
        elif isinstance(value, Sequence) and not isinstance(value, str) and _holds_groups(value):
            found += [f"{indent}{name(key)}:", *(f"{indent}  - {flow(each)}" for each in value)]
        elif isinstance(value, str) and (block := _block(value)):
            found += [f"{indent}{name(key)}: {block[0]}", *(f"{indent}  {each}".rstrip(" ") for each in block[1:])]
        else:
            found.append(line if value is not None else f"{indent}{name(key)}:")
    return found


def _is_spread(key: str, group: Mapping[str, Value]) -> bool:
    """True for a group that is written on several lines however short it is: notes are added to ``private`` by hand."""
    several_lines = any(isinstance(each, str) and _block(each) for each in group.values())
    return key == "private" or several_lines or _holds_groups(group.values())


def _block(text: str) -> list[str]:
    """A text of several lines as a block: its sign, then the lines, not set in; nothing for a text that cannot be one.

    A block cannot hold signs that are not seen, nor blanks at the ends of lines, which editors take away.
    """
    rows = text.removesuffix("\n").split("\n")
    plain = all(row.isprintable() and row == row.rstrip(" ") for row in rows) and not rows[0].startswith(" ")
    if len(rows) < 2 or not plain or not rows[0] or not rows[-1]:
        return []
    return ["|" if text.endswith("\n") else "|-", *rows]


def _holds_groups(values: Iterable[Value]) -> bool:
    """True when one is a group, or nothing yet: a group that is still to be filled."""
    return any(each is None or isinstance(each, Mapping) for each in values)


def flow(value: Value) -> str:
    """The value on one line.

    >>> flow({"state": "on hold", "price": "120", "shows": ["amel", "a, b"]})
    '{state: on hold, price: 120, shows: [amel, "a, b"]}'
    """
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return scalar(value)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{name(key)}: {flow(each)}" for key, each in value.items()) + "}"
    return "[" + ", ".join(flow(each) for each in value) + "]"


def name(text: str) -> str:
    """A name before a colon; numbers of young keep their zeros in quotes."""
    return _quoted(text) if text.isdigit() else scalar(text)


def scalar(text: str) -> str:
    """One text: bare if it is read back as the same text wherever it stands, else in double quotes."""
    return text if text and not _TAKEN.match(text) and _reads_back(text) else _quoted(text)


def _reads_back(text: str) -> bool:
    """True when the bare text is read as itself within brackets, the place where most signs have a meaning."""
    tree, findings = parse_tree(f"{{k: [{text}]}}\n", "")
    if findings or not isinstance(tree, Entries) or len(tree.entries) != 1:
        return False
    held = tree.entries[0][1]
    one = held.items[0] if isinstance(held, Items) and len(held.items) == 1 else None
    if not isinstance(one, Scalar) or one.quoted or one.blank or one.text != text:
        return False
    if text == "-":  # after a colon it would begin a list
        return False
    return text.isprintable() and not text.endswith(":") and not re.search(r"[:#]\s|\s#", text)


def _quoted(text: str) -> str:
    """In double quotes; signs that cannot be seen are spelt out."""
    told = json.dumps(text, ensure_ascii=False)
    return "".join(sign if sign.isprintable() else _escape(sign) for sign in told)


def _escape(sign: str) -> str:
    return f"\\u{ord(sign):04x}" if ord(sign) < 0x10000 else f"\\U{ord(sign):08x}"
