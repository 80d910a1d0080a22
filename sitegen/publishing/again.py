"""Whether everything a site was made from is as it was when it was made, so that nothing needs to be made again.

One name stands for all of it: place, size, times and number of every file of the content and of the themes, of the
program itself, and of the libraries it uses. Beside the release it is kept with what was found then.
"""

import contextlib
import hashlib
import json
import os
import sys
import sysconfig
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

from sitegen.findings import Finding, Kind, Level, Place
from sitegen.publishing.release import ReleaseReport, as_published, workshop_of
from sitegen.store import sealed, unsealed

_LATE_NS = 2_000_000_000
"""What was changed so shortly ago may be changed again within the grain of its clock; it proves nothing yet."""
_PROGRAM = Path(__file__).resolve().parent.parent


@dataclass(frozen=True, slots=True)
class Before:
    """What a build found when it made the site that stands: its findings, and any numbers it keeps with them."""

    findings: tuple[Finding, ...]
    numbers: Mapping[str, int]


def state_of(folders: Sequence[Path], *also: object) -> str:
    """A name for the present state of all files below the folders, of the program, and of ``also``.

    Empty when a file changed within the last two seconds, or cannot be looked at: then nothing is certain.
    """
    try:
        told, latest = _state((*folders, _PROGRAM, _PROGRAM.parent / "themes"), also)
    except OSError:
        return ""
    return told if time.time_ns() - latest > _LATE_NS else ""


def program_state() -> str:
    """A name for the present state of the program and of its libraries."""
    return _state((_PROGRAM,), ())[0]


def _state(folders: Sequence[Path], also: tuple[object, ...]) -> tuple[str, int]:
    """A name for the state of files, and when the last one of them changed."""
    libraries = Path(sysconfig.get_paths()["purelib"])
    told = hashlib.sha256(repr((also, sys.version, _mark(libraries))).encode("utf-8", "surrogateescape"))
    latest = 0
    for folder in folders:
        told.update(f"folder {folder.resolve()}\n".encode("utf-8", "surrogateescape"))
        for name, state in _everything(folder):
            if "__pycache__" not in name:
                latest = max(latest, state.st_ctime_ns)
                told.update(f"{name} {_of(state)}\n".encode("utf-8", "surrogateescape"))
    return told.hexdigest(), latest


def _everything(folder: Path) -> Iterator[tuple[str, os.stat_result]]:
    """Every file below a folder with its state, in fixed order; links are looked at, not followed."""
    waiting = [str(folder)] if folder.is_dir() else []
    while waiting:
        here = waiting.pop()
        with os.scandir(here) as entries:
            for entry in sorted(entries, key=lambda entry: entry.name):
                if entry.is_dir(follow_symlinks=False):
                    waiting.append(entry.path)
                yield entry.path, entry.stat(follow_symlinks=False)


def _of(state: os.stat_result) -> tuple[int, ...]:
    """What tells a file's state from any other; of a folder only which one it is, its files speak for themselves."""
    if state.st_mode & 0o170000 == 0o040000:
        return (state.st_mode,)
    return state.st_mode, state.st_dev, state.st_ino, state.st_size, state.st_mtime_ns, state.st_ctime_ns


def _mark(path: Path) -> int:
    try:
        return path.stat().st_mtime_ns
    except OSError:
        return 0


def built_before(state: str, output: Path, sources: Sequence[Path]) -> tuple[ReleaseReport, Before] | None:
    """The site that stands, when it was made from this very state and stands as it was made; else None.

    Raises:
        OutputRefused: The output holds something that is not ours, as for any release.
    """
    if not state:
        return None
    try:
        kept = json.loads(unsealed(_memory(output).read_bytes()))
        if kept["state"] != state:
            return None
        before = Before(tuple(_finding(told) for told in kept["findings"]), kept["numbers"])
    except (OSError, ValueError, KeyError, TypeError):
        return None
    report = as_published(output, sources)
    return (report, before) if report is not None else None


def keep(state: str, output: Path, findings: Iterable[Finding], numbers: Mapping[str, int]) -> None:
    """Keep what was found when the site was made from a state; an empty state is not kept.

    A folder that cannot be written is passed over: what is not kept is found out again.
    """
    told = {"state": state, "numbers": dict(numbers), "findings": [asdict(finding) for finding in findings]}
    with contextlib.suppress(OSError):
        if state:
            aside = _memory(output).with_suffix(".aside")
            aside.write_bytes(sealed(json.dumps(told).encode()))
            os.replace(aside, _memory(output))
        else:
            _memory(output).unlink(missing_ok=True)


def _memory(output: Path) -> Path:
    return workshop_of(output) / "built.json"


def _finding(told: Mapping[str, object]) -> Finding:
    fields = dict(told)
    fields["level"], fields["kind"] = Level(str(told["level"])), Kind(str(told["kind"]))
    fields["place"] = _place(told["place"])
    others = told["others"]
    assert isinstance(others, list)
    fields["others"] = tuple(_place(each) for each in others)
    return Finding(**fields)  # type: ignore[arg-type]  # a wrong type is a TypeError or a ValueError


def _place(told: object) -> Place | None:
    return Place(**told) if isinstance(told, dict) else None
