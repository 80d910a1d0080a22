"""What the round says of an animal, and asks before an unusual weight is kept; it is never published."""

import datetime as dt

from sitegen.content.animals import Meal
from sitegen.content.site import Site
from sitegen.content.values import PartialDate, Weighing
from sitegen.words.numbers import date_text, weight_text
from sitegen.words.today import english_of


def order_text(count: int, *, meals: bool) -> str:
    """How many, and in which order: ``12 animals; the longest unweighed first``."""
    if count < 2:
        return "1 animal." if count else "Nobody is here to be asked."
    return f"{count} animals; the longest {'unfed' if meals else 'unweighed'} first."


def day_text(day: dt.date | PartialDate, site: Site) -> str:
    """``November 25, 2026``, in the English of the site."""
    return date_text(day, english_of(site))


def last_weight(last: Weighing | None, site: Site) -> str:
    """``402 g on 3 October 2026``."""
    return f"{_grams(last.grams, site)} on {day_text(last.date, site)}" if last else "no weight yet"


def last_meal(last: Meal | None, site: Site) -> str:
    """``adult mouse, taken on 3 October 2026``."""
    if last is None:
        return "no meal yet"
    return f"{last.what}, {'taken' if last.taken else 'refused'} on {day_text(last.date, site)}"


def unusual_question(grams: int, last: Weighing, site: Site) -> str:
    """Asked of a weight that lies far from the one before it."""
    return f"{_grams(grams, site)}, after {last_weight(last, site)}: is that right?"


def other_question(grams: int, there: Weighing, site: Site) -> str:
    """Asked where somebody else wrote another weight for that day meanwhile."""
    return f"{_grams(there.grams, site)} stands there for that day. Write {_grams(grams, site)} in its place?"


def _grams(grams: int, site: Site) -> str:
    return weight_text(grams, site.units, english_of(site))
