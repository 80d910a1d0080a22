"""Follows what changes in the folders of a site, also where a folder comes and goes, and has the site made anew."""

import threading
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from watchfiles import watch

from sitegen.app.preview.live_site import LiveSite, PreviewState

DEBOUNCE_MS, STEP_MS = 50, 10
"""How long changes are gathered before they are told: at most, and after the last one."""
_LOOK_AGAIN_MS = 500


def follow(site: LiveSite, tell: Callable[[PreviewState, float], None]) -> None:
    """Make the site anew after each change until an interrupt comes.

    Of its first state, made before, nothing is told; of every other, with the seconds that it took.
    """
    order = site.order
    for changed in changes([order.content.absolute(), order.themes.absolute()], threading.Event()):
        if changed and all(_is_of_an_editor(path) for path in changed):
            continue
        if not changed:  # nothing changes any more: whatever the system forgot to tell is found now
            site.tidy_up()
        started, before = time.perf_counter(), site.state
        state = site.remake()
        if state is not before:
            tell(state, time.perf_counter() - started)


def _is_of_an_editor(path: Path) -> bool:
    """True for files that editors keep for themselves."""
    return path.name.startswith((".", "~$")) or path.name.endswith("~")


def changes(folders: Sequence[Path], stop: threading.Event) -> Iterator[frozenset[Path]]:
    """The files that changed, each time some did, until ``stop`` is set.

    A folder that is not there yet, or was moved away and put back, is told as a change of the folder itself; so is the
    beginning of the watch, since something may have changed just before. When nothing changes any more after changes
    were told, that is told once, as no files at all.
    """
    while not stop.is_set():
        standing = _standing(folders)
        watched = [folder for folder in folders if folder in standing]
        if not watched:
            stop.wait(_LOOK_AGAIN_MS / 1000)
        else:
            yield from _while_standing(watched, folders, standing, stop)
        if not stop.is_set() and (now := _standing(folders)) != standing:
            yield frozenset(folder for folder in folders if now.get(folder) != standing.get(folder))


def _while_standing(
    watched: Sequence[Path], folders: Sequence[Path], standing: dict[Path, tuple[int, int]], stop: threading.Event
) -> Iterator[frozenset[Path]]:
    """The changes for as long as the same folders are there."""
    told = watch(
        *watched, watch_filter=None, debounce=DEBOUNCE_MS, step=STEP_MS, stop_event=stop,
        rust_timeout=_LOOK_AGAIN_MS, yield_on_timeout=True, ignore_permission_denied=True,
    )  # fmt: skip
    begun = restless = False
    try:
        for changed in told:
            if changed or not begun:
                yield frozenset(Path(path) for _, path in changed) or frozenset(watched)
            elif restless:
                yield frozenset()
            restless = bool(changed)
            begun = True
            if stop.is_set() or _standing(folders) != standing:
                return
    except FileNotFoundError:
        return


def _standing(folders: Sequence[Path]) -> dict[Path, tuple[int, int]]:
    """The folders that are there, each with what tells it from another one of that name."""
    found = {}
    for folder in folders:
        try:
            state = folder.stat()
        except OSError:
            continue
        found[folder] = (state.st_dev, state.st_ino)
    return found
