"""What a published site consists of: which names are sound, the list of what was made, and what else stands there.

Everything below the output folder is reached through handles of folders, and no link is followed at any level.
"""

import contextlib
import hashlib
import json
import os
import re
import stat
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.below import LeadsAway, NotOpened, TooLarge, file_in, folder_in, read_in
from sitegen.findings import OutputRefused

NAME = ".sitegen-manifest.json"
"""The list of what was made; it stands at the top of the output folder."""

ASIDE = f"{NAME}.aside"
"""Its name while it is written over another one."""

CARRIED = frozenset({".gitignore"})
"""Files at the top of the output folder that are the breeder's and are carried over to every new site."""

_FORMAT = 1
_SHOWN = 5
_LONGEST = 255  # bytes of one part of a name, on every file system in use
_DEEPEST = 32  # folders within each other; ours are three at most
_LARGEST_BYTES = 64_000_000  # of a manifest: some 400,000 files
_USUAL = re.compile(r"(?:[A-Za-z0-9_-][A-Za-z0-9._-]*/)*[A-Za-z0-9_-][A-Za-z0-9._-]*")
"""Nearly all names are so plain that nothing more need be asked."""
_HARMFUL = re.compile(r"[\x00-\x1f\x7f\\]")
_DIGEST = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Standing:
    """What stands in an output folder: digest and state of each file that is ours, and names that are carried over."""

    files: Mapping[str, str] = field(default_factory=dict)
    carried: tuple[str, ...] = ()
    states: Mapping[str, os.stat_result] = field(default_factory=dict, repr=False)


class Nonsense(ValueError):  # noqa: N818 - named for what it is
    """A manifest that this program did not write; the message says why."""


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
    if name.count("/") >= _DEEPEST:
        return False
    if len(name) <= _LONGEST and _USUAL.fullmatch(name):
        return True
    parts = name.split("/")
    plain = all(part not in ("", ".", "..") for part in parts)
    try:
        short = max(len(os.fsencode(part)) for part in parts) <= _LONGEST
    except UnicodeEncodeError:
        return False
    return plain and short and _HARMFUL.search(name) is None and parts[0] not in {NAME, *CARRIED}


def written(files: Mapping[str, str]) -> bytes:
    """The manifest's bytes: nothing in them depends on time or machine."""
    told = {"made by": "sitegen", "format": _FORMAT, "files": dict(sorted(files.items()))}
    return (json.dumps(told, indent=1, ensure_ascii=False) + "\n").encode()


def read(folder: int) -> dict[str, str] | None:
    """Name to SHA-256 from the manifest of a folder; None when there is none.

    Raises:
        Nonsense: It was not written by this program.
    """
    try:
        content = read_in(NAME, folder, _LARGEST_BYTES)
    except FileNotFoundError:
        return None
    except TooLarge as failure:
        raise Nonsense("it is too large") from failure
    except OSError as failure:
        is_no_file = isinstance(failure, NotOpened) and not isinstance(failure, LeadsAway)
        raise Nonsense("it is no file" if is_no_file else "it is a link or cannot be read") from failure
    return _understood(content)


def _understood(content: bytes) -> dict[str, str]:
    try:
        told = json.loads(content.decode("utf-8"), object_pairs_hook=_without_doubles)
    except (ValueError, RecursionError) as failure:
        raise Nonsense("it is no JSON of ours") from failure
    form, files = (told.get("format"), told.get("files")) if isinstance(told, dict) else (None, None)
    if type(form) is not int or form != _FORMAT or not isinstance(files, dict):
        raise Nonsense("it has another form")
    for name, digest in files.items():
        if not is_sound(name) or not isinstance(digest, str) or not _DIGEST.fullmatch(digest):
            raise Nonsense(f"its line for {name[:80]!r} is none of ours")
    if files.keys() & folders_of(files):
        raise Nonsense("a name in it is file and folder at once")
    return files


def _without_doubles(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise Nonsense("a name stands in it twice")
    return found


def survey(output: Path, folder: int) -> Standing:
    """What stands in an output folder, every file compared with the manifest; messages name it by its path.

    A file of ours that is gone, or empty after a loss of power, holds nothing of the breeder's: it is simply not
    among the files.

    Raises:
        OutputRefused: Something there was not made by this program, or was changed since; it is named. Or the list of
            what was made is nonsense.
        OSError: Something there cannot be read.
    """
    try:
        listed = read(folder) or {}
    except Nonsense as why:
        raise OutputRefused(
            f"the list of what sitegen made in {output}, {NAME}, cannot be understood: {why}. Nothing was changed. "
            f"Choose another folder with --output, or move {output} elsewhere."
        ) from why
    if others := foreign(folder, listed):
        raise OutputRefused(_refusal(output, "things that sitegen did not make", others))
    files, carried, changed = {}, [], []
    states: dict[str, os.stat_result] = {}
    for name, here, state in _everything(folder, folders_of(listed)):
        if name in CARRIED:
            carried.append(name)
        elif name in listed and (state.st_size > 0 or listed[name] == _EMPTY):
            files[name] = _digest(name.rpartition("/")[2], here)
            states[name] = state
            if files[name] != listed[name]:
                changed.append(name)
    if changed:
        raise OutputRefused(_refusal(output, "files that were changed since sitegen made them", sorted(changed)))
    return Standing(files, tuple(sorted(carried)), states)


def foreign(folder: int, listed: Mapping[str, str]) -> tuple[str, ...]:
    """Names below a folder that are neither listed nor carried over, nor folders of such."""
    ours, found = folders_of(listed), []
    for name, _here, state in _everything(folder, ours):
        if stat.S_ISDIR(state.st_mode):
            found += [] if name in ours else [f"{name}/"]
        elif not stat.S_ISREG(state.st_mode) or not (name in listed or name in CARRIED or name == NAME):
            found.append(name)
    return tuple(sorted(found))


def clear(name: str, parent: int, listed: Mapping[str, str]) -> bool:
    """Delete a folder of ours with what is listed or carried over in it; False when something else was left there."""
    ours = folders_of(listed)
    with folder_in(name, parent) as folder:
        os.fchmod(folder, 0o700)  # from here on nobody else puts anything there
        for file, here, state in _everything(folder, ours, emptied=True):
            if stat.S_ISREG(state.st_mode) and (file in listed or file in CARRIED):
                os.unlink(file.rpartition("/")[2], dir_fd=here)
        if not set(os.listdir(folder)) <= {NAME, ASIDE}:
            return False
        for own in (ASIDE, NAME):  # the list goes last: whoever is killed here leaves what the next one can clear
            with contextlib.suppress(FileNotFoundError):
                os.unlink(own, dir_fd=folder)
        os.rmdir(name, dir_fd=parent)
        return True


def _everything(
    folder: int, ours: Container[str], above: str = "", *, emptied: bool = False
) -> Iterator[tuple[str, int, os.stat_result]]:
    """Every name below a folder, in a fixed order, with the handle of the folder it lies in and its state.

    A folder comes before what is in it; one that is none of ours is named and not entered. If it is ``emptied``, the
    caller deletes files; folders of ours are opened for that and go when they are empty.
    """
    for name in sorted(os.listdir(folder)):
        state = os.stat(name, dir_fd=folder, follow_symlinks=False)
        yield above + name, folder, state
        if not stat.S_ISDIR(state.st_mode) or above + name not in ours:
            continue
        with folder_in(name, folder) as inner:
            if emptied:
                os.fchmod(inner, 0o700)
            yield from _everything(inner, ours, f"{above}{name}/", emptied=emptied)
        if emptied:
            with contextlib.suppress(OSError):  # something else is left there
                os.rmdir(name, dir_fd=folder)


def _digest(name: str, folder: int) -> str:
    with file_in(name, folder) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


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
