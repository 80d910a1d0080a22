"""When the goal is reached, from roads drawn by chance, where there are too many to add up.

Each road is drawn as it goes on *without* the goal, and carries as its weight the chance that the goal has not come
so far: the same expectation as drawing the goal as well, with a smaller error, and a weight of 0 only where the goal
is certain (conditional Monte Carlo; Hammersley JM, Handscomb DC 1964, Monte Carlo Methods, ch. 5; from memory).
The first seasons are added up, as long as the roads are few enough, and roads are drawn from where that ends. When all
that can still matter of a road is settled, only the pairings that take are still drawn; or, where young may still be
kept, its end is added up if other roads end alike.
"""

import math
from bisect import bisect_right
from dataclasses import dataclass

from sitegen.plans.roads.dice import Dice
from sitegen.plans.roads.graph import Graph, Node
from sitegen.plans.roads.passage import Passage, Sums, TooMany, blank
from sitegen.plans.roads.schedule import Schedule
from sitegen.plans.roads.starts import Starts
from sitegen.plans.roads.steps import Mating
from sitegen.plans.roads.young import TINY

LEAST, BATCH = 1_000, 250
"""Roads that are drawn before the error is looked at, first and then again and again."""

ENOUGH = 1 / 100
"""A standard error that is small enough; no more roads are drawn then."""

VISITS = 3
"""The end of a road is added up when that many roads have come to it."""

REST_BOUND = 2_000
"""Most steps that are added up to end one road; beyond it the road is drawn to its end."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What was drawn: means over ``runs`` roads, and the largest standard error of a chance by season."""

    sums: Sums
    runs: int
    error: float


class Simulation:
    """Roads of a process, drawn by chance.

    Args:
        graph: The states of the process.
        dice: Where chance comes from.
        first: The first season that is drawn.
        last: The last season.
    """

    def __init__(self, graph: Graph, dice: Dice, first: int, last: int) -> None:
        self.graph = graph
        self.process = graph.process
        self.dice = dice
        self.first = first
        self.last = last
        self._ends: dict[tuple[Node, int], Sums | None] = {}
        self._visits: dict[tuple[Node, int], int] = {}
        self._schedule = Schedule(graph)

    def sums(self, starts: Starts, most: int, mass: float = 1.0) -> Drawn:
        """The mean over some roads: as many as bring the largest standard error to :data:`ENOUGH`.

        Args:
            starts: Where they begin.
            most: How many roads at most.
            mass: The chance that the goal has not come before the first season.
        """
        found = blank(self.process, self.first, self.last)
        runs, before = 0, [0.0] * len(found.not_yet)
        last: list[float] = []
        while runs < most:
            batch = min(BATCH if runs else LEAST, most - runs)
            for start in starts.draw(batch, self.dice):
                self._road(start, found)
                now = list(found.not_yet)
                own = [after - earlier for earlier, after in zip(before, now, strict=True)]
                for place, (one, other) in enumerate(zip(own, last or own, strict=True)):
                    found.squares[place] += (one - other) ** 2
                before, last = now, own
            runs += batch
            error = mass * _largest_error(found, runs)
            if error <= ENOUGH:
                break
        part = mass / runs
        for values in (found.then, found.not_yet, *found.done, *found.pending):
            values[:] = [value * part or (TINY if value else 0.0) for value in values]
        found.litters *= part
        found.kept *= part
        found.open *= part
        found.dead *= part
        return Drawn(found, runs, error)

    def _road(self, node: Node, found: Sums) -> None:
        weight = 1.0
        for place, season in enumerate(range(self.first, self.last + 1)):
            if node.settled:
                if self._schedule.fits(node):
                    self._scheduled(node, weight, season, found)
                    return
                end = self._end(node, season)
                if end is not None:
                    self._add(end, weight, place, found)
                    return
            after = node
            found.litters += weight * self.graph.litters(node, season)
            for mating in self.graph.matings(node, season):
                after, weight = self._mated(after, weight, mating, season, place, found)
                if not weight:
                    return
            found.kept += weight * (after.n_kept - node.n_kept)
            node = self.graph.after_season(node, after, season)
            found.not_yet[place] += weight
            for at, done in enumerate(node.done):
                (found.done if done else found.pending)[at][place] += weight
        if self.graph.can_reach(node):
            found.open += weight
        else:
            found.dead += weight

    def _mated(
        self, node: Node, weight: float, mating: Mating, season: int, place: int, found: Sums
    ) -> tuple[Node, float]:
        terms = self.process.terms
        if not mating.sure and terms.takes < 1 and self.dice.next() >= terms.takes:
            return node, weight
        for _ in range(terms.a_year):
            brood, litter = self.graph.litter(node, mating)
            found.then[place] += weight * litter.goal
            found.kept += weight * litter.goal
            if not litter.kept:
                return node, 0.0
            running = litter.running
            at = min(bisect_right(running, self.dice.next() * running[-1]), len(running) - 1)
            weight = weight * running[-1] or TINY
            gain = litter.kept[at][1]
            if gain:
                young = []
                for holdback, mark in gain:
                    tracked = self.process.is_tracked(mating.leg, holdback)
                    own = brood.draw(litter.care, mark, self.dice) if tracked and brood else None
                    young.append((holdback, own))
                node = self.graph.with_young(node, mating.leg, tuple(young))
        return self.graph.after_litter(node, mating, season), weight

    def _end(self, node: Node, season: int) -> Sums | None:
        """All that can come of a node in which everything is settled, added up when it is met again; else None."""
        key = (node, season)
        if key not in self._ends:
            self._visits[key] = self._visits.get(key, 0) + 1
            if self._visits[key] < VISITS:
                return None
            self._ends[key] = self._added_up(node, season)
        return self._ends[key]

    def _added_up(self, node: Node, season: int) -> Sums | None:
        try:
            return Passage(self.graph, REST_BOUND).sums({node: 1.0}, season, self.last)
        except TooMany:
            return None

    def _scheduled(self, node: Node, weight: float, season: int, found: Sums) -> None:
        """The end of a road of which only the goal can still come: draws which pairings take."""
        matrix = self._schedule.matrix(node)
        yields = self._schedule.chances(matrix)
        pattern = self._schedule.pattern(node)
        for place in range(season - self.first, self.last - self.first + 1):
            branch = self._schedule.draw(pattern, self.first + place, self.dice)
            pattern = branch.after
            found.litters += weight * len(branch.took)
            for dam, sire in branch.took:
                goal, missing = yields[dam][sire]
                found.then[place] += weight * goal
                found.kept += weight * goal
                if not missing:
                    return
                weight = weight * missing or TINY
            found.not_yet[place] += weight
            for at, done in enumerate(pattern.done):
                (found.done if done else found.pending)[at][place] += weight
        if self._schedule.can_reach(pattern, matrix):
            found.open += weight
        else:
            found.dead += weight

    def _add(self, end: Sums, weight: float, place: int, found: Sums) -> None:
        for at, value in enumerate(end.not_yet, start=place):
            missing = weight * value or (TINY if value else 0.0)
            found.not_yet[at] += missing
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


def _largest_error(found: Sums, runs: int) -> float:
    """The largest standard error of a chance by season, from the differences of roads that were drawn in a row."""
    if runs < 2:
        return 1.0
    return max((math.sqrt(square / 2 / (runs - 1) / runs) for square in found.squares), default=0.0)
