"""Small tables of what pairings at one gene give, worked out by the same heredity as everything else."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from sitegen.genetics.crosses import Cross
from sitegen.genetics.gametes import Mode, mode_of_locus
from sitegen.genetics.loci import WILD, Genotype, Locus, Sex
from sitegen.words.inheritance import genotype_words, look_words
from sitegen.words.numbers import about_in_100, count_text, simple_fraction
from sitegen.words.speech import _, capital


@dataclass(frozen=True, slots=True)
class GivenView:
    """Of 100 young so many: the count, the exact fraction where the count is rounded, and what they have and show."""

    count: str
    exact: str
    what: str


@dataclass(frozen=True, slots=True)
class GivenGroup:
    """What the young of one sex are, or all of them; ``heading`` is empty where sex makes no difference."""

    heading: str
    given: tuple[GivenView, ...]


@dataclass(frozen=True, slots=True)
class PairingRow:
    """One pairing: the parents, what they give, and a note."""

    parents: str
    groups: tuple[GivenGroup, ...]
    note: str


@dataclass(frozen=True, slots=True)
class PairingTable:
    """Pairings with one gene in play; ``title`` is empty where there is one table only."""

    title: str
    rows: tuple[PairingRow, ...]


def _copies_words(locus: Locus, genotype: Genotype, *, alone: bool) -> str:
    """``one copy of motley``; without the name where one allele alone is in play."""
    if not alone:
        return genotype_words(locus, genotype)
    return (_("no copy"), _("one copy"), _("two copies"))[_n_copies(locus, genotype)]


def _parent_words(locus: Locus, genotype: Genotype, sex: Sex, *, alone: bool) -> str:
    """One parent by its copies, and by its sex where that matters: ``dam with one copy``, ``one copy of motley``."""
    copies = _copies_words(locus, genotype, alone=alone)
    named = {Sex.FEMALE: _("dam with {copies}"), Sex.MALE: _("sire with {copies}"), Sex.UNKNOWN: "{copies}"}[sex]
    return named.format(copies=copies)


def _pair_words(first: str, second: str, *, sexed: bool) -> str:
    """The two parents of a row; ``sexed`` where each is named by its sex."""
    if sexed:
        return capital(_("{first}; {second}").format(first=first, second=second))
    if first == second:
        return capital(_("{parent} in each").format(parent=first))
    return capital(_("{first} with {second}").format(first=first, second=second))


def _what(locus: Locus, genotype: Genotype, *, alone: bool) -> str:
    """What the young have, and what they show."""
    named = [allele for allele in genotype if allele not in (WILD, locus.sex_system.blank)]
    look = locus.shown.get(genotype)
    if not named:
        return _("no copy")
    copies = _copies_words(locus, genotype, alone=alone)
    if not look:
        return _("{copies}, carried unseen").format(copies=copies)
    sometimes = any(locus.allele(allele).penetrance != 1 for allele in named)
    told = _("{copies}: {look}, though it does not always show") if sometimes else _("{copies}: {look}")
    return told.format(copies=copies, look=look_words(locus, genotype))


def loss_words(living: Fraction) -> str:
    """That some young of a pairing do not live; empty when all do."""
    if living == 1:
        return ""
    lost = 1 - living
    exact = _exact_if_rounded(lost)
    brackets = f" ({exact})" if exact else ""
    told = _("About {count} in 100 of what is conceived{exact} does not live, so there are fewer young.")
    return told.format(count=count_text(about_in_100(lost)), exact=brackets)


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
    tables = []
    for allele in locus.alleles:
        title = _("{name} alone").format(name=capital(allele.name)) if series else ""
        tables.append(PairingTable(title, tuple(_rows(mode, ({WILD, allele.id},)))))
    for first, second in list(combinations(locus.alleles, 2))[:_MOST_SERIES]:
        title = _("{first} and {second} together").format(first=capital(first.name), second=second.name)
        both = ({first.id, second.id}, {WILD, first.id, second.id})
        tables.append(PairingTable(title, tuple(_rows(mode, both))))
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
    locus = mode.loci[0]

    def most_copies_first(pair: tuple[int, int]) -> list[int]:
        return [-_n_copies(locus, mode.genotypes[state][0]) for state in pair]

    pairs = sorted(_pairs(mode, alleles), key=most_copies_first)
    for dam, sire in pairs:
        yield _row(mode, dam, sire, alone=len(alleles) == 1)


def _n_copies(locus: Locus, genotype: Genotype) -> int:
    return sum(allele not in (WILD, locus.sex_system.blank) for allele in genotype)


def _row(mode: Mode, dam: int, sire: int, *, alone: bool) -> PairingRow:
    """One pairing, with all that its young can be; ``alone`` leaves out the name of the one allele in play."""
    locus = mode.loci[0]
    sexes = (Sex.FEMALE, Sex.MALE) if mode.has_sex else (Sex.UNKNOWN, Sex.UNKNOWN)
    genotypes = [mode.genotypes[state][0] for state in (dam, sire)]
    if not mode.has_sex:
        genotypes.sort(key=lambda genotype: -_n_copies(locus, genotype))
    parents = (_parent_words(locus, each, sex, alone=alone) for each, sex in zip(genotypes, sexes, strict=True))
    pair = _pair_words(*parents, sexed=mode.has_sex)
    try:
        cross = Cross(mode, {(dam, sire): Fraction(1)})
    except ValueError:
        return PairingRow(pair, (), _("no young of this pair live"))
    headings = {Sex.FEMALE: _("Of 100 daughters"), Sex.MALE: _("Of 100 sons"), Sex.UNKNOWN: ""}
    young = cross.young().items()
    groups = tuple(GivenGroup(headings[sex], tuple(_given(locus, odds, alone=alone))) for sex, odds in young)
    return PairingRow(pair, groups, loss_words(cross.living_share()))


def _given(locus: Locus, odds: Mapping[Genotype, Fraction], *, alone: bool) -> Iterator[GivenView]:
    """The genotypes of the young, those with most copies first."""
    for genotype in sorted((found for found in odds if odds[found]), key=lambda each: -_n_copies(locus, each)):
        chance = odds[genotype]
        count = count_text(about_in_100(chance))
        yield GivenView(count, _exact_if_rounded(chance), _what(locus, genotype, alone=alone))


def _exact_if_rounded(chance: Fraction) -> str:
    """The fraction where the count in 100 is rounded; else empty."""
    return simple_fraction(chance) if (chance * 100).denominator != 1 else ""
