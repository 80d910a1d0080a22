"""JSON as it is published: two spaces deep, keys in the order given, not escaped beyond need.

``json.dumps(..., indent=2)`` writes the same text, with a generator for each part and in twice the time.
"""

import json
from json.encoder import encode_basestring as quoted


def json_text(value: object) -> str:
    """The JSON text of plain values.

    Raises:
        TypeError: There is something in it that JSON does not know, or a key that is no text.
    """
    return _told(value, "\n")


def json_file(value: object) -> bytes:
    """JSON as a file.

    Raises:
        TypeError: As of :func:`json_text`.
    """
    return (json_text(value) + "\n").encode("utf-8")


def _told(value: object, start: str) -> str:
    """A value; ``start`` begins a line of the part in which it stands."""
    if isinstance(value, str):
        return quoted(value)
    inner = f"{start}  "
    if isinstance(value, dict):
        each = [f"{quoted(key)}: {_told(part, inner)}" for key, part in value.items()]
        return f"{{{inner}{f',{inner}'.join(each)}{start}}}" if each else "{}"
    if isinstance(value, list | tuple):
        each = [_told(part, inner) for part in value]
        return f"[{inner}{f',{inner}'.join(each)}{start}]" if each else "[]"
    return json.dumps(value)
