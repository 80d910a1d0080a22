"""From the written form of a species to :class:`~sitegen.records.species.Species` and the names of its genes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.findings import Kind, Place
from sitegen.genetics.loci import WILD, Combination, Genome, Genotype, Linkage, Locus, Look, Sex, SexSystem, look_id
from sitegen.reading.yaml_tree import Entries, Items, Node, Scalar
from sitegen.records.bind_loci import LooseLocus, bind_locus, texts
from sitegen.records.gene_names import GeneNames, gene_names
from sitegen.records.odds import check_sum, genotype_odds
from sitegen.records.report import At, Report
from sitegen.records.species import Births, LitterSize, Species
from sitegen.records.written.forms import as_text_map
from sitegen.records.written.species import LinkedForm, LocusForm, SpeciesForm
from sitegen.records.written.values import read_grams, read_half, read_months

USUAL_LITTER = LitterSize(4, 10, 20)
"""Taken when a species file says nothing. Source: common practice, no source."""

_SEXES = (Sex.FEMALE, Sex.MALE, Sex.UNKNOWN)


@dataclass(frozen=True, slots=True)
class BoundSpecies:
    """A species, its gene names, and what only its written form tells."""

    species: Species
    names: GeneNames
    litter_size_written: bool


def bind_species(species_id: str, form: SpeciesForm, report: Report) -> BoundSpecies:
    """The species; what is faulty in it is left out and told."""
    file = form.start.file
    name = form.name.value if form.name else species_id.replace("-", " ")
    sexes = form.sexes.value if form.sexes else SexSystem.UNKNOWN
    loose = _loci(form, sexes, report)
    genome = Genome(species_id, sexes, tuple(one.locus for one in loose))
    genome, loose = _without_clashes(genome, loose, report)
    other_names = {allele: names for one in loose for allele, names in one.other_names}
    names = gene_names(name, file, genome, other_names)
    genome = replace(
        genome,
        loci=tuple(_looked_up(one, form, names, report) for one in loose),
        linkages=tuple(
            linkage for entry in form.linked or () if entry and (linkage := _linkage(entry, names, report)) is not None
        ),
        combinations=_combinations(form.combinations, names, report),
    )
    _check_linkages(form, genome, report)
    species = Species(
        id=species_id,
        name=name,
        scientific=form.scientific.value if form.scientific else "",
        births=form.births.value if form.births else Births.EGGS,
        litter_size=_litter_size(form, report),
        litters_a_year=_litters_a_year(form, report),
        breeding_age_months=_by_sex(form.breeding_age, read_months, report),
        breeding_weight_grams=_by_sex(form.breeding_weight, read_grams, report),
        genome=genome,
        place=form.start,
        gene_places={one.locus.id: one.place.place for one in loose},
        about=form.about.value if form.about else "",
        cautions=tuple(caution.value for caution in texts(form.cautions)),
    )
    return BoundSpecies(species, gene_names(name, file, genome, other_names), form.litter_size is not None)


def _loci(form: SpeciesForm, sexes: SexSystem, report: Report) -> list[LooseLocus]:
    """Every locus that could be bound; one that is named and left empty is told."""
    found = []
    tree = next((node for key, node in form.node.entries if key.text == "loci"), None)
    for key, node in tree.entries if isinstance(tree, Entries) else ():
        written = (form.loci or {}).get(key.text)
        if written is None and isinstance(node, Scalar) and node.blank:
            written = LocusForm.model_construct(node=Entries((), key.place))
        if written is None:
            continue
        if "/" in key.text or key.text in ("", WILD):
            report.error(
                Kind.ID_WRONG,
                key,
                f'"{key.text}" cannot be the id of a gene',
                expected="letters, digits and hyphens",
                nearest=key.text.replace("/", "-").strip("+"),
                remedy="choose another id; the name may be anything",
            )
        elif locus := bind_locus(key, written, sexes, report):
            found.append(locus)
    return found


def _without_clashes(
    genome: Genome, loose: list[LooseLocus], report: Report
) -> tuple[Genome, list[LooseLocus]]:
    """Only loci whose alleles and looks have ids of their own."""
    taken: dict[str, str] = {}
    kept = []
    for one in loose:
        ids = {look_id(i) for i in (*(a.id for a in one.locus.alleles), *(look.id for look in one.locus.looks))}
        clash = sorted(i for i in ids if i in taken)
        for shared in clash:
            report.error(
                Kind.ID_TWICE,
                one.place,
                f'"{shared}" is an allele or look of two loci, {taken[shared]} and {one.locus.id}',
                expected="an id of its own for each allele and look of a species",
                nearest=f"{shared}-{one.locus.id}" if shared != one.locus.id else f"{shared}-2",
                remedy="rename one of the two",
            )
        if not clash:
            kept.append(one)
            taken |= dict.fromkeys(sorted(ids), one.locus.id)
    return replace(genome, loci=tuple(one.locus for one in kept)), kept


def _looked_up(one: LooseLocus, form: SpeciesForm, names: GeneNames, report: Report) -> Locus:
    """The locus with its references to other genes looked up, and its background."""
    hidden_by = {
        allele: tuple(look.id for text in found for look in names.find_looks(text, report) or ())
        for allele, found in one.hidden_by
    }
    alike = {
        allele: tuple(pair[1] for text in found if (pair := names.find_allele(text, report)))
        for allele, found in one.not_the_same_as
    }
    alleles = tuple(
        replace(allele, hidden_by=hidden_by.get(allele.id, ()), not_the_same_as=alike.get(allele.id, ()))
        for allele in one.locus.alleles
    )
    locus = replace(one.locus, alleles=alleles)
    return replace(locus, background=_background(locus, form.background, names, report))


def _background(
    locus: Locus, tree: Node | None, names: GeneNames, report: Report
) -> Mapping[Sex, Mapping[Genotype, Fraction]]:
    """Odds of founders by sex; wild type where nothing is written."""
    wild: dict[Sex, Mapping[Genotype, Fraction]] = {
        sex: {locus.genotypes(sex)[0]: Fraction(1)} for sex in _SEXES
    }
    if not isinstance(tree, Entries):
        if tree is not None:
            as_text_map(tree, report)
        return wild
    found = next((node for key, node in tree.entries if names.loci.get(look_id(key.text)) == locus.id), None)
    if found is None:
        _check_background_names(tree, names, report, locus)
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
        return wild | {sex: _of_sex(locus, sex, read) for sex, read in odds.items()}
    read = genotype_odds(locus, found, names, report)
    return wild if read is None else {sex: _split(locus, sex, read, found, report) for sex in _SEXES}


def _check_background_names(tree: Entries, names: GeneNames, report: Report, locus: Locus) -> None:
    """Names under background that no locus has; told once, with the first locus."""
    if locus.id == next(iter(names.by_locus)):
        for key, _ in tree.entries:
            if look_id(key.text) not in names.loci:
                names.find_locus(At(f"{key.text}", key.place, key.width), report)


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


def _linkage(entry: LinkedForm, names: GeneNames, report: Report) -> Linkage | None:
    """Loci on one chromosome with the recombination between neighbours, by the parent's sex."""
    loci = [names.find_locus(text, report) for text in texts(entry.loci)]
    known = list(dict.fromkeys(locus.id for locus in loci if locus is not None))
    if len(known) < len(loci):
        if None not in loci:
            report.error(Kind.LINKAGE_WRONG, entry.at("loci"), "a locus stands twice in this list", expected="each locus once", remedy="delete one")
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
            report.error(Kind.LINKAGE_WRONG, node, "a fraction was expected here", expected="a fraction from 0 to 1/2, such as 1/10", remedy="write one value")
        if value is None:
            return None
        found.append(value)
    if len(found) == 1 and not isinstance(tree, Items):
        found *= needed
    if len(found) != needed:
        report.error(
            Kind.LINKAGE_WRONG,
            tree,
            f"{needed + 1} loci have {needed} neighbours, and {len(found)} fractions are written",
            expected=f"{needed} fractions",
            remedy="write one fraction for each pair of neighbours",
        )
        return None
    return tuple(found)


def _check_linkages(form: SpeciesForm, genome: Genome, report: Report) -> None:
    """A locus lies on one chromosome only, and linked loci are of one kind."""
    seen: set[str] = set()
    for linkage in genome.linkages:
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
        kinds = {genome.locus(locus).sex_linked for locus in linkage.loci}
        if len(kinds) > 1:
            report.error(
                Kind.LINKAGE_WRONG,
                form.at("linked"),
                f"{' and '.join(linkage.loci)} cannot be linked: one is sex-linked and the other is not",
                expected="loci on the same chromosome",
                remedy="correct sex_linked, or delete the entry",
            )


def _combinations(tree: Node | None, names: GeneNames, report: Report) -> tuple[Combination, ...]:
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
                Kind.KEY_UNKNOWN, inner, f'a combination has nothing called "{inner.text}"', expected="name and parts", remedy="delete the line"
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


def _litter_size(form: SpeciesForm, report: Report) -> LitterSize:
    written = form.litter_size
    if written is None:
        return USUAL_LITTER
    low, usual, high = written.low.value, written.usual.value, written.high.value
    if not low <= usual <= high or high == 0:
        report.error(
            Kind.COUNT_IMPOSSIBLE,
            written.start,
            f"a litter size of {low}, {usual}, {high} does not go upwards",
            expected="low, usual and high in that order",
            remedy="correct the three numbers",
        )
        return USUAL_LITTER
    return LitterSize(low, usual, high)


def _litters_a_year(form: SpeciesForm, report: Report) -> int:
    if form.litters_a_year is None:
        return 1
    if form.litters_a_year.value == 0:
        report.error(
            Kind.VALUE_WRONG, form.litters_a_year, "a species with no litters a year is not bred", expected="1 or more", remedy="write 1"
        )
    return form.litters_a_year.value or 1


def _by_sex(tree: Node | None, read: Callable[[Scalar, Report], int | None], report: Report) -> dict[Sex, int]:
    """A bound that holds for both sexes or is written by sex."""
    if isinstance(tree, Scalar) and not tree.blank:
        value = read(tree, report)
        return {} if value is None else {Sex.FEMALE: value, Sex.MALE: value}
    found = {}
    for key, node in as_text_map(tree, report):
        if key.text not in ("female", "male"):
            report.error(
                Kind.KEY_UNKNOWN, key, f'"{key.text}" is not a sex', expected="female or male", remedy="write female or male"
            )
        elif (value := read(node, report)) is not None:
            found[Sex(key.text)] = value
    return found


def place_of(look: Look, species: Species) -> Place:
    """Where the locus of a look stands."""
    return species.gene_places.get(look.locus, species.place)
