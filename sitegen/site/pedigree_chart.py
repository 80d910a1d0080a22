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

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from sitegen.content.animals import Animal
from sitegen.content.off_site import is_off_site
from sitegen.evidence.judging import look_seen
from sitegen.evidence.kinds import alleles_of, chance_of_allele, looks_with
from sitegen.genetics.loci import Locus, Sex
from sitegen.site.material import Folio
from sitegen.words.speech import _, capital, plain


class Fill(StrEnum):
    """What fills the region of one gene in a symbol."""

    SHOWS = "shows"
    CARRIES = "carries"
    MAY_CARRY = "may carry"
    OPEN = "open"
    UNKNOWN = "unknown"


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


OUTLINES = {Sex.MALE: Outline.SQUARE, Sex.FEMALE: Outline.CIRCLE}
"""By sex; a diamond where it is not known."""


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
    """A place of the pedigree: generation from the oldest that is drawn, column in halves, and who stands there.

    ``sex`` and ``name`` are told where no animal is recorded.
    """

    generation: int
    half_column: int
    animal: Animal | None
    sex: Sex = Sex.UNKNOWN
    name: str = ""


def pedigree_chart(animal: Animal, folio: Folio) -> PedigreeChart:
    """The animal, its parents and its grandparents, as far as they are recorded."""
    every_gene = _genes(animal, folio)
    genes = every_gene[:MOST_GENES]
    ancestors, mates = _layout(animal, folio)
    last = max((place.generation for place in ancestors), default=-1) + 1
    places = [*ancestors, _Position(last, 4, animal)]
    symbols = _symbols(places, genes, folio)
    related = any(pair.related for pair in mates)
    keys = _keys(genes, symbols, related=related)
    if _twice(places):
        keys.append(Key(_("An animal in two places is drawn twice.")))
    if len(every_gene) > len(genes):
        keys.append(Key(_("Genes beyond these four are told above and not drawn.")))
    told = [_told(place, symbol, genes) for place, symbol in zip(places, symbols, strict=True)]
    told.reverse()
    if not mates:
        told.append(_("The parents are not recorded."))
    if related:
        told.append(capital(_("A double line joins mates that are related.")))
    return PedigreeChart(
        wide=LEFT + 4 * COLUMN,
        high=TOP + last * ROW + 440,
        symbols=symbols,
        mates=mates,
        generations=tuple((_NUMERALS[row], _y(row)) for row in range(last + 1)),
        keys=tuple(keys),
        title=_("Pedigree of {name}: parents and grandparents").format(name=symbols[-1].name),
        description=" ".join(told),
    )


def dam_of(animal: Animal | None, folio: Folio) -> Animal | None:
    """The recorded dam, if she is shown: of one that is not no ancestor is told either."""
    return folio.collection.animals[animal.dam] if animal and animal.dam and not is_off_site(animal.dam) else None


def sire_of(animal: Animal | None, folio: Folio) -> Animal | None:
    """The sire, when exactly one is recorded, likewise."""
    sires = [sire for sire, _share in animal.sires] if animal else []
    return folio.collection.animals[sires[0]] if len(sires) == 1 and not is_off_site(sires[0]) else None


def _genes(animal: Animal, folio: Folio) -> tuple[_Gene, ...]:
    """The genes of the animal's own claims, strongest first."""
    genome = folio.collection.species[animal.species].genome
    found: dict[tuple[str, str], _Gene] = {}
    for claim in folio.claims(animal.id):
        locus = genome.locus(claim.locus)
        for allele in alleles_of(claim, locus):
            found.setdefault((locus.id, allele), _Gene(locus, allele, locus.allele(allele).name))
    return tuple(found.values())


def _layout(animal: Animal, folio: Folio) -> tuple[list[_Position], tuple[Mates, ...]]:
    """Which ancestor stands where, grandparents first, and the lines of the pairs; nothing without a parent.

    The four columns are counted in halves: the sire's parents stand at 1 and 3, the dam's at 5 and 7, the parents
    between theirs at 2 and 6, the animal at 4.
    """
    places: list[_Position] = []
    mates = []
    parents = (sire_of(animal, folio), dam_of(animal, folio))
    older = [parent is not None and bool(parent.dam or parent.sires) for parent in parents]
    for middle, parent, known in zip((2, 6), parents, older, strict=True):
        if parent and known:
            places += _pair(parent, 0, middle - 1, middle + 1, folio)
            mates.append(_mates(parent, 0, middle, 1, folio))
    if animal.dam or animal.sires:
        row = 1 if any(older) else 0
        places += _pair(animal, row, 2, 6, folio)
        mates.append(_mates(animal, row, 4, 2, folio))
    return places, tuple(mates)


def _pair(young: Animal, generation: int, left: int, right: int, folio: Folio) -> list[_Position]:
    """The sire on the left and the dam on the right; several possible sires stand as one that is not known."""
    nobody = _("not recorded")
    sires = plain(folio.voice.animals([sire for sire, _share in young.sires], either=True))
    dam = folio.voice.animal(young.dam).text if young.dam else nobody
    return [
        _Position(generation, left, sire_of(young, folio), Sex.MALE, sires or nobody),
        _Position(generation, right, dam_of(young, folio), Sex.FEMALE, dam),
    ]


def _mates(young: Animal, generation: int, middle: int, apart: int, folio: Folio) -> Mates:
    """The lines between the parents of an animal, so many half columns from the middle, and down to it."""
    related = bool(folio.material.answers.inbreeding.get(young.id))
    left, right = _x(middle - apart), _x(middle + apart)
    return Mates(left, right, _y(generation), _x(middle), _y(generation + 1), related)


def _symbols(places: Sequence[_Position], genes: Sequence[_Gene], folio: Folio) -> tuple[Symbol, ...]:
    """A symbol for each place, numbered within its generation from the left; the last one is the animal itself."""
    ranks: Counter[int] = Counter()
    found = []
    for place in places:
        animal, row = place.animal, place.generation
        ranks[row] += 1
        sex = animal.sex if animal and animal.sex is not Sex.UNKNOWN else place.sex
        name = folio.name(animal) if animal else place.name
        symbol = Symbol(
            x=_x(place.half_column),
            y=_y(row),
            shape=OUTLINES.get(sex, Outline.DIAMOND),
            regions=tuple(_fill(animal, gene, folio) for gene in genes) if animal else (Fill.UNKNOWN,),
            number=f"{_NUMERALS[row]}-{ranks[row]}",
            name=name,
            lines=wrapped(name),
            died=bool(animal and animal.died),
            asked=place is places[-1],
        )
        found.append(symbol)
    return tuple(found)


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
    found = [place.animal.id for place in places if place.animal]
    return len(set(found)) < len(found)


def _regions(n_genes: int) -> tuple[str, ...]:
    """Where the region of each gene lies, with the place ``gene``; a symbol of three has four quarters."""
    if n_genes < 3:
        return ((_("{gene}"),), (_("left: {gene}"), _("right: {gene}")))[n_genes - 1]
    return (_("upper left: {gene}"), _("upper right: {gene}"), _("lower left: {gene}"), _("lower right: {gene}"))


def _keys(genes: Sequence[_Gene], symbols: Sequence[Symbol], *, related: bool) -> list[Key]:
    """The outlines, the region of each gene by name, what fills it, and every other mark that is drawn."""
    fills = {
        Fill.SHOWS: _("filled: shows it"),
        Fill.CARRIES: _("crossed lines: has it unseen, or is said to"),
        Fill.MAY_CARRY: _("single lines: may have it unseen"),
        Fill.OPEN: _("open: not known to have it"),
        Fill.UNKNOWN: _("question mark: not known"),
    }
    drawn = {fill for symbol in symbols for fill in symbol.regions}
    shapes = (_("male"), _("female"), _("sex not known"))
    keys = [Key(text, Symbol(0, 0, shape, (Fill.OPEN,))) for shape, text in zip(Outline, shapes, strict=True)]
    for rank, gene in enumerate(genes):
        here = tuple(Fill.SHOWS if rank == other else Fill.OPEN for other in range(len(genes)))
        keys.append(_key(_regions(len(genes))[rank].format(gene=gene.name), here))
    for fill, text in fills.items():
        if fill in drawn or (genes and fill is not Fill.UNKNOWN):
            keys.append(_key(text, (fill,)))
    keys.append(_key(_("arrow: the animal of this paper"), asked=True))
    if any(symbol.died for symbol in symbols):
        keys.append(_key(_("stroke: has died"), died=True))
    if related:
        keys.append(Key(_("double line: the two are related"), double_line=True))
    return keys


def _key(text: str, regions: tuple[Fill, ...] = (Fill.OPEN,), *, died: bool = False, asked: bool = False) -> Key:
    return Key(text, Symbol(0, 0, Outline.SQUARE, regions, died=died, asked=asked))


def _told(place: _Position, symbol: Symbol, genes: Sequence[_Gene]) -> str:
    said = {
        Fill.SHOWS: _("shows it"),
        Fill.CARRIES: _("has it unseen, or is said to"),
        Fill.MAY_CARRY: _("may have it unseen"),
        Fill.OPEN: _("not known to have it"),
        Fill.UNKNOWN: _("nothing is known"),
    }
    states = [f"{gene.name}: {said[fill]}" for gene, fill in zip(genes, symbol.regions, strict=False)]
    standing = (
        ": " + "; ".join(states) if states and place.animal else ""
    )  # else the name says why nothing stands there
    shape = {Outline.SQUARE: _("male"), Outline.CIRCLE: _("female"), Outline.DIAMOND: _("sex not known")}[symbol.shape]
    died = f", {_('has died')}" if symbol.died else ""
    return f"{symbol.number} {symbol.name} ({shape}{died}){standing}."
