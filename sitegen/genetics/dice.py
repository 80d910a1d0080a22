"""Random numbers that are the same on every system and with every version of numpy, and choices made with them.

The bits are Philox4x64-10 (Salmon, Moraes, Dror, Shaw 2011), whose stream numpy promises never to change: NEP 19, and
the "Compatibility Guarantee" of ``numpy.random.Philox``. No such promise covers numpy's distributions, so what is drawn
from the bits is our own, in whole numbers.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray

CERTAIN = 2**32 - 1
"""The threshold that no word reaches: words are below it."""

Words = NDArray[np.uint32]
Values = NDArray[np.uint8] | NDArray[np.uint16]


@dataclass(frozen=True, slots=True)
class Dice:
    """Streams of random words; each is fixed by ``seed`` (0 to 2**64 - 1) and its own name."""

    seed: int

    def words(self, stream: tuple[int, ...], n: int, lane: int = 0, after: int = 0) -> Words:
        """The first ``n`` words of a stream, uniform from 0 to ``CERTAIN - 1``; of more, these are still the first.

        Args:
            stream: Its name: at most four numbers from 0 to 65,534, such as purpose, season, slot and litter. Different
                names, also of different length, are independent streams.
            n: How many.
            lane: From 0 to 2**32 - 1; each lane of a stream is independent of the others.
            after: So many words are passed over first; a multiple of 8.

        Raises:
            ValueError: The name or the seed is out of range.
        """
        if len(stream) > 4 or not all(0 <= number < 2**16 - 1 for number in stream):
            raise ValueError(f"{stream} names no stream")
        if not 0 <= self.seed < 2**64:
            raise ValueError(f"{self.seed} is no seed")
        if after < 0 or after % 8:  # four numbers of 64 bits for each step of the counter
            raise ValueError(f"{after} is no multiple of 8")
        # One is added to each, so that (1,) is not (1, 0).
        key = self.seed, sum((number + 1) << (16 * place) for place, number in enumerate(stream))
        philox = np.random.Philox(key=np.array(key, np.uint64), counter=np.array((after // 8, lane, 0, 0), np.uint64))
        raw = philox.random_raw((n + 1) // 2)
        words = np.empty(2 * len(raw), dtype=np.uint32)
        # Shifts are the same on every machine; a view of the bytes would not be.
        words[0::2] = raw & np.uint64(2**32 - 1)
        words[1::2] = raw >> np.uint64(32)
        # The highest word becomes the one below it, at a cost of 2**-32: only so can a threshold stand for certainty.
        return np.minimum(words[:n], np.uint32(CERTAIN - 1))


def thresholds(weights: Sequence[int]) -> tuple[int, ...]:
    """For each value the threshold above which a word means a later one, in 32 bits, rounded down from the exact one.

    Value k is drawn by words from threshold k-1 (0 for the first) up to but not including threshold k. A weight of 0 is
    never drawn and a sure one always; a chance is off by at most 2**-31. Of the weights, whole numbers of any length,
    none is below 0 and one above. From the last possible value on all are :data:`CERTAIN`.
    """
    sums = list(accumulate(weights))
    return tuple(part * CERTAIN // sums[-1] for part in sums)


def pick(table: NDArray[np.uint32], rows: NDArray[np.integer] | None, words: Words) -> Values:
    """Which value each of n words means by the table's row for it, the first one for all where ``rows`` is None.

    The table has the shape (rows, values), each row as from :func:`thresholds`; short ones are filled up with
    :data:`CERTAIN`.
    """
    n_values = table.shape[1]
    found: Values = np.zeros(len(words), np.uint8) if n_values <= 2**8 else np.zeros(len(words), np.uint16)
    if rows is None:
        found[:] = np.searchsorted(table[0, :-1], words, side="right")
        return found
    # Nothing reaches the last column. One of the others after the other: values are few.
    for value in range(n_values - 1):
        found += words >= table[:, value][rows]
    return found
