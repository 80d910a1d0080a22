"""What a keeper believes in each of many courses, given only what was seen there.

For each list of worlds of the start a weight by course; for each animal, at each unit, how likely each type is given
the world: those of the list are of one type in each. A litter multiplies the weights by the likelihood of what came,
and the chances of parents that are not in the list. Two animals that are not, young that were kept among them, are
taken as independent given the world; all else is exact but for rounding: weights to 2**-20 and chances to 2**-12, never
to 0 what is possible, so that sums in any order are the same on every machine.
"""

import numpy as np
from numpy.typing import NDArray

from sitegen.plans.room.facts import Floats, Ints, Room, Unit
from sitegen.plans.room.worlds import Worlds, coarse, weighed


class Belief:
    """The beliefs of ``n`` courses.

    Attributes:
        weights: For each list of worlds, shape (n, worlds).
        given: For each unit the chances of each animal's types by world, those of the start first; shape (n, animals,
            types, worlds).
        open: For each unit which animals are not of one type in each world.
    """

    def __init__(self, room: Room, worlds: Worlds, n: int, n_young: int) -> None:
        self.room, self.worlds = room, worlds
        self.n_start, self.n_young = len(room.beasts), n_young
        self.weights = [np.repeat(own[None], n, axis=0) for own in worlds.weights]
        self.given: list[NDArray[np.float32]] = []
        self._listed: list[tuple[Ints, Floats]] = []
        self.open: list[NDArray[np.bool_]] = []
        for chances in worlds.chances:
            own = np.zeros((n, self.n_start + n_young, *chances.shape[1:]), np.float32)
            own[:, : self.n_start] = chances
            self.given.append(own)
            open_ = ~(chances.max(axis=1) == 1).all(axis=1)
            listed = np.flatnonzero(~open_ & (np.ptp(chances, axis=2) > 0).any(axis=1))
            self._listed.append((listed, chances[listed].reshape(-1, chances.shape[2]).T.copy()))
            self.open.append(np.append(open_, np.ones(n_young, np.bool_)))

    def weight(self, unit: int) -> Floats:
        """The weights of the worlds that a unit has, by course."""
        return self.weights[self.worlds.group_of[unit]]

    def of(self, unit: int, courses: Ints, slots: Ints) -> Floats:
        """The chances of types by world of some animals, shape (n, ..., types, worlds).

        Args:
            unit: Where.
            courses: Shape (n,).
            slots: Shape (n, ...): the animals, those of the start first.
        """
        own = self.given[unit]
        rows = (courses * own.shape[1]).reshape(-1, *(1,) * (slots.ndim - 1)) + slots
        found: Floats = own.reshape(-1, *own.shape[2:]).take(rows, axis=0).astype(float)
        return found

    def alone(self, unit: int, n_animals: int) -> Floats:
        """The chances of the types of so many first animals, shape (n, animals, types)."""
        given, weight = self.given[unit], self.weight(unit)
        n, _, n_types, n_worlds = given.shape
        found = np.empty((n, n_animals, n_types))
        found[:, : self.n_start] = self.worlds.chances[unit][:, :, 0]
        listed, table = self._listed[unit]  # a product of few columns: larger ones are shared out to waiting threads
        found[:, listed] = (weight @ table).reshape(n, len(listed), n_types)
        moved = np.flatnonzero(self.open[unit][:n_animals])
        if len(moved):
            flat = given[:, moved].reshape(n, -1, n_worlds).astype(float)
            found[:, moved] = np.matmul(flat, weight[:, :, None]).reshape(n, len(moved), n_types)
        return found

    def pairs(self, unit: int, courses: Ints, dams: Ints, sires: Ints) -> Floats:
        """The joint chances of pairs' types; shape (n, ..., dam's types, sire's types)."""
        weight = self.weight(unit)[courses]
        left = self.of(unit, courses, dams) * weight.reshape(len(weight), *(1,) * dams.ndim, -1)
        found: Floats = np.matmul(left, self.of(unit, courses, sires).swapaxes(-1, -2))
        return found

    def blocks(self, unit: int, dams: Ints, sires: Ints) -> Floats:
        """The joint chances of all pairs of some dams with some sires, in blocks.

        Args:
            unit: Where.
            dams: Shape (n, blocks, k).
            sires: Shape (n, blocks, m).

        Returns:
            Shape (n, blocks * k * k, dam's types, sire's types); the sires of a block fastest.
        """
        n, n_blocks, k = dams.shape
        m, courses = sires.shape[2], np.arange(n)
        left = self.of(unit, courses, dams) * self.weight(unit)[:, None, None, None, :]
        right = self.of(unit, courses, sires)
        n_types, n_worlds = left.shape[3:]
        rows = left.reshape(n, n_blocks, k * n_types, n_worlds)
        columns = right.reshape(n, n_blocks, m * n_types, n_worlds)
        both = np.matmul(rows, columns.swapaxes(-1, -2))
        apart = both.reshape(n, n_blocks, k, n_types, m, n_types).transpose(0, 1, 2, 4, 3, 5)
        found: Floats = apart.reshape(n, n_blocks * k * m, n_types, n_types)
        return found

    def saw(self, at: int, courses: Ints, dams: Ints, sires: Ints, likelihood: Floats) -> None:
        """Takes in what a litter tells at a unit.

        Args:
            at: The unit.
            courses: In which courses, shape (m,).
            dams: Whose litter, shape (m,).
            sires: Likewise.
            likelihood: For each course and each pair of types how likely what came is, shape (m, types, types); its
                scale does not matter.
        """
        group, in_doubt = self.worlds.group_of[at], self.open[at].copy()
        in_doubt[self._listed[at][0]] = True
        tells = np.flatnonzero(in_doubt[dams] | in_doubt[sires])
        courses, dams, sires, likelihood = courses[tells], dams[tells], sires[tells], likelihood[tells]
        left, right = self.of(at, courses, dams), self.of(at, courses, sires)
        n_types = likelihood.shape[1]
        # By hand in a fixed order: a product of matrices would be rounded differently from machine to machine.
        of_dam = added([right[:, None, s, :] * likelihood[:, :, s, None] for s in range(n_types)])
        chance = added([left[:, kind] * of_dam[:, kind] for kind in range(n_types)])
        self.weights[group][courses] = normal(self.weights[group][courses] * chance)
        for slots, own, given in ((dams, left, of_dam), (sires, right, None)):
            later = np.flatnonzero(self.open[at][slots])
            if not len(later):
                continue
            if given is None:
                of_sire = [left[later, d, None, :] * likelihood[later, d, :, None] for d in range(n_types)]
                told = own[later] * added(of_sire)
            else:
                told = own[later] * given[later]
            self.given[at][courses[later], slots[later]] = coarse(told)

    def keep(self, at: int, unit: Unit, courses: Ints, slots: Ints, dams: Ints, sires: Ints, codes: Ints) -> None:
        """Takes in a young that is kept: what it may be in each world, given its parents and how it looks."""
        left, right = self.of(at, courses, dams), self.of(at, courses, sires)
        n_types = unit.n_types
        both = (left[:, :, None] * right[:, None]).reshape(len(codes), n_types * n_types, -1)
        self.given[at][courses, slots] = coarse(np.matmul(unit.code_young_of[codes], both))


def added(parts: list[Floats]) -> Floats:
    """The sum of the parts in their order."""
    found = parts[0]
    for part in parts[1:]:
        found = found + part
    return found


def normal(weight: Floats) -> Floats:
    """Weights that sum to 1 but for rounding; where all are 0 (which rounding alone can bring) all alike."""
    total = np.zeros(len(weight))
    for column in range(weight.shape[1]):
        total = total + weight[:, column]
    empty = total <= 0
    return weighed(np.where(empty[:, None], 1 / weight.shape[1], weight / np.where(empty, 1, total)[:, None]))
