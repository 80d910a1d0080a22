"""What is asked of heredity, and what it answers: the vocabulary between records and the network.

A :class:`Question` holds all that is known at one locus of one species, a :class:`LinkedQuestion` at one linked group.
:func:`sitegen.genetics.network.answer` turns it into exact posteriors.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Protocol

from sitegen.genetics.loci import Genotype, Linkage, Locus, Sex

AnimalId = str
"""An animal's folder name, or ``LITTER/YOUNG``."""


class Bred(Protocol):
    """Whoever has parents: an animal, a litter, a member of a pedigree, young that are counted."""

    @property
    def dam(self) -> AnimalId | None:
        """The mother, if she is recorded."""

    @property
    def sires(self) -> tuple[tuple[AnimalId, Fraction], ...]:
        """Every possible father with his chance; empty if none is recorded."""


def parents_of(young: Bred) -> tuple[AnimalId, ...]:
    """The recorded parents, the dam first, every possible sire among them."""
    sires = tuple([sire for sire, _ in young.sires])
    return (young.dam, *sires) if young.dam else sires


@dataclass(frozen=True, slots=True)
class Member:
    """One animal of the pedigree. ``sires`` holds the possible sires with their prior chances, summing to 1.

    No dam (or an empty ``sires``) means that the parent is not recorded: a separate founder of its own.
    ``litter`` groups the young that share one (possibly unknown which) sire; empty for none.
    ``recorded`` is False for one that stands for a parent of which there is no record.
    """

    id: AnimalId
    sex: Sex = Sex.UNKNOWN
    dam: AnimalId | None = None
    sires: tuple[tuple[AnimalId, Fraction], ...] = ()
    litter: str = ""
    each_its_own_sire: bool = False
    recorded: bool = True


@dataclass(frozen=True, slots=True)
class Observation:
    """How likely one piece of evidence about a member is under each genotype; what is left out is impossible.

    ``key`` names the record it came from; it is compared by identity of meaning, never merged.
    """

    member: AnimalId
    likelihood: Mapping[Genotype, Fraction]
    key: str


@dataclass(frozen=True, slots=True)
class Tally:
    """``count`` living young of a pair that are not listed one by one and all look alike."""

    dam: AnimalId | None
    sires: tuple[tuple[AnimalId, Fraction], ...]
    count: int
    likelihood: Mapping[Genotype, Fraction]
    key: str
    sex: Sex = Sex.UNKNOWN
    litter: str = ""
    each_its_own_sire: bool = False


Choice = tuple[str, str]
"""What a choice of sire belongs to: ("litter", id), ("young", id) or ("tally", key)."""


def choice_of(young: Member | Tally) -> Choice:
    """What the choice between several possible sires belongs to."""
    if young.litter and not young.each_its_own_sire:
        return "litter", young.litter
    return ("young", young.id) if isinstance(young, Member) else ("tally", f"{young.litter} {young.key}")


@dataclass(frozen=True, slots=True)
class Question:
    """Everything known at one locus.

    Attributes:
        members: Every animal of the species, in record order.
        priors: Stated genotype odds of founders, each summing to 1; a founder that is not in it has
            the locus's background.
        observations, tallies: Evidence about single members, in record order; about young that are not listed.
        left_open: Of founders with stated odds, the genotypes that these neither name nor rule out: how many copies
            nobody wrote each takes, and its share beside the odds. Of any other founder that is every genotype, unless
            the locus has a background.
        unnamed: Founder to the alleles of a series that no record of its family names: each takes one copy more than is
            written, so that no odds are told of it while anything else will do.
    """

    locus: Locus
    members: tuple[Member, ...]
    priors: Mapping[AnimalId, Mapping[Genotype, Fraction]]
    observations: tuple[Observation, ...]
    tallies: tuple[Tally, ...] = ()
    left_open: Mapping[AnimalId, "LeftOpen"] = field(default_factory=dict)
    unnamed: Mapping[AnimalId, frozenset[str]] = field(default_factory=dict)


LeftOpen = Mapping[Genotype, tuple[int, Fraction]]
"""Genotype to the copies that nobody wrote, and its share."""


@dataclass(frozen=True, slots=True)
class LinkedQuestion:
    """Everything known at the loci of one linked group.

    Attributes:
        linkage: Order of the loci and how often neighbours part.
        questions: One for each locus, in the order of the linkage, all with the same members. Tallies of the same young
            have the same ``key`` in each of them; a question may leave out a tally that was not judged there.
        phases: Known phase: member to its chromosomes (one or two lines of ``haplotypes``), each locus to
            allele; a locus that a line leaves out is open.
    """

    linkage: Linkage
    questions: tuple[Question, ...]
    phases: Mapping[AnimalId, tuple[Mapping[str, str], ...]] = field(default_factory=dict)


Posterior = Mapping[Genotype, Fraction]
"""Genotype to chance, without genotypes of chance 0; sums to exactly 1."""


@dataclass(frozen=True, slots=True)
class Impossible:
    """The evidence contradicts itself among these members: it has probability zero."""

    members: tuple[AnimalId, ...]


@dataclass(frozen=True, slots=True)
class TooTangled:
    """The tables would not fit the memory bound; the members of the largest one."""

    members: tuple[AnimalId, ...]
    entries: int
