"""JSON as it is published: two spaces deep, keys in the order given, not escaped beyond need.

``json.dumps(..., indent=2)`` writes the same text, with a generator for each part and in twice the time.
"""

import json
from collections.abc import Iterator, Mapping
from itertools import chain
from json.encoder import encode_basestring as quoted

from sitegen.lazily import Each


def json_text(value: object) -> str:
    """The JSON text of plain values; :class:`Each` is a list.

    Raises:
        TypeError: There is something in it that JSON does not know, or a key that is no text.
    """
    return "".join(_parts(value, "\n"))


def json_file(value: object) -> bytes:
    """JSON as a file.

    Raises:
        TypeError: As of :func:`json_text`.
    """
    return b"".join(part.encode("utf-8") for part in chain(_parts(value, "\n"), ("\n",)))


def json_part(value: object) -> str:
    """The text of a value as it stands in an object that is a file: what :func:`json_object` takes.

    Raises:
        TypeError: As of :func:`json_text`.
    """
    return _told(value, "\n  ")


def json_object(parts: Mapping[str, str]) -> bytes:
    """An object as a file, of parts that are text already; the same bytes as :func:`json_file` gives of the whole."""
    told = ",\n  ".join(f"{quoted(key)}: {part}" for key, part in parts.items())
    return f"{{\n  {told}\n}}\n".encode()


def _parts(value: object, start: str) -> Iterator[str]:
    """A value part by part, so that a long list is never in memory as a whole; ``start`` as below."""
    inner = f"{start}  "
    if isinstance(value, Each):
        before = "["
        for part in value:
            yield f"{before}{inner}{_told(part, inner)}"
            before = ","
        yield "[]" if before == "[" else f"{start}]"
    elif isinstance(value, dict) and any(isinstance(part, Each) for part in value.values()):
        before = "{"
        for key, part in value.items():
            yield f"{before}{inner}{quoted(key)}: "
            yield from _parts(part, inner)
            before = ","
        yield f"{start}}}"
    else:
        yield _told(value, start)


def _told(value: object, start: str) -> str:
    """A value; ``start`` begins a line of the part in which it stands."""
    if isinstance(value, str):
        return quoted(value)
    if value is None:
        return "null"
    inner = f"{start}  "
    if isinstance(value, dict):
        each = [
            f"{quoted(key)}: {quoted(part) if type(part) is str else _told(part, inner)}" for key, part in value.items()
        ]
        return f"{{{inner}{f',{inner}'.join(each)}{start}}}" if each else "{}"
    if isinstance(value, list | tuple):
        each = [quoted(part) if type(part) is str else _told(part, inner) for part in value]
        return f"[{inner}{f',{inner}'.join(each)}{start}]" if each else "[]"
    return _plain(value)


_plain = json.JSONEncoder().encode
"""Numbers, true and false; what JSON does not know is refused."""
