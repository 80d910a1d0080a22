"""Tub cards: a plate for the tub of each animal, eight to a printed page. Printed, and linked by no page.

A card says first what the animal is, in words; it has no sign and no colour for a sex or a gene.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.prices import OfferState
from sitegen.evidence.offers import gene_cautions, standing
from sitegen.site.addresses import COLLECTION, can_be_had, tub_cards_address
from sitegen.site.frame import public
from sitegen.site.material import Folio
from sitegen.site.paper import Code, code_to
from sitegen.site.paper_fit import lines_of
from sitegen.site.parts import LabelRow, Line, NavItem, Span, words
from sitegen.site.price_list import stated_row
from sitegen.site.views import offer_view
from sitegen.words.buying import card_caution, short_caution
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import nobody_kept
from sitegen.words.speech import Sentence, _, capital, plain, when_asked

A_PAGE, A_PART = 8, 40
"""Cards on one printed page; printed pages in one file, of which even the slowest codes take no more than 2 s."""
LONGEST_ON_CARD = 300
"""Characters of the label line on a card."""
SIZES = (15, 14, 13, 12, 11, 10, 9, 8)
"""Sizes of type of the first sentence in points, as the style sheet names them."""
_WIDE, _HIGH, _NOTE = 236, 78, 7
"""Points inside a card of 90 by 63 mm; what its name, dates and code leave of its height; the type of its notes."""


@dataclass(frozen=True, slots=True)
class TubCard:
    """One card: ``line`` is its first sentence, ``notes`` tell of genes that harm; ``type_size`` is its own."""

    line: str
    name: str
    species: str
    facts: tuple[LabelRow, ...]
    notes: tuple[str, ...]
    code: Code | None
    type_size: str


@dataclass(frozen=True, slots=True)
class CardSheet:
    """The cards of one printed page; ``title`` stands on the screen above the first of several pages."""

    title: str
    cards: tuple[TubCard, ...]


@dataclass(frozen=True, slots=True)
class TubCardsPage:
    """A card for each animal that is kept or offered, the offered ones first; ``nobody`` says that there is none.

    ``parts`` leads to all parts of many cards; it is empty where all stand on this page.
    """

    title: str
    site: str
    sheets: tuple[CardSheet, ...]
    parts: tuple[NavItem, ...]
    nobody: str
    back: Line
    printing: str


tub_cards_title = when_asked("Tub cards")


Sheet = tuple[str, tuple[Animal, ...]]


def card_parts(folio: Folio) -> list[list[Sheet]]:
    """The animals of each printed page with its title, by part; of no animal one part without a page.

    They stand by species in record order, those that can be had before all others.
    """
    here = [animal for animal in folio.collection.animals.values() if _is_here(animal)]
    here.sort(key=lambda animal: list(folio.collection.species).index(animal.species))
    label = folio.material.labels
    offered = _sheets(label.available, [animal for animal in here if can_be_had(animal)])
    sheets = offered + _sheets(label.kept, [animal for animal in here if not can_be_had(animal)])
    return [sheets[at : at + A_PART] for at in range(0, len(sheets), A_PART)] or [[]]


def tub_cards_page(part: int, parts: Sequence[Sequence[Sheet]], folio: Folio) -> TubCardsPage:
    """One part of the cards, counted from 1."""
    ways = [(str(number), tub_cards_address(number)) for number in range(1, len(parts) + 1)]
    return TubCardsPage(
        title=tub_cards_title(),
        site=folio.collection.site.name,
        sheets=tuple(CardSheet(title, tuple(_card(each, folio) for each in page)) for title, page in parts[part - 1]),
        parts=tuple(NavItem(n, folio.linker.to(way), way == folio.address) for n, way in ways if len(ways) > 1),
        nobody="" if parts[0] else nobody_kept(recorded=bool(folio.collection.animals)),
        back=(Span(folio.material.labels.collection, folio.linker.to(COLLECTION)),),
        printing=_("Eight cards to a page of A4 or Letter, to be cut apart. No page of the site links to them."),
    )


def _is_here(animal: Animal) -> bool:
    """True for a living animal that is kept or offered; a young of which neither is written may be anywhere."""
    gone = animal.died is not None or standing(animal) is OfferState.SOLD
    return not gone and (not animal.is_young or animal.kept or animal.offer is not None)


def _sheets(title: str, animals: Sequence[Animal]) -> list[Sheet]:
    pages = [tuple(animals[at : at + A_PAGE]) for at in range(0, len(animals), A_PAGE)]
    return [(title if at == 0 else "", page) for at, page in enumerate(pages)]


def _card(animal: Animal, folio: Folio) -> TubCard:
    species, offer = folio.collection.species[animal.species], offer_view(animal, folio)
    name = folio.name(animal)
    line = capital(plain(folio.material.lines[animal.id].within(LONGEST_ON_CARD))) + "."
    facts = [LabelRow(capital(birth_words(species).came), words(folio.date(animal.born) or _("not recorded")))]
    if offer and offer.open:
        facts.append(LabelRow(offer.label, words(offer.price)))
    facts.append(stated_row(folio))
    harms = gene_cautions(folio.collection, folio.claims(animal.id))
    notes = _notes([short_caution(each, folio.voice) for each in harms])
    if _height(line, notes, SIZES[-1]) > _HIGH:
        notes = _notes([card_caution(each, folio.voice) for each in harms])
    size = next((size for size in SIZES if _height(line, notes, size) <= _HIGH), SIZES[-1])
    site = folio.collection.site.address
    address = public(folio.addresses.animals[animal.id], folio) if site else ""
    return TubCard(
        line=line,
        name=name,
        species=species.name,
        facts=tuple(facts),
        notes=notes,
        code=code_to(address, _("QR code that leads to the page of {name}").format(name=name)),
        type_size=str(size),
    )


def _notes(cautions: Sequence[Sentence]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(capital(plain(caution)) for caution in cautions))


def _height(line: str, notes: Sequence[str], size: int) -> Fraction:
    """Points that the first sentence takes in that size of type, and the notes in theirs."""
    below = sum(lines_of(note, Fraction(_WIDE, _NOTE)) for note in notes) * _NOTE
    return (lines_of(line, Fraction(_WIDE, size)) * size + below) * Fraction(6, 5)
