"""The models of the journal's pages, of the pages of photographs, and of feeds."""

import datetime as dt
from dataclasses import dataclass

from sitegen.site.parts import Line, NavItem, Picture, Plate, Prose
from sitegen.words.journal import JournalWords


@dataclass(frozen=True, slots=True)
class JournalEntry:
    """One note: its day, what kind it is, and what is told of it. ``text`` is the beginning of a longer text."""

    id: str
    date: str
    kind: str
    title: Line
    lines: tuple[Line, ...]
    text: str
    plate: Plate | None


@dataclass(frozen=True, slots=True)
class JournalMonth:
    """The notes of one month, newest first."""

    title: str
    entries: tuple[JournalEntry, ...]


@dataclass(frozen=True, slots=True)
class JournalPage:
    """The journal, or one year of it. ``years`` is empty when all of it stands on one page.

    ``nothing`` stands where ``months`` is empty, and is empty otherwise.
    """

    words: JournalWords
    months: tuple[JournalMonth, ...]
    nothing: str
    years: tuple[NavItem, ...]
    feed: Line


@dataclass(frozen=True, slots=True)
class FullPlate:
    """A photograph in full size: an anchor, the plate, the address of the largest file."""

    id: str
    plate: Plate
    file: Line


@dataclass(frozen=True, slots=True)
class PlatesPage:
    """All photographs of one animal in full size, oldest first."""

    name: str
    kicker: Line
    intro: str
    back: Line
    plates: tuple[FullPlate, ...]


@dataclass(frozen=True, slots=True)
class FeedEntry:
    """One entry of a feed. Links in its lines, text and picture are public addresses.

    Attributes:
        id: A name that stays, as an IRI.
        updated, published: Days, from the records.
        href: Address of the page, from the site's root, with its fragment.
    """

    id: str
    title: str
    updated: dt.date
    published: dt.date
    href: str
    lines: tuple[Line, ...]
    text: Prose | None = None
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Feed:
    """A feed.

    Attributes:
        address: Where it stands, from the site's root.
        page: The address of the page that tells the same to people.
        site: The public address of the site.
    """

    address: str
    id: str
    title: str
    subtitle: str
    author: str
    language: str
    site: str
    page: str
    updated: dt.date
    entries: tuple[FeedEntry, ...]
