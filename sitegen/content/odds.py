"""Odds as a breeder writes them: by name, summing to one."""

from collections.abc import Mapping
from fractions import Fraction
from typing import TypeVar

from sitegen.content.gene_names import GeneNames
from sitegen.content.report import At, Report
from sitegen.content.yaml_tree import Entries, Node, Scalar
from sitegen.exact import meant_chance, parse_fraction, written
from sitegen.findings import Kind
from sitegen.genetics.loci import Genotype, Locus

T = TypeVar("T")


def chance_of(node: Node, report: Report) -> Fraction | None:
    """The chance written in one place; None, and a finding, when it is none."""
    chance = parse_fraction(node.text) if isinstance(node, Scalar) else None
    if chance is None or chance > 1:
        near = meant_chance(node.text) if isinstance(node, Scalar) else ""
        report.error(
            Kind.ODDS_WRONG,
            node,
            f'"{node.text}" is not a chance' if isinstance(node, Scalar) else "a chance was expected here",
            expected="a fraction from 0 to 1, such as 1/4, 0.25 or 25%",
            nearest=near,
            remedy=f"write {near}" if near else "write it as a fraction or a percentage",
        )
        return None
    return chance


def check_sum(odds: Mapping[T, Fraction], node: Node, report: Report) -> bool:
    """True when the odds sum to exactly 1; else a finding says what they sum to."""
    total = sum(odds.values(), Fraction(0))
    if total != 1:
        report.error(
            Kind.ODDS_WRONG,
            node,
            f"these odds sum to {written(total)}",
            expected="odds that sum to exactly 1",
            remedy="write thirds as fractions (1/3), and add what is missing",
        )
    return total == 1


def genotype_odds(locus: Locus, node: Entries, names: GeneNames, report: Report) -> dict[Genotype, Fraction] | None:
    """Genotype to chance, in genotype order and without chances of 0; None, and findings, when something is wrong."""
    odds: dict[Genotype, Fraction] = {}
    sound = True
    for key, value in node.entries:
        genotype = names.find_genotype(locus, At(key.text, key.place, key.width), report)
        chance = chance_of(value, report)
        if genotype is None or chance is None:
            sound = False
        elif genotype in odds:
            sound = False
            report.error(
                Kind.KEY_TWICE,
                key,
                f'"{key.text}" is a genotype that stands here already, its alleles in another order',
                expected="each genotype once",
                remedy="put the two together",
            )
        else:
            odds[genotype] = chance
    return {genotype: chance for genotype, chance in odds.items() if chance} if sound else None
