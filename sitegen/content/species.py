"""A species: how its file is written, its record, and the names of its genes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from fractions import Fraction
from typing import Any, ClassVar

from sitegen.content.declaration import AsWritten, ByName, ListOf, Written, group_of, key_only, keyed
from sitegen.content.gene_names import SAW_NONE, GeneNames, gene_names
from sitegen.content.intervals import DAYS_FROM, Interval, Start, bind_intervals
from sitegen.content.report import Report
from sitegen.content.species_linkage import LINKED, background, background_by_locus, bind_combinations, bind_linkages
from sitegen.content.species_loci import LOCUS, LooseLocus, bind_locus
from sitegen.content.values import (
    CHANCE,
    MONTH,
    PROSE,
    TEXT,
    TEXTS,
    WHOLE,
    above_zero,
    read_grams,
    read_months,
    words_of,
)
from sitegen.content.yaml_tree import Entries, Node, Scalar, as_text_map, is_blank
from sitegen.findings import Kind, Place, nearest
from sitegen.genetics.loci import WILD, Genome, Locus, Sex, SexSystem, look_id


class Births(StrEnum):
    """Eggs or live young; the words clutch and litter, hatched and born follow from it."""

    EGGS = "eggs"
    LIVE = "live"


@dataclass(frozen=True, slots=True)
class LitterSize:
    """Living young in a litter."""

    low: int = keyed(WHOLE, "Few.", needed=True)
    usual: int = keyed(WHOLE, "The usual number.", needed=True)
    high: int = keyed(WHOLE, "Many.", needed=True)


@dataclass(frozen=True, slots=True)
class BreedingSeason:
    """The usual months.

    From 1 to 12.
    """

    paired: int = keyed(MONTH, "The month of pairing: March, or 3.", needed=True)
    born: int = keyed(
        MONTH, "The month in which the young are born or hatch; of the next year if it comes before.", needed=True
    )


@dataclass(frozen=True, slots=True)
class Learned:
    """What own litters say of a figure.

    Attributes:
        count: Pairings that ended, or litters.
        good: Of these pairings those that gave living young, or the living young of these litters.
        usual: The figure without them, as a :class:`Species` holds it.
    """

    count: int
    good: int
    usual: Any


FIGURES = (
    "litter_size", "litters_a_year", "breeding_age", "breeding_weight", "breeding_season", "rest", "rest_after_failure",
    "takes",
)  # fmt: skip
"""The keys of a species file of which ``sources`` may tell where they come from."""

_BY_SEX = AsWritten(
    {
        "oneOf": [
            {"type": "string"},
            {
                "additionalProperties": False,
                "properties": {"female": {"type": "string"}, "male": {"type": "string"}},
                "type": "object",
            },
        ]
    }
)
_CHANCES = AsWritten({"additionalProperties": {"type": ["string", "number", "object"]}, "type": "object"})
_PARTS = {"items": {"type": "string"}, "type": "array"}
_NAMED_PARTS = {
    "additionalProperties": False,
    "properties": {"name": {"type": "string"}, "parts": _PARTS},
    "required": ["parts"],
    "type": "object",
}
_SOURCES = AsWritten(
    {"additionalProperties": False, "properties": {key: {"type": "string"} for key in FIGURES}, "type": "object"}
)
_COMBINATIONS = AsWritten({"additionalProperties": {"oneOf": [_PARTS, _NAMED_PARTS]}, "type": "object"})
USUAL_LITTER = LitterSize(4, 10, 20)
"""Taken when a species file says nothing. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Species:
    """Facts and genes of one species.

    ``breeding_age_months`` and ``breeding_weight_grams`` are by sex; a sex that is missing has no bound.
    ``gene_places`` tells where each locus stands in the species file. ``rest`` is the number of seasons a dam rests
    after a litter, and after one that failed when she was gravid; ``takes`` the share of pairings that give one.
    ``written`` has the source of each figure that the file writes, by its key, empty where it names none; every other
    figure is only taken for granted. ``learned`` tells of ``takes`` and ``litter_size`` what they would be without the
    keeper's own litters, and how many these are, where they count in it.
    """

    id: str
    genome: Genome
    place: Place
    gene_places: Mapping[str, Place]
    name: str = keyed(TEXT, "What the species is called; the file name when left out.")
    scientific: str = keyed(TEXT, "Its scientific name.")
    births: Births = keyed(words_of(Births), "eggs or live; eggs when left out.", usual=Births.EGGS)
    sexes: ClassVar = key_only(words_of(SexSystem), "XY, ZW, temperature (the warmth of the eggs decides) or unknown.")
    litter_size: LitterSize = keyed(
        group_of(LitterSize, "litter_size"), "Living young: low, usual, high.", usual=USUAL_LITTER
    )
    litters_a_year: int = keyed(WHOLE, "Litters a female can have in a year; 1 when left out.", usual=1)
    breeding_age_months: Mapping[Sex, int] = keyed(
        _BY_SEX, "Age before which it cannot breed, also by sex.", alias="breeding_age"
    )
    breeding_weight_grams: Mapping[Sex, int] = keyed(
        _BY_SEX, "Weight below which it should not be bred, also by sex.", alias="breeding_weight"
    )
    breeding_season: BreedingSeason | None = keyed(
        group_of(BreedingSeason, "breeding_season"),
        "The usual months of pairing and of birth; taken from your litters, else March and July, when left out.",
    )
    rest: int = keyed(WHOLE, "Seasons in which a dam rests after a litter; 0 when left out.", usual=0)
    rest_after_failure: int = keyed(
        WHOLE, "Seasons in which a dam rests after a pairing of which she was not gravid; 0 when left out.", usual=0
    )
    takes: Fraction = keyed(
        CHANCE, "Share of pairings that give living young, such as 9/10; 1 when left out.", usual=Fraction(1)
    )
    days_from: ClassVar = key_only(
        DAYS_FROM, "Days from an event to what follows; what is not written is not foretold."
    )
    intervals: Mapping[Start, Interval] = field(default_factory=dict)
    sources: ClassVar = key_only(
        _SOURCES,
        "By key, where a figure comes from, told beside it: author and year, or common practice, no source.",
        prose=True,
    )
    written: Mapping[str, str] = field(default_factory=dict)
    learned: Mapping[str, Learned] = field(default_factory=dict)
    loci: ClassVar = key_only(ByName(LOCUS), "The genes by id; may be empty.")
    linked: ClassVar = key_only(ListOf(LINKED), "Loci on one chromosome.")
    background: ClassVar = key_only(
        _CHANCES, "Genotype odds of founders and of parents that are not recorded; wild type when left out."
    )
    combinations: ClassVar = key_only(_COMBINATIONS, "Trade names of several looks together.")
    about: str = keyed(PROSE, "Free text, Markdown.", prose=True)
    cautions: tuple[str, ...] = keyed(TEXTS, "Cautions that go with every animal of the species.", prose=True)


SPECIES = group_of(Species, "a species file")


@dataclass(frozen=True, slots=True)
class BoundSpecies:
    """A species and its gene names."""

    species: Species
    names: GeneNames


def bind_species(species_id: str, form: Written, report: Report) -> BoundSpecies:
    """The species; what is faulty in it is left out and told."""
    file = form.start.file
    name = form.name.value if form.name else species_id.replace("-", " ")
    sexes = form.sexes.value if form.sexes else SexSystem.UNKNOWN
    loose = _loci(form, sexes, report)
    genome = Genome(species_id, sexes, tuple(one.locus for one in loose))
    _check_ids(loose, report)
    broken = frozenset(look_id(i) for i in form.loci if i not in {one.locus.id for one in loose})
    names = gene_names(name, file, genome, broken)
    odds = background_by_locus(form.background, names, report)
    genome = replace(
        genome,
        loci=tuple(_looked_up(one, odds.get(one.locus.id), names, report) for one in loose),
        linkages=bind_linkages(form, names, report),
        combinations=bind_combinations(form.combinations, names, report),
    )
    species = form.record(
        Species,
        id=species_id,
        name=name,
        litter_size=_litter_size(form, report),
        litters_a_year=above_zero(
            form.litters_a_year, 1, report, "a species with no litters a year is not bred", "1 or more", "write 1"
        ),
        breeding_age_months=_by_sex(form.breeding_age_months, read_months, report),
        breeding_weight_grams=_by_sex(form.breeding_weight_grams, read_grams, report),
        genome=genome,
        place=form.start,
        gene_places={one.locus.id: one.place.place for one in loose},
        intervals=bind_intervals(form.days_from, report),
        written=_written(form, report),
        takes=above_zero(
            form.takes,
            Fraction(1),
            report,
            "a species of which no pairing ever gives a litter is not bred",
            "the share of pairings that give a litter: more than 0, up to 1",
            "write what your own records give, or leave the line out",
        ),
    )
    names = gene_names(name, file, genome, broken)
    _check_names(names, species, report)
    return BoundSpecies(species, names)


def _loci(form: Written, sexes: SexSystem, report: Report) -> list[LooseLocus]:
    """Every locus that could be bound; one that is named and left empty is told."""
    found = []
    tree = form.node("loci")
    for key, node in tree.entries if isinstance(tree, Entries) else ():
        written = form.loci.get(key.text)
        if written is None and isinstance(node, Scalar) and node.blank:
            written = LOCUS.empty(Entries((), key.place))
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


def _written(form: Written, report: Report) -> dict[str, str]:
    """The source of each figure that is written, empty where none is; one of a figure that is not written is told."""
    found = {name: "" for name in FIGURES if not is_blank(form.node(name))}
    for key, source in as_text_map(form.sources, report):
        if key.text in found:
            found[key.text] = source.text.strip()
        else:
            message = f"sources has one of {key.text}, and no {key.text} is written here"
            near, otherwise = nearest(key.text, list(found)), "write the figure, or delete its source"
            report.unknown(Kind.KEY_UNKNOWN, key, message, "the key of a figure that is written here", near, otherwise)
    return found


def _litter_size(form: Written, report: Report) -> LitterSize:
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
