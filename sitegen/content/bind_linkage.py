"""Linked loci, and trade names of several looks together."""

from collections.abc import Sequence
from fractions import Fraction

from sitegen.content.bind_loci import texts
from sitegen.content.gene_names import GeneNames
from sitegen.content.report import At, Report
from sitegen.content.written.forms import as_text_map
from sitegen.content.written.species import LinkedForm, SpeciesForm
from sitegen.content.written.values import read_half
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar
from sitegen.findings import Kind
from sitegen.genetics.loci import Combination, Linkage, Locus, Sex, look_id


def bind_linkages(form: SpeciesForm, names: GeneNames, report: Report) -> tuple[Linkage, ...]:
    """Every sound entry of ``linked``."""
    bound = [_linkage(entry, names, report) for entry in form.linked or () if entry]
    linkages = tuple(linkage for linkage in bound if linkage is not None)
    _check_linkages(form, linkages, names, report)
    return linkages


def _linkage(entry: LinkedForm, names: GeneNames, report: Report) -> Linkage | None:
    """Loci on one chromosome with the recombination between neighbours, by the parent's sex."""
    loci = [names.find_locus(text, report) for text in texts(entry.loci)]
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


def _check_linkages(form: SpeciesForm, linkages: tuple[Linkage, ...], names: GeneNames, report: Report) -> None:
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


def _check_kinds(form: SpeciesForm, linkage: Linkage, names: GeneNames, report: Report) -> None:
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
    if tree is None or not isinstance(tree, Entries):
        as_text_map(tree, report)
        return ()
    found: dict[str, Combination] = {}
    for key, node in tree.entries:
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
    parts = tuple(At(item.text, item.place, item.width) for item in items if isinstance(item, Scalar))
    if len(parts) < 2 or len(parts) != len(items):
        report.error(
            Kind.VALUE_WRONG,
            key,
            f"the combination {key.text} does not name its parts",
            expected=f"a list of two or more looks: {key.text}: [one, another]",
            remedy="list the looks it consists of",
        )
        return name, ()
    return name, parts
