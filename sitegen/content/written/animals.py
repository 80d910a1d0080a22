"""How an animal, and a young in a litter record, is written."""

from typing import Annotated, Any, ClassVar

from pydantic import Field

from sitegen.content.animals import OfferState
from sitegen.content.report import At
from sitegen.content.written.forms import LISTED, Form, described, leaf, part, raw, required
from sitegen.content.written.values import (
    Day,
    SureDay,
    SureText,
    Text,
    Texts,
    YesNo,
    read_amount,
    word_reader,
)
from sitegen.genetics.loci import Sex

SEX_WORDS = {
    "f": Sex.FEMALE, "0.1": Sex.FEMALE, "0,1": Sex.FEMALE, "0.1.0": Sex.FEMALE, "\u2640": Sex.FEMALE,
    "m": Sex.MALE, "1.0": Sex.MALE, "1,0": Sex.MALE, "1.0.0": Sex.MALE, "\u2642": Sex.MALE,
    "u": Sex.UNKNOWN, "0.0.1": Sex.UNKNOWN, "unsexed": Sex.UNKNOWN, "?": Sex.UNKNOWN, "m/f": Sex.UNKNOWN,
    "f/m": Sex.UNKNOWN,
}  # fmt: skip
"""How else the sex of one animal is written; ``1.0`` counts males.females, and ``m/f`` says either, so not known which.

Source: common practice, no source.
"""
STATE_WORDS = {"for sale": OfferState.AVAILABLE, "reserved": OfferState.ON_HOLD, "hold": OfferState.ON_HOLD,
               "nfs": OfferState.NOT_FOR_SALE}  # fmt: skip
"""How else the state of an offer is written."""
SexWord = Annotated[At[Sex] | None, *word_reader(Sex, also=SEX_WORDS)]

PARENT: dict[str, Any] = {
    "oneOf": [
        {"type": "string"},
        {"type": "array", "items": {"type": "string"}},
        {"type": "object", "additionalProperties": {"type": ["string", "number"]}},
    ]
}
_STATED: dict[str, Any] = {
    "type": "object",
    "additionalProperties": {
        "oneOf": [
            {"type": ["string", "number"]},
            {"type": "object", "additionalProperties": {"type": ["string", "number"]}},
        ]
    },
}
TEXT_BY_NAME: dict[str, Any] = {"type": "object", "additionalProperties": {"type": ["string", "number"]}}
_RESULT: dict[str, Any] = {"oneOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]}
_PRICE: dict[str, Any] = {
    "oneOf": [
        {"type": ["number", "string"]},
        {
            "type": "object",
            "properties": {"amount": {"type": ["number", "string"]}, "currency": {"type": "string"}},
            "required": ["amount"],
            "additionalProperties": False,
        },
    ]
}


class PriceForm(Form):
    """A price in a currency of its own."""

    what: ClassVar[str] = "a price"

    amount: Annotated[Any, *leaf(read_amount, "an amount", {"type": ["number", "string"]}, sure=True)] = required(
        "The amount, in digits."
    )
    currency: Text = described("The currency, three capital letters (ISO 4217).")


class OfferForm(Form):
    """An animal offered for sale."""

    what: ClassVar[str] = "an offer"

    state: Annotated[At[OfferState] | None, *word_reader(OfferState, also=STATE_WORDS)] = described(
        "available, on hold, sold or not for sale; available when it is left out."
    )
    price: Annotated[Any, *raw(_PRICE)] = described("The price: 140, 140 EUR, or {amount: 140, currency: EUR}.")
    since: Day = described("Since when the offer stands so.")
    ready: Day = described("The earliest day on which the animal may leave.")


class AcquiredForm(Form):
    """When and from whom an animal was acquired."""

    what: ClassVar[str] = "acquired"

    date: Day = described("When it came.")
    source: Text = described("From whom, in general words; this is published, so write no name.", alias="from")


class MealForm(Form):
    """A meal taken or refused."""

    what: ClassVar[str] = "a meal"

    date: SureDay = required("The day of the meal.")
    food: SureText = Field(alias="what", description="What was offered: pinky, fuzzy, adult mouse.")
    taken: YesNo = described("false when it was refused.")


class DnaTestForm(Form):
    """A laboratory's result at one locus."""

    what: ClassVar[str] = "a test"

    locus: SureText = required("The locus that was tested.")
    result: Annotated[Any, *raw(_RESULT)] = required(
        "The genotype found, as in +/amel, or a list of the genotypes that remain possible."
    )
    laboratory: Text = described("Who tested.")
    date: Day = described("The date of the result.")
    document: Text = described("Number or file name of the document.")


class EvidenceForm(Form):
    """What may be recorded of any animal, whether it has a record of its own or stands in a litter record."""

    name: Text = described("What the animal is called.")
    sex: SexWord = described("female, male or unknown.")
    died: Day = described("When it died.")
    shows: Texts = described("The looks that are seen; [] when it was looked at and shows none. Left out: not judged.")
    unsure: Texts = described("Loci that were not judged, or all: nothing was judged but what shows names.")
    judged: Day = described("When it was judged, for looks that come with age.")
    stated: Annotated[Any, *raw(_STATED)] = described(
        "What a previous keeper stated: certain, a fraction, a percentage, or odds by genotype."
    )
    tests: Annotated[tuple[Annotated[DnaTestForm | None, part(DnaTestForm)], ...] | None, LISTED] = described(
        "DNA tests."
    )
    haplotypes: Annotated[Any, *raw({"type": "array", "items": TEXT_BY_NAME})] = described(
        "Known phase at linked loci, one line a chromosome: {locus: allele}."
    )
    copies: Annotated[Any, *raw({"type": "object"})] = described(
        "For a dominant look: unknown, one, two, or {two: 1/3}, by allele."
    )
    markers: Texts = described("Signs that some read as a hint of a hidden gene; they never change a number.")
    line: Text = described("The selectively bred line it belongs to.")
    locality: Text = described("Where its ancestors come from.")
    weights: Annotated[Any, *raw(TEXT_BY_NAME)] = described("Weights by date: {2024-05-01: 310 g}.")
    meals: Annotated[tuple[Annotated[MealForm | None, part(MealForm)], ...] | None, LISTED] = described(
        "Meals taken and refused."
    )
    offer: Annotated[OfferForm | None, part(OfferForm)] = described("What is asked for it, and where the offer stands.")
    kept: YesNo = described("true when it stays with the breeder.")
    captions: Annotated[Any, *raw(TEXT_BY_NAME)] = described("A line of text by photo file name.")
    about: Text = described("Free text, Markdown.")
    reviewed: Annotated[Any, *raw(TEXT_BY_NAME)] = described(
        "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: Annotated[Any, *raw({})] = described("Anything that is never published.")


class YoungForm(EvidenceForm):
    """A young listed in a litter record."""

    what: ClassVar[str] = "a young"

    born: Day = described("When it was born, when not on the litter's day.")


class AnimalForm(EvidenceForm):
    """An animal with a folder of its own: ``animals/ID/animal.yaml``."""

    what: ClassVar[str] = "an animal's record"

    species: SureText = required("The species: the name of its file in species.")
    born: Day = described("When it was born or hatched: 2021-07-14, 2021-07 or 2021.")
    dam: Text = described("Its mother: an animal's folder or LITTER/YOUNG, when there is no litter record.")
    sire: Annotated[Any, *raw(PARENT)] = described("Its father, or the possible ones, as in a litter record.")
    from_litter: Text = described("The litter record and number it came from: 2026-juniper-flint/02.")
    acquired: Annotated[AcquiredForm | None, part(AcquiredForm)] = described("When and from whom it was acquired.")
