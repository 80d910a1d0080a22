"""The undo record: what each change of a collection replaced, in the user's own data folder and for nobody else.

A change is noted before it is written, so that no moment loses anything. Where the program was ended between the two,
all files are as before the last note, and that note counts for nothing. In one folder a collection there is a file
``NUMBER-DAY-BYTES.zip`` for each change, or ``NUMBER-DAY-BYTES-photos.zip`` where more than text was changed, and
``told-NUMBER-DAY`` while it is told that changes up to this number are dropped after that day. All that is asked
at every change stands in the names, since there may be ten thousand.
"""

import datetime as dt
import fcntl
import hashlib
import json
import os
import re
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from sitegen.below import read_below
from sitegen.content.writing import NotWritten, write
from sitegen.keeper.records import Proposal, is_text
from sitegen.photos.opening import MAX_BYTES

FOLDER = "SITEGEN_UNDO"
"""The variable of the environment that names another folder for the undo records."""
DAYS, TEXT_BYTES, PHOTO_BYTES = 365, 100_000_000, 1_000_000_000
_AT_ONCE = 0.9
"""The part of these bounds that is left when something was dropped, so that it does not happen daily."""
_NOTICE_DAYS = 7
_NOTE = re.compile(r"(\d{8})-(\d{4}-\d\d-\d\d)-(\d+)(-photos)?\.zip")


@dataclass(frozen=True, slots=True)
class ChangedFile:
    """A file of a change that was made, and the SHA-256 of its bytes before and after; None where there was none."""

    path: str
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class Change:
    """A change that was made through this program.

    Attributes:
        number: Its number in this collection, from 1.
        at: The hour, with its zone.
        undoes: The change that it takes back; 0 for none.
        files: The files in the order in which they were written.
        note: Where the bytes are kept.
    """

    number: int
    at: dt.datetime
    told: str
    undoes: int
    files: tuple[ChangedFile, ...]
    note: Path

    def kept(self, file: ChangedFile, digest: str | None) -> bytes | None:
        """The bytes of a file before the change, or, if they are text, after it.

        Raises:
            NotWritten: They are not whole any more.
        """
        try:
            return None if digest is None else zipfile.ZipFile(self.note).read(digest)
        except _BROKEN as error:
            raise _not_read(self.note) from error


_BROKEN = (OSError, KeyError, ValueError, EOFError, zipfile.BadZipFile, zlib.error)


def _not_read(note: Path) -> NotWritten:
    return NotWritten(f"{note}: this part of the undo record is not whole any more; move it away. Nothing was changed.")


@dataclass(frozen=True, slots=True)
class Done:
    """A change that was made: its number, 0 where nothing was to be changed, and what is to be told beside it."""

    number: int
    notice: str = ""


def put_in_place(root: Path, proposal: Proposal, now: dt.datetime) -> Done:
    """Write a change of a collection, once what it replaces is in the undo record. Every change goes through here.

    Raises:
        NotWritten: Somebody else wrote meanwhile, or the system refuses.
    """
    if not proposal.files:
        return Done(0)
    with _held(root) as folder:
        number = next((_number(note) for note in reversed(_made(root, folder))), 0) + 1
        note = _note_down(folder, number, proposal, now)
        try:
            write(root, proposal.files)
        except BaseException:
            if all(_digest_at(root, file.path) != digest_of(file.after) for file in proposal.files):
                note.unlink()
            raise
        notice = ""
        with suppress(OSError):  # the change stands; room is made with a later one
            notice = _make_room(folder, now.date())
        return Done(number, notice)


def changes_of(root: Path) -> Iterator[Change]:
    """The changes of a collection, the latest first.

    Raises:
        NotWritten: The record cannot be read.
    """
    if _folder_of(root).is_dir():
        with _held(root) as folder:
            notes = _made(root, folder)
        yield from (_read(folder / note) for note in reversed(notes))


def forget(root: Path, dry_run: bool = False) -> tuple[int, str]:
    """Empty the record of a collection for good; how many changes were in it, and the day of the first."""
    if not _folder_of(root).is_dir():
        return 0, ""
    with _held(root) as folder:
        notes = _notes(folder)
        for path in folder.iterdir() if not dry_run else ():
            path.unlink()
        return len(notes), _day(notes[0]) if notes else ""


def present_bytes(root: Path, path: str) -> bytes | None:
    """A file of the content folder as it stands; None where there is none."""
    try:
        return read_below(root, path, MAX_BYTES)
    except (FileNotFoundError, NotADirectoryError):
        return None


def digest_of(content: bytes | None) -> str | None:
    """By what bytes are told apart."""
    return None if content is None else hashlib.sha256(content).hexdigest()


def _folder_of(root: Path) -> Path:
    named = os.environ.get(FOLDER)
    base = Path(os.path.abspath(named)) if named else platformdirs.user_data_path("sitegen", appauthor=False) / "undo"
    return base / hashlib.sha256(os.fsencode(os.path.realpath(root))).hexdigest()[:32]


@contextmanager
def _held(root: Path) -> Iterator[Path]:
    """The folder of a collection's changes, held against other processes."""
    folder = _folder_of(root)
    try:
        folder.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        folder.mkdir(mode=0o700, exist_ok=True)
        handle = os.open(folder, os.O_RDONLY)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX)
            yield folder
        finally:
            os.close(handle)
    except OSError as error:
        why = f"{error.strerror or error}; without an undo record nothing is changed"
        raise NotWritten(f"{error.filename or folder}: {why}") from error


def _notes(folder: Path) -> list[str]:
    """The names of the changes in the folder, the oldest first."""
    return sorted(name for name in os.listdir(folder) if name.endswith(".zip"))


def _number(note: str) -> int:
    return int(note.partition("-")[0])


def _day(note: str) -> str:
    return note.partition("-")[2][:10]


def _made(root: Path, folder: Path) -> list[str]:
    """The changes in the folder, once a note that was cut off, and a last one that was never written, are cleared."""
    for path in folder.glob("*.aside"):
        path.unlink()
    notes = _notes(folder)
    if notes and root.is_dir():
        last = _read(folder / notes[-1])
        if all(_digest_at(root, file.path) == file.before for file in last.files):
            last.note.unlink()
            notes.pop()
    return notes


def _digest_at(root: Path, path: str) -> str | None:
    try:
        return digest_of(present_bytes(root, path))
    except OSError:  # something else stands there by now
        return ""


def _note_down(folder: Path, number: int, proposal: Proposal, now: dt.datetime) -> Path:
    files = [{"path": f.path, "before": digest_of(f.before), "after": digest_of(f.after)} for f in proposal.files]
    facts = {"at": now.isoformat(timespec="seconds"), "told": proposal.told, "undoes": proposal.undoes, "files": files}
    photos, kept = "", dict[str | None, bytes]()
    for file in proposal.files:
        text = is_text(file.path)
        photos = "" if text and not photos else "-photos"
        kept |= {digest_of(side): side for side in (file.before, file.after if text else None) if side is not None}
    aside = folder / f"{number:08}.aside"
    with open(os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o600), "wb") as stream:
        with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED if photos else zipfile.ZIP_DEFLATED) as note:
            note.writestr("change.json", json.dumps(facts))
            for digest, content in kept.items():
                note.writestr(str(digest), content)
        stream.flush()
        os.fsync(stream.fileno())
    whole = aside.rename(folder / f"{number:08}-{now.date()}-{aside.stat().st_size}{photos}.zip")
    _sync(folder)
    return whole


def _read(note: Path) -> Change:
    try:
        facts = json.loads(zipfile.ZipFile(note).read("change.json"))
        files = tuple(ChangedFile(**file) for file in facts["files"])
        at = dt.datetime.fromisoformat(facts["at"])
        return Change(_number(note.name), at, facts["told"], facts["undoes"], files, note)
    except _BROKEN as error:
        raise _not_read(note) from error


def _sync(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _make_room(folder: Path, today: dt.date) -> str:
    """Drop what was told a week ago; tell what is to be dropped in a week, and remember it as ``told-NUMBER-DAY``."""
    for told in folder.glob("told-*"):
        _, last, until = told.name.split("-", 2)
        if today.isoformat() <= until:
            return ""
        for note in _notes(folder):
            if _number(note) <= int(last):
                (folder / note).unlink()
        told.unlink()
    if not _too_much(folder, today, 1):
        return ""
    going, end = _too_much(folder, today, _AT_ONCE)[-1], today + dt.timedelta(days=_NOTICE_DAYS)
    (folder / f"told-{_number(going)}-{end}").touch(0o600)
    return (
        f"The undo record holds a year, {TEXT_BYTES // 10**6} MB, and {PHOTO_BYTES // 10**9} GB of photographs. "
        f"Changes of {_day(going)} and before can be taken back until {end}; after that they are dropped from it."
    )


def _too_much(folder: Path, today: dt.date, part: float) -> list[str]:
    """The changes that lie beyond this part of the bounds, the oldest first; never the newest."""
    notes = _notes(folder)
    room = {None: TEXT_BYTES * part, "-photos": PHOTO_BYTES * part}
    oldest = str(today - dt.timedelta(days=DAYS * part))
    for at in range(len(notes) - 1, -1, -1):
        if match := _NOTE.fullmatch(notes[at]):
            room[match[4]] -= int(match[3])
            if min(room.values()) < 0 or match[2] < oldest:
                return notes[: min(at + 1, len(notes) - 1)]
    return []
