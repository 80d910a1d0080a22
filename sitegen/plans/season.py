"""Who can breed in a season and in the next one, for which stage, and what stands against it. Data, no sentence."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from sitegen.content.animals import Animal
from sitegen.content.breeding_years import BreedingYear, breeding_year, grown_from, rest_after
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter, gravid
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.doubts_harms import makers, shown_looks
from sitegen.plans.promises import ACTIVE, Promise, at_once, promises_of, routes_of


class SeasonReason(StrEnum):
    """Why an animal cannot breed in a season, or why that is not sure."""

    TOO_YOUNG = "too young"
    HAS_LITTER = "has a litter"
    RESTING = "resting"
    TOO_LIGHT = "too light"
    MUST_GAIN = "must gain"
    """Too light now, and the season is not the next one."""
    NO_WEIGHT = "no weight"
    NO_BIRTH = "no birth date"

    @property
    def forbids(self) -> bool:
        """True when it rules the season out; the others are told and left to the keeper."""
        return self in (SeasonReason.TOO_YOUNG, SeasonReason.HAS_LITTER, SeasonReason.RESTING, SeasonReason.TOO_LIGHT)


@dataclass(frozen=True, slots=True)
class SeasonVerdict:
    """An animal in one season.

    Attributes:
        season: The year in which its young would be born.
        reasons: What stands against it, or is not known.
        from_season: The first season in which age and rest allow it.
    """

    season: int
    reasons: tuple[SeasonReason, ...]
    from_season: int

    @property
    def can(self) -> bool:
        """True when nothing on record rules it out."""
        return not any(reason.forbids for reason in self.reasons)


@dataclass(frozen=True, slots=True)
class Weighed:
    """The last weighing beside the breeding weight of the species for that sex; either may be missing."""

    grams: int | None
    on: PartialDate | None
    asked: int | None

    @property
    def too_light(self) -> bool:
        """True when it weighed less than it should to be bred."""
        return self.grams is not None and self.asked is not None and self.grams < self.asked


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
    verdicts: tuple[SeasonVerdict, SeasonVerdict]
    weight: Weighed
    last: tuple[str, int] | None
    serves: tuple[Serves, ...]
    harms: tuple[str, ...] = ()

    @property
    def promised(self) -> tuple[Serves, ...]:
        """The stages of main roads that it serves in the two seasons."""
        seasons = [verdict.season for verdict in self.verdicts]
        return tuple(each for each in self.serves if not each.route and each.season in seasons)


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
    there = [animal for animal in collection.animals.values() if planner.is_there(animal)]
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

    def is_there(self, animal: Animal) -> bool:
        """It lives and was not sold."""
        sold = animal.offer is not None and animal.offer.state is OfferState.SOLD
        return not animal.died and not sold

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
        weight = self._weight(animal, sex)
        first, second = (self._verdict(animal, sex, season, litters, weight) for season in self.seasons)
        return Breeder(
            animal=animal.id,
            sex=sex,
            species=animal.species,
            verdicts=(first, second),
            weight=weight,
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
        """Its litters on record with their seasons, oldest first; as one of several possible sires too."""
        year = self.years[animal.species]
        own = [
            litter
            for litter in self.collection.litters.values()
            if animal.id == litter.dam or animal.id in (sire for sire, _ in litter.sires)
        ]
        seasons = [(season, litter) for litter in own if (season := year.season_of(litter)) is not None]
        return sorted(seasons, key=lambda pair: (pair[0], pair[1].id))

    def _weight(self, animal: Animal, sex: Sex) -> Weighed:
        asked = self.collection.species[animal.species].breeding_weight_grams.get(sex)
        last = max(animal.weights, key=lambda weighing: weighing.date, default=None)
        return Weighed(last.grams if last else None, last.date if last else None, asked)

    def _rest(self, animal: Animal) -> int:
        """Seasons of rest: what the projects that she serves ask for, at least that of the species."""
        own = self.collection.species[animal.species].rest
        projects = {serves.project for _, serves in self.serving.get(animal.id, ()) if not serves.route}
        asked = [self.collection.projects[project].rest for project in projects]
        return max((rest for rest in asked if rest is not None), default=own)

    def _verdict(
        self, animal: Animal, sex: Sex, season: int, litters: list[tuple[int, Litter]], weight: Weighed
    ) -> SeasonVerdict:
        reasons: list[SeasonReason] = []
        grown = grown_from(self.collection, self.years[animal.species], animal, sex)
        earliest = grown or season
        if grown is None and self.collection.species[animal.species].breeding_age_months.get(sex):
            reasons.append(SeasonReason.NO_BIRTH)
        elif earliest > season:
            reasons.append(SeasonReason.TOO_YOUNG)
        if sex is Sex.FEMALE:
            had = [one for one, litter in litters if not litter.failed]
            if had.count(season) >= self.collection.species[animal.species].litters_a_year:
                reasons.append(SeasonReason.HAS_LITTER)
            over = [(one, each) for one, each in litters if one < season + bool(each.failed and gravid(each))]
            rest = self._rest(animal)
            rested = max((one + 1 + rest_after(self.collection, each, rest) for one, each in over), default=season)
            if rested > season and SeasonReason.HAS_LITTER not in reasons:
                reasons.append(SeasonReason.RESTING)
            earliest = max(earliest, rested)
        if weight.too_light and SeasonReason.TOO_YOUNG not in reasons:
            ahead = season > self.years[animal.species].next_open(self.as_of)
            reasons.append(SeasonReason.MUST_GAIN if ahead else SeasonReason.TOO_LIGHT)
        elif weight.asked is not None and weight.grams is None:
            reasons.append(SeasonReason.NO_WEIGHT)
        return SeasonVerdict(season, tuple(reasons), earliest)

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
            if SeasonReason.TOO_YOUNG in verdict.reasons:
                yield Conflict(breeder.animal, verdict.season, Trouble.TOO_YOUNG, stages)
            rests = self._no_rest(animal, breeder, verdict, litters)
            if rests:
                yield Conflict(breeder.animal, verdict.season, Trouble.NO_REST, (*stages, *rests[0]), rests[1])
            if SeasonReason.TOO_LIGHT in verdict.reasons or SeasonReason.MUST_GAIN in verdict.reasons:
                yield Conflict(breeder.animal, verdict.season, Trouble.TOO_LIGHT, stages)
            if _is_offered(animal):
                yield Conflict(breeder.animal, verdict.season, Trouble.OFFERED, stages)

    def _meeting(self, animal: AnimalId, stages: tuple[Serves, ...]) -> tuple[Serves, ...]:
        """Of stages of one season as many as can come true together; of two branches of a road only one does."""
        promises = {promise: serves for promise, serves in self.serving[animal] if serves in stages}
        chosen = max((at_once((promise, *promises)) for promise in promises), key=len)
        return tuple(serves for promise, serves in promises.items() if promise in chosen)

    def _no_rest(
        self, animal: Animal, breeder: Breeder, verdict: SeasonVerdict, litters: list[tuple[int, Litter]]
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
            if self.is_there(self.collection.animals[name]):
                continue
            for season in self.seasons:
                stages = tuple(each for _, each in promised if not each.route and each.season == season)
                if stages:
                    found.append(Conflict(name, season, Trouble.GONE, stages))
        return found
