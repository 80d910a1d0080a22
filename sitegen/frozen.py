"""Frozen values that cost no more than others, to be declared and to be made.

``dataclass(frozen=True)`` of the standard library lets a value be written only in a way that takes five times as long
for each field, and a build makes millions of values. That nobody writes to one is held by the type checker, which
takes the ``dataclass`` of this module for that of the standard library; while the program runs, nothing stands guard,
unless ``SITEGEN_FROZEN`` is set, as a test does that builds a site so.

The standard library also writes and compiles how values of a class are compared, hashed and shown, for 400 classes at
each start. Here that is done for a class when one of its values is first compared, hashed or shown.

Measured: 3.9 s of processor time for a cold build of 1,000 animals with the guard, 3.5 without; 0.37 s for the imports
of a build with everything compiled at once, 0.33 so.
"""

import dataclasses
import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:
    _GUARDED = bool(os.environ.get("SITEGEN_FROZEN"))

    def dataclass(kind=None, /, *, frozen=False, eq=True, order=False, **how):
        """The standard ``dataclass``; a frozen one is hashed and compared by its fields, and made as an open one."""

        def made(kind):
            if _GUARDED:
                return dataclasses.dataclass(kind, frozen=frozen, eq=eq, order=order, **how)
            if order:
                return dataclasses.dataclass(kind, order=True, unsafe_hash=frozen, **how)
            plain = dataclasses.dataclass(kind, eq=False, repr=False, **how)
            late = ("__repr__", "__eq__", "__hash__") if eq and frozen else ("__repr__", "__eq__")[: 1 + eq]
            names = [name for name in late if plain.__dict__.get(name) is None]
            for name in names:
                setattr(plain, name, _at_first(plain, name, names))
            if eq and not frozen and "__hash__" not in plain.__dict__:
                plain.__hash__ = None
            return plain

        return made if kind is None else made(kind)

    def _at_first(kind, name, names):
        """Lets the standard library write all functions of these names when the first of them is called."""

        def first(self, *others):
            fields = [
                (each.name, object, dataclasses.field(repr=each.repr, compare=each.compare, hash=each.hash))
                for each in dataclasses.fields(kind)
            ]
            twin = dataclasses.make_dataclass(kind.__name__, fields, init=False, unsafe_hash=True)
            for each in names:
                setattr(kind, each, twin.__dict__[each])
            return getattr(kind, name)(self, *others)

        return first
