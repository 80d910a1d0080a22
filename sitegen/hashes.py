"""A hash of what a value holds, whatever it is made of."""

import hashlib
import pickle
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import partial
from io import BytesIO
from operator import attrgetter
from typing import Any

_Reduced = tuple[type, tuple[object, ...]]


class _Reducers(dict[type, Callable[[Any], _Reduced]]):
    """Type to what takes a value of it apart. The usual way of pickling does so too, in three times as many steps."""

    def __missing__(self, kind: type) -> Callable[[Any], _Reduced]:
        """Made when a type is met for the first time.

        Raises:
            KeyError: It is to be pickled in the usual way.
        """
        if issubclass(kind, Enum):
            self[kind] = lambda value: (kind, (value.name,))
        elif kind is Fraction:
            self[kind] = lambda value: (kind, (value.numerator, value.denominator))
        elif is_dataclass(kind) and (names := [each.name for each in fields(kind)]):
            take = attrgetter(*names)
            self[kind] = (lambda value: (kind, take(value))) if names[1:] else (lambda value: (kind, (take(value),)))
        else:
            raise KeyError(kind)
        return self[kind]


_WHOLE = _Reducers()
Parts = Callable[[Any], tuple[object, ...]]
"""Gives what counts of a value, in fixed order."""


def content_hash(value: object, parts: Mapping[type, Parts] | None = None) -> bytes:
    """A hash of a value's content, of 12 bytes.

    Equal values that were put together in different ways may differ in it; different values never agree.

    Args:
        value: Anything.
        parts: Types of which only a part is to count.

    Raises:
        Exception: It cannot be pickled.
    """
    return hashed_with(parts)(value) if parts else _hash(_WHOLE, value)


def hashed_with(parts: Mapping[type, Parts]) -> Callable[[object], bytes]:
    """:func:`content_hash` with these parts, for many values."""
    return partial(_hash, _Reducers({kind: partial(_some, kind, part) for kind, part in parts.items()}))


def _hash(reducers: _Reducers, value: object) -> bytes:
    told = BytesIO()
    pickler = pickle.Pickler(told, 5)
    pickler.dispatch_table = reducers
    pickler.dump(value)
    return hashlib.blake2b(told.getbuffer(), digest_size=12).digest()


def _some(kind: type, part: Parts, value: object) -> _Reduced:
    return kind, part(value)
