"""A text cut into sentences, with the marks of Markdown blanked out so that every sign keeps its position."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

_LINK = re.compile(r"!?\[([^\]\n]*)\]\(([^)\s]*)[^)\n]*\)")
_MARKS = re.compile(r"[*`]|(?<!\w)_+|_+(?!\w)")
_STOP = re.compile(r"[.!?…]+[\"'”’)*_]*\s+")
_ITEM = re.compile(r"^\s*(?:[-*+>]|\d{1,3}[.)])\s")
_HEADING = re.compile(r"^\s{0,3}#{1,6}\s")
_SHORT = frozenset(
    [
        "poss",
        "pos",
        "approx",
        "ca",
        "no",
        "nos",
        "vs",
        "e.g",
        "i.e",
        "cf",
        "resp",
        "incl",
        "dr",
        "mr",
        "mrs",
        "ms",
        "st",
        "fig",
        "het",
        "hets",
        "dbl",
        "var",
    ]
)
"""Words after which a full stop does not end a sentence."""

_LONGEST = 600
"""Signs of the longest sentence that is read as one."""


@dataclass(frozen=True, slots=True)
class ReadText:
    """A text as it is read.

    Attributes:
        plain: As long as the original; marks and addresses are blanks.
        links: Begin, end and address of each link's words.
        sentences: Begin and end of each.
    """

    plain: str
    links: tuple[tuple[int, int, str], ...]
    sentences: tuple[tuple[int, int], ...]


def read_text(text: str) -> ReadText:
    """The text ready for reading."""
    links: list[tuple[int, int, str]] = []

    def words_only(match: re.Match[str]) -> str:
        links.append((match.start(1), match.end(1), match[2]))
        before = match.start(1) - match.start()
        return " " * before + match[1] + " " * (match.end() - match.end(1))

    bare = _LINK.sub(words_only, text)
    plain = _MARKS.sub(lambda match: " " * len(match[0]), bare)
    return ReadText(plain, tuple(links), tuple(_sentences(text)))


def _sentences(text: str) -> Iterator[tuple[int, int]]:
    """Begin and end of every sentence; a heading, a list item and a paragraph never run into the next."""
    for start, end in _blocks(text):
        begin = start
        for stop in _STOP.finditer(text, start, end):
            if not _goes_on(text, stop, end):
                yield from _pieces(text, begin, stop.end())
                begin = stop.end()
        if text[begin:end].strip():
            yield from _pieces(text, begin, end)


def _pieces(text: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    """The sentence, or pieces of one that is longer than anybody writes."""
    while end - start > _LONGEST:
        cut = max(text.rfind(" ", start, start + _LONGEST), text.rfind("\n", start, start + _LONGEST)) + 1
        cut = cut if cut > start else start + _LONGEST
        if text[start:cut].strip():
            yield start, cut
        start = cut
    if text[start:end].strip():
        yield start, end


def _goes_on(text: str, stop: re.Match[str], end: int) -> bool:
    """True when a full stop only ends a short form, or a small letter follows it."""
    if stop.end() >= end or text[stop.start()] in "!?":
        return False
    last = re.search(r"[\w.]+$", text[max(0, stop.start() - 12) : stop.start()])
    return text[stop.end()].islower() or bool(last and last[0].lower() in _SHORT)


def _blocks(text: str) -> Iterator[tuple[int, int]]:
    """Headings, list items and paragraphs."""
    begin = position = 0
    for line in text.splitlines(keepends=True):
        heading = bool(_HEADING.match(line))
        if heading or not line.strip() or _ITEM.match(line):
            if text[begin:position].strip():
                yield begin, position
            begin = position
        position += len(line)
        if heading:
            yield begin, position
            begin = position
    if text[begin:].strip():
        yield begin, len(text)
