"""When an animal may be bred: the first season that its age, its litters and its weight allow, and what forbids others.

Roads, the plan of the room and the list of who can breed all ask here.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from sitegen.content.animals import Animal
from sitegen.content.breeding_years import BreedingYear, grown_from, rest_after
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter, gravid
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.year.growth import Growth, growth


class Hindrance(StrEnum):
    """Why an animal cannot breed in a season, or why that is not sure."""

    TOO_YOUNG = "too young"
    HAS_LITTER = "has a litter"
    RESTING = "resting"
    TOO_LIGHT = "too light"
    MUST_GAIN = "must gain"
    """Too light now, and heavy enough by the season, as far as it can be told."""
    NO_WEIGHT = "no weight"
    NO_BIRTH = "no birth date"

    @property
    def forbids(self) -> bool:
        """True when it rules the season out; the others are told and left to the keeper."""
        return self in (Hindrance.TOO_YOUNG, Hindrance.HAS_LITTER, Hindrance.RESTING, Hindrance.TOO_LIGHT)


@dataclass(frozen=True, slots=True)
class Readiness:
    """An animal in a season.

    Attributes:
        season: The year in which its young would be born.
        reasons: What stands against it, or is not known.
        first: The first season from that one on that nothing rules out.
        last: What rules out the season before ``first``, where that is not ``season``.
        until: Each reason that rules the season out to the first season in which it does not.
    """

    season: int
    reasons: tuple[Hindrance, ...]
    first: int
    last: Hindrance | None = None
    until: Mapping[Hindrance, int] = field(default_factory=dict)

    @property
    def can(self) -> bool:
        """True when nothing on record rules the season out."""
        return self.first == self.season


@dataclass(frozen=True, slots=True)
class Weighed:
    """The last weighing beside the breeding weight of the species for that sex; either may be missing.

    ``growth`` is that of an animal which is too light, where its weighings tell it.
    """

    grams: int | None
    on: PartialDate | None
    asked: int | None
    growth: Growth | None = None

    @property
    def too_light(self) -> bool:
        """True when it weighed less than it should to be bred."""
        return self.grams is not None and self.asked is not None and self.grams < self.asked

    def gains_by(self, day: dt.date) -> bool | None:
        """Whether it is likelier than not that it weighs enough on a day; None where nobody can tell."""
        reached = self.growth.day(0.5) if self.growth else None
        return None if reached is None else day >= reached


def is_there(animal: Animal) -> bool:
    """It lives and was not sold."""
    return not animal.died and not (animal.offer and animal.offer.state is OfferState.SOLD)


def is_ours(animal: Animal) -> bool:
    """It is there and not for sale."""
    return is_there(animal) and not (animal.offer and animal.offer.state is not OfferState.NOT_FOR_SALE)


def weighed(collection: Collection, animal: Animal, sex: Sex) -> Weighed:
    """Its last weighing, and what is asked."""
    asked = collection.species[animal.species].breeding_weight_grams.get(sex)
    last = max(animal.weights, key=lambda weighing: weighing.date, default=None)
    return Weighed(last.grams if last else None, last.date if last else None, asked, growth(animal, asked))


def litters_of(collection: Collection, year: BreedingYear, animal: AnimalId) -> list[tuple[int, Litter]]:
    """An animal's litters on record with their seasons, oldest first; as one of several possible sires too."""
    own = [(year.season_of(litter), litter) for litter in collection.bred_by(animal)]
    seasons = [(season, litter) for season, litter in own if season is not None]
    return sorted(seasons, key=lambda pair: (pair[0], pair[1].id))


def readiness(
    collection: Collection, year: BreedingYear, animal: Animal, sex: Sex, season: int, as_of: dt.date,
    rest: int | None = None,
) -> Readiness:  # fmt: skip
    """Whether an animal may be bred in a season, and from which one on.

    Args:
        collection: The records.
        year: The months of its species.
        animal: The animal; whether it lives and is still there is not asked.
        sex: As what it is to be bred.
        season: The season.
        as_of: The day of the statement: a weighing rules out the next season after it, and no later one, unless the
            animal's own growth tells when it weighs enough.
        rest: Seasons that a dam rests after a litter; those of the species if not given.
    """
    species = collection.species[animal.species]
    grown, weight = grown_from(collection, year, animal, sex), weighed(collection, animal, sex)
    litters = litters_of(collection, year, animal.id) if sex is Sex.FEMALE else []
    asked = species.rest if rest is None else rest
    rests = [  # from the season after a litter on, or that of one that failed when she was gravid
        range(one + (not (each.failed and gravid(each))), one + 1 + rest_after(collection, each, asked))
        for one, each in litters
    ]

    def against(one: int) -> Iterator[Hindrance]:
        young = grown is not None and grown > one
        if young:
            yield Hindrance.TOO_YOUNG
        elif grown is None and species.breeding_age_months.get(sex):
            yield Hindrance.NO_BIRTH
        had = sum(born == one and not litter.failed for born, litter in litters)
        if had >= species.litters_a_year:
            yield Hindrance.HAS_LITTER
        elif any(one in each for each in rests):
            yield Hindrance.RESTING
        if weight.too_light and not young:
            gains = weight.gains_by(year.pairing_day(one))
            later = one > year.next_open(as_of) if gains is None else gains
            yield Hindrance.MUST_GAIN if later else Hindrance.TOO_LIGHT
        elif weight.asked is not None and weight.grams is None:
            yield Hindrance.NO_WEIGHT

    def forbidden(one: int) -> list[Hindrance]:
        return [each for each in against(one) if each.forbids]

    first, until = season, dict[Hindrance, int]()
    while found := forbidden(first):
        first += 1
        until |= {each: first for each in found if until.get(each, first) in (first - 1, first)}
    last = forbidden(first - 1)[0] if first > season else None
    return Readiness(season, tuple(against(season)), first, last, until)
