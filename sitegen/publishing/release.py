"""Puts a finished site in place in one step or not at all.

Everything is prepared in a workshop beside the output folder (``.sitegen/release-NAME``), on the same file system::

    lock      held by the one release at work
    next      the new site while it is put together; after the exchange, the old one until it is cleared
    before    the old site between two renames, where folders cannot be exchanged in one step
    seen.json hashes of files that were not touched since the last release

A killed release leaves the old site or the new one, whole; the next release clears what is left in the workshop.
Nothing is ever deleted that a manifest does not list.
"""

import errno
import os
import shutil
import stat
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from sitegen.findings import OutputRefused
from sitegen.publishing import manifest
from sitegen.publishing.manifest import Standing
from sitegen.publishing.places import check_output
from sitegen.publishing.seen import Seen, digest_of_file
from sitegen.publishing.swap import exchange, only_one
from sitegen.store import prepare_folder

Content = bytes | Path


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
    """

    output: Path
    written: int
    kept: int
    removed: int
    set_aside: tuple[Path, ...] = ()


def publish(
    files: Mapping[str, Content], output: Path, sources: Sequence[Path] = (), workshop: Path | None = None
) -> ReleaseReport:
    """Make ``output`` hold exactly ``files``, in one step or not at all.

    Args:
        files: Name below the output folder, with forward slashes, to bytes or to a file that is copied.
        output: The folder; created when it does not exist.
        sources: Folders that must lie apart from the output (content, themes).
        workshop: Folder for the work, on the file system of the output; ``.sitegen`` beside it if not given.

    Raises:
        OutputRefused: The output is not ours to change, or cannot be written; it is as it was before.
    """
    output = Path(os.path.abspath(output))
    check_output(output, sources)
    manifest.check_names(files)
    shop = Path(os.path.abspath(workshop or output.parent / ".sitegen")) / f"release-{output.name}"
    if shop.is_relative_to(output):
        raise OutputRefused(f"{output} is where sitegen works; choose another folder with --output")
    try:
        prepare_folder(shop.parent)
        shop.mkdir(parents=True, exist_ok=True)
        with only_one(shop / "lock", output):
            return _release(files, output, shop)
    except OSError as failure:
        raise OutputRefused(_told(failure, output)) from failure


def _release(files: Mapping[str, Content], output: Path, shop: Path) -> ReleaseReport:
    set_aside = _recover(output, shop)
    seen = Seen(shop / "seen.json")
    standing = manifest.survey(output, seen.digests) if output.exists() else Standing({}, ())
    names = sorted(files)
    digests = dict(zip(names, seen.digests(files[name] for name in names), strict=True))
    kept = [name for name in names if standing.files.get(name) == digests[name]]
    removed = len(standing.files.keys() - digests.keys())
    if not (output.exists() and manifest.read(output) == digests and len(kept) == len(names)):
        try:
            _stage(files, digests, standing, output, shop / "next")
            _put_in_place(output, shop)
        finally:
            set_aside += _clear(shop / "next", shop)
    seen.keep()
    return ReleaseReport(output, len(names) - len(kept), len(kept), removed, set_aside)


def _stage(
    files: Mapping[str, Content], digests: Mapping[str, str], standing: Standing, output: Path, next_site: Path
) -> None:
    """Put the new site together. The manifest comes first, so that a half-made site can be cleared by it."""
    next_site.mkdir()
    _write(next_site / manifest.NAME, manifest.written(digests))
    for name in standing.carried:
        _link(output / name, next_site / name)
    made: set[Path] = {next_site}
    for name, digest in digests.items():
        path = next_site / name
        if path.parent not in made:
            path.parent.mkdir(parents=True, exist_ok=True)
            made.add(path.parent)
        if standing.files.get(name) == digest:
            _link(output / name, path)
        else:
            _write(path, files[name])
            _check_copy(path, files[name], digest)
    if output.exists():
        next_site.chmod(stat.S_IMODE(output.stat().st_mode))


def _check_copy(path: Path, content: Content, digest: str) -> None:
    if isinstance(content, Path) and digest_of_file(path) != digest:
        raise OutputRefused(f"{content} was changed while the site was published; build again")


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
    return _clear(before, shop) + _clear(shop / "next", shop)


def _clear(folder: Path, shop: Path) -> tuple[Path, ...]:
    """Delete a site in the workshop, but only what its manifest lists; what else is found is set aside and told."""
    if not folder.exists():
        return ()
    listed = manifest.read(folder)
    found = list(manifest.walk(folder))
    for name, is_folder in found:
        if not is_folder and (name in listed or name in manifest.CARRIED or name == manifest.NAME):
            (folder / name).unlink()
    others = False
    for name in [*(name for name, is_folder in reversed(found) if is_folder), "."]:
        try:
            (folder / name).rmdir()
        except OSError as failure:
            if failure.errno not in (errno.ENOTEMPTY, errno.EEXIST, errno.ENOTDIR):
                raise
            others = True
    if not others:
        return ()
    number = next(n for n in range(1, 10_000) if not (shop / f"found-{n}").exists())
    return (folder.rename(shop / f"found-{number}"),)


def _write(path: Path, content: Content) -> None:
    """Create a file; never over another (names that differ in case alone meet here on some systems)."""
    if isinstance(content, bytes):
        with path.open("xb") as file:
            file.write(content)
    elif path.exists():
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
    else:
        shutil.copyfile(content, path)


def _link(old: Path, new: Path) -> None:
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
