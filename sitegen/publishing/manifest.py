"""What a published site consists of: which names are sound, the list of what was made, and what else stands there."""

import contextlib
import hashlib
import json
import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.findings import OutputRefused

NAME = ".sitegen-manifest.json"
"""The list of what was made; it stands at the top of the output folder."""

CARRIED = frozenset({".gitignore"})
"""Files at the top of the output folder that are the breeder's and are carried over to every new site."""

_FORMAT = 1
_SHOWN = 5
_LONGEST = 255  # bytes of one part of a name, on every file system in use
_USUAL = re.compile(r"(?:[A-Za-z0-9_-][A-Za-z0-9._-]*/)*[A-Za-z0-9_-][A-Za-z0-9._-]*")
"""Nearly all names are so plain that nothing more need be asked."""
_HARMFUL = re.compile(r"[\x00-\x1f\x7f\\]")


@dataclass(frozen=True, slots=True)
class Standing:
    """What stands in an output folder.

    Attributes:
        files: Name to SHA-256 of each file that is ours.
        carried: Names that are carried over.
        states: Name to state of each file that is ours.
    """

    files: Mapping[str, str]
    carried: tuple[str, ...]
    states: Mapping[str, os.stat_result] = field(default_factory=dict, repr=False)


@dataclass(frozen=True, slots=True)
class Found:
    """What was found below a folder.

    Attributes:
        files: Name to state of each plain file that is listed.
        folders: Names of the folders that lead to listed files.
        others: What is neither listed nor carried over, in a fixed order.
    """

    files: Mapping[str, os.stat_result] = field(default_factory=dict)
    folders: frozenset[str] = frozenset()
    others: tuple[str, ...] = ()


def check_names(names: Iterable[str]) -> None:
    """Refuse names that would leave the output folder, or that cannot stand there side by side.

    Raises:
        OutputRefused: A name is absolute, climbs, is empty, hides the manifest, or is file and folder at once.
    """
    known = frozenset(names)
    if unsound := sorted(name for name in known if not is_sound(name)):
        raise OutputRefused(
            f"the site has a file with the name {unsound[0]!r}, which cannot stand in the output folder"
        )
    if both := sorted(known & folders_of(known)):
        below = min(name for name in known if name.startswith(f"{both[0]}/"))
        raise OutputRefused(f"the site has both a file {both[0]!r} and a file {below!r} below it")


def is_sound(name: str) -> bool:
    """True for a relative name with forward slashes that stays where it is put."""
    if len(name) <= _LONGEST and _USUAL.fullmatch(name):
        return True
    parts = name.split("/")
    plain = all(part not in ("", ".", "..") for part in parts)
    short = max(len(os.fsencode(part)) for part in parts) <= _LONGEST
    return plain and short and _HARMFUL.search(name) is None and parts[0] not in {NAME, *CARRIED}


def written(files: Mapping[str, str]) -> bytes:
    """The manifest's bytes: nothing in them depends on time or machine."""
    told = {"made by": "sitegen", "format": _FORMAT, "files": dict(sorted(files.items()))}
    return (json.dumps(told, indent=1, ensure_ascii=False) + "\n").encode()


def read(folder: Path) -> dict[str, str]:
    """Name to SHA-256 from the manifest in ``folder``; empty when there is no manifest that can be understood."""
    try:
        told = json.loads((folder / NAME).read_bytes())
        files = told["files"] if told["format"] == _FORMAT else {}
        return {str(name): str(digest) for name, digest in files.items() if is_sound(str(name))}
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return {}


def put(folder: Path, content: bytes) -> None:
    """Let these bytes be the manifest of a folder, in one step."""
    aside = folder.with_name("manifest.aside")
    aside.write_bytes(content)
    os.replace(aside, folder / NAME)


def survey(folder: Path, digests_of: Callable[[Path, Mapping[str, os.stat_result]], Mapping[str, str]]) -> Standing:
    """What stands in an output folder, every file compared with the manifest.

    A file of ours that is gone, or empty after a loss of power, holds nothing of the breeder's: it is simply not
    among the files.

    Args:
        folder: The output folder.
        digests_of: SHA-256 of the files at the given paths.

    Raises:
        OutputRefused: Something there was not made by this program, or was changed since; it is named.
        OSError: Something there cannot be read.
    """
    listed = read(folder)
    found = look_through(folder, listed)
    if found.others:
        unread = "" if listed or not (folder / NAME).exists() else f" (its list of them, {NAME}, cannot be understood)"
        raise OutputRefused(_refusal(folder, f"things that sitegen did not make{unread}", found.others))
    here = {name: state for name, state in found.files.items() if state.st_size > 0 or listed[name] == _EMPTY}
    digests = digests_of(folder, here)
    if changed := sorted(name for name, digest in digests.items() if digest != listed[name]):
        raise OutputRefused(_refusal(folder, "files that were changed since sitegen made them", changed))
    carried = tuple(sorted(name for name in CARRIED if (folder / name).is_file()))
    return Standing(digests, carried, here)


def look_through(folder: Path, listed: Mapping[str, str]) -> Found:
    """What is below a folder of which these names are ours; links, pipes and devices are none of ours.

    Raises:
        OSError: A folder cannot be read.
    """
    ours, files, folders, others = folders_of(listed), {}, set(), []
    for name, is_folder, entry in _everything(folder):
        if is_folder:
            if name in ours and not entry.is_symlink():
                folders.add(name)
            else:
                others.append(f"{name}/")
        elif name in listed and entry.is_file(follow_symlinks=False):
            with contextlib.suppress(FileNotFoundError):
                files[name] = entry.stat(follow_symlinks=False)
        elif not (name in CARRIED or name == NAME) or not entry.is_file(follow_symlinks=False):
            others.append(name)
    return Found(files, frozenset(folders), tuple(sorted(others)))


def foreign(folder: Path, listed: Mapping[str, str]) -> tuple[str, ...]:
    """Names below ``folder`` that are neither listed nor carried over, nor folders of such."""
    ours = folders_of(listed)
    return tuple(
        sorted(
            f"{name}/" if is_folder else name
            for name, is_folder, entry in _everything(folder)
            if not (name in ours if is_folder else name in listed or name in CARRIED or name == NAME)
            or not (entry.is_file(follow_symlinks=False) or entry.is_dir(follow_symlinks=False))
        )
    )


def walk(folder: Path) -> Iterator[tuple[str, bool]]:
    """Names below ``folder`` with True for folders, which come before what is in them; links are never followed."""
    return ((name, is_folder) for name, is_folder, _entry in _everything(folder))


def _everything(folder: Path) -> Iterator[tuple[str, bool, os.DirEntry[str]]]:
    waiting = [("", str(folder))]
    while waiting:
        above, here = waiting.pop()
        with os.scandir(here) as entries:
            for entry in entries:
                name, is_folder = above + entry.name, entry.is_dir()
                yield name, is_folder, entry
                if is_folder and not entry.is_symlink():
                    waiting.append((f"{name}/", entry.path))


_EMPTY = hashlib.sha256(b"").hexdigest()


def folders_of(names: Iterable[str]) -> frozenset[str]:
    """Every folder that leads to a file of these names."""
    found: set[str] = set()
    for folder in {name.rpartition("/")[0] for name in names}:
        parts = folder.split("/")
        found.update("/".join(parts[:end]) for end in range(1, len(parts) + 1))
    return frozenset(found - {""})


def _refusal(folder: Path, what: str, names: Sequence[str]) -> str:
    # A name that is no text, in whatever encoding, is shown with its bytes spelt out.
    shown = [f"    {os.fsencode(name).decode(errors='backslashreplace')}" for name in names[:_SHOWN]]
    if len(names) > _SHOWN:
        shown.append(f"    and {len(names) - _SHOWN} more")
    lines = [
        f"the output folder {folder} holds {what}:",
        *shown,
        "Nothing was changed. Move them elsewhere, or choose another folder with --output.",
    ]
    return "\n".join(lines)
