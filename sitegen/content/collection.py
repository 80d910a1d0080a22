"""Everything the breeder wrote, bound and cross-checked; and the last day of which it speaks."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from sitegen.content.animals import Animal
from sitegen.content.intervals import Start
from sitegen.content.litters import Litter
from sitegen.content.off_site import Listed
from sitegen.content.projects import Project
from sitegen.content.site import FreePage, Site
from sitegen.content.species import Species
from sitegen.content.starts import starts_by_litter
from sitegen.content.texts import FreeText, Review
from sitegen.content.values import PartialDate
from sitegen.content.waiting import Person
from sitegen.content.wishes import Wishes
from sitegen.genetics.questions import AnimalId, parents_of


@dataclass(frozen=True, slots=True)
class Collection:
    """The bound records; every reference in them is known to exist. All maps are in record order (sorted by id).

    ``animals`` holds the animals with a folder of their own and every listed young; a promoted young
    stands once, under the animal's id. ``texts`` is everything that is published in the breeder's own words, and
    ``reviews`` what is marked there as right although the audit asks about it. ``wishes`` is what plan.yaml says,
    None without one, ``waiting`` those who wait for an animal, by waiting.yaml; nothing that is published may depend on
    either.
    """

    site: Site
    species: Mapping[str, Species]
    animals: Mapping[AnimalId, Animal]
    litters: Mapping[str, Litter]
    projects: Mapping[str, Project]
    pages: Mapping[str, FreePage]
    texts: tuple[FreeText, ...] = ()
    reviews: tuple[Review, ...] = ()
    wishes: Wishes | None = None
    waiting: tuple[Person, ...] = ()
    _bred: dict[AnimalId, tuple[Litter, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)
    _starts: dict[str, Mapping[Start, dt.date]] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def published(self) -> "Collection":
        """The records without what is not shown: what pages are made from."""
        animals = {key: animal.published for key, animal in self.animals.items()}
        litters = {key: each.published for key, each in self.litters.items()}
        return replace(self, animals=animals, litters=litters, wishes=None, waiting=())

    @property
    def listed(self) -> "Collection":
        """The records, of which those that stand for what is kept off the site are found and never listed."""
        return replace(self, animals=Listed(self.animals), litters=Listed(self.litters))

    def birth_of(self, animal: Animal) -> PartialDate | None:
        """The date of birth, the litter's where the animal's own record has none."""
        litter = self.litters.get(animal.litter)
        return animal.born or (litter.born if litter else None)

    def starts_of(self, litter: str) -> Mapping[Start, dt.date]:
        """The events of a litter from which days are counted, in their order."""
        if not self._starts:
            self._starts.update(starts_by_litter(self.litters, self.animals))
        return self._starts[litter]

    def bred_by(self, animal: AnimalId) -> tuple[Litter, ...]:
        """The litters of which an animal is, or may be, a parent, in record order."""
        if not self._bred and self.litters:
            self._bred[""] = ()  # looked through once, also where no litter names a parent
            for litter in self.litters.values():
                for parent in dict.fromkeys(parents_of(litter)):
                    self._bred[parent] = (*self._bred.get(parent, ()), litter)
        return self._bred.get(animal, ())


_NO_DATES = dt.date(2000, 1, 1)


def latest_date(collection: Collection) -> dt.date:
    """The latest day on which anything published happened, so that a build needs no clock.

    Days that lie ahead (when an offer is ready, when a litter is expected) do not count. Of a partial date
    its first day counts. Records without any date give 1 January 2000.
    """
    decided = [decision.date for project in collection.projects.values() for decision in project.decisions]
    return max((date.earliest for date in (*_dates(collection), *decided)), default=_NO_DATES)


def latest_until(collection: Collection, day: dt.date) -> dt.date | None:
    """The latest day that is not after the one given, of any record of an animal, litter or note on a project."""
    return max((known for date in _dates(collection) if (known := date.earliest) <= day), default=None)


def _dates(collection: Collection) -> list[PartialDate]:
    """Every day of which a record of an animal or a litter speaks, and of which a note on a project tells.

    What is not published says nothing here: the day of the statement stands on every page.
    """
    dates = [date for animal in collection.animals.values() for date in dates_of_animal(animal.published)]
    dates += [date for litter in collection.litters.values() for date in dates_of_litter(litter.published)]
    dates += [update.date for project in collection.projects.values() for update in project.updates]
    return [date for date in dates if date is not None]


def dates_of_animal(animal: Animal) -> Iterator[PartialDate | None]:
    """Every day of which an animal's record speaks and that does not lie ahead; None where a day is not recorded."""
    yield from (animal.born, animal.died)
    yield animal.acquired.date if animal.acquired else None
    yield animal.offer.since if animal.offer else None
    yield from (weighing.date for weighing in animal.weights)
    yield from (measuring.date for measuring in animal.lengths)
    yield from (meal.date for meal in animal.meals)
    yield from (event.date for event in animal.events)
    yield from (photo.date for photo in animal.photos)
    for genes in animal.genes:
        yield genes.judged.on
        yield from (test.date for test in genes.tests)


def dates_of_litter(litter: Litter) -> Iterator[PartialDate | None]:
    """Every day of which a litter's record speaks and that does not lie ahead; None where a day is not recorded."""
    yield from (litter.paired, litter.laid, litter.born, litter.failed.date if litter.failed else None)
    yield from (event.date for event in litter.events)
    yield from (photo.date for photo in litter.photos)
