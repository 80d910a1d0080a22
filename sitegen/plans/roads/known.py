"""Of which kept young everything that was seen leaves no doubt that it is the goal.

Seen are the records, and of every young its sex and look. What counts is what remains possible, so of each litter only
*which* looks came, not how often; and an animal is certain of several loci at once if it is certain of each. So the
courses of 20,000 plans come down to few different histories at each group of loci, and of each of these all that it
leaves possible is gone through. Where a sire in doubt ties loci, each is looked at by itself: less is called known.

Plans that look alike must not stand for what is possible: such groups shrink until they seem to know the truth.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.transmission import Transmission
from sitegen.plans.roads.nursery import Group, Ints, Nursery

Flags = NDArray[np.bool_]
States = tuple[StateNumber, ...]

_MOST = 20_000
"""Ways in which the animals may be that are gone through for one history; beyond it nothing is called known."""

_LOOKS = 64


class _Histories:
    """What is possible at one group of loci.

    Args:
        group: The group.
        transmission: What its pairs pass on.
        possible: What the animals that are there may be together, by slot.
        hopes: Slots of those among them that may be the goal.
    """

    def __init__(
        self, group: Group, transmission: Transmission, possible: Sequence[States], hopes: Sequence[int]
    ) -> None:
        self.group = group
        self._hopes = hopes
        self._transmission = transmission
        self._possible = possible
        self._good = {
            (state, int(look)): good
            for (state, _), looks, good in zip(group.types, group.look[1:], group.is_goal, strict=True)
            for look in looks
        }
        self._of_pair: dict[tuple[StateNumber, StateNumber], Mapping[int, tuple[StateNumber, ...]]] = {}
        self._told: dict[tuple[object, ...], frozenset[int]] = {}

    def certain(
        self, litters: tuple[tuple[int, int, int], ...], kept: tuple[tuple[int, int, int, int], ...]
    ) -> frozenset[int]:
        """The slots of the young that are certainly as the goal is.

        Args:
            litters: (slot of the dam, of the sire, bits of the looks that came).
            kept: (slot, slot of the dam, of the sire, look) of the young that were kept, in the order of their slots.
        """
        key = (litters, kept)
        if key not in self._told:
            self._told[key] = self._certain(litters, kept)
        return self._told[key]

    def _certain(
        self, litters: tuple[tuple[int, int, int], ...], kept: tuple[tuple[int, int, int, int], ...]
    ) -> frozenset[int]:
        parents = {slot for dam, sire, _ in litters for slot in (dam, sire)}
        bred = [each for each in kept if each[0] in parents]
        found = {*self._hopes, *(slot for slot, *_ in kept)}
        ways = 0
        for own in self._possible:
            for world in self._grown(dict(enumerate(own)), bred):
                ways += 1
                if ways > _MOST:
                    return frozenset()
                if all(self._gives(world[dam], world[sire], looks) for dam, sire, looks in litters):
                    found -= set(self._doubtful(world, kept))
                    found -= {slot for slot in self._hopes if world[slot] not in self.group.goal_states}
            if not found:
                break
        return frozenset(found)

    def _grown(
        self, world: dict[int, StateNumber], bred: Sequence[tuple[int, int, int, int]]
    ) -> Iterator[dict[int, StateNumber]]:
        """The world with each way in which the young that were bred may be."""
        if not bred:
            yield world
            return
        slot, dam, sire, look = bred[0]
        for state in self._young(world[dam], world[sire]).get(look, ()):
            yield from self._grown({**world, slot: state}, bred[1:])

    def _gives(self, dam: StateNumber, sire: StateNumber, looks: int) -> bool:
        """True when a pair can give young of all these looks."""
        young = self._young(dam, sire)
        return all(look in young for look in range(_LOOKS) if looks >> look & 1)

    def _doubtful(self, world: Mapping[int, StateNumber], kept: Iterable[tuple[int, int, int, int]]) -> Iterator[int]:
        """The young that may be otherwise in a world."""
        for slot, dam, sire, look in kept:
            if slot in world:
                states: tuple[StateNumber, ...] = (world[slot],)
            else:
                states = self._young(world[dam], world[sire]).get(look, ())
            if not all(self._good[state, look] for state in states):
                yield slot

    def _young(self, dam: StateNumber, sire: StateNumber) -> Mapping[int, tuple[StateNumber, ...]]:
        """Each look of living young of a pair to their states."""
        if (dam, sire) not in self._of_pair:
            states = {state for state, chance in self._transmission.conceived(dam, sire).items() if chance}
            found: dict[int, tuple[StateNumber, ...]] = {}
            for (state, _), looks in zip(self.group.types, self.group.look[1:], strict=True):
                for look in looks if state in states else ():
                    found[int(look)] = (*found.get(int(look), ()), state)
            self._of_pair[dam, sire] = found
        return self._of_pair[dam, sire]


class Proof:
    """What was seen in every plan, and what it leaves certain.

    Args:
        nursery: All groups of loci.
        transmissions: What pairs pass on at each.
        possible: What the animals that are there may be together at each, by slot; empty where that cannot be told.
        n_slots, n_plans: The size of the arrays.
        hopes: Slots of kept animals that are there and may be the goal.
    """

    def __init__(
        self,
        nursery: Nursery,
        transmissions: Sequence[Transmission],
        possible: Sequence[Sequence[States]],
        n_slots: int,
        n_plans: int,
        hopes: Sequence[int] = (),
    ) -> None:
        self._nursery, groups = nursery, nursery.groups
        hiding = [place for place, group in enumerate(groups) if group.hides_goal]
        self.never = any(groups[place].too_many_looks or not possible[place] for place in hiding)
        self._places = () if self.never else tuple(hiding)
        self._histories = [_Histories(groups[at], transmissions[at], possible[at], hopes) for at in self._places]
        self._pairs: dict[tuple[int, int], int] = {}
        self._seen: list[list[NDArray[np.int64]]] = [[] for _ in self._places]
        self._origin = np.zeros((n_slots, n_plans), np.int16)
        self._looks = [np.zeros((n_slots, n_plans), np.int16) for _ in self._places]
        self._changed = np.full(n_plans, bool(hopes))
        self._certain = np.zeros((n_slots, n_plans), np.bool_)

    def _pair(self, dam: int, sire: int) -> int:
        """The number of a pair."""
        if (dam, sire) not in self._pairs:
            self._pairs[dam, sire] = len(self._pairs)
            for own in self._seen:
                own.append(np.zeros(len(self._changed), np.int64))
        return self._pairs[dam, sire]

    def saw(self, dam: int, sires: Ints, plans: Ints, types: Sequence[Ints], of_plan: Ints) -> None:
        """Young of a dam and of a sire in each of some plans.

        ``types`` of the living young at each group of loci, ``of_plan`` the place of each one's plan in ``plans``.
        """
        for at, place in enumerate(self._places):
            looks, came = self._nursery.looks(place, types), np.zeros(len(plans), np.int64)
            for look in np.flatnonzero(np.bincount(looks)):
                there = np.zeros(len(plans), np.bool_)
                there[of_plan[looks == look]] = True
                came |= there.astype(np.int64) << np.int64(look)
            for sire in np.flatnonzero(np.bincount(sires)):
                own = plans[sires == sire]
                number = self._pair(dam, int(sire))
                self._seen[at][number][own] |= came[sires == sire]
        self._changed[plans] = True

    def kept(self, slots: Ints, plans: Ints, dam: int, sires: Ints, types: Sequence[Ints]) -> None:
        """That young were kept: in which slots of which plans, of whom, and their types at each group."""
        if not self._places:
            return
        for sire in np.flatnonzero(np.bincount(sires)):
            own = sires == sire
            self._origin[slots[own], plans[own]] = self._pair(dam, int(sire)) + 1
        for looks, place in zip(self._looks, self._places, strict=True):
            looks[slots, plans] = self._nursery.looks(place, types)

    def known(self, true: Flags) -> Flags:
        """The plans in which one of the young is known to be the goal.

        Args:
            true: By slot and plan, the kept young that are it. What is certain is so in every world, so in this one
                too: no others need be asked about.
        """
        if self.never:
            return np.zeros(true.shape[1], np.bool_)
        if not self._places:
            return _some(true)
        asked = np.flatnonzero(self._changed & true.any(axis=0))
        self._changed[asked] = False
        if len(asked):
            certain = np.ones((len(true), len(asked)), np.bool_)
            for at, histories in enumerate(self._histories):
                certain &= self._certain_at(at, histories, asked)
            self._certain[:, asked] = certain
        return _some(self._certain & true)

    def _certain_at(self, at: int, histories: _Histories, plans: Ints) -> Flags:
        """By slot and plan, the young that are certain at one group of loci; each history is looked at once."""
        slots = np.flatnonzero(self._origin[:, plans].any(axis=1))
        rows = [own[plans] for own in self._seen[at]]
        rows += [self._origin[slot, plans].astype(np.int64) * _LOOKS + self._looks[at][slot, plans] for slot in slots]
        key = np.zeros(len(plans), np.int64)
        for row in rows:
            _, own = np.unique(row, return_inverse=True)
            _, key = np.unique(key * (int(own.max()) + 1) + own, return_inverse=True)
        first = np.unique(key, return_index=True)[1]
        found = np.zeros((len(self._origin), len(first)), np.bool_)
        pairs = list(self._pairs)
        for number, column in enumerate(first):
            values = [int(row[column]) for row in rows]
            litters = tuple((*pair, looks) for pair, looks in zip(pairs, values, strict=False) if looks)
            kept = tuple(
                (int(slot), *pairs[value // _LOOKS - 1], value % _LOOKS)
                for slot, value in zip(slots, values[len(pairs) :], strict=True)
                if value // _LOOKS
            )
            found[list(histories.certain(litters, kept)), number] = True
        return found[:, key]


def _some(flags: Flags) -> Flags:
    """By plan, whether any slot is so."""
    found: Flags = np.any(flags, axis=0)
    return found
