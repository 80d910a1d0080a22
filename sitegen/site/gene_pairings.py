"""Small tables of what pairings at one gene give, worked out by the same heredity as everything else."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import combinations

from sitegen.genetics.crosses import Cross
from sitegen.genetics.gametes import Mode, mode_of_locus
from sitegen.genetics.loci import WILD, Genotype, Locus, Sex
from sitegen.site.gene_models import GivenGroup, GivenView, PairingRow, PairingTable
from sitegen.words.gene_pairings import (
    given_words,
    loss_words,
    none_live,
    of_one_allele,
    of_two_alleles,
    pair_words,
    parent_words,
    sex_heading,
)

_MOST_SERIES = 3
"""Pairs of alleles of a series that get a table of their own."""


def pairing_tables(locus: Locus) -> tuple[PairingTable, ...]:
    """What pairings at a locus give: a table for each allele alone, and one for two of a series together.

    None where the locus stands on both sex chromosomes: there it matters from which parent a copy came, and a table
    by copies would say what is not so.
    """
    if locus.sex_recombination is not None:
        return ()
    mode = mode_of_locus(locus)
    series = len(locus.alleles) > 1
    tables = [
        PairingTable(of_one_allele(allele.name) if series else "", tuple(_rows(mode, ({WILD, allele.id},))))
        for allele in locus.alleles
    ]
    for first, second in list(combinations(locus.alleles, 2))[:_MOST_SERIES]:
        both = ({first.id, second.id}, {WILD, first.id, second.id})
        tables.append(PairingTable(of_two_alleles(first.name, second.name), tuple(_rows(mode, both))))
    return tuple(table for table in tables if table.rows)


def _pairs(mode: Mode, alleles: Sequence[set[str]]) -> Iterator[tuple[int, int]]:
    """The pairs of states of a table; two parents without any copy are left out.

    With one set of alleles both parents have alleles of it; with two, theirs are of the second, and the pairing brings
    those of the first together.
    """
    blank = mode.loci[0].sex_system.blank
    states = [n for n in range(len(mode.states)) if mode.living[n]]

    def named(state: int) -> tuple[str, ...]:
        return tuple(a for a in mode.genotypes[state][0] if a != blank)

    dams = [n for n in states if mode.states[n].sex in (None, Sex.FEMALE)]
    sires = [n for n in states if mode.states[n].sex in (None, Sex.MALE)]
    for dam in dams:
        for sire in sires:
            if not mode.has_sex and sire < dam:
                continue
            held = {*named(dam), *named(sire)}
            if held == {WILD} or not held <= alleles[-1]:
                continue
            if len(alleles) > 1 and not _mixed(named(dam), named(sire), alleles[0]):
                continue
            yield dam, sire


def _mixed(dam: tuple[str, ...], sire: tuple[str, ...], both: set[str]) -> bool:
    """True for a pairing that brings two alleles of a series together, and is worth a row."""
    if not both <= {*dam, *sire}:
        return False
    compound = [parent for parent in (dam, sire) if both <= set(parent)]
    return bool(compound) or len({*dam}) == len({*sire})


def _rows(mode: Mode, alleles: Sequence[set[str]]) -> Iterator[PairingRow]:
    pairs = sorted(_pairs(mode, alleles), key=lambda pair: [-_copies(mode, state) for state in pair])
    for dam, sire in pairs:
        yield _row(mode, dam, sire, alone=len(alleles) == 1)


def _copies(mode: Mode, state: int) -> int:
    blank = mode.loci[0].sex_system.blank
    return sum(allele not in (WILD, blank) for allele in mode.genotypes[state][0])


def _row(mode: Mode, dam: int, sire: int, *, alone: bool) -> PairingRow:
    """One pairing, with all that its young can be; ``alone`` leaves out the name of the one allele in play."""
    locus = mode.loci[0]
    sexes = (Sex.FEMALE, Sex.MALE) if mode.has_sex else (Sex.UNKNOWN, Sex.UNKNOWN)
    ordered = (dam, sire) if mode.has_sex or _copies(mode, dam) >= _copies(mode, sire) else (sire, dam)
    first, second = (
        parent_words(locus, mode.genotypes[state][0], sex, alone=alone)
        for state, sex in zip(ordered, sexes, strict=True)
    )
    try:
        cross = Cross(mode, {(dam, sire): Fraction(1)})
    except ValueError:
        return PairingRow(pair_words(first, second, sexed=mode.has_sex), (), none_live())
    groups = tuple(
        GivenGroup(sex_heading(sex), tuple(_given(locus, odds, alone=alone))) for sex, odds in cross.young().items()
    )
    return PairingRow(pair_words(first, second, sexed=mode.has_sex), groups, loss_words(cross.living_share()))


def _given(locus: Locus, odds: Mapping[Genotype, Fraction], *, alone: bool) -> Iterator[GivenView]:
    """The genotypes of the young, those with most copies first."""
    blank = locus.sex_system.blank

    def copies(genotype: Genotype) -> int:
        return -sum(allele not in (WILD, blank) for allele in genotype)

    for genotype in sorted((found for found in odds if odds[found]), key=copies):
        yield GivenView(*given_words(locus, genotype, odds[genotype], alone=alone))
