"""What a keeper believes in each of many courses, given only what was seen there.

For each list of worlds of the start a weight by course; for each kept young, at each unit, how likely each type is
given the world. A litter multiplies the weights by the likelihood of what came. Two young that are parents together
are taken as independent given the world; all else is exact but for rounding: weights to 2**-20 and chances to 2**-12,
never to 0 what is possible, so that sums in any order are the same on every machine.
"""

import numpy as np
from numpy.typing import NDArray

from sitegen.plans.room.facts import Floats, Ints, Room, Unit
from sitegen.plans.room.worlds import Worlds, weighed

_COARSE = 2.0**12


class Belief:
    """The beliefs of ``n`` courses.

    Attributes:
        weights: For each list of worlds, shape (n, worlds).
        start: For each unit 1 where an animal of the start is of a type in a world; shape (animals, worlds, types).
        young: For each unit the chances of each kept young's types by world; shape (n, young, worlds, types).
    """

    def __init__(self, room: Room, worlds: Worlds, n: int, n_young: int) -> None:
        self.room, self.worlds = room, worlds
        self.n_start, self.n_young = len(room.beasts), n_young
        self.weights = [np.repeat(own[None], n, axis=0) for own in worlds.weights]
        self.start: list[Floats] = []
        self.young: list[NDArray[np.float32]] = []
        for unit, types in zip(room.units, worlds.types, strict=True):
            self.start.append((types[:, :, None] == np.arange(unit.n_types)).astype(float))
            self.young.append(np.zeros((n, n_young, types.shape[1], unit.n_types), np.float32))

    def weight(self, unit: int) -> Floats:
        """The weights of the worlds that a unit has, by course."""
        return self.weights[self.worlds.group_of[unit]]

    def of(self, unit: int, courses: Ints, slots: Ints) -> Floats:
        """The chances of types by world of some animals.

        Args:
            unit: Where.
            courses: Shape (n, 1) or (n,).
            slots: Shape (n, k) or (n,): the animals, those of the start first.
        """
        found = self.start[unit][np.minimum(slots, self.n_start - 1)]
        later = slots >= self.n_start
        if later.any():
            rows = np.broadcast_to(courses, slots.shape)[later]
            found[later] = self.young[unit][rows, slots[later] - self.n_start]
        return found

    def alone(self, unit: int, n_animals: int) -> Floats:
        """The chances of the types of so many first animals, shape (n, animals, types)."""
        weight, start, young = self.weight(unit), self.start[unit], self.young[unit]
        young = young[:, : n_animals - self.n_start]
        n_start, n_worlds, n_types = start.shape
        flat = start.transpose(1, 0, 2).reshape(n_worlds, n_start * n_types)
        own = (weight @ flat).reshape(len(weight), n_start, n_types)
        if not young.shape[1]:
            return own
        n, n_young = young.shape[:2]
        moved = young.transpose(0, 2, 1, 3).reshape(n, n_worlds, n_young * n_types).astype(float)
        kept = np.matmul(weight[:, None, :], moved).reshape(n, n_young, n_types)
        return np.concatenate([own, kept], axis=1)

    def pairs(self, unit: int, dams: Ints, sires: Ints) -> Floats:
        """The joint chances of pairs' types; shape (n, pairs, dam's types, sire's types)."""
        courses = np.arange(len(dams))[:, None]
        left = self.of(unit, courses, dams) * self.weight(unit)[:, None, :, None]
        right = self.of(unit, courses, sires)
        found: Floats = np.matmul(left.transpose(0, 1, 3, 2), right)
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
        m = sires.shape[2]
        courses = np.arange(n)[:, None]
        left = self.of(unit, courses, dams.reshape(n, -1)) * self.weight(unit)[:, None, :, None]
        right = self.of(unit, courses, sires.reshape(n, -1))
        n_worlds, n_types = left.shape[2:]
        rows = left.reshape(n, n_blocks, k, n_worlds, n_types).transpose(0, 1, 2, 4, 3)
        columns = right.reshape(n, n_blocks, m, n_worlds, n_types).transpose(0, 1, 3, 2, 4)
        both = np.matmul(
            rows.reshape(n, n_blocks, k * n_types, n_worlds), columns.reshape(n, n_blocks, n_worlds, m * n_types)
        )
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
        group = self.worlds.group_of[at]
        left, right = self.of(at, courses, dams), self.of(at, courses, sires)
        n_types = likelihood.shape[1]
        # By hand in a fixed order: a product of matrices would be rounded differently from machine to machine.
        of_dam = added([right[:, :, None, s] * likelihood[:, None, :, s] for s in range(n_types)])
        chance = np.zeros(left.shape[:2])
        for kind in range(n_types):
            chance = chance + left[:, :, kind] * of_dam[:, :, kind]
        weight = self.weights[group][courses] * chance
        self.weights[group][courses] = normal(weight)
        for slots, own, given in ((dams, left, of_dam), (sires, right, None)):
            later = np.flatnonzero(slots >= self.n_start)
            if not len(later):
                continue
            if given is None:
                parts = [left[:, :, d, None] * likelihood[:, None, d, :] for d in range(n_types)]
                given = added(parts)
            told = coarse(own[later] * given[later])
            self.young[at][courses[later], slots[later] - self.n_start] = told

    def keep(self, at: int, unit: Unit, courses: Ints, slots: Ints, dams: Ints, sires: Ints, codes: Ints) -> None:
        """Takes in a young that is kept: what it may be in each world, given its parents and how it looks."""
        left, right = self.of(at, courses, dams), self.of(at, courses, sires)
        n_types = unit.n_types
        both = (left[:, :, :, None] * right[:, :, None, :]).reshape(*left.shape[:2], -1)
        given = unit.code_young[codes].reshape(len(codes), -1, n_types)
        self.young[at][courses, slots - self.n_start] = coarse(np.matmul(both, given))


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


def coarse(chances: Floats) -> Floats:
    """Chances over the last axis that sum to 1, as multiples of 2**-12; none that is possible becomes 0."""
    total = np.zeros(chances.shape[:-1])
    for kind in range(chances.shape[-1]):
        total = total + chances[..., kind]
    found = chances / np.where(total > 0, total, 1)[..., None]
    kept: Floats = np.where(found > 0, np.maximum(np.rint(found * _COARSE), 1), 0) / _COARSE
    return kept
