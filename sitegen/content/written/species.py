"""How a species is written: ``species/ID.yaml``."""

from typing import Annotated, Any, ClassVar

from sitegen.content.report import At
from sitegen.content.species import Births
from sitegen.content.written.forms import LISTED, NAMED, Form, described, part, raw, required
from sitegen.content.written.values import (
    Age,
    Chance,
    Half,
    SureMonth,
    SureText,
    SureWhole,
    Text,
    Texts,
    Whole,
    YesNo,
    word_reader,
)
from sitegen.genetics.loci import Inheritance, SexSystem

InheritanceWord = Annotated[
    At[Inheritance] | None,
    *word_reader(
        Inheritance,
        meant={
            "codominant": "incomplete_dominant",
            "co dominant": "incomplete_dominant",
            "semi dominant": "incomplete_dominant",
            "inc dom": "incomplete_dominant",
        },
    ),
]

_CHANCES: dict[str, Any] = {"type": "object", "additionalProperties": {"type": ["string", "number", "object"]}}
_BY_SEX: dict[str, Any] = {
    "oneOf": [
        {"type": "string"},
        {
            "type": "object",
            "properties": {"female": {"type": "string"}, "male": {"type": "string"}},
            "additionalProperties": False,
        },
    ]
}
_RECOMBINATION: dict[str, Any] = {
    "oneOf": [
        {"type": ["string", "number"]},
        {"type": "array", "items": {"type": ["string", "number"]}},
        {"type": "object", "properties": {"female": {}, "male": {}}, "additionalProperties": False},
    ]
}
_COMBINATIONS: dict[str, Any] = {
    "type": "object",
    "additionalProperties": {
        "oneOf": [
            {"type": "array", "items": {"type": "string"}},
            {
                "type": "object",
                "properties": {
                    "name": {"type": "string"},
                    "parts": {"type": "array", "items": {"type": "string"}},
                },
                "required": ["parts"],
                "additionalProperties": False,
            },
        ]
    },
}


class WelfareForm(Form):
    """A known harm that goes with a gene."""

    what: ClassVar[str] = "welfare"

    text: SureText = required("What is known to happen, in plain words.")
    source: Text = described("Where this is published.")


class AlleleForm(Form):
    """One named allele."""

    what: ClassVar[str] = "an allele"

    name: Text = described("As the trade at large writes it; the id when left out.")
    inheritance: InheritanceWord = described("recessive, dominant or incomplete_dominant.")
    two_copies: Text = described("Name of the two-copy form of an incomplete dominant.")
    two_copies_lethal: YesNo = described("true when embryos with two copies are not among the living young.")
    penetrance: Chance = described("Chance that an animal that should show it does.")
    visible_from: Age = described("Age before which it cannot be judged: 18 months.")
    hidden_by: Texts = described("Looks under which it cannot be judged.")
    not_the_same_as: Texts = described("Genes that look alike and are other loci.")
    named: Texts = described("Other names it goes by; shows accepts them.")
    about: Text = described("What it looks like, Markdown.")
    welfare: Annotated[WelfareForm | None, part(WelfareForm)] = described("A known harm, with its source.")


class LocusForm(AlleleForm):
    """One locus: a gene that stands alone, or an allelic series."""

    what: ClassVar[str] = "a locus"

    alleles: Annotated[dict[str, Annotated[AlleleForm | None, part(AlleleForm)]] | None, NAMED] = described(
        "The alleles of a series by id; a gene that stands alone needs none."
    )
    compounds: Annotated[Any, *raw({"type": "object", "additionalProperties": {"type": "string"}})] = described(
        "Name of the look of two different alleles together: {motley/stripe: striped motley}."
    )
    looks: Annotated[Any, *raw({"type": "object", "additionalProperties": {"type": ["string", "null"]}})] = described(
        "What each genotype shows, where inheritance does not say it; what is left out shows nothing."
    )
    sex_linked: YesNo = described("true when it is on the Z or X, so that one sex has one copy.")
    sex_recombination: Half = described("Recombination with the place that determines the sex, 0 to 1/2.")


class LitterSizeForm(Form):
    """Living young in a litter."""

    what: ClassVar[str] = "litter_size"

    low: SureWhole = required("Few.")
    usual: SureWhole = required("The usual number.")
    high: SureWhole = required("Many.")


class BreedingSeasonForm(Form):
    """The usual months."""

    what: ClassVar[str] = "breeding_season"

    paired: SureMonth = required("The month of pairing: March, or 3.")
    born: SureMonth = required("The month in which the young are born or hatch; of the next year if it comes before.")


class LinkedForm(Form):
    """Loci on one chromosome."""

    what: ClassVar[str] = "an entry of linked"

    loci: Texts = required("Two or more loci in their order.")
    recombination: Annotated[Any, *raw(_RECOMBINATION)] = required(
        "Recombination between neighbours: one value, a list, or either by the parent's sex."
    )


class SpeciesForm(Form):
    """Facts and genes of one species."""

    what: ClassVar[str] = "a species file"

    name: Text = described("What the species is called; the file name when left out.")
    scientific: Text = described("Its scientific name.")
    births: Annotated[At[Births] | None, *word_reader(Births)] = described("eggs or live; eggs when left out.")
    sexes: Annotated[At[SexSystem] | None, *word_reader(SexSystem)] = described("XY, ZW or unknown.")
    litter_size: Annotated[LitterSizeForm | None, part(LitterSizeForm)] = described("Living young: low, usual, high.")
    litters_a_year: Whole = described("Litters a female can have in a year; 1 when left out.")
    breeding_age: Annotated[Any, *raw(_BY_SEX)] = described("Age before which it cannot breed, also by sex.")
    breeding_weight: Annotated[Any, *raw(_BY_SEX)] = described("Weight below which it should not be bred, also by sex.")
    breeding_season: Annotated[BreedingSeasonForm | None, part(BreedingSeasonForm)] = described(
        "The usual months of pairing and of birth; taken from your litters, else March and July, when left out."
    )
    rest: Whole = described("Seasons in which a dam rests after a litter; 0 when left out.")
    takes: Chance = described("Share of pairings that give a litter, such as 9/10; 1 when left out.")
    loci: Annotated[dict[str, Annotated[LocusForm | None, part(LocusForm)]] | None, NAMED] = described(
        "The genes by id; may be empty."
    )
    linked: Annotated[tuple[Annotated[LinkedForm | None, part(LinkedForm)], ...] | None, LISTED] = described(
        "Loci on one chromosome."
    )
    background: Annotated[Any, *raw(_CHANCES)] = described(
        "Genotype odds of founders and of parents that are not recorded; wild type when left out."
    )
    combinations: Annotated[Any, *raw(_COMBINATIONS)] = described("Trade names of several looks together.")
    about: Text = described("Free text, Markdown.")
    cautions: Texts = described("Cautions that go with every animal of the species.")
