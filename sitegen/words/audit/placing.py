"""Where words of a value stand in their file: a value that YAML folded, indented or quoted is followed sign by sign."""

import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping
from itertools import accumulate, islice

from sitegen.content.texts import FreeText
from sitegen.findings import Place

_BLANK_ESCAPES = frozenset(" \tntr_NLPvf")
_LONG_ESCAPES = {"x": 2, "u": 4, "U": 8}


class Placing:
    """Finds words of one text in its file; a text is followed through its file once, however much is asked of it."""

    def __init__(self, text: FreeText, files: Mapping[str, str]) -> None:
        """Follow the text; a file that is not at hand places nothing."""
        self.text = text
        self._raw = files.get(text.place.file, "")
        self._before = [0, *accumulate(not sign.isspace() for sign in text.text)]
        at = _offset(self._raw, text.place)
        whole = text.key in ("page", "update")
        signs = () if at is None else _visible(self._raw, at, whole=whole)
        self._offsets = list(islice(signs, self._before[-1]))
        self._lines = [0, *(match.end() for match in re.finditer("\n", self._raw))]

    def find(self, start: int, end: int) -> tuple[Place, int]:
        """The place of ``text.text[start:end]`` and how many signs of that line are meant.

        The place of the whole value, and no width, where the words cannot be found.
        """
        first, last = self._before[start], self._before[end] - 1
        if last < first or last >= len(self._offsets):
            return self.text.place, 0
        at, to = self._offsets[first], self._offsets[last] + 1
        line = bisect_right(self._lines, at)
        line_end = self._lines[line] - 1 if line < len(self._lines) else len(self._raw)
        width = len(self._raw[at : min(to, line_end)].rstrip())
        return Place(self.text.place.file, line, at - self._lines[line - 1] + 1), width


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
