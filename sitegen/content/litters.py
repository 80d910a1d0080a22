"""The record of one litter or clutch."""

from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.animals import PhotoRecord
from sitegen.content.genes import Judged
from sitegen.content.values import PartialDate
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId


@dataclass(frozen=True, slots=True)
class Others:
    """Living young that are not listed one by one and look alike."""

    count: int
    judged: Judged
    sex: Sex
    place: Place


@dataclass(frozen=True, slots=True)
class Litter:
    """One litter or clutch.

    ``young`` holds the animal ids of the listed young in record order (a promoted one under its own
    id). ``eggs``, ``infertile`` and ``stillborn`` carry no genetic evidence. ``born`` None with
    ``paired`` set is a litter that is still expected.
    """

    id: str
    name: str
    species: str
    place: Place
    dam: AnimalId | None
    sires: tuple[tuple[AnimalId, Fraction], ...]
    young: tuple[AnimalId, ...] = ()
    others: tuple[Others, ...] = ()
    each_its_own_sire: bool = False
    paired: PartialDate | None = None
    laid: PartialDate | None = None
    born: PartialDate | None = None
    expected: PartialDate | None = None
    eggs: int | None = None
    infertile: int | None = None
    stillborn: int | None = None
    photos: tuple[PhotoRecord, ...] = ()
    about: str = ""
    dam_place: Place | None = None
    sire_place: Place | None = None
