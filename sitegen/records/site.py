"""The record of the site itself, and its free pages."""

from dataclasses import dataclass

from sitegen.findings import Place


@dataclass(frozen=True, slots=True)
class Contact:
    """How to reach the breeder; every part is optional and published as written."""

    email: str = ""
    phone: str = ""
    place: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Pictures:
    """How pictures are made. Widths in pixels; AVIF speed is Pillow's, 0 slow to 10 fast."""

    widths: tuple[int, ...] = (480, 960, 1440, 1920)
    avif_quality: int = 55
    avif_speed: int = 9
    jpeg_quality: int = 80


@dataclass(frozen=True, slots=True)
class Site:
    """Settings of the whole site. ``address`` is its public address, ending in a slash, or empty."""

    name: str
    place: Place
    address: str = ""
    tagline: str = ""
    language: str = "en"
    currency: str = ""
    units: str = "metric"
    theme: str = "field-notes"
    contact: Contact = Contact()
    cautions: tuple[str, ...] = ()
    drawings: str = ""
    pictures: Pictures = Pictures()
    about: str = ""


@dataclass(frozen=True, slots=True)
class FreePage:
    """A page in the breeder's own words, Markdown. ``id`` is the file name without its ending."""

    id: str
    title: str
    text: str
    place: Place
    order: int = 0
