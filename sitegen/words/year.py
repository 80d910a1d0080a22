"""When young are due, and a season beside what was foretold of it, in words."""

import datetime as dt
from collections.abc import Iterator
from fractions import Fraction

from babel.dates import format_skeleton

from sitegen.content.intervals import Start
from sitegen.content.learned import Outcomes
from sitegen.content.litters import Litter, living_young
from sitegen.content.species import Species
from sitegen.content.starts import known_day
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import average_text, date_text, locale_of, small_number
from sitegen.words.sources import source_words
from sitegen.words.speech import Sentence, Text, Words, _, ngettext, said
from sitegen.year.due import Window
from sitegen.year.seasons import Season


def window_places(window: Window, language: str) -> dict[str, str]:
    """The first and the last day of a window."""
    return span_places(window.first, window.last, language)


def span_places(first: dt.date, last: dt.date, language: str) -> dict[str, str]:
    """A first and a last day; the year stands once where both have the same."""
    skeleton = "MMMMd" if first.year == last.year else "yMMMMd"
    return {"first": format_skeleton(skeleton, first, locale=locale_of(language)), "last": date_text(last, language)}


def between_text(window: Window, language: str) -> str:
    """Between which days, within a sentence."""
    return _("between {first} and {last}").format(**window_places(window, language))


def window_sentences(window: Window, species: Species, language: str) -> Sentence:
    """Between which days, on whose word, how sure that is, and from when it is counted."""
    births, own = birth_words(species), min(each.own for each in window.rests)
    sources: Sentence = ()
    for part in window.rests:
        sources += source_words(part.interval.source)
    told = ngettext(
        "Between {first} and {last}, on the word of {count} {litter} of our own.",
        "Between {first} and {last}, on the word of our own {count} {litters}.",
        own,
    )
    usual = _("Between {first} and {last}, by what is usual for this kind{source}.")
    found = said(
        told if own else usual, **window_places(window, language), count=small_number(own), litter=births.litter,
        litters=births.litters, source=sources,
    )  # fmt: skip
    start = {
        Start.PAIRED: _("the pairing"), Start.COPULATION: _("the last copulation seen"),
        Start.OVULATED: _("the ovulation"), Start.SHED: _("the shed"), Start.LAID: _("the laying"),
    }[window.rests[0].start]  # fmt: skip
    sure = _("About 80 in 100 {litters} come within such days, counted from {start} on {day}.")
    counted = said(sure, litters=births.litters, start=start, day=date_text(window.since, language))
    return (*found, Text(" "), *counted)


def came_sentence(litter: Words, record: Litter, window: Window | None, species: Species, language: str) -> Sentence:
    """When a litter came, and whether that was within the days foretold."""
    births, born = birth_words(species), known_day(record.born)
    places = {"litter": litter, "came": births.came, "date": date_text(record.born, language) if record.born else ""}
    young = living_young(record)
    counted = ngettext("{count} living young", "{count} living young", young).format(count=young)
    if not record.born:
        return said(_("{litter}: {young}, on a day that is not recorded."), litter=litter, young=counted)
    if window is None or born is None:
        return said(_("{litter}: {came} {date}, {young}."), **places, young=counted)
    told = _("{litter}: {came} {date}, {young}. Expected by earlier records: {first} to {last}; it came {how}.")
    how = _("early") if born < window.first else _("late") if born > window.last else _("within those days")
    return said(told, **places, young=counted, how=how, **window_places(window, language))


def compared_sentences(season: Season) -> Iterator[Sentence]:
    """What came of the season's pairings beside what was to be expected before it."""
    own, births = season.own, birth_words(season.species)
    if own.pairings:
        told = ngettext(
            "Of {count} pairing that ended {took} gave young; {expected} was to be expected.",
            "Of {count} pairings that ended {took} gave young; {expected} were to be expected.",
            own.pairings,
        )
        yield said(told, count=own.pairings, took=own.took, expected=average_text(season.took))
    if own.sizes:
        told = _("Those that came had {young} living young; about {expected} were to be expected.")
        yield said(told, young=sum(own.sizes), expected=round(season.young))
    if season.foretold:
        told = ngettext(
            "{held} of {count} {litter} came within the expected days; about 80 in 100 do.",
            "{held} of {count} {litters} came within the expected days; about 80 in 100 do.",
            len(season.foretold),
        )
        count = len(season.foretold)
        yield said(told, held=season.came_within(), count=count, litter=births.litter, litters=births.litters)


def hatched_sentence(season: Season) -> Sentence:
    """How many eggs hatched so far; empty where none were counted."""
    if not season.eggs:
        return ()
    told = _("Of {eggs} eggs counted so far {hatched} gave living young.")
    return said(told, eggs=season.eggs, hatched=season.hatched)


def dam_sentence(dam: Words, outcomes: Outcomes) -> Sentence:
    """What came of a dam's pairings."""
    if not outcomes.sizes:
        return said(_("{dam}: none of {count} pairings took."), dam=dam, count=outcomes.pairings)
    return said(_("{dam}: {took} of {count} pairings took, with {mean} living young on average."), dam=dam,
                took=outcomes.took, count=outcomes.pairings,
                mean=average_text(Fraction(sum(outcomes.sizes), len(outcomes.sizes))))  # fmt: skip
