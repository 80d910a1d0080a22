"""Numbers that look like chance and are the same on every machine, from a seed.

They are the digits of SHAKE-128 (FIPS 202) over the seed and a running number, 53 bits each; so a simulation needs no
source of chance, and a build gives the same bytes everywhere.
"""

import hashlib
import struct
from collections.abc import Iterator

_BATCH = 512
_SCALE = 2.0**-53


class Dice:
    """An endless row of numbers from 0 to below 1.

    Args:
        seed: Any whole number from 0 to below 2**64.
    """

    def __init__(self, seed: int) -> None:
        self._seed = struct.pack("<Q", seed)
        self._batch = 0
        self._numbers: Iterator[int] = iter(())

    def next(self) -> float:
        """The next number."""
        number = next(self._numbers, None)
        if number is None:
            digits = hashlib.shake_128(self._seed + struct.pack("<Q", self._batch)).digest(8 * _BATCH)
            self._batch += 1
            self._numbers = iter(struct.unpack(f"<{_BATCH}Q", digits))
            number = next(self._numbers)
        return (number >> 11) * _SCALE


def seed_of(text: str) -> int:
    """A seed that is always the same for a text."""
    (seed,) = struct.unpack("<Q", hashlib.shake_128(text.encode()).digest(8))
    return int(seed)
