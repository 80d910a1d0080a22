"""The evidence of a collection, sorted by locus, each piece with its record."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.content.collection import Collection
from sitegen.evidence.known import Ground, Reason
from sitegen.findings import Finding, Place
from sitegen.genetics.loci import Genotype
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Member, Observation, Question, Tally

Odds = Mapping[Genotype, Fraction]
Ages = tuple[int | None, ...]
"""For each of an animal's judgings, how old it was, see :func:`sitegen.evidence.judging.age_when_judged`."""


@dataclass(frozen=True, slots=True)
class Source:
    """The record behind one piece of evidence.

    Attributes:
        ground: What it is.
        animal: Whom it is about; empty for young that are not listed.
        places: The record, the line that decides first.
        says: What the record says, as a clause.
        litter: The litter of young that are not listed, else empty.
        detail: Facts for a sentence.
    """

    ground: Ground
    animal: AnimalId
    places: tuple[Place, ...]
    says: str
    litter: str = ""
    detail: tuple[tuple[str, str], ...] = ()

    def reason(self) -> Reason:
        """The piece of evidence as a reason."""
        return Reason(self.ground, (self.animal,) if self.animal else (), self.litter, self.places, self.detail)


@dataclass(frozen=True, slots=True)
class FounderOdds:
    """Where a founder's odds come from; ``prior`` is None where the background of the species stands."""

    prior: Odds | None
    source: Source


@dataclass(frozen=True, slots=True)
class Said:
    """What the record of an animal says at one locus.

    Attributes:
        observations: Its looks and tests.
        sources: The record of each of these, in their order.
        odds: The odds of a founder, and where they come from; None if a parent is recorded.
        has_word: True when a previous keeper's word about a founder is written, also where it has no effect.
    """

    observations: tuple[Observation, ...]
    sources: tuple[Source, ...]
    odds: FounderOdds | None
    has_word: bool


@dataclass(frozen=True, slots=True)
class Counted:
    """What is said of young that are not listed, at one locus."""

    tally: Tally
    source: Source


@dataclass(frozen=True, slots=True)
class LocusEvidence:
    """All evidence at one locus.

    Attributes:
        species: Id of the species.
        question: What is asked of heredity.
        sources: Key of an observation or a tally to its record.
        founders: Founder to where its odds come from.
        said: Animal to what its own record says, every animal of the species.
    """

    species: str
    question: Question
    sources: Mapping[str, Source]
    founders: Mapping[AnimalId, Source]
    said: Mapping[AnimalId, Said]


@dataclass(frozen=True, slots=True)
class Unit:
    """What is answered together: one locus, or the loci of one linked group."""

    species: str
    loci: tuple[str, ...]
    question: Question | LinkedQuestion


@dataclass(frozen=True, slots=True)
class Evidence:
    """All evidence of a collection.

    Attributes:
        collection: The records.
        loci: (species, locus) to what is known there, in record order.
        units: What is asked, in record order.
        young: Animal to its listed young, every possible parent counted, in record order.
        notices: What was written and is not used.
        members: Species to its animals as members of one pedigree, in record order.
    """

    collection: Collection
    loci: Mapping[tuple[str, str], LocusEvidence]
    units: tuple[Unit, ...]
    young: Mapping[AnimalId, tuple[AnimalId, ...]]
    notices: tuple[Finding, ...] = ()
    members: Mapping[str, tuple[Member, ...]] = field(default_factory=dict)

    def units_of(self, species: str) -> tuple[Unit, ...]:
        """What is asked about a species, in record order."""
        return tuple(unit for unit in self.units if unit.species == species)
