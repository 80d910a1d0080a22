"""Who is paired when, while nothing but the goal can come of it: which pairings take is all that is left to chance.

The pairings of the last open stage do not depend on what its young can be. So roads whose parents differ, and that are
paired alike, follow one pattern, and each has only its own odds.
"""

from bisect import bisect_right
from dataclasses import dataclass
from itertools import accumulate

from sitegen.plans.roads.dice import Dice
from sitegen.plans.roads.graph import Graph, Node

Matrix = tuple[tuple[int, ...], ...]
"""For each dam and each sire the odds of their young (short names)."""

Took = tuple[tuple[int, int], ...]
"""Pairings that gave a litter: (place of the dam, place of the sire), once a litter."""


@dataclass(frozen=True, slots=True)
class Branch:
    """One way in which a season's pairings can go: its chance, the litters, the pattern before the next season."""

    chance: float
    took: Took
    after: Node


class Schedule:
    """The pairings of the last open stage of roads."""

    def __init__(self, graph: Graph) -> None:
        self.graph = graph
        self._fits: dict[Node, bool] = {}
        self._patterns: dict[Node, Node] = {}
        self._branches: dict[tuple[Node, int], tuple[tuple[float, ...], tuple[Branch, ...]]] = {}
        self._chances: dict[Matrix, list[list[tuple[float, float]]]] = {}

    def fits(self, node: Node) -> bool:
        """True when a single stage is open, its parents are known, and it keeps nothing but the goal."""
        if node not in self._fits:
            places = [at for at, own in enumerate(node.state.settled) if own is not None]
            process = self.graph.process
            self._fits[node] = len(places) == 1 and process.only_goal(node.state, places[0])
        return self._fits[node]

    def pattern(self, node: Node) -> Node:
        """The node that stands for all that are paired alike."""
        if node not in self._patterns:
            self._patterns[node] = self.graph.node(self.graph.process.without_odds(node.state))
        return self._patterns[node]

    def matrix(self, node: Node) -> Matrix:
        """The odds of the open stage of a node that fits."""
        (matrix,) = [own for own in node.state.settled if own is not None]
        return matrix

    def node(self, pattern: Node, matrix: Matrix) -> Node:
        """The node with that pattern and these odds."""
        settled = tuple(None if own is None else matrix for own in pattern.state.settled)
        return self.graph.node(pattern.state._replace(settled=settled))

    def chances(self, matrix: Matrix) -> list[list[tuple[float, float]]]:
        """For each dam and sire the chance that a litter of theirs has the goal, and that it has not."""
        if matrix not in self._chances:
            process = self.graph.process
            self._chances[matrix] = [[process.goal_in_litter(own) for own in row] for row in matrix]
        return self._chances[matrix]

    def can_reach(self, pattern: Node, matrix: Matrix) -> bool:
        """True when the stage is still open and the goal can come of some pair."""
        if not any(own is not None for own in pattern.state.settled):
            return False
        return any(goal > 0 for row in self.chances(matrix) for goal, _ in row)

    def branches(self, pattern: Node, season: int) -> tuple[Branch, ...]:
        """Every way in which a season's pairings can go."""
        return self._made(pattern, season)[1]

    def draw(self, pattern: Node, season: int, dice: Dice) -> Branch:
        """One of :meth:`branches`, by its chance."""
        running, branches = self._made(pattern, season)
        if len(branches) == 1:
            return branches[0]
        return branches[min(bisect_right(running, dice.next() * running[-1]), len(branches) - 1)]

    def _made(self, pattern: Node, season: int) -> tuple[tuple[float, ...], tuple[Branch, ...]]:
        key = (pattern, season)
        found = self._branches.get(key)
        if found is None:
            branches = self._make(pattern, season)
            found = self._branches[key] = (tuple(accumulate(each.chance for each in branches)), branches)
        return found

    def _make(self, pattern: Node, season: int) -> tuple[Branch, ...]:
        terms = self.graph.process.terms
        found: list[tuple[float, Took, Node]] = [(1.0, (), pattern)]
        for mating in self.graph.matings(pattern, season):
            takes = 1.0 if mating.sure else terms.takes
            litters = ((mating.dam, mating.sire),) * terms.a_year
            grown: list[tuple[float, Took, Node]] = []
            for chance, took, node in found:
                if takes:
                    after = self.graph.after_litter(node, mating, season)
                    grown.append((chance * takes, took + litters, after))
                if takes < 1:
                    grown.append((chance * (1 - takes), took, node))
            found = grown
        return tuple(
            Branch(chance, took, self.graph.after_season(pattern, node, season)) for chance, took, node in found
        )
