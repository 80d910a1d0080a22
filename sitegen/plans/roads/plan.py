"""A project's stages as they stand on a day: who may breed when, what is still to be kept, which young become parents.

This is the calendar by which :mod:`sitegen.plans.roads.simulator` plays. Nothing here is left to chance.
"""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.content.breeding_years import BreedingYear, breeding_year
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.content.projects import Holdback, Project, Stage, Until
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.readiness import Hindrance, Readiness, readiness
from sitegen.plans.roads.kinds import StageState, Waits

OVERDUE = dt.timedelta(days=92)
"""A litter that is not born so long after the first day of its month is taken to have failed."""

_WAITS = {
    Hindrance.HAS_LITTER: Waits.REST, Hindrance.RESTING: Waits.REST, Hindrance.TOO_LIGHT: Waits.READY,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Parents:
    """The dams or the sires of a stage: animals, or the young of a holdback that are not all kept yet.

    Attributes:
        animals: Those that are there, in the order of the record.
        holdback: Otherwise (stage, holdback); None if they are there. Some of it may be kept already.
        branch: The stage of whose other branch they were kept; empty for all others.
    """

    animals: tuple[AnimalId, ...]
    holdback: tuple[str, str] | None = None
    branch: str = ""


@dataclass(frozen=True, slots=True)
class Expecting:
    """A litter on record that is not born yet: its season, its parents, and whether its eggs are laid."""

    season: int
    dam: AnimalId
    sire: AnimalId
    laid: bool


@dataclass(frozen=True, slots=True)
class StagePlan:
    """One stage as it stands.

    Attributes:
        stage: Its record.
        dams, sires: Its parents.
        keep, otherwise: The holdbacks that are still to be filled, of both branches.
        used: Seasons in which it was tried already.
        state: How far it is.
        by_else: It is done, and only what is kept otherwise came.
        earliest: The first season in which it can be bred if everything before it comes at the first try; of a
            done stage the season of its first litter; None if it cannot be bred any more.
        start: The season before which it is not bred, whoever is ready: that of the plan, or the next one.
        waits, waits_for: What decides ``earliest``.
        expecting: Litters on the way.
    """

    stage: Stage
    dams: Parents
    sires: Parents
    keep: tuple[Holdback, ...]
    otherwise: tuple[Holdback, ...]
    used: int
    state: StageState
    earliest: int | None
    start: int
    waits: Waits
    waits_for: str
    expecting: tuple[Expecting, ...] = ()
    by_else: bool = False

    @property
    def to_fill(self) -> tuple[Holdback, ...]:
        """What it is still to keep, in both branches."""
        return (*self.keep, *self.otherwise)

    @property
    def is_open(self) -> bool:
        """True while it can still be bred."""
        return self.state is not StageState.DONE and self.earliest is not None


@dataclass(frozen=True, slots=True)
class RoadPlan:
    """All stages as they stand.

    Attributes:
        collection: The records.
        year: The months of the species.
        rest: Seasons a dam rests after a litter.
        stages: In the order of the record.
        sexes: (stage, holdback) to the sex that its young must have; None for either.
        entries: (animal, sex) to when it may breed; None if it has died or has the other sex.
        next_open: The first season whose month of pairing has not passed.
    """

    collection: Collection
    year: BreedingYear
    rest: int
    stages: tuple[StagePlan, ...]
    sexes: Mapping[tuple[str, str], Sex | None]
    entries: Mapping[tuple[AnimalId, Sex], Readiness | None]
    next_open: int

    @property
    def first(self) -> int | None:
        """The first season in which anything can be born; None if nothing can any more."""
        seasons = [each.earliest for each in self.stages if each.is_open and each.earliest is not None]
        seasons += [litter.season for each in self.stages if each.is_open for litter in each.expecting]
        return min(seasons, default=None)

    @property
    def open(self) -> tuple[StagePlan, ...]:
        """The stages that can still be bred."""
        return tuple(each for each in self.stages if each.is_open)


def road_plan(collection: Collection, project: Project, stages: Sequence[Stage], as_of: dt.date) -> RoadPlan:
    """The stages of a project, or of another route to its goal, as they stand on a day."""
    return _Planner(collection, project, stages, as_of).plan()


def holdback_sexes(collection: Collection, stages: Sequence[Stage]) -> dict[tuple[str, str], Sex | None]:
    """The sex that each holdback's young must have: as written, else as the first stage that uses them needs it."""
    found: dict[tuple[str, str], Sex | None] = {
        (stage.id, each.id): Sex(each.sex) if each.sex else None for stage in stages for each in stage.holdbacks
    }
    for stage in stages:
        for name, sex in ((stage.dam, Sex.FEMALE), (stage.sire, Sex.MALE)):
            key = _key(collection, name)
            if key in found and found[key] is None:
                found[key] = sex
    return found


def _key(collection: Collection, name: str) -> tuple[str, str] | None:
    """(stage, holdback) of a parent's name; None for an animal."""
    if name in collection.animals or "." not in name:
        return None
    stage, _, holdback = name.partition(".")
    return stage, holdback


class _Planner:
    """Makes the plan of one route."""

    def __init__(self, collection: Collection, project: Project, stages: Sequence[Stage], as_of: dt.date) -> None:
        self.collection = collection
        self.species = collection.species[project.species]
        self.year = breeding_year(collection, self.species)
        self.rest = self.species.rest if project.rest is None else project.rest
        self.as_of = as_of
        self.next_open = self.year.next_open(as_of)
        self.records = tuple(stages)
        self.holdbacks = {(stage.id, each.id): each for stage in stages for each in stage.holdbacks}
        self.sexes = holdback_sexes(collection, stages)
        self.entries: dict[tuple[AnimalId, Sex], Readiness | None] = {}
        self.done: dict[str, StagePlan] = {}
        self.claimed: dict[AnimalId, list[int]] = {}

    def plan(self) -> RoadPlan:
        for stage in self.records:
            self.done[stage.id] = self._stage(stage)
        stages = self._with_next(tuple(self.done.values()))
        return RoadPlan(self.collection, self.year, self.rest, stages, self.sexes, self.entries, self.next_open)

    def _with_next(self, stages: tuple[StagePlan, ...]) -> tuple[StagePlan, ...]:
        """Among stages that are not begun, the first one in time is next."""
        waiting = [each.earliest for each in stages if each.state is StageState.LATER and each.earliest is not None]
        begun = [each.earliest for each in stages if each.state is StageState.BEGUN and each.earliest is not None]
        first = min(waiting, default=None)

        def state(each: StagePlan) -> StageState:
            if each.state is not StageState.LATER or each.earliest is None:
                return each.state
            there = not each.dams.holdback and not each.sires.holdback
            return StageState.NEXT if each.earliest == first and (there or not begun) else StageState.LATER

        return tuple(replace(each, state=state(each)) for each in stages)

    def _stage(self, stage: Stage) -> StagePlan:
        litters = [self.collection.litters[each] for each in stage.litters if each in self.collection.litters]
        born = [litter for litter in litters if litter.born or litter.young or litter.others]
        expecting = [each for litter in litters if litter not in born for each in self._expecting(litter)]
        dams, sires = self._parents(stage.dam, Sex.FEMALE), self._parents(stage.sire, Sex.MALE)
        for parents, sex in ((dams, Sex.FEMALE), (sires, Sex.MALE)):
            for animal in parents.animals:
                self._entry(animal, sex)
        coming = {each.season for each in expecting}
        seasons = {season for each in litters if (season := self.year.season_of(each)) is not None} - coming
        keep, otherwise = ([each for each in own if not each.is_filled] for own in (stage.keep, stage.otherwise))
        for each in (*keep, *otherwise):
            for animal in each.animals:
                self._entry(animal, self.sexes[stage.id, each.id] or self.collection.animals[animal].sex)
        left = None if stage.tries is None else stage.tries - len(seasons) - len(coming)
        over = left is not None and left <= 0
        last = (over and not coming) or (stage.until == Until.ELSE and bool(stage.otherwise) and not otherwise)
        done = not keep if stage.keep else bool(born) and stage is not self.records[-1]
        done = done or (last and bool(stage.keep) and all(each.is_enough for each in stage.keep))
        by_else = not done and last and bool(stage.otherwise) and all(each.is_enough for each in stage.otherwise)
        used, first = len(seasons), min(seasons, default=stage.season)
        if done or by_else:
            state = StageState.DONE
            return StagePlan(stage, dams, sires, (), (), used, state, first, first, Waits.PLAN, "", by_else=by_else)
        start = max(stage.season, self.next_open, max(seasons, default=0) + 1)
        earliest, waits, waits_for = self._earliest(stage, dams, sires, start)
        if over:
            earliest, waits, waits_for = None, Waits.NEVER, ""
        if coming:
            earliest, waits, waits_for = min(coming), Waits.PLAN, ""
        if earliest is not None and len(dams.animals) == 1:
            self.claimed.setdefault(dams.animals[0], []).append(earliest)
        return StagePlan(
            stage, dams, sires, tuple(keep), tuple(otherwise), used,
            StageState.BEGUN if seasons else StageState.LATER,
            earliest, start, waits, waits_for, tuple(expecting),
        )  # fmt: skip

    def _expecting(self, litter: Litter) -> Iterator[Expecting]:
        """The litter as one on the way; nothing if it should have been born long ago."""
        season = self.year.season_of(litter)
        if season is None or litter.dam is None or not litter.sires or litter.failed:
            return
        if self.as_of > self.year.birthday(season) + OVERDUE:
            return
        sire = max(litter.sires, key=lambda pair: pair[1])[0]
        for animal, sex in ((litter.dam, Sex.FEMALE), (sire, Sex.MALE)):
            self._entry(animal, sex)
        yield Expecting(season, litter.dam, sire, litter.laid is not None)

    def _parents(self, name: str, sex: Sex) -> Parents:
        key = _key(self.collection, name)
        if key is None:
            return Parents((name,))
        held, source = self.holdbacks.get(key), self.done.get(key[0])
        if held is None or source is None:
            return Parents((), key)
        is_else, kept = held in source.stage.otherwise, held.animals
        there = held.is_filled if source.is_open else held.is_enough and (not is_else or source.by_else)
        if not kept or not there:
            return Parents((), key)
        other = Sex.MALE if sex is Sex.FEMALE else Sex.FEMALE
        fitting = tuple(each for each in kept if self.collection.animals[each].sex is not other)
        return Parents(fitting or kept, branch=key[0] if is_else else "")

    def _earliest(self, stage: Stage, dams: Parents, sires: Parents, start: int) -> tuple[int | None, Waits, str]:
        """The first season, what decides it, and who is waited for."""
        bounds: list[tuple[int, Waits, str]] = []
        rest: list[tuple[int, Waits, str]] = []
        for parents, sex, waits in ((dams, Sex.FEMALE, Waits.DAM_AGE), (sires, Sex.MALE, Waits.SIRE_AGE)):
            if parents.holdback:
                season = self._grown(parents.holdback, sex)
                if season is None:
                    return None, Waits.NEVER, ".".join(parents.holdback)
                bounds.append((season, waits, ".".join(parents.holdback)))
                continue
            ready = [(entry, animal) for animal in parents.animals if (entry := self._entry(animal, sex))]
            if not ready:
                return None, Waits.NEVER, parents.animals[0] if parents.animals else ""
            entry, animal = min(ready, key=lambda each: each[0].first)
            if entry.last:
                bounds.append((entry.first, waits if entry.last is Hindrance.TOO_YOUNG else _WAITS[entry.last], animal))
            if sex is Sex.FEMALE and len(ready) == 1:
                rested = self._rested(animal, max(entry.first, start))
                rest.append((rested, Waits.REST, animal))
        bounds += [(stage.season, Waits.PLAN, ""), (start, Waits.TODAY, ""), *rest]  # of equal ones the first is told
        return max(bounds, key=lambda bound: bound[0])

    def _rested(self, dam: AnimalId, season: int) -> int:
        """The first season from that one on in which a dam that earlier stages also breed is free and rested."""
        for other in sorted(self.claimed.get(dam, ())):
            if abs(season - other) <= self.rest:
                season = other + 1 + self.rest
        return season

    def _grown(self, holdback: tuple[str, str], sex: Sex) -> int | None:
        """The first season in which young of a stage that are not kept yet may breed."""
        source = self.done.get(holdback[0])
        if source is None or source.earliest is None or not source.is_open:
            return None
        if self.sexes.get(holdback) not in (None, sex):
            return None
        born = self.year.birthday(source.earliest)
        return self.year.first_season(born, self.species.breeding_age_months.get(sex, 0))

    def _entry(self, animal: AnimalId, sex: Sex) -> Readiness | None:
        key, own = (animal, sex), self.collection.animals[animal]
        if key not in self.entries:
            able = not own.died and own.sex in (sex, Sex.UNKNOWN)
            asked = (self.collection, self.year, own, sex, self.next_open, self.as_of, self.rest)
            self.entries[key] = readiness(*asked) if able else None
        return self.entries[key]
