"""Where words of a value stand in their file: a value that YAML folded, indented or quoted is followed sign by sign."""

from collections.abc import Iterator, Mapping

from sitegen.findings import Place
from sitegen.records.texts import FreeText

_BLANK_ESCAPES = frozenset(" \tntr_NLPvf")
_LONG_ESCAPES = {"x": 2, "u": 4, "U": 8}


def place_in_file(text: FreeText, start: int, end: int, files: Mapping[str, str]) -> tuple[Place, int]:
    """The place of ``text.text[start:end]`` and how many signs of that line are meant.

    The place of the whole value, and no width, when its file is not at hand.
    """
    raw = files.get(text.place.file, "")
    at = _offset(raw, text.place)
    if at is None:
        return text.place, 0
    before = sum(not sign.isspace() for sign in text.text[:start])
    meant = sum(not sign.isspace() for sign in text.text[start:end])
    first = last = None
    for count, offset in enumerate(_visible(raw, at, whole=text.key in ("page", "update"))):
        if count == before:
            first = offset
        if count == before + meant - 1:
            last = offset
            break
    if first is None or last is None:
        return text.place, 0
    line_start = raw.rfind("\n", 0, first) + 1
    line_end = raw.find("\n", first)
    line_end = len(raw) if line_end == -1 else line_end
    line = raw.count("\n", 0, first) + 1
    return Place(text.place.file, line, first - line_start + 1), len(raw[first : min(last + 1, line_end)].rstrip())


def _offset(raw: str, place: Place) -> int | None:
    """Position in the file of a line and column."""
    start = 0
    for _ in range(place.line - 1):
        start = raw.find("\n", start) + 1
        if not start:
            return None
    offset = start + place.column - 1
    return offset if 0 <= offset < len(raw) else None


def _visible(raw: str, at: int, *, whole: bool) -> Iterator[int]:
    """Position of each sign of a value that is not a blank, however the value is written."""
    mark = "" if whole else raw[at]
    if mark in ("'", '"'):
        yield from _quoted(raw, at + 1, mark)
        return
    if mark and mark in "|>":
        at = raw.find("\n", at) + 1
    for offset in range(at, len(raw)):
        if not raw[offset].isspace():
            yield offset


def _quoted(raw: str, at: int, mark: str) -> Iterator[int]:
    """The same for a value in quotation marks, where some signs are written with two or more."""
    while at < len(raw):
        width, visible = 1, not raw[at].isspace()
        if mark == '"' and raw[at] == "\\" and at + 1 < len(raw):
            width, visible = _escape(raw, at)
        elif raw[at] == mark:
            if mark != "'" or raw[at : at + 2] != "''":
                return
            width = 2
        if visible:
            yield at
        at += width


def _escape(raw: str, at: int) -> tuple[int, bool]:
    """How long a written escape is, and whether it stands for something that can be seen."""
    sign = raw[at + 1]
    digits = _LONG_ESCAPES.get(sign, 0)
    if digits:
        try:
            return 2 + digits, not chr(int(raw[at + 2 : at + 2 + digits], 16)).isspace()
        except (ValueError, OverflowError):
            return 2, True
    return 2, sign not in _BLANK_ESCAPES and sign != "\n"
