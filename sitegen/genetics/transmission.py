"""What a pair gives, as whole-number tables over the states that are still possible, made once for each need.

Sets of states are bit masks: bit ``n`` stands for state ``n`` of the mode.
"""

import math
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache

from sitegen.exact import common_denominator
from sitegen.genetics.gametes import Mode, StateNumber, gametes
from sitegen.genetics.loci import Sex
from sitegen.genetics.lowest import times_whole

Mask = int
Weights = tuple[Fraction, ...]
"""One weight for each state of the mode."""


def mask_of(states: Sequence[StateNumber]) -> Mask:
    """The set of these states."""
    return sum(1 << state for state in states)


@lru_cache(maxsize=4096)
def states_in(mask: Mask) -> tuple[StateNumber, ...]:
    """The states of a set, in order."""
    return tuple(state for state in range(mask.bit_length()) if mask >> state & 1)


def whole_numbers(chances: Sequence[Fraction]) -> tuple[int, ...]:
    """The same ratios as whole numbers without a common factor."""
    denominator = math.lcm(*(chance.denominator for chance in chances))
    numbers = times_whole(chances, denominator)
    divisor = math.gcd(*numbers) or 1
    return tuple(number // divisor for number in numbers)


class Transmission:
    """From a pair's states to those of a living young, for one mode; remembers what it has made."""

    def __init__(self, mode: Mode) -> None:
        self.mode = mode
        self._numbers = {(state.first, state.second): rank for rank, state in enumerate(mode.states)}
        self._gametes: dict[tuple[StateNumber, Sex], dict[tuple[str, ...], Fraction]] = {}
        self._pairs: dict[tuple[StateNumber, StateNumber], tuple[dict[StateNumber, Fraction], Mask, Fraction]] = {}
        self._whole: dict[tuple[StateNumber, StateNumber], tuple[dict[StateNumber, int], int]] = {}
        self._kept: dict[tuple[Mask, Mask, Mask], tuple[Mask, Mask, Mask]] = {}
        self._tables: dict[tuple[int, ...], tuple[tuple[int, ...], Weights | None]] = {}
        self._mixed: dict[tuple[object, ...], tuple[tuple[int, ...], Weights, Weights | None]] = {}

    @property
    def bits(self) -> int:
        """Binary digits that one young adds to the common denominator of a whole solution, at most."""
        parting = [rate.denominator for sex in (Sex.FEMALE, Sex.MALE) for rate in self.mode.parting[sex]]
        return 2 + (math.prod(parting) - 1).bit_length()

    def young(self, dam: StateNumber, sire: StateNumber) -> dict[StateNumber, Fraction]:
        """Chance of each state of a living young of that pair; empty when none of its young live, else sums to 1."""
        return self._born(dam, sire)[0]

    def living_share(self, dam: StateNumber, sire: StateNumber) -> Fraction:
        """Share of a pair's conceptions that are born alive, as far as this locus decides it."""
        return self._born(dam, sire)[2]

    def _born(self, dam: StateNumber, sire: StateNumber) -> tuple[dict[StateNumber, Fraction], Mask, Fraction]:
        """The chances of :meth:`young`, their states as a set, and the share of :meth:`living_share`."""
        found = self._pairs.get((dam, sire))
        if found is None:
            conceived = self.conceived(dam, sire)
            living = {number: conceived[number] for number in sorted(conceived) if self.mode.living[number]}
            # Young are recorded as born alive, so the chances are those among the living, for each pair of parents:
            # a litter in which few survive says no more or less of its parents than another.
            alive = sum(living.values(), Fraction(0))
            row = {number: chance / alive for number, chance in living.items()}
            found = self._pairs[dam, sire] = row, mask_of(tuple(row)), alive
        return found

    def whole_young(self, dam: StateNumber, sire: StateNumber) -> tuple[dict[StateNumber, int], int]:
        """The same as whole numbers over one denominator."""
        found = self._whole.get((dam, sire))
        if found is None:
            row = self.young(dam, sire)
            whole = common_denominator(row.values())
            shares = {state: share.numerator * (whole // share.denominator) for state, share in row.items()}
            found = self._whole[dam, sire] = shares, whole
        return found

    def _passed_on(self, parent: StateNumber, sex: Sex) -> dict[tuple[str, ...], Fraction]:
        key = (parent, sex)
        if key not in self._gametes:
            self._gametes[key] = gametes(self.mode, parent, sex)
        return self._gametes[key]

    def conceived(self, dam: StateNumber, sire: StateNumber) -> dict[StateNumber, Fraction]:
        """Chance of each state of what a pair conceives, also of what is not born alive; sums to 1."""
        conceived: dict[StateNumber, Fraction] = {}
        for from_dam, chance in self._passed_on(dam, Sex.FEMALE).items():
            for from_sire, other in self._passed_on(sire, Sex.MALE).items():
                pair = from_dam, from_sire
                number = self._numbers[pair if pair in self._numbers else pair[::-1]]
                conceived[number] = conceived.get(number, Fraction(0)) + chance * other
        return conceived

    def possible(self, dams: Mask, sires: Mask, young: Mask) -> tuple[Mask, Mask, Mask]:
        """What remains of each set when every state must agree with some states of the other two."""
        key = (dams, sires, young)
        kept = self._kept.get(key)
        if kept is None:
            kept_dams = kept_sires = kept_young = 0
            for dam in states_in(dams):
                for sire in states_in(sires):
                    if given := self._born(dam, sire)[1] & young:
                        kept_dams |= 1 << dam
                        kept_sires |= 1 << sire
                        kept_young |= given
            kept = self._kept[key] = (kept_dams, kept_sires, kept_young)
        return kept

    def table(self, dams: Mask, sires: Mask, young: Mask, evidence: Weights | None) -> tuple[int, ...]:
        """Weights of (dam, sire, young) over the given sets, in that order, young fastest, times the evidence."""
        key = (dams, sires, young, id(evidence))  # which is kept with the table, so that it stays the same object
        known = self._tables.get(key)
        if known is not None:
            return known[0]
        ends = states_in(young)
        chances = []
        for dam in states_in(dams):
            for sire in states_in(sires):
                row = self.young(dam, sire)
                chances += [row.get(end, Fraction(0)) * (evidence[end] if evidence else 1) for end in ends]
        made = whole_numbers(chances)
        self._tables[key] = made, evidence
        return made

    def one_known(
        self, known: Mask, other: Weights, young: Mask, evidence: Weights | None, sex: Sex
    ) -> tuple[int, ...]:
        """Like :meth:`table` when only one parent, of that ``sex``, is recorded; the other has these odds."""
        key = (known, id(other), young, id(evidence), sex)  # both are kept with the table
        kept = self._mixed.get(key)
        if kept is None:
            ends = states_in(young)
            chances = []
            for parent in states_in(known):
                mixed = self.of_one_parent(parent, other, sex)
                chances += [mixed.get(end, Fraction(0)) * (evidence[end] if evidence else 1) for end in ends]
            kept = self._mixed[key] = whole_numbers(chances), other, evidence
        return kept[0]

    def of_one_parent(self, parent: StateNumber, other: Weights, sex: Sex) -> dict[StateNumber, Fraction]:
        """Chance of each state of a young of a recorded parent of that ``sex`` and one that has these odds."""
        mixed: dict[StateNumber, Fraction] = {}
        for number, odds in enumerate(other):
            if odds:
                pair = (parent, number) if sex is Sex.FEMALE else (number, parent)
                for end, chance in self.young(*pair).items():
                    mixed[end] = mixed.get(end, Fraction(0)) + odds * chance
        return mixed
