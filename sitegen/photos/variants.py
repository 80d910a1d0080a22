"""What pictures a photograph becomes, named before any of them is made. Pure: no file is touched."""

import hashlib
from dataclasses import dataclass
from datetime import date
from typing import Literal

Format = Literal["avif", "jpeg"]

RECIPE = 2
"""Raised by hand whenever ``encode`` would make other bytes from the same photo and settings."""

_ENDING: dict[Format, str] = {"avif": "avif", "jpeg": "jpg"}


@dataclass(frozen=True, slots=True)
class PictureSettings:
    """How pictures are made. Widths in pixels; AVIF speed 0 (slow) to 10 (fast); qualities 1 to 100."""

    widths: tuple[int, ...] = (480, 640, 960, 1440, 1920)
    avif_quality: int = 55
    avif_speed: int = 9
    jpeg_quality: int = 80


@dataclass(frozen=True, slots=True)
class PhotoFacts:
    """What is known of one readable photograph.

    Attributes:
        content_hash: SHA-256 of the file's bytes, 64 hexadecimal digits.
        format: What the bytes are (``jpeg``, ``png``, ...), whatever the file is called.
        width_px, height_px: As it is looked at, its orientation mark applied.
        taken: The day on which the camera says it was taken.
            placeholder_data: A picture of at most 16 by 16 pixels as a ``data:`` address.
    """

    content_hash: str
    format: str
    width_px: int
    height_px: int
    taken: date | None
    placeholder_data: str


@dataclass(frozen=True, slots=True)
class Variant:
    """One picture file: its format, its size, and its name below the site's root (``pictures/...``)."""

    format: Format
    width_px: int
    height_px: int
    file_name: str

    @property
    def media_type(self) -> str:
        """The registered media type, for ``<source type>``."""
        return f"image/{self.format}"


@dataclass(frozen=True, slots=True)
class PictureSet:
    """All pictures of one photograph, planned; nothing in it tells the photo's file name or place.

    Attributes:
        key: Names content and settings together.
        width_px, height_px: Of the largest picture.
        variants: AVIF narrow to wide, then JPEG narrow to wide.
        taken, placeholder_data: As of the photograph.
    """

    key: str
    width_px: int
    height_px: int
    taken: date | None
    variants: tuple[Variant, ...]
    placeholder_data: str

    def of_format(self, wanted: Format) -> tuple[Variant, ...]:
        """The variants of one format, narrow to wide."""
        return tuple(variant for variant in self.variants if variant.format == wanted)

    def fallback(self, at_most_px: int = 960) -> Variant:
        """The JPEG for ``src``: the widest that is not wider than ``at_most_px``, else the narrowest."""
        fitting = [v for v in self.of_format("jpeg") if v.width_px <= at_most_px]
        return fitting[-1] if fitting else self.of_format("jpeg")[0]


def widths_of(original_px: int, wanted: tuple[int, ...]) -> tuple[int, ...]:
    """Widths to make, narrow to wide: the wanted ones as far as the original goes, never wider than it.

    An original narrower than the widest wanted also gets its own width, so that nothing it shows is lost; a
    wanted width within a tenth of its own is then left out.

    >>> widths_of(4032, (480, 640, 960, 1440, 1920))
    (480, 640, 960, 1440, 1920)
    >>> widths_of(1000, (480, 640, 960, 1440, 1920))
    (480, 640, 1000)
    >>> widths_of(300, (480, 640, 960, 1440, 1920))
    (300,)
    """
    steps = sorted(set(wanted))
    if original_px >= steps[-1]:
        return tuple(steps)
    return (*(step for step in steps if step * 11 <= original_px * 10), original_px)


def height_at(width_px: int, original_width_px: int, original_height_px: int) -> int:
    """Height of the picture made ``width_px`` wide, to the nearest pixel and at least 1."""
    return max(1, (2 * original_height_px * width_px + original_width_px) // (2 * original_width_px))


def plan(facts: PhotoFacts, settings: PictureSettings) -> PictureSet:
    """The pictures of a photograph, complete with names and sizes."""
    key = _key(facts.content_hash, settings)
    sizes = [
        (width, height_at(width, facts.width_px, facts.height_px))
        for width in widths_of(facts.width_px, settings.widths)
    ]
    formats: tuple[Format, ...] = ("avif", "jpeg")
    variants = tuple(
        Variant(format, width, height, f"pictures/{key}-{width}.{_ENDING[format]}")
        for format in formats
        for width, height in sizes
    )
    return PictureSet(
        key=key,
        width_px=sizes[-1][0],
        height_px=sizes[-1][1],
        taken=facts.taken,
        variants=variants,
        placeholder_data=facts.placeholder_data,
    )


def _key(content_hash: str, settings: PictureSettings) -> str:
    """24 hexadecimal digits for content, settings and recipe; the widths count, since each is made from the next."""
    widths = ",".join(str(width) for width in sorted(set(settings.widths)))
    told = f"{RECIPE}|{content_hash}|{widths}|{settings.avif_quality}|{settings.avif_speed}|{settings.jpeg_quality}"
    return hashlib.sha256(told.encode("ascii")).hexdigest()[:24]
