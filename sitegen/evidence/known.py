"""What is known of each animal at each locus: the vocabulary between inference and claims."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from sitegen.findings import Finding, Place
from sitegen.genetics.questions import AnimalId, Posterior
from sitegen.genetics.relations import IfSire, Kin

Shares = tuple[IfSire[Mapping[str, Fraction]], ...]
"""Origin to its share of an animal's ancestry, given each sire on whom that hangs."""

Related = tuple[IfSire[Kin], ...]
"""How two parents are related, given each sire on whom that hangs."""


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
        ground: What it is.
        animals: The animals it rests on (its dam, a young, a tested ancestor), nearest first.
        litter: The litter it rests on, or empty.
        places: The records.
        detail: Facts for the sentence: ``laboratory``, ``date``, ``as_written``, ``count``, ``look``; of a parent
            ``alone ALLELE``, the chance of carrying it by the parents alone, where other relatives moved it.
    """

    ground: Ground
    animals: tuple[AnimalId, ...] = ()
    litter: str = ""
    places: tuple[Place, ...] = ()
    detail: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the chain that ``why`` prints: what was added and how the answer moved.

    Attributes:
        reason: What was added.
        before: The posterior without it; empty for the first step.
        after: The posterior with it.
        says: What the records say, as a clause.
    """

    reason: Reason
    before: Posterior
    after: Posterior
    says: str = ""


@dataclass(frozen=True, slots=True)
class Clash:
    """Records of one family that cannot all be true; none of them can be left out.

    Attributes:
        species: Id of the species.
        loci: The locus, or the linked group, that has no answer because of it.
        named: The loci that the records speak of.
        animals: The family that is left without an answer.
        records: Place of each record and what it says.
        assumed: Founders that are in it only because nothing was stated of them.
        unrecorded: It hangs on a parent that is not recorded being taken as usual for the species.
    """

    species: str
    loci: tuple[str, ...]
    named: tuple[str, ...]
    animals: tuple[AnimalId, ...]
    records: tuple[tuple[Place, str], ...]
    assumed: tuple[AnimalId, ...] = ()
    unrecorded: bool = False


@dataclass(frozen=True, slots=True)
class Knot:
    """Animals that are related in so many ways that an exact answer needs more memory than is allowed."""

    species: str
    loci: tuple[str, ...]
    animals: tuple[AnimalId, ...]


@dataclass(frozen=True, slots=True)
class Answers:
    """Everything inference has to say.

    Attributes:
        posteriors: Animal to locus to posterior; a locus that could not be answered for an animal's
            family is left out.
        inbreeding: Animal to Wright's coefficient.
        sires: Litter with several possible sires to the posterior of each; the same by young that may each
            have their own.
        contradictions, too_tangled: As findings, ready to be told.
        clashes, knots: The same as data, in the same order.
        notices: What is written and not used.
        localities, lines: Descendant to its expected share of each named locality or line, and under an
            empty name of what is not known, given each sire on whom it hangs; each sums to 1. Empty where it hangs on
            too many. Founders, and animals with no known share, are left out.
        relations: Animal to how its parents are related, given each sire on whom it hangs.
    """

    posteriors: Mapping[AnimalId, Mapping[str, Posterior]]
    inbreeding: Mapping[AnimalId, Fraction]
    sires: Mapping[str, Mapping[AnimalId, Fraction]]
    contradictions: tuple[Finding, ...]
    too_tangled: tuple[Finding, ...]
    clashes: tuple[Clash, ...] = ()
    knots: tuple[Knot, ...] = ()
    notices: tuple[Finding, ...] = ()
    localities: Mapping[AnimalId, Shares] = field(default_factory=dict)
    lines: Mapping[AnimalId, Shares] = field(default_factory=dict)
    relations: Mapping[AnimalId, Related] = field(default_factory=dict)
