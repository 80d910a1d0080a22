"""Of a species: linked loci, trade names of several looks together, and the genotype odds of founders."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from sitegen.content.declaration import AsWritten, Written, group_of, key_only
from sitegen.content.gene_names import GeneNames, check_sum, genotype_odds
from sitegen.content.report import At, Report
from sitegen.content.values import TEXTS, read_half
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar, entries_of, is_blank
from sitegen.findings import Kind
from sitegen.genetics.loci import Combination, Genotype, Linkage, Locus, Sex, look_id

_FRACTION = {"type": ["string", "number"]}
_RECOMBINATION = AsWritten(
    {
        "oneOf": [
            _FRACTION,
            {"items": _FRACTION, "type": "array"},
            {"additionalProperties": False, "properties": {"female": {}, "male": {}}, "type": "object"},
        ]
    }
)


@dataclass(frozen=True, slots=True)
class WrittenLinkage:
    """Loci on one chromosome."""

    loci: ClassVar = key_only(TEXTS, "Two or more loci in their order.", needed=True)
    recombination: ClassVar = key_only(
        _RECOMBINATION,
        "Recombination between neighbours: one value, a list, or either by the parent's sex.",
        needed=True,
    )


LINKED = group_of(WrittenLinkage, "an entry of linked", name="Linked")

_SEXES = (Sex.FEMALE, Sex.MALE, Sex.UNKNOWN)


def bind_linkages(form: Written, names: GeneNames, report: Report) -> tuple[Linkage, ...]:
    """Every sound entry of ``linked``."""
    bound = [_linkage(entry, names, report) for entry in form.linked]
    linkages = tuple(linkage for linkage in bound if linkage is not None)
    _check_linkages(form, linkages, names, report)
    return linkages


def _linkage(entry: Written, names: GeneNames, report: Report) -> Linkage | None:
    """Loci on one chromosome with the recombination between neighbours, by the parent's sex."""
    loci = [names.find_locus(text, report) for text in entry.loci]
    known = list(dict.fromkeys(locus.id for locus in loci if locus is not None))
    if len(known) < len(loci):
        if None not in loci:
            report.error(
                Kind.LINKAGE_WRONG,
                entry.at("loci"),
                "a locus stands twice in this list",
                expected="each locus once",
                remedy="delete one",
            )
        return None
    if len(known) < 2:
        report.error(
            Kind.LINKAGE_WRONG,
            entry.at("loci"),
            "a single locus is not linked to anything",
            expected="two or more loci in their order on the chromosome",
            remedy="add the other locus, or delete the entry",
        )
        return None
    tree: Node = entry.recombination
    by_sex = {key.text: node for key, node in tree.entries} if isinstance(tree, Entries) else {}
    if isinstance(tree, Entries) and set(by_sex) != {"female", "male"}:
        report.error(
            Kind.LINKAGE_WRONG,
            tree,
            "recombination by sex needs both sexes",
            expected="{female: 1/10, male: 1/20}",
            remedy="write both, or one value for both",
        )
        return None
    female = _fractions(by_sex.get("female", tree), len(known) - 1, report)
    male = _fractions(by_sex["male"], len(known) - 1, report) if by_sex else female
    if female is None or male is None:
        return None
    return Linkage(tuple(known), {Sex.FEMALE: female, Sex.MALE: male})


def _fractions(tree: Node, needed: int, report: Report) -> tuple[Fraction, ...] | None:
    """Recombination fractions between neighbours; a single one stands for all."""
    nodes = tree.items if isinstance(tree, Items) else (tree,)
    found = []
    for node in nodes:
        value = read_half(node, report) if isinstance(node, Scalar) else None
        if not isinstance(node, Scalar):
            report.error(
                Kind.LINKAGE_WRONG,
                node,
                "a fraction was expected here",
                expected="a fraction from 0 to 1/2, such as 1/10",
                remedy="write one value",
            )
        if value is None:
            return None
        found.append(value)
    if len(found) == 1 and not isinstance(tree, Items):
        found *= needed
    if len(found) != needed:
        report.error(
            Kind.LINKAGE_WRONG,
            tree,
            f"{needed + 1} loci in a row need one fraction for each step between them, and {len(found)} are written",
            expected=f"a list of {needed}",
            remedy="write one fraction for each pair of neighbours",
        )
        return None
    return tuple(found)


def _check_linkages(form: Written, linkages: tuple[Linkage, ...], names: GeneNames, report: Report) -> None:
    """A locus lies on one chromosome only, and linked loci are of one kind."""
    seen: set[str] = set()
    for linkage in linkages:
        for locus in linkage.loci:
            if locus in seen:
                report.error(
                    Kind.LINKAGE_WRONG,
                    form.at("linked"),
                    f"{locus} stands in two entries of linked",
                    expected="each locus in one entry, with all its neighbours",
                    remedy="put the two entries together",
                )
            seen.add(locus)
        _check_kinds(form, linkage, names, report)


def _check_kinds(form: Written, linkage: Linkage, names: GeneNames, report: Report) -> None:
    """Linked loci are all autosomal, all on one sex chromosome alone, or all on both in their order."""
    loci = [names.by_locus[locus] for locus in linkage.loci]
    kinds = {(locus.sex_linked, locus.sex_recombination is not None) for locus in loci}
    if len({any(kind) for kind in kinds}) > 1:
        problem, remedy = "one is on a sex chromosome and the other is not", "correct sex_linked, or delete the entry"
    elif len({parts for _, parts in kinds}) > 1:
        problem = "one has sex_recombination and the other has not"
        remedy = "give each of them its sex_recombination, or delete the entry"
    elif misfit := _misfit(loci, linkage):
        problem = f"the sex_recombination of {misfit[0]} does not follow from that of its neighbour"
        remedy = f"write sex_recombination: {misfit[1]} for {misfit[0]}, or mend the recombination between them"
    else:
        return
    report.error(
        Kind.LINKAGE_WRONG,
        form.at("linked"),
        f"{' and '.join(linkage.loci)} cannot be linked so: {problem}",
        expected="loci on the same chromosome, in their order from the place that determines the sex",
        remedy=remedy,
    )


def _misfit(loci: Sequence[Locus], linkage: Linkage) -> tuple[str, Fraction] | None:
    """The first locus on both sex chromosomes whose fraction does not fit its neighbour's, and the one that would.

    Source:
        Two stretches without interference: r = r1 + r2 - 2 r1 r2; definition.
    """
    one_copy = loci[0].sex_system.one_copy_sex
    between = linkage.recombination.get(one_copy, ()) if one_copy else ()
    for near, far, apart in zip(loci, loci[1:], between, strict=False):
        if near.sex_recombination is not None and far.sex_recombination is not None:
            fitting = near.sex_recombination + apart - 2 * near.sex_recombination * apart
            if far.sex_recombination != fitting:
                return far.id, fitting
    return None


def bind_combinations(tree: Node | None, names: GeneNames, report: Report) -> tuple[Combination, ...]:
    """Trade names of several looks; an earlier combination may be a part of a later one."""
    found: dict[str, Combination] = {}
    for key, node in entries_of(tree, report):
        name, parts = _parts(key, node, report)
        looks: list[str] = []
        sound = bool(parts)
        for part in parts:
            if earlier := found.get(look_id(part.value)):
                looks += earlier.looks
            elif meant := names.find_looks(part, report):
                looks += [look.id for look in meant]
            else:
                sound = False
        if look_id(key.text) in names.looks:
            report.error(
                Kind.ID_TWICE,
                key,
                f'"{key.text}" is a look already, so it cannot be the name of several looks together',
                expected="a name of its own",
                remedy="rename the combination, or delete it",
            )
        elif sound:
            found[look_id(key.text)] = Combination(key.text, name, tuple(dict.fromkeys(looks)))
    return tuple(found.values())


def _parts(key: Scalar, node: Node, report: Report) -> tuple[str, tuple[At[str], ...]]:
    """A combination's name and the names of its parts."""
    name = key.text.replace("-", " ")
    listed: Node | None = node
    if isinstance(node, Entries):
        inside = {key.text: value for key, value in node.entries}
        listed = inside.get("parts")
        written = inside.get("name")
        name = written.text.strip() if isinstance(written, Scalar) and not written.blank else name
        for inner in (inner for inner, _ in node.entries if inner.text not in ("name", "parts")):
            report.error(
                Kind.KEY_UNKNOWN,
                inner,
                f'a combination has nothing called "{inner.text}"',
                expected="name and parts",
                remedy="delete the line",
            )
    items = listed.items if isinstance(listed, Items) else ()
    parts = tuple(item.named for item in items if isinstance(item, Scalar))
    if len(parts) < 2 or len(parts) != len(items):
        report.wrong(
            key,
            f"the combination {key.text} does not name its parts",
            f"a list of two or more looks: {key.text}: [one, another]",
            "list the looks it consists of",
        )
        return name, ()
    return name, parts


def background_by_locus(tree: Node | None, names: GeneNames, report: Report) -> dict[str, Node]:
    """The written background of each locus that has one."""
    found: dict[str, Node] = {}
    for key, node in entries_of(tree, report):
        locus = names.find_locus(key.named, report)
        if locus is not None and not is_blank(node):
            found[locus.id] = node
    return found


def background(
    locus: Locus, found: Node | None, names: GeneNames, report: Report
) -> Mapping[Sex, Mapping[Genotype, Fraction]]:
    """The written odds of founders by sex; empty where nothing is written."""
    wild: dict[Sex, Mapping[Genotype, Fraction]] = {sex: {locus.genotypes(sex)[0]: Fraction(1)} for sex in _SEXES}
    if found is None:
        return {}
    by_sex = {key.text: node for key, node in entries_of(found, report)}
    if not isinstance(found, Entries):
        return wild
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
