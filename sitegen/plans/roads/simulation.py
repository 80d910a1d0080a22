"""When the goal is reached, from roads drawn by chance, where there are too many to add up.

Each road is drawn as it goes on *without* the goal, and carries as its weight the chance that the goal has not come
so far: the same expectation as drawing the goal as well, with a smaller error, and a weight of 0 only where the goal
is certain (conditional Monte Carlo; Hammersley JM, Handscomb DC 1964, Monte Carlo Methods, ch. 5; from memory).
As soon as all that can still matter is settled, the rest of a road is added up instead.
"""

import math
from bisect import bisect_right
from collections.abc import Callable

from sitegen.plans.roads.dice import Dice
from sitegen.plans.roads.passage import Passage, Sums, TooMany, blank
from sitegen.plans.roads.process import Mating, Process, State
from sitegen.plans.roads.prospects import Prospects
from sitegen.plans.roads.young import TINY

REST_BOUND = 2_000
"""Most steps that are added up to end one road; beyond it the road is drawn to its end."""


class Simulation:
    """Roads of a process, drawn by chance.

    Args:
        process: The process.
        prospects: Its prospects.
        dice: Where chance comes from.
        first, last: The seasons.
    """

    def __init__(self, process: Process, prospects: Prospects, dice: Dice, first: int, last: int) -> None:
        self.process = process
        self.prospects = prospects
        self.dice = dice
        self.first = first
        self.last = last
        self._ends: dict[tuple[State, int], Sums | None] = {}

    def sums(self, draw: Callable[[], State], runs: int) -> Sums:
        """The mean over ``runs`` roads; ``draw`` gives the state at the start of one."""
        found = blank(self.process, self.first, self.last)
        for _ in range(runs):
            self._road(draw(), found)
        for values in (found.then, found.not_yet, found.squares, *found.done, *found.pending):
            values[:] = [value / runs for value in values]
        found.litters /= runs
        found.kept /= runs
        found.open /= runs
        found.dead /= runs
        return found

    def _road(self, state: State, found: Sums) -> None:
        weight = 1.0
        for place, season in enumerate(range(self.first, self.last + 1)):
            end = self._end(state, season)
            if end is not None:
                self._add(end, weight, place, found)
                return
            before, bred = state, []
            for mating in self.process.matings(state, season):
                bred.append(mating.leg)
                state, weight = self._mated(state, weight, mating, season, place, found)
                if not weight:
                    return
            state = self.process.after_season(before, state, season, frozenset(bred))
            found.not_yet[place] += weight
            found.squares[place] += weight * weight
            for at in range(len(self.process.legs)):
                (found.done if self.process.is_done(state, at) else found.pending)[at][place] += weight
        if self.prospects.open(state):
            found.open += weight
        else:
            found.dead += weight

    def _mated(
        self, state: State, weight: float, mating: Mating, season: int, place: int, found: Sums
    ) -> tuple[State, float]:
        terms, process = self.process.terms, self.process
        if not mating.sure and terms.takes < 1 and self.dice.next() >= terms.takes:
            return state, weight
        for _ in range(terms.a_year):
            brood, litter = process.litter(state, mating)
            found.litters += weight
            found.then[place] += weight * litter.goal
            found.kept += weight * litter.goal
            if not litter.kept:
                return state, 0.0
            running = litter.running
            at = min(bisect_right(running, self.dice.next() * running[-1]), len(running) - 1)
            weight = weight * running[-1] or TINY
            gain = litter.kept[at][1]
            if gain:
                found.kept += weight * len(gain)
                young = []
                for holdback, mark in gain:
                    tracked = process.is_tracked(mating.leg, holdback)
                    own = brood.draw(litter.care, mark, self.dice) if tracked and brood else None
                    young.append((holdback, own))
                state = process.with_young(state, mating.leg, young)
        return process.after_litter(state, mating, season), weight

    def _end(self, state: State, season: int) -> Sums | None:
        """All that can come of a state in which everything is settled, added up; None if it is not."""
        key = (state, season)
        if key not in self._ends:
            closed = self.process.closed(state)
            settled = all(shut or own is not None for shut, own in zip(closed, state.settled, strict=True))
            self._ends[key] = self._added_up(state, season) if settled else None
        return self._ends[key]

    def _added_up(self, state: State, season: int) -> Sums | None:
        try:
            return Passage(self.process, self.prospects, REST_BOUND).sums({state: 1.0}, season, self.last)
        except TooMany:
            return None

    def _add(self, end: Sums, weight: float, place: int, found: Sums) -> None:
        for at, value in enumerate(end.not_yet, start=place):
            missing = weight * value or (TINY if value else 0.0)
            found.not_yet[at] += missing
            found.squares[at] += missing * missing
        for at, value in enumerate(end.then, start=place):
            found.then[at] += weight * value
        for leg in range(len(self.process.legs)):
            for at, value in enumerate(end.done[leg], start=place):
                found.done[leg][at] += weight * value
            for at, value in enumerate(end.pending[leg], start=place):
                found.pending[leg][at] += weight * value or (TINY if value else 0.0)
        found.litters += weight * end.litters
        found.kept += weight * end.kept
        found.open += weight * end.open
        found.dead += weight * end.dead


def largest_error(found: Sums, runs: int) -> float:
    """The largest standard error of a chance by season."""
    if runs < 2:
        return 1.0
    variances = (max(0.0, square - mean * mean) for mean, square in zip(found.not_yet, found.squares, strict=True))
    return max((math.sqrt(variance / (runs - 1)) for variance in variances), default=0.0)
