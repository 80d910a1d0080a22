"""What the build before noted of its files: kept beside the site, and which of it still stands.

Beside the questions of each file the hashes of all answers are kept, once. What differs from them now are the questions
whose answers changed; a file that asked none of these is what it was. Answers that are worked out when somebody asks
are compared file by file, so that none is worked out for a file that is made again in any case.
"""

from __future__ import annotations  # array[int] is for the type checker alone

import contextlib
import json
import os
import sys
from array import array
from base64 import b64decode, b64encode
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from sitegen.noted import ALL, ANY
from sitegen.publishing.ledger import MARK_BYTES, OF_ALL, Entry, Ledger, Questions
from sitegen.store import sealed, unsealed

_GONE = 2**32 - 1
"""Stands for a question that can no longer be asked."""


@dataclass(slots=True)
class LastTime:
    """The files of the build before, as far as anything of them can still stand.

    Attributes:
        now: What files are made from now.
        entries: Address to what was noted of a file, with numbers of then.
        changed: The numbers of then of those questions whose answers are other ones now.
        numbers: At a number of then the one of now; None where they are the same.
    """

    now: Ledger
    entries: Mapping[str, Entry] = field(default_factory=dict)
    changed: frozenset[int] = frozenset()
    numbers: array[int] | None = None

    def same(self, address: str, make: Callable[..., object]) -> Entry | None:
        """What was noted of a file, with the numbers of now, if it would be made the same by ``make``; else None."""
        entry = self.entries.get(address)
        if entry is None or not entry.held or not self.changed.isdisjoint(entry.asked):
            return None
        if entry.held != self.now.held(make) or any(key in self.now.mappings[name] for name, key in entry.beside):
            return None
        if (entry := self._renumbered(entry)) is None:
            return None
        return entry if all(self.now.late_mark(number) == mark for number, mark in entry.late) else None

    def _renumbered(self, entry: Entry) -> Entry | None:
        """The same with the numbers of now; None where something can no longer be asked."""
        if (number := self.numbers) is None:
            return entry
        asked = array("I", sorted(number[each] for each in entry.asked))
        late = tuple((number[each], mark) for each, mark in entry.late)
        return replace(entry, asked=asked, late=late) if not asked or asked[-1] != _GONE else None


def read(place: Path, now: Ledger, note_of: Callable[[object], object]) -> LastTime:
    """What was noted at the build before; nothing when what stands there cannot be understood, or everything changed.

    Args:
        place: Where :func:`write` put it.
        now: What files are made from now.
        note_of: Makes a note from its plain form.
    """
    try:
        return _understood(json.loads(unsealed(place.read_bytes())), now, note_of)
    except (OSError, ValueError, TypeError, KeyError, IndexError, AttributeError, OverflowError):
        return LastTime(now)


def _understood(told: Any, now: Ledger, note_of: Callable[[object], object]) -> LastTime:
    then = Questions(tuple(told["names"]), tuple(map(_key, told["keys"])))
    if (told["order"], told["base"], then.names) != (sys.byteorder, now.base, now.questions.names):
        return LastTime(now)
    numbers, start = _numbers(told["asked"]), 0
    entries: dict[str, Entry] = {}
    for address, (digest, note, held, count, beside, late) in told["files"].items():
        others = tuple((str(name), _key(key)) for name, key in beside) if beside else ()
        worked_out = tuple((int(number), bytes.fromhex(mark)) for number, mark in late) if late else ()
        asked = numbers[start : start + count]
        entries[address] = Entry(str(digest), note_of(note), str(held), asked, others, worked_out)
        start += count
    if start != len(numbers):
        return LastTime(now)
    changed = frozenset(_changed({name: _marked(told["marks"][name], then) for name in now.marks}, then, now))
    return LastTime(now, entries, changed, _renumbered(then, now.questions))


def _changed(marks: Mapping[str, Mapping[object, bytes]], then: Questions, now: Ledger) -> Iterator[int]:
    """The numbers of then of all questions whose answers are others now, but for those that are worked out late."""
    first, at = then.first(), then.at()
    for name, was in marks.items():
        if (as_before := was == now.marks[name]) and list(was) == list(now.marks[name]):
            continue
        others = () if as_before else {key for key, _mark in was.items() ^ now.marks[name].items()}
        yield from (first[name] + at[key] for key in others if key in at)
        yield first[name] + OF_ALL.index(ALL)
        if bool(was) != bool(now.marks[name]):
            yield first[name] + OF_ALL.index(ANY)


def _renumbered(then: Questions, now: Questions) -> array[int] | None:
    """At the number of each question of then the one it has now; None where all are the same."""
    if then == now:
        return None
    at = now.at()
    of_one = [*range(len(OF_ALL)), *(at.get(key, _GONE) for key in then.keys)]
    found = array("I")
    for first in now.first().values():
        found.extend([_GONE if number == _GONE else first + number for number in of_one])
    return found


def write(place: Path, now: Ledger, entries: Mapping[str, Entry], plain: Callable[[object], object]) -> None:
    """Keep what was noted of the files of a build; a folder that cannot be written is passed over.

    Args:
        place: Where.
        now: What they were made from.
        entries: Address to what was noted.
        plain: Gives the plain form of a note.
    """
    at = {key: number for number, key in enumerate(now.questions.keys)}
    numbers = array("I")
    for entry in entries.values():
        numbers.extend(entry.asked)
    told = {
        "order": sys.byteorder,
        "base": now.base,
        "names": now.questions.names,
        "keys": now.questions.keys,
        "marks": {
            name: (_text(array("I", map(at.__getitem__, marks))), _text(b"".join(marks.values())))
            for name, marks in now.marks.items()
        },
        "asked": _text(numbers),
        "files": {
            address: (
                entry.digest,
                plain(entry.note),
                entry.held,
                len(entry.asked),
                entry.beside,
                [(number, mark.hex()) for number, mark in entry.late],
            )
            for address, entry in entries.items()
        },
    }
    aside = place.with_suffix(".aside")
    with contextlib.suppress(OSError, TypeError):
        aside.write_bytes(sealed(json.dumps(told, separators=(",", ":")).encode()))
        os.replace(aside, place)


def _key(told: object) -> object:
    return tuple(told) if isinstance(told, list) else told


def _text(content: array[int] | bytes) -> str:
    return b64encode(content).decode("ascii")


def _numbers(text: str) -> array[int]:
    numbers = array("I")
    numbers.frombytes(b64decode(text))
    return numbers


def _marks(text: str) -> list[bytes]:
    content = b64decode(text)
    return [content[start : start + MARK_BYTES] for start in range(0, len(content), MARK_BYTES)]


def _marked(told: tuple[str, str], then: Questions) -> dict[object, bytes]:
    """The keys of a mapping, in order, each with the hash of the value there."""
    return dict(zip(map(then.keys.__getitem__, _numbers(told[0])), _marks(told[1]), strict=True))
