"""A text as it is seen, cut into sentences."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.words.audit.seen import seen

_STOP = re.compile(r"[.!?…]+[\"'”’)*_]*\s+")
_BLOCK = re.compile(r"\S(?:.|\n(?!\s*\n))*")
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
        plain: What a reader sees of it.
        spans: For each sign of ``plain``, begin and end in the text as written.
        links: Begin, end and address of each link's words.
        sentences: Begin and end of each.
    """

    plain: str
    spans: tuple[tuple[int, int], ...]
    links: tuple[tuple[int, int, str], ...]
    sentences: tuple[tuple[int, int], ...]

    def written(self, start: int, end: int) -> tuple[int, int]:
        """Where ``plain[start:end]`` begins and ends in the text as written."""
        return self.spans[start][0], self.spans[end - 1][1]


def read_text(text: str, *, struck: bool = False) -> ReadText:
    """The text ready for reading; ``struck`` as of :func:`seen`."""
    looks = seen(text, struck=struck)
    return ReadText(looks.text, looks.spans, looks.links, tuple(_sentences(looks.text)))


def _sentences(text: str) -> Iterator[tuple[int, int]]:
    """Begin and end of every sentence; a heading, a list item and a paragraph never run into the next."""
    for block in _BLOCK.finditer(text):
        begin, end = block.span()
        for stop in _STOP.finditer(text, begin, end):
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
