"""One model for each kind of page: all that its template can see."""

from dataclasses import dataclass

from sitegen.site.gene_models import PairingTable
from sitegen.site.parts import (
    AnimalEntry,
    CautionView,
    ClaimView,
    Field,
    IconArray,
    Line,
    LitterRow,
    OfferView,
    Plate,
    Prose,
    Sieve,
    SpeciesGroup,
    WeightLine,
    YearGroup,
)


@dataclass(frozen=True, slots=True)
class StartPage:
    """The first page."""

    name: str
    tagline: str
    about: Prose
    lead: Plate | None
    offered: tuple[AnimalEntry, ...]
    offered_note: Line
    cautions: tuple[CautionView, ...]
    litters: tuple[LitterRow, ...]
    plates: tuple[Plate, ...]
    news: tuple["NewsItem", ...]
    odds: IconArray | None
    odds_words: tuple[Line, ...]
    available_href: str
    collection_href: str
    litters_href: str
    odds_href: str
    projects_href: str
    journal: Line = ()


@dataclass(frozen=True, slots=True)
class NewsItem:
    """A dated note on a project."""

    date: str
    title: str
    project: Line
    href: str


@dataclass(frozen=True, slots=True)
class CollectionPage:
    """Every animal that is kept, by species; ``nobody`` says so where there is none."""

    groups: tuple[SpeciesGroup, ...]
    gone: tuple[AnimalEntry, ...]
    cautions: tuple[CautionView, ...]
    intro: Line
    nobody: str
    sieve: Sieve | None


@dataclass(frozen=True, slots=True)
class Relatives:
    """Animals that are related in one way: dam, sire, littermates, young of one litter."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class MealRow:
    """One line of the feeding record."""

    date: str
    what: str
    taken: str


@dataclass(frozen=True, slots=True)
class Ancestor:
    """One place of a small pedigree: its part (dam, sire's sire) and who it is."""

    part: str
    who: Line


@dataclass(frozen=True, slots=True)
class AnimalPage:
    """One animal; also an offered young.

    ``in_words`` is true of every animal; ``no_hidden`` stands where ``hidden`` is empty, and is empty otherwise.
    """

    name: str
    kicker: Line
    label: tuple[Field, ...]
    lead: Plate
    in_words: Line
    no_hidden: str
    offer: OfferView | None
    ask: Line
    shows: tuple[ClaimView, ...]
    hidden: tuple[ClaimView, ...]
    ruled_out: tuple[ClaimView, ...]
    harms: tuple[CautionView, ...]
    not_known: tuple[Line, ...]
    combination: Line
    odds_method: Line
    strip: tuple[Plate, ...]
    pedigree: tuple[Ancestor, ...]
    related: tuple[Relatives, ...]
    inbreeding: tuple[Line, ...]
    weights: WeightLine | None
    meals: tuple[MealRow, ...]
    cautions: tuple[CautionView, ...]
    about: Prose
    paper: Line = ()
    changes: tuple[Field, ...] = ()
    changes_note: Line = ()
    projects: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class LittersPage:
    """The ledger of litters, newest first; ``none`` says so where there is none."""

    years: tuple[YearGroup, ...]
    intro: Line
    none: str


@dataclass(frozen=True, slots=True)
class OutcomeRow:
    """One look: how many of 100, how many of this litter on average, and how many came."""

    look: Line
    in_100: str
    exact: str
    expected: str
    came: str
    hidden: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a pairing could give, beside what it gave. ``came`` of its rows is empty before the young are here."""

    heading: str
    words: tuple[Line, ...]
    average_heading: str
    rows: tuple[OutcomeRow, ...]
    came_known: bool
    further: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class LitterPage:
    """One litter or clutch."""

    name: str
    kicker: Line
    label: tuple[Field, ...]
    lead: Plate | None
    plates: tuple[Plate, ...]
    parents: tuple[Plate, ...]
    outcome: Outcome | None
    young: tuple[AnimalEntry, ...]
    young_word: str
    others: tuple[Line, ...]
    inbreeding: tuple[Line, ...]
    cautions: tuple[CautionView, ...]
    about: Prose


@dataclass(frozen=True, slots=True)
class AvailablePage:
    """What is offered now, and what was; ``sold_note`` goes with those that were sold."""

    groups: tuple[SpeciesGroup, ...]
    held: tuple[AnimalEntry, ...]
    sold: tuple[AnimalEntry, ...]
    intro: Line
    sieve: Sieve | None
    sold_note: str
    cautions: tuple[CautionView, ...]
    contact: tuple[Field, ...]
    contact_note: str
    rules: Line = ()
    compare: tuple[Field, ...] = ()
    compare_label: str = ""


@dataclass(frozen=True, slots=True)
class GeneRow:
    """A locus in the list of genes."""

    name: Line
    inherited: str
    here: str


@dataclass(frozen=True, slots=True)
class CombinationRow:
    """A trade name for several genes together, with its parts."""

    name: str
    parts: Line


@dataclass(frozen=True, slots=True)
class SpeciesGenes:
    """The genes of one species; ``no_genes`` says so where there is none."""

    id: str
    name: str
    scientific: str
    rows: tuple[GeneRow, ...]
    no_genes: str
    combinations: tuple[CombinationRow, ...]
    about: Prose


@dataclass(frozen=True, slots=True)
class GenesPage:
    """The guide to genes, by species."""

    species: tuple[SpeciesGenes, ...]
    intro: Line


@dataclass(frozen=True, slots=True)
class LookRow:
    """One genotype of a locus and what it looks like."""

    genotype: str
    shows: str
    passed_on: str


@dataclass(frozen=True, slots=True)
class AlleleView:
    """One named allele: what it looks like, how it is inherited, what to know."""

    id: str
    name: str
    inherited: Line
    about: Prose
    notes: tuple[Line, ...]
    cautions: tuple[CautionView, ...]


@dataclass(frozen=True, slots=True)
class GenePage:
    """One locus; ``unanswered`` tells of animals whose records give no answer, ``nobody`` that none has it."""

    name: str
    kicker: Line
    alleles: tuple[AlleleView, ...]
    looks: tuple[LookRow, ...]
    plates: tuple[Plate, ...]
    showing: tuple[Line, ...]
    carrying: tuple[Line, ...]
    perhaps: tuple[Line, ...]
    unanswered: str
    nobody: str
    combinations: tuple[CombinationRow, ...]
    compare: tuple[Line, ...] = ()
    pairings: tuple[PairingTable, ...] = ()
    pairings_heading: str = ""
    pairings_intro: str = ""


@dataclass(frozen=True, slots=True)
class Passage:
    """A titled part of a text, with an anchor."""

    id: str
    title: str
    paragraphs: tuple[Line, ...]
    odds: IconArray | None = None


@dataclass(frozen=True, slots=True)
class OddsPage:
    """How to read our odds, and how they are made."""

    passages: tuple[Passage, ...]


@dataclass(frozen=True, slots=True)
class FreePageView:
    """A page in the breeder's own words."""

    title: str
    text: Prose


@dataclass(frozen=True, slots=True)
class NotFoundPage:
    """The page for an address that is not there."""

    title: str
    text: Line
    links: tuple[Line, ...]
