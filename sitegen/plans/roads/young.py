"""Young of a pair whose genotypes are given: how likely each is as wanted, and what they are then.

The young of a stage are sorted by marks: bit 0 stands for the goal, bit ``1 + n`` for the stage's n-th holdback. A
young has the bit of the goal if it truly is the goal, and that of a holdback if it looks right for it. Loci that are
inherited independently stay apart: given its parents' genotypes (and its sex) a young's marks are those that all its
loci leave standing.

Chances here are floating-point sums of positive terms; 0 is said only of what cannot be.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product

from sitegen.genetics.crosses import SEXES
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Sex
from sitegen.genetics.observations import looks_of
from sitegen.genetics.transmission import Transmission
from sitegen.plans.roads.dice import Dice
from sitegen.plans.roads.wants import Want

GOAL = 1
"""The mark of the goal."""

TINY = math.ulp(0.0)
"""The smallest positive number: a chance that is smaller still, and not 0, is taken as this."""

Composite = tuple[StateNumber, ...]
"""An animal's state in each of the groups of loci that matter."""

Odds = tuple[tuple[int, float], ...]
"""Marks to their chance in one young, in the order of the marks."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What the young of a stage are sorted by: the goal, and what is kept, in written order."""

    goal: Want
    keep: tuple[Want, ...]

    @property
    def wants(self) -> tuple[Want, ...]:
        """All in the order of their marks."""
        return (self.goal, *self.keep)


def looks_together(mode: Mode, state: StateNumber) -> Mapping[frozenset[str], Fraction]:
    """The looks that a state shows together at all loci of its mode, to their chance; sums to 1."""
    found: dict[frozenset[str], Fraction] = {}
    choices = (looks_of(at, own).items() for at, own in zip(mode.loci, mode.genotypes[state], strict=True))
    for choice in product(*choices):
        looks = frozenset(look for look, _ in choice if look)
        found[looks] = found.get(looks, Fraction(0)) + math.prod((part for _, part in choice), start=Fraction(1))
    return found


def fits(mode: Mode, state: StateNumber, looks: frozenset[str], want: Want, *, truly: bool) -> bool:
    """True when nothing at these loci speaks against the want.

    Args:
        mode: The loci.
        state: The young's state there.
        looks: What it shows there.
        want: What is wanted.
        truly: By genotype, unseen things included; else as an eye can tell.
    """
    known = {look.id for locus in mode.loci for look in locus.looks}
    if not truly:
        return not looks.intersection(want.barred) and all(look in looks for look in want.seen if look in known)
    held = {allele for genotype in mode.genotypes[state] for allele in genotype}
    alleles = {allele.id for locus in mode.loci for allele in locus.alleles}
    return all(look in looks for look in (*want.seen, *want.hidden) if look in known) and all(
        allele in held for allele in want.carries if allele in alleles
    )


def _marks(mode: Mode, aim: Aim) -> tuple[tuple[tuple[int, float], ...], ...]:
    """For each state its marks at these loci, with their chances."""
    found = []
    for state in range(len(mode.states)):
        own: dict[int, Fraction] = {}
        for looks, chance in looks_together(mode, state).items():
            mark = sum(
                fits(mode, state, looks, want, truly=not bit) << bit for bit, want in enumerate(aim.wants)
            )  # fmt: skip
            own[mark] = own.get(mark, Fraction(0)) + chance
        found.append(tuple((mark, float(chance)) for mark, chance in sorted(own.items())))
    return tuple(found)


class Nursery:
    """The young of every pair that was asked about, for certain groups of loci; remembers what it has made.

    Attributes:
        modes: The groups of loci, in the order of :data:`Composite`.
    """

    def __init__(self, transmissions: Sequence[Transmission]) -> None:
        self.modes = tuple(each.mode for each in transmissions)
        self._transmissions = tuple(transmissions)
        self._numbers: dict[Composite, int] = {}
        self._composites: list[Composite] = []
        self._aims: dict[Aim, int] = {}
        self._marked: list[tuple[Aim, tuple[tuple[tuple[tuple[int, float], ...], ...], ...], tuple[int, int]]] = []
        self._rows: dict[tuple[int, StateNumber, StateNumber], _Row | None] = {}
        self._broods: dict[tuple[int, int, int], Brood] = {}
        self._odds: dict[Odds, int] = {}
        self._all_odds: list[Odds] = []

    def number(self, composite: Composite) -> int:
        """A short name of a composite."""
        found = self._numbers.get(composite)
        if found is None:
            found = self._numbers[composite] = len(self._composites)
            self._composites.append(composite)
        return found

    def composite(self, number: int) -> Composite:
        """The composite of that name."""
        return self._composites[number]

    def aim(self, aim: Aim) -> int:
        """A short name of an aim."""
        found = self._aims.get(aim)
        if found is None:
            found = self._aims[aim] = len(self._marked)
            of_sex = (_marks_of_sex(aim, SEXES[0]), _marks_of_sex(aim, SEXES[1]))
            self._marked.append((aim, tuple(_marks(mode, aim) for mode in self.modes), of_sex))
        return found

    def odds(self, number: int) -> Odds:
        """The odds of that name (:attr:`Brood.odds`)."""
        return self._all_odds[number]

    def odds_number(self, odds: Odds) -> int:
        """A short name of odds."""
        found = self._odds.get(odds)
        if found is None:
            found = self._odds[odds] = len(self._all_odds)
            self._all_odds.append(odds)
        return found

    def brood(self, aim: int, dam: int, sire: int) -> "Brood":
        """The young of a dam and a sire, each a composite by its short name, sorted by an aim."""
        key = (aim, dam, sire)
        found = self._broods.get(key)
        if found is None:
            found = self._broods[key] = self._brood(aim, self._composites[dam], self._composites[sire])
        return found

    def reach(
        self, aim: int, dams: Sequence[frozenset[StateNumber]], sires: Sequence[frozenset[StateNumber]]
    ) -> tuple[bool, tuple[tuple[frozenset[StateNumber], ...] | None, ...]]:
        """Whether parents of which only so much is known can give the goal, and what they can give each holdback.

        Args:
            aim: Short name of the aim.
            dams: The states that the dam may have, by group of loci.
            sires: The same of the sire.

        Returns:
            True when the goal can be among the young; for each holdback the states that a young may have which looks
            right for it, by group of loci, or None if there can be none. Groups are looked at one by one.
        """
        wants, marked, of_sex = self._marked[aim][0].wants, self._marked[aim][1], self._marked[aim][2]
        sets: list[list[set[StateNumber]]] = [[set() for _ in self.modes] for _ in wants]
        for at, mode in enumerate(self.modes):
            for pair in product(dams[at], sires[at]):
                for state in self._transmissions[at].young(*pair):
                    sex = mode.states[state].sex
                    allowed = of_sex[SEXES.index(sex)] if sex else of_sex[0] | of_sex[1]
                    for mark, _ in marked[at][state]:
                        for bit in range(len(wants)):
                            if (mark & allowed) >> bit & 1:
                                sets[bit][at].add(state)
        can = [all(own) for own in sets]
        kept = tuple(tuple(map(frozenset, own)) if all(own) else None for own in sets[1:])
        return can[0], kept

    def _brood(self, number: int, dam: Composite, sire: Composite) -> "Brood":
        aim, marked, of_sex = self._marked[number]
        rows = [self._row(at, *pair) for at, pair in enumerate(zip(dam, sire, strict=True))]
        living = [row for row in rows if row is not None]
        if len(living) < len(rows):
            return Brood(self, (), self.odds_number(()))
        everything = (1 << len(aim.wants)) - 1
        if not any(row.has_sex for row in living) and of_sex == (everything, everything):
            sexes: list[tuple[float, int, int]] = [(1.0, everything, 0)]
        else:
            weights = [math.prod(2 * row.share[rank] for row in living) for rank in (0, 1)]
            sexes = [(weights[rank] / sum(weights), of_sex[rank], rank) for rank in (0, 1) if weights[rank]]
        families = tuple(
            _Family(weight, start, tuple(
                tuple((state, chance * part, mark) for state, chance in row.states[rank] for mark, part in own[state])
                for row, own in zip(living, marked, strict=True)
            ))
            for weight, start, rank in sexes
        )  # fmt: skip
        odds: dict[int, float] = {}
        for family in families:
            grown = {family.start: family.weight}
            for outcomes in family.outcomes:
                longer: dict[int, float] = {}
                for mark, chance in grown.items():
                    for _, share, own_mark in outcomes:
                        both = mark & own_mark
                        longer[both] = longer.get(both, 0.0) + (chance * share or TINY)
                grown = longer
            for mark, chance in grown.items():
                odds[mark] = odds.get(mark, 0.0) + chance
        return Brood(self, families, self.odds_number(_merged(odds)))

    def _row(self, at: int, dam: StateNumber, sire: StateNumber) -> "_Row | None":
        """The states of young at one group; None where none can live."""
        key = (at, dam, sire)
        if key not in self._rows:
            mode = self.modes[at]
            chances = self._transmissions[at].young(dam, sire)
            if not chances:
                self._rows[key] = None
            elif not mode.has_sex:
                states = tuple((state, float(chance)) for state, chance in chances.items())
                self._rows[key] = _Row(False, (0.5, 0.5), (states, states))
            else:
                own = [{s: c for s, c in chances.items() if mode.states[s].sex is sex} for sex in SEXES]
                shares = [sum(each.values(), Fraction(0)) for each in own]
                both = [
                    tuple((s, float(c / share)) for s, c in each.items())
                    for each, share in zip(own, shares, strict=True)
                ]
                self._rows[key] = _Row(True, (float(shares[0]), float(shares[1])), (both[0], both[1]))
        return self._rows[key]


def _marks_of_sex(aim: Aim, sex: Sex) -> int:
    """The marks that a young of that sex can have."""
    return sum(1 << bit for bit, want in enumerate(aim.wants) if want.sex in (None, sex))


def _merged(odds: Mapping[int, float]) -> Odds:
    """A goal young ends the road: what else it is fit for does not matter."""
    found: dict[int, float] = {}
    for mark, chance in odds.items():
        key = GOAL if mark & GOAL else mark
        found[key] = found.get(key, 0.0) + chance
    return tuple(sorted(found.items()))


@dataclass(frozen=True, slots=True)
class _Row:
    """Young of two states at one group: share of each sex, and of each sex the states."""

    has_sex: bool
    share: tuple[float, float]
    states: tuple[tuple[tuple[StateNumber, float], ...], tuple[tuple[StateNumber, float], ...]]


@dataclass(frozen=True, slots=True)
class _Family:
    """Young of one sex, or of both if it does not matter.

    They have their share, the marks that they begin with, and at each group of loci every outcome as (state, chance,
    marks that it leaves).
    """

    weight: float
    start: int
    outcomes: tuple[tuple[tuple[StateNumber, float, int], ...], ...]


@dataclass(slots=True, eq=False)
class Brood:
    """The young of one pair under one aim.

    Attributes:
        odds: Short name of their odds; empty odds where no young can live.
    """

    nursery: Nursery
    families: tuple[_Family, ...]
    odds: int
    _states: dict[tuple[int, int], tuple[tuple[int, float], ...]] = field(default_factory=dict)
    _tails: dict[tuple[int, int], list[tuple[float, dict[tuple[int, int], float]]]] = field(default_factory=dict)

    def states(self, care: int, mark: int) -> tuple[tuple[int, float], ...]:
        """What young with a mark are: composites (short names) with chances that sum to 1.

        Args:
            care: The marks that are looked at.
            mark: Those of them that the young has.
        """
        key = (care, mark)
        if key not in self._states:
            found: dict[Composite, float] = {}
            for family in self.families:
                grown: dict[tuple[int, Composite], float] = {(family.start & care, ()): family.weight}
                for outcomes in family.outcomes:
                    longer: dict[tuple[int, Composite], float] = {}
                    for (before, states), chance in grown.items():
                        for state, share, own in outcomes:
                            if before & own & mark == mark:
                                to = (before & own, (*states, state))
                                longer[to] = longer.get(to, 0.0) + (chance * share or TINY)
                    grown = longer
                for (end, states), chance in grown.items():
                    if end == mark:
                        found[states] = found.get(states, 0.0) + chance
            total = sum(found.values())
            numbered = ((self.nursery.number(states), chance / total) for states, chance in found.items())
            self._states[key] = tuple(sorted(numbered))
        return self._states[key]

    def draw(self, care: int, mark: int, dice: "Dice") -> int:
        """One of :meth:`states`, drawn by its chance, without writing them all down."""
        tails = self._tails.get((care, mark))
        if tails is None:
            tails = self._tails[care, mark] = [self._tail(family, care, mark) for family in self.families]
        at = 0
        if len(tails) > 1:
            weights = [first for first, _ in tails]
            at = pick(weights, dice.next() * sum(weights))
        family, (_, table) = self.families[at], tails[at]
        standing, states = family.start & care, []
        for place, outcomes in enumerate(family.outcomes):
            if len(outcomes) == 1:
                state, _, own = outcomes[0]
            else:
                chances = [share * table.get((place + 1, standing & own), 0.0) for _, share, own in outcomes]
                state, _, own = outcomes[pick(chances, dice.next() * sum(chances))]
            standing &= own
            states.append(state)
        return self.nursery.number(tuple(states))

    @staticmethod
    def _tail(family: _Family, care: int, mark: int) -> tuple[float, dict[tuple[int, int], float]]:
        """The chance to end with the mark, and the same from each group of loci on with what stands there."""
        reach: list[set[int]] = [{family.start & care}]
        for outcomes in family.outcomes:
            reach.append({before & own for before in reach[-1] for _, _, own in outcomes})
        table = {(len(family.outcomes), end): float(end == mark) for end in reach[-1]}
        for place in range(len(family.outcomes) - 1, -1, -1):
            for before in reach[place]:
                table[place, before] = sum(
                    share * table[place + 1, before & own] for _, share, own in family.outcomes[place]
                )
        return family.weight * table[0, family.start & care], table


def pick(weights: Sequence[float], target: float) -> int:
    """The place of the weight in which the target falls, never one that weighs nothing."""
    last = 0
    for at, weight in enumerate(weights):
        if weight:
            target -= weight
            last = at
            if target < 0:
                return at
    return last
