"""Two folders exchanged in one step, and the one release at a time that may do so."""

import contextlib
import ctypes
import errno
import fcntl
import hashlib
import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path

from sitegen.findings import OutputRefused
from sitegen.photos.store import cache_folder, prepare_folder

_RENAME_EXCHANGE = 2  # Source: renameat2(2) and linux/fs.h.
_NOT_SUPPORTED = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM)


def exchange(one: str, other: str, parent: int) -> bool:
    """Exchange two existing folders of a folder in one step; False where the system cannot do that.

    Raises:
        OSError: The system can, but not here (permission, another file system).
    """
    try:
        renameat2 = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError):
        return False
    if renameat2(parent, os.fsencode(one), parent, os.fsencode(other), _RENAME_EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in _NOT_SUPPORTED:
        return False
    raise OSError(number, os.strerror(number), other)


@dataclass(frozen=True, slots=True)
class Begun:
    """A folder that a release began beside its output: its name, and what tells it from any other of that name.

    Attributes:
        name: Of the new site while it is put together; after the exchange, of the old one.
        device, number: Of the folder; of the old site after the exchange. 0 before it was made.
        before: The old site's name between two renames, where folders cannot be exchanged in one step.
        old_device, old_number: Of the old site, which may stand under either name; 0 when there is none.
    """

    name: str
    device: int = 0
    number: int = 0
    before: str = ""
    old_device: int = 0
    old_number: int = 0

    def is_it(self, state: os.stat_result) -> bool:
        """True for the folder that was made, and for the old site that took its place."""
        return (state.st_dev, state.st_ino) in ((self.device, self.number), (self.old_device, self.old_number))


class Notebook:
    """What the release to one output notes of its folder, in the user's cache: no stranger writes there.

    So what a killed release left is told from whatever else has such a name.
    """

    def __init__(self, handle: int) -> None:
        self._handle = handle

    def read(self) -> Begun | None:
        """What the last release noted and did not strike out; None when nothing can be understood."""
        try:
            return Begun(**json.loads(os.pread(self._handle, 10_000, 0)))
        except (ValueError, TypeError):
            return None

    def write(self, begun: Begun | None) -> None:
        """Note what was begun, or that nothing is left of it."""
        told = json.dumps(asdict(begun)).encode() if begun else b""
        os.pwrite(self._handle, told.ljust(4_000), 0)


@contextmanager
def only_one(output: Path) -> Iterator[Notebook]:
    """Let one release at a time write to an output, a path without links; the system frees it however the process ends.

    Raises:
        OutputRefused: Another release is at work there.
        OSError: The cache folder cannot be written.
    """
    prepare_folder(cache_folder())
    folder = cache_folder() / "releases"
    folder.mkdir(mode=0o700, exist_ok=True)
    name = hashlib.sha256(os.fsencode(output)).hexdigest()[:32]
    handle = os.open(folder / name, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW | os.O_CLOEXEC, 0o600)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as failure:
        os.close(handle)
        if failure.errno not in (errno.EWOULDBLOCK, errno.EACCES):
            raise
        message = f"another build is just writing to {output}; nothing was changed. Build again when it is done."
        raise OutputRefused(message) from failure
    try:
        yield Notebook(handle)
    finally:
        with contextlib.suppress(OSError):
            os.close(handle)
