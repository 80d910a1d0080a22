"""The young of many pairs at once, in arrays: what they are, whether they live, what an eye sees, what is true of them.

At each group of loci a young is of a *type*: its state and the looks that it shows there (a look may stay away, see
penetrance). Type 0 is not born alive. What is wanted is marked by bits; a young has those that all its groups leave it:

- ``GOAL``: it truly is the goal.
- from ``FIRST`` on one for each want: it looks right, whatever its sex;
- after these, for each want one for each unseen thing that it truly has.
"""

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from functools import partial

import numpy as np
from numpy.typing import NDArray

from sitegen.genetics.crosses import SEXES
from sitegen.genetics.dice import CERTAIN, Words, pick, thresholds
from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.loci import Genome
from sitegen.genetics.transmission import Transmission, whole_numbers
from sitegen.plans.roads.wants import Want, alone, fits, hides, looks_together

GOAL, FIRST = 0, 1
_SPARE = 50
"""Looks of a group of loci that can be told apart in one number of 64 bits; with more, nothing is called known."""

Ints = NDArray[np.integer]


class Group:
    """The young at one group of loci.

    Attributes:
        mode: What runs there.
        state: For each type its state.
        marks: For each type the bits above.
        hidden_from: The looks of this group that looks of others may hide.
        look: For each type, and each set of these looks (by bits) that is hidden, the number of what is seen of it;
            the sex is, where it is part of the state.
        goal_states: The states that may be the goal.
        hides_goal: Two types that look alike are not both the goal, or both not.
    """

    def __init__(self, transmission: Transmission, goal: Want, wants: Sequence[Want], genome: Genome) -> None:
        self._transmission, mode = transmission, transmission.mode
        self.mode, self._genome = mode, genome
        self.types: list[tuple[StateNumber, frozenset[str]]] = [
            (state, looks)
            for state in range(len(mode.states))
            if mode.living[state]
            for looks in looks_together(mode, state)
        ]
        self._number = {each: number for number, each in enumerate(self.types, start=1)}
        self.state = np.array([0, *(state for state, _ in self.types)], np.int16)
        self.is_goal = [fits(mode, *each, goal, truly=True) for each in self.types]
        self.goal_states = {state for (state, _), good in zip(self.types, self.is_goal, strict=True) if good}
        own = {look.id for locus in mode.loci for look in locus.looks}
        others = [look.id for locus in genome.loci for look in locus.looks if look.id not in own]
        self.hidden_from = [look for look in sorted(own) if any(hides(genome, each, look) for each in others)]
        known: dict[object, int] = {}
        self.look = np.zeros((len(self.types) + 1, 1 << len(self.hidden_from)), np.int64)
        by_look: dict[int, set[bool]] = {}
        for bits in range(1 << len(self.hidden_from)):
            away = {look for place, look in enumerate(self.hidden_from) if bits >> place & 1}
            for place, (state, looks) in enumerate(self.types):
                seen = frozenset(
                    look for look in looks - away if not any(hides(genome, over, look) for over in looks - {look})
                )
                number = known.setdefault((bits, seen, mode.states[state].sex), len(known))
                self.look[place + 1, bits] = number
                by_look.setdefault(number, set()).add(self.is_goal[place])
        self.hides_goal = any(len(each) > 1 for each in by_look.values())
        self.too_many_looks = len(known) > _SPARE
        self.marks = np.array([0, *(self._marks(*each, goal, wants) for each in self.types)], np.uint64)
        n = len(mode.states)
        self._row_of = np.full(2 * n * n if mode.has_sex else n * n, -1, np.int32)
        self._rows: list[tuple[Sequence[int], Sequence[int]]] = []
        self._tables: tuple[NDArray[np.uint32], NDArray[np.int16]] | None = None

    def _marks(self, state: StateNumber, looks: frozenset[str], goal: Want, wants: Sequence[Want]) -> int:
        bits = [fits(self.mode, state, looks, goal, truly=True)]
        bits += [fits(self.mode, state, looks, want, truly=False) for want in wants]
        bits += [
            fits(self.mode, state, looks, alone(want, thing), truly=True) for want in wants for thing in want.unseen
        ]
        return sum(bool(bit) << place for place, bit in enumerate(bits))

    def hidden_by(self, other: "Group") -> NDArray[np.int64]:
        """For each type of another group which of :attr:`hidden_from` it hides, as bits."""
        found = [
            sum(
                any(hides(self._genome, over, look) for over in looks) << place
                for place, look in enumerate(self.hidden_from)
            )
            for _, looks in other.types
        ]
        return np.array([0, *found], np.int64)

    def draw(self, dams: Ints, sires: Ints, sexes: Ints, parents: Ints, words: Callable[[], Words]) -> Ints:
        """Types of young.

        Args:
            dams: The dams' states, one for each pair.
            sires: The sires'.
            sexes: 0 or 1 (:data:`sitegen.genetics.crosses.SEXES`), one for each young.
            parents: Place of each young's pair.
            words: One for each young; asked for only where something is left to chance.
        """
        n = len(self.mode.states)
        pairs = dams.astype(np.int64) * n + sires
        by_sex = [pairs, pairs + n * n] if self.mode.has_sex else [pairs]
        for codes in by_sex:
            present = np.flatnonzero(np.bincount(codes, minlength=len(self._row_of)))
            for code in present[self._row_of[present] < 0]:
                self._add(int(code))
        rows = [self._row_of[codes] for codes in by_sex]
        own = rows[0][parents] if len(rows) == 1 else np.where(sexes == 0, rows[0][parents], rows[1][parents])
        table, types = self._made()
        found: Ints = types[own, 0 if table.shape[1] == 1 else pick(table, own, words())]
        return found

    def _add(self, code: int) -> None:
        """The types that a pair can give, of one sex where sex is part of the state, and the thresholds of each."""
        n = len(self.mode.states)
        sex = SEXES[code // (n * n)] if self.mode.has_sex else None
        dam, sire = divmod(code % (n * n), n)
        chances: dict[int, Fraction] = {}
        for state, chance in self._transmission.conceived(dam, sire).items():
            if sex not in (None, self.mode.states[state].sex):
                continue
            parts = looks_together(self.mode, state) if self.mode.living[state] else {frozenset[str](): Fraction(1)}
            for looks, part in parts.items():
                number = self._number.get((state, looks), 0)
                chances[number] = chances.get(number, Fraction(0)) + chance * part
        order = sorted(chances)
        self._row_of[code] = len(self._rows)
        self._rows.append((thresholds(whole_numbers([chances[number] for number in order])), order))
        self._tables = None

    def _made(self) -> tuple[NDArray[np.uint32], NDArray[np.int16]]:
        if self._tables is None:
            most = max(len(order) for _, order in self._rows)
            table = np.full((len(self._rows), most), CERTAIN, np.uint32)
            types = np.zeros((len(self._rows), most), np.int16)
            for place, (limits, order) in enumerate(self._rows):
                table[place, : len(order)] = limits
                types[place, : len(order)] = order
            self._tables = table, types
        return self._tables


def hidden_between(groups: Sequence[Group]) -> dict[tuple[int, int], NDArray[np.int64]]:
    """(group, other group) to which looks of the first each type of the other hides, as :meth:`Group.hidden_by`."""
    return {
        (place, other): group.hidden_by(groups[other])
        for place, group in enumerate(groups)
        if group.hidden_from
        for other in range(len(groups))
        if other != place
    }


class Nursery:
    """The young at all groups of loci that matter.

    Attributes:
        groups: The groups of loci.
        wants: What is wanted, in the order of the bits.
    """

    def __init__(
        self, transmissions: Iterable[Transmission], goal: Want, wants: Sequence[Want], genome: Genome
    ) -> None:
        self.wants = tuple(wants)
        self.groups = tuple(Group(each, goal, wants, genome) for each in transmissions)
        self._hidden = hidden_between(self.groups)
        self._first_unseen = FIRST + len(self.wants)

    def unseen_bits(self, want: int) -> range:
        """The bits of the unseen things of a want, in their order."""
        before = sum(len(each.unseen) for each in self.wants[:want])
        return range(self._first_unseen + before, self._first_unseen + before + len(self.wants[want].unseen))

    def are_goal(self, states: Sequence[Ints]) -> NDArray[np.bool_]:
        """Which animals of the right looks are the goal, from their states at each group."""
        found = np.ones(len(states[0]) if states else 1, np.bool_)
        for group, own in zip(self.groups, states, strict=True):
            found &= np.isin(own, list(group.goal_states))
        return found

    def looks(self, place: int, types: Sequence[Ints]) -> Ints:
        """What is seen of young at a group of loci, as numbers, from their types at all groups."""
        hidden = np.zeros(len(types[place]), np.int64)
        for other in range(len(self.groups)):
            if (place, other) in self._hidden:
                hidden |= self._hidden[place, other][types[other]]
        found: Ints = self.groups[place].look[types[place], hidden]
        return found

    def young(
        self,
        dams: Sequence[Ints],
        sires: Sequence[Ints],
        sexes: Ints,
        parents: Ints,
        words: Callable[[int], Words],
    ) -> tuple[list[Ints], NDArray[np.bool_], NDArray[np.uint64]]:
        """What young are: their types at each group, whether they live, and their marks (0 if not).

        ``dams`` and ``sires`` have the states at each group; the rest is as for :meth:`Group.draw`; ``words`` gives
        those of a group.
        """
        types: list[Ints] = []
        alive = np.ones(len(parents), np.bool_)
        marks = np.full(len(parents), np.uint64(2**64 - 1))
        for place, group in enumerate(self.groups):
            own = group.draw(dams[place], sires[place], sexes, parents, partial(words, place))
            types.append(own)
            alive &= own > 0
            marks &= group.marks[own]
        return types, alive, marks
