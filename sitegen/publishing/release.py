"""Puts a finished site in place in one step or not at all.

Everything is prepared in a workshop beside the output folder (``.sitegen/release-NAME``), on the same file system::

    lock      held by the one release at work
    next      the new site while it is put together; after the exchange, the old one for a moment
    spare     what the site before shares with the one that stands, by second names, for the next site to begin with
    before    the old site between two renames, where folders cannot be exchanged in one step
    seen.json hashes of files that were not touched since the last release

A killed release leaves the old site or the new one, whole; the next release clears what is left in the workshop.
Nothing is ever deleted that a manifest does not list.
"""

import contextlib
import errno
import hashlib
import os
import shutil
import stat
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.findings import OutputRefused
from sitegen.publishing import manifest
from sitegen.publishing.crew import share_out
from sitegen.publishing.manifest import Standing
from sitegen.publishing.places import check_output
from sitegen.publishing.replaced import begin, clear, keep_names
from sitegen.publishing.seen import Seen, digest_of_file
from sitegen.publishing.swap import exchange, only_one
from sitegen.store import prepare_folder

_TOGETHER = 40
"""How many files are made as one job at most: a fifth of a second for pages."""
_JOBS_EACH = 8
"""How many jobs a worker has at least: where few files are made, they are the large ones that list everything."""
_DATED_BACK_NS = 3_000_000_000
"""A file is dated this much before it was written, so that whoever changes it later gives it another date."""


@dataclass(frozen=True, slots=True)
class Made:
    """The bytes of a file, and whatever its maker wants to hand back; ``note`` must be such as can be pickled."""

    content: bytes
    note: object = None


@dataclass(frozen=True, slots=True)
class Later:
    """A file that is made when its turn comes, perhaps in another process.

    Attributes:
        make: Makes it.
        digest: SHA-256 of what it would make, where that is known: a file that stands so is not made again.
        note: What it handed back when it was made so.
    """

    make: Callable[[], Made]
    digest: str = ""
    note: object = None


@dataclass(frozen=True, slots=True)
class Last:
    """A file that is made from the notes of all others."""

    make: Callable[[Mapping[str, object]], bytes]


Content = bytes | Path | Later | Last
Tell = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class ReleaseReport:
    """What a release did.

    Attributes:
        output: The published folder.
        written: Number of files that are new or have new content.
        kept: Number of files that stand as they stood.
        removed: Number of files of the old site that the new one does not have.
        set_aside: Folders in which something was found that is not ours to delete, after an earlier release was
            killed at the very moment at which somebody added it.
        made: Number of files that were made (:class:`Later`), not only found to stand.
        digests: Name of each file that is made later to its SHA-256.
        notes: Name of each such file to what its maker handed back.
    """

    output: Path
    written: int
    kept: int
    removed: int
    set_aside: tuple[Path, ...] = ()
    made: int = 0
    digests: Mapping[str, str] = field(default_factory=dict, repr=False)
    notes: Mapping[str, object] = field(default_factory=dict, repr=False)


def publish(
    files: Mapping[str, Content],
    output: Path,
    sources: Sequence[Path] = (),
    workshop: Path | None = None,
    *,
    workers: int = 1,
    tell: Tell = lambda done, total: None,
) -> ReleaseReport:
    """Make ``output`` hold exactly ``files``, in one step or not at all.

    Args:
        files: Name below the output folder, with forward slashes, to bytes, to a file that is copied, or to what
            makes it.
        output: The folder; created when it does not exist.
        sources: Folders that must lie apart from the output (content, themes).
        workshop: Folder for the work, on the file system of the output; ``.sitegen`` beside it if not given.
        workers: How many processes make files.
        tell: Called with the number of files that are made, and how many are to be made.

    Raises:
        OutputRefused: The output is not ours to change, or cannot be written; it is as it was before.
        Exception: Whatever a maker of a file raises; the output is as it was before.
    """
    output = Path(os.path.abspath(output))
    check_output(output, sources)
    manifest.check_names(files)
    shop = workshop_of(output, workshop)
    if shop.is_relative_to(output):
        raise OutputRefused(f"{output} is where sitegen works; choose another folder with --output")
    try:
        prepare_folder(shop.parent)
        shop.mkdir(parents=True, exist_ok=True)
        with only_one(shop / "lock", output):
            return _Release(files, output, shop, workers, tell).done()
    except OSError as failure:
        raise OutputRefused(_told(failure, output)) from failure


def workshop_of(output: Path, workshop: Path | None = None) -> Path:
    """Where a release to ``output`` is prepared, and what is kept of it from one to the next."""
    output = Path(os.path.abspath(output))
    return Path(os.path.abspath(workshop or output.parent / ".sitegen")) / f"release-{output.name}"


def as_published(output: Path, sources: Sequence[Path] = ()) -> ReleaseReport | None:
    """The release that stands at ``output``, whole and unchanged; None when it does not. Changes nothing there.

    Raises:
        OutputRefused: As :func:`publish` does.
    """
    output, shop = Path(os.path.abspath(output)), workshop_of(output)
    check_output(output, sources)
    try:
        with only_one(shop / "lock", output):
            seen = Seen(shop / "seen.json")
            listed = manifest.read(output)
            if not listed or (shop / "before").exists() or manifest.survey(output, seen.digests_below).files != listed:
                return None
            return ReleaseReport(output, 0, len(listed), 0)
    except OSError:
        return None


@dataclass(slots=True)
class _Release:
    """One release: what stands, what is to stand, and what is found while it is put together."""

    files: Mapping[str, Content]
    output: Path
    shop: Path
    workers: int
    tell: Tell
    standing: Standing = field(default_factory=lambda: Standing({}, ()))
    digests: dict[str, str] = field(default_factory=dict)
    notes: dict[str, object] = field(default_factory=dict)
    shared: frozenset[str] = frozenset()
    made: int = 0

    def done(self) -> ReleaseReport:
        """Everything, in order."""
        set_aside = _recover(self.output, self.shop)
        seen = Seen(self.shop / "seen.json")
        if self.output.exists():
            self.standing = manifest.survey(self.output, seen.digests_below)
        self._know(seen)
        written: list[str] = []
        if len(self.digests) < len(self.files) or not self._stands():
            try:
                self.shared, found = begin(
                    self.shop / "next", self.shop, dict.fromkeys(self.files, "") | self.digests, self.standing.states
                )
                set_aside += found
                written = _stage(self, self.shop / "next")
                if self._stands():
                    self._keep_names([])
                else:
                    _put_in_place(self.output, self.shop)
                    seen.remember({self.output / name: self.digests[name] for name in written})
                    self._keep_names(written)
            finally:
                set_aside += clear(self.shop / "next", self.shop)
        seen.keep()
        return ReleaseReport(
            self.output, len(written), len(self.files) - len(written),
            len(self.standing.files.keys() - self.files.keys()), set_aside, self.made,
            {name: self.digests[name] for name in self.notes}, self.notes,
        )  # fmt: skip

    def _know(self, seen: Seen) -> None:
        """The hashes of all that stands ready, and of what need not be made again."""
        ready = {name: content for name, content in self.files.items() if isinstance(content, bytes | Path)}
        self.digests.update(zip(ready, seen.digests(ready.values()), strict=True))
        for name, content in self.files.items():
            if isinstance(content, Later) and content.digest and self.standing.files.get(name) == content.digest:
                self.digests[name], self.notes[name] = content.digest, content.note

    def _stands(self) -> bool:
        """True when the output is already what it is to be."""
        return self.output.exists() and self.standing.files == self.digests == manifest.read(self.output)

    def _keep_names(self, written: Sequence[str]) -> None:
        """Keep what is in the workshop for the next release, but for files that the published site has not."""
        shared = self.standing.files.keys() & self.files.keys() - frozenset(written)
        others = self.standing.files.keys() - shared
        keep_names(self.shop / "next", self.output, self.shop, shared=shared, others=others)

    def put(self, name: str, content: bytes | Path, digest: str, next_site: Path) -> bool:
        """One file of the next site; False when it stood there before and is taken over."""
        place = f"{next_site}/{name}"
        if self.standing.files.get(name) == digest:
            self.take_over(name, next_site)
            return False
        if name in self.shared:
            with contextlib.suppress(FileNotFoundError):  # whoever began with it died
                os.unlink(place)
        _write(place, content)
        if isinstance(content, Path) and digest_of_file(Path(place)) != digest:
            raise OutputRefused(f"{content} was changed while the site was published; build again")
        return True

    def take_over(self, name: str, next_site: Path) -> None:
        """Let a file of the site that stands be one of the next site too."""
        if name not in self.shared:
            _link(f"{self.output}/{name}", f"{next_site}/{name}")

    def make_all(self, next_site: Path) -> list[str]:
        """Make what is not known yet; the names of the files that are new or have new content."""
        missing = [name for name in sorted(self.files) if name not in self.digests]
        later = sorted((name for name in missing if isinstance(self.files[name], Later)), key=_long_ones_first)
        together = max(1, min(_TOGETHER, len(later) // (_JOBS_EACH * self.workers)))
        jobs = [later[start : start + together] for start in range(0, len(later), together)]

        def make(names: list[str]) -> list[tuple[str, str, bool, object]]:
            told = []
            for name in names:
                content = self.files[name]
                assert isinstance(content, Later)
                made = content.make()
                digest = hashlib.sha256(made.content).hexdigest()
                told.append((name, digest, self.put(name, made.content, digest, next_site), made.note))
            return told

        written = []
        for told in share_out(
            make, jobs, self.workers, lambda done: self.tell(min(done * together, len(later)), len(later))
        ):
            for name, digest, is_new, note in told:
                self.digests[name], self.notes[name] = digest, note
                written += [name] if is_new else []
        self.made = len(later)
        for name in missing:
            content = self.files[name]
            if isinstance(content, Last):
                last = content.make(self.notes)
                self.digests[name] = hashlib.sha256(last).hexdigest()
                written += [name] if self.put(name, last, self.digests[name], next_site) else []
        return written


def _long_ones_first(name: str) -> tuple[bool, str]:
    """Files at the top list much and take long; begun last, one worker would wait for the other at the end."""
    return "/" in name, name


def _stage(release: _Release, next_site: Path) -> list[str]:
    """Put the new site together; the names of the files that are new or have new content."""
    output = release.output
    for name in release.standing.carried:
        _link(output / name, next_site / name)
    written = []
    for name in sorted(release.digests):
        content = release.files[name]
        if isinstance(content, Later):
            release.take_over(name, next_site)
        elif not isinstance(content, Last) and release.put(name, content, release.digests[name], next_site):
            written.append(name)
    written += release.make_all(next_site)
    manifest.put(next_site, manifest.written(release.digests))
    if output.exists():
        next_site.chmod(stat.S_IMODE(output.stat().st_mode))
    return written


def _put_in_place(output: Path, shop: Path) -> None:
    """Let the new site stand at ``output`` and the old one, if any, in the workshop."""
    next_site, before = shop / "next", shop / "before"
    if not output.exists():
        output.parent.mkdir(parents=True, exist_ok=True)
        next_site.rename(output)
        return
    if not exchange(next_site, output):
        output.rename(before)
        try:
            next_site.rename(output)
        except OSError:
            before.rename(output)
            raise
        before.rename(next_site)
    if late := manifest.foreign(next_site, manifest.read(next_site)):
        _put_back(output, shop)
        message = (
            f"{late[0]} was put into {output} while the site was published; nothing was changed. Move it elsewhere."
        )
        raise OutputRefused(message)


def _put_back(output: Path, shop: Path) -> None:
    """Undo the exchange: somebody added a file to the old site in the last moment."""
    if not exchange(shop / "next", output):
        output.rename(shop / "before")
        (shop / "next").rename(output)
        (shop / "before").rename(shop / "next")


def _recover(output: Path, shop: Path) -> tuple[Path, ...]:
    """Bring back the old site if a release was killed between two renames, and clear what killed releases left."""
    before = shop / "before"
    if before.exists() and not output.exists():
        before.rename(output)
    return clear(before, shop) + clear(shop / "next", shop)


def _write(path: Path | str, content: bytes | Path) -> None:
    """Create a file; never over another (names that differ in case alone meet here on some systems)."""
    if isinstance(content, bytes):
        file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        try:
            left = memoryview(content)
            while left:
                left = left[os.write(file, left) :]
        finally:
            os.close(file)
    elif os.path.exists(path):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
    else:
        shutil.copyfile(content, path)
    written_ns = time.time_ns() - _DATED_BACK_NS
    os.utime(path, ns=(written_ns, written_ns))


def _link(old: Path | str, new: Path | str) -> None:
    """The same file under a second name; a copy where the file system has no such links."""
    try:
        os.link(old, new)
    except OSError:
        shutil.copy2(old, new)


def _told(failure: OSError, output: Path) -> str:
    """What a failure of the system means for a breeder."""
    where = f" ({failure.filename})" if failure.filename else ""
    match failure.errno:
        case errno.ENOSPC | errno.EDQUOT:
            why = "the disk is full; free some space and build again"
        case errno.EROFS:
            why = "the disk can only be read; choose another folder with --output"
        case errno.EACCES | errno.EPERM:
            why = f"there is no permission to write there{where}; change it, or choose another folder with --output"
        case errno.EXDEV | errno.EBUSY:
            why = "it is a disk of its own and cannot be exchanged in one step; choose a folder inside it with --output"
        case errno.EEXIST:
            why = f"two files of the site have names that are the same to this disk{where}"
        case _:
            why = f"{failure.strerror or failure}{where}"
    return f"the site cannot be put into {output}: {why}. The folder is as it was before."
