"""Values that are worked out when somebody asks for them.

The preview shows one page at a time: what the others tell of (claims, pairings, roads, what changed) is not worked out
for it. A build asks for all of it.
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from typing import TypeVar

K = TypeVar("K")
V = TypeVar("V")


class Lazily(Mapping[K, V]):
    """A mapping whose values are made when they are first asked for, and kept.

    A key for which None is made counts as not there.
    """

    def __init__(self, keys: Collection[K], make: Callable[[K], V | None]) -> None:
        self._keys = keys
        self._make = make
        self._made: dict[K, V | None] = {}

    def __getitem__(self, key: K) -> V:
        if key not in self._made:
            if key not in self._keys:
                raise KeyError(key)
            self._made[key] = self._make(key)
        value = self._made[key]
        if value is None:
            raise KeyError(key)
        return value

    def __iter__(self) -> Iterator[K]:
        return (key for key in self._keys if key in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def __bool__(self) -> bool:
        """True when there are keys; telling whether any has a value would make them all."""
        return len(self._keys) > 0
