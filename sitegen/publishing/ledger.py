"""Which file was made from what, so that a later build makes only what changed again.

While a file is made, everything that is asked of the mappings that it is made from is noted (:mod:`sitegen.noted`). A
later build finds the questions whose answers changed, by hashes, and makes those files again that asked one of them
(:mod:`sitegen.publishing.last_ledger`); whatever is the same in all files (the site, the species, the theme, the
program, the day) is compared once. A file whose maker holds anything that cannot be compared is always made.

A large site asks millions of questions, so they are numbered: the number of a mapping times the number of all keys of
all mappings, plus the number of the key. An answer that nobody has (an animal without changes) has a number too; a key
that no mapping has is rare (an address that a text links to) and kept as it is.
"""

from __future__ import annotations  # array[int] is for the type checker alone

import hashlib
from array import array
from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from types import FunctionType

from sitegen.findings import Place
from sitegen.hashes import hashed_with
from sitegen.lazily import Lazily
from sitegen.noted import ALL, ANY, ONE, Asked
from sitegen.publishing.crew import share_out

_hash = hashed_with({Place: lambda place: (place.file,)})
"""Of what files are made from. They tell in which file a record stands, and never on which line of it."""
MARK_BYTES = 12
_ABSENT = b"-" * MARK_BYTES
_TOGETHER = 2_000
"""How many values are hashed as one job: a twentieth of a second."""
OF_ALL = (ALL, ANY)
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
        late: Of the answers among them that were worked out when it asked, number and hash of each.
    """

    digest: str
    note: object
    held: str
    asked: array[int]
    beside: tuple[tuple[str, object], ...]
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
        return len(OF_ALL) + len(self.keys)

    def first(self) -> dict[str, int]:
        """Name of a mapping to the number of the first question that it can be asked."""
        return {name: at * self.a_mapping for at, name in enumerate(self.names)}

    def at(self) -> dict[object, int]:
        """Key to the number of the question for it, counted from the first of a mapping."""
        return {key: len(OF_ALL) + at for at, key in enumerate(self.keys)}

    def asked(self, number: int) -> Asked:
        """The question of a number.

        Raises:
            IndexError: There is none.
        """
        which, at = divmod(number, self.a_mapping)
        what = OF_ALL[at] if at < len(OF_ALL) else ONE
        return self.names[which], what, None if what != ONE else self.keys[at - len(OF_ALL)]


@dataclass(slots=True)
class Ledger:
    """The content that files are made from.

    Attributes:
        base: Hash of what every file is made from.
        mappings: Name to content.
        own: Types of which every maker may hold one: it is this very content.
        known: Name of a mapping and key to the hash of the value there, where that is known already.
        workers: How many processes hash what is not known.
        questions: All that can be asked.
        marks: Name of a mapping to its keys, in order, each with the hash of the value there; of all that are at hand.
        late: Number of a question of the others to the hash of its answer, as far as anybody asked.
    """

    base: str
    mappings: Mapping[str, Mapping[object, object]]
    own: tuple[type, ...] = ()
    known: Mapping[str, Mapping[object, bytes]] = field(default_factory=dict)
    workers: int = 1
    questions: Questions = field(init=False)
    marks: dict[str, dict[object, bytes]] = field(init=False, default_factory=dict)
    late: dict[int, bytes] = field(init=False, default_factory=dict)
    _first: dict[str, int] = field(init=False)
    _at: dict[object, int] = field(init=False)
    _late_firsts: tuple[int, ...] = field(init=False)
    _of_values: dict[int, tuple[object, bytes]] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        """Hash everything that is at hand already, once for all processes."""
        self.questions = Questions.of(self.mappings)
        self._first, self._at = self.questions.first(), self.questions.at()
        for name, content in self.mappings.items():
            known = self.known.get(name, {})
            if isinstance(content, Lazily):
                first = self._first[name]
                self.late.update({first + self._at[key]: mark for key, mark in known.items() if key in self._at})
            else:
                self.marks[name] = {key: known.get(key, b"") for key in content}
        self._hash_unknown()
        self._late_firsts = tuple(first for name, first in self._first.items() if name not in self.marks)

    def _hash_unknown(self) -> None:
        """Hash the values whose hashes are not known; one value is hashed once, also where makers hold it."""
        values: dict[int, object] = {}
        places: list[tuple[dict[object, bytes], object, int]] = []
        for name, marks in self.marks.items():
            content = self.mappings[name]
            for key in [key for key, mark in marks.items() if not mark]:
                value = content[key]
                values[id(value)] = value
                places.append((marks, key, id(value)))
        every = tuple(values.values())
        jobs = [every[start : start + _TOGETHER] for start in range(0, len(every), _TOGETHER)]
        told = share_out(lambda job: list(map(_hash, job)), jobs, self.workers, lambda done: None)
        hashes = (each for some in told for each in some)
        # Each value is held, so that no other has its id.
        self._of_values = {number: (value, next(hashes)) for number, value in values.items()}
        for marks, key, number in places:
            marks[key] = self._of_values[number][1]

    def entry(self, asked: Iterable[Asked], make: Callable[..., object], note: object) -> Entry:
        """A file that was made now by ``make`` and asked all this; its hash is not known yet."""
        first, at, numbers, beside = self._first, self._at, array("I"), []
        for name, what, key in asked:
            if what != ONE:
                numbers.append(first[name] + OF_ALL.index(what))
            elif key in at:
                numbers.append(first[name] + at[key])
            else:
                beside.append((name, key))
        inorder, others = array("I", sorted(numbers)), tuple(sorted(beside, key=repr))
        late = tuple((number, self.late_mark(number)) for number in self._late_among(inorder))
        return Entry("", note, self.held(make), inorder, others, late)

    def _late_among(self, inorder: array[int]) -> Iterator[int]:
        """Those of some numbers, which are in order, whose answers are worked out when somebody asks."""
        for first in self._late_firsts:
            yield from inorder[bisect_left(inorder, first) : bisect_left(inorder, first + self.questions.a_mapping)]

    def learn(self, late: Iterable[tuple[int, bytes]]) -> None:
        """Take in the hashes of answers that were worked out elsewhere."""
        self.late.update(late)

    def marks_of(self, names: tuple[str, ...]) -> dict[str, dict[object, bytes]]:
        """All hashes of single values that are known by now, of the mappings whose names begin with one of these."""
        found = {name: dict(self.marks.get(name, {})) for name in self.mappings if name.startswith(names)}
        for number, mark in self.late.items():
            name, what, key = self.questions.asked(number)
            if what == ONE and name in found:
                found[name][key] = mark
        return found

    def late_mark(self, number: int) -> bytes:
        """A hash of the answer to a question of those that are worked out when somebody asks."""
        found = self.late.get(number)
        if found is None:
            found = self.late[number] = self._hashed(*self.questions.asked(number))
        return found

    def _hashed(self, name: str, what: str, key: object) -> bytes:
        content = self.mappings[name]
        if what == ONE:
            return _hash(content[key]) if key in content else _ABSENT
        if what == ANY:
            return str(bool(content)).encode().ljust(MARK_BYTES)
        first, told = self._first[name], hashlib.blake2b(digest_size=MARK_BYTES)
        for each in content:
            told.update(repr(each).encode() + self.late_mark(first + self._at[each]))
        return told.digest()

    def held(self, make: Callable[..., object]) -> str:
        """A hash of all that a maker holds besides the content itself; empty when something cannot be compared."""
        try:
            return _hash(self._held(make)).hex()
        except Exception:
            return ""

    def _held(self, make: object) -> object:
        if isinstance(make, str):
            return make
        if isinstance(make, partial):
            return [self._held(make.func), *map(self._held, make.args), sorted(make.keywords.items())]
        if isinstance(make, FunctionType):
            cells = [cell.cell_contents for cell in make.__closure__ or ()]
            defaults = (*(make.__defaults__ or ()), *(make.__kwdefaults__ or {}).values())
            return [make.__module__, make.__qualname__, *map(self._held, (*cells, *defaults))]
        if isinstance(make, self.own):
            return None
        known = self._of_values.get(id(make))
        return known[1] if known else _hash(make)
