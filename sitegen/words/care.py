"""What is told of an animal's meals, and of its weight beside that of its species."""

from collections.abc import Sequence

from sitegen.content.animals import Animal, Meal
from sitegen.content.site import Site
from sitegen.content.species import Species
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.words.assumed import source_words
from sitegen.words.numbers import date_text, weight_text
from sitegen.words.speech import _, ngettext, plain
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
    return words.format(taken=taken, count=len(meals), date=date, what=last.what, how=taken_text(taken=last.taken))


def taken_text(*, taken: bool) -> str:
    """What became of a meal, as a label."""
    return _("taken") if taken else _("refused")


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
