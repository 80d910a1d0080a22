"""Finds what a breeder means by the name of a gene: looks, alleles, loci, genotypes, and odds of genotypes."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from sitegen.content.report import At, Report
from sitegen.content.yaml_tree import Entries, Node, Scalar
from sitegen.exact import meant_chance, parse_carried, parse_fraction, written
from sitegen.findings import Kind, nearest
from sitegen.genetics.loci import WILD, Genome, Genotype, Inheritance, Locus, Look, look_id

T = TypeVar("T")

SAW_NONE = frozenset({"normal", "none", "nothing", "wild-type", "wildtype"})
"""How it is said that an animal was looked at and shows no gene; as ids. No gene may be called so."""
_CARRIED = re.compile(
    r"(?:^|[\s-])(?:(?P<chance>\d[\d./]*\s?%?)[\s-]+)?(?P<doubt>poss(?:ible)?\.?[\s-]+)?(?:het|hets|heterozygous|ph|dh)"
    r"(?:[\s-]+(?:for\s+)?(?P<gene>.*))?$",
    re.IGNORECASE,
)
"""What is said to be carried unseen. Source: common practice, no source."""
_LONGEST_NAME = 6
"""Words of the longest name that is looked for among several."""


@dataclass(frozen=True, slots=True)
class GeneNames:
    """Every accepted spelling of one species, as an id (lower case, hyphens for spaces).

    Attributes:
        species, file: What the species is called, and its file, for messages.
        looks: Spelling to the looks it can mean, one group a meaning; a combination has several looks.
        alleles: Spelling to (locus id, allele id).
        loci: Spelling to locus id.
        broken: Ids of loci that could not be read; a reference to one is no second fault.
    """

    species: str
    file: str
    looks: Mapping[str, tuple[Look, ...]]
    alleles: Mapping[str, tuple[str, str]]
    loci: Mapping[str, str]
    by_locus: Mapping[str, Locus]
    broken: frozenset[str] = frozenset()

    def find_looks(self, written: At[str], report: Report) -> tuple[Look, ...] | None:
        """The looks meant, a combination name as its parts; None, and a finding, when there are none."""
        found = self.looks.get(look_id(written.value)) or self._compound(written.value)
        if found is None:
            known = tuple(self.looks)
            if locus := self.loci.get(look_id(written.value)):
                known = tuple(look.id for look in self.by_locus[locus].looks)
                near = known[0] if len(known) == 1 else ""
                what = f'"{written.value}" is a locus of {self.species}, not a look'
                expected = f"one of {', '.join(known)}" if known else "a gene that shows"
                self._tell(written, report, what, expected, near, "name the look that is seen")
            elif not any(tell(written, report) for tell in (self._tell_carried, self._tell_super, self._tell_several)):
                near = nearest(written.value, known)
                what = f'{self.species} has no look "{written.value}"'
                self._tell(written, report, what, f"a look of {self.species} ({self._count()})", near)
        return found

    def _tell_carried(self, written: At[str], report: Report) -> bool:
        """Tells what stands among looks and is said to be carried unseen: where it belongs."""
        match = _CARRIED.search(written.value)
        if match is None:
            return False
        allele = self.alleles.get(look_id(match["gene"] or ""))
        gene, said = allele[1] if allele else match["gene"] or "amel", (match["chance"] or "").strip()
        chance = said if parse_carried(said) else "50%" if match["doubt"] or said else "certain"
        as_told = "" if chance in (said, "certain") else ", with the chance that was told"
        self._tell(
            written,
            report,
            f'"{written.value}" is no look: het says what is carried unseen',
            f"a look of {self.species} ({self._count()})",
            "",
            f"write it under stated if a previous keeper told you (stated: {{{gene}: {chance}}}{as_told}); "
            "leave it out if its own parents here prove it",
        )
        return True

    def _tell_super(self, written: At[str], report: Report) -> bool:
        """Tells "super" before a gene whose two copies have no look of their own."""
        first, _, gene = look_id(written.value).partition("-")
        if first != "super" or gene not in self.alleles:
            return False
        locus, allele = self.alleles[gene]
        meant = self.by_locus[locus].allele(allele)
        known = meant.inheritance is Inheritance.DOMINANT and not meant.two_copies_lethal
        copies = f"; if its two copies were told you, write them under stated: {{{locus}: {{{allele}/{allele}: 1}}}}"
        self._tell(
            written,
            report,
            f'"{written.value}" is no look: {allele} has no look of its own with two copies',
            f"a look of {self.species} ({self._count()})",
            "",
            f"write {allele}{copies if known else ''}",
        )
        return True

    def _tell_several(self, written: At[str], report: Report) -> bool:
        """Tells looks that stand in a row with no comma between them."""
        words = written.value.split()
        ways: list[list[str]] = [[]]
        for at in range(len(words)):
            begun = [way for way in ways if sum(len(name.split()) for name in way) == at]
            ends = range(at + 1, min(len(words), at + _LONGEST_NAME) + 1)
            names = [name for end in ends if look_id(name := " ".join(words[at:end])) in self.looks]
            ways = [*(way for way in ways if way not in begun), *([*way, name] for way in begun for name in names)][:9]
        whole = [way for way in ways if sum(len(name.split()) for name in way) == len(words) and len(way) > 1]
        if not whole:
            return False
        near = ", ".join(whole[0]) if len(whole) == 1 else ""
        what = f'"{written.value}" is more than one look, and no comma parts them'
        self._tell(written, report, what, f"a look of {self.species}", near, "put a comma between each two looks")
        return True

    def _compound(self, text: str) -> tuple[Look, ...] | None:
        """Two looks of one locus joined by a slash, in either order: what the two alleles show together."""
        parts = [self.looks.get(look_id(part)) for part in text.split("/")]
        if len(parts) != 2 or not all(parts):
            return None
        looks = [look for part in parts for look in part or ()]
        together = self.together(looks) if len(looks) == 2 else None
        return (together,) if together else None

    def together(self, looks: Iterable[Look]) -> Look | None:
        """The look of an animal that has one allele of each of two looks of one locus, if it is a look of its own."""
        first, second = looks
        if first.locus != second.locus:
            return None
        locus = self.by_locus[first.locus]
        one, two = self.alleles.get(first.id), self.alleles.get(second.id)
        if one is None or two is None:
            return None
        shown = locus.shown.get(locus.genotype(one[1], two[1]), "")
        return locus.look(shown) if shown not in ("", first.id, second.id) else None

    def looks_by_locus(self, written: Iterable[At[str]], report: Report) -> dict[str, list[tuple[Look, At[str]]]]:
        """Locus id to the looks meant, each with where it is named: a combination as its parts, each look once."""
        by_locus: dict[str, list[tuple[Look, At[str]]]] = {}
        for text in written:
            for look in self.find_looks(text, report) or ():
                entries = by_locus.setdefault(look.locus, [])
                if all(look != other for other, _ in entries):
                    entries.append((look, text))
        return by_locus

    def one_look(self, entries: list[tuple[Look, At[str]]], report: Report, which: str) -> Look | None:
        """The look that one animal has which shows all of these of a locus; None, and a finding, when none can.

        ``which`` says what sort of look it is: one that is seen, or wanted.
        """
        looks = [look for look, _ in entries]
        found = looks[0] if len(looks) == 1 else self.together(looks) if len(looks) == 2 else None
        if found is None:
            locus, shown = self.by_locus[looks[0].locus], " and ".join(look.id for look in looks)
            report.error(
                Kind.EVIDENCE_CLASH,
                entries[-1][1],
                f"one animal cannot show {shown}: they are looks of one locus, {locus.id}",
                expected=f"one of {', '.join(look.id for look in locus.looks)}",
                remedy=f"write the one look that is {which}",
                others=tuple(text.place for _, text in entries[:-1]),
            )
        return found

    def find_locus(self, written: At[str], report: Report) -> Locus | None:
        """The locus meant; the name of an allele or of a look stands for its locus."""
        spelling = look_id(written.value)
        if found := self.loci.get(spelling):
            return self.by_locus[found]
        if allele := self.alleles.get(spelling):
            return self.by_locus[allele[0]]
        loci = dict.fromkeys(look.locus for look in self.looks.get(spelling, ()))
        if len(loci) == 1:
            return self.by_locus[next(iter(loci))]
        near = nearest(spelling, (*self.loci, *self.alleles))
        what = f'{self.species} has no gene "{written.value}"'
        self._tell(written, report, what, f"a locus of {self.species} ({len(self.by_locus)})", near)
        return None

    def find_allele(self, written: At[str], report: Report) -> tuple[Locus, str] | None:
        """The locus and allele meant; a locus with a single allele stands for it."""
        spelling = look_id(written.value)
        if allele := self.alleles.get(spelling):
            return self.by_locus[allele[0]], allele[1]
        locus = self.loci.get(spelling)
        if locus and len(self.by_locus[locus].alleles) == 1:
            return self.by_locus[locus], self.by_locus[locus].alleles[0].id
        if locus:
            known = [allele.id for allele in self.by_locus[locus].alleles]
            what = f'"{written.value}" has several alleles, and which one is meant is not said'
            self._tell(written, report, what, f"one of {', '.join(known)}", "", "name the allele that is meant")
            return None
        what = f'{self.species} has no gene "{written.value}"'
        near = nearest(spelling, self.alleles)
        self._tell(written, report, what, f"an allele of {self.species} ({len(self.alleles)})", near)
        return None

    def find_genotype(self, locus: Locus, written: At[str], report: Report) -> Genotype | None:
        """The genotype written as ``+/amel``, its alleles in either order."""
        parts = [part.strip() for part in written.value.split("/")]
        genotype = self._genotype(locus, parts)
        if genotype is None:
            known = ["/".join(genotype) for genotype in _all_genotypes(locus)]
            shown = ", ".join(known[:8]) + (" ..." if len(known) > 8 else "")
            near = nearest(written.value, known)
            what = f'"{written.value}" is not a genotype of {locus.id}'
            self._tell(written, report, what, shown, near, "join two alleles of this locus by a slash")
        return genotype

    def _genotype(self, locus: Locus, parts: list[str]) -> Genotype | None:
        if len(parts) != 2:
            return None
        blank = locus.sex_system.blank if len(_all_genotypes(locus)) > len(locus.genotypes()) else ""
        own = {look_id(allele.id): allele.id for allele in locus.alleles} | {WILD: WILD}
        own |= {look_id(allele.name): allele.id for allele in locus.alleles if look_id(allele.name) not in own}
        first, second = (own.get(look_id(part)) for part in parts)
        if blank and first and parts[1] == blank:
            return first, blank
        if blank and second and parts[0] == blank:
            return second, blank
        return locus.genotype(first, second) if first and second else None

    def _of_that_word(self, text: str) -> list[str]:
        """Several alleles whose names hold the typed words: kinds that the trade calls by one name."""
        typed = set(look_id(text).split("-"))
        found = {meant[1]: None for name, meant in self.alleles.items() if typed <= set(re.findall(r"[^\W_]+", name))}
        return list(found) if len(found) > 1 else []

    def _count(self) -> str:
        return f"{len({look.id for looks in self.looks.values() for look in looks})}, in {self.file} under loci"

    def _tell(
        self,
        written: At[str],
        report: Report,
        message: str,
        expected: str,
        near: str,
        otherwise: str = "describe the new gene in the species file",
    ) -> None:
        if look_id(written.value) in self.broken:
            return
        remedy = f'write "{near}", or {otherwise}' if near else otherwise
        if not near and (kin := self._of_that_word(written.value)):
            remedy = f"if you know which, write {', '.join(kin[:-1])} or {kin[-1]}; or {otherwise}"
        report.error(Kind.GENE_UNKNOWN, written, message, expected=expected, nearest=near, remedy=remedy)


def _all_genotypes(locus: Locus) -> tuple[Genotype, ...]:
    one_copy = locus.sex_system.one_copy_sex
    single = locus.genotypes(one_copy) if locus.sex_linked and one_copy else ()
    return (*locus.genotypes(), *single)


def gene_names(
    name: str,
    file: str,
    genome: Genome,
    broken: frozenset[str] = frozenset(),
) -> GeneNames:
    """Every accepted spelling of a species. Ids win over names; a name that two looks share is no spelling.

    "Super" before an incomplete dominant means its two-copy form, as the trade says it, whatever that is called.
    Source: common practice, no source.
    """
    looks, alleles = dict[str, tuple[Look, ...]](), dict[str, tuple[str, str]]()
    look_names: list[tuple[str, Look]] = []
    allele_names: list[tuple[str, tuple[str, str]]] = []
    doubled: list[tuple[str, Look]] = []
    for locus in genome.loci:
        own = {look.id: look for look in locus.looks}
        for look in locus.looks:
            looks[look_id(look.id)] = (look,)
            look_names.append((look_id(look.name), look))
        for allele in locus.alleles:
            meant = (locus.id, allele.id)
            alleles[look_id(allele.id)] = meant
            allele_names += [(look_id(other), meant) for other in (allele.name, *allele.named)]
            two = own.get(locus.shown.get((allele.id, allele.id), allele.id))
            if two and two.id != allele.id and allele.inheritance is Inheritance.INCOMPLETE_DOMINANT:
                doubled += [(look_id(f"super {each}"), two) for each in (allele.id, allele.name, *allele.named)]
            if allele.id in own:
                look_names += [(look_id(other), own[allele.id]) for other in allele.named]
    for spelling, look in (*_unambiguous(look_names), *_unambiguous(doubled)):
        looks.setdefault(spelling, (look,))
    for spelling, meant in _unambiguous(allele_names):
        alleles.setdefault(spelling, meant)
    for combination in genome.combinations:
        parts = tuple(genome.look(part) for part in combination.looks)
        looks.setdefault(look_id(combination.id), parts)
        looks.setdefault(look_id(combination.name), parts)
    loci = {look_id(locus.id): locus.id for locus in genome.loci}
    for spelling, locus_id in _unambiguous([(look_id(locus.name), locus.id) for locus in genome.loci]):
        loci.setdefault(spelling, locus_id)
    return GeneNames(name, file, looks, alleles, loci, {locus.id: locus for locus in genome.loci}, broken)


def _unambiguous(spellings: Iterable[tuple[str, T]]) -> list[tuple[str, T]]:
    """The spellings that mean one thing only."""
    meanings: dict[str, list[T]] = {}
    for spelling, meant in spellings:
        meanings.setdefault(spelling, []).append(meant)
    return [(spelling, meant[0]) for spelling, meant in meanings.items() if len(dict.fromkeys(meant)) == 1]


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
        genotype = names.find_genotype(locus, key.named, report)
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
