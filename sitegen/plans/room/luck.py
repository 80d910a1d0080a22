"""The luck of courses: by season, litter and young, so that choices that are compared meet the same."""

import numpy as np
from numpy.typing import NDArray

from sitegen.genetics.dice import Dice, Words, pick, thresholds
from sitegen.genetics.transmission import whole_numbers
from sitegen.plans.room.facts import Flags, Ints, Room

_TAKES, _SIZE, _SEXES, _GENES = range(3, 7)


class Luck:
    """Drawn numbers of courses, whatever others are played beside them."""

    def __init__(self, room: Room, dice: Dice) -> None:
        self._dice, self._most = dice, room.most
        self._sizes = np.array(list(room.sizes))
        self._size_table = np.array([thresholds(whole_numbers(list(room.sizes.values())))], np.uint32)
        self._takes_table = np.array([thresholds(whole_numbers([room.takes, 1 - room.takes]))], np.uint32)

    def _of(self, purpose: int, season: int, litter: int, places: Ints) -> Words:
        """The words at some places of a stream."""
        if not places.size:
            return np.zeros(places.shape, np.uint32)
        after = int(places.min()) // 8 * 8
        found: Words = self._dice.words((purpose, season, litter), int(places.max()) + 1 - after, after=after)
        return found[places - after]

    def takes(self, season: int, litter: int, courses: Ints) -> Flags:
        """Whether a pairing takes."""
        found: Flags = pick(self._takes_table, None, self._of(_TAKES, season, litter, courses)) == 0
        return found

    def sizes(self, season: int, litter: int, courses: Ints) -> Ints:
        """The number of young."""
        found: Ints = self._sizes[pick(self._size_table, None, self._of(_SIZE, season, litter, courses))]
        return found

    def sexes(self, season: int, litter: int, courses: Ints) -> NDArray[np.int8]:
        """0 or 1 for each young, shape (courses, largest litter)."""
        n, young = (self._most + 31) // 32, np.arange(self._most)
        words = self._of(_SEXES, season, litter, courses[:, None] * n + np.arange(n))
        bits = (words[:, young // 32] >> (young % 32).astype(np.uint32)) & np.uint32(1)
        return bits.astype(np.int8)

    def genes(self, unit: int, season: int, litter: int, courses: Ints, young: Ints) -> Words:
        """A word for each young of a litter at a unit, by its course and its place in the litter."""
        return self._of(_GENES + unit, season, litter, courses * self._most + young)
