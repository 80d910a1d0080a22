"""The parts that page models are made of: plain frozen values, links already resolved.

A template sees these and nothing else. Nothing here computes.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from sitegen.words.labels import Labels

VERSION = 3
"""Version of the page models; a theme states in its theme.yaml which one it was written for."""


@dataclass(frozen=True, slots=True)
class Span:
    """Words, and where they lead; ``href`` is empty for plain words."""

    text: str
    href: str = ""


Line = tuple[Span, ...]
"""A sentence or a label, ready to print."""


@dataclass(frozen=True, slots=True)
class Prose:
    """Text in the breeder's own words, Markdown. Links without a scheme in it are addresses from the site's root.

    ``source`` is the address of the page it is printed on, for such links; ``rooted`` as in ``Linker``;
    ``moved`` holds addresses that lead elsewhere.
    """

    text: str
    source: str
    rooted: str | None = None
    moved: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PictureSource:
    """The files of one format, as a ``srcset``."""

    type: str
    srcset: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture in all its sizes. The last source's format is the one of ``src``, which every browser reads."""

    sources: tuple[PictureSource, ...]
    src: str
    width: int
    height: int
    alt: str
    tall: bool
    src_width: int
    src_height: int
    placeholder: str = ""


@dataclass(frozen=True, slots=True)
class Moving:
    """A video whose still picture stands there until it is played; ``words`` tell its length, size and sound."""

    src: str
    poster: str
    words: str
    captions: str
    language: str


@dataclass(frozen=True, slots=True)
class Plate:
    """A picture with what is written under it; without one ``unseen`` says so. A plate that leads on shows no video."""

    picture: Picture | None
    caption: Line
    note: str = ""
    href: str = ""
    drawing: bool = False
    unseen: str = ""
    video: Moving | None = None


@dataclass(frozen=True, slots=True)
class LabelRow:
    """One ruled line of a label: what it is, and what stands there."""

    label: str
    value: Line


@dataclass(frozen=True, slots=True)
class IconArray:
    """A picture of ``filled`` out of 100, with its text alternatives.

    ``filled`` may be 0 or 100 only when the chance is exactly that.
    """

    filled: int
    title: str
    description: str


@dataclass(frozen=True, slots=True)
class Point:
    """One weighing: days since the first one, grams, and how the two are written."""

    day: int
    grams: int
    date: str
    weight: str


@dataclass(frozen=True, slots=True)
class WeightLine:
    """Weighings in time order, for a table and a small line.

    ``breeding`` is the weight in grams below which such an animal should not be bred, and ``breeding_words`` says so;
    0 and empty where the species has none.
    """

    points: tuple[Point, ...]
    title: str
    description: str
    breeding: int = 0
    breeding_words: str = ""


@dataclass(frozen=True, slots=True)
class StairView:
    """One step: its sentence, pictures of whom it tells, and the chance in hundredths, as number and as written."""

    line: Line
    pictures: tuple[Picture, ...]
    height: int
    count: str


@dataclass(frozen=True, slots=True)
class Staircase:
    """How a chance came about: what is counted, the steps in time order, and how they were found."""

    title: str
    steps: tuple[StairView, ...]
    note: str


@dataclass(frozen=True, slots=True)
class ClaimView:
    """One claim in words, with its picture of the odds where there are odds.

    ``kind`` is a word of ``ClaimKind`` for grouping and for the style sheet; the meaning is all in the words.
    ``stairs`` stand on the animal's own page.
    """

    kind: str
    gene: Line
    headline: Line
    explanation: tuple[Line, ...]
    basis: Line
    odds: IconArray | None
    stairs: Staircase | None = None


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution: its heading, and its sentences. Where ``short`` is said of it, these may fold beside an offer."""

    title: str
    lines: tuple[Line, ...]
    short: Line = ()


@dataclass(frozen=True, slots=True)
class OfferView:
    """An offer: its state in words, the price as written in the site's language.

    ``open`` is True while the animal can still be had: available or on hold. ``waits`` says, in a
    list, that it lacks something by the site's rules before it can go; ``ready`` says what. ``goes`` says from when one
    that is available can go, in a few words.
    """

    state: str
    label: str
    price: str
    since: str
    ready: str
    open: bool
    waits: str = ""
    goes: str = ""


@dataclass(frozen=True, slots=True)
class AnimalEntry:
    """An animal as it stands in a list: a plate, its label line, its offer; ``kept`` says that it stays here.

    ``odds`` draws the highest of its chances of a hidden gene that is not certain, told by ``odds_words``; ``found_by``
    is data for the script that narrows the list.
    """

    id: str
    name: str
    href: str
    plate: Plate
    species: str
    line: Line
    offer: OfferView | None
    origin: Line = ()
    kept: str = ""
    odds: IconArray | None = None
    odds_words: str = ""
    found_by: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class SpeciesGroup:
    """The entries of one species."""

    id: str
    name: str
    scientific: str
    href: str
    entries: tuple[AnimalEntry, ...]
    count: str = ""


@dataclass(frozen=True, slots=True)
class LitterRow:
    """A litter as it stands in the ledger."""

    href: str
    name: str
    date: str
    dam: Line
    sires: Line
    species: str
    state: str
    offered: str
    plate: Plate


@dataclass(frozen=True, slots=True)
class YearGroup:
    """The litters of one season; ``href`` leads to its page, empty for those without a date."""

    year: str
    rows: tuple[LitterRow, ...]
    href: str = ""


@dataclass(frozen=True, slots=True)
class NavItem:
    """One entry of the navigation."""

    text: str
    href: str
    here: bool


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around every page."""

    site_name: str
    tagline: str
    language: str
    home: str
    nav: tuple[NavItem, ...]
    more: tuple[NavItem, ...]
    contact: tuple[LabelRow, ...]
    contact_note: str
    drawings: str
    evidence: str
    method: str
    data: str
    root: str
    labels: Labels


@dataclass(frozen=True, slots=True)
class SocialCard:
    """Open Graph facts; only made when the site has a public address."""

    title: str
    type: str
    url: str
    image: str = ""
    image_alt: str = ""
    image_width: int = 0
    image_height: int = 0


@dataclass(frozen=True, slots=True)
class FeedLink:
    """A feed that goes with a page: its title, where it stands, and what a link on the page calls it."""

    title: str
    href: str
    words: str


@dataclass(frozen=True, slots=True)
class Head:
    """What a page says about itself to machines. ``structured`` is JSON-LD text, or empty."""

    title: str
    description: str
    canonical: str = ""
    card: SocialCard | None = None
    structured: str = ""
    robots: str = ""
    feeds: tuple[FeedLink, ...] = ()


@dataclass(frozen=True, slots=True)
class Page:
    """One page: where it stands, which template makes it, and all that the template can see.

    ``record`` names the record the page comes from, for error messages. ``changed`` is a date in W3C form
    for the sitemap, or empty.
    """

    address: str
    template: str
    frame: Frame
    head: Head
    content: object
    record: str = ""
    changed: str = ""
    listed: bool = True


def words(text: str, href: str = "") -> Line:
    """A line of one run; an empty line for empty words."""
    return (Span(text, href),) if text else ()


def text_of(line: Line) -> str:
    """The words of a line alone."""
    return "".join(span.text for span in line)
