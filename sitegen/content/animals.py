"""An animal, whether it has a folder of its own or is listed in a litter: how it is written, and its record."""

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from sitegen.content.declaration import AsWritten, ListOf, group_of, key_only, keyed
from sitegen.content.genes import DNA_TEST, Genes
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.prices import OFFER, Offer
from sitegen.content.values import (
    ANYTHING,
    DAY,
    KNOWN_DAY,
    NAME,
    SEX,
    TEXT,
    TEXT_BY_NAME,
    TEXTS,
    YES,
    PartialDate,
    Weighing,
)
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId

_NAMES_OR_ODDS = {"additionalProperties": {"type": ["string", "number"]}, "type": "object"}
SIRES = AsWritten({"oneOf": [{"type": "string"}, {"items": {"type": "string"}, "type": "array"}, _NAMES_OR_ODDS]})
"""One sire, a list of possible ones, or their odds by name."""
_STATED = AsWritten(
    {
        "additionalProperties": {"oneOf": [{"type": ["string", "number"]}, _NAMES_OR_ODDS]},
        "type": "object",
    }
)
_HAPLOTYPES = AsWritten({"items": TEXT_BY_NAME.json, "type": "array"})


@dataclass(frozen=True, slots=True)
class Acquired:
    """When and from whom an animal was acquired.

    From whom only in general words.
    """

    date: PartialDate | None = keyed(DAY, "When it came.")
    source: str = keyed(
        TEXT, "From whom, in general words; this is published, so write no name.", alias="from", prose=True
    )


@dataclass(frozen=True, slots=True)
class Meal:
    """A meal taken or refused."""

    date: PartialDate = keyed(KNOWN_DAY, "The day of the meal.", needed=True)
    what: str = keyed(NAME, "What was offered: pinky, fuzzy, adult mouse.", needed=True)
    taken: bool = keyed(YES, "false when it was refused.", usual=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class AnyAnimal:
    """What may be recorded of any animal, whether it has a record of its own or stands in a litter record."""

    name: str = keyed(TEXT, "What the animal is called.", prose=True)
    sex: Sex = keyed(SEX, "female, male or unknown.", usual=Sex.UNKNOWN)
    died: PartialDate | None = keyed(DAY, "When it died.")
    shows: ClassVar = key_only(
        TEXTS, "The looks that are seen; [] when it was looked at and shows none. Left out: not judged."
    )
    unsure: ClassVar = key_only(TEXTS, "Loci that were not judged, or all: nothing was judged but what shows names.")
    judged: ClassVar = key_only(DAY, "When it was judged, for looks that come with age.")
    stated: ClassVar = key_only(
        _STATED, "What a previous keeper stated: certain, a fraction, a percentage, or odds by genotype."
    )
    tests: ClassVar = key_only(ListOf(DNA_TEST), "DNA tests.")
    haplotypes: ClassVar = key_only(_HAPLOTYPES, "Known phase at linked loci, one line a chromosome: {locus: allele}.")
    copies: ClassVar = key_only(
        AsWritten({"type": "object"}), "For a dominant look: unknown, one, two, or {two: 1/3}, by allele."
    )
    markers: ClassVar = key_only(
        TEXTS, "Signs that some read as a hint of a hidden gene; they never change a number.", prose=True
    )
    line: str = keyed(TEXT, "The selectively bred line it belongs to.", prose=True)
    locality: str = keyed(TEXT, "Where its ancestors come from.", prose=True)
    weights: tuple[Weighing, ...] = keyed(TEXT_BY_NAME, "Weights by date: {2024-05-01: 310 g}.", usual=())
    meals: tuple[Meal, ...] = keyed(ListOf(group_of(Meal, "a meal")), "Meals taken and refused.")
    offer: Offer | None = keyed(OFFER, "What is asked for it, and where the offer stands.")
    kept: bool = keyed(YES, "true when it stays with the breeder.")
    captions: ClassVar = key_only(TEXT_BY_NAME, "A line of text by photo file name.", prose=True)
    about: str = keyed(TEXT, "Free text, Markdown.", prose=True)
    reviewed: ClassVar = key_only(
        TEXT_BY_NAME, "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: ClassVar = key_only(ANYTHING, "Anything that is never published.")


@dataclass(frozen=True, slots=True)
class WrittenYoung(AnyAnimal):
    """A young listed in a litter record."""

    born: ClassVar = key_only(DAY, "When it was born, when not on the litter's day.")


YOUNG = group_of(WrittenYoung, "a young", name="Young")


@dataclass(frozen=True, slots=True, kw_only=True)
class Animal(AnyAnimal):
    """An animal with a folder of its own: ``animals/ID/animal.yaml``.

    A young of a litter that is not promoted is an animal too; its id is ``LITTER/YOUNG``.

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

    species: str = keyed(NAME, "The species: the name of its file in species.", needed=True)
    born: PartialDate | None = keyed(DAY, "When it was born or hatched: 2021-07-14, 2021-07 or 2021.")
    dam: AnimalId | None = keyed(
        TEXT, "Its mother: an animal's folder or LITTER/YOUNG, when there is no litter record.", usual=None
    )
    sire: ClassVar = key_only(SIRES, "Its father, or the possible ones, as in a litter record.")
    from_litter: ClassVar = key_only(TEXT, "The litter record and number it came from: 2026-juniper-flint/02.")
    acquired: Acquired | None = keyed(group_of(Acquired, "acquired"), "When and from whom it was acquired.")
    id: AnimalId
    place: Place
    genes: tuple[Genes, ...]
    sires: tuple[tuple[AnimalId, Fraction], ...] = ()
    each_its_own_sire: bool = False
    litter: str = ""
    number: str = ""
    photos: tuple[PhotoRecord, ...] = ()
    dam_place: Place | None = None
    sire_place: Place | None = None

    @property
    def is_young(self) -> bool:
        """True when it stands only in a litter record."""
        return "/" in self.id


ANIMAL = group_of(Animal, "an animal's record")
