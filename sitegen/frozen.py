"""Frozen values that cost no more than others.

``dataclass(frozen=True)`` of the standard library lets a value be written only in a way that takes five times as long
for each field, and a build makes millions of values. That nobody writes to one is held by the type checker, which
takes the ``dataclass`` of this module for that of the standard library; while the program runs, nothing stands guard,
unless ``SITEGEN_FROZEN`` is set, as a test does that builds a site so.

Measured at 1,000 animals: 3.9 s of processor time for a cold build with the guard, 3.5 without.
"""

import dataclasses
import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:
    _GUARDED = bool(os.environ.get("SITEGEN_FROZEN"))

    def dataclass(kind=None, /, *, frozen=False, eq=True, **how):
        """The standard ``dataclass``; a frozen one is hashed and compared by its fields, and made as an open one."""

        def made(kind):
            by_fields = frozen and eq and kind.__dict__.get("__hash__") is None
            return dataclasses.dataclass(
                kind, frozen=frozen and _GUARDED, eq=eq, unsafe_hash=by_fields and not _GUARDED, **how
            )

        return made if kind is None else made(kind)
