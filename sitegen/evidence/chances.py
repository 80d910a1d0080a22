"""Chances that a claim speaks of, summed from a posterior."""

from collections.abc import Callable
from fractions import Fraction

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
