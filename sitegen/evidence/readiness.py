"""What an offered young still lacks before it may leave, by the site's own rules.

Common practice, no source: a young goes when it has taken some meals. The rules are the breeder's; what they are
measured by is recorded: meals taken, the last weight, the date of birth. An animal that is a year old needs no
list of first meals.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from sitegen.content.animals import Animal
from sitegen.content.site import ReadyRules
from sitegen.content.values import WrittenAge

FIRST_YEAR_DAYS = 365


class Lacks(StrEnum):
    """What is missing."""

    MEALS = "meals"
    WEIGHT = "weight"
    AGE = "age"


@dataclass(frozen=True, slots=True)
class Missing:
    """One rule that is not met.

    Attributes:
        what: Which rule.
        wanted: Meals, or grams; 0 for the age.
        found: Meals taken, or grams; None where no weight or no date of birth is recorded.
        age: The age that is wanted.
        on: The day on which it reaches that age; None when the date of birth is not recorded.
    """

    what: Lacks
    wanted: int = 0
    found: int | None = None
    age: WrittenAge | None = None
    on: dt.date | None = None


def missing(animal: Animal, rules: ReadyRules, as_of: dt.date) -> tuple[Missing, ...]:
    """The rules that an animal does not meet on a day; none for one that is past its first year."""
    return tuple(_missing(animal, rules, as_of)) if _in_first_year(animal, as_of) else ()


def _in_first_year(animal: Animal, as_of: dt.date) -> bool:
    """True in the first year; without a date of birth an animal is young while it stands in a litter record only."""
    return (as_of - animal.born.latest).days < FIRST_YEAR_DAYS if animal.born else animal.is_young


def _missing(animal: Animal, rules: ReadyRules, as_of: dt.date) -> Iterator[Missing]:
    taken = sum(1 for meal in animal.meals if meal.taken and meal.date.earliest <= as_of)
    if rules.meals is not None and taken < rules.meals:
        yield Missing(Lacks.MEALS, rules.meals, taken)
    weighings = sorted(animal.weights, key=lambda weighing: weighing.date.latest)
    last = weighings[-1].grams if weighings else None
    if rules.grams is not None and (last is None or last < rules.grams):
        yield Missing(Lacks.WEIGHT, rules.grams, last)
    if rules.age is not None:
        on = rules.age.reached(animal.born.latest) if animal.born else None
        if on is None or on > as_of:
            yield Missing(Lacks.AGE, age=rules.age, on=on)
