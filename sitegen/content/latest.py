"""The last day of which the records speak: the day of the statement when none is given."""

import datetime as dt
from collections.abc import Iterator

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.content.values import PartialDate

_NO_DATES = dt.date(2000, 1, 1)


def latest_date(collection: Collection) -> dt.date:
    """The latest day on which anything recorded happened, so that a build needs no clock.

    Days that lie ahead (when an offer is ready, when a litter is expected) do not count. Of a partial date
    its first day counts. Records without any date give 1 January 2000.
    """
    dates = [date for animal in collection.animals.values() for date in dates_of_animal(animal)]
    dates += [date for litter in collection.litters.values() for date in dates_of_litter(litter)]
    dates += [update.date for project in collection.projects.values() for update in project.updates]
    dates += [decision.date for project in collection.projects.values() for decision in project.decisions]
    return max((date.earliest for date in dates if date), default=_NO_DATES)


def latest_until(collection: Collection, day: dt.date) -> dt.date | None:
    """The latest day that is not after the one given, of any record of an animal, litter or note on a project."""
    dates = [date for animal in collection.animals.values() for date in dates_of_animal(animal)]
    dates += [date for litter in collection.litters.values() for date in dates_of_litter(litter)]
    dates += [update.date for project in collection.projects.values() for update in project.updates]
    return max((known for date in dates if date and (known := date.earliest) <= day), default=None)


def dates_of_animal(animal: Animal) -> Iterator[PartialDate | None]:
    """Every day of which an animal's record speaks and that does not lie ahead; None where a day is not recorded."""
    yield from (animal.born, animal.died)
    yield animal.acquired.date if animal.acquired else None
    yield animal.offer.since if animal.offer else None
    yield from (weighing.date for weighing in animal.weights)
    yield from (meal.date for meal in animal.meals)
    yield from (photo.date for photo in animal.photos)
    for genes in animal.genes:
        yield genes.judged.on
        yield from (test.date for test in genes.tests)


def dates_of_litter(litter: Litter) -> Iterator[PartialDate | None]:
    """Every day of which a litter's record speaks and that does not lie ahead; None where a day is not recorded."""
    yield from (litter.paired, litter.laid, litter.born)
    yield from (photo.date for photo in litter.photos)
