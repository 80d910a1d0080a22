"""Sites in the workshop that are not published: what is left of one is cleared, or its names are kept for the next.

A build after one new weight changes a few files of many thousand, and the next site has the others under the very same
file, by a second name. The site that was replaced is therefore not cleared: it loses what differs from the new one, and
the next site begins with it. What is kept takes the room of names alone.
"""

import contextlib
import errno
import os
import stat
from collections.abc import Iterable, Mapping
from pathlib import Path

from sitegen.publishing import manifest

SPARE = "spare"
"""Where in the workshop the replaced site stands."""


def clear(folder: Path, shop: Path) -> tuple[Path, ...]:
    """Delete a site in the workshop, but only what its manifest lists; what else is found is set aside and told."""
    if not folder.exists():
        return ()
    listed = manifest.read(folder)
    found = list(manifest.walk(folder))
    for name in [".", *(name for name, is_folder in found if is_folder)]:
        _open_to_us(folder / name)
    for name, is_folder in found:
        if not is_folder and (name in listed or name in manifest.CARRIED):
            os.unlink(f"{folder}/{name}")
    others = False
    for name in [*(name for name, is_folder in reversed(found) if is_folder), "."]:
        if name == ".":  # the list goes last, so that whoever is killed here leaves what the next one can clear
            (folder / manifest.NAME).unlink(missing_ok=True)
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


def keep_names(replaced: Path, output: Path, shop: Path, *, shared: Iterable[str], others: Iterable[str]) -> None:
    """Keep a site that was replaced, or one that was put together for nothing, for the release to come.

    Where the system has no second names for a file, so that what is shared was copied, nothing is kept.

    Args:
        replaced: The site, in the workshop.
        output: The site that is published.
        shop: The workshop.
        shared: Names of files that both have.
        others: Names of all other files of the replaced site.
    """
    one = next(iter(shared), None)
    if one is None or not os.path.samefile(f"{replaced}/{one}", f"{output}/{one}"):
        return
    with contextlib.suppress(PermissionError):  # in a folder that somebody closed; it is opened to be cleared
        for name in (*others, *manifest.CARRIED):
            with contextlib.suppress(FileNotFoundError):
                os.unlink(f"{replaced}/{name}")
        replaced.rename(shop / SPARE)


def begin(
    next_site: Path, shop: Path, files: Mapping[str, str], standing: Mapping[str, os.stat_result]
) -> tuple[frozenset[str], tuple[Path, ...]]:
    """Begin a site, with what can be used of the one that was kept.

    A manifest comes first, so that a half-made site can be cleared by it.

    Args:
        next_site: Where; nothing is there yet.
        shop: The workshop.
        files: Name to hash of all files that it is to have; a hash may be empty.
        standing: Name to state of the files that are published.

    Returns:
        The names under which the file stands that is published under the same name; folders in which something was
        found that is not ours.
    """
    spare, set_aside = shop / SPARE, tuple[Path, ...]()
    listed = manifest.read(spare)
    found = manifest.look_through(spare, listed) if spare.exists() else manifest.Found()
    if found.others or not _as_made_now(found.folders, spare, shop):
        set_aside = clear(spare, shop)
    if not spare.exists():
        spare.mkdir()
        listed, found = {}, manifest.Found()
    if not listed.keys() >= files.keys():  # else the one that stands there will do
        manifest.put(spare, manifest.written({**dict.fromkeys(found.files, ""), **files}))
    spare.rename(next_site)
    shared = set()
    for name, state in found.files.items():
        if name in files and name in standing and os.path.samestat(state, standing[name]):
            shared.add(name)
        else:
            os.unlink(f"{next_site}/{name}")
    wanted = manifest.folders_of(files)
    for folder in sorted(found.folders - wanted, reverse=True):
        os.rmdir(f"{next_site}/{folder}")
    for folder in sorted(wanted - found.folders):
        os.mkdir(f"{next_site}/{folder}")
    return frozenset(shared), set_aside


def _as_made_now(folders: Iterable[str], spare: Path, shop: Path) -> bool:
    """True when nobody changed who may read and write the folders that are to be published again."""
    usual = stat.S_IMODE(shop.stat().st_mode)
    return all(stat.S_IMODE(os.stat(f"{spare}/{folder}").st_mode) == usual for folder in folders)


def _open_to_us(folder: Path) -> None:
    """Let a folder of an old site be cleared, also where somebody took the right to write there away."""
    mode = stat.S_IMODE(folder.stat().st_mode)
    if mode & stat.S_IRWXU != stat.S_IRWXU:
        with contextlib.suppress(OSError):
            folder.chmod(mode | stat.S_IRWXU)
