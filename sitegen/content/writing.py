"""Writes a keeper's own files: each aside first and then moved into place, so that the old or the new one stands there.

Everything that adds to or changes a collection, or writes a sheet, writes through here. (Pictures and the finished
site have writers of their own, ``store.py`` and ``publishing/``: nothing there was written by hand.)
"""

import fcntl
import os
import re
import secrets
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from sitegen.below import LeadsAway, NotOpened, folder_below, read_below
from sitegen.findings import SitegenError

_ASIDE = re.compile(r"^\..+\.sitegen-[0-9a-f]{8}$")
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC
_LONGEST_NAME = 50
"""Characters of a file's name that its aside name repeats; systems allow 255 bytes, and a character has up to four."""


class NotWritten(SitegenError):  # noqa: N818 - named for what happened
    """A file could not be written; the message says which, and what stands there now."""


@dataclass(frozen=True, slots=True)
class FileChange:
    """One file: its path below a folder, its bytes before (None when it is new) and after (None when it goes away)."""

    path: str
    before: bytes | None
    after: bytes | None


written_so_far: list[str] = []
"""What this process has written whole, as the paths were given, for the report of a fault of our own."""


def remember_written(what: str) -> None:
    """Have something told that was written whole, such as a record or the site."""
    written_so_far.append(what)


def write(root: Path, files: Sequence[FileChange]) -> None:
    """Write files in their order. A process that is ended in the middle leaves each file old or new, never half.

    The root is made if it is missing. A file that is new must not stand there; one that is changed must be as it was
    when it was read.

    Raises:
        NotWritten: Somebody else wrote meanwhile, or the system refuses.
    """
    done: list[str] = []
    at = root
    try:
        root.mkdir(parents=True, exist_ok=True)
        with _alone(root):
            for file in files:
                at = root / file.path
                _check_unchanged(root, file)
            for file in files:
                at = root / file.path
                _write_file(root, file)
                done.append(file.path)
                remember_written(file.path)
    except OSError as error:
        rest = f"; written before that: {', '.join(done)}" if done else "; nothing was changed"
        raise NotWritten(f"{at}: {error.strerror or 'cannot be written'}{rest}") from error


@contextmanager
def _alone(root: Path) -> Iterator[None]:
    """Hold the folder against other writers of this program; freed by the system however the process ends."""
    handle = os.open(root, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _check_unchanged(root: Path, file: FileChange) -> None:
    try:
        if read_below(root, file.path, len(file.before or b"")) == file.before:
            return
    except FileNotFoundError:
        if file.before is None:
            return
    except LeadsAway:
        raise
    except NotOpened:  # larger than it was, or no file
        pass
    if file.before is None:
        raise NotWritten(f"{file.path} stands there already; nothing was changed")
    raise NotWritten(f"{file.path} was changed by another program meanwhile; nothing was changed. Try again.")


def _write_file(root: Path, file: FileChange) -> None:
    above, _, name = file.path.rpartition("/")
    if file.after is None:
        _take_away(root, above, name)
        return
    with folder_below(root, above, make=True) as folder:
        _remove_left_behind(folder)
        aside = f".{name[:_LONGEST_NAME]}.sitegen-{secrets.token_hex(4)}"
        try:
            with open(os.open(aside, _NEW, 0o666, dir_fd=folder), "wb") as stream:
                if file.before is not None:
                    mode = os.stat(name, dir_fd=folder, follow_symlinks=False).st_mode
                    os.fchmod(stream.fileno(), mode & 0o7777)
                stream.write(file.after)
                stream.flush()
                os.fsync(stream.fileno())
            if file.before is not None:
                os.replace(aside, name, src_dir_fd=folder, dst_dir_fd=folder)
            else:
                _move_to_new(aside, name, folder, file.path)
        finally:
            with suppress(FileNotFoundError):
                os.unlink(aside, dir_fd=folder)


def _take_away(root: Path, above: str, name: str) -> None:
    """Remove a file, and the folder of a record in which nothing is left."""
    with folder_below(root, above) as folder:
        os.unlink(name, dir_fd=folder)
        _remove_left_behind(folder)
        os.fsync(folder)
    while "/" in above:  # what every collection has, such as the folder animals, stays
        above, _, name = above.rpartition("/")
        try:
            with folder_below(root, above) as folder:
                os.rmdir(name, dir_fd=folder)
        except OSError:  # something else stands there
            return


def _move_to_new(aside: str, name: str, folder: int, shown: str) -> None:
    """Give the file its name, unless something has that name by now. A link fails then, so it never overwrites."""
    try:
        os.link(aside, name, src_dir_fd=folder, dst_dir_fd=folder)
    except FileExistsError:
        raise NotWritten(f"{shown} stands there already; it was not touched") from None
    except OSError:  # a file system without hard links, such as that of a memory stick
        with suppress(FileNotFoundError):
            os.stat(name, dir_fd=folder, follow_symlinks=False)
            raise NotWritten(f"{shown} stands there already; it was not touched") from None
        os.replace(aside, name, src_dir_fd=folder, dst_dir_fd=folder)


def _remove_left_behind(folder: int) -> None:
    """Delete what a process that was ended in the middle left; the folder is held, so nobody is still writing it."""
    with os.scandir(folder) as entries:
        left = [entry.name for entry in entries if _ASIDE.match(entry.name) and entry.is_file(follow_symlinks=False)]
    for name in left:
        with suppress(FileNotFoundError):
            os.unlink(name, dir_fd=folder)
