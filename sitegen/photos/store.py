"""Encoded pictures, kept from build to build in the user's own cache folder under the content that they belong to.

A cache and nothing else: every entry can be made again, so losing the folder costs time only. Nothing that arrives
with a collection gets here, and every entry begins with the SHA-256 of the rest, so that one that was cut off, zeroed
or spoilt is made anew. Layout: ``FOLDER/KIND/KEY[:2]/KEY``. An entry appears whole or not at all, because it is written
under a random name first and then moved (``os.replace`` is atomic within one file system).
"""

import contextlib
import errno
import hashlib
import os
import re
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import platformdirs

CACHE = "SITEGEN_CACHE"
"""The variable of the environment that names another cache folder."""

_KIND = re.compile(r"[a-z][a-z0-9-]*")
_KEY = re.compile(r"[0-9a-z][0-9a-z._-]{2,120}")
_SEAL_BYTES = 65  # 64 hexadecimal digits and a line's end in front of every entry
ASIDE = ".aside-"  # what a write that was killed leaves behind
LONG_AGO_S = 3600  # no write takes so long; what lies aside since then was left by a killed one
_UNUSED_S = 60 * 24 * 3600  # what no build has asked for since then goes
_TOUCHED_S = 24 * 3600  # how exactly it is known when an entry was last asked for

# The tag that tells backup programs to pass this folder by; Source: bford.info/cachedir, version 1 (from memory).
_CACHE_TAG = "Signature: 8a477f597d28d172789f06886806bc55\n# Kept by sitegen; may be deleted at any time.\n"


def cache_folder() -> Path:
    """The user's own folder for what can be made again, or the one that ``SITEGEN_CACHE`` names."""
    named = os.environ.get(CACHE)
    return Path(os.path.abspath(named)) if named else platformdirs.user_cache_path("sitegen", appauthor=False)


@dataclass(frozen=True, slots=True)
class Kept:
    """An entry that was found whole: where it stands, and the SHA-256 of its content."""

    path: Path
    digest: str

    def read(self) -> bytes:
        """The content.

        Raises:
            OSError: It was taken away or spoilt since it was found.
        """
        digest, content = _whole(self.path) or ("", b"")
        if digest != self.digest:
            raise OSError(errno.EIO, "a kept picture was changed meanwhile; build again", str(self.path))
        return content


@dataclass(frozen=True, slots=True)
class Store:
    """A folder of things made before. It is created at the first write; two programs may share it.

    Keys are lower case letters, digits, ``.``, ``_`` and ``-``; a key must name its content completely.
    """

    folder: Path

    @classmethod
    def of_user(cls) -> "Store":
        """The store in the user's cache folder."""
        return cls(cache_folder())

    def place(self, kind: str, key: str) -> Path:
        """Where the entry stands, whether or not it is there.

        Raises:
            ValueError: ``kind`` or ``key`` is not a plain name.
        """
        if not _KIND.fullmatch(kind) or not _KEY.fullmatch(key) or ".." in key:
            raise ValueError(f"not a key of the store: {kind}/{key}")
        return self.folder / kind / key[:2] / key

    def find(self, kind: str, key: str) -> Kept | None:
        """The entry, or None when there is none that is whole. The day on which it was asked for is noted."""
        path = self.place(kind, key)
        whole = _whole(path)
        if whole is None:
            return None
        with contextlib.suppress(OSError):
            if time.time() - path.stat().st_mtime > _TOUCHED_S:
                os.utime(path)
        return Kept(path, whole[0])

    def read(self, kind: str, key: str) -> bytes | None:
        """The content of the entry, or None when there is none that is whole."""
        whole = _whole(self.place(kind, key))
        return whole[1] if whole else None

    def write(self, kind: str, key: str, content: bytes) -> Kept:
        """Put an entry in place in one step, over whatever stands there.

        Raises:
            OSError: The folder cannot be written; what was there before is untouched.
        """
        path = self.place(kind, key)
        prepare_folder(self.folder)
        path.parent.mkdir(parents=True, exist_ok=True)
        digest = hashlib.sha256(content).hexdigest()
        handle, aside = tempfile.mkstemp(prefix=ASIDE, dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(f"{digest}\n".encode("ascii") + content)
            os.replace(aside, path)
        except BaseException:
            Path(aside).unlink(missing_ok=True)
            raise
        return Kept(path, digest)

    def prune(self, kind: str) -> int:
        """Remove what no build has asked for in sixty days, and what killed writes left; count it.

        Only names that this store could have written are touched.
        """
        now, removed = time.time(), 0
        for file in self._files(kind):
            age_s = now - file.stat(follow_symlinks=False).st_mtime
            entry = _KEY.fullmatch(file.name) is not None and file.name[:2] == Path(file.path).parent.name
            aside = file.name.startswith(ASIDE)
            if (entry and age_s > _UNUSED_S) or (aside and age_s > LONG_AGO_S):
                Path(file.path).unlink(missing_ok=True)
                removed += 1
        return removed

    def _files(self, kind: str) -> Iterator[os.DirEntry[str]]:
        for folder in sorted((self.folder / kind).glob("??")):
            if folder.is_dir() and not folder.is_symlink():
                with os.scandir(folder) as files:
                    yield from [file for file in files if file.is_file(follow_symlinks=False)]


def _whole(path: Path) -> tuple[str, bytes] | None:
    """Hash and content of an entry; None when there is none, or it is not what its first line says."""
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as file:
            told = file.read()
    except OSError:
        return None
    content = told[_SEAL_BYTES:]
    digest = hashlib.sha256(content).hexdigest()
    return (digest, content) if told[:_SEAL_BYTES] == f"{digest}\n".encode("ascii") else None


def why_not_written(failure: OSError) -> str:
    """What keeps an entry from being written, and for a full disk what to do."""
    if failure.errno in (errno.ENOSPC, errno.EDQUOT):
        return "the disk is full; free some space and build again"
    return failure.strerror or str(failure)


def prepare_folder(folder: Path) -> None:
    """Create a folder for things that can be made again; its mark keeps it out of backups.

    A folder that is there is left as it is.
    """
    if folder.is_dir():
        return
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "CACHEDIR.TAG").write_text(_CACHE_TAG, encoding="utf-8")
