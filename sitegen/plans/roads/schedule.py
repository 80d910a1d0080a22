"""Who is paired when, while nothing but the goal can come of it: which pairings take is all that is left to chance."""

from bisect import bisect_right
from itertools import accumulate

from sitegen.plans.roads.dice import Dice
from sitegen.plans.roads.graph import Graph, Node

Took = tuple[tuple[int, int], ...]
"""Pairings that gave a litter: (place of the dam, place of the sire), once a litter."""


class Schedule:
    """The pairings of the last open stage of a road, drawn by chance; they do not depend on what its young can be."""

    def __init__(self, graph: Graph) -> None:
        self.graph = graph
        self._fits: dict[Node, bool] = {}
        self._patterns: dict[Node, Node] = {}
        self._branches: dict[tuple[Node, int], tuple[tuple[float, ...], tuple[tuple[Took, Node], ...]]] = {}

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

    def draw(self, pattern: Node, season: int, dice: Dice) -> tuple[Took, Node]:
        """The litters of a season, drawn by chance, and the pattern before the next."""
        key = (pattern, season)
        if key not in self._branches:
            self._branches[key] = self._make(pattern, season)
        running, branches = self._branches[key]
        if len(branches) == 1:
            return branches[0]
        return branches[min(bisect_right(running, dice.next() * running[-1]), len(branches) - 1)]

    def _make(self, pattern: Node, season: int) -> tuple[tuple[float, ...], tuple[tuple[Took, Node], ...]]:
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
        ends = tuple((took, self.graph.after_season(pattern, node, season)) for _, took, node in found)
        return tuple(accumulate(chance for chance, _, _ in found)), ends
