"""Makes the site anew from the records after each change, by the very functions of a build."""

import datetime as dt
import os
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from sitegen.app.preview.made import Made
from sitegen.build import Order, site_of
from sitegen.content.folder import read_content
from sitegen.findings import Finding, SitegenError, has_errors
from sitegen.photos.facts import read_all_facts
from sitegen.photos.store import Store
from sitegen.photos.variants import PhotoFacts

_Stamp = tuple[int, ...]
_LATE_NS = 2_000_000_000
"""A file changed so shortly ago may change again within the grain of its clock; its stamp proves nothing yet."""


@dataclass(frozen=True, slots=True)
class State:
    """What there is to show.

    Attributes:
        number: Counts the changes.
        good: The site as it was last sound; None when it never was.
        trouble: What stands in the way now; empty when ``good`` is up to date.
        fault: Trouble that is no finding: a theme's fault, or a folder that cannot be written.
    """

    number: int
    good: Made | None = None
    trouble: tuple[Finding, ...] = ()
    fault: str = ""

    @property
    def is_sound(self) -> bool:
        """True when the site is what the records say."""
        return self.good is not None and not self.trouble and not self.fault


@dataclass(slots=True)
class Workshop:
    """Holds the state.

    Attributes:
        order: Where the records, themes and pictures are. Nothing is put into its output folder.
        today: Which day it is, asked anew for every state: a preview may run for days.
        state: What there is to show.
        making: Held while anything of the site is made, since a state keeps what was made of it.
        changed: Tells those who wait for the next state.
        closing: There will be no next state.
    """

    order: Order
    today: Callable[[], dt.date | None] = lambda: None
    state: State = State(0)
    making: threading.RLock = field(default_factory=threading.RLock)
    changed: threading.Condition = field(default_factory=threading.Condition)
    closing: bool = False
    _seen: object = None
    _facts: dict[_Stamp, PhotoFacts] = field(default_factory=dict)

    def remake(self) -> State:
        """Read again and make the state that follows; the last sound site is kept beside trouble.

        When all is as it was read before, the state is the one from before.
        """
        with self.making:
            content, reading = read_content(self.order.content)
            photos = [self.order.content / photo for folder in content.photos.values() for photo in folder]
            stamps = tuple(map(_stamp, photos))
            today = self.today()
            seen = today, content, reading, stamps, theme_stamp(self.order.themes)
            if seen == self._seen and None not in stamps:
                return self.state
            self._seen = seen
            made, fault = None, ""
            try:
                site, findings = site_of(replace(self.order, today=today), content, reading, facts_of=self._facts_of)
                if site is not None and not has_errors(findings):
                    made = Made(site, findings)
            except SitegenError as error:
                findings, fault = (), str(error)
            state = State(self.state.number + 1, made or self.state.good, () if made else findings, fault)
        with self.changed:
            self.state = state
            self.changed.notify_all()
        return state

    def find(self, made: Made, address: str) -> bytes | None:
        """The file at an address of a state, see :meth:`Made.find`."""
        with self.making:
            return made.find(address)

    def wait_beyond(self, number: int, seconds: float) -> State:
        """The state when it is no longer the one of that number, or after so many seconds in any case."""
        with self.changed:
            self.changed.wait_for(lambda: self.closing or self.state.number != number, seconds)
            return self.state

    def close(self) -> None:
        """Let everybody go who waits."""
        with self.changed:
            self.closing = True
            self.changed.notify_all()

    def _facts_of(
        self, photos: Mapping[str, Path], store: Store, workers: int, progress: Callable[[int, int], None]
    ) -> tuple[dict[str, PhotoFacts], tuple[Finding, ...]]:
        """As :func:`read_all_facts`; files that were not touched since the last state are not read again.

        A thousand photographs are some gigabytes, which would be read at each change of a record.
        """
        stamps = {photo: _stamp(path) for photo, path in photos.items()}
        known = {photo: self._facts[mark] for photo, mark in stamps.items() if mark in self._facts}
        new = {photo: path for photo, path in photos.items() if photo not in known}
        found, unreadable = read_all_facts(new, store, workers, progress) if new else ({}, ())
        facts = {photo: each for photo in photos if (each := known.get(photo) or found.get(photo))}
        self._facts = {mark: facts[photo] for photo, mark in stamps.items() if mark and photo in facts}
        return facts, unreadable


def _stamp(path: Path) -> _Stamp | None:
    """What tells a file's present state from any other; None when it proves nothing.

    The time of the last change of the inode counts too: unlike the time of the content it cannot be set back.
    """
    try:
        state = os.stat(path)
    except OSError:
        return None
    late = abs(time.time_ns() - state.st_ctime_ns) < _LATE_NS
    return None if late else (state.st_dev, state.st_ino, state.st_size, state.st_mtime_ns, state.st_ctime_ns)


def theme_stamp(themes: Path) -> tuple[tuple[str, int, int], ...]:
    """Names, sizes and times of the user's own theme files; those that come with the program do not change."""
    found = []
    for path in sorted(themes.rglob("*")) if themes.is_dir() else ():
        try:
            state = path.lstat()
        except OSError:
            continue
        found.append((path.as_posix(), state.st_size, state.st_mtime_ns))
    return tuple(found)
