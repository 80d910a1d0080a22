"""The evidence of a collection, sorted by locus, each piece with its record."""

from collections.abc import Mapping
from dataclasses import dataclass

from sitegen.evidence.known import Ground, Reason
from sitegen.findings import Finding, Place
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Observation, Question
from sitegen.records.collection import Collection


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
class LocusEvidence:
    """All evidence at one locus.

    Attributes:
        species: Id of the species.
        question: What is asked of heredity.
        sources: Key of an observation or a tally to its record.
        founders: Founder to where its odds come from.
        own: Animal to what is known of it alone; an animal without such evidence is not in it.
    """

    species: str
    question: Question
    sources: Mapping[str, Source]
    founders: Mapping[AnimalId, Source]
    own: Mapping[AnimalId, tuple[Observation, ...]]


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
    """

    collection: Collection
    loci: Mapping[tuple[str, str], LocusEvidence]
    units: tuple[Unit, ...]
    young: Mapping[AnimalId, tuple[AnimalId, ...]]
    notices: tuple[Finding, ...] = ()
