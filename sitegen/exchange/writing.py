"""Puts new files in place whole or not at all, and never over one that is there."""

import errno
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from sitegen.findings import SitegenError


class FileThere(SitegenError):  # noqa: N818 - named for what happened
    """A file of that name stands there already and is left as it is."""


def write_records(content: Path, records: Mapping[str, str]) -> tuple[Path, ...]:
    """Write new records below the content folder.

    Each file appears whole or not at all. When writing stops half-way, those that stand are sound, and the same
    import goes on with the rest.

    Raises:
        FileThere: A record of that name has appeared meanwhile.
        SitegenError: A file cannot be written.
    """
    written = []
    for path, text in records.items():
        target = content / path
        write_new(target, text.encode("utf-8"))
        written.append(target)
    return tuple(written)


def write_new(target: Path, content: bytes, *, replace: bool = False) -> None:
    """Write a file aside and move it into place in one step.

    Args:
        target: Where it belongs; its folder is made.
        content: Its bytes.
        replace: Take the place of a file that stands there.

    Raises:
        FileThere: A file stands there and may not be replaced.
        SitegenError: It cannot be written.
    """
    try:
        if not target.parent.is_dir():
            _make_folder(target.parent)
        if os.path.lexists(target) and not replace:
            raise FileThere(f"{target} is there already, and was not changed")
        handle, aside = tempfile.mkstemp(prefix=".aside-", dir=target.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            os.chmod(aside, 0o644)
            _move(aside, target, replace=replace)
        finally:
            Path(aside).unlink(missing_ok=True)
    except FileExistsError:
        raise FileThere(f"{target} is there already, and was not changed") from None
    except OSError as error:
        raise SitegenError(f"{target} cannot be written: {error.strerror or error}") from None


def _make_folder(folder: Path) -> None:
    """The folder, and those above it.

    Raises:
        NotADirectoryError: A file stands where a folder is needed.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise NotADirectoryError(errno.ENOTDIR, "a file stands where a folder is needed") from None


def _move(aside: str, target: Path, *, replace: bool) -> None:
    """Into place in one step. A link fails when the name is taken, so it can never overwrite."""
    if replace:
        os.replace(aside, target)
        return
    try:
        os.link(aside, target)
    except FileExistsError:
        raise
    except OSError:  # a file system without links, such as that of a memory stick
        if os.path.lexists(target):
            raise FileExistsError from None
        os.replace(aside, target)
