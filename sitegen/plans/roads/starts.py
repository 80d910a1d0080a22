"""Where drawn roads begin.

Where the beginnings can be listed, a batch of roads takes them in their order, at even steps of chance from a point
that is drawn: each still comes with its own chance, and a batch holds every kind of parents in due proportion, so that
the doubt of the parents adds next to nothing to the error (systematic sampling; Madow WG, Madow LH 1944, Ann Math Stat
15:1-24; from memory). Neighbours are alike, so the error is told from the differences of neighbours.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate, product
from math import prod
from typing import Protocol

from sitegen.plans.roads.dice import Dice
from sitegen.plans.roads.graph import Graph, Node
from sitegen.plans.roads.process import Process
from sitegen.plans.roads.worlds import World
from sitegen.plans.roads.young import TINY, pick

MOST_LISTED = 20_000
"""Beginnings that are listed at most."""


class Starts(Protocol):
    """Where roads begin."""

    def draw(self, n_roads: int, dice: Dice) -> Iterator[Node]:
        """The nodes before the first season of some roads."""
        ...


class Listed:
    """Nodes with their chances, which need not sum to 1."""

    def __init__(self, chances: Mapping[Node, float]) -> None:
        self._nodes = list(chances)
        self._running = list(accumulate(chances.values()))

    def draw(self, n_roads: int, dice: Dice) -> Iterator[Node]:
        """Nodes in their order, at even steps of chance."""
        step, offset, at = self._running[-1] / n_roads, dice.next(), 0
        for number in range(n_roads):
            target = (number + offset) * step
            while self._running[at] <= target and at < len(self._nodes) - 1:
                at += 1
            yield self._nodes[at]


class Scattered:
    """Beginnings that are too many to be listed: each locus is drawn by itself."""

    def __init__(self, graph: Graph, worlds: Sequence[World]) -> None:
        self._graph = graph
        self._begun: dict[tuple[int, ...], Node] = {}
        self._weights = [float(world.chance) for world in worlds]
        self._tables = [
            [(list(states), list(accumulate(map(float, states.values())))) for states in world.states]
            for world in worlds
        ]

    def draw(self, n_roads: int, dice: Dice) -> Iterator[Node]:
        """Nodes, one independent of the other."""
        process = self._graph.process
        for _ in range(n_roads):
            table = self._tables[pick(self._weights, dice.next()) if len(self._weights) > 1 else 0]
            chosen = []
            for states, running in table:
                target = dice.next() * running[-1] if len(states) > 1 else 0.0
                chosen.append(states[next((at for at, upto in enumerate(running) if target < upto), len(states) - 1)])
            animals = tuple(
                process.nursery.number(tuple(each[at] for each in chosen)) for at in range(len(process.parts))
            )
            if animals not in self._begun:
                self._begun[animals] = self._graph.node(process.start(animals))
            yield self._begun[animals]


def number_of(worlds: Sequence[World]) -> int:
    """How many beginnings there are."""
    return sum(prod(map(len, world.states)) for world in worlds)


def starts_of(graph: Graph, worlds: Sequence[World]) -> Starts:
    """Where drawn roads begin."""
    return Listed(all_starts(graph, worlds)) if number_of(worlds) <= MOST_LISTED else Scattered(graph, worlds)


def all_starts(graph: Graph, worlds: Sequence[World]) -> Mapping[Node, float]:
    """Every node at the start, with its chance."""
    found: dict[Node, float] = {}
    for animals, chance in _composites(graph.process, worlds):
        node = graph.node(graph.process.start(animals))
        found[node] = found.get(node, 0.0) + chance
    return found


def _composites(process: Process, worlds: Sequence[World]) -> Iterator[tuple[list[int], float]]:
    for world in worlds:
        for choice in product(*(states.items() for states in world.states)):
            chance = prod((own for _, own in choice), start=world.chance)
            composites = [
                process.nursery.number(tuple(states[at] for states, _ in choice)) for at in range(len(process.parts))
            ]
            yield composites, float(chance) or TINY
