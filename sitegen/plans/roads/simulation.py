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
from sitegen.plans.roads.graph import Graph, Node
from sitegen.plans.roads.passage import Passage, Sums, TooMany, blank
from sitegen.plans.roads.process import Mating
from sitegen.plans.roads.young import TINY

REST_BOUND = 2_000
"""Most steps that are added up to end one road; beyond it the road is drawn to its end."""


class Simulation:
    """Roads of a process, drawn by chance.

    Args:
        graph: The states of the process.
        dice: Where chance comes from.
        first, last: The seasons.
    """

    def __init__(self, graph: Graph, dice: Dice, first: int, last: int) -> None:
        self.graph = graph
        self.process = graph.process
        self.dice = dice
        self.first = first
        self.last = last
        self._ends: dict[tuple[Node, int], Sums | None] = {}

    def sums(self, draw: Callable[[], Node], runs: int) -> Sums:
        """The mean over ``runs`` roads; ``draw`` gives the node at the start of one."""
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

    def _road(self, node: Node, found: Sums) -> None:
        weight = 1.0
        for place, season in enumerate(range(self.first, self.last + 1)):
            end = self._end(node, season) if node.settled else None
            if end is not None:
                self._add(end, weight, place, found)
                return
            after = node
            for mating in self.graph.matings(node, season):
                after, weight = self._mated(after, weight, mating, season, place, found)
                if not weight:
                    return
            node = self.graph.after_season(node, after, season)
            found.not_yet[place] += weight
            found.squares[place] += weight * weight
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
            found.litters += weight
            found.then[place] += weight * litter.goal
            found.kept += weight * litter.goal
            if not litter.kept:
                return node, 0.0
            running = litter.running
            at = min(bisect_right(running, self.dice.next() * running[-1]), len(running) - 1)
            weight = weight * running[-1] or TINY
            gain = litter.kept[at][1]
            if gain:
                found.kept += weight * len(gain)
                young = []
                for holdback, mark in gain:
                    tracked = self.process.is_tracked(mating.leg, holdback)
                    own = brood.draw(litter.care, mark, self.dice) if tracked and brood else None
                    young.append((holdback, own))
                node = self.graph.with_young(node, mating.leg, tuple(young))
        return self.graph.after_litter(node, mating, season), weight

    def _end(self, node: Node, season: int) -> Sums | None:
        """All that can come of a node in which everything is settled, added up; None if that is too much."""
        key = (node, season)
        if key not in self._ends:
            self._ends[key] = self._added_up(node, season)
        return self._ends[key]

    def _added_up(self, node: Node, season: int) -> Sums | None:
        try:
            return Passage(self.graph, REST_BOUND).sums({node: 1.0}, season, self.last)
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
