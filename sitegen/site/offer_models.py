"""Models of the pages for a buyer: the paper that goes with an animal, and the comparison for one gene."""

from dataclasses import dataclass

from sitegen.site.parts import CautionView, ClaimView, Field, IconArray, Line, OfferView, Plate
from sitegen.site.pedigree import PedigreeChart
from sitegen.words.paper import PaperWords


@dataclass(frozen=True, slots=True)
class Code:
    """An address to be drawn as a QR code, with its text alternative."""

    address: str
    title: str


@dataclass(frozen=True, slots=True)
class ShortRow:
    """One line of a short record: the day, and what is written beside it."""

    date: str
    text: str


@dataclass(frozen=True, slots=True)
class PaperPage:
    """The buyer's paper: one printed side. ``type_size`` names the size of type that fits on it.

    ``no_hidden``, ``no_weights`` and ``no_meals`` stand where the list of that name is empty, and are empty otherwise.
    """

    name: str
    species: str
    words: PaperWords
    label: tuple[Field, ...]
    breeder: tuple[Field, ...]
    plate: Plate
    in_words: str
    shows: tuple[ClaimView, ...]
    hidden: tuple[ClaimView, ...]
    no_hidden: str
    ruled_out: tuple[ClaimView, ...]
    combination: str
    chart: PedigreeChart
    relatedness: tuple[str, ...]
    not_known: tuple[str, ...]
    weights: tuple[ShortRow, ...]
    no_weights: str
    meals: tuple[ShortRow, ...]
    no_meals: str
    readiness: str
    cautions: tuple[str, ...]
    later: str
    printing: str
    code: Code | None
    back: Line
    data: Line
    type_size: str


@dataclass(frozen=True, slots=True)
class ComparedAnimal:
    """One animal of a comparison: who, the offer, what is claimed of it at the gene, and what that rests on."""

    name: Line
    facts: str
    offer: OfferView | None
    words: tuple[Line, ...]
    rests_on: tuple[Line, ...]
    odds: IconArray | None


@dataclass(frozen=True, slots=True)
class ComparedGroup:
    """Animals of which the same sort of thing is said."""

    title: str
    note: str
    rows: tuple[ComparedAnimal, ...]


@dataclass(frozen=True, slots=True)
class ComparisonPage:
    """Animals that can be had, by the chance of one gene; ``others`` are those without it as far as is known."""

    name: str
    kicker: Line
    intro: tuple[Line, ...]
    groups: tuple[ComparedGroup, ...]
    others: tuple[ComparedGroup, ...]
    cautions: tuple[CautionView, ...]
