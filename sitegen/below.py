"""Opens what lies below a folder, and nothing that a link among it leads to.

Each name of a path is looked up in the folder that was opened before it, and the system itself refuses links
(POSIX.1-2008: ``openat``, ``O_NOFOLLOW``). So it makes no difference when somebody puts a link in place of a folder
that was looked at a moment ago. Pipes, devices and sockets are never waited for.
"""

import errno
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from io import BufferedReader
from pathlib import Path

_FOLDER = os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC
_FILE = os.O_RDONLY | os.O_NONBLOCK | os.O_NOCTTY | os.O_CLOEXEC  # a pipe opened so has an end at once

_NO_FILE = "it is a folder, a pipe or a device, not a file"


class NotOpened(OSError):  # noqa: N818 - named for what happened
    """Something else stands there than what may be opened; ``strerror`` says what, for a breeder."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.strerror = message


class LeadsAway(NotOpened):
    """A link stands on the way, or the way leads out of the folder. It was not followed."""

    def __init__(self, path: str, why: str = "") -> None:
        super().__init__(f"{path} {why or 'is a link to another place; links are not followed. Copy it here instead'}")


class TooLarge(NotOpened):
    """The file has ``size`` bytes, more than were asked for."""

    def __init__(self, size: int) -> None:
        super().__init__(f"this file has {size:,} bytes, more than is read")
        self.size = size


@dataclass(frozen=True, slots=True)
class FolderEntry:
    """A name in a folder, and whether it is a link or a folder; else it is a file, or a pipe or the like."""

    name: str
    is_link: bool
    is_folder: bool


@contextmanager
def folder_in(name: str | Path, within: int | None = None) -> Iterator[int]:
    """A handle of a folder by its path, or by its name in ``within``; never of what a link in its place leads to.

    Raises:
        OSError: There is no such folder, or it is a link.
    """
    handle = os.open(name, _FOLDER | os.O_NOFOLLOW, dir_fd=within)
    try:
        yield handle
    finally:
        os.close(handle)


def file_in(name: str, folder: int) -> BufferedReader:
    """A file of a folder, to be read; never what a link in its place leads to. Errors as of :func:`read_below`."""
    return os.fdopen(open_at(name, _FILE, folder, name), "rb")


def read_in(name: str, folder: int, most: int) -> bytes:
    """The bytes of a file of a folder; arguments and errors as of :func:`read_below`."""
    return _whole(open_at(name, _FILE, folder, name), most)


@contextmanager
def folder_below(root: Path, path: str = "", *, make: bool = False) -> Iterator[int]:
    """A handle of a folder below a root (which may itself be reached through links), for ``dir_fd`` of ``os``.

    ``make`` makes the folders that are missing below the root.

    Raises:
        LeadsAway: A link stands on the way, or the way leads upwards.
        OSError: There is no such folder.
    """
    handle = os.open(root, _FOLDER)
    try:
        names = path.split("/") if path else []
        for at, name in enumerate(names, 1):
            shown = "/".join(names[:at])
            if make:
                _make(name, handle)
            inner = open_at(name, _FOLDER, handle, shown)
            os.close(handle)
            handle = inner
        yield handle
    finally:
        os.close(handle)


def entries_below(root: Path, path: str = "") -> list[FolderEntry]:
    """What stands in a folder, in no order. Arguments and errors as of :func:`folder_below`."""
    with folder_below(root, path) as folder, os.scandir(folder) as entries:
        return [FolderEntry(entry.name, entry.is_symlink(), entry.is_dir(follow_symlinks=False)) for entry in entries]


def read_below(root: Path, path: str, most: int) -> bytes:
    """The bytes of a file, ``most`` at the most; the root may itself be reached through links.

    Raises:
        LeadsAway: It is a link, or one stands on the way.
        TooLarge: It has more bytes.
        OSError: It is no file, or cannot be read.
    """
    above, _, name = path.rpartition("/")
    with folder_below(root, above) as folder:
        return _whole(open_at(name, _FILE, folder, path), most)


def read_named(path: Path, most: int) -> bytes:
    """The bytes of a file that the user named, which may lie behind links. Errors as of :func:`read_below`."""
    return _whole(os.open(path, _FILE), most)


def open_at(name: str, flags: int, folder: int, shown: str) -> int:
    """Open one name in an open folder, unless it is a link; ``shown`` is how an error names it."""
    if name in ("", ".", ".."):
        raise LeadsAway(shown, "does not lead to anything in this folder")
    try:
        return os.open(name, flags | os.O_NOFOLLOW, dir_fd=folder)
    except OSError as error:
        if _is_link(name, folder):  # systems disagree about the number of this error
            raise LeadsAway(shown) from error
        if error.errno == errno.ENXIO:  # a socket
            raise NotOpened(_NO_FILE) from error
        raise


def _is_link(name: str, folder: int) -> bool:
    try:
        return stat.S_ISLNK(os.stat(name, dir_fd=folder, follow_symlinks=False).st_mode)
    except OSError:
        return False


def _make(name: str, folder: int) -> None:
    with suppress(FileExistsError):
        os.mkdir(name, dir_fd=folder)


def _whole(handle: int, most: int) -> bytes:
    try:
        state = os.fstat(handle)
        if not stat.S_ISREG(state.st_mode):
            raise NotOpened(_NO_FILE)
        if state.st_size > most:
            raise TooLarge(state.st_size)
        with open(handle, "rb", buffering=0, closefd=False) as file:
            return file.readall()
    finally:
        os.close(handle)
