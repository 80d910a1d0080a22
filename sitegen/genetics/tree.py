"""Two sweeps over a tree of tables: every single posterior at once, and any small joint by a query.

The tree has one table for each variable, over the variable and the neighbours it had when it was
summed out; its parent is the table of the first of them to go. Messages run up (children to parents)
and down again. All numbers are whole; a message down is the parent's table divided by the message
that came up, which is exact because that message is one of its factors.

Source: Lauritzen SL, Spiegelhalter DJ (1988) J R Stat Soc B 50:157-224; Jensen FV et al. (1990)
Comput Stat Q 4:269-282 (from memory); bucket trees: Dechter R (1999) Artif Intell 113:41-85 (from memory).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from operator import mul

from sitegen.genetics.ordering import Plan, plan
from sitegen.genetics.tables import (
    Table,
    Variable,
    entries,
    first_sums,
    product,
    reduced,
    summed_over_first,
    summed_to,
)


class Tree:
    """Tables in the order of a plan, after both sweeps.

    ``total`` is zero when the tables exclude every combination of values; then nothing else has a meaning.
    """

    def __init__(self, sizes: Sequence[int], tables: Sequence[Table], order: Plan) -> None:
        self._sizes = sizes
        self._plan = order
        n_variables = len(sizes)
        self._rank = [0] * n_variables
        for rank, variable in enumerate(order.order):
            self._rank[variable] = rank
        self._own: list[list[Table]] = [[] for _ in range(n_variables)]
        for table in tables:
            self._own[min(self._rank[variable] for variable in table.scope)].append(table)
        self._children: list[list[int]] = [[] for _ in range(n_variables)]
        self._parent = [-1] * n_variables
        for rank, clique in enumerate(order.cliques):
            if len(clique) > 1:
                self._parent[rank] = self._rank[clique[1]]
                self._children[self._parent[rank]].append(rank)
        self._up: list[Table] = []
        self._down: list[Table | None] = [None] * n_variables
        self._marginals: list[list[int]] = [[] for _ in range(n_variables)]
        self.total = 1
        inner = self._sweep_up()
        if self.total:
            self._sweep_down(inner)

    def _clique(self, rank: int) -> tuple[tuple[Variable, ...], tuple[int, ...]]:
        clique = self._plan.cliques[rank]
        return clique, tuple(self._sizes[variable] for variable in clique)

    def _sweep_up(self) -> list[Sequence[int]]:
        inner: list[Sequence[int]] = []
        for rank in range(len(self._sizes)):
            clique, sizes = self._clique(rank)
            incoming = [self._up[child] for child in self._children[rank]]
            values = product([*self._own[rank], *incoming], clique, sizes)
            message = summed_over_first(values, sizes[0])
            if not any(message):
                self.total = 0
                return []
            inner.append(values)
            self._up.append(Table(clique[1:], reduced(message)))
        return inner

    def _sweep_down(self, inner: list[Sequence[int]]) -> None:
        for rank in range(len(self._sizes) - 1, -1, -1):
            clique, sizes = self._clique(rank)
            values = inner.pop()
            if (down := self._down[rank]) is not None:
                values = product([Table(clique, values), down], clique, sizes)
            # Now the table holds everything: what came from below, its own tables, and what came from above.
            self._marginals[rank] = reduced(first_sums(values, sizes[0]))
            sums: dict[tuple[Variable, ...], list[int]] = {}
            for child in self._children[rank]:
                up = self._up[child]
                whole = sums.get(up.scope)
                if whole is None:
                    whole = sums[up.scope] = summed_to(values, clique, sizes, up.scope)
                # A child must not hear its own message again. It is a factor of every sum here, so that the division
                # leaves no remainder; where it is 0 the sum is 0 too, and so is all of the child's table.
                divided = [all_ // part if part else 0 for all_, part in zip(whole, up.values, strict=True)]
                self._down[child] = Table(up.scope, reduced(divided))

    def marginal(self, variable: Variable) -> list[int]:
        """Weight of each value of ``variable`` given everything; divide by their sum for chances."""
        return self._marginals[self._rank[variable]]

    def conditional(self, variable: Variable) -> Table:
        """Weights of ``variable``, first in the scope, given the others, all of which are eliminated after it.

        For each of their values the weights are those given everything, so that drawing backwards is exact: whatever
        else there is hangs on the variable only through them.
        """
        rank = self._rank[variable]
        clique, sizes = self._clique(rank)
        tables = [*self._own[rank], *(self._up[child] for child in self._children[rank])]
        return Table(clique, product(tables, clique, sizes))

    def given(self, evidence: Mapping[Variable, Sequence[int]]) -> "Tree":
        """The tree of the same tables with further weights for the values of some variables."""
        own = [table for tables in self._own for table in tables]
        return Tree(self._sizes, [*own, *(Table((variable,), more) for variable, more in evidence.items())], self._plan)

    def joint(self, variables: Sequence[Variable], limit: int) -> Table | Plan:
        """Weights of all combinations of values of some variables, in their order; or the plan, when beyond ``limit``.

        Only the part of the tree that lies between them is gone through again.
        """
        return joint_of(self._sizes, self._between(variables), variables, limit)

    def counted(self, marks: Mapping[Variable, Sequence[bool]], limit: int) -> Sequence[int] | Plan:
        """Weight of each number, from 0 up, of the variables that have a value that ``marks`` marks; or the plan.

        A counter is added for each variable: how many so far, given how many before it.
        """
        tables, sizes = self._between(list(marks)), [*self._sizes]
        counter = -1
        for count, (variable, own) in enumerate(marks.items(), start=1):
            before = (counter,) if count > 1 else ()
            counter = len(sizes)
            sizes.append(count + 1)
            adds_up = [int(n == m + mark) for m in range(count) for mark in own for n in range(count + 1)]
            tables.append(Table((*before, variable, counter), adds_up))
        found = joint_of(sizes, tables, [counter], limit)
        return found if isinstance(found, Plan) else found.values

    def _between(self, variables: Sequence[Variable]) -> list[Table]:
        """Tables whose product, summed over all else, is the joint of ``variables``."""
        pending = {self._rank[variable] for variable in variables}
        inside: set[int] = set()
        while len(pending) > 1:
            lowest = min(pending)  # the parent of a table always has a higher rank, so the paths meet going up
            pending.remove(lowest)
            inside.add(lowest)
            if self._parent[lowest] < 0:
                continue
            pending.add(self._parent[lowest])
        inside |= pending
        tables: list[Table] = []
        for rank in sorted(inside):
            tables += self._own[rank]
            tables += [self._up[child] for child in self._children[rank] if child not in inside]
            down = self._down[rank]
            if self._parent[rank] not in inside and down is not None:
                tables.append(down)
        return [table for table in tables if table.scope]


class Single:
    """The tree of one variable alone: most pieces of a pedigree are one, since what is certain lets nothing pass.

    ``total`` is zero when the tables exclude every value.
    """

    __slots__ = ("_weights", "total")

    def __init__(self, tables: Sequence[Sequence[int]]) -> None:
        """Multiplies tables over the variable, at least one."""
        weights = list(tables[0])
        for table in tables[1:]:
            weights = list(map(mul, weights, table))
        self.total = int(any(weights))
        self._weights = reduced(weights) if self.total else weights

    def marginal(self, variable: Variable) -> list[int]:
        """Weight of each value of the one variable; divide by their sum for chances."""
        return self._weights

    def conditional(self, variable: Variable) -> Table:
        """The same as a table: it hangs on nothing."""
        return Table((variable,), self._weights)

    def given(self, evidence: Mapping[Variable, Sequence[int]]) -> "Single":
        """The same with further weights for its values."""
        return Single([self._weights, *evidence.values()])

    def joint(self, variables: Sequence[Variable], limit: int) -> Table:
        """The same as a table; see :meth:`Tree.joint`."""
        return Table(tuple(variables), self._weights)


def is_possible(sizes: Sequence[int], tables: Sequence[Table], order: Plan) -> bool:
    """True when some combination of values is excluded by none of the tables; one sweep, no long numbers."""
    allowed = [Table(table.scope, _zeros_and_ones(table.values)) for table in tables]
    return _summed_out(sizes, allowed, order, len(order.order), _zeros_and_ones) is not None


def _zeros_and_ones(values: Sequence[int]) -> list[int]:
    return [int(bool(value)) for value in values]


def _summed_out(
    sizes: Sequence[int],
    tables: Sequence[Table],
    order: Plan,
    n_summed: int,
    smaller: Callable[[list[int]], list[int]],
) -> list[Table] | None:
    """The tables that are left when the first ``n_summed`` variables of the order are summed out of all tables.

    Each variable's tables are multiplied when its turn comes; their sum over it goes on, in numbers made ``smaller``,
    to the first of their other variables whose turn comes. None when a sum is 0 everywhere: nothing is possible then.
    """
    rank = {variable: position for position, variable in enumerate(order.order)}
    waiting: list[list[Table]] = [[] for _ in order.order]
    for table in tables:
        waiting[min(rank[variable] for variable in table.scope)].append(table)
    for position, clique in enumerate(order.cliques[:n_summed]):
        shape = tuple(sizes[variable] for variable in clique)
        message = smaller(summed_over_first(product(waiting[position], clique, shape), shape[0]))
        if not any(message):
            return None
        if len(clique) > 1:
            waiting[rank[clique[1]]].append(Table(clique[1:], message))
    return [table for left in waiting[n_summed:] for table in left]


def joint_of(sizes: Sequence[int], tables: Sequence[Table], variables: Sequence[Variable], limit: int) -> Table | Plan:
    """The product of ``tables`` summed over all variables but the given ones; made only when within ``limit``.

    ``sizes`` are of each variable that may occur, and every table has at least one.
    """
    names = sorted({variable for table in tables for variable in table.scope} | set(variables))
    local = {variable: number for number, variable in enumerate(names)}
    own_sizes = [sizes[variable] for variable in names]
    moved = [Table(tuple(local[variable] for variable in table.scope), table.values) for table in tables]
    kept = tuple(local[variable] for variable in variables)
    order = plan(own_sizes, [table.scope for table in moved], limit, kept)
    if order.entries > limit or not order.complete:
        return replace(order, largest=tuple(names[variable] for variable in order.largest))
    left = _summed_out(own_sizes, moved, order, len(names) - len(kept), reduced)
    shape = tuple(own_sizes[variable] for variable in kept)
    return Table(tuple(variables), [0] * entries(shape) if left is None else product(left, kept, shape))
