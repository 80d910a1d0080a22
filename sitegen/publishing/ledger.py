"""Which file was made from what: kept from one build to the next, so that only what changed is made again.

While a file is made, everything that is asked of the mappings that it is made from is noted (:mod:`sitegen.noted`). A
later build compares the content of just that, by hashes; whatever is the same in all files (the site, the species, the
theme, the program, the day) is compared once. A file whose maker holds anything that cannot be compared is always made.
"""

import contextlib
import hashlib
import json
import os
import pickle
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from types import FunctionType
from typing import cast

from sitegen.lazily import Lazily
from sitegen.noted import ALL, ANY, ONE, Asked

_ABSENT = "-"


def content_hash(value: object) -> str:
    """A hash of a value's content.

    Equal values that were put together in different ways may differ in it; different values never agree.

    Raises:
        Exception: It cannot be pickled.
    """
    return hashlib.blake2b(pickle.dumps(value, 5), digest_size=12).hexdigest()


@dataclass(frozen=True, slots=True)
class Entry:
    """A file of a build: its hash, its note, what its maker held, what was asked, and the hash of all that."""

    digest: str
    note: object
    held: str
    asked: tuple[Asked, ...]
    mark: str


@dataclass(slots=True)
class Ledger:
    """The content that files are made from.

    Attributes:
        base: Hash of what every file is made from.
        mappings: Name to content.
        own: Types of which every maker may hold one: it is this very content.
    """

    base: str
    mappings: Mapping[str, Mapping[object, object]]
    own: tuple[type, ...] = ()
    _marks: dict[Asked, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Hash everything that is at hand already, once for all processes."""
        for name, content in self.mappings.items():
            if not isinstance(content, Lazily):
                self.mark((name, ALL, None))

    def mark(self, asked: Asked) -> str:
        """A hash of the answer to what was asked."""
        if asked not in self._marks:
            name, what, key = asked
            content = self.mappings[name]
            if what == ONE:
                self._marks[asked] = content_hash(content[key]) if key in content else _ABSENT
            elif what == ANY:
                self._marks[asked] = str(bool(content))
            else:
                each = [(str(key), self.mark((name, ONE, key))) for key in content]
                self._marks[asked] = hashlib.blake2b(repr(each).encode(), digest_size=12).hexdigest()
        return self._marks[asked]

    def mark_of(self, asked: Iterable[Asked]) -> str:
        """One hash of the answers to all of these, in their order."""
        told = "".join(self.mark(each) for each in asked)
        return hashlib.blake2b(f"{self.base}{told}".encode(), digest_size=16).hexdigest()

    def held(self, make: Callable[..., object]) -> str:
        """A hash of all that a maker holds besides the content itself; empty when something cannot be compared."""
        try:
            return content_hash(self._held(make))
        except Exception:
            return ""

    def _held(self, make: object) -> object:
        if isinstance(make, partial):
            return [self._held(make.func), *map(self._held, make.args), sorted(make.keywords.items())]
        if isinstance(make, FunctionType):
            cells = [cell.cell_contents for cell in make.__closure__ or ()]
            defaults = (*(make.__defaults__ or ()), *(make.__kwdefaults__ or {}).values())
            return [make.__module__, make.__qualname__, *map(self._held, (*cells, *defaults))]
        return None if isinstance(make, self.own) else make

    def same(self, entry: Entry | None, make: Callable[..., object]) -> bool:
        """True when a file is what it was: its maker holds the same, and what it asked has the same answers."""
        if entry is None or not entry.held or any(name not in self.mappings for name, _, _ in entry.asked):
            return False
        return entry.held == self.held(make) and entry.mark == self.mark_of(entry.asked)


def read(place: Path, note_of: Callable[[object], object]) -> dict[str, Entry]:
    """The files of the build before; none when what stands there cannot be understood.

    Args:
        place: Where :func:`write` put them.
        note_of: Makes a note from its plain form.
    """
    try:
        told = json.loads(place.read_bytes())
        keys = [(name, what, tuple(key) if isinstance(key, list) else key) for name, what, key in told["keys"]]
        return {
            str(address): Entry(digest, note_of(note), held, tuple(keys[number] for number in asked), mark)
            for address, (digest, note, held, asked, mark) in told["files"].items()
        }
    except (OSError, ValueError, TypeError, KeyError, IndexError, AttributeError):
        return {}


def write(place: Path, entries: Mapping[str, Entry], plain: Callable[[object], object]) -> None:
    """Keep the files of a build; a folder that cannot be written is passed over.

    Args:
        place: Where.
        entries: Name to entry.
        plain: Gives the plain form of a note.
    """
    keys: dict[Asked, int] = {}
    files = {
        name: (
            entry.digest, plain(entry.note), entry.held,
            [keys.setdefault(asked, len(keys)) for asked in entry.asked], entry.mark,
        )
        for name, entry in entries.items()
    }  # fmt: skip
    aside = place.with_suffix(".aside")
    with contextlib.suppress(OSError, TypeError):
        aside.write_text(json.dumps({"keys": list(cast(Iterable[object], keys)), "files": files}), "utf-8")
        os.replace(aside, place)
