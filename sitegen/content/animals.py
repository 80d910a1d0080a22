"""The record of one animal, whether it has a folder of its own or is listed in a litter."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sitegen.content.genes import Genes
from sitegen.content.values import Money, PartialDate, Weighing
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId


class OfferState(StrEnum):
    """Where an offer stands, in trade words."""

    AVAILABLE = "available"
    ON_HOLD = "on hold"
    SOLD = "sold"
    NOT_FOR_SALE = "not for sale"


@dataclass(frozen=True, slots=True)
class Offer:
    """An animal offered for sale. Buyer and paid price never stand here."""

    state: OfferState
    place: Place
    price: Money | None = None
    since: PartialDate | None = None
    ready: PartialDate | None = None


@dataclass(frozen=True, slots=True)
class Acquired:
    """When and from whom (in general words) an animal was acquired."""

    date: PartialDate | None
    source: str


@dataclass(frozen=True, slots=True)
class Meal:
    """A meal taken or refused."""

    date: PartialDate
    what: str
    taken: bool = True


@dataclass(frozen=True, slots=True)
class PhotoRecord:
    """A photograph beside a record. ``path`` is relative to the content folder and is never published."""

    path: str
    date: PartialDate | None
    caption: str = ""
    drawing: bool = False


@dataclass(frozen=True, slots=True)
class Animal:
    """One animal. A young of a litter that is not promoted is an animal too; its id is ``LITTER/YOUNG``.

    Attributes:
        id: Folder name, or ``LITTER/YOUNG``.
        name: As written; a young without a name has its number.
        dam: None when not recorded.
        sires: Possible sires with prior chances that sum to 1; empty when not recorded.
        litter: Id of the litter record it came from, or empty.
        number: Its key in that litter record, or empty.
        genes: Its evidence, one entry a record (a promoted young may have two).
        kept: The breeder keeps it.
        line, locality: Described, never predicted. Empty when not stated.
        about: Markdown.
        place: Its record.
        dam_place, sire_place: Where the parents are named.
    """

    id: AnimalId
    name: str
    species: str
    sex: Sex
    place: Place
    genes: tuple[Genes, ...]
    born: PartialDate | None = None
    died: PartialDate | None = None
    dam: AnimalId | None = None
    sires: tuple[tuple[AnimalId, Fraction], ...] = ()
    each_its_own_sire: bool = False
    litter: str = ""
    number: str = ""
    acquired: Acquired | None = None
    line: str = ""
    locality: str = ""
    weights: tuple[Weighing, ...] = ()
    meals: tuple[Meal, ...] = ()
    photos: tuple[PhotoRecord, ...] = ()
    offer: Offer | None = None
    kept: bool = False
    about: str = ""
    dam_place: Place | None = None
    sire_place: Place | None = None

    @property
    def is_young(self) -> bool:
        """True when it stands only in a litter record."""
        return "/" in self.id
