"""What a posterior or a claim says of one allele: the chance of having or showing it, and in which looks it is seen."""

from collections.abc import Callable
from fractions import Fraction

from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import WILD, Genotype, Locus
from sitegen.genetics.questions import Posterior

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


def certain_copies(posterior: Posterior, allele: str) -> int:
    """The number of copies when it is certain, else -1."""
    counts = {genotype.count(allele) for genotype, chance in posterior.items() if chance}
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
