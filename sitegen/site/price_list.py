"""The price list: everything that can be had, short enough for a table at a fair. Printed, and linked by no page."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.values import PartialDate
from sitegen.evidence.offers import Caution, gene_cautions, offer_cautions
from sitegen.site.addresses import AVAILABLE, can_be_had
from sitegen.site.frame import public
from sitegen.site.lists import nothing_line
from sitegen.site.material import Folio
from sitegen.site.paper import Code, PaperWords, code_to
from sitegen.site.paper_fit import SIZES, lines_of
from sitegen.site.parts import LabelRow, Line, Span, text_of, words
from sitegen.site.views import contact_fields, offer_view, unlinked
from sitegen.words.buying import caution_line, short_caution
from sitegen.words.label_line import LONGEST_IN_LIST
from sitegen.words.speech import _, capital, plain, when_asked

_WIDE, _HIGH = 527, 1500
"""Points of printed width on A4, and of estimated height on two sides of Letter: in print it is an eighth less."""
_ROOM = 240
"""Characters of a label line where there is room."""
_COLUMNS = (Fraction(23, 100), Fraction(1, 2), Fraction(15, 100))
"""Shares of the width: who, what it is, from when; the price takes the rest, in one line."""


@dataclass(frozen=True, slots=True)
class PriceRow:
    """One offer; ``marks`` are the numbers of the notes that go with it."""

    name: Line
    line: Line
    price: str
    goes: str
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PriceGroup:
    """The offers of one species."""

    name: str
    scientific: str
    rows: tuple[PriceRow, ...]


@dataclass(frozen=True, slots=True)
class MarkedNote:
    """A note at the foot, with the number by which rows refer to it."""

    mark: str
    text: str


@dataclass(frozen=True, slots=True)
class PriceListWords:
    """Headings and short words."""

    title: str
    animal: str
    line: str
    price: str
    goes: str
    notes: str
    cautions: str


@dataclass(frozen=True, slots=True)
class PriceListPage:
    """What can be had, for print: up to 60 offers on two sides; ``nothing`` stands where nothing can be had."""

    words: PriceListWords
    stated: LabelRow
    groups: tuple[PriceGroup, ...]
    nothing: Line
    notes: tuple[MarkedNote, ...]
    cautions: tuple[str, ...]
    contact: tuple[LabelRow, ...]
    today: str
    code: Code | None
    back: Line
    printing: str
    type_size: str


price_list_title = when_asked("Price list")


def price_list_page(folio: Folio) -> PriceListPage:
    """Everything that is available or on hold, by species, in record order."""
    offered = [animal for animal in folio.collection.animals.values() if can_be_had(animal)]
    species = [each for each in folio.collection.species if any(animal.species == each for animal in offered)]
    marks = _marks([caution for animal in offered for caution in _harms(animal, folio)], folio)
    general = offer_cautions(folio.collection, *species) if offered else ()
    cautions = [plain(caution_line(c.kind) or short_caution(c, folio.voice)) for c in general]
    address = public(AVAILABLE, folio) if folio.collection.site.address else ""
    for room in (_ROOM, LONGEST_IN_LIST):
        groups = [_group(each, [a for a in offered if a.species == each], marks, room, folio) for each in species]
        size = next((name for name, points in SIZES if _height(groups, [*marks, *cautions], points) <= _HIGH), "")
        if size:
            break
    today = _("What is available today, with pictures and the evidence for every claim: {address}")
    return PriceListPage(
        words=_words(folio),
        stated=stated_row(folio),
        groups=tuple(groups),
        nothing=() if offered else nothing_line(folio),
        notes=tuple(MarkedNote(mark, text) for text, mark in marks.items()),
        cautions=tuple(dict.fromkeys(cautions)),
        contact=contact_fields(folio.collection.site.contact),
        today=today.format(address=address) if address else "",
        code=code_to(address, _("QR code that leads to what is available today")),
        back=(Span(folio.material.labels.available, folio.linker.to(AVAILABLE)),),
        printing=_("This page is made to be printed on A4 or Letter. No page of the site links to it."),
        type_size=size or SIZES[-1][0],
    )


def _height(groups: Sequence[PriceGroup], below: Sequence[str], points: Fraction) -> Fraction:
    """Points that the list takes in that size of type."""
    wide = _WIDE / points
    high = Fraction(14 + 4 * len(groups) + sum(lines_of(text, wide * 4 / 5) for text in below))
    for group in groups:
        for row in group.rows:
            texts = (text_of(row.name), text_of(row.line) + " (1)" * len(row.marks), row.goes)
            pairs = zip(texts, _COLUMNS, strict=True)
            high += max(lines_of(text, wide * share - 1) for text, share in pairs) + Fraction(1, 3)
    return high * Fraction(6, 5) * points


def stated_row(folio: Folio) -> LabelRow:
    """The day of the statement."""
    as_of = folio.material.as_of
    return LabelRow(PaperWords().stated, words(folio.date(PartialDate(as_of.year, as_of.month, as_of.day))))


def _words(folio: Folio) -> PriceListWords:
    label = folio.material.labels
    return PriceListWords(
        title=price_list_title(),
        animal=_("Animal"),
        line=_("What it is"),
        price=label.price,
        goes=label.available,
        notes=_("Genes with a note"),
        cautions=label.cautions,
    )


def _harms(animal: Animal, folio: Folio) -> tuple[Caution, ...]:
    return gene_cautions(folio.collection, folio.claims(animal.id))


def _marks(harms: Sequence[Caution], folio: Folio) -> dict[str, str]:
    texts = dict.fromkeys(plain(short_caution(caution, folio.voice)) for caution in harms)
    return {text: str(number) for number, text in enumerate(texts, 1)}


def _group(species_id: str, animals: Sequence[Animal], marks: dict[str, str], room: int, folio: Folio) -> PriceGroup:
    species = folio.collection.species[species_id]
    rows = tuple(_row(animal, marks, room, folio) for animal in animals)
    return PriceGroup(capital(species.name), species.scientific, rows)


def _row(animal: Animal, marks: dict[str, str], room: int, folio: Folio) -> PriceRow:
    offer = offer_view(animal, folio)
    assert offer is not None, "only what can be had is listed"
    texts = [plain(short_caution(caution, folio.voice)) for caution in _harms(animal, folio)]
    return PriceRow(
        name=(Span(folio.name(animal), folio.linker.animal(animal.id)),),
        line=unlinked(folio.material.lines[animal.id].within(room)),
        price=offer.price,
        goes=capital(offer.goes or offer.label),
        marks=tuple(marks[text] for text in texts),
    )
