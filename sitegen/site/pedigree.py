"""A pedigree of three generations as pure layout: which symbol stands where, what fills it, and what the legend says.

The unit is a tenth of a step of the drawing; every place is a whole number.

Source:
    Bennett RL et al. (2008) *J Genet Couns* 17:424-433 and Bennett RL, French KS, Resta RG, Austin J (2022)
    *J Genet Couns*, doi 10.1002/jgc4.1621: square for a male, circle for a female, diamond where the sex is not
    known; filled for what is shown; the symbol divided for several traits, each keyed in the legend; a carrier by
    a patterned region, not by a dot; a question mark where nothing is known; a diagonal for one that has died; a
    legend, always. From memory: one line between mates and two lines between mates that are related, Roman numbers
    for generations and Arabic ones within them, the male to the left, an arrow at the one who is asked about.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from sitegen.content.animals import Animal
from sitegen.evidence.chances import alleles_of, chance_of_allele, looks_with
from sitegen.evidence.judging import look_seen
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.questions import AnimalId
from sitegen.site.animal import dam_of, sire_of
from sitegen.site.material import Folio
from sitegen.words.speech import _, capital, listed, plain


class Fill(StrEnum):
    """What fills the region of one gene in a symbol."""

    SHOWS = "shows"
    CARRIES = "carries"
    MAY_CARRY = "may carry"
    OPEN = "open"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class PedigreeWords:
    """Legend and description.

    Attributes:
        title: Of the drawing, with the place ``name``.
        not_recorded: Below the symbol of a parent of whom nothing is recorded.
        no_parents: Said when there is nothing but the animal to draw.
        shapes: What square, circle and diamond mean.
        regions: Number of genes (one, two, three or four) to where the region of each lies, with the place ``gene``.
        fills: What fills a region.
        asked, died, related, twice, undrawn: The other marks and notes.
        said, said_shapes, said_died, said_related: The same in the description.
    """

    title: str
    not_recorded: str
    no_parents: str
    shapes: tuple[str, str, str]
    regions: tuple[tuple[str, ...], ...]
    fills: Mapping[Fill, str]
    asked: str
    died: str
    related: str
    twice: str
    undrawn: str
    said: Mapping[Fill, str]
    said_shapes: Mapping[str, str]
    said_died: str
    said_related: str


def pedigree_words() -> PedigreeWords:
    """The words in the language of the site."""
    return PedigreeWords(
        title=_("Pedigree of {name}: parents and grandparents"),
        not_recorded=_("not recorded"),
        no_parents=_("Its parents are not recorded."),
        shapes=(_("male"), _("female"), _("sex not known")),
        regions=(
            (_("{gene}"),),
            (_("left: {gene}"), _("right: {gene}")),
            (_("upper left: {gene}"), _("upper right: {gene}"), _("lower left: {gene}"), _("lower right: {gene}")),
        ),
        fills={
            Fill.SHOWS: _("filled: shows it"),
            Fill.CARRIES: _("crossed lines: has it unseen, or is said to"),
            Fill.MAY_CARRY: _("single lines: may have it unseen"),
            Fill.OPEN: _("open: not known to have it"),
            Fill.UNKNOWN: _("question mark: not known"),
        },
        asked=_("arrow: the animal of this paper"),
        died=_("stroke: has died"),
        related=_("double line: the two are related"),
        twice=_("An animal in two places is drawn twice."),
        undrawn=_("Genes beyond these four are told above and not drawn."),
        said={
            Fill.SHOWS: _("shows it"),
            Fill.CARRIES: _("has it unseen, or is said to"),
            Fill.MAY_CARRY: _("may have it unseen"),
            Fill.OPEN: _("not known to have it"),
            Fill.UNKNOWN: _("nothing is known"),
        },
        said_shapes={"square": _("male"), "circle": _("female"), "diamond": _("sex not known")},
        said_died=_("has died"),
        said_related=_("A double line joins mates that are related."),
    )


COLUMN, ROW, TOP, LEFT = 940, 640, 130, 130
"""Width of a grandparent's column, distance of the generations, and the first symbol's centre from the edges."""
MOST_GENES = 4
"""A symbol has four quarters."""
_LONGEST_LINE, _MOST_LINES = 19, 2
_NUMERALS = ("I", "II", "III")


class Outline(StrEnum):
    """The outline of a symbol."""

    SQUARE = "square"
    CIRCLE = "circle"
    DIAMOND = "diamond"


@dataclass(frozen=True, slots=True)
class Symbol:
    """One animal: its outline, what fills each region in the order of the genes, and what is written below.

    ``number`` is its place, such as ``II-1``; ``name`` is whole, ``lines`` are what fits below the symbol.
    """

    x: int
    y: int
    shape: Outline
    regions: tuple[Fill, ...]
    number: str = ""
    name: str = ""
    lines: tuple[str, ...] = ()
    died: bool = False
    asked: bool = False


@dataclass(frozen=True, slots=True)
class Mates:
    """A line between two mates, and one down to their young; two lines when they are related."""

    left: int
    right: int
    y: int
    middle: int
    young_y: int
    related: bool


@dataclass(frozen=True, slots=True)
class Key:
    """A line of the legend: a small symbol (or a piece of line) and what it means."""

    text: str
    symbol: Symbol | None = None
    double_line: bool = False


@dataclass(frozen=True, slots=True)
class PedigreeChart:
    """The whole drawing with its text alternative. ``generations`` are the Roman numbers and where they stand."""

    wide: int
    high: int
    symbols: tuple[Symbol, ...]
    mates: tuple[Mates, ...]
    generations: tuple[tuple[str, int], ...]
    keys: tuple[Key, ...]
    title: str
    description: str


@dataclass(frozen=True, slots=True)
class _Gene:
    locus: Locus
    allele: str
    name: str


@dataclass(frozen=True, slots=True)
class _Position:
    """A place of the pedigree: generation from the oldest that is drawn, column in halves, and who stands there."""

    generation: int
    half_column: int
    animal: Animal | None
    sex: Sex
    name: str = ""
    asked: bool = False


def pedigree_chart(animal: Animal, folio: Folio) -> PedigreeChart:
    """The animal, its parents and its grandparents, as far as they are recorded."""
    family = _family(animal, folio)
    words = pedigree_words()
    own = _symbol(_Position(family.last, 4, animal, animal.sex, asked=True), 1, family.regions, folio)
    return PedigreeChart(
        wide=LEFT + 4 * COLUMN,
        high=TOP + family.last * ROW + 440,
        symbols=(*family.symbols, own),
        mates=family.mates,
        generations=tuple((_NUMERALS[row], TOP + row * ROW) for row in range(family.last + 1)),
        keys=family.keys,
        title=words.title.format(name=own.name),
        description=" ".join((_told(own, family.genes, words, known=True), *family.told)),
    )


@dataclass(frozen=True, slots=True)
class _Drawn:
    """What is drawn around an animal.

    Attributes:
        genes: Those that are drawn.
        regions: How the animal itself stands to each.
        symbols: Its parents and grandparents.
        mates: The lines between them and down to the animal.
        last: The generation of the animal, from the oldest that is drawn.
        keys: The legend.
        told: What follows in the description on the sentence about the animal.
    """

    genes: tuple[_Gene, ...]
    regions: tuple[Fill, ...]
    symbols: tuple[Symbol, ...]
    mates: tuple[Mates, ...]
    last: int
    keys: tuple[Key, ...]
    told: tuple[str, ...]


def _family(animal: Animal, folio: Folio) -> _Drawn:
    """The parents and grandparents of an animal, with what follows from its own claims."""
    all_genes = _genes(animal, folio)
    genes = all_genes[:MOST_GENES]
    places, last, pairs = _places(animal, folio)
    regions, symbols = _regions(animal, genes, folio), _ancestors(places, genes, folio)
    mates = tuple(_mates(*pair) for pair in pairs)
    words = pedigree_words()
    notes = [words.twice] if _twice(places) else []
    notes += [words.undrawn] if len(all_genes) > len(genes) else []
    told = [
        _told(symbol, genes, words, known=place.animal is not None)
        for place, symbol in reversed(list(zip(places, symbols, strict=True)))
    ]
    if not mates:
        told.append(words.no_parents)
    told += [capital(words.said_related)] if any(pair.related for pair in mates) else []
    keys = _keys(
        tuple(gene.name for gene in genes),
        frozenset((*regions, *(fill for symbol in symbols for fill in symbol.regions))),
        died=animal.died is not None or any(symbol.died for symbol in symbols),
        related=any(pair.related for pair in mates),
    )
    return _Drawn(genes, regions, symbols, mates, last, (*keys, *(Key(note) for note in notes)), tuple(told))


def _genes(animal: Animal, folio: Folio) -> tuple[_Gene, ...]:
    """The genes of the animal's own claims, strongest first."""
    genome = folio.collection.species[animal.species].genome
    found: dict[tuple[str, str], _Gene] = {}
    for claim in folio.claims(animal.id):
        locus = genome.locus(claim.locus)
        for allele in alleles_of(claim, locus):
            found.setdefault((locus.id, allele), _Gene(locus, allele, locus.allele(allele).name))
    return tuple(found.values())


def _places(animal: Animal, folio: Folio) -> tuple[list[_Position], int, list[tuple[int, int, int, int, bool]]]:
    """Which ancestor stands where, the generation of the animal, and the pairs as of :func:`_mates`."""
    inbreeding = folio.material.answers.inbreeding
    parents = (sire_of(animal, folio), dam_of(animal, folio))
    older = [parent for parent in parents if parent and (parent.dam or parent.sires)]
    has_parents = bool(animal.dam or animal.sires)
    first = 1 if older else 0
    own_row = first + 1 if has_parents else 0
    places, pairs = [], []
    for side, parent in enumerate(parents):
        middle = 2 + 4 * side
        if parent in older and parent is not None:
            places += _pair(parent, 0, middle - 1, middle + 1, folio)
            pairs.append((0, middle - 1, middle, middle + 1, bool(inbreeding.get(parent.id))))
    if has_parents:
        places += _pair(animal, first, 2, 6, folio)
        pairs.append((first, 2, 4, 6, bool(inbreeding.get(animal.id))))
    return places, own_row, pairs


def _pair(young: Animal, generation: int, left: int, right: int, folio: Folio) -> list[_Position]:
    """The sire on the left and the dam on the right; several possible sires stand as one that is not known."""
    words = pedigree_words()
    sires = [folio.name(folio.collection.animals[sire]) for sire, _share in young.sires]
    sire_name = plain(listed(sires, either=True)) if sires else words.not_recorded
    return [
        _Position(generation, left, sire_of(young, folio), Sex.MALE, sire_name),
        _Position(generation, right, dam_of(young, folio), Sex.FEMALE, words.not_recorded),
    ]


def _ancestors(places: Sequence[_Position], genes: Sequence[_Gene], folio: Folio) -> tuple[Symbol, ...]:
    """The symbols of parents and grandparents."""
    ranks = [sum(other.generation == place.generation for other in places[:at]) for at, place in enumerate(places)]
    return tuple(
        _symbol(place, rank + 1, _regions(place.animal, genes, folio), folio)
        for place, rank in zip(places, ranks, strict=True)
    )


def _regions(animal: Animal | None, genes: Sequence[_Gene], folio: Folio) -> tuple[Fill, ...]:
    """What fills each region of the symbol of an animal, or of nobody that is recorded."""
    return tuple(_fill(animal, gene, folio) for gene in genes) if animal else (Fill.UNKNOWN,)


def _symbol(place: _Position, rank: int, regions: tuple[Fill, ...], folio: Folio) -> Symbol:
    """One animal; ``rank`` is its place in its generation, from the left."""
    animal = place.animal
    sex = animal.sex if animal and animal.sex is not Sex.UNKNOWN else place.sex
    shape = {Sex.MALE: Outline.SQUARE, Sex.FEMALE: Outline.CIRCLE}.get(sex, Outline.DIAMOND)
    name = folio.name(animal) if animal else place.name
    return Symbol(
        x=_x(place.half_column),
        y=_y(place.generation),
        shape=shape,
        regions=regions,
        number=f"{_NUMERALS[place.generation]}-{rank}",
        name=name,
        lines=wrapped(name),
        died=bool(animal and animal.died),
        asked=place.asked,
    )


def _fill(animal: Animal, gene: _Gene, folio: Folio) -> Fill:
    """How the animal stands to one gene."""
    posterior = folio.material.answers.posteriors.get(animal.id, {}).get(gene.locus.id, {})
    if not posterior:
        return Fill.UNKNOWN
    chance = chance_of_allele(posterior, gene.allele)
    if not chance:
        return Fill.OPEN
    look = look_seen(animal, gene.locus)
    if look and chance == 1 and look in looks_with(gene.locus, gene.allele):
        return Fill.SHOWS
    return Fill.CARRIES if chance == 1 else Fill.MAY_CARRY


def _mates(generation: int, left: int, middle: int, right: int, related: bool) -> Mates:
    """The lines of a pair: generation; left, middle and right half column, with its young below the middle."""
    return Mates(_x(left), _x(right), _y(generation), _x(middle), _y(generation + 1), related)


def _x(half_column: int) -> int:
    return LEFT + half_column * COLUMN // 2


def _y(generation: int) -> int:
    return TOP + generation * ROW


def wrapped(name: str) -> tuple[str, ...]:
    """A name in lines that fit below a symbol; what is too long ends in an ellipsis.

    >>> wrapped("No. 03 of Fennel and Cinnabar 2026")
    ('No. 03 of Fennel', 'and Cinnabar 2026')
    """
    lines = [""]
    for word in name.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and len(longer) > _LONGEST_LINE:
            lines.append(word)
        else:
            lines[-1] = longer
    kept = [line if len(line) <= _LONGEST_LINE else line[: _LONGEST_LINE - 1] + "…" for line in lines[:_MOST_LINES]]
    if len(lines) > _MOST_LINES:
        kept[-1] = kept[-1][: _LONGEST_LINE - 1].rstrip(" …") + "…"
    return tuple(kept)


def _twice(places: Sequence[_Position]) -> bool:
    """True when one animal stands in two places, as after a back-cross."""
    found: list[AnimalId] = [place.animal.id for place in places if place.animal]
    return len(set(found)) < len(found)


def _keys(genes: tuple[str, ...], drawn: frozenset[Fill], *, died: bool, related: bool) -> tuple[Key, ...]:
    """The outlines, the region of each gene by name, what fills it, and every other mark that is drawn."""
    words = pedigree_words()
    plain_fill = (Fill.OPEN,)
    keys = [Key(text, Symbol(0, 0, shape, plain_fill)) for shape, text in zip(Outline, words.shapes, strict=True)]
    for rank, gene in enumerate(genes):
        here = tuple(Fill.SHOWS if rank == other else Fill.OPEN for other in range(len(genes)))
        region = words.regions[min(len(genes), 3) - 1][rank]
        keys.append(Key(region.format(gene=gene), Symbol(0, 0, Outline.SQUARE, here)))
    wanted = [fill for fill in Fill if fill in drawn or fill not in (Fill.UNKNOWN,)]
    keys += [Key(words.fills[fill], Symbol(0, 0, Outline.SQUARE, (fill,))) for fill in wanted] if genes else []
    if not genes and Fill.UNKNOWN in drawn:
        keys.append(Key(words.fills[Fill.UNKNOWN], Symbol(0, 0, Outline.SQUARE, (Fill.UNKNOWN,))))
    keys.append(Key(words.asked, Symbol(0, 0, Outline.SQUARE, plain_fill, asked=True)))
    if died:
        keys.append(Key(words.died, Symbol(0, 0, Outline.SQUARE, plain_fill, died=True)))
    if related:
        keys.append(Key(words.related, double_line=True))
    return tuple(keys)


def _told(symbol: Symbol, genes: Sequence[_Gene], words: PedigreeWords, *, known: bool) -> str:
    """A symbol in words, one sentence; ``known`` is False where nobody is recorded in its place."""
    states = [f"{gene.name}: {words.said[fill]}" for gene, fill in zip(genes, symbol.regions, strict=False)]
    standing = "; ".join(states) if known else words.said[Fill.UNKNOWN]
    died = f", {words.said_died}" if symbol.died else ""
    return f"{symbol.number} {symbol.name} ({words.said_shapes[symbol.shape.value]}{died}): {standing}."
