"""Things made before, kept by content key: written aside, moved into place, pruned.

A store is a cache and nothing else: every entry can be made again, so losing the folder costs time only.
Layout: ``FOLDER/KIND/KEY[:2]/KEY``. An entry appears whole or not at all, because it is written under another
name first and then moved (``os.replace`` is atomic within one file system).
"""

import errno
import hashlib
import os
import re
import tempfile
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

_KIND = re.compile(r"[a-z][a-z0-9-]*")
_KEY = re.compile(r"[0-9a-z][0-9a-z._-]{2,120}")
_SEAL = 64  # signs of the hash in front of what is sealed
_ASIDE = ".aside-"  # what a write that was killed leaves behind
_LONG_AGO_S = 3600  # no write takes so long; what lies aside since then was left by a killed one

# The tag that tells backup programs to pass this folder by; Source: bford.info/cachedir, version 1 (from memory).
_CACHE_TAG = "Signature: 8a477f597d28d172789f06886806bc55\n# Kept by sitegen; may be deleted at any time.\n"


@dataclass(frozen=True, slots=True)
class Store:
    """A folder of things made before. It is created at the first write; two programs may share it.

    Keys are lower case letters, digits, ``.``, ``_`` and ``-``; a key must name its content completely, since an
    entry is never looked at again once it is there.
    """

    folder: Path

    def place(self, kind: str, key: str) -> Path:
        """Where the entry stands, whether or not it is there.

        Raises:
            ValueError: ``kind`` or ``key`` is not a plain name.
        """
        return Path(self._name(kind, key))

    def find(self, kind: str, key: str) -> Path | None:
        """The entry's file, or None. An empty file (a machine that lost its power) counts as not there."""
        name = self._name(kind, key)
        try:
            return Path(name) if os.stat(name).st_size > 0 else None
        except OSError:
            return None

    def read(self, kind: str, key: str) -> bytes | None:
        """The entry's bytes, or None."""
        try:
            with open(self._name(kind, key), "rb") as file:
                return file.read() or None
        except OSError:
            return None

    def write(self, kind: str, key: str, content: bytes) -> Path:
        """Put an entry in place in one step.

        Raises:
            OSError: The folder cannot be written; what was there before is untouched.
            ValueError: ``content`` is empty, which would count as not there.
        """
        if not content:
            raise ValueError("an empty entry cannot be told from a missing one")
        path = self.place(kind, key)
        prepare_folder(self.folder)
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, aside = tempfile.mkstemp(prefix=_ASIDE, dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            os.chmod(aside, 0o644)
            os.replace(aside, path)
        except BaseException:
            Path(aside).unlink(missing_ok=True)
            raise
        return path

    def prune(self, kind: str, keep: Iterable[str]) -> int:
        """Remove every entry of one kind whose key is not in ``keep``, and what killed writes left; count them.

        Only names that this store could have written are touched.
        """
        kept = frozenset(keep)
        removed = 0
        for file in self._files(kind):
            if file.name in kept:
                continue
            folder = Path(file.path).parent.name
            entry = _KEY.fullmatch(file.name) is not None and file.name[:2] == folder
            if entry or _left_aside(file):
                Path(file.path).unlink(missing_ok=True)
                removed += 1
        return removed

    def _name(self, kind: str, key: str) -> str:
        if not _KIND.fullmatch(kind) or not _KEY.fullmatch(key) or ".." in key:
            raise ValueError(f"not a key of the store: {kind}/{key}")
        return f"{self.folder}/{kind}/{key[:2]}/{key}"

    def _files(self, kind: str) -> Iterator[os.DirEntry[str]]:
        for folder in sorted((self.folder / kind).glob("??")):
            if folder.is_dir():
                with os.scandir(folder) as files:
                    yield from [file for file in files if file.is_file(follow_symlinks=False)]


def why_not_written(failure: OSError) -> str:
    """What keeps an entry from being written, and for a full disk what to do."""
    if failure.errno in (errno.ENOSPC, errno.EDQUOT):
        return "the disk is full; free some space and build again"
    return failure.strerror or str(failure)


def prepare_folder(folder: Path) -> None:
    """Create a folder for things that can be made again; its marks keep it out of backups and version control.

    A folder that is there is left as it is.
    """
    if folder.is_dir():
        return
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "CACHEDIR.TAG").write_text(_CACHE_TAG, encoding="utf-8")
    (folder / ".gitignore").write_text("*\n", encoding="utf-8")


def _left_aside(file: os.DirEntry[str]) -> bool:
    return file.name.startswith(_ASIDE) and time.time() - file.stat().st_mtime > _LONG_AGO_S


def sealed(content: bytes) -> bytes:
    """The content behind its own hash, so that whoever reads it can tell that it is whole."""
    return _seal(content) + b"\n" + content


def unsealed(content: bytes) -> bytes:
    """What was sealed.

    Raises:
        ValueError: It was cut off or spoilt since.
    """
    inner = content[_SEAL + 1 :]
    if content[: _SEAL + 1] != _seal(inner) + b"\n":
        raise ValueError("not whole")
    return inner


def _seal(content: bytes) -> bytes:
    return hashlib.blake2b(content, digest_size=_SEAL // 2).hexdigest().encode()
