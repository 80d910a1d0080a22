"""Integer tables over numbered variables: products, sums and picking of entries.

A table's values are whole numbers that stand for chances up to one common factor, which nobody needs
to know: it cancels in the one division at the very end. Entries are in row-major order, the last
variable of the scope changing fastest.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import mul

from sitegen.genetics.lowest import Lowest, in_least_numbers

Variable = int
"""A variable is its number; smaller numbers come first in the record."""

_REMEMBERED_ENTRIES = 2048
_LONG_BITS = 512


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """Whole-number values over the variables of ``scope``; two tables are the same only if they are one object."""

    scope: tuple[Variable, ...]
    values: Sequence[int]


def entries(sizes: Iterable[int]) -> int:
    """How many entries a table over variables of these sizes has."""
    return math.prod(sizes)


def _positions(sizes: tuple[int, ...], axes: tuple[int, ...]) -> list[int]:
    strides = [0] * len(sizes)
    stride = 1
    for axis in reversed(axes):
        strides[axis] = stride
        stride *= sizes[axis]
    found = [0]
    for size, step in zip(sizes, strides, strict=True):
        if step:
            found = [start + offset for start in found for offset in range(0, size * step, step)]
        else:
            found = [start for start in found for _ in range(size)]
    return found


_remembered_positions = lru_cache(maxsize=4096)(_positions)


def positions(sizes: tuple[int, ...], axes: tuple[int, ...]) -> Sequence[int]:
    """For each entry of a large table, the entry that it is of in a smaller one with the variables ``axes``."""
    if entries(sizes) <= _REMEMBERED_ENTRIES:
        return _remembered_positions(sizes, axes)
    return _positions(sizes, axes)


def _axes(scope: Sequence[Variable], of: Sequence[Variable]) -> tuple[int, ...]:
    return tuple(map(scope.index, of))


def spread(table: Table, scope: tuple[Variable, ...], sizes: tuple[int, ...]) -> Sequence[int]:
    """The table's values repeated over a larger ``scope`` whose variables have these ``sizes``."""
    if table.scope == scope:
        return table.values
    picked = positions(sizes, _axes(scope, table.scope))
    return list(map(table.values.__getitem__, picked))


def product(tables: Sequence[Table], scope: tuple[Variable, ...], sizes: tuple[int, ...]) -> Sequence[int]:
    """Values over ``scope`` of the product of all ``tables``, each of which lies within it.

    Tables over the same variables are multiplied with each other first, where they are small.
    """
    by_scope: dict[tuple[Variable, ...], Sequence[int]] = {}
    for table in tables:
        before = by_scope.get(table.scope)
        by_scope[table.scope] = table.values if before is None else list(map(mul, before, table.values))
    result: Sequence[int] | None = None
    for small_scope, values in by_scope.items():
        wide = spread(Table(small_scope, values), scope, sizes)
        result = wide if result is None else list(map(mul, result, wide))
    return [1] * entries(sizes) if result is None else result


def summed_to(
    values: Sequence[int], scope: tuple[Variable, ...], sizes: tuple[int, ...], kept: tuple[Variable, ...]
) -> list[int]:
    """Sums over all variables of ``scope`` that are not ``kept``; the result is in the order of ``kept``."""
    axes = _axes(scope, kept)
    sums = [0] * entries(sizes[axis] for axis in axes)
    for position, value in zip(positions(sizes, axes), values, strict=True):
        if value:
            sums[position] += value
    return sums


def summed_over_first(values: Sequence[int], size: int) -> list[int]:
    """Sums over the first variable of a table, which has ``size`` values."""
    step = len(values) // size
    if step == 1:
        return [sum(values)]
    return list(map(sum, zip(*(values[start : start + step] for start in range(0, len(values), step)), strict=True)))


def first_sums(values: Sequence[int], size: int) -> list[int]:
    """For each value of the first variable the sum over all others."""
    step = len(values) // size
    return [sum(values[start : start + step]) for start in range(0, len(values), step)]


def reduced(values: list[int]) -> list[int]:
    """The same ratios in smaller numbers: divided by the greatest common divisor.

    Of long numbers only the common power of two is taken out, which costs next to nothing; halves
    are most of what heredity multiplies.
    """
    if Lowest in map(type, values):
        return in_least_numbers(values)
    if max(values).bit_length() <= _LONG_BITS:
        divisor = math.gcd(*values)
        return [value // divisor for value in values] if divisor > 1 else values
    bits = 0
    for value in values:
        bits |= value
    shift = (bits & -bits).bit_length() - 1
    return [value >> shift for value in values] if shift else values
