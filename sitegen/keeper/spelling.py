"""Values as the text of a record: plain words wherever they are read back as the same words, quotes elsewhere."""

import json
import re
from collections.abc import Iterable, Mapping, Sequence

from sitegen.content.yaml_tree import Entries, Items, Scalar, parse_tree

Value = str | bool | None | Sequence["Value"] | Mapping[str, "Value"]
"""What may be written: a text, true or false, nothing yet, a list, or a group by name."""

WIDEST = 110
"""A line longer than this is written as several, one for each name."""

# Words that another program would read as something else than a word. Source: YAML 1.1 and 1.2, core schema.
_TAKEN = re.compile(r"^(~|null|true|false|yes|no|on|off|y|n)$", re.IGNORECASE)


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


def scalar(text: str) -> str:
    """One text: bare if it is read back as the same text wherever it stands, else in double quotes."""
    return text if text and not _TAKEN.match(text) and _reads_back(text) else _quoted(text)


def name(text: str) -> str:
    """A name before a colon; numbers of young keep their zeros in quotes."""
    return _quoted(text) if text.isdigit() else scalar(text)


def lines(entries: Iterable[tuple[str, Value]], indent: str = "") -> list[str]:
    """Named values, one a line; a group that would be too long, and a list of groups, on lines of its own."""
    found = []
    for key, value in entries:
        line = f"{indent}{name(key)}: {flow(value)}"
        if isinstance(value, Mapping) and value and (len(line) > WIDEST or _holds_groups(value.values())):
            found += [f"{indent}{name(key)}:", *lines(value.items(), indent + "  ")]
        elif isinstance(value, Sequence) and not isinstance(value, str) and _holds_groups(value):
            found += [f"{indent}{name(key)}:", *(f"{indent}  - {flow(each)}" for each in value)]
        elif value is None:
            found.append(f"{indent}{name(key)}:")
        elif isinstance(value, str) and "\n" in value:
            found += [f"{indent}{name(key)}: |", *(f"{indent}  {each}".rstrip() for each in value.splitlines())]
        else:
            found.append(line)
    return found


def _holds_groups(values: Iterable[Value]) -> bool:
    """True when one is a group, or nothing yet: a group that is still to be filled."""
    return any(each is None or isinstance(each, Mapping) for each in values)


def _reads_back(text: str) -> bool:
    tree, findings = parse_tree(f"{{k: [{text}]}}\n", "")
    if findings or not isinstance(tree, Entries) or len(tree.entries) != 1:
        return False
    held = tree.entries[0][1]
    one = held.items[0] if isinstance(held, Items) and len(held.items) == 1 else None
    if not isinstance(one, Scalar) or one.quoted or one.blank or one.text != text:
        return False
    return text.isprintable() and not text.endswith(":") and not re.search(r"[:#]\s|\s#", text)


def _quoted(text: str) -> str:
    """In double quotes; signs that cannot be seen are spelt out."""
    told = json.dumps(text, ensure_ascii=False)
    return "".join(sign if sign.isprintable() else _escape(sign) for sign in told)


def _escape(sign: str) -> str:
    return f"\\u{ord(sign):04x}" if ord(sign) < 0x10000 else f"\\U{ord(sign):08x}"
