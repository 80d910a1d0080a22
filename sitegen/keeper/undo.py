"""Takes a change back, also an earlier one, unless something that came later stands in the way.

A record that was changed since then is not put back as it was: the lines of the change alone are turned back in it,
as a merge of three texts does. Where they stand elsewhere by now, or mean something else, nothing is done.
"""

import difflib
import json
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitegen.content.writing import FileChange
from sitegen.findings import ContentError, SitegenError, WrongUse
from sitegen.keeper import splicing
from sitegen.keeper.records import Proposal, Records, is_text, unified_diff
from sitegen.keeper.undo_record import Change, ChangedFile, changes_of, digest_of, present_bytes

_BACK, _AGAIN = "Taken back: ", "Done again: "


class InTheWay(SitegenError):  # noqa: N818 - named for what is the case
    """A change cannot be taken back; the message says what stands in the way."""


def undo_proposal(records: Records, number: int = 0) -> Proposal:
    """The change that takes an earlier one back; no file when there is nothing to take back.

    Without a number it is the last one that is not taken back yet.

    Raises:
        WrongUse: There is no such change, or it is taken back already.
        InTheWay: Later changes touched the same lines.
        NotWritten: The record of what it replaced cannot be read.
    """
    later: list[Change] = []
    for change, undone in with_undone(changes_of(records.root)):
        meant = change.number == number if number else not change.undoes and not undone
        if meant and undone:
            raise WrongUse(f"change {number} is taken back already, by change {undone}; again: sitegen undo {undone}")
        if meant and (files := _files_back(records, change, later)):
            told = f"{_AGAIN if change.told.startswith(_BACK) else _BACK}{_bare(change)}"
            return Proposal(files, told, undoes=change.number)
        if meant and number:
            return Proposal((), f"Nothing of change {number} stands any more: {_bare(change)}")
        later.insert(0, change)
    if number:
        raise WrongUse(f"there is no change {number} in the undo record; sitegen undo --list shows those that are")
    return Proposal((), "There is nothing to take back.")


def with_undone(changes: Iterable[Change]) -> Iterator[tuple[Change, int]]:
    """Changes, the latest first, each with the number of the one that took it back; 0 where none did."""
    undone: dict[int, int] = {}
    for change in changes:
        by = undone.get(change.number, 0)
        if change.undoes and not by:
            undone[change.undoes] = change.number
        yield change, by


def change_diff(change: Change) -> str:
    """A change that was made, as people and programs read changes; of photographs their names alone.

    Raises:
        NotWritten: The record of what it replaced cannot be read.
    """
    told = []
    for file in change.files:
        if is_text(file.path):
            sides = (change.kept(file, side) for side in (file.before, file.after))
            told.append(unified_diff(Proposal((FileChange(file.path, *sides),), "")))
        else:
            told.append(f"{'new' if file.before is None else 'changed' if file.after else 'removed'}: {file.path}")
    return "\n".join(told)


def _bare(change: Change) -> str:
    return change.told.removeprefix(_BACK).removeprefix(_AGAIN)


@dataclass(frozen=True, slots=True)
class _Touched:
    """What is to be turned back was touched: the line, 0 for the file as a whole."""

    line: int = 0


def _files_back(records: Records, change: Change, later: Sequence[Change]) -> tuple[FileChange, ...]:
    """The files of a change as they stand and as they are to be; none that is as before it already."""
    files = []
    for file in reversed(change.files):
        present = present_bytes(records.root, file.path)
        back = _back(change, file, present)
        if back == present:
            continue
        if present and isinstance(back, bytes) and file.path.endswith(".yaml"):
            before, after = (change.kept(file, side) or b"" for side in (file.before, file.after))
            if not _means_the_same(before, after, present, back):
                back = _Touched(_n_alike(present.splitlines(), back.splitlines()) + 1)
        if isinstance(back, _Touched):
            raise InTheWay(_told(change, file, back, _by(change, file, later, present)))
        files.append(FileChange(file.path, present, back))
    return tuple(files)


def _back(change: Change, file: ChangedFile, state: bytes | None) -> bytes | _Touched | None:
    """A file in some state, with the lines of this change of it turned back."""
    digest = digest_of(state)
    if digest == file.before:
        return state
    if digest == file.after:
        return change.kept(file, file.before)
    if state is None or file.before is None or file.after is None or not is_text(file.path):
        return _Touched()
    return _merged(change.kept(file, file.before) or b"", change.kept(file, file.after) or b"", state)


def _merged(before: bytes, after: bytes, state: bytes) -> bytes | _Touched:
    """The state with the lines that differ after a change as they were before it."""
    newline = b"\r\n" if b"\r\n" in state else b"\n"
    whole = state.endswith((b"\n", b"\r"))  # a last line without an end is the same line once it has one
    old, base, lines = (_lines(side, newline) for side in (before, after, state))
    since = _hunks(base, lines)
    for begin, end, at, stop in reversed(_hunks(base, old)):
        shift = 0
        for i, j, k, m in since:
            if (i < end and begin < j) or i == j == begin == end:
                return _Touched(k + 1)
            shift = m - j if j <= begin else shift
        lines[begin + shift : end + shift] = old[at:stop]
    return b"".join(lines) if whole else b"".join(lines).removesuffix(newline)


def _lines(side: bytes, newline: bytes) -> list[bytes]:
    return [line if line.endswith((b"\n", b"\r")) else line + newline for line in side.splitlines(keepends=True)]


def _hunks(base: list[bytes], other: list[bytes]) -> list[tuple[int, int, int, int]]:
    """Where the lines differ: from and to in the base, from and to in the other."""
    at = _n_alike(base, other)
    end = _n_alike(base[at:][::-1], other[at:][::-1])  # most lines are alike, and a search among them would be slow
    search = difflib.SequenceMatcher(None, base[at : len(base) - end], other[at : len(other) - end], autojunk=False)
    return [(i + at, j + at, k + at, m + at) for tag, i, j, k, m in search.get_opcodes() if tag != "equal"]


def _n_alike(one: list[bytes], other: list[bytes]) -> int:
    """How many lines are alike from the beginning."""
    pairs = enumerate(zip(one, other, strict=False))
    return next((at for at, (mine, theirs) in pairs if mine != theirs), min(len(one), len(other)))


def _means_the_same(before: bytes, after: bytes, state: bytes, merged: bytes) -> bool:
    """True where turning back changes the same values by the same names as the change did: no line strayed."""
    try:
        was, became, stands, would = (
            Counter(_values(splicing.plain(side.decode("utf-8-sig")))) for side in (before, after, state, merged)
        )
    except (ContentError, UnicodeDecodeError):
        return False
    return became - was == stands - would and was - became == would - stands


def _values(found: object, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Each value of a record with the names that lead to it; entries of lists as a whole."""
    if isinstance(found, dict) and found:
        for key, value in found.items():
            yield from _values(value, (*path, key))
    else:
        for value in found if isinstance(found, list) and found else [found]:
            yield (*path, json.dumps(value, sort_keys=True))


def _by(change: Change, file: ChangedFile, later: Sequence[Change], present: bytes | None) -> Change | None:
    """The later change since which the file cannot be turned back; None where that was done by hand."""
    by, latest, touched = None, None, False
    for each in later:
        for other in (other for other in each.files if other.path == file.path):
            for digest, who in ((other.before, None), (other.after, each)):
                was, touched = touched, _is_touched(change, file, each, other, digest)
                by = by if was else who
            latest = each if other.after == digest_of(present) else None
    return by if touched else latest


def _is_touched(change: Change, file: ChangedFile, other: Change, state: ChangedFile, digest: str | None) -> bool:
    if digest in (file.before, file.after):
        return False
    return not is_text(file.path) or isinstance(_back(change, file, other.kept(state, digest)), _Touched)


def _told(change: Change, file: ChangedFile, touched: _Touched, by: Change | None) -> str:
    place = f"{file.path}:{touched.line}" if touched.line else file.path
    head = f'Change {change.number}, "{change.told}", was not taken back: {place} was changed since'
    if by is None:
        return f"{head}, by hand. Nothing was changed; write by hand what is to stand there."
    return f'{head} by change {by.number}, "{by.told}". Nothing was changed; take that one back first: ' + (
        f"sitegen undo {by.number}"
    )
