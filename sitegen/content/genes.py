"""What a breeder records of an animal's genes: evidence, each piece with its place, and how it is read."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from sitegen.content.declaration import AsWritten, Written, group_of, key_only, keyed
from sitegen.content.gene_names import SAW_NONE, GeneNames, check_sum, genotype_odds
from sitegen.content.report import At, Report, place_at
from sitegen.content.values import DAY, NAME, TEXT, PartialDate
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar, as_text_map, entries_of, is_blank
from sitegen.exact import meant_chance, parse_carried, parse_stated_chance
from sitegen.findings import Kind, Place, nearest
from sitegen.genetics.loci import WILD, Genotype, Locus, Sex, look_id


@dataclass(frozen=True, slots=True)
class SeenLook:
    """A look named under ``shows``. ``as_written`` may be a combination name; then several share a place."""

    look: str
    locus: str
    place: Place
    as_written: str = ""


@dataclass(frozen=True, slots=True)
class Judged:
    """One judging of an animal: what it shows, and which loci were not judged.

    Every locus of the species that is neither in ``seen`` nor in ``unsure`` was looked for and not seen.
    ``unsure_all``: nothing was judged but what ``seen`` names. ``written`` is False when the record has
    no ``shows`` key at all; such a record judged nothing. ``age_months`` stands in for days that are not published: the
    age of the animal when it was judged, at the least.
    """

    seen: tuple[SeenLook, ...]
    unsure: tuple[str, ...]
    place: Place
    unsure_all: bool = False
    written: bool = True
    on: PartialDate | None = None
    age_months: int | None = None


@dataclass(frozen=True, slots=True)
class Stated:
    """A previous keeper's statement about one locus. ``odds`` sums to 1.

    ``quoted`` is False where ``as_written`` only describes what was written, so that nobody's word is made up.
    """

    locus: str
    odds: Mapping[Genotype, Fraction]
    as_written: str
    place: Place
    quoted: bool = True


_RESULT = AsWritten({"oneOf": [{"type": "string"}, {"items": {"type": "string"}, "type": "array"}]})


@dataclass(frozen=True, slots=True, kw_only=True)
class DnaTest:
    """A laboratory's result at one locus.

    ``genotypes`` are those that remain possible.
    """

    locus: str = keyed(NAME, "The locus that was tested.", needed=True)
    result: ClassVar = key_only(
        _RESULT, "The genotype found, as in +/amel, or a list of the genotypes that remain possible.", needed=True
    )
    genotypes: tuple[Genotype, ...]
    place: Place
    laboratory: str = keyed(TEXT, "Who tested.")
    date: PartialDate | None = keyed(DAY, "The date of the result.")
    document: str = keyed(TEXT, "Number or file name of the document.")


DNA_TEST = group_of(DnaTest, "a test")


@dataclass(frozen=True, slots=True)
class Copies:
    """``copies: {tessera: unknown}``: a founder's dominant whose copies are not known, with an optional prior."""

    locus: str
    two_copies: Fraction | None
    place: Place


@dataclass(frozen=True, slots=True)
class Chromosome:
    """One line of ``haplotypes``: locus to allele, on one chromosome."""

    alleles: Mapping[str, str]
    place: Place


@dataclass(frozen=True, slots=True)
class Genes:
    """All genetic evidence of one record."""

    judged: Judged
    stated: tuple[Stated, ...] = ()
    tests: tuple[DnaTest, ...] = ()
    copies: tuple[Copies, ...] = ()
    haplotypes: tuple[Chromosome, ...] = ()
    markers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Binder:
    """What is needed to read the evidence of one record: the names of its species' genes, and its sex."""

    names: GeneNames
    sex: Sex
    report: Report

    def genes(self, form: Written) -> Genes:
        """All genetic evidence of one record."""
        return Genes(
            judged=self.judged(form, form.judged),
            stated=self.stated(form.stated),
            tests=tuple(test for entry in form.tests if (test := self._test(entry))),
            copies=self._copies(form.copies),
            haplotypes=self._haplotypes(form.haplotypes),
            markers=tuple(marker.value for marker in form.markers),
        )

    def judged(self, form: Written, on: At[PartialDate] | None) -> Judged:
        """What is seen and what was not judged."""
        shows = form.node("shows")
        if shows is not None and is_blank(shows):
            self.report.notice(
                Kind.VALUE_WRONG,
                form.at("shows"),
                "nothing stands after shows, so it is taken as not judged",
                expected="a list of looks, or [] when it was looked at and shows none",
                remedy="write shows: [], or delete the line",
            )
            shows = None
        seen = self._seen(form.shows)
        unsure, unsure_all = self._unsure(form.unsure)
        for one in seen:
            if one.locus in unsure:
                self.report.notice(
                    Kind.EVIDENCE_CLASH,
                    one.place,
                    f"{one.as_written} is seen and stands under unsure as well; it is taken as seen",
                    expected="a gene under shows or under unsure",
                    remedy="delete one of the two",
                )
        return Judged(
            seen=seen,
            unsure=unsure,
            place=place_at(form.at("shows")),
            unsure_all=unsure_all,
            written=shows is not None or bool(unsure),
            on=on.value if on else None,
        )

    def _seen(self, written: tuple[At[str], ...]) -> tuple[SeenLook, ...]:
        """The looks that are seen, one a locus; a combination is taken as its parts."""
        written = tuple(part for text in written for part in self._parted(text))
        none = [text for text in written if look_id(text.value) in SAW_NONE]
        if none and len(none) < len(written):
            others = [text for text in written if text not in none]
            self.report.error(
                Kind.EVIDENCE_CLASH,
                none[0],
                f'"{none[0].value}" says that no gene is seen, and {others[0].value} stands beside it',
                expected="looks, or one word for none",
                remedy="delete the one that is wrong",
                others=(others[0].place,),
            )
        found = []
        for locus, entries in self.names.looks_by_locus(() if none else written, self.report).items():
            look, text = self.names.one_look(entries, self.report, "seen"), entries[0][1]
            if look is not None:
                found.append(SeenLook(look.id, locus, text.place, text.value))
        return tuple(found)

    def _parted(self, text: At[str]) -> list[At[str]]:
        """Names with commas between them, written without brackets, one by one."""
        if "," not in text.value or look_id(text.value) in self.names.looks:
            return [text]
        return [At(part.strip(), text.place, text.width) for part in text.value.split(",") if part.strip()]

    def _unsure(self, written: tuple[At[str], ...]) -> tuple[tuple[str, ...], bool]:
        """Locus ids that were not judged, and whether nothing was."""
        if any(text.value.lower() == "all" for text in written):
            return (), True
        loci = [self._unsure_loci(part) for text in written for part in self._parted(text)]
        return tuple(dict.fromkeys(locus for found in loci for locus in found)), False

    def _unsure_loci(self, text: At[str]) -> tuple[str, ...]:
        looks = self.names.find_looks(text, Report())
        if looks is not None and look_id(text.value) not in self.names.loci:
            return tuple(look.locus for look in looks)
        locus = self.names.find_locus(text, self.report)
        return (locus.id,) if locus else ()

    def stated(self, tree: Node | None) -> tuple[Stated, ...]:
        """What a previous keeper stated; a locus may have several entries, one an allele."""
        found = [self._one_stated(key, node) for key, node in entries_of(tree, self.report) if not is_blank(node)]
        return tuple(stated for stated in found if stated is not None)

    def _one_stated(self, key: Scalar, node: Node) -> Stated | None:
        name = key.named
        if isinstance(node, Entries):
            locus = self.names.find_locus(name, self.report)
            odds = genotype_odds(locus, node, self.names, self.report) if locus else None
            if locus is None or odds is None or not check_sum(odds, node, self.report):
                return None
            return Stated(locus.id, odds, "odds by genotype", key.place, quoted=False)
        allele = self.names.find_allele(name, self.report)
        text = node.text.strip() if isinstance(node, Scalar) else ""
        chance = parse_carried(text)
        if chance is None:
            self.report.error(
                Kind.ODDS_WRONG,
                node,
                f'"{text}" does not say how likely one copy is'
                if text
                else "a list stands where a chance was expected",
                expected="certain, a fraction below 1, a percentage such as 66%, or odds by genotype",
                nearest=_near_statement(text),
                remedy=_advice(text),
            )
            return None
        return Stated(allele[0].id, self._carrying(*allele, chance), text, key.place) if allele else None

    def _carrying(self, locus: Locus, allele: str, chance: Fraction) -> dict[Genotype, Fraction]:
        """One copy with the chance stated, none otherwise."""
        if locus.copies(self.sex) == 1:
            blank = locus.sex_system.blank
            odds = {(WILD, blank): 1 - chance, (allele, blank): chance}
        else:
            odds = {(WILD, WILD): 1 - chance, (WILD, allele): chance}
        return {genotype: share for genotype, share in odds.items() if share}

    def _test(self, form: Written) -> DnaTest | None:
        locus = self.names.find_locus(form.locus, self.report)
        tree: Node = form.result
        nodes = tree.items if isinstance(tree, Items) else (tree,)
        if any(not isinstance(node, Scalar) for node in nodes) or not nodes:
            self.report.wrong(
                tree,
                "the result of a test is not readable",
                "a genotype such as +/amel, or a list of those that remain possible",
                "write the genotype",
            )
            return None
        written = [node.named for node in nodes if isinstance(node, Scalar)]
        found = [self.names.find_genotype(locus, text, self.report) for text in written] if locus else [None]
        if locus is None or None in found:
            return None
        genotypes = tuple(dict.fromkeys(genotype for genotype in found if genotype))
        return form.record(DnaTest, locus=locus.id, genotypes=genotypes, place=form.start)

    def _copies(self, tree: Node | None) -> tuple[Copies, ...]:
        """What is known of the copies of a dominant allele."""
        found = []
        for key, node in entries_of(tree, self.report):
            locus = self.names.find_locus(key.named, self.report)
            two = None if is_blank(node) else self._two_copies(node)
            if locus is not None and not isinstance(two, bool):
                found.append(Copies(locus.id, two, key.place))
        return tuple(found)

    def _two_copies(self, node: Node) -> Fraction | bool | None:
        """The chance of two copies; None when nothing is known; False, and a finding, when it cannot be read."""
        words: dict[str, Fraction | None] = {
            "unknown": None,
            "one": Fraction(0),
            "1": Fraction(0),
            "two": Fraction(1),
            "2": Fraction(1),
        }
        if isinstance(node, Scalar):
            text = node.text.strip().lower()
            if text in words:
                return words[text]
            chance = parse_stated_chance(text)
            if chance is not None and 0 < chance < 1:
                return chance
        elif isinstance(node, Entries):
            read = {key.text: parse_stated_chance(value.text) for key, value in as_text_map(node, self.report)}
            one, two = read.get("one"), read.get("two", read.get("unknown"))
            if len(read) == len(node.entries) and set(read) <= {"one", "two", "unknown"} and None not in read.values():
                if one is None and two is not None and two <= 1 and len(read) == 1:
                    return two
                if one is not None and two is not None and one + two == 1:
                    return two
        self.report.wrong(
            node,
            "what is known of the copies is not readable",
            "unknown, one, two, or the chance of two copies: {two: 1/3}",
            "write unknown when nothing is known",
            near=nearest(node.text, tuple(words)) if isinstance(node, Scalar) else "",
        )
        return False

    def _haplotypes(self, tree: Node | None) -> tuple[Chromosome, ...]:
        """Known phase, one line a chromosome."""
        if tree is None or is_blank(tree):
            return ()
        nodes = tree.items if isinstance(tree, Items) else ()
        if not 1 <= len(nodes) <= 2 or any(not isinstance(node, Entries) for node in nodes):
            self.report.wrong(
                tree,
                "haplotypes are written as one or two lines, one for each chromosome",
                "- {left: l, right: +}",
                "write one line a chromosome, with the allele of each locus",
            )
            return ()
        found = [self._chromosome(node) for node in nodes if isinstance(node, Entries)]
        return tuple(chromosome for chromosome in found if chromosome is not None)

    def _chromosome(self, tree: Entries) -> Chromosome | None:
        alleles: dict[str, str] = {}
        for key, value in as_text_map(tree, self.report):
            locus = self.names.find_locus(key.named, self.report)
            if locus is None:
                continue
            if value.text.strip() == WILD:
                alleles[locus.id] = WILD
                continue
            found = self.names.find_allele(value.named, self.report)
            if found is not None and found[0].id != locus.id:
                self.report.error(
                    Kind.GENE_UNKNOWN,
                    value,
                    f"{value.text} is not an allele of {locus.id}",
                    expected=f"+ or {', '.join(allele.id for allele in locus.alleles)}",
                    remedy="write an allele of this locus",
                )
            elif found is not None:
                alleles[locus.id] = found[1]
        return Chromosome(alleles, tree.place) if alleles else None


def _near_statement(text: str) -> str:
    """What was meant by a statement that cannot be read, where only one thing can be."""
    word = text.lower()
    if word in ("1", "1.0", "100", "het", "100% het", "1 copy", "one copy"):
        return "certain"
    return meant_chance(text) or nearest(text, ("certain",))


def _advice(text: str) -> str:
    """What to do about a statement that cannot be read."""
    if near := _near_statement(text):
        return "write 1/2 or 50%" if near == "1/2" else f"write {near}"
    if len(text) == 2 and text.isascii() and text.isdigit() and text[0] > "0":
        return f"write {text}% or {text[0]}/{text[1]}, as it was stated"
    if text == "1/1":
        return "write certain, or 1/2 when it is as likely as not"
    if text.lower() in ("0", "0%", "0 %", "0.0", "no", "false", "none"):
        return "leave the line out when nothing was stated; write {+/+: 1} when it was stated not to carry the gene"
    if text.lower() in ("yes", "true", "visual", "2", "homo"):
        return "write certain for one copy that is not seen; what is seen belongs under shows"
    return "write what was stated: anery: certain, hypo: 66%"
