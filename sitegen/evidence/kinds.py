"""What a claim holds, and the chances that it speaks of; see ``sitegen.words.claims`` for the sentences."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sitegen.evidence.gathered import Reason
from sitegen.genetics.loci import WILD, Genotype, Locus, Sex
from sitegen.genetics.questions import AnimalId, Posterior


class ClaimKind(StrEnum):
    """What sort of statement a claim is, strongest first."""

    SHOWS = "shows"
    CARRIES = "carries"
    MAY_CARRY = "may carry"
    ONE_OR_TWO_COPIES = "one or two copies"
    TOO_YOUNG = "too young to tell"
    RULED_OUT = "ruled out"
    NOT_KNOWN = "not known"
    NO_CLAIM = "no claim"


class Basis(StrEnum):
    """What a claim rests on in the end."""

    OWN_RECORDS = "our own records"
    DNA_TEST = "DNA test"
    PROVEN_BY_YOUNG = "proven by young"
    PREVIOUS_KEEPER = "a previous keeper's word"
    TAKEN_FOR_GRANTED = "what is taken for granted"


class Settling(StrEnum):
    """What would make certain what is taken for granted."""

    LOOK = "a look at it"
    DNA_TEST = "a DNA test of it"
    PLAIN_YOUNG = "one young of its own without the allele"


@dataclass(frozen=True, slots=True)
class Taken:
    """An animal of which it is taken for granted that it has no more of an allele than is written of it.

    Attributes:
        animal: A founder; empty where a parent is not recorded.
        sex: The sex of the parent that is not recorded.
        young: The litter, or the animal, whose parent that is.
        one_copy: It shows the allele, and is taken as having one copy; else as not having it.
    """

    animal: AnimalId = ""
    sex: Sex = Sex.UNKNOWN
    young: str = ""
    one_copy: bool = False


@dataclass(frozen=True, slots=True)
class Condition:
    """What makes certain what no record proves.

    Attributes:
        taken: Of whom it must be so, nearest first: one animal, or two; empty where it takes more.
        of_copies: Only the number of copies hangs on it: that the animal has the allele, or its look, is certain.
        settled_by: The cheapest that would make it certain without a condition, and in whom; None where nothing would.
    """

    taken: tuple[Taken, ...] = ()
    of_copies: bool = False
    settled_by: tuple[Settling, AnimalId] | None = None


class Unjudged(StrEnum):
    """Why nobody has judged by eye whether an animal shows a locus."""

    TOO_YOUNG = "it is too young"
    WAS_TOO_YOUNG = "it was too young when it was judged"
    HIDDEN = "another look hides it"
    UNSURE = "it was not certain by eye"
    NOT_RECORDED = "nobody wrote down what it shows"


class Judging(StrEnum):
    """How far an animal of which no look is recorded was judged by eye."""

    NOT_DESCRIBED = "nobody wrote down what it shows"
    NOT_JUDGED = "nothing could be judged"
    TOO_YOUNG = "it was too young for everything"
    IN_PART = "some genes were judged"
    WHOLE = "every gene was judged"


@dataclass(frozen=True, slots=True)
class Claim:
    """One statement about one animal at one locus.

    Attributes:
        allele: The allele meant; empty where the look says it all.
        look: The look that is shown; empty when nothing is shown.
        chance: Of 1 = certain: of carrying (``may carry``), of having two copies (``one or two
            copies``), of showing it later (``too young to tell``); exactly 1 or 0 for the others.
        copies: Copies that no record leaves otherwise: 2, 1 or 0; -1 when there may be more or fewer.
        reasons: Decisive first.
        unjudged: Why the locus was not judged by eye; None when it was.
        hidden_by: The look that hides it, with ``unjudged`` hidden.
        hangs_on: The animals whose previous keeper's word the chance hangs on, nearest first.
        taken_as_one_copy: The animals whose copies are not known and are taken as one, where the
            chance hangs on that, nearest first.
        either: Mate and young, where the young proves that the animal or that mate has the allele, and neither is
            certain; the mate is empty where it is not recorded.
        condition: What is taken for granted where the answer is certain and the records alone leave more open; None
            where whatever is said to be certain is so in any case.
        surprise: The animal has it although nobody wrote so, because the evidence needs it: True where it had been
            judged, or something was stated of it, so that it is a discovery; False of one of which nothing was known.
        strained: What is taken for granted fits the evidence badly, so that no odds are told.
    """

    kind: ClaimKind
    animal: AnimalId
    species: str
    locus: str
    allele: str
    look: str
    chance: Fraction
    copies: int
    posterior: Posterior
    basis: Basis
    reasons: tuple[Reason, ...]
    unjudged: Unjudged | None = None
    hidden_by: str = ""
    hangs_on: tuple[AnimalId, ...] = ()
    taken_as_one_copy: tuple[AnimalId, ...] = ()
    either: tuple[AnimalId, AnimalId] | None = None
    condition: Condition | None = None
    strained: bool = False
    surprise: bool | None = None


_NONE = Fraction(0)


def chance_that(posterior: Posterior, holds: Callable[[Genotype], bool]) -> Fraction:
    """The chance of the genotypes for which ``holds`` is true."""
    chances = [chance for genotype, chance in posterior.items() if holds(genotype)]
    return sum(chances[1:], chances[0]) if chances else _NONE


def chance_of_copies(posterior: Posterior, allele: str, copies: int) -> Fraction:
    """The chance of having exactly that many copies of an allele."""
    return chance_that(posterior, lambda genotype: genotype.count(allele) == copies)


def chance_of_allele(posterior: Posterior, allele: str) -> Fraction:
    """The chance of having at least one copy of an allele."""
    return chance_that(posterior, lambda genotype: allele in genotype)


def chance_of_look(locus: Locus, posterior: Posterior, look: str) -> Fraction:
    """The chance of a genotype that shows the look."""
    return chance_that(posterior, lambda genotype: locus.shown.get(genotype) == look)


def chance_of_showing(locus: Locus, posterior: Posterior, allele: str) -> Fraction:
    """The chance that an allele shows (alone or with another) in an animal that is old enough to be judged."""
    visible = chance_that(posterior, lambda genotype: allele in genotype and genotype in locus.shown)
    return visible * locus.allele(allele).penetrance


def would_show(locus: Locus, posterior: Posterior, allele: str) -> bool:
    """True when the animal, with what it has for certain, would show something if it had the allele as well."""
    others = [other.id for other in locus.alleles if other.id != allele and chance_of_allele(posterior, other.id) == 1]
    beside = others or [WILD]
    return all(locus.genotype(other, allele) in locus.shown for other in beside)


def certain_copies(genotypes: Iterable[Genotype], allele: str) -> int:
    """The number of copies when it is the same in all of these genotypes, else -1."""
    counts = {genotype.count(allele) for genotype in genotypes}
    return counts.pop() if len(counts) == 1 else -1


def alleles_of(claim: Claim, locus: Locus) -> tuple[str, ...]:
    """The alleles that a claim says an animal has, may have or shows; none for what is ruled out or not claimed."""
    if claim.kind in (ClaimKind.RULED_OUT, ClaimKind.NOT_KNOWN, ClaimKind.NO_CLAIM):
        return ()
    if claim.allele:
        return (claim.allele,)
    return tuple(a.id for a in locus.alleles if any(a.id in genotype for genotype in claim.posterior))


def looks_with(locus: Locus, allele: str) -> frozenset[str]:
    """The looks in which an allele can be seen, alone or together with another; not those that are another's own."""
    shown = locus.shown
    own = {shown.get((allele, allele)), shown.get((WILD, allele))}
    one_copy = {look for genotype, look in shown.items() if genotype[0] == allele and genotype[1] in ("W", "Y")}
    others = {shown.get(pair) for a in locus.alleles for pair in ((a.id, a.id), (WILD, a.id))}
    together = {look for genotype, look in shown.items() if allele in genotype and look not in others}
    return frozenset(look for look in (*own, *one_copy, *together) if look)
