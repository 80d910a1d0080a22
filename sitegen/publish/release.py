"""Puts a finished site in place in one step or not at all.

Everything is prepared in a folder of random name beside the output folder, ``.NAME-0123456789abcdef.sitegen``, made for
this release alone; after the exchange the old site stands there for a moment, and is deleted by its own manifest. A
killed release leaves the old site or the new one, whole; the next release clears what is left, if the user's own cache
proves that it is ours. No link is followed at any level below the folder in which the output lies.
"""

import contextlib
import errno
import hashlib
import os
import re
import secrets
import stat
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from sitegen.below import file_in, folder_in
from sitegen.content.writing import remember_written
from sitegen.findings import OutputRefused
from sitegen.interrupts import held_back, let_through
from sitegen.photos.store import Kept, cache_folder
from sitegen.publish import manifest
from sitegen.publish.manifest import Standing
from sitegen.publish.swap import Begun, Notebook, exchange, only_one

File = bytes | Kept | Callable[[], bytes]
"""The bytes of a file, an entry of the store, or what makes the bytes when their turn comes."""
Tell = Callable[[int, int], None]

_UNKNOWN = "0" * 64
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC


@dataclass(frozen=True, slots=True)
class ReleaseReport:
    """What a release did.

    Attributes:
        written: Number of files that are new or have new content.
        kept: Number of files that stand as they stood.
        removed: Number of files of the old site that the new one does not have.
        set_aside: Folders beside the output that look as if an earlier release had left them, and were not touched:
            they cannot be proved to be ours, or hold something that is not.
    """

    output: Path
    written: int
    kept: int
    removed: int
    set_aside: tuple[Path, ...] = ()


def publish(
    files: Mapping[str, File], output: Path, sources: Sequence[Path] = (), *, tell: Tell = lambda done, total: None
) -> ReleaseReport:
    """Make ``output`` hold exactly ``files``, in one step or not at all.

    Args:
        files: Name below the output folder, with forward slashes, to the file; they are made in this order.
        output: The folder; created when it does not exist.
        sources: Folders that must lie apart from the output (content, themes).
        tell: Called with the number of files that are made, and how many are to be made.

    Raises:
        OutputRefused: The output is not ours to change, or cannot be written; it is as it was before.
    """
    output = Path(os.path.abspath(output))
    check_output(output, (*sources, cache_folder()))
    manifest.check_names(files)
    try:
        output.parent.mkdir(parents=True, exist_ok=True)
        place = Path(os.path.realpath(output.parent))
        with only_one(place / output.name) as notebook, folder_in(place) as parent, held_back():
            return _Release(files, output, parent, notebook, tell).done()
    except OSError as failure:
        raise OutputRefused(_told(failure, output)) from failure


def check_output(output: Path, sources: Sequence[Path] = ()) -> None:
    """Refuse folders in which a site must never be put; cheap, so that a build can ask before it begins.

    Raises:
        OutputRefused: The output is a link, a file, the root or home folder or above it, or inside or around a source.
    """
    if output.is_symlink():
        raise OutputRefused(f"the output folder {output} is a link; name the folder itself with --output")
    try:
        place = output.resolve()
        if place.exists() and not place.is_dir():
            raise OutputRefused(f"the output {output} is a file, not a folder; choose another name with --output")
    except (OSError, RuntimeError) as failure:
        raise OutputRefused(f"the output folder {output} cannot be reached: {failure}") from failure
    if place == Path(place.anchor) or place in (home := Path(os.path.expanduser("~")).resolve(), *home.parents):
        raise OutputRefused(f"{output} is not a folder for a site; choose one of its own with --output")
    for source in sources:
        _check_apart(output, place, source)


def _check_apart(output: Path, place: Path, source: Path) -> None:
    origin = source.resolve()
    if place == origin:
        raise OutputRefused(f"the output folder {output} is the folder {source} itself; choose another with --output")
    if place.is_relative_to(origin):
        raise OutputRefused(f"the output folder {output} lies inside {source}; choose one outside with --output")
    if origin.is_relative_to(place):
        raise OutputRefused(f"the output folder {output} holds the folder {source}; choose another with --output")


@dataclass(slots=True)
class _Release:
    """One release: what stands, what is to stand, and where it is put together.

    Signals are held back while it is at work, but for the part that takes long.

    Attributes:
        parent: Handle of the folder in which the output lies.
        notebook: Where it is noted what was begun.
        digests: Name to SHA-256 of all that is to stand, as far as it is known.
        written: Names of files that are new or have new content.
    """

    files: Mapping[str, File]
    output: Path
    parent: int
    notebook: Notebook
    tell: Tell
    standing: Standing = field(default_factory=Standing)
    digests: dict[str, str] = field(default_factory=dict)
    written: list[str] = field(default_factory=list)

    def done(self) -> ReleaseReport:
        """Everything, in order."""
        set_aside = self._recover()
        begun = Begun(f".{self.output.name[:100]}-{secrets.token_hex(8)}.sitegen")
        listed: Mapping[str, str] = dict.fromkeys(self.files, "")
        try:
            with let_through():
                old = self._survey()
                begun = self._begin(begun, old)
                with folder_in(begun.name, self.parent) as staging:
                    self._stage(staging)
                    stands = old is not None and self.standing.files == self.digests
                    if not stands:
                        self._complete(staging, old)
            if not stands:
                self._put_in_place(begun, old)
                listed = self.standing.files
        finally:
            set_aside += self._clear(begun, listed)
        return ReleaseReport(
            self.output, len(self.written), len(self.files) - len(self.written),
            len(self.standing.files.keys() - self.files.keys()), set_aside,
        )  # fmt: skip

    def _survey(self) -> os.stat_result | None:
        """Look at what stands in the output folder, and give the folder's state; None when there is none."""
        if self._state(self.output.name) is None:
            return None
        with folder_in(self.output.name, self.parent) as folder:
            self.standing = manifest.survey(self.output, folder)
            return os.fstat(folder)

    def _begin(self, begun: Begun, old: os.stat_result | None) -> Begun:
        """Make the folder in which the new site is put together, and note it."""
        self.notebook.write(begun)
        os.mkdir(begun.name, 0o700, dir_fd=self.parent)
        if old is not None and not os.access(self.output.name, os.W_OK, dir_fd=self.parent):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(self.output))
        made = os.stat(begun.name, dir_fd=self.parent, follow_symlinks=False)
        begun = replace(begun, device=made.st_dev, number=made.st_ino)
        if old is not None:
            begun = replace(begun, old_device=old.st_dev, old_number=old.st_ino)
        self.notebook.write(begun)
        return begun

    def _stage(self, staging: int) -> None:
        """Make every file, and write those that are new or have new content; what stands is left where it is."""
        write_file(manifest.NAME, manifest.written(dict.fromkeys(self.files, _UNKNOWN)), staging)
        for folder in sorted(manifest.folders_of(self.files)):
            os.mkdir(folder, 0o755, dir_fd=staging)
            os.chmod(folder, 0o755, dir_fd=staging)  # noqa: S103 - a site; whatever the umask
        for number, (name, file) in enumerate(self.files.items()):
            if not isinstance(file, Kept) or self.standing.files.get(name) != file.digest:
                content = file if isinstance(file, bytes) else file.read() if isinstance(file, Kept) else file()
                self.digests[name] = hashlib.sha256(content).hexdigest()
                if self.standing.files.get(name) != self.digests[name]:
                    write_file(name, content, staging)
                    self.written.append(name)
            else:
                self.digests[name] = file.digest
            self.tell(number + 1, len(self.files))

    def _complete(self, staging: int, old: os.stat_result | None) -> None:
        """Take over what stays as it is, and write the list of all."""
        if old is not None:
            with folder_in(self.output.name, self.parent) as folder:
                new = frozenset(self.written)
                for name in (*self.standing.carried, *(name for name in self.digests if name not in new)):
                    _take_over(name, folder, staging, self.standing.states.get(name))
        write_file(manifest.ASIDE, manifest.written(self.digests), staging)
        os.replace(manifest.ASIDE, manifest.NAME, src_dir_fd=staging, dst_dir_fd=staging)
        os.fchmod(staging, stat.S_IMODE(old.st_mode) if old is not None else 0o755)

    def _put_in_place(self, begun: Begun, old: os.stat_result | None) -> None:
        """Let the new site stand at ``output``, and the old one, if any, under the other name."""
        if old is None:
            os.rename(begun.name, self.output.name, src_dir_fd=self.parent, dst_dir_fd=self.parent)
        else:
            self._exchange(begun)
            if late := self._foreign(begun.name):
                self._exchange(begun)
                message = f"{late[0]} was put into {self.output} while the site was published; nothing was changed. "
                raise OutputRefused(message + "Move it elsewhere.")
        remember_written(str(self.output))

    def _exchange(self, begun: Begun) -> None:
        """Exchange output and the other folder: in one step, or in three renames that the next release would undo."""
        if exchange(begun.name, self.output.name, self.parent):
            return
        between = replace(begun, before=f".{self.output.name[:100]}-{secrets.token_hex(8)}.sitegen")
        self.notebook.write(between)
        self._rename(self.output.name, between.before)
        try:
            self._rename(begun.name, self.output.name)
        except OSError:
            self._rename(between.before, self.output.name)
            raise
        self._rename(between.before, begun.name)
        self.notebook.write(begun)

    def _rename(self, old: str, new: str) -> None:
        os.rename(old, new, src_dir_fd=self.parent, dst_dir_fd=self.parent)

    def _foreign(self, name: str) -> tuple[str, ...]:
        """What somebody added to the old site in the last moment."""
        with folder_in(name, self.parent) as folder:
            return manifest.foreign(folder, self.standing.files)

    def _clear(self, begun: Begun, listed: Mapping[str, str]) -> tuple[Path, ...]:
        """Delete what is left under the other name, and strike out the note; what had to be left is told."""
        left = tuple[Path, ...]()
        with contextlib.suppress(FileNotFoundError):
            if not manifest.clear(begun.name, self.parent, listed):
                left = (self.output.parent / begun.name,)
        self.notebook.write(None)
        return left

    def _recover(self) -> tuple[Path, ...]:
        """Bring back the old site if a release was killed between two renames, and clear what killed releases left."""
        begun, left = self.notebook.read(), tuple[Path, ...]()
        if begun is not None:
            if begun.before and self._state(self.output.name) is None and self._is_ours(begun, begun.before):
                self._rename(begun.before, self.output.name)
            for name in filter(None, (begun.name, begun.before)):
                if self._is_ours(begun, name):
                    left += self._clear(replace(begun, name=name), self._listed(name))
            self.notebook.write(None)
        looks_so = re.compile(rf"\.{re.escape(self.output.name[:100])}-[0-9a-f]{{16}}\.sitegen")
        known = {path.name for path in left}
        others = sorted(name for name in os.listdir(self.parent) if looks_so.fullmatch(name) and name not in known)
        return left + tuple(self.output.parent / name for name in others)

    def _state(self, name: str) -> os.stat_result | None:
        try:
            return os.stat(name, dir_fd=self.parent, follow_symlinks=False)
        except FileNotFoundError:
            return None

    def _is_ours(self, begun: Begun, name: str) -> bool:
        """True for a folder that the last release noted, or was just about to make."""
        state = self._state(name)
        if state is None or not stat.S_ISDIR(state.st_mode):
            return False
        return begun.is_it(state) or not begun.number  # clearing then deletes it only if it is empty

    def _listed(self, name: str) -> Mapping[str, str]:
        with folder_in(name, self.parent) as folder, contextlib.suppress(manifest.Nonsense):
            return manifest.read(folder) or {}
        return {}


def write_file(name: str, content: bytes, folder: int) -> None:
    """Create a file; never over another (names that differ in case alone meet here on some systems)."""
    handle = os.open(name, _NEW, 0o644, dir_fd=folder)
    with os.fdopen(handle, "wb") as file:
        os.fchmod(handle, 0o644)  # whatever the umask
        file.write(content)


def _take_over(name: str, old: int, new: int, state: os.stat_result | None) -> None:
    """The same file under a second name; a copy with its times where that cannot be, or its mode is no ordinary one."""
    if state is None or stat.S_IMODE(state.st_mode) == 0o644:
        try:
            os.link(name, name, src_dir_fd=old, dst_dir_fd=new, follow_symlinks=False)
            return
        except OSError as failure:
            if failure.errno in (errno.ENOENT, errno.EEXIST):
                raise
    with file_in(name, old) as file:
        state = os.fstat(file.fileno())
        write_file(name, file.read(), new)
    os.utime(name, ns=(state.st_atime_ns, state.st_mtime_ns), dir_fd=new)


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
