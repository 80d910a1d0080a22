"""From the written form of a species to :class:`~sitegen.content.species.Species` and the names of its genes."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.content.bind_linkage import background, background_by_locus, bind_combinations, bind_linkages
from sitegen.content.bind_loci import LooseLocus, bind_locus, texts
from sitegen.content.gene_names import SAW_NONE, GeneNames, gene_names
from sitegen.content.report import Report
from sitegen.content.species import Births, BreedingSeason, LitterSize, Species
from sitegen.content.written.forms import as_text_map
from sitegen.content.written.species import LocusForm, SpeciesForm
from sitegen.content.written.values import read_grams, read_months
from sitegen.content.yaml_tree import Entries, Node, Scalar
from sitegen.findings import Kind
from sitegen.genetics.loci import WILD, Genome, Locus, Sex, SexSystem, look_id

USUAL_LITTER = LitterSize(4, 10, 20)
"""Taken when a species file says nothing. Source: common practice, no source."""


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
    _check_ids(loose, report)
    broken = frozenset(look_id(i) for i in (form.loci or {}) if i not in {one.locus.id for one in loose})
    names = gene_names(name, file, genome, broken)
    odds = background_by_locus(form.background, names, report)
    genome = replace(
        genome,
        loci=tuple(_looked_up(one, odds.get(one.locus.id), names, report) for one in loose),
        linkages=bind_linkages(form, names, report),
        combinations=bind_combinations(form.combinations, names, report),
    )
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
        breeding_season=_breeding_season(form),
        rest=form.rest.value if form.rest else 0,
        takes=_takes(form, report),
    )
    names = gene_names(name, file, genome, broken)
    _check_names(names, species, report)
    return BoundSpecies(species, names, form.litter_size is not None)


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
        else:
            found.append(bind_locus(key, written, sexes, report))
    return found


def _check_ids(loose: list[LooseLocus], report: Report) -> None:
    """Tells alleles and looks of two loci that have the same id."""
    taken: dict[str, str] = {}
    for one in loose:
        ids = dict.fromkeys(look_id(i) for i in (*(a.id for a in one.locus.alleles), *(x.id for x in one.locus.looks)))
        for shared in (i for i in ids if i in taken):
            report.error(
                Kind.ID_TWICE,
                one.place,
                f'"{shared}" is an allele or look of two loci, {taken[shared]} and {one.locus.id}',
                expected="an id of its own for each allele and look of a species",
                nearest=f"{shared}-{one.locus.id}" if shared != one.locus.id else f"{shared}-2",
                remedy="rename one of the two",
            )
        taken |= {i: one.locus.id for i in ids if i not in taken}


def _check_names(names: GeneNames, species: Species, report: Report) -> None:
    """Tells a gene, a look or a combination that is called as what shows no gene is called."""
    for word in sorted(SAW_NONE & {*names.looks, *names.alleles, *names.loci}):
        looks, allele = names.looks.get(word, ()), names.alleles.get(word)
        locus = allele[0] if allele else looks[0].locus if looks else names.loci[word]
        report.error(
            Kind.ID_WRONG,
            species.gene_places.get(locus, species.place),
            f'"{word.replace("-", " ")}" is the word for an animal that shows none of the genes, and no gene, look or '
            "combination can be called so",
            expected="a name of its own; what shows nothing is left out of looks",
            remedy="choose another id or name, or delete the line",
        )


def _looked_up(one: LooseLocus, odds: Node | None, names: GeneNames, report: Report) -> Locus:
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
    return replace(locus, background=background(locus, odds, names, report))


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
            Kind.VALUE_WRONG,
            form.litters_a_year,
            "a species with no litters a year is not bred",
            expected="1 or more",
            remedy="write 1",
        )
    return form.litters_a_year.value or 1


def _breeding_season(form: SpeciesForm) -> BreedingSeason | None:
    written = form.breeding_season
    return None if written is None else BreedingSeason(written.paired.value, written.born.value)


def _takes(form: SpeciesForm, report: Report) -> Fraction:
    if form.takes is None:
        return Fraction(1)
    if form.takes.value == 0:
        report.error(
            Kind.VALUE_WRONG,
            form.takes,
            "a species of which no pairing ever gives a litter is not bred",
            expected="the share of pairings that give a litter: more than 0, up to 1",
            remedy="write what your own records give, or leave the line out",
        )
        return Fraction(1)
    return form.takes.value


def _by_sex(tree: Node | None, read: Callable[[Scalar, Report], int | None], report: Report) -> dict[Sex, int]:
    """A bound that holds for both sexes or is written by sex."""
    if isinstance(tree, Scalar) and not tree.blank:
        value = read(tree, report)
        return {} if value is None else {Sex.FEMALE: value, Sex.MALE: value}
    found = {}
    for key, node in as_text_map(tree, report):
        if key.text not in ("female", "male"):
            report.error(
                Kind.KEY_UNKNOWN,
                key,
                f'"{key.text}" is not a sex',
                expected="female or male",
                remedy="write female or male",
            )
        elif (value := read(node, report)) is not None:
            found[Sex(key.text)] = value
    return found
