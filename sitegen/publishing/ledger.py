"""Which file was made from what: kept from one build to the next, so that only what changed is made again.

While a file is made, everything that is asked of the mappings that it is made from is noted (:mod:`sitegen.noted`). A
later build compares the content of just that, by hashes; whatever is the same in all files (the site, the species, the
theme, the program, the day) is compared once. A file whose maker holds anything that cannot be compared is always made.

A large site asks millions of questions, so they are numbered: the number of a mapping times the number of all keys of
all mappings, plus the number of the key. An answer that nobody has (an animal without changes) has a number too; a key
that no mapping has is rare (an address that a text links to) and kept as it is.
"""

from __future__ import annotations  # array[int] is for the type checker alone

import contextlib
import hashlib
import json
import os
import sys
from array import array
from base64 import b64decode, b64encode
from bisect import bisect_left
from collections.abc import Callable, Iterable, Mapping
from dataclasses import field
from functools import partial
from pathlib import Path
from types import FunctionType

from sitegen.findings import Place
from sitegen.frozen import dataclass
from sitegen.hashes import hashed_with
from sitegen.lazily import Lazily
from sitegen.noted import ALL, ANY, ONE, Asked
from sitegen.store import sealed, unsealed

_hash = hashed_with({Place: lambda place: (place.file,)})
"""Of what files are made from. They tell in which file a record stands, and never on which line of it."""
_ABSENT = b"-" * 12
_OF_ALL = (ALL, ANY)
"""What is asked of a whole mapping; these stand before the first key."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A file of a build.

    Attributes:
        digest: Its hash.
        note: Its note.
        held: A hash of what its maker held; empty when it must be made each time.
        asked: The numbers of the questions that it asked, in order.
        beside: Name of a mapping and key, for what it asked of a key that no mapping has.
        mark: A hash of all answers.
        late: Of the answers that were worked out for it, number and hash of each; not kept.
    """

    digest: str
    note: object
    held: str
    asked: array[int]
    beside: tuple[tuple[str, object], ...]
    mark: str
    late: tuple[tuple[int, bytes], ...] = ()


@dataclass(frozen=True, slots=True)
class Questions:
    """All that can be asked of some mappings, in fixed order.

    Attributes:
        names: Of the mappings.
        keys: Every key of any of them.
    """

    names: tuple[str, ...]
    keys: tuple[object, ...]

    @classmethod
    def of(cls, mappings: Mapping[str, Mapping[object, object]]) -> Questions:
        """All that can be asked of these, without working out anything."""
        keys: dict[object, None] = {}
        for content in mappings.values():
            keys.update(dict.fromkeys(content.could_be() if isinstance(content, Lazily) else content))
        return cls(tuple(mappings), tuple(keys))

    @property
    def a_mapping(self) -> int:
        """How many there are of one mapping."""
        return len(_OF_ALL) + len(self.keys)

    def asked(self, number: int) -> Asked:
        """The question of a number.

        Raises:
            IndexError: There is none.
        """
        which, at = divmod(number, self.a_mapping)
        what = _OF_ALL[at] if at < len(_OF_ALL) else ONE
        return self.names[which], what, None if what != ONE else self.keys[at - len(_OF_ALL)]


@dataclass(slots=True)
class Ledger:
    """The content that files are made from.

    Attributes:
        base: Hash of what every file is made from.
        mappings: Name to content.
        own: Types of which every maker may hold one: it is this very content.
        known: Name of a mapping and key to the hash of the value there, where that is known already.
        questions: All that can be asked.
    """

    base: str
    mappings: Mapping[str, Mapping[object, object]]
    own: tuple[type, ...] = ()
    known: Mapping[str, Mapping[object, bytes]] = field(default_factory=dict)
    questions: Questions = field(init=False)
    _first: dict[str, int] = field(init=False)
    _at: dict[object, int] = field(init=False)
    _marks: dict[int, bytes] = field(default_factory=dict)
    _of_values: dict[int, bytes] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Hash everything that is at hand already, once for all processes."""
        self.questions = Questions.of(self.mappings)
        size = self.questions.a_mapping
        self._first = {name: number * size for number, name in enumerate(self.questions.names)}
        self._at = {key: len(_OF_ALL) + number for number, key in enumerate(self.questions.keys)}
        for name, marks in self.known.items():
            self._marks.update(
                {self._first[name] + self._at[key]: mark for key, mark in marks.items() if key in self._at}
            )
        for name, content in self.mappings.items():
            if not isinstance(content, Lazily):
                self.mark(self._first[name])
                self._of_values.update(
                    {id(value): self.mark(self._first[name] + self._at[key]) for key, value in content.items()}
                )

    def entry(self, asked: Iterable[Asked], make: Callable[..., object], note: object) -> Entry:
        """A file that was made now by ``make`` and asked all this; its hash is not known yet."""
        first, at, numbers, beside = self._first, self._at, array("I"), []
        for name, what, key in asked:
            if what != ONE:
                numbers.append(first[name] + _OF_ALL.index(what))
            elif key in at:
                numbers.append(first[name] + at[key])
            else:
                beside.append((name, key))
        inorder, others = array("I", sorted(numbers)), tuple(sorted(beside, key=repr))
        mark = self.mark_of(inorder, others)
        return Entry("", note, self.held(make), inorder, others, mark, self._late(inorder))

    def _late(self, inorder: array[int]) -> tuple[tuple[int, bytes], ...]:
        """The hashes of those answers that are worked out when somebody asks."""
        found: list[int] = []
        for name, content in self.mappings.items():
            if isinstance(content, Lazily):
                first = self._first[name] + len(_OF_ALL)
                last = first + len(self.questions.keys)
                found += inorder[bisect_left(inorder, first) : bisect_left(inorder, last)]
        return tuple((number, self._marks[number]) for number in found)

    def learn(self, late: Iterable[tuple[int, bytes]]) -> None:
        """Take in the hashes of answers that were worked out elsewhere."""
        self._marks.update(late)

    def marks(self, names: tuple[str, ...]) -> dict[str, dict[object, bytes]]:
        """All hashes of single values that are known by now, of the mappings whose names begin with one of these."""
        found: dict[str, dict[object, bytes]] = {name: {} for name in self.mappings if name.startswith(names)}
        for number, mark in self._marks.items():
            name, what, key = self.questions.asked(number)
            if what == ONE and name in found:
                found[name][key] = mark
        return found

    def mark(self, number: int) -> bytes:
        """A hash of the answer to a question."""
        found = self._marks.get(number)
        if found is None:
            found = self._marks[number] = self._hashed(*self.questions.asked(number))
        return found

    def _hashed(self, name: str, what: str, key: object) -> bytes:
        content = self.mappings[name]
        if what == ONE:
            return _hash(content[key]) if key in content else _ABSENT
        if what == ANY:
            return str(bool(content)).encode().ljust(12)
        first, told = self._first[name], hashlib.blake2b(digest_size=12)
        for each in content:
            told.update(repr(each).encode() + self.mark(first + self._at[each]))
        return told.digest()

    def mark_of(self, asked: Iterable[int], beside: Iterable[tuple[str, object]]) -> str:
        """One hash of the answers to all of these, in their order."""
        told = hashlib.blake2b(self.base.encode(), digest_size=16)
        told.update(b"".join(map(self.mark, asked)))
        for name, key in beside:
            told.update(self._hashed(name, ONE, key))
        return told.hexdigest()

    def held(self, make: Callable[..., object]) -> str:
        """A hash of all that a maker holds besides the content itself; empty when something cannot be compared."""
        try:
            return _hash(self._held(make)).hex()
        except Exception:
            return ""

    def _held(self, make: object) -> object:
        if isinstance(make, partial):
            return [self._held(make.func), *map(self._held, make.args), sorted(make.keywords.items())]
        if isinstance(make, FunctionType):
            cells = [cell.cell_contents for cell in make.__closure__ or ()]
            defaults = (*(make.__defaults__ or ()), *(make.__kwdefaults__ or {}).values())
            return [make.__module__, make.__qualname__, *map(self._held, (*cells, *defaults))]
        if isinstance(make, self.own):
            return None
        return self._of_values.get(id(make)) or _hash(make)  # one value is hashed once

    def same(self, entry: Entry | None, make: Callable[..., object]) -> bool:
        """True when a file is what it was: its maker holds the same, and what it asked has the same answers."""
        if entry is None or not entry.held or any(name not in self.mappings for name, _key in entry.beside):
            return False
        return entry.held == self.held(make) and entry.mark == self.mark_of(entry.asked, entry.beside)


def read(place: Path, questions: Questions, note_of: Callable[[object], object]) -> dict[str, Entry]:
    """The files of the build before; none when what stands there cannot be understood.

    A file that asked something that can no longer be asked is not among them.

    Args:
        place: Where :func:`write` put them.
        questions: All that can be asked now.
        note_of: Makes a note from its plain form.
    """
    try:
        told = json.loads(unsealed(place.read_bytes()))
        if told["order"] != sys.byteorder:
            return {}
        now = _renumbered(Questions(tuple(told["names"]), tuple(map(_key, told["keys"]))), questions)
        return {
            str(address): Entry(
                str(digest), note_of(note), str(held), numbers, tuple((str(name), _key(key)) for name, key in beside),
                str(mark),
            )
            for address, (digest, note, held, asked, beside, mark) in told["files"].items()
            if (numbers := now(_numbers(asked))) is not None
        }  # fmt: skip
    except (OSError, ValueError, TypeError, KeyError, IndexError, AttributeError, OverflowError):
        return {}


def _key(told: object) -> object:
    return tuple(told) if isinstance(told, list) else told


def _text(numbers: array[int]) -> str:
    return b64encode(numbers.tobytes()).decode("ascii")


def _numbers(text: str) -> array[int]:
    numbers = array("I")
    numbers.frombytes(b64decode(text))
    return numbers


def _renumbered(before: Questions, now: Questions) -> Callable[[array[int]], array[int] | None]:
    """Gives questions of the build before, in their order, the numbers that they have now."""
    if before == now:
        most = len(now.names) * now.a_mapping
        return lambda asked: asked if max(asked, default=0) < most else None
    names = {name: number for number, name in enumerate(now.names)}
    keys = {key: number for number, key in enumerate(now.keys)}
    numbers: dict[int, int | None] = {}

    def number_of(old: int) -> int | None:
        if old not in numbers:
            name, what, key = before.asked(old)
            at = keys.get(key, -1) + len(_OF_ALL) if what == ONE else _OF_ALL.index(what)
            gone = name not in names or (what == ONE and key not in keys)
            numbers[old] = None if gone else names[name] * now.a_mapping + at
        return numbers[old]

    def renumbered(asked: array[int]) -> array[int] | None:
        found = [number for old in asked if (number := number_of(old)) is not None]
        return array("I", found) if len(found) == len(asked) else None

    return renumbered


def write(place: Path, questions: Questions, entries: Mapping[str, Entry], plain: Callable[[object], object]) -> None:
    """Keep the files of a build; a folder that cannot be written is passed over.

    Args:
        place: Where.
        questions: What the numbers in the entries mean.
        entries: Name to entry.
        plain: Gives the plain form of a note.
    """
    files = {
        name: (entry.digest, plain(entry.note), entry.held, _text(entry.asked), entry.beside, entry.mark)
        for name, entry in entries.items()
    }
    aside = place.with_suffix(".aside")
    with contextlib.suppress(OSError, TypeError):
        told = {"order": sys.byteorder, "names": questions.names, "keys": questions.keys, "files": files}
        aside.write_bytes(sealed(json.dumps(told, separators=(",", ":")).encode()))
        os.replace(aside, place)
