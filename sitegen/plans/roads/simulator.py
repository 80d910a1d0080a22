"""Seasons, played many times at once: one column of every array is one plan, one course that the road may take.

A season: pairings are made from what stood at its beginning; each takes or not; young are born; of all litters is kept
what looks right; then stages end. Decisions rest on what can be seen, never on genotypes. The rules are those of the
guide on plans.

Everything is whole numbers, random words come from streams with names of their own (season, stage, dam, litter), and
sums run in a fixed order: the same records give the same bytes everywhere, and roads that are compared are played on
the same luck.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from sitegen.content.projects import Until
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.dice import Dice, Words, pick, thresholds
from sitegen.genetics.transmission import whole_numbers
from sitegen.plans.roads.known import Proof
from sitegen.plans.roads.nursery import FIRST, GOAL, Ints, Nursery
from sitegen.plans.roads.played import (
    BY_ELSE,
    BY_GOAL,
    BY_KEEP,
    BY_NOTHING,
    BY_PART,
    BY_PART_OF_ELSE,
    OPEN,
    Brood,
    FirstLitter,
    Flags,
    Played,
    Terms,
)
from sitegen.plans.roads.script import NEVER, Cast, Kept, Leg, Script

_TAKES, _SIZE, _SEXES, _GENES = range(1, 5)
_DAMS = 100
"""Dams of a stage that have streams of their own."""


@dataclass(frozen=True, slots=True)
class _Pair:
    """Pairings of a stage with one of its dams: in which plans, with whom, and where it takes."""

    leg: int
    place: int
    dam: int
    sires: Ints
    made: Flags
    took: Flags


class Simulator:
    """Plays a script; used once.

    Args:
        script: What is played.
        terms: The species.
        nursery: The young.
        worlds: At each group of loci the state of each animal that is there, by slot and plan.
        n_plans: How many plans.
        proof: What is known of whom.
        dice: The luck.
    """

    def __init__(
        self, script: Script, terms: Terms, nursery: Nursery, worlds: Sequence[Ints], n_plans: int, proof: Proof,
        dice: Dice,
    ) -> None:  # fmt: skip
        self.script, self.terms, self.nursery, self.proof, self.dice = script, terms, nursery, proof, dice
        self.n = n_plans
        n_there, n_legs = len(script.parts), len(script.legs)
        self.states = [np.zeros((script.n_slots, n_plans), np.int16) for _ in worlds]
        for own, world in zip(self.states, worlds, strict=True):
            own[:n_there] = world
        self.there = np.zeros((script.n_slots, n_plans), np.bool_)
        self.there[:n_there] = True
        self.ready = np.full((script.n_slots, n_plans), NEVER, np.int16)
        self.ready[:n_there] = np.array(script.ready, np.int16)[:, None]
        self.true = np.zeros((script.n_slots, n_plans), np.bool_)
        hopes = list(script.hopes)
        for place in hopes:
            self.true[place] = nursery.are_goal([own[place] for own in self.states])
        self.counted = [*hopes, *range(n_there, script.n_slots)]
        self.had = np.zeros((len(script.kept), n_plans), np.int16)
        self.had += np.array([len(own.there) for own in script.kept], np.int16)[:, None]
        self.spared = np.zeros((len(script.kept), n_plans), np.int16)
        self.tries = np.zeros((n_legs, n_plans), np.int16)
        self.turns = np.zeros((n_legs, n_plans), np.int16)
        self.ended = np.zeros((n_legs, n_plans), np.int8)
        self.bred_in = np.zeros((n_legs, n_plans), np.int16)
        self.bore = np.zeros((n_legs, n_plans), np.bool_)
        self.over = np.zeros(n_plans, np.bool_)
        self.born = np.zeros(n_plans, np.bool_)
        self.born |= self.true.any(axis=0)
        self.can = np.zeros(n_legs, np.bool_)
        self.litters = np.zeros(n_plans, np.int32)
        self.young = np.zeros(n_plans, np.int32)
        self.newly = np.zeros(n_plans, np.int32)
        self.first = tuple(FirstLitter() for _ in script.legs)
        self._sizes = tuple(terms.sizes)
        self._size_table = np.array([thresholds(whole_numbers(tuple(terms.sizes.values())))], np.uint32)
        self._takes_table = np.array([thresholds(whole_numbers((terms.takes, 1 - terms.takes)))], np.uint32)

    def play(self, seasons: range) -> Played:
        """All these seasons."""
        shape = (len(seasons), self.n)
        born, kept, known = (np.zeros(shape, np.bool_) for _ in range(3))
        young, newly, held = (np.zeros(shape, np.int32) for _ in range(3))
        n_there = len(self.script.parts)
        for at, season in enumerate(seasons):
            self.young[:], self.newly[:] = 0, 0
            pairs = self._pairings(season)
            for pair in pairs:
                for number in range(self.terms.a_year):
                    self._litter(pair, season, number)
            self._end_of_season()
            born[at] = self.born
            kept[at] = (self.there & self.true)[self.counted].any(axis=0)
            known[at] = self.proof.known(self.there & self.true)
            young[at], newly[at] = self.young, self.newly
            held[at] = self.there[n_there:].sum(axis=0)
        kept_of = np.zeros((len(self.script.legs), self.n), np.bool_)
        for own in self.script.kept:
            kept_of[own.leg] |= (self.there & self.true)[list(own.slots)].any(axis=0)
        return Played(
            seasons,
            born,
            kept,
            known,
            young,
            newly,
            held,
            self.bred_in,
            kept_of,
            self.ended,
            self.can,
            self.litters,
            self.first,
        )

    # Pairings.

    def _pairings(self, season: int) -> list[_Pair]:
        """Who is paired, decided from what stands; the stages in order."""
        used = np.zeros((self.script.n_slots, self.n), np.bool_)
        found: list[_Pair] = []
        for number, leg in enumerate(self.script.legs):
            open_ = ~self.over & (self.ended[number] == OPEN) & (self.tries[number] < leg.tries)
            coming = [litter for litter in leg.coming if litter.season == season]
            if coming:
                own = [
                    self._pair(number, place, each.dam, np.full(self.n, each.sire), open_, season, sure=each.sure)
                    for place, each in enumerate(coming)
                ]
            elif season < leg.plan.start:
                continue
            else:
                open_ &= self._stands(leg.dams) & self._stands(leg.sires)
                own = self._new_pairs(number, leg, open_, used, season)
            tried = np.zeros(self.n, np.bool_)
            for pair in own:
                used[pair.dam] |= pair.made
                tried |= pair.made
            self.tries[number] += tried
            self.bred_in[number, tried & (self.bred_in[number] == 0)] = season
            found += own
        for pair in found:
            rests = np.where(pair.took, self.terms.rest, self.terms.rest_after_failure)
            self.ready[pair.dam, pair.made] = (season + 1 + rests)[pair.made]
        return found

    def _new_pairs(self, number: int, leg: Leg, open_: Flags, used: Flags, season: int) -> list[_Pair]:
        """Each dam that is ready with the ready sires in turn."""
        if not leg.sires.slots or not open_.any():
            return []
        sires = np.array(leg.sires.slots)
        can = self.there[sires] & (self.ready[sires] <= season)
        order, n_can = np.cumsum(can, axis=0), can.sum(axis=0)
        found: list[_Pair] = []
        for place, dam in enumerate(leg.dams.slots):
            made = open_ & (n_can > 0) & self.there[dam] & (self.ready[dam] <= season) & ~used[dam]
            if not made.any():
                continue
            turn = self.turns[number] % np.maximum(n_can, 1)
            chosen = sires[np.argmax(can & (order == turn + 1), axis=0)]
            found.append(self._pair(number, place, dam, chosen, made, season, sure=False))
            self.turns[number] += made
        return found

    def _pair(self, leg: int, place: int, dam: int, sires: Ints, made: Flags, season: int, *, sure: bool) -> _Pair:
        words = self._words(_TAKES, season, leg, place)
        took = made if sure else made & (pick(self._takes_table, None, words) == 0)
        return _Pair(leg, place, dam, sires, made, took)

    def _words(self, purpose: int, season: int, leg: int, place: int, litter: int = 0, each: int = 1) -> Words:
        """Words of their own, ``each`` for every plan."""
        return self.dice.words((purpose, season, leg * _DAMS + place, litter), each * self.n)

    def _stands(self, cast: Cast) -> Flags:
        """Where the young of a holdback may be used as parents."""
        if cast.branch >= 0:
            return self._other_branch(cast.branch)
        if cast.kept < 0:
            return np.full(self.n, bool(cast.slots))
        own = self.script.kept[cast.kept]
        if own.is_else:
            return self._other_branch(own.leg)
        ended = self.ended[own.leg]
        enough = self.had[cast.kept] >= own.holdback.at_least
        found: Flags = (self.had[cast.kept] >= own.count) | ((ended != OPEN) & enough)
        return found

    def _other_branch(self, leg: int) -> Flags:
        """Where a stage ended with what it was to keep otherwise."""
        found: Flags = np.isin(self.ended[leg], (BY_ELSE, BY_PART_OF_ELSE))
        return found

    # Litters.

    def _litter(self, pair: _Pair, season: int, number: int) -> None:
        """One litter of each plan in which the pairing took: its young, and which of them are kept."""
        plans = np.flatnonzero(pair.took)
        if not len(plans):
            return
        leg, stream = self.script.legs[pair.leg], (season, pair.leg, pair.place, number)
        sizes = np.array(self._sizes)[pick(self._size_table, None, self._words(_SIZE, *stream)[plans])]
        of_plan = np.repeat(np.arange(len(plans)), sizes)
        n_young, sires = len(of_plan), pair.sires[plans]

        def words(purpose: int, n: int) -> Words:
            return self.dice.words((purpose, season, pair.leg * _DAMS + pair.place, number), n)

        order = np.arange(n_young)
        bits = words(_SEXES, n_young // 32 + 1)[order >> 5]
        sexes = ((bits >> (order & 31).astype(np.uint32)) & np.uint32(1)).astype(np.uint8)
        types, alive, marks = self.nursery.young(
            [own[pair.dam, plans] for own in self.states],
            [own[sires, plans] for own in self.states],
            sexes,
            of_plan,
            lambda group: words(_GENES + group, n_young),
        )
        brood = Brood(plans, sizes, of_plan, types, alive, marks, sexes)
        is_first = ~self.bore[pair.leg, plans]
        self.bore[pair.leg, plans] = True
        self.litters[plans] += 1
        self.young[plans] += brood.counted(alive)
        goal = brood.counted(brood.marked(GOAL)) > 0
        self.born[plans] |= goal
        self.can[pair.leg] |= bool(goal.any())
        self._count_first(pair.leg, brood, is_first if number == 0 else np.zeros(len(plans), np.bool_))
        self.proof.saw(pair.dam, sires, plans, [own[alive] for own in types], of_plan[alive])
        self._keep(leg, brood, pair.dam, sires, season)

    def _count_first(self, leg: int, brood: "Brood", is_first: Flags) -> None:
        """Adds the litter to the first ones of its stage, where it is that."""
        told = self.first[leg]
        told.litters += int(is_first.sum())
        of_first = is_first[brood.of_plan]
        told.young += int((brood.alive & of_first).sum())
        for place in (*self.script.legs[leg].keep, *self.script.legs[leg].otherwise):
            own = self.script.kept[place]
            right = brood.marked(FIRST + place) & brood.of_sex(own.want.sex) & of_first
            enough = int((brood.counted(right) >= own.count).sum())
            each = [brood.marked(bit) & right for bit in self.nursery.unseen_bits(place)]
            true = int(np.logical_and.reduce(each).sum()) if each else 0
            told.add(place, int(right.sum()), enough, true, [int(one.sum()) for one in each])

    def _keep(self, leg: Leg, brood: "Brood", dam: int, sires: Ints, season: int) -> None:
        """First what is wanted, then, from a litter that did not fill it, what else is; the unwanted sex last."""
        free = brood.alive.copy()
        everywhere = np.ones(len(brood.plans), np.bool_)
        for place in leg.keep:
            self._take(place, brood, free, everywhere, dam, sires, season)
        if leg.otherwise:
            unfilled = ~self._filled(leg.keep)[brood.plans]
            for place in leg.otherwise:
                self._take(place, brood, free, unfilled, dam, sires, season)
        for place in (*leg.keep, *leg.otherwise):
            if self.script.kept[place].spare:
                self._take(place, brood, free, everywhere, dam, sires, season, spare=True)

    def _take(
        self, place: int, brood: "Brood", free: Flags, where: Flags, dam: int, sires: Ints, season: int,
        *, spare: bool = False,
    ) -> None:  # fmt: skip
        """Keeps the first young that look right, up to the number that is wanted."""
        own, had = self.script.kept[place], self.spared if spare else self.had
        before = had[place, brood.plans]
        right = brood.marked(FIRST + place) & free
        right &= ~brood.of_sex(own.want.sex) if spare else brood.of_sex(own.want.sex)
        rank = brood.ranked(right)
        wanted = np.where(where, (own.spare if spare else own.count) - before, 0)
        young = np.flatnonzero(right & (rank <= wanted[brood.of_plan]))
        if not len(young):
            return
        free[young] = False
        columns = brood.of_plan[young]
        plans = brood.plans[columns]
        slots = own.first + own.count * spare + before[columns] + rank[young] - 1
        taken = np.bincount(columns, minlength=len(brood.plans))
        had[place, brood.plans] = before + taken
        self.newly[brood.plans] += taken
        for states, group, types in zip(self.states, self.nursery.groups, brood.types, strict=True):
            states[slots, plans] = group.state[types[young]]
        self.there[slots, plans] = True
        self.true[slots, plans] = brood.marks[young] >> np.uint64(GOAL) & np.uint64(1)
        born = self.terms.year.birthday(season)
        grown = [self.terms.year.first_season(born, self.terms.months.get(sex, 0)) for sex in SEXES]
        self.ready[slots, plans] = np.array(grown, np.int16)[brood.sexes[young]]
        self.proof.kept(slots, plans, dam, sires[columns], [types[young] for types in brood.types])

    # The end of a season.

    def _filled(self, places: Sequence[int]) -> Flags:
        """Where all of these holdbacks have what is wanted."""
        return self._have(places, lambda own: own.count)

    def _have(self, places: Sequence[int], wanted: Callable[[Kept], int]) -> Flags:
        found = np.ones(self.n, np.bool_)
        for place in places:
            found &= self.had[place] >= wanted(self.script.kept[place])
        return found

    def _end_of_season(self) -> None:
        """Ends the stages that have what they are to give or no tries left; the road, where it has its goal."""
        goal_is_there = np.zeros(self.n, np.bool_)
        for number, leg in enumerate(self.script.legs):
            open_ = ~self.over & (self.ended[number] == OPEN)
            ended = self.ended[number]
            if leg.ends_with_litter:
                ended[open_ & self.bore[number]] = BY_KEEP
                ended[open_ & (ended == OPEN) & (self.tries[number] >= leg.tries)] = BY_NOTHING
                continue
            goals = [place for place in (*leg.keep, *leg.otherwise) if self.script.kept[place].is_goal]
            by_goal = np.zeros(self.n, np.bool_)
            for place in goals:
                by_goal |= self._filled([place])
            last = self.tries[number] >= leg.tries
            has_else = bool(leg.plan.stage.otherwise)
            full_else = self._filled(leg.otherwise) & has_else
            if leg.plan.stage.until == Until.ELSE:
                last |= full_else
            enough = self._have(leg.keep, lambda own: own.holdback.at_least)
            enough_else = self._have(leg.otherwise, lambda own: own.holdback.at_least) & has_else
            ways = [
                (by_goal, BY_GOAL), (self._filled(leg.keep), BY_KEEP), (last & enough, BY_PART),
                (last & full_else, BY_ELSE), (last & enough_else, BY_PART_OF_ELSE), (last, BY_NOTHING),
            ]  # fmt: skip
            ended[open_] = np.select([way for way, _ in ways], [code for _, code in ways], OPEN)[open_]
            goal_is_there |= open_ & by_goal
            if any(not self.script.kept[place].is_else for place in goals):
                goal_is_there |= open_ & (ended == BY_PART)
        for own in self.script.kept:
            if own.is_else and not own.is_goal:
                for slot in own.slots:
                    self.there[slot] &= ~goal_is_there
        self.over |= goal_is_there
