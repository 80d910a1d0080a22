"""Two folders exchanged in one step, and a lock that lets one release at a time do so."""

import ctypes
import errno
import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sitegen.findings import OutputRefused

# Source: renameat2(2) and linux/fs.h.
_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
_NOT_SUPPORTED = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM)


def exchange(one: Path, other: Path) -> bool:
    """Exchange two existing folders in one step; False where the system cannot do that.

    Raises:
        OSError: The system can, but not here (permission, another file system).
    """
    try:
        renameat2 = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError):
        return False
    if renameat2(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in _NOT_SUPPORTED:
        return False
    raise OSError(number, os.strerror(number), str(other))


@contextmanager
def only_one(lock: Path, output: Path) -> Iterator[None]:
    """Hold the lock file for a while; it is freed by the system when the process ends, however it ends.

    Raises:
        OutputRefused: Another release holds it.
    """
    with lock.open("a") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as failure:
            if failure.errno not in (errno.EWOULDBLOCK, errno.EACCES):
                raise
            message = f"another build is just writing to {output}; nothing was changed. Build again when it is done."
            raise OutputRefused(message) from failure
        yield
