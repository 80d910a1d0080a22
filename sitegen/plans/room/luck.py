"""The luck of courses: by season, litter and young, so that choices that are compared meet the same."""

from copy import copy

import numpy as np
from numpy.typing import NDArray

from sitegen.genetics.dice import Dice, Words, pick, thresholds
from sitegen.genetics.transmission import whole_numbers
from sitegen.plans.room.facts import Flags, Ints, Room

_TAKES, _SIZE, _SEXES, _GENES = range(3, 7)


class Luck:
    """Drawn numbers for ``n`` courses; of more, these are still the first."""

    def __init__(self, room: Room, n: int, dice: Dice) -> None:
        self.n, self._dice, self._most = n, dice, room.most
        self._only: Ints | None = None
        self._words: dict[tuple[int, ...], NDArray[np.uint32]] = {}
        self._sizes = np.array(list(room.sizes))
        self._size_table = np.array([thresholds(whole_numbers(list(room.sizes.values())))], np.uint32)
        self._takes_table = np.array([thresholds(whole_numbers([room.takes, 1 - room.takes]))], np.uint32)

    def _of(self, purpose: int, season: int, litter: int, lane: int = 0) -> Words:
        """Words for all courses, one each."""
        key = purpose, season, litter, lane
        if key not in self._words:
            self._words[key] = self._dice.words((purpose, season, litter), self.n, lane)
        words = self._words[key]
        return words if self._only is None else words[self._only]

    def of(self, courses: Ints) -> "Luck":
        """The luck of some courses by themselves."""
        found = copy(self)
        found._only = courses
        return found

    def takes(self, season: int, litter: int, courses: Ints) -> Flags:
        """Whether a pairing takes."""
        found: Flags = pick(self._takes_table, None, self._of(_TAKES, season, litter)[courses]) == 0
        return found

    def sizes(self, season: int, litter: int, courses: Ints) -> Ints:
        """The number of young."""
        found: Ints = self._sizes[pick(self._size_table, None, self._of(_SIZE, season, litter)[courses])]
        return found

    def sexes(self, season: int, litter: int, courses: Ints) -> NDArray[np.int8]:
        """0 or 1 for each young, shape (courses, largest litter)."""
        lanes = [self._of(_SEXES, season, litter, lane)[courses] for lane in range((self._most + 31) // 32)]
        bits = [(lanes[at // 32] >> np.uint32(at % 32)) & np.uint32(1) for at in range(self._most)]
        return np.stack(bits, axis=1).astype(np.int8)

    def genes(self, unit: int, season: int, litter: int, courses: Ints, young: Ints) -> Words:
        """A word for each young of a litter at a unit, by its course and its place in the litter."""
        found = np.empty(len(young), np.uint32)
        for place in range(self._most):
            own = young == place
            found[own] = self._of(_GENES + unit, season, litter, place)[courses[own]]
        return found
