"""Values that are worked out when somebody asks for them."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

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

    def could_be(self) -> Iterator[K]:
        """Every key that may have a value; asking makes none."""
        return iter(self._keys)


class InPieces(Mapping[K, V]):
    """A mapping of which a piece is read when one of its keys is first asked for, and kept."""

    def __init__(self, pieces: Sequence[Sequence[K]], read: Callable[[int], Mapping[K, V]]) -> None:
        self._piece = {key: number for number, keys in enumerate(pieces) for key in keys}
        self._read = read
        self._known: dict[K, V] = {}

    def __getitem__(self, key: K) -> V:
        if key not in self._known:
            self._known.update(self._read(self._piece[key]))
        return self._known[key]

    def __contains__(self, key: object) -> bool:
        return key in self._piece

    def __iter__(self) -> Iterator[K]:
        return iter(self._piece)

    def __len__(self) -> int:
        return len(self._piece)


@dataclass(frozen=True, slots=True)
class Each(Generic[K, V]):
    """Values made one after the other of some things, and not kept."""

    of: Collection[K]
    make: Callable[[K], V]

    def __iter__(self) -> Iterator[V]:
        return map(self.make, self.of)
