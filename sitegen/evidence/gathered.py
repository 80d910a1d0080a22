"""What evidence is: the vocabulary from a record that says something to the evidence of a whole collection."""

from collections import deque
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import DnaTest, Stated
from sitegen.findings import Finding, Place
from sitegen.genetics.loci import Genotype
from sitegen.genetics.pedigree import pedigree_of
from sitegen.genetics.questions import AnimalId, LeftOpen, LinkedQuestion, Member, Observation, Question


class Ground(StrEnum):
    """What a piece of evidence is."""

    SHOWS_ITSELF = "the animal shows it"
    SHOWS_NOT = "the animal was looked at and does not show it"
    DNA_TEST = "DNA test"
    STATED = "a previous keeper's statement"
    NOTHING_STATED = "nothing was stated, so it is taken as not carrying"
    BACKGROUND = "the usual odds of the species"
    DAM = "its dam"
    SIRE = "its sire"
    YOUNG = "its young"
    SIBLINGS = "its littermates"
    TAKEN_AS_ONE_COPY = "copies not known, taken as one"


@dataclass(frozen=True, slots=True)
class Reason:
    """One decisive piece of evidence behind an answer, decisive first.

    Attributes:
        animals: The animals it rests on (its dam, a young, a tested ancestor), nearest first.
        litter: The litter it rests on, or empty.
        detail: Facts for the sentence: ``laboratory``, ``date``, ``as_written``, ``count``, ``look``; of a parent
            ``alone ALLELE``, the chance of carrying it by the parents alone, where other relatives moved it.
    """

    ground: Ground
    animals: tuple[AnimalId, ...] = ()
    litter: str = ""
    places: tuple[Place, ...] = ()
    detail: tuple[tuple[str, str], ...] = ()


Odds = Mapping[Genotype, Fraction]
"""Genotype to a chance: a prior that sums to 1, or how likely something seen is under each genotype."""
AnyQuestion = Question | LinkedQuestion


@dataclass(frozen=True, slots=True)
class Source:
    """The record behind one piece of evidence; ``says`` is a clause, and ``detail`` has facts for a sentence.

    Attributes:
        animal, litter: Whom it is about: an animal, or young of a litter that are not listed; the other is empty.
        places: The record, the line that decides first.
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
    """Where a founder's odds come from; ``prior`` is None where the background of the species stands.

    ``left_open`` are the genotypes that the prior neither names nor rules out.
    """

    prior: Odds | None
    source: Source
    left_open: LeftOpen = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Said:
    """What the record of an animal says at one locus: its looks and tests, with the record of each in their order.

    ``odds`` are those of a founder, and where they come from; None if a parent is recorded.
    """

    observations: tuple[Observation, ...]
    sources: tuple[Source, ...]
    odds: FounderOdds | None


@dataclass(frozen=True, slots=True)
class LocusEvidence:
    """All evidence at one locus.

    Attributes:
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
class LocusGroup:
    """What is answered together: one locus, or the loci of one linked group."""

    species: str
    loci: tuple[str, ...]
    question: AnyQuestion


def questions_of(asked: AnyQuestion) -> tuple[Question, ...]:
    """The question of each locus."""
    return asked.questions if isinstance(asked, LinkedQuestion) else (asked,)


def family_of(asked: AnyQuestion, animal: AnimalId) -> tuple[AnimalId, ...]:
    """All animals that are connected to this one, in record order."""
    questions = questions_of(asked)
    pedigree = pedigree_of(questions[0].members, [tally for question in questions for tally in question.tallies])
    family = pedigree.families[pedigree.family_of[pedigree.position[animal]]]
    return tuple(pedigree.ids[number] for number in family)


@dataclass(frozen=True, slots=True)
class Evidence:
    """All evidence of a collection.

    Attributes:
        loci: (species, locus) to what is known there, in record order.
        units: What is asked, in record order.
        young: Animal to its listed young, every possible parent counted, in record order.
        notices: What was written and is not used.
        members: Species to its animals as members of one pedigree, in record order.
        unrecorded: Species to the members that stand for parents of which there is no record.
    """

    collection: Collection
    loci: Mapping[tuple[str, str], LocusEvidence]
    units: tuple[LocusGroup, ...]
    young: Mapping[AnimalId, tuple[AnimalId, ...]]
    notices: tuple[Finding, ...] = ()
    members: Mapping[str, tuple[Member, ...]] = field(default_factory=dict)
    unrecorded: Mapping[str, tuple[Member, ...]] = field(default_factory=dict)

    def units_of(self, species: str) -> tuple[LocusGroup, ...]:
        """What is asked about a species, in record order."""
        return tuple(unit for unit in self.units if unit.species == species)


def reached(starts: Iterable[AnimalId], further: Callable[[AnimalId], Iterable[AnimalId]]) -> Mapping[AnimalId, None]:
    """All animals that are reached from some by going further and further, themselves among them, nearest first."""
    found = dict.fromkeys(starts)
    waiting = deque(found)
    while waiting:
        for each in further(waiting.popleft()):
            if each not in found:
                found[each] = None
                waiting.append(each)
    return found


_UNRECORDED = "unrecorded "


def unrecorded(parent: str, of: str) -> AnimalId:
    """The name of the member that stands for the ``dam`` or ``sire`` of a litter or an animal that is not recorded."""
    return f"{_UNRECORDED}{parent} of {of}"


def is_unrecorded(animal: AnimalId) -> bool:
    """True of such a name, which no record can have."""
    return animal.startswith(_UNRECORDED)


def is_founder(animal: Animal) -> bool:
    """True when no parent is recorded."""
    return animal.dam is None and not animal.sires


def words_of(animal: Animal, locus: str) -> tuple[Stated, ...]:
    """What a previous keeper stated of the animal at a locus.

    Nothing for an animal with a recorded parent: its parents' own evidence counts, not what was stated of it.
    """
    return tuple(
        stated for genes in animal.genes for stated in genes.stated if stated.locus == locus and is_founder(animal)
    )


def has_word(animal: Animal, locus: str) -> bool:
    """True when a previous keeper stated odds of the animal at a locus, of its copies among them."""
    copies = (entry for genes in animal.genes for entry in genes.copies if entry.locus == locus)
    told = any(entry.two_copies is not None for entry in copies)
    return bool(words_of(animal, locus)) or (told and is_founder(animal))


def own_tests(animal: Animal, locus: str) -> tuple[DnaTest, ...]:
    """The DNA tests of the animal itself at a locus."""
    return tuple(test for genes in animal.genes for test in genes.tests if test.locus == locus)


def name_of(animal: Animal) -> str:
    """What a message calls an animal: its name, or number and litter."""
    return f"young {animal.number} of {animal.litter}" if animal.is_young else animal.name or animal.id
