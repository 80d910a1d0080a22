"""Texts in the breeder's own words, each with its place, and those a breeder has marked as reviewed."""

from dataclasses import dataclass
from enum import StrEnum

from sitegen.findings import Place


class Of(StrEnum):
    """What sort of record a text belongs to, and so whom it speaks of when it names nobody."""

    ANIMAL = "animal"
    LITTER = "litter"
    PROJECT = "project"
    SITE = "site"


@dataclass(frozen=True, slots=True)
class FreeText:
    """A text that is published as written.

    Attributes:
        of: What sort of record it belongs to; a free page or a species to the site, a note to its project.
        id: The id of the animal, litter or project; empty for the site.
        key: The key it stands under (``name``, ``about``, ``captions``), or ``page`` or ``update``.
        text: As it was read.
        place: Where the value begins in its file.
    """

    of: Of
    id: str
    key: str
    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class Review:
    """``reviewed: {"66% het hypo": reason}``: words that stay as they are although the audit asks about them."""

    words: str
    reason: str
    place: Place
    width: int = 0
