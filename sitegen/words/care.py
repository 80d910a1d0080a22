"""What is told of the daily records: meals, lengths, sheds, the diary of a litter, the weight a species breeds at."""

from collections.abc import Sequence

from sitegen.content.animals import Animal, Meal
from sitegen.content.events import Event, EventKind
from sitegen.content.site import Site
from sitegen.content.species import Species
from sitegen.content.values import Measuring, PartialDate
from sitegen.genetics.loci import Sex
from sitegen.words.numbers import date_text, length_text, weight_text
from sitegen.words.sources import source_words
from sitegen.words.speech import Sentence, Voice, _, ngettext, plain, said, when_asked
from sitegen.year.due import HELD
from sitegen.year.growth import growth


def meals_text(meals: Sequence[Meal], site: Site) -> str:
    """``12 of 14 recorded meals taken. The last, 20 November 2026: mouse, taken.``; empty where none is recorded."""
    if not meals:
        return ""
    last = max(meals, key=lambda meal: meal.date.latest)
    words = ngettext(
        "{taken} of {count} recorded meal taken. The last, {date}: {what}, {how}.",
        "{taken} of {count} recorded meals taken. The last, {date}: {what}, {how}.",
        len(meals),
    )
    taken = sum(meal.taken for meal in meals)
    date = date_text(last.date, site.language)
    how = _("taken") if last.taken else _("refused")
    return words.format(taken=taken, count=len(meals), date=date, what=last.what, how=how)


def growth_text(animal: Animal, asked: int | None, site: Site) -> str:
    """When an animal will weigh enough by its own line of weights; empty where that cannot be told."""
    found = growth(animal, asked)
    if found is None or asked is None:
        return ""
    weight, middle = weight_text(asked, site.units, site.language), found.day(0.5)
    if middle is None:
        told = _("By the {count} weighings so far {weight} may never be reached.")
        return told.format(count=found.weighings, weight=weight)
    told = _("By the {count} weighings so far {weight} is reached about {middle}, if growth goes on like that.")
    early, late = found.day((1 - HELD) / 2), found.day((1 + HELD) / 2)
    between = (
        _("Of such animals about 80 in 100 reach it between {early} and {late}.")
        if late
        else _("Of such animals about 90 in 100 reach it no sooner than {early}, and some never do.")
    )
    days = {"middle": middle, "early": early, "late": late}
    months = {name: date_text(PartialDate(day.year, day.month), site.language) for name, day in days.items() if day}
    return f"{told} {between}".format(count=found.weighings, weight=weight, **months)


def lengths_text(lengths: Sequence[Measuring], site: Site) -> str:
    """``From 84 cm (1 May 2024) to 102 cm (3 May 2026), in 3 measurements.``; empty where none is recorded."""
    if not lengths:
        return ""
    by_day = sorted(lengths, key=lambda measuring: measuring.date.latest)
    first, last = (
        (length_text(each.millimetres, site.units, site.language), date_text(each.date, site.language))
        for each in (by_day[0], by_day[-1])
    )
    if len(by_day) == 1:
        return _("{length} ({date}).").format(length=last[0], date=last[1])
    words = _("From {first} ({start}) to {last} ({end}), in {count} measurements.")
    return words.format(first=first[0], start=first[1], last=last[0], end=last[1], count=len(by_day))


def sheds_text(sheds: Sequence[Event], site: Site) -> str:
    """``4 sheds on record, the last: 3 October 2026.``; empty where none is."""
    if not sheds:
        return ""
    words = ngettext("{count} shed on record ({date}).", "{count} sheds on record, the last: {date}.", len(sheds))
    last = max(sheds, key=lambda event: event.date.latest)
    return words.format(count=len(sheds), date=date_text(last.date, site.language))


_EVENTS = {
    EventKind.INTRODUCED: when_asked("introduced"),
    EventKind.COPULATION: when_asked("copulation seen"),
    EventKind.SEPARATED: when_asked("separated"),
    EventKind.COOLED: when_asked("cooled"),
    EventKind.WARMED: when_asked("warmed"),
    EventKind.OVULATED: when_asked("ovulation seen"),
    EventKind.PRELAY_SHED: when_asked("shed before laying"),
    EventKind.POSTOVULATION_SHED: when_asked("shed after ovulation"),
}


def event_words(event: Event, voice: Voice) -> Sentence:
    """What happened on the way to a litter, in a few words: ``introduced (Flint)``."""
    what = _EVENTS[event.what]()
    if event.partner is None:
        return said("{what}", what=what)
    return said(_("{what} ({animal})"), what=what, animal=voice.animal(event.partner))


def breeding_weight_text(sex: Sex, species: Species, site: Site) -> str:
    """The weight below which such an animal should not be bred, by the file of its species; empty where it has none."""
    words = {
        Sex.FEMALE: _("A female of this species should weigh at least {weight} before she is bred{source}."),
        Sex.MALE: _("A male of this species should weigh at least {weight} before he is bred{source}."),
    }
    if not (grams := species.breeding_weight_grams.get(sex, 0)) or sex not in words:
        return ""
    source = plain(source_words(species.written.get("breeding_weight", "")))
    return words[sex].format(weight=weight_text(grams, site.units, site.language), source=source)
