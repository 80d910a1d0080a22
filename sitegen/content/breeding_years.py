"""Seasons: when a species is paired and born, when an animal is old enough, when a season is past.

A season is the calendar year in which young are born or hatch. The pairing lies in the same year, or in the one before
where the month of birth comes before the month of pairing. On the first day of the month of pairing an animal must have
its breeding age.
"""

import calendar
import datetime as dt
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import FailedAs, Litter, gravid
from sitegen.content.seasons import recorded_months
from sitegen.content.species import Species
from sitegen.content.values import PartialDate, WrittenAge
from sitegen.genetics.loci import Sex

USUAL_PAIRED, USUAL_BORN = 3, 7
"""Months that are assumed where neither the species' record nor any litter names one: March and July."""


@dataclass(frozen=True, slots=True)
class BreedingYear:
    """The months of pairing and of birth, 1 to 12; ``assumed`` where no record tells one of them."""

    paired: int
    born: int
    assumed: bool = False

    @property
    def crosses(self) -> bool:
        """True when the young are born in the calendar year after that of the pairing."""
        return self.born < self.paired

    def pairing_day(self, season: int) -> dt.date:
        """The day on which animals must be old enough."""
        return dt.date(season - self.crosses, self.paired, 1)

    def birthday(self, season: int) -> dt.date:
        """The first day of the month in which young of a season are born."""
        return dt.date(season, self.born, 1)

    def next_open(self, as_of: dt.date) -> int:
        """The first season whose month of pairing has not passed."""
        last = calendar.monthrange(as_of.year, self.paired)[1]
        return as_of.year + self.crosses + (as_of > dt.date(as_of.year, self.paired, last))

    def first_season(self, born: dt.date, months: int) -> int:
        """The first season in which one born on a day has the age; never that of its own birth."""
        grown = WrittenAge(months).reached(born)
        season = grown.year + self.crosses
        return max(born.year + 1, season + (grown > self.pairing_day(season)))

    def season_of(self, litter: Litter) -> int | None:
        """The year in which a litter was or should be born; None when nothing of it is dated.

        Without a date of birth, young are taken to come as long after the pairing as the species' months tell; after
        the laying in the next month of birth, but no later than that. Of a failed litter with no other date the last
        pairing before it failed is meant.
        """
        failed = litter.failed
        if day := litter.born or (failed.date if failed and failed.what is FailedAs.STILLBORN else litter.expected):
            return day.year
        carried = (self.born - self.paired) % 12
        if day := litter.laid:
            return _after(day, min((self.born - day.month) % 12, carried))
        if day := litter.paired:
            return _after(day, carried) if day.month else day.year + self.crosses
        return failed.date.year + self.crosses - (0 < failed.date.month < self.paired) if failed else None


def _after(day: PartialDate, months: int) -> int:
    """The year so many months later; its own where no month is known."""
    return day.year + (day.month + months > 12 if day.month else 0)


def breeding_year(collection: Collection, species: Species) -> BreedingYear:
    """The species' months, else the usual ones of its recorded litters, else March and July."""
    paired, born = recorded_months(species, collection.litters.values())
    return BreedingYear(paired or USUAL_PAIRED, born or USUAL_BORN, not (paired and born))


def grown_from(collection: Collection, year: BreedingYear, animal: Animal, sex: Sex) -> int | None:
    """The first season in which an animal has the breeding age of a sex; None when its birth is not known.

    Of a partial date of birth the last day counts.
    """
    litter = collection.litters.get(animal.litter)
    born = animal.born or (litter.born if litter else None)
    if born is None:
        return None
    species = collection.species[animal.species]
    return year.first_season(born.latest, species.breeding_age_months.get(sex, 0))


def seasons_by_litter(collection: Collection) -> dict[str, int | None]:
    """The season of each litter, as :meth:`BreedingYear.season_of` tells it."""
    years = {species.id: breeding_year(collection, species) for species in collection.species.values()}
    return {litter.id: years[litter.species].season_of(litter) for litter in collection.litters.values()}


def rest_after(collection: Collection, litter: Litter, rest: int) -> int:
    """Seasons in which a dam rests after a litter: ``rest``; ``rest_after_failure`` where she was not gravid."""
    return rest if gravid(litter) else collection.species[litter.species].rest_after_failure
