"""Writes a change: each file aside first and then moved into place, so that the old or the new one stands there."""

import fcntl
import os
import re
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sitegen.authoring.desk import Change, FileChange
from sitegen.findings import SitegenError

_ASIDE = re.compile(r"^\..+\.sitegen-[0-9a-f]{8}$")


class NotWritten(SitegenError):  # noqa: N818 - named for what happened
    """A file could not be written; the message says which, and what stands there now."""


def write(root: Path, change: Change) -> None:
    """Write the files of the change in their order.

    Args:
        root: The content folder; made if it is missing.
        change: A file that is new must not stand there; one that is changed must be as it was when it was read.

    Raises:
        NotWritten: Somebody else wrote meanwhile, or the system refuses.
    """
    written: list[str] = []
    try:
        root.mkdir(parents=True, exist_ok=True)
        with _alone(root):
            for file in change.files:
                _check_unchanged(root, file)
            for file in change.files:
                _write_file(root, file)
                written.append(file.path)
    except OSError as error:
        rest = f"; written before that: {', '.join(written)}" if written else "; nothing was changed"
        raise NotWritten(f"{error.filename or root}: {error.strerror or 'cannot be written'}{rest}") from error


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
    path = root / file.path
    if file.before is None:
        if os.path.lexists(path):
            raise NotWritten(f"{file.path} stands there already; nothing was changed")
    elif not path.is_file() or path.read_bytes() != file.before:
        raise NotWritten(f"{file.path} was changed by another program meanwhile; nothing was changed. Try again.")


def _write_file(root: Path, file: FileChange) -> None:
    path = root / file.path
    path.parent.mkdir(parents=True, exist_ok=True)
    _remove_left_behind(path.parent)
    aside = path.with_name(f".{path.name[:80]}.sitegen-{secrets.token_hex(4)}")
    try:
        with aside.open("xb") as stream:
            if file.before is not None:
                os.fchmod(stream.fileno(), path.stat().st_mode & 0o7777)
            stream.write(file.after)
            stream.flush()
            os.fsync(stream.fileno())
        if file.before is not None:
            os.replace(aside, path)
        else:
            _move_to_new(aside, path, file.path)
    finally:
        aside.unlink(missing_ok=True)


def _move_to_new(aside: Path, path: Path, shown: str) -> None:
    """Give the file its name, unless something has that name by now."""
    try:
        os.link(aside, path)
    except FileExistsError:
        raise NotWritten(f"{shown} stands there already; it was not touched") from None
    except OSError:  # a file system without hard links
        if os.path.lexists(path):
            raise NotWritten(f"{shown} stands there already; it was not touched") from None
        os.replace(aside, path)


def _remove_left_behind(folder: Path) -> None:
    """Delete what a process that was ended in the middle left; the folder is held, so nobody is still writing it."""
    for entry in folder.iterdir():
        if _ASIDE.match(entry.name) and entry.is_file() and not entry.is_symlink():
            entry.unlink(missing_ok=True)
