"""Seasons in a search for routes: when an animal, or young of a season, can be paired at the earliest."""

import datetime as dt
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.projects import Project
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.seasons import BreedingYear, breeding_year, grown_from, last_season


@dataclass(frozen=True, slots=True)
class Years:
    """The calendar of a project as a search needs it.

    Attributes:
        collection: The records.
        year: The months of pairing and of birth.
        first: The first season that is still open.
        grown: Seasons from the one in which young are bred to the first in which they can be paired, for daughters
            and for sons; at least 1.
        rest: Seasons that a dam rests after a litter.
    """

    collection: Collection
    year: BreedingYear
    first: int
    grown: tuple[int, int]
    rest: int

    def ready(self, animal: Animal) -> int:
        """The first open season in which an animal can be paired; the first of all if its birth is not recorded."""
        season = max(self.first, grown_from(self.collection, self.year, animal, animal.sex) or 0)
        if animal.sex is Sex.FEMALE:
            last = last_season(self.collection, self.year, animal.id)
            season = max(season, last + 1 + self.rest if last is not None else 0)
        return season

    def after(self, sex: Sex) -> int:
        """Seasons until young of that sex can be paired."""
        return self.grown[0] if sex is Sex.FEMALE else self.grown[1]


def years_of(collection: Collection, project: Project, as_of: dt.date) -> Years:
    """The calendar of a project on a day."""
    species = collection.species[project.species]
    year = breeding_year(collection, species)
    first = year.next_open(as_of)
    grown = [
        max(1, year.first_season(year.birthday(first), species.breeding_age_months.get(sex, 0)) - first)
        for sex in (Sex.FEMALE, Sex.MALE)
    ]
    rest = species.rest if project.rest is None else project.rest
    return Years(collection, year, first, (grown[0], grown[1]), rest)
