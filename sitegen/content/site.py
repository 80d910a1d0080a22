"""The record of the site itself, and its free pages."""

from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.values import WrittenAge
from sitegen.findings import Place

SAID_IN = ("en", "de")
"""Languages in which every word of the program is there; the catalogues stand in ``wording/locale``."""


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
class ReadyRules:
    """The site's own rules for when a young of its first year may leave; None for what it has no rule for.

    Common practice, no source: the usual rule is some recorded meals.
    """

    meals: int | None = None
    grams: int | None = None
    age: WrittenAge | None = None


@dataclass(frozen=True, slots=True)
class Site:
    """Settings of the whole site. ``address`` is its public address, ending in a slash, or empty.

    ``relatedness_limit`` is the highest inbreeding coefficient of young that the breeder accepts in a project that
    says nothing of it; None for no limit.
    """

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
    ready_when: ReadyRules = ReadyRules()
    relatedness_limit: Fraction | None = None


@dataclass(frozen=True, slots=True)
class FreePage:
    """A page in the breeder's own words, Markdown. ``id`` is the file name without its ending."""

    id: str
    title: str
    text: str
    place: Place
    order: int = 0
