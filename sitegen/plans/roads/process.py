"""The process that is computed, one season at a time: which pairings are made, and how a road looks after them.

- In each season every open stage whose parents are kept and of age is bred by every dam that has rested; a dam that
  two stages want goes to the first in written order. Of several sires, dam ``i`` gets number ``(i + t) mod n`` in the
  stage's ``t``-th season, among those of age.
- A pairing takes with the chance of the species; then it gives the species' litters a year.
- A stage ends when every holdback has its count of young that look right, or its tries are used. One without holdbacks
  that is not the last ends with its first litter.
- A holdback becomes a parent when all its young are kept, or some are and the tries are used, and the youngest is of
  age.

A state holds no more than what can still matter, so that roads that have become alike are one. Both the adding up of
all roads (:mod:`sitegen.plans.roads.passage`) and the drawing of some (:mod:`sitegen.plans.roads.simulation`) run
exactly this.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.litter_yields import Yield, litter_yield
from sitegen.plans.roads.plan import Expecting, Parents, RoadPlan, StagePlan
from sitegen.plans.roads.seasons import BreedingYear
from sitegen.plans.roads.wants import Want
from sitegen.plans.roads.worlds import Part
from sitegen.plans.roads.young import Aim, Brood, Nursery

BORN = -1
"""In place of a number of tries: a stage that only waits for a litter has had one."""


class State(NamedTuple):
    """Where a road is before a season.

    Attributes:
        animals: What each animal of the start is; None once it does not matter any more.
        kept: For each holdback what its young are, as far as they become parents; else how many there are.
        ready: For each holdback the season before which its young are too young; 0 if that is past or not known.
        tries: For each stage how often it was tried on this road, where that matters.
        resting: Dams that rest, with the season from which they breed again.
        settled: For each stage of which nothing else hangs, once its parents are known: the odds of each dam's young
            by each sire.
    """

    animals: tuple[int | None, ...]
    kept: tuple[tuple[int, ...] | int, ...]
    ready: tuple[int, ...]
    tries: tuple[int, ...]
    resting: tuple[tuple[tuple[int, int], int], ...]
    settled: tuple[tuple[tuple[int, ...], ...] | None, ...]


@dataclass(frozen=True, slots=True)
class Leg:
    """One stage that can still be bred.

    Attributes:
        plan: The stage as it stands.
        aim: What its young are sorted by (short name).
        keep: Numbers of its open holdbacks.
        counts: How many each wants.
        dams, sires: Numbers of the animals at the start.
        dam_holdback, sire_holdback: Or the number of the holdback.
        tries: Tries left; None for no bound.
        turns: The number of tries decides which sire a dam gets.
        last: The last stage of the road.
    """

    plan: StagePlan
    aim: int
    keep: tuple[int, ...]
    counts: tuple[int, ...]
    dams: tuple[int, ...]
    sires: tuple[int, ...]
    dam_holdback: int | None
    sire_holdback: int | None
    tries: int | None
    turns: bool
    last: bool


class Mating(NamedTuple):
    """A pairing of a season: the leg, dam and sire by their places there; ``who`` rests after a litter.

    ``sure`` is True for a litter on the way whose eggs are laid; ``extra`` for any litter on the way, whose dam and
    sire are numbers of animals at the start.
    """

    leg: int
    dam: int
    sire: int
    who: tuple[int, int]
    sure: bool = False
    extra: bool = False


@dataclass(frozen=True, slots=True)
class Terms:
    """What the species says of litters.

    Attributes:
        sizes: Number of living young to its chance.
        a_year: Litters of a dam in a season that takes.
        takes: Chance that a pairing takes.
        months: Breeding age by sex.
    """

    sizes: Mapping[int, float]
    a_year: int
    takes: float
    months: Mapping[Sex, int]


class Process:
    """One route: its open stages, and what happens in a season.

    Attributes:
        legs: The open stages.
        parts: The animals at the start.
    """

    def __init__(self, plan: RoadPlan, goal: Want, wants: Mapping[tuple[str, str], Want], nursery: Nursery,
                 terms: Terms, yields: dict[tuple[int, tuple[int, ...]], Yield]) -> None:  # fmt: skip
        self.plan = plan
        self.year: BreedingYear = plan.year
        self.nursery = nursery
        self.terms = terms
        self._yields = yields
        self.parts: list[Part] = []
        self._number_of: dict[tuple[AnimalId, Sex], int] = {}
        holdbacks = [(each.stage.id, own.id) for each in plan.open for own in each.keep]
        self._holdback_number = {key: number for number, key in enumerate(holdbacks)}
        self.legs = tuple(self._leg(each, goal, wants) for each in plan.open)
        users: dict[int, list[Leg]] = {number: [] for number in range(len(holdbacks))}
        for leg in self.legs:
            for number in (leg.dam_holdback, leg.sire_holdback):
                if number is not None:
                    users[number].append(leg)
        self.leg_of = {number: at for at, leg in enumerate(self.legs) for number in leg.keep}
        self.count_of = {n: count for leg in self.legs for n, count in zip(leg.keep, leg.counts, strict=True)}
        self._tracked = tuple(bool(users[number]) for number in users)
        self._sorted = tuple(not any(leg.turns for leg in users[number]) for number in users)
        self._sex_of = {self._holdback_number[key]: plan.sexes.get(key) for key in holdbacks}
        self._enter = tuple(plan.entries[part.animal, part.sex].season for part in self.parts)
        self._settled_states: dict[State, State] = {}

    def _leg(self, each: StagePlan, goal: Want, wants: Mapping[tuple[str, str], Want]) -> Leg:
        aim = Aim(goal, tuple(wants[each.stage.id, own.id] for own in each.keep))
        dams, dam_holdback = self._parents(each.dams, Sex.FEMALE)
        sires, sire_holdback = self._parents(each.sires, Sex.MALE)
        for litter in each.expecting:
            self._part(litter.dam, Sex.FEMALE)
            self._part(litter.sire, Sex.MALE)
        n_sires = len(sires)
        if each.sires.holdback:
            source = next(own for own in self.plan.stages if own.stage.id == each.sires.holdback[0])
            n_sires = next(own.count for own in source.keep if own.id == each.sires.holdback[1])
        return Leg(
            plan=each,
            aim=self.nursery.aim(aim),
            keep=tuple(self._holdback_number[each.stage.id, own.id] for own in each.keep),
            counts=tuple(own.count for own in each.keep),
            dams=dams, sires=sires, dam_holdback=dam_holdback, sire_holdback=sire_holdback,
            tries=None if each.stage.tries is None else max(0, each.stage.tries - each.used),
            turns=n_sires > 1,
            last=each is self.plan.stages[-1],
        )  # fmt: skip

    def _parents(self, parents: Parents, sex: Sex) -> tuple[tuple[int, ...], int | None]:
        if parents.holdback:
            return (), self._holdback_number[parents.holdback]
        return tuple(self._part(animal, sex) for animal in parents.animals), None

    def _part(self, animal: AnimalId, sex: Sex) -> int:
        key = (animal, sex)
        if key not in self._number_of:
            self._number_of[key] = len(self.parts)
            self.parts.append(Part(animal, sex))
        return self._number_of[key]

    def numbers_of(self, litter: Expecting) -> tuple[int, int]:
        """Numbers of the dam and the sire of a litter on the way."""
        return self._number_of[litter.dam, Sex.FEMALE], self._number_of[litter.sire, Sex.MALE]

    def start(self, animals: Sequence[int]) -> State:
        """The state in which the animals at the start are these composites (short names)."""
        n_legs, n_holdbacks = len(self.legs), len(self._tracked)
        kept: tuple[tuple[int, ...] | int, ...] = tuple(() if tracked else 0 for tracked in self._tracked)
        state = State(tuple(animals), kept, (0,) * n_holdbacks, (0,) * n_legs, (), (None,) * n_legs)
        return self.settled(state)

    # What is done.

    def number_kept(self, state: State, holdback: int) -> int:
        """How many young of a holdback are kept."""
        kept = state.kept[holdback]
        return kept if isinstance(kept, int) else len(kept)

    def is_done(self, state: State, at: int) -> bool:
        """True when a stage has given all it is to give."""
        leg = self.legs[at]
        if not leg.keep:
            return not leg.last and state.tries[at] == BORN
        return all(self.number_kept(state, n) >= count for n, count in zip(leg.keep, leg.counts, strict=True))

    def _used_up(self, state: State, at: int) -> bool:
        """True when every try of a stage is used."""
        tries = self.legs[at].tries
        return tries is not None and state.tries[at] >= tries

    def stands(self, state: State, holdback: int) -> bool:
        """True when a holdback's young are all kept that will be, and there are any."""
        kept = self.number_kept(state, holdback)
        return kept >= self.count_of[holdback] or (kept > 0 and self._used_up(state, self.leg_of[holdback]))

    def closed(self, state: State) -> tuple[bool, ...]:
        """For each stage True when it is not bred any more on this road."""
        found: list[bool] = []
        for at, leg in enumerate(self.legs):
            lost = any(
                source is not None and found[self.leg_of[source]] and not self.stands(state, source)
                for source in (leg.dam_holdback, leg.sire_holdback)
            )
            gone = (bool(leg.dams) and all(self._enter[n] is None for n in leg.dams)) or (
                bool(leg.sires) and all(self._enter[n] is None for n in leg.sires)
            )
            found.append(
                self._used_up(state, at) or lost or self.is_done(state, at) or (gone and not leg.plan.expecting)
            )
        return tuple(found)

    # A season.

    def matings(self, state: State, season: int) -> list[Mating]:
        """The pairings of a season."""
        found: list[Mating] = []
        resting = dict(state.resting)
        busy: set[tuple[int, int]] = set()
        for at, (leg, closed) in enumerate(zip(self.legs, self.closed(state), strict=True)):
            if closed:
                continue
            for litter in leg.plan.expecting:
                if litter.season == season:
                    dam, sire = self.numbers_of(litter)
                    found.append(Mating(at, dam, sire, (-1, dam), litter.laid, extra=True))
                    busy.add((-1, dam))
            if season < leg.plan.start:
                continue
            dams = [
                (place, who)
                for place, who in self._ready(state, leg.dams, leg.dam_holdback, season)
                if who not in busy and resting.get(who, 0) <= season
            ]
            sires = self._ready(state, leg.sires, leg.sire_holdback, season)
            if not dams or not sires:
                continue
            turn = leg.plan.used + max(0, state.tries[at])
            for place, who in dams:
                busy.add(who)
                found.append(Mating(at, place, sires[(place + turn) % len(sires)][0], who))
        return found

    def _ready(
        self, state: State, animals: tuple[int, ...], holdback: int | None, season: int
    ) -> list[tuple[int, tuple[int, int]]]:
        """Parents of age, each by its place and with its name."""
        if holdback is None:
            enter = [(place, number, self._enter[number]) for place, number in enumerate(animals)]
            return [(place, (-1, number)) for place, number, own in enter if own is not None and own <= season]
        if not self.stands(state, holdback) or state.ready[holdback] > season:
            return []
        return [(place, (holdback, place)) for place in range(self.number_kept(state, holdback))]

    def needs(self, state: State, at: int) -> tuple[int, ...]:
        """How many young each holdback of a stage still needs."""
        leg = self.legs[at]
        return tuple(max(0, count - self.number_kept(state, n)) for n, count in zip(leg.keep, leg.counts, strict=True))

    def litter(self, state: State, mating: Mating) -> tuple[Brood | None, Yield]:
        """The outcomes of a litter, and its young if it matters what the kept ones are."""
        leg = self.legs[mating.leg]
        settled = state.settled[mating.leg]
        brood = None
        if settled is not None:
            odds = settled[mating.dam][mating.sire]
        else:
            brood = self._brood(state, leg, mating)
            odds = brood.odds
        key = (odds, self.needs(state, mating.leg))
        found = self._yields.get(key)
        if found is None:
            found = self._yields[key] = litter_yield(self.nursery.odds(odds), key[1], self.terms.sizes)
        return brood, found

    def _brood(self, state: State, leg: Leg, mating: Mating) -> Brood:
        if mating.extra:
            dam, sire = state.animals[mating.dam], state.animals[mating.sire]
        else:
            dam = self._composite(state, leg.dams, leg.dam_holdback, mating.dam)
            sire = self._composite(state, leg.sires, leg.sire_holdback, mating.sire)
        assert dam is not None
        assert sire is not None
        return self.nursery.brood(leg.aim, dam, sire)

    @staticmethod
    def _composite(state: State, animals: tuple[int, ...], holdback: int | None, place: int) -> int | None:
        if holdback is None:
            return state.animals[animals[place]]
        kept = state.kept[holdback]
        assert not isinstance(kept, int)
        return kept[place]

    def is_tracked(self, leg: int, place: int) -> bool:
        """True when it matters what the young of a stage's holdback are."""
        return self._tracked[self.legs[leg].keep[place]]

    def with_young(self, state: State, leg: int, young: Iterable[tuple[int, int | None]]) -> State:
        """The state after some young were kept: (place of the holdback, composite if it matters)."""
        kept = list(state.kept)
        for place, composite in young:
            number = self.legs[leg].keep[place]
            before = kept[number]
            if isinstance(before, int):
                kept[number] = before + 1
            else:
                assert composite is not None
                longer = (*before, composite)
                kept[number] = tuple(sorted(longer)) if self._sorted[number] else longer
        return state._replace(kept=tuple(kept))

    def after_litter(self, state: State, mating: Mating, season: int) -> State:
        """The state after a pairing took: the dam rests, and a stage that waited for a litter has it."""
        leg = self.legs[mating.leg]
        if self.plan.rest:
            rested = {**dict(state.resting), mating.who: season + 1 + self.plan.rest}
            state = state._replace(resting=tuple(sorted(rested.items())))
        if not leg.keep and not leg.last:
            tries = list(state.tries)
            tries[mating.leg] = BORN
            state = state._replace(tries=tuple(tries))
        return state

    def after_season(self, before: State, after: State, season: int, bred: frozenset[int]) -> State:
        """The state before the next season.

        Args:
            before: The state before the season.
            after: The state after its litters.
            season: The season.
            bred: The stages that were tried in it.
        """
        tries = tuple(
            used + 1 if at in bred and used != BORN and (leg.tries is not None or leg.turns) else used
            for at, (leg, used) in enumerate(zip(self.legs, after.tries, strict=True))
        )
        ready = list(after.ready)
        for number, count in self.count_of.items():
            kept = self.number_kept(after, number)
            if not self._tracked[number] or kept == self.number_kept(before, number):
                continue
            if kept >= count or self.legs[self.leg_of[number]].tries is not None:
                sex = self._sex_of[number]
                months = self.terms.months.get(sex, 0) if sex else 0
                ready[number] = self.year.first_season(self.year.birthday(season), months)
        resting = tuple((who, until) for who, until in after.resting if until > season + 1)
        state = after._replace(
            tries=tries, resting=resting, ready=tuple(until if until > season + 1 else 0 for until in ready)
        )
        return self.settled(state)

    # What still matters.

    def settled(self, state: State) -> State:
        """The state without what cannot matter any more."""
        found = self._settled_states.get(state)
        if found is None:
            found = self._settled_states[state] = self._settle(state)
        return found

    def _settle(self, state: State) -> State:
        closed = self.closed(state)
        users: dict[tuple[int, int], list[int]] = {}
        for at, leg in enumerate(self.legs):
            if not closed[at] and state.settled[at] is None:
                for key in self._sources(leg):
                    users.setdefault(key, []).append(at)
        settled = list(state.settled)
        for at, leg in enumerate(self.legs):
            if closed[at]:
                settled[at] = None
            elif settled[at] is None and self._can_settle(state, at, leg, users):
                settled[at] = self._all_odds(state, leg)
                for key in self._sources(leg):
                    users[key].remove(at)
        animals = tuple(
            own if users.get((-1, number)) else None for number, own in enumerate(state.animals)
        )  # fmt: skip
        kept = tuple(
            own if isinstance(own, int) or users.get((number, 0)) else len(own) for number, own in enumerate(state.kept)
        )
        tries = tuple(
            0 if used != BORN and self.is_done(state, at) else used for at, used in enumerate(state.tries)
        )  # fmt: skip
        return State(animals, kept, state.ready, tries, state.resting, tuple(settled))

    def _sources(self, leg: Leg) -> set[tuple[int, int]]:
        """What a stage needs to know: animals at the start, holdbacks."""
        found = {(-1, number) for number in (*leg.dams, *leg.sires)}
        found |= {(number, 0) for number in (leg.dam_holdback, leg.sire_holdback) if number is not None}
        for litter in leg.plan.expecting:
            found |= {(-1, number) for number in self.numbers_of(litter)}
        return found

    def _can_settle(self, state: State, at: int, leg: Leg, users: Mapping[tuple[int, int], list[int]]) -> bool:
        """True when all its parents are known, and neither they nor what it keeps matter to another stage."""
        if leg.plan.expecting or any(self._tracked[number] for number in leg.keep):
            return False
        for number in (leg.dam_holdback, leg.sire_holdback):
            if number is not None and not self.stands(state, number):
                return False
        return all(users[key] == [at] for key in self._sources(leg))

    def _all_odds(self, state: State, leg: Leg) -> tuple[tuple[int, ...], ...]:
        dams = self._known(state, leg.dams, leg.dam_holdback)
        sires = self._known(state, leg.sires, leg.sire_holdback)
        return tuple(tuple(self.nursery.brood(leg.aim, dam, sire).odds for sire in sires) for dam in dams)

    @staticmethod
    def _known(state: State, animals: tuple[int, ...], holdback: int | None) -> list[int]:
        if holdback is None:
            return [own for number in animals if (own := state.animals[number]) is not None]
        kept = state.kept[holdback]
        assert not isinstance(kept, int)
        return list(kept)
