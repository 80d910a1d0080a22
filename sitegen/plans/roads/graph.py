"""The states of a process as nodes that remember where they lead, so that nothing is worked out twice."""

from sitegen.plans.roads.litter_yields import Yield
from sitegen.plans.roads.process import Process
from sitegen.plans.roads.prospects import Prospects
from sitegen.plans.roads.steps import Mating, RoadState
from sitegen.plans.roads.young import Brood

Kept = tuple[tuple[int, int | None], ...]
"""Young that are kept of one litter: place of the holdback in its stage, composite if it matters."""


class Node:
    """One state; compared by identity.

    Attributes:
        state: The state.
        n_kept: How many young are kept.
        done: For each stage True when it has given all it is to give.
        settled: True when nothing is left to chance but what litters give at odds that are known.
        can_reach: True when the goal can still be reached; None if not looked at yet.
    """

    __slots__ = ("can_reach", "done", "grown", "later", "litters", "matings", "n_kept", "rested", "settled", "state")

    def __init__(self, state: RoadState, n_kept: int, done: tuple[bool, ...], settled: bool) -> None:
        self.state = state
        self.n_kept = n_kept
        self.done = done
        self.settled = settled
        self.can_reach: bool | None = None
        self.matings: dict[int, tuple[Mating, ...]] = {}
        self.litters: dict[Mating, tuple[Brood | None, Yield]] = {}
        self.grown: dict[tuple[int, Kept], Node] = {}
        self.rested: dict[tuple[Mating, int], Node] = {}
        self.later: dict[tuple[Node, int], Node] = {}


class Graph:
    """All nodes of a process that were met so far."""

    def __init__(self, process: Process) -> None:
        self.process = process
        self._prospects = Prospects(process)
        self._nodes: dict[RoadState, Node] = {}

    def node(self, state: RoadState) -> Node:
        """The node of a state."""
        found = self._nodes.get(state)
        if found is None:
            status = self.process.status(state)
            settled = all(shut or own is not None for shut, own in zip(status.closed, state.settled, strict=True))
            found = self._nodes[state] = Node(state, sum(status.counts), status.done, settled)
        return found

    def matings(self, node: Node, season: int) -> tuple[Mating, ...]:
        """The pairings of a season."""
        found = node.matings.get(season)
        if found is None:
            found = node.matings[season] = tuple(self.process.matings(node.state, season))
        return found

    def litters(self, node: Node, season: int) -> float:
        """Expected number of litters of a season."""
        terms = self.process.terms
        return terms.a_year * sum(1.0 if mating.sure else terms.takes for mating in self.matings(node, season))

    def litter(self, node: Node, mating: Mating) -> tuple[Brood | None, Yield]:
        """The outcomes of a litter, and its young if it matters what the kept ones are."""
        found = node.litters.get(mating)
        if found is None:
            found = node.litters[mating] = self.process.litter(node.state, mating)
        return found

    def with_young(self, node: Node, leg: int, young: Kept) -> Node:
        """Where it leads to keep some young of a stage."""
        found = node.grown.get((leg, young))
        if found is None:
            found = node.grown[leg, young] = self.node(self.process.with_young(node.state, leg, young))
        return found

    def after_litter(self, node: Node, mating: Mating, season: int) -> Node:
        """Where it leads that a pairing took."""
        if self.process.rests_nothing(mating):
            return node
        found = node.rested.get((mating, season))
        if found is None:
            found = node.rested[mating, season] = self.node(self.process.after_litter(node.state, mating, season))
        return found

    def after_season(self, before: Node, after: Node, season: int) -> Node:
        """The node before the next season, from that before the season and that after its litters."""
        found = after.later.get((before, season))
        if found is None:
            bred = frozenset(mating.leg for mating in self.matings(before, season))
            state = self.process.after_season(before.state, after.state, season, bred)
            found = after.later[before, season] = self.node(state)
        return found

    def can_reach(self, node: Node) -> bool:
        """True when the goal can still be reached, however long it takes."""
        if node.can_reach is None:
            node.can_reach = self._prospects.open(node.state)
        return node.can_reach
