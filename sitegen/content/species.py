"""The record of a species."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sitegen.findings import Place
from sitegen.genetics.loci import Genome, Sex


class Births(StrEnum):
    """Eggs or live young; the words clutch and litter, hatched and born follow from it."""

    EGGS = "eggs"
    LIVE = "live"


@dataclass(frozen=True, slots=True)
class LitterSize:
    """Living young in a litter: low, usual, high."""

    low: int
    usual: int
    high: int


@dataclass(frozen=True, slots=True)
class BreedingSeason:
    """The usual months of pairing and of birth, 1 to 12."""

    paired: int
    born: int


@dataclass(frozen=True, slots=True)
class Species:
    """One species of the collection.

    ``breeding_age_months`` and ``breeding_weight_grams`` are by sex; a sex that is missing has no bound.
    ``gene_places`` tells where each locus stands in the species file. ``rest`` is the number of seasons a dam rests
    after a litter, ``takes`` the share of pairings that give one.
    """

    id: str
    name: str
    scientific: str
    births: Births
    litter_size: LitterSize
    litters_a_year: int
    breeding_age_months: Mapping[Sex, int]
    breeding_weight_grams: Mapping[Sex, int]
    genome: Genome
    place: Place
    gene_places: Mapping[str, Place]
    about: str = ""
    cautions: tuple[str, ...] = ()
    breeding_season: BreedingSeason | None = None
    rest: int = 0
    takes: Fraction = Fraction(1)
