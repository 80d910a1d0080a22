"""Models of the page of search: a plain list by name, which a script may narrow."""

from dataclasses import dataclass

from sitegen.site.parts import Line


@dataclass(frozen=True, slots=True)
class SearchEntry:
    """One thing that has a page: its name as a link, what it is, and what else it may be found by.

    ``find`` holds more words for the script to look in, in small letters; they are not printed.
    """

    name: Line
    kind: str
    about: str
    find: str


@dataclass(frozen=True, slots=True)
class SearchGroup:
    """The entries of one first letter, in order."""

    id: str
    letter: str
    entries: tuple[SearchEntry, ...]


@dataclass(frozen=True, slots=True)
class SearchPage:
    """Everything that has a page, by name. ``counted`` has the places ``{shown}`` and ``{all}``."""

    title: str
    intro: str
    field: str
    counted: str
    none: str
    groups: tuple[SearchGroup, ...]
