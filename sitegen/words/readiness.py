"""What a young still lacks before it may leave, in words."""

import datetime as dt
from collections.abc import Sequence

from sitegen.content.site import ReadyRules, Site
from sitegen.content.values import PartialDate, WrittenAge
from sitegen.evidence.offers import OfferClaim
from sitegen.evidence.readiness import Lacks, Missing
from sitegen.words.measures import date_text, months_text, weight_text
from sitegen.words.numbers import small_number
from sitegen.words.runs import plain
from sitegen.words.site import ready_text
from sitegen.words.speech import _, listed, ngettext


def readiness_text(offer: OfferClaim, site: Site) -> str:
    """``not ready yet: two more recorded meals``, or from when an offered animal can go."""
    if not offer.missing:
        return ready_text(offer.ready, site.language)
    lacks = plain(listed(missing_texts(offer.missing, site)))
    if offer.ready:
        words = _("not ready yet, and not before {date}; still to come: {lacks}")
        return words.format(date=date_text(offer.ready, site.language), lacks=lacks)
    return _("not ready yet; still to come: {lacks}").format(lacks=lacks)


def missing_texts(lacks: Sequence[Missing], site: Site) -> tuple[str, ...]:
    """Each rule that is not met, in a few words."""
    return tuple(_missing_text(each, site) for each in lacks)


def _missing_text(lacks: Missing, site: Site) -> str:
    match lacks.what:
        case Lacks.MEALS:
            more = lacks.wanted - (lacks.found or 0)
            if not lacks.found:
                first = ngettext("{count} recorded meal", "{count} recorded meals", more)
                return first.format(count=small_number(more))
            return ngettext("{count} more recorded meal", "{count} more recorded meals", more).format(
                count=small_number(more)
            )
        case Lacks.WEIGHT:
            wanted = weight_text(lacks.wanted, site.units, site.language)
            if lacks.found is None:
                return _("a recorded weight of {weight}").format(weight=wanted)
            last = weight_text(lacks.found, site.units, site.language)
            return _("a weight of {weight} (last {last})").format(weight=wanted, last=last)
        case Lacks.AGE:
            age = age_words(lacks.age or WrittenAge())
            if lacks.on is None:
                return _("an age of {age} (its date of birth is not recorded)").format(age=age)
            return _("an age of {age} (on {date})").format(age=age, date=_day(lacks.on, site.language))


def age_words(age: WrittenAge) -> str:
    """``8 weeks``, ``10 days``, ``3 months``."""
    if age.months:
        return months_text(age.months)
    if age.days % 7 == 0:
        return ngettext("{count} week", "{count} weeks", age.days // 7).format(count=age.days // 7)
    return ngettext("{count} day", "{count} days", age.days).format(count=age.days)


def rules_text(rules: ReadyRules, site: Site) -> str:
    """The site's own rules in a sentence; empty when it has none."""
    parts = []
    if rules.meals:
        meals = ngettext("{count} recorded meal", "{count} recorded meals", rules.meals)
        parts.append(meals.format(count=small_number(rules.meals)))
    if rules.grams:
        parts.append(_("a weight of {weight}").format(weight=weight_text(rules.grams, site.units, site.language)))
    if rules.age:
        parts.append(_("an age of {age}").format(age=age_words(rules.age)))
    if not parts:
        return ""
    told = _("By our own rule a young of its first year is ready to go with {parts}.")
    return told.format(parts=plain(listed(parts)))


def waits_label() -> str:
    """In a list: the animal cannot go yet."""
    return _("not ready yet")


def waiting_text(count: int, of: int) -> str:
    """How many of the offered animals cannot go yet; empty for none."""
    if not count:
        return ""
    if of == 1:
        return _("It is not ready to go yet.")
    words = ngettext("{count} of them is not ready to go yet.", "{count} of them are not ready to go yet.", count)
    return words.format(count=count)


def _day(day: dt.date, language: str) -> str:
    return date_text(PartialDate(day.year, day.month, day.day), language)
