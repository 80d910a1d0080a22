"""What a plan takes for granted of a species in words: each figure with its source, or that nobody wrote it down."""

from sitegen.content.learned import WORTH
from sitegen.content.species import Learned, LitterSize, Species
from sitegen.genetics.loci import Sex, SexSystem
from sitegen.plans.assumed import Granted, Known
from sitegen.words.inheritance import BirthWords, birth_words
from sitegen.words.numbers import in_100, month_names, months_text, sides
from sitegen.words.sources import source_words
from sitegen.words.speech import Sentence, Text, Words, _, ngettext, said


def granted_sentences(granted: Granted, species: Species, language: str) -> tuple[Sentence, ...]:
    """What a plan takes for granted of its species, one sentence a figure; the language is for the names of months."""
    told = (*sentences_by_figure(granted, species, language).values(), *_sex_by_warmth(species))
    own = any(each.known is Known.WRITTEN and not each.source for each in granted.values())
    return (*told, said(_("A figure without a source beside it is our own."))) if own else told


def _sex_by_warmth(species: Species) -> tuple[Sentence, ...]:
    """That no share of females is known where the warmth of the eggs decides the sex."""
    if species.genome.sex_system is not SexSystem.TEMPERATURE:
        return ()
    words = _("The warmth of the eggs decides the sex. We take half females; it may be quite another share.")
    return (said(words),)


def sentences_by_figure(granted: Granted, species: Species, language: str) -> dict[str, Sentence]:
    """The same by the key of each figure."""
    value = {key: figure.value for key, figure in granted.items()}
    births, names, bounds = birth_words(species), month_names(language), value["breeding_age"]
    size, months = value["litter_size"], value["breeding_season"]
    female, male = (
        months_text(bounds[sex]) if sex in bounds else _("the season after birth") for sex in (Sex.FEMALE, Sex.MALE)
    )
    places: dict[str, Words] = {
        "litter": births.litter, "litters": births.litters, "count": value["litters_a_year"],
        "seasons": value["rest"], "lost": value["rest_after_failure"], "female": female, "male": male,
        "low": size.low, "usual": size.usual, "high": size.high,
        "paired": names[months.paired], "born": names[months.born], **sides(value["takes"]),
    }  # fmt: skip
    by_others = {
        Known.PROJECT: said(_(" (as this project asks)")),
        Known.LITTERS: said(_(" (by our own {litters})"), litters=births.litters),
    }
    known, unknown = _known(granted), _unknown()
    found = {}
    for key, figure in granted.items():
        own, source = figure.learned, by_others.get(figure.known, source_words(figure.source))
        told = unknown[key] if figure.known is Known.TAKEN and not own else known[key]
        found[key] = said(told, source=() if own else source, **places)
        if own:
            found[key] += (Text(" "), *_learned(own, source, births))
    return found


def _learned(own: Learned, source: Sentence, births: BirthWords) -> Sentence:
    """How many own pairings or litters count in a figure, and what counts beside them."""
    if isinstance(own.usual, LitterSize):
        told = _(
            "Our own {count} {litters} with {good} young count in it; the usual {usual}{source} counts as {worth}."
        )
        return said(told, count=own.count, litters=births.litters, good=own.good, usual=own.usual.usual, source=source,
                    worth=WORTH)  # fmt: skip
    told = _("Our own {count} pairings, of which {good} took, count in it; {usual}{source} counts as {worth} more.")
    return said(told, count=own.count, good=own.good, usual=in_100(own.usual), source=source, worth=WORTH)


def _known(granted: Granted) -> dict[str, str]:
    """What is said of a figure that is known."""
    size, rest, lost = (granted[key].value for key in ("litter_size", "rest", "rest_after_failure"))
    takes = _("A pairing is taken to give a {litter} in {chance} cases, and none in the other {others}{source}.")
    sized = _("A {litter} is taken to have {low} to {high} living young, most often {usual}{source}.")
    rests = ngettext(
        "A dam rests for {seasons} season after she had young{source}.",
        "A dam rests for {seasons} seasons after she had young{source}.",
        rest,
    )
    loses = ngettext(
        "After a pairing that did not take a dam rests for {lost} season{source}.",
        "After a pairing that did not take a dam rests for {lost} seasons{source}.",
        lost,
    )
    return {
        "takes": takes if granted["takes"].value != 1 else _("Each pairing is taken to give a {litter}{source}."),
        "litters_a_year": ngettext(
            "A dam has one {litter} in a season{source}.",
            "A dam has {count} {litters} in a season{source}.",
            granted["litters_a_year"].value,
        ),
        "litter_size": sized
        if size.low != size.high
        else _("A {litter} is taken to have {usual} living young{source}."),
        "breeding_season": _("Pairing is in {paired}, and the young come in {born}{source}."),
        "rest": rests if rest else _("A dam may have young in every season{source}."),
        "rest_after_failure": loses if lost else _("After a pairing that did not take a dam needs no rest{source}."),
        "breeding_age": _("Females are paired from {female} on and males from {male} on{source}."),
    }


def _unknown() -> dict[str, str]:
    """What is said of a figure that nobody wrote, and of what is taken instead."""
    return {
        "takes": _("We have not written down how often a pairing gives a {litter}. We take it that each one does."),
        "litters_a_year": _("We have not written down how many {litters} a dam has in a season. We take one."),
        "litter_size": _("We have not written down how many young a {litter} has. "
                         "We take {low} to {high}, most often {usual}."),
        "breeding_season": _("We have not written down when this kind is bred. "
                             "We take {paired} for pairing and {born} for the young."),
        "rest": _("We have not written down how long a dam rests. She may have young in every season of this sum."),
        "rest_after_failure": _("We have not written down whether a dam rests after a pairing that did not take. "
                                "We take it that she does not."),
        "breeding_age": _("We have not written down from which age on this kind is bred. "
                          "We take the season after birth."),
    }  # fmt: skip
