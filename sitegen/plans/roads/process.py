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

from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.litter_yields import Yield, litter_yield
from sitegen.plans.roads.plan import Expecting, Parents, RoadPlan, StagePlan
from sitegen.plans.roads.settling import Settler
from sitegen.plans.roads.standing import Standings
from sitegen.plans.roads.steps import BORN, Leg, Mating, RoadState, Status, Terms
from sitegen.plans.roads.wants import Want
from sitegen.plans.roads.worlds import Part
from sitegen.plans.roads.young import GOAL, Aim, Brood, Nursery
from sitegen.plans.seasons import BreedingYear


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
        self._grown_in: dict[tuple[int, int], int] = {}
        self._standings = Standings(self.legs, self.leg_of, self._enter)
        self._settler = Settler(self._standings, nursery, self._tracked, len(self.parts), self.numbers_of)
        self._counts_tries = any(leg.tries is not None or leg.turns for leg in self.legs)

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

    def start(self, animals: Sequence[int]) -> RoadState:
        """The state in which the animals at the start are these composites (short names)."""
        n_legs, n_holdbacks = len(self.legs), len(self._tracked)
        kept: tuple[tuple[int, ...] | int, ...] = tuple(() if tracked else 0 for tracked in self._tracked)
        state = RoadState(tuple(animals), kept, (0,) * n_holdbacks, (0,) * n_legs, (), (None,) * n_legs)
        return self.settled(state)

    def status(self, state: RoadState) -> Status:
        """How far the stages of a state are."""
        return self._standings.status(state)

    def settled(self, state: RoadState) -> RoadState:
        """The state without what cannot matter any more."""
        return self._settler.settled(state)

    def matings(self, state: RoadState, season: int) -> list[Mating]:
        """The pairings of a season."""
        found: list[Mating] = []
        resting = dict(state.resting)
        busy: set[tuple[int, int]] = set()
        status = self.status(state)
        for at, (leg, closed) in enumerate(zip(self.legs, status.closed, strict=True)):
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
                for place, who in self._ready(state, status, leg.dams, leg.dam_holdback, season)
                if who not in busy and resting.get(who, 0) <= season
            ]
            sires = self._ready(state, status, leg.sires, leg.sire_holdback, season)
            if not dams or not sires:
                continue
            turn = leg.plan.used + max(0, state.tries[at])
            for place, who in dams:
                busy.add(who)
                found.append(Mating(at, place, sires[(place + turn) % len(sires)][0], who))
        return found

    def _ready(
        self, state: RoadState, status: Status, animals: tuple[int, ...], holdback: int | None, season: int
    ) -> list[tuple[int, tuple[int, int]]]:
        """Parents of age, each by its place and with its name."""
        if holdback is None:
            enter = [(place, number, self._enter[number]) for place, number in enumerate(animals)]
            return [(place, (-1, number)) for place, number, own in enter if own is not None and own <= season]
        if not status.stands[holdback] or state.ready[holdback] > season:
            return []
        return [(place, (holdback, place)) for place in range(status.counts[holdback])]

    def litter(self, state: RoadState, mating: Mating) -> tuple[Brood | None, Yield]:
        """The outcomes of a litter, and its young if it matters what the kept ones are."""
        leg = self.legs[mating.leg]
        settled = state.settled[mating.leg]
        brood = None
        if settled is not None:
            odds = settled[mating.dam][mating.sire]
        else:
            brood = self._brood(state, leg, mating)
            odds = brood.odds
        key = (odds, self.status(state).needs[mating.leg])
        found = self._yields.get(key)
        if found is None:
            found = self._yields[key] = litter_yield(self.nursery.odds(odds), key[1], self.terms.sizes)
        return brood, found

    def goal_in_litter(self, odds: int) -> tuple[float, float]:
        """Chance that a litter of these odds has the goal, and that it has not; nothing is kept of it."""
        key = (odds, ())
        found = self._yields.get(key)
        if found is None:
            found = self._yields[key] = litter_yield(self.nursery.odds(odds), (), self.terms.sizes)
        return found.goal, sum(chance for chance, _ in found.kept)

    def only_goal(self, state: RoadState, at: int) -> bool:
        """True when no young of a settled stage is fit for a holdback without being the goal."""
        settled = state.settled[at]
        marks = {m for row in settled or () for odds in row for m, _ in self.nursery.odds(odds) if not m & GOAL}
        return not any(
            mark >> (place + 1) & 1 for mark in marks for place, n in enumerate(self.status(state).needs[at]) if n
        )

    def without_odds(self, state: RoadState) -> RoadState:
        """The state with settled stages that give nothing: it only tells who is paired when."""
        nothing = self.nursery.odds_number(())
        blank = tuple(None if own is None else tuple((nothing,) * len(row) for row in own) for own in state.settled)
        return state._replace(settled=blank)

    def _brood(self, state: RoadState, leg: Leg, mating: Mating) -> Brood:
        if mating.extra:
            dam, sire = state.animals[mating.dam], state.animals[mating.sire]
        else:
            dam = self._composite(state, leg.dams, leg.dam_holdback, mating.dam)
            sire = self._composite(state, leg.sires, leg.sire_holdback, mating.sire)
        assert dam is not None
        assert sire is not None
        return self.nursery.brood(leg.aim, dam, sire)

    @staticmethod
    def _composite(state: RoadState, animals: tuple[int, ...], holdback: int | None, place: int) -> int | None:
        if holdback is None:
            return state.animals[animals[place]]
        kept = state.kept[holdback]
        assert not isinstance(kept, int)
        return kept[place]

    def is_tracked(self, leg: int, place: int) -> bool:
        """True when it matters what the young of a stage's holdback are."""
        return self._tracked[self.legs[leg].keep[place]]

    def with_young(self, state: RoadState, leg: int, young: Iterable[tuple[int, int | None]]) -> RoadState:
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
        return RoadState(state.animals, tuple(kept), state.ready, state.tries, state.resting, state.settled)

    def rests_nothing(self, mating: Mating) -> bool:
        """True when :meth:`after_litter` changes nothing."""
        leg = self.legs[mating.leg]
        return not self.plan.rest and (bool(leg.keep) or leg.last)

    def after_litter(self, state: RoadState, mating: Mating, season: int) -> RoadState:
        """The state after a pairing took: the dam rests, and a stage that waited for a litter has it."""
        leg = self.legs[mating.leg]
        if self.plan.rest:
            rested = {**dict(state.resting), mating.who: season + 1 + self.plan.rest}
            resting = tuple(sorted(rested.items()))
            state = RoadState(state.animals, state.kept, state.ready, state.tries, resting, state.settled)
        if not leg.keep and not leg.last:
            tries = list(state.tries)
            tries[mating.leg] = BORN
            state = state._replace(tries=tuple(tries))
        return state

    def after_season(self, before: RoadState, after: RoadState, season: int, bred: frozenset[int]) -> RoadState:
        """The state before the next season.

        Args:
            before: The state before the season.
            after: The state after its litters.
            season: The season.
            bred: The stages that were tried in it.
        """
        tries = after.tries
        if bred and self._counts_tries:
            tries = tuple(
                used + 1 if at in bred and used != BORN and (leg.tries is not None or leg.turns) else used
                for at, (leg, used) in enumerate(zip(self.legs, tries, strict=True))
            )
        ready = after.ready
        counts, counts_before = self.status(after).counts, self.status(before).counts
        if counts != counts_before:
            ready = tuple(
                self._grown(number, season)
                if self._tracked[number] and counts[number] != counts_before[number] and self._matters(number, counts)
                else until
                for number, until in enumerate(ready)
            )
        resting = tuple((who, until) for who, until in after.resting if until > season + 1)
        ready = tuple([until if until > season + 1 else 0 for until in ready])
        return self.settled(RoadState(after.animals, after.kept, ready, tries, resting, after.settled))

    def _matters(self, holdback: int, counts: tuple[int, ...]) -> bool:
        """True when the age of a holdback's youngest can be that of the holdback."""
        return counts[holdback] >= self.count_of[holdback] or self.legs[self.leg_of[holdback]].tries is not None

    def _grown(self, holdback: int, season: int) -> int:
        """The first season in which young of a season may breed."""
        key = (holdback, season)
        if key not in self._grown_in:
            sex = self._sex_of[holdback]
            months = self.terms.months.get(sex, 0) if sex else 0
            self._grown_in[key] = self.year.first_season(self.year.birthday(season), months)
        return self._grown_in[key]
