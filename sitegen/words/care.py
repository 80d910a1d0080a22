"""What is told of an animal's meals, and of its weight beside that of its species."""

from collections.abc import Sequence

from sitegen.content.animals import Meal
from sitegen.content.site import Site
from sitegen.content.species import Species
from sitegen.genetics.loci import Sex
from sitegen.words.assumed import source_words
from sitegen.words.numbers import date_text, weight_text
from sitegen.words.speech import _, ngettext, plain


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
