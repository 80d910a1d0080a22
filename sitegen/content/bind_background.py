"""Genotype odds of founders and of parents that are not recorded."""

from collections.abc import Mapping
from fractions import Fraction

from sitegen.content.gene_names import GeneNames
from sitegen.content.odds import check_sum, genotype_odds
from sitegen.content.report import At, Report
from sitegen.content.written.forms import as_text_map, is_blank
from sitegen.content.yaml_tree import Entries, Node
from sitegen.genetics.loci import Genotype, Locus, Sex

_SEXES = (Sex.FEMALE, Sex.MALE, Sex.UNKNOWN)


def background_by_locus(tree: Node | None, names: GeneNames, report: Report) -> dict[str, Node]:
    """The written background of each locus that has one."""
    if not isinstance(tree, Entries):
        as_text_map(tree, report)
        return {}
    found: dict[str, Node] = {}
    for key, node in tree.entries:
        locus = names.find_locus(At(key.text, key.place, key.width), report)
        if locus is not None and not is_blank(node):
            found[locus.id] = node
    return found


def background(
    locus: Locus, found: Node | None, names: GeneNames, report: Report
) -> Mapping[Sex, Mapping[Genotype, Fraction]]:
    """Odds of founders by sex; wild type where nothing is written."""
    wild: dict[Sex, Mapping[Genotype, Fraction]] = {sex: {locus.genotypes(sex)[0]: Fraction(1)} for sex in _SEXES}
    if found is None:
        return wild
    if not isinstance(found, Entries):
        as_text_map(found, report)
        return wild
    by_sex = {key.text: node for key, node in found.entries}
    if by_sex and set(by_sex) <= {"female", "male"}:
        odds = {
            Sex(sex): read
            for sex, node in by_sex.items()
            if isinstance(node, Entries) and (read := _summed(locus, node, names, report))
        }
        fit: dict[Sex, Mapping[Genotype, Fraction]] = {sex: _of_sex(locus, sex, read) for sex, read in odds.items()}
        two_copies = Sex.MALE if locus.copies(Sex.FEMALE) == 1 else Sex.FEMALE
        unknown = {Sex.UNKNOWN: fit[two_copies]} if two_copies in fit else {}
        return wild | fit | unknown
    read = genotype_odds(locus, found, names, report)
    return wild if read is None else {sex: _split(locus, sex, read, found, report) for sex in _SEXES}


def _summed(locus: Locus, node: Entries, names: GeneNames, report: Report) -> dict[Genotype, Fraction] | None:
    odds = genotype_odds(locus, node, names, report)
    return odds if odds is not None and check_sum(odds, node, report) else None


def _of_sex(locus: Locus, sex: Sex, odds: dict[Genotype, Fraction]) -> dict[Genotype, Fraction]:
    """Odds fit for a sex; two-copy genotypes written for the sex with one copy become allele shares."""
    return odds if set(odds) <= set(locus.genotypes(sex)) else _shares(locus, sex, odds)


def _split(
    locus: Locus, sex: Sex, odds: dict[Genotype, Fraction], node: Node, report: Report
) -> dict[Genotype, Fraction]:
    """The part of the odds that is meant for a sex, when both sexes are written in one group."""
    own = {genotype: chance for genotype, chance in odds.items() if genotype in locus.genotypes(sex)}
    other = {genotype: chance for genotype, chance in odds.items() if genotype not in own}
    if sex is Sex.UNKNOWN or own:
        told = Report() if sex is not Sex.FEMALE and not locus.sex_linked else report
        return own if check_sum(own, node, told) else {locus.genotypes(sex)[0]: Fraction(1)}
    return _shares(locus, sex, other)


def _shares(locus: Locus, sex: Sex, odds: Mapping[Genotype, Fraction]) -> dict[Genotype, Fraction]:
    """One copy drawn from two-copy genotypes."""
    shares: dict[Genotype, Fraction] = {}
    for genotype in locus.genotypes(sex):
        share = sum((chance * pair.count(genotype[0]) / 2 for pair, chance in odds.items()), Fraction(0))
        if share:
            shares[genotype] = share
    return shares
