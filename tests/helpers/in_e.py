"""Whole polynomials in a small e, and limits of their ratios: the plain truth of what is answered in the limit."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from sitegen.genetics.loci import WILD, Genotype, Locus, Sex
from sitegen.genetics.questions import LinkedQuestion, Question


class InE:
    """A polynomial in e by the coefficient of each power that it has."""

    def __init__(self, terms: Mapping[int, Fraction]) -> None:
        self.terms = {power: term for power, term in terms.items() if term}

    def __bool__(self) -> bool:
        return bool(self.terms)

    def __add__(self, other: "InE | Fraction | int") -> "InE":
        more = other.terms if isinstance(other, InE) else {0: Fraction(other)}
        return InE({n: self.terms.get(n, 0) + more.get(n, 0) for n in {*self.terms, *more}})

    __radd__ = __add__

    def __mul__(self, other: "InE | Fraction | int") -> "InE":
        more = other.terms if isinstance(other, InE) else {0: Fraction(other)}
        found: dict[int, Fraction] = {}
        for n, term in self.terms.items():
            for m, by in more.items():
                found[n + m] = found.get(n + m, Fraction(0)) + term * by
        return InE(found)

    __rmul__ = __mul__


def limits(weights: Mapping) -> dict:
    """The ratios of some weights to their sum as e goes to 0, without those that vanish."""
    terms = {key: w.terms if isinstance(w, InE) else {0: w} for key, w in weights.items() if w}
    lowest = min(min(each) for each in terms.values())
    left = {key: each[lowest] for key, each in terms.items() if lowest in each}
    return {key: term / sum(left.values()) for key, term in left.items()}


def opened(asked: Question | LinkedQuestion) -> Question | LinkedQuestion:
    """The question with what nobody wrote in powers of e."""
    if isinstance(asked, LinkedQuestion):
        return replace(asked, questions=tuple(map(opened, asked.questions)))
    at = asked.locus
    usual = at.background or {sex: _unwritten(at, sex) for sex in Sex}
    priors: dict = dict(asked.priors)
    for founder, more in asked.left_open.items():
        priors[founder] = dict(priors[founder])
        for genotype, (copies, share) in more.items():
            priors[founder][genotype] = InE({copies: share}) + priors[founder].get(genotype, 0)
    return replace(asked, locus=replace(at, background=usual), priors=priors)


def _unwritten(at: Locus, sex: Sex) -> Mapping[Genotype, InE]:
    found = {}
    for genotype in at.genotypes(sex):
        named = [allele for allele in genotype if allele not in (WILD, "W", "Y")]
        found[genotype] = InE({len(named): Fraction(2 if genotype[0] != genotype[1] and at.copies(sex) == 2 else 1)})
    return found
