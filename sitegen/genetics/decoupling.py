"""Loci that share nothing but who the sires of single young were, solved apart and put together again, exactly.

Given the sire of every young, unlinked loci are independent. So the weight of all evidence is the sum, over every way
``c`` to choose the sires, of prior(c) times the product of F_p(c) over the loci, where F_p(c) is what locus ``p`` says
once the sires are chosen. Young that are alike at a locus may be exchanged there without changing F_p, which therefore
hangs only on how many of them each sire has; young that are alike at all loci are counted together in the sum. Each
locus is then solved once more with the sum over all other loci as one further table over those numbers.

Source: conditioning on the variables that separate parts of a network, Pearl J (1988) *Probabilistic Reasoning in
Intelligent Systems*, section 4.4.2 (from memory).
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product as ways_of
from operator import add

from sitegen.genetics.factors import SHARED, Factor, Network, splits
from sitegen.genetics.ordering import Plan
from sitegen.genetics.tables import Table, Variable, entries, product, summed_over_first
from sitegen.genetics.tree import joint_of

MOST_WAYS = 1_000_000
"""Most ways to share out all young that are gone through one by one; measured: about 3 seconds with four loci."""

_MOST_ENTRIES = 50_000
"""Most table entries of what one young says of its parents; beyond it the young is not compared with others."""


@dataclass(frozen=True, slots=True, eq=False)
class Alike:
    """Choices of sire that one locus does not tell apart; a choice that is like no other stands alone.

    Attributes:
        variable: Says how many of the young each sire has; of a single choice the choice itself.
        choices: The choices.
        n_values: How many values a choice has.
    """

    variable: Variable
    choices: tuple[Variable, ...]
    n_values: int

    def codes(self) -> list[int]:
        """A number for each value of the variable; numbers of several young add up."""
        if len(self.choices) == 1:
            return list(range(self.n_values))
        return [self.code(ways) for ways in splits(len(self.choices), self.n_values)]

    def code(self, ways: Sequence[int]) -> int:
        """The number of one way to share out some of the young, as young for each sire."""
        if len(self.choices) == 1:
            return ways.index(1)
        return sum(n * (len(self.choices) + 1) ** sire for sire, n in enumerate(ways))


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """One locus or linked group by itself, its choices of sire counted where they are alike.

    Attributes:
        part: Its number.
        factors: All that it says.
        alike: Its choices of sire.
        hanging: What was summed out of young that are counted, each variable with its chances given all others.
        stand_ins: For each choice that is counted with others the variable that ``hanging`` has for it.
    """

    part: int
    factors: tuple[Factor, ...]
    alike: tuple[Alike, ...]
    hanging: Mapping[Variable, Factor]
    stand_ins: Mapping[Variable, Variable]

    @property
    def scope(self) -> tuple[Variable, ...]:
        """The variables through which it hangs together with all else."""
        return tuple(each.variable for each in self.alike)


@dataclass(frozen=True, slots=True, eq=False)
class _Told:
    """What a young of a mixed litter says, its own state and its sire's summed out."""

    factors: tuple[Factor, ...]
    table: Table
    hanging: Mapping[Variable, Table]


def side_of(network: Network, factors: Sequence[Factor], part: int) -> Side:
    """What one part says among these factors; makes variables for what is counted."""
    own = [factor for factor in factors if factor.part == part]
    uses: dict[Variable, list[Factor]] = {}
    for factor in own:
        for variable in factor.scope:
            uses.setdefault(variable, []).append(factor)
    of_young = {variable for (kind, _), (variable, _) in network.choices.items() if kind == "young"}
    every = {variable for variable, _ in network.choices.values()}
    groups: dict[object, list[tuple[Variable, _Told | None]]] = {}
    for choice in (variable for variable in uses if variable in every):
        told = _told(network, uses, choice, every) if choice in of_young else None
        key = (told.table.scope[1:], tuple(told.table.values)) if told else choice
        groups.setdefault(key, []).append((choice, told))
    alike: list[Alike] = []
    hanging: dict[Variable, Factor] = {}
    stand_ins: dict[Variable, Variable] = {}
    gone: set[int] = set()
    for members in groups.values():
        first, told = members[0]
        n_values = network.sizes[first]
        if len(members) == 1 or told is None:
            alike.append(Alike(first, (first,), n_values))
            continue
        counted = Alike(
            network.variable(math.comb(len(members) + n_values - 1, n_values - 1)),
            tuple(choice for choice, _ in members),
            n_values,
        )
        alike.append(counted)
        own.append(_together(told, counted, part))
        for choice, each in members:
            assert each is not None
            stand_ins[choice] = network.variable(n_values)
            gone |= {id(factor) for factor in each.factors}
            for variable, table in each.hanging.items():
                scope = tuple(stand_ins.get(other, other) for other in table.scope)
                hanging[variable] = Factor(scope, lambda values=table.values: values, part)  # type: ignore[misc]
    return Side(part, tuple(factor for factor in own if id(factor) not in gone), tuple(alike), hanging, stand_ins)


def _told(
    network: Network, uses: Mapping[Variable, list[Factor]], choice: Variable, every: set[Variable]
) -> _Told | None:
    """What a young says of its dam and possible sires by who was its sire; None where that is too much to compare."""
    found = dict.fromkeys(uses[choice])
    fathers = {v for factor in found for v in factor.scope if network.owner[v] is None and v not in every}
    found |= dict.fromkeys(factor for father in fathers for factor in uses[father])
    inside = {variable for factor in found for variable in factor.scope} - {choice}
    private = [variable for variable in inside if all(factor in found for factor in uses[variable])]
    kept = (choice, *sorted(inside.difference(private)))
    if entries(network.sizes[variable] for variable in {*inside, choice}) > _MOST_ENTRIES:
        return None
    tables = [Table(factor.scope, factor.values()) for factor in found]
    hanging = {}
    for variable in sorted(private, key=lambda variable: len(uses[variable])):
        touching = [table for table in tables if variable in table.scope]
        scope = (variable, *sorted({other for table in touching for other in table.scope} - {variable}))
        shape = tuple(network.sizes[other] for other in scope)
        values = product(touching, scope, shape)
        sums = summed_over_first(values, shape[0])
        # Each variable's chances given all others, as whole numbers over one denominator: a factor that differed from
        # one combination of the others to the next would not cancel.
        whole = math.lcm(*filter(None, sums))
        shares = [value * (whole // sums[at % len(sums)]) if value else 0 for at, value in enumerate(values)]
        hanging[variable] = Table(scope, shares)
        tables = [*(table for table in tables if table not in touching), Table(scope[1:], sums)]
    values = product(tables, kept, tuple(network.sizes[variable] for variable in kept))
    divisor = math.gcd(*values) or 1
    return _Told(tuple(found), Table(kept, [value // divisor for value in values]), hanging)


def _together(told: _Told, counted: Alike, part: int) -> Factor:
    """What young that are alike say of their parents by how many of them each sire has."""
    step = len(told.table.values) // counted.n_values
    rows = [told.table.values[start : start + step] for start in range(0, len(told.table.values), step)]

    def values() -> list[int]:
        return [
            math.prod(row[at] ** n for row, n in zip(rows, ways, strict=True))
            for ways in splits(len(counted.choices), counted.n_values)
            for at in range(step)
        ]

    bits = sum(factor.bits for factor in told.factors) * len(counted.choices)
    return Factor((counted.variable, *told.table.scope[1:]), values, part, bits)


@dataclass(frozen=True, slots=True, eq=False)
class Message:
    """What all other sides say to one, with how likely the choices were before.

    Attributes:
        whole: Over the scope of the side.
        of_choice: The same for each choice that is counted with others, with its stand-in as the last variable.
        tables: All that the side itself says.
    """

    whole: Factor
    of_choice: Mapping[Variable, Table]
    tables: Sequence[Table]


_Codes = tuple[int, ...]
_Option = tuple[int, tuple[int, ...], _Codes]
"""Weight of one way to share out young that are alike everywhere, how many each sire has, its number on each side."""


def messages(
    network: Network, factors: Sequence[Factor], sides: Sequence[Side], limits: Sequence[int]
) -> list[Message] | int:
    """What the sides say to each other; all zero where the evidence excludes everything.

    Args:
        network: All variables.
        factors: Those of the whole piece; the odds of each choice are read from those that belong to no side.
        sides: Its parts.
        limits: Most table entries of each side.

    Returns:
        The messages; or what they would cost, where that is beyond a bound.
    """
    strides = [_strides(side) for side in sides]
    counts = _shared_out(factors, sides, strides)
    n_ways = math.prod(len(options) for options in counts.values())
    if n_ways > MOST_WAYS:
        return n_ways
    known: list[list[Table]] = []
    own: list[dict[int, int]] = []
    for side, steps, limit in zip(sides, strides, limits, strict=True):
        known.append([Table(factor.scope, factor.values()) for factor in side.factors])
        found = joint_of(network.sizes, known[-1], side.scope, limit)
        if isinstance(found, Plan):
            return found.entries
        divisor = math.gcd(*found.values) or 1
        own.append({c: v // divisor for c, v in zip(_codes(side, steps), found.values, strict=True) if v})
    sums = _Sums(counts, own)
    return [
        _message(sums, number, side, steps, tables)
        for number, (side, steps, tables) in enumerate(zip(sides, strides, known, strict=True))
    ]


def _message(sums: "_Sums", number: int, side: Side, steps: Sequence[int], tables: Sequence[Table]) -> Message:
    codes = list(_codes(side, steps))
    every = sums.whole(number)
    whole = _reduced([every.get(code, 0) for code in codes])
    of_choice: dict[Variable, Table] = {}
    for choices in sums.counts:
        if choices[0] in side.stand_ins:
            found = sums.by_sire(number, choices)
            values = _reduced([own.get(code, 0) for code in codes for own in found])
            of_choice |= {each: Table((*side.scope, side.stand_ins[each]), values) for each in choices}
    return Message(Factor(side.scope, lambda: whole, side.part), of_choice, tables)


def _reduced(values: list[int]) -> list[int]:
    divisor = math.gcd(*values) or 1
    return [value // divisor for value in values]


def _shared_out(
    factors: Sequence[Factor], sides: Sequence[Side], strides: Sequence[Sequence[int]]
) -> dict[tuple[Variable, ...], list[_Option]]:
    """For each set of young that are alike on all sides every way to share them out."""
    before = {factor.scope[0]: tuple(factor.values()) for factor in factors if factor.part == SHARED}
    places: dict[Variable, list[tuple[int, int]]] = {}
    for number, side in enumerate(sides):
        for rank, alike in enumerate(side.alike):
            for choice in alike.choices:
                places.setdefault(choice, []).append((number, rank))
    together: dict[tuple[tuple[tuple[int, int], ...], tuple[int, ...]], list[Variable]] = {}
    for choice, own in places.items():
        together.setdefault((tuple(own), before[choice]), []).append(choice)
    made = {}
    for (found, odds), choices in together.items():
        options: list[_Option] = []
        for ways in splits(len(choices), len(odds)):
            weight = math.factorial(len(choices))  # multinomial: in how many orders these young could be so shared out
            for n, chance in zip(ways, odds, strict=True):
                weight = weight // math.factorial(n) * chance**n
            codes = [0] * len(sides)
            for number, rank in found:
                codes[number] += sides[number].alike[rank].code(ways) * strides[number][rank]
            options.append((weight, ways, tuple(codes)))
        made[tuple(choices)] = options
    return made


def _strides(side: Side) -> list[int]:
    steps, step = [], 1
    for alike in side.alike:
        steps.append(step)
        step *= max(alike.codes()) + 1
    return steps


def _codes(side: Side, steps: Sequence[int]) -> Iterator[int]:
    """The number of each entry of a table over the side's scope."""
    each = [[code * step for code in alike.codes()] for alike, step in zip(side.alike, steps, strict=True)]
    return map(sum, ways_of(*each))


class _Sums:
    """Sums over every way to share out all young, gone through once as pairs of two halves.

    ``counts`` are the sets of young with their ways; ``own`` what each side says, by its number.
    """

    def __init__(self, counts: Mapping[tuple[Variable, ...], list[_Option]], own: Sequence[Mapping[int, int]]) -> None:
        self.counts = counts
        self._own = own
        n_ways = math.prod(map(len, counts.values()))
        # Every way is one way of the first half and one of the second. What the sides say depends on the sums of both
        # halves' numbers alone, so ways with equal numbers are added up before they are paired: that is what makes a
        # million ways a matter of seconds.
        first: list[tuple[Variable, ...]] = []
        while math.prod(len(counts[each]) for each in first) ** 2 < n_ways:
            first.append(list(counts)[len(first)])
        self._halves = (tuple(first), tuple(each for each in counts if each not in first))
        combined = tuple(self._combined(half) for half in self._halves)
        # for each half and side: numbers of that half, to number of the side, to the weight of all that fits
        self._fitting: tuple[dict[_Codes, list[dict[int, int]]], ...] = tuple(
            {at: [{} for _ in own] for at in found} for found in combined
        )
        for at_first, weight_first in combined[0].items():
            mine = self._fitting[0][at_first]
            for at_second, weight_second in combined[1].items():
                codes = list(map(add, at_first, at_second))
                values = [side.get(code, 0) for side, code in zip(own, codes, strict=True)]
                if not (weight := math.prod(values)):
                    continue
                theirs = self._fitting[1][at_second]
                for side, code in enumerate(codes):
                    mine[side][code] = mine[side].get(code, 0) + weight * weight_second
                    theirs[side][code] = theirs[side].get(code, 0) + weight * weight_first
        self._first = combined[0]

    def _combined(self, half: Sequence[tuple[Variable, ...]]) -> dict[_Codes, int]:
        """Numbers of the sides to the weight of all ways that lead to them."""
        found: dict[_Codes, int] = {(0,) * len(self._own): 1}
        for choices in half:
            longer: dict[_Codes, int] = {}
            for at, before in found.items():
                for weight, _, codes in self.counts[choices]:
                    key = tuple(map(add, at, codes))
                    longer[key] = longer.get(key, 0) + before * weight
            found = longer
        return found

    def _others(self, side: int, sums: dict[int, int]) -> dict[int, int]:
        """What is left without what the side says itself, of which every sum is a multiple."""
        return {code: value // self._own[side][code] for code, value in sums.items()}

    def whole(self, side: int) -> dict[int, int]:
        """For each number of a side what all others say of it."""
        sums: dict[int, int] = {}
        for at, weight in self._first.items():
            for code, value in self._fitting[0][at][side].items():
                sums[code] = sums.get(code, 0) + weight * value
        return self._others(side, sums)

    def by_sire(self, side: int, choices: tuple[Variable, ...]) -> list[dict[int, int]]:
        """The same by who is the sire of one of the young that are alike everywhere."""
        half = int(choices in self._halves[1])
        rest = self._combined([each for each in self._halves[half] if each != choices])
        sums: list[dict[int, int]] = [{} for _ in self.counts[choices][0][1]]
        for weight, ways, codes in self.counts[choices]:
            for at, before in rest.items():
                for code, value in self._fitting[half][tuple(map(add, at, codes))][side].items():
                    for found, n in zip(sums, ways, strict=True):
                        if n:
                            found[code] = found.get(code, 0) + before * weight * n * value
        return [self._others(side, found) for found in sums]
