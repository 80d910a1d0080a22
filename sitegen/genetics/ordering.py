"""In which order variables are summed out, and what that will cost, known before any table is made.

True min-fill: the next variable is always the one whose removal joins the fewest pairs of neighbours
that were not joined before; its neighbours are then joined. Ties go to the smaller number, which is
record order, so the same records always cost the same.
"""

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sitegen.genetics.tables import Variable, entries

_MOST_WORK_BEYOND_LIMIT = 3_000_000


@dataclass(frozen=True, slots=True)
class Plan:
    """An order of elimination with its cost.

    Attributes:
        order: Variables in the order in which they are summed out.
        cliques: For each variable of ``order`` the scope of its table: itself, then the others in the
            order of their own elimination.
        entries: Entries of all tables together; a lower bound when not ``complete``.
        largest: Scope of the largest table, in record order.
        complete: False when the search was given up because ``limit`` was passed long before.
    """

    order: tuple[Variable, ...]
    cliques: tuple[tuple[Variable, ...], ...]
    entries: int
    largest: tuple[Variable, ...]
    complete: bool = True


class _Graph:
    """Which variables are neighbours, with the number of missing joins among each one's neighbours."""

    def __init__(self, n_variables: int, scopes: Iterable[Sequence[Variable]]) -> None:
        self.near: list[set[Variable]] = [set() for _ in range(n_variables)]
        for scope in scopes:
            for variable in scope:
                self.near[variable].update(scope)
        for variable, near in enumerate(self.near):
            near.discard(variable)
        self.fill = [self._missing(variable) for variable in range(n_variables)]
        self.work = 0

    def _missing(self, variable: Variable) -> int:
        near = self.near[variable]
        size = len(near)
        return (size * (size - 1) - sum(len(near & self.near[other]) for other in near)) // 2

    def eliminate(self, variable: Variable) -> set[Variable]:
        """Join the neighbours of ``variable``, take it out, and give the variables whose fill has changed."""
        near = self.near[variable]
        changed = set(near)
        # Joining comes first: summing a variable out makes one table over all its neighbours. An order that leaves this
        # out counts too few missing joins later, and its tables grow much larger.
        if self.fill[variable]:
            for first in near:
                for second in near - self.near[first]:
                    if first < second:
                        self._join(first, second, changed)
        size = len(near)
        # The variable is no neighbour of what each of them has outside this set: so many missing joins go with it.
        for other in near:
            around = self.near[other]
            around.discard(variable)
            self.fill[other] -= len(around) - (size - 1)
        self.work += size * size
        return changed

    def _join(self, first: Variable, second: Variable, changed: set[Variable]) -> None:
        near_first, near_second = self.near[first], self.near[second]
        common = near_first & near_second
        for other in common:
            self.fill[other] -= 1
        changed |= common
        self.fill[first] += len(near_first) - len(common)
        self.fill[second] += len(near_second) - len(common)
        near_first.add(second)
        near_second.add(first)
        self.work += len(near_first) + len(near_second)


def plan(sizes: Sequence[int], scopes: Iterable[Sequence[Variable]], limit: int, last: Sequence[Variable] = ()) -> Plan:
    """The min-fill order for tables over these ``scopes``, and the scope and size of every table it needs.

    Args:
        sizes: How many values each variable has; the variables are numbered 0 to ``len(sizes) - 1``.
        scopes: The variables of each table.
        limit: Number of entries beyond which the tables will not be made anyway: the search then ends
            once it becomes costly itself.
        last: Variables that are to be kept to the end, in this order.
    """
    graph = _Graph(len(sizes), [*scopes, last])
    kept = set(last)
    heap = [(fill, variable) for variable, fill in enumerate(graph.fill) if variable not in kept]
    heapq.heapify(heap)
    order: list[Variable] = []
    found: list[set[Variable]] = []
    gone = [variable in kept for variable in range(len(sizes))]
    total = largest = 0
    while heap:
        fill, variable = heapq.heappop(heap)
        if gone[variable] or fill != graph.fill[variable]:  # an entry from before its neighbourhood changed
            continue
        gone[variable] = True
        changed = graph.eliminate(variable)
        order.append(variable)
        found.append(graph.near[variable])
        size = sizes[variable] * entries(sizes[other] for other in graph.near[variable])
        total, largest = total + size, max(largest, size)
        for other in changed:
            if not gone[other]:
                heapq.heappush(heap, (graph.fill[other], other))
        if total > limit and graph.work > _MOST_WORK_BEYOND_LIMIT:
            return _given_up(sizes, order, found, total, largest)
    for rank, variable in enumerate(last):
        order.append(variable)
        found.append(set(last[rank + 1 :]))
        total += sizes[variable] * entries(sizes[other] for other in last[rank + 1 :])
    return _complete(sizes, order, found, total)


def _largest(sizes: Sequence[int], order: list[Variable], found: list[set[Variable]]) -> tuple[Variable, ...]:
    scopes = ((variable, *near) for variable, near in zip(order, found, strict=True))
    scope = max(scopes, key=lambda scope: entries(sizes[variable] for variable in scope), default=())
    return tuple(sorted(scope))


def _given_up(
    sizes: Sequence[int], order: list[Variable], found: list[set[Variable]], total: int, largest: int
) -> Plan:
    return Plan(tuple(order), (), max(total, largest), _largest(sizes, order, found), complete=False)


def _complete(sizes: Sequence[int], order: list[Variable], found: list[set[Variable]], total: int) -> Plan:
    rank = {variable: position for position, variable in enumerate(order)}
    cliques = tuple(
        (variable, *sorted(near, key=rank.__getitem__)) for variable, near in zip(order, found, strict=True)
    )
    return Plan(tuple(order), cliques, total, _largest(sizes, order, found))
