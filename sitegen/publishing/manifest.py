"""What a published site consists of: which names are sound, the list of what was made, and what else stands there."""

import hashlib
import json
import os
import re
import stat
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path

from sitegen.findings import OutputRefused
from sitegen.frozen import dataclass

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
    """What stands in an output folder: name to SHA-256 of each file that is ours, and the names carried over."""

    files: Mapping[str, str]
    carried: tuple[str, ...]


def check_names(names: Iterable[str]) -> None:
    """Refuse names that would leave the output folder, or that cannot stand there side by side.

    Raises:
        OutputRefused: A name is absolute, climbs, is empty, hides the manifest, or is file and folder at once.
    """
    known = frozenset(names)
    for name in sorted(known):
        if not is_sound(name):
            raise OutputRefused(f"the site has a file with the name {name!r}, which cannot stand in the output folder")
        folders = _folders_above(name)
        if both := next((folder for folder in folders if folder in known), None):
            raise OutputRefused(f"the site has both a file {both!r} and a file {name!r} below it")


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


def survey(folder: Path, digests_of: Callable[[list[str]], list[str]]) -> Standing:
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
    if others := foreign(folder, listed):
        unread = "" if listed or not (folder / NAME).exists() else f" (its list of them, {NAME}, cannot be understood)"
        raise OutputRefused(_refusal(folder, f"things that sitegen did not make{unread}", others))
    here = [name for name in sorted(listed) if _stands(f"{folder}/{name}", listed[name])]
    digests = digests_of([f"{folder}/{name}" for name in here])
    if changed := [name for name, digest in zip(here, digests, strict=True) if digest != listed[name]]:
        raise OutputRefused(_refusal(folder, "files that were changed since sitegen made them", changed))
    carried = tuple(sorted(name for name in CARRIED if (folder / name).is_file()))
    return Standing(dict(zip(here, digests, strict=True)), carried)


def foreign(folder: Path, listed: Mapping[str, str]) -> list[str]:
    """Names below ``folder`` that are neither listed nor carried over, nor folders of such.

    Links, pipes and devices are none of ours.
    """
    folders = {above for name in listed for above in _folders_above(name)}
    found = []
    for name, is_folder, is_plain in _everything(folder):
        ours = name in folders if is_folder else name in listed or name in CARRIED or name == NAME
        if not ours or not is_plain:
            found.append(f"{name}/" if is_folder else name)
    return found


def walk(folder: Path) -> Iterator[tuple[str, bool]]:
    """Names below ``folder`` in a fixed order with True for folders; links are named, never followed."""
    return ((name, is_folder) for name, is_folder, _is_plain in _everything(folder))


def _everything(folder: Path, above: str = "") -> Iterator[tuple[str, bool, bool]]:
    """The same with True for what is a plain file or folder; what is in a folder comes after it."""
    with os.scandir(folder) as entries:
        here = sorted(((not entry.is_dir(), entry.name, entry) for entry in entries), key=lambda each: each[:2])
    for is_file, name, entry in here:
        yield above + name, not is_file, entry.is_file(follow_symlinks=False) or entry.is_dir(follow_symlinks=False)
    for is_file, name, entry in here:
        if not is_file and not entry.is_symlink():
            yield from _everything(folder / name, f"{above}{name}/")


_EMPTY = hashlib.sha256(b"").hexdigest()


def _stands(path: str, digest: str) -> bool:
    """True when the file is there, and not only an empty shell of what it was."""
    try:
        state = os.stat(path)
    except OSError:
        return False
    return stat.S_ISREG(state.st_mode) and (state.st_size > 0 or digest == _EMPTY)


def _folders_above(name: str) -> list[str]:
    parts = name.split("/")
    return ["/".join(parts[:end]) for end in range(1, len(parts))]


def _refusal(folder: Path, what: str, names: list[str]) -> str:
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
