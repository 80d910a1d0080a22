"""What something was made from, noted while it is made: mappings that remember which of their keys were asked for."""

from collections.abc import Callable, ItemsView, Iterator, KeysView, Mapping, ValuesView
from typing import TypeVar

K = TypeVar("K")
V = TypeVar("V")
D = TypeVar("D")
T = TypeVar("T")

ONE, ALL, ANY = "one", "all", "any"
"""What may be asked of a mapping: the value at a key (or that there is none), everything, whether there is anything."""

Asked = tuple[str, str, object]
"""Name of a mapping, what was asked, and the key (None unless it was :data:`ONE`)."""

_open: list[set[Asked]] = []


def taking_notes() -> "_Notes":
    """Within it everything that is asked of noted mappings is gathered, also what is gathered further within."""
    return _Notes()


class _Notes:
    """What is gathered; a class, since this is opened many times for each page, and costs less so."""

    __slots__ = ("_found",)

    def __enter__(self) -> set[Asked]:
        self._found: set[Asked] = set()
        _open.append(self._found)
        return self._found

    def __exit__(self, *_of_exception: object) -> None:
        _open.pop()
        also(self._found)


def noting(make: Callable[[], T]) -> tuple[T, set[Asked]]:
    """What is made, and what was asked for it; that is not gathered further out, see :func:`also`."""
    asked: set[Asked] = set()
    _open.append(asked)
    try:
        return make(), asked
    finally:
        _open.pop()


def also(asked: set[Asked]) -> None:
    """Note what was asked for when something was made that is used again now."""
    if _open:
        _open[-1] |= asked


class Noted(Mapping[K, V]):
    """A mapping under a name; what is asked of it is noted."""

    __slots__ = ("_name", "_of")

    def __init__(self, name: str, of: Mapping[K, V]) -> None:
        self._name = name
        self._of = of

    def _note(self, what: str, key: object = None) -> None:
        if _open:
            _open[-1].add((self._name, what, key))

    def __getitem__(self, key: K) -> V:
        if _open:  # as of _note; this is asked most
            _open[-1].add((self._name, ONE, key))
        return self._of[key]

    def get(self, key: K, default: D | V | None = None) -> D | V | None:  # type: ignore[override]  # fewer overloads
        """As of any mapping."""
        if _open:
            _open[-1].add((self._name, ONE, key))
        return self._of.get(key, default)

    def __contains__(self, key: object) -> bool:
        self._note(ONE, key)
        return key in self._of

    def __bool__(self) -> bool:
        self._note(ANY)
        return bool(self._of)

    def __iter__(self) -> Iterator[K]:
        self._note(ALL)
        return iter(self._of)

    def __len__(self) -> int:
        self._note(ALL)
        return len(self._of)

    def __eq__(self, other: object) -> bool:
        self._note(ALL)
        return self._of == (other._of if isinstance(other, Noted) else other)

    __hash__ = None  # type: ignore[assignment]  # as of any mapping that can be compared

    def keys(self) -> KeysView[K]:
        """As of any mapping."""
        self._note(ALL)
        return self._of.keys()

    def values(self) -> ValuesView[V]:
        """As of any mapping."""
        self._note(ALL)
        return self._of.values()

    def items(self) -> ItemsView[K, V]:
        """As of any mapping."""
        self._note(ALL)
        return self._of.items()
