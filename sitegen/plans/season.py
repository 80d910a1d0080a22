"""Who can breed in a season and in the next one, for which stage, and what stands against it. Data, no sentence."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from sitegen.content.animals import Animal
from sitegen.content.breeding_years import BreedingYear, breeding_year, rest_after
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter, gravid
from sitegen.content.prices import OfferState
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.doubts_harms import makers, shown_looks
from sitegen.plans.promises import ACTIVE, Promise, at_once, promises_of, routes_of
from sitegen.plans.readiness import Hindrance, Readiness, Weighed, is_there, litters_of, readiness, weighed


@dataclass(frozen=True, slots=True)
class Serves:
    """A stage that an animal serves; ``route`` is empty on the main road, else it is only an alternative."""

    project: str
    stage: str
    season: int
    route: str = ""


@dataclass(frozen=True, slots=True)
class Breeder:
    """One animal that may be bred.

    Attributes:
        animal: Its id.
        sex, species: Of it.
        verdicts: The season that was asked for, and the next one.
        weight: Its last weighing.
        last: The last litter it had or expects, with its season.
        harms: Looks it shows that have a welfare note.
        serves: Every stage it is promised to, main roads first, in the order of the seasons.
    """

    animal: AnimalId
    sex: Sex
    species: str
    verdicts: tuple[Readiness, Readiness]
    weight: Weighed
    last: tuple[str, int] | None
    serves: tuple[Serves, ...]
    harms: tuple[str, ...] = ()

    @property
    def on_main_roads(self) -> tuple[Serves, ...]:
        """The stages that it serves whichever route is taken."""
        return tuple(each for each in self.serves if not each.route)

    @property
    def promised(self) -> tuple[Serves, ...]:
        """Those of the two seasons."""
        seasons = [verdict.season for verdict in self.verdicts]
        return tuple(each for each in self.on_main_roads if each.season in seasons)


class Trouble(StrEnum):
    """What is wrong with a promise."""

    SIRE_OF_SEVERAL = "sire of several"
    DAM_OF_SEVERAL = "dam of several"
    TOO_YOUNG = "too young"
    NO_REST = "no rest"
    TOO_LIGHT = "too light"
    GONE = "gone"
    OFFERED = "offered"


@dataclass(frozen=True, slots=True)
class Conflict:
    """Promises that cannot all be kept.

    Attributes:
        animal: Of whom.
        season: When.
        trouble: What it is.
        stages: The promises.
        litters: Litters on record that take up the season.
    """

    animal: AnimalId
    season: int
    trouble: Trouble
    stages: tuple[Serves, ...]
    litters: tuple[str, ...] = ()

    @property
    def grave(self) -> bool:
        """True for what cannot be; a weight or an offer may be another one by then."""
        return self.trouble not in (Trouble.TOO_LIGHT, Trouble.OFFERED)


@dataclass(frozen=True, slots=True)
class SeasonPlan:
    """A season and the next one.

    Attributes:
        season: The first of the two.
        as_of: The day up to which the records were read.
        breeders: Every animal of known sex that lives and was not sold; those on offer only where they are promised.
        conflicts: In the order of the seasons.
        on_offer: How many are left out because they are on offer.
        sexless: How many are left out because their sex is not recorded.
        assumed: Species whose breeding season is assumed, not recorded.
    """

    season: int
    as_of: dt.date
    breeders: tuple[Breeder, ...]
    conflicts: tuple[Conflict, ...]
    on_offer: int
    sexless: int
    assumed: tuple[str, ...]


def season_plan(collection: Collection, as_of: dt.date, season: int | None = None) -> SeasonPlan:
    """Who can breed when, and for what.

    Args:
        collection: The records.
        as_of: The day of the statement; what happened later is not known to the records.
        season: The first of the two seasons; the next one that is not past if not given.
    """
    years = {species.id: breeding_year(collection, species) for species in collection.species.values()}
    first = season or min((year.next_open(as_of) for year in years.values()), default=as_of.year)
    serving = _serving(collection, as_of)
    planner = _SeasonPlanner(collection, as_of, first, years, serving)
    there = [animal for animal in collection.animals.values() if is_there(animal)]
    told = [animal for animal in there if not _is_offered(animal) or serving.get(animal.id)]
    breeders = tuple(planner.breeder(animal) for animal in told if planner.sex(animal) is not Sex.UNKNOWN)
    conflicts = [conflict for each in breeders for conflict in planner.conflicts(each)]
    conflicts += planner.gone()
    return SeasonPlan(
        season=first,
        as_of=as_of,
        breeders=breeders,
        conflicts=tuple(sorted(conflicts, key=lambda each: (each.season, each.animal))),
        on_offer=len(there) - len(told),
        sexless=sum(planner.sex(animal) is Sex.UNKNOWN for animal in told),
        assumed=tuple(species for species, year in years.items() if year.assumed),
    )


def _is_offered(animal: Animal) -> bool:
    return animal.offer is not None and animal.offer.state in (OfferState.AVAILABLE, OfferState.ON_HOLD)


_Serving = Mapping[AnimalId, tuple[tuple[Promise, Serves], ...]]


def _serving(collection: Collection, as_of: dt.date) -> _Serving:
    """Animal to all stages that it is promised to, those of alternatives last."""
    found: dict[AnimalId, list[tuple[Promise, Serves]]] = {}
    for project in collection.projects.values():
        if project.state not in ACTIVE:
            continue
        for route in routes_of(collection, project, as_of):
            for promise in promises_of(route):
                serves = Serves(project.id, promise.stage, promise.season, route.id)
                for animal in promise.parents.animals:
                    found.setdefault(animal, []).append((promise, serves))
    return {
        animal: tuple(sorted(each, key=lambda pair: (bool(pair[1].route), pair[1].season, pair[1].project)))
        for animal, each in found.items()
    }


@dataclass(frozen=True, slots=True)
class _SeasonPlanner:
    """Looks at one animal after the other."""

    collection: Collection
    as_of: dt.date
    first: int
    years: Mapping[str, BreedingYear]
    serving: _Serving

    @property
    def seasons(self) -> tuple[int, int]:
        return self.first, self.first + 1

    def sex(self, animal: Animal) -> Sex:
        """Its sex, told from how it was bred or is to be bred where the record does not say it."""
        if animal.sex is not Sex.UNKNOWN:
            return animal.sex
        promised = self.serving.get(animal.id, ())
        return promised[0][0].sex if promised else Sex.UNKNOWN

    def breeder(self, animal: Animal) -> Breeder:
        """The animal in both seasons."""
        sex = self.sex(animal)
        litters = self._litters(animal)
        last = max(litters, key=lambda pair: pair[0], default=None)
        year, rest = self.years[animal.species], self._rest(animal)
        first, second = (
            readiness(self.collection, year, animal, sex, season, self.as_of, rest) for season in self.seasons
        )
        return Breeder(
            animal=animal.id,
            sex=sex,
            species=animal.species,
            verdicts=(first, second),
            weight=weighed(self.collection, animal, sex),
            last=(last[1].id, last[0]) if last else None,
            serves=tuple(serves for _, serves in self.serving.get(animal.id, ())),
            harms=self._harms(animal),
        )

    def _harms(self, animal: Animal) -> tuple[str, ...]:
        """The looks that it shows and that a gene with a welfare note makes."""
        genome = self.collection.species[animal.species].genome
        found = []
        for look in shown_looks(animal):
            locus = genome.locus(genome.look(look).locus)
            if any(locus.allele(allele).welfare for allele in makers(locus, look)):
                found.append(look)
        return tuple(found)

    def _litters(self, animal: Animal) -> list[tuple[int, Litter]]:
        return litters_of(self.collection, self.years[animal.species], animal.id)

    def _rest(self, animal: Animal) -> int:
        """Seasons of rest: the most that the projects that she serves ask for, else that of the species."""
        own = self.collection.species[animal.species].rest
        projects = {serves.project for _, serves in self.serving.get(animal.id, ()) if not serves.route}
        asked = [self.collection.projects[project].rest for project in projects]
        return max((rest for rest in asked if rest is not None), default=own)

    def conflicts(self, breeder: Breeder) -> Iterator[Conflict]:
        """What stands against the promises of an animal in the two seasons."""
        animal = self.collection.animals[breeder.animal]
        litters = self._litters(animal)
        for verdict in breeder.verdicts:
            stages = tuple(each for each in breeder.promised if each.season == verdict.season)
            if not stages:
                continue
            taken = tuple(litter.id for season, litter in litters if season == verdict.season and gravid(litter))
            meeting = self._meeting(breeder.animal, stages)
            if breeder.sex is Sex.MALE and len(meeting) > 1:
                yield Conflict(breeder.animal, verdict.season, Trouble.SIRE_OF_SEVERAL, meeting)
            can_have = self.collection.species[breeder.species].litters_a_year
            if breeder.sex is Sex.FEMALE and len(meeting) + len(taken) > can_have:
                yield Conflict(breeder.animal, verdict.season, Trouble.DAM_OF_SEVERAL, meeting, taken)
            if Hindrance.TOO_YOUNG in verdict.reasons:
                yield Conflict(breeder.animal, verdict.season, Trouble.TOO_YOUNG, stages)
            rests = self._no_rest(animal, breeder, verdict, litters)
            if rests:
                yield Conflict(breeder.animal, verdict.season, Trouble.NO_REST, (*stages, *rests[0]), rests[1])
            if Hindrance.TOO_LIGHT in verdict.reasons or Hindrance.MUST_GAIN in verdict.reasons:
                yield Conflict(breeder.animal, verdict.season, Trouble.TOO_LIGHT, stages)
            if _is_offered(animal):
                yield Conflict(breeder.animal, verdict.season, Trouble.OFFERED, stages)

    def _meeting(self, animal: AnimalId, stages: tuple[Serves, ...]) -> tuple[Serves, ...]:
        """Of stages of one season as many as can come true together; of two branches of a road only one does."""
        promises = {promise: serves for promise, serves in self.serving[animal] if serves in stages}
        chosen = max((at_once((promise, *promises)) for promise in promises), key=len)
        return tuple(serves for promise, serves in promises.items() if promise in chosen)

    def _no_rest(
        self, animal: Animal, breeder: Breeder, verdict: Readiness, litters: list[tuple[int, Litter]]
    ) -> tuple[tuple[Serves, ...], tuple[str, ...]] | None:
        """Stages and litters of the seasons in which a dam should rest before a promise; None where she can."""
        if breeder.sex is not Sex.FEMALE:
            return None
        rest, asked = self._rest(animal), verdict.season
        promised = [(promise, serves) for promise, serves in self.serving.get(animal.id, ()) if not serves.route]
        now = [promise for promise, serves in promised if serves.season == asked]
        before = [(promise, serves) for promise, serves in promised if asked - rest <= serves.season < asked]
        stages = tuple(serves for promise, serves in before if any(promise.may_meet(each) for each in now))
        had = tuple(each.id for one, each in litters if asked - rest_after(self.collection, each, rest) <= one < asked)
        return (stages, had) if stages or had else None

    def gone(self) -> list[Conflict]:
        """Promises of animals that have died or were sold."""
        found = []
        for name, promised in self.serving.items():
            if is_there(self.collection.animals[name]):
                continue
            for season in self.seasons:
                stages = tuple(each for _, each in promised if not each.route and each.season == season)
                if stages:
                    found.append(Conflict(name, season, Trouble.GONE, stages))
        return found
