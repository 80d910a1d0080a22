"""Makes the site anew from the records after a change, from what can be kept of the state before."""

import datetime as dt
import gc
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from gettext import NullTranslations
from pathlib import Path

from sitegen.build import Order, settings_of, store_of
from sitegen.evidence.gather import not_used
from sitegen.findings import Finding, SitegenError, has_errors, in_order
from sitegen.pages.material import material
from sitegen.photos.encode import Photograph
from sitegen.photos.facts import read_all_facts
from sitegen.photos.remembered import stamp
from sitegen.photos.variants import PhotoFacts, PictureSettings, plan
from sitegen.preview.evidence import Proven, proven
from sitegen.preview.made import Made, Rendered
from sitegen.reading.content import Content
from sitegen.reading.folder import read_again, read_content
from sitegen.records.binding import bind_content
from sitegen.records.collection import Collection
from sitegen.records.forms_of_content import Filled
from sitegen.records.latest import latest_date
from sitegen.rendering.catalogues import catalogue_of
from sitegen.rendering.themes import Theme, find_theme
from sitegen.store import Store
from sitegen.uncollected import uncollected
from sitegen.wording.audit.whole import audit
from sitegen.wording.doubts import plan_findings
from sitegen.wording.speech import spoken

_COLLECT_EVERY = 50
"""After so many states circles of garbage are looked for; that takes 0.2 s at 1,000 animals."""


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


@dataclass(frozen=True, slots=True, eq=False)
class _Seen:
    """All that the site depends on, as it was seen on a disk.

    Attributes:
        read, findings: What the content folder holds, and what is wrong with its files.
        photos: Photo to its stamp; None where it changed so shortly ago that it must be read again.
        themes: Names, sizes and times of the files of the user's own themes.
    """

    read: Content
    findings: tuple[Finding, ...]
    photos: Mapping[str, str | None]
    themes: tuple[tuple[str, int, int], ...]

    def __eq__(self, other: object) -> bool:
        mine = (self.read, self.findings, self.photos, self.themes)
        return (
            isinstance(other, _Seen)
            and None not in self.photos.values()
            and mine == (other.read, other.findings, other.photos, other.themes)
        )


@dataclass(slots=True)
class Workshop:
    """Holds the state, and all that makes the next one quick.

    Attributes:
        order: Where the records, themes and pictures are. Nothing is put into its output folder.
        today: Which day it is, asked anew for every state: a preview may run for days.
        state: What there is to show.
        making: Held while anything of the site is made, since what is made is shared between states.
        changed: Tells those who wait for the next state.
        closing: There will be no next state.
    """

    order: Order
    today: Callable[[], dt.date | None] = lambda: None
    state: State = State(0)
    making: threading.RLock = field(default_factory=threading.RLock)
    changed: threading.Condition = field(default_factory=threading.Condition)
    closing: bool = False
    _filled: Filled = field(default_factory=Filled)
    _proven: Proven | None = None
    _facts: dict[str, PhotoFacts] = field(default_factory=dict)
    _seen: _Seen | None = None
    _theme: tuple[object, Theme, NullTranslations | None] | None = None
    _rendered: dict[str, Rendered] = field(default_factory=dict)

    def remake(self, changed: frozenset[Path] | None = None) -> State:
        """Read again and make the state that follows; the last sound site is kept beside trouble.

        When all is as it was read before, the state is the one from before.

        Args:
            changed: The files that changed since the last time; everything is read when they are not given, or when
                it is not clear that only their texts are new.
        """
        with self.making, uncollected():
            try:
                seen = self._look(changed)
                if seen == self._seen:
                    return self.state
                self._seen = seen
                made, findings = self._make(seen)
                fault = ""
            except SitegenError as error:
                made, findings, fault = None, (), str(error)
            state = State(self.state.number + 1, made or self.state.good, () if made else findings, fault)
            gc.freeze()  # before the collector wakes up and looks through all that is new
        with self.changed:
            self.state = state
            self.changed.notify_all()
        _look_for_circles(state.number)
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

    def _look(self, changed: frozenset[Path] | None) -> _Seen:
        """All that the site depends on, as it is now."""
        if changed and self._seen is not None and None not in self._seen.photos.values():
            root = self.order.content.absolute()
            inside = [path.relative_to(root).as_posix() for path in changed if path.is_relative_to(root)]
            again = read_again(root, self._seen.read, inside) if len(inside) == len(changed) else None
            if again is not None:
                return replace(self._seen, read=again)
        read, findings = read_content(self.order.content)
        photos = [photo for folder in read.photos.values() for photo in folder]
        stamps = {photo: stamp(self.order.content / photo) for photo in photos}
        return _Seen(read, findings, stamps, theme_stamp(self.order.themes))

    def _make(self, seen: _Seen) -> tuple[Made | None, tuple[Finding, ...]]:
        """The site, or the findings that stand in its way."""
        read, reading = seen.read, seen.findings
        self._filled.keep_only(read.texts)
        today = self.today()
        bound = bind_content(read, self._filled, today) if not has_errors(reading) or read.texts else (None, ())
        collection, binding = bound
        if collection is None or has_errors(reading):
            return None, in_order([*reading, *binding])
        known = proven(collection, self._proven)
        findings = [*reading, *binding, *known.answers.contradictions, *known.answers.too_tangled]
        findings += not_used(collection)
        if has_errors(findings):
            return None, in_order(findings)
        self._proven = known
        as_of = self.order.date or latest_date(collection)
        findings += audit(collection, known.answers, known.claims(as_of), read.texts, as_of)
        findings += plan_findings(known.asked_of(collection), as_of)
        theme, catalogue = self._found_theme(collection, seen)
        settings, store = settings_of(collection.site.pictures), store_of(self.order)
        photographs, unreadable = self._photographs(seen, settings, store)
        findings += unreadable
        if has_errors(findings):
            return None, in_order(findings)
        pictures = {each.file: each.pictures for each in photographs}
        by_address = {variant.file_name: each for each in photographs for variant in each.pictures.variants}
        with spoken(catalogue):
            made_from = material(
                collection, known.answers, known.claims(as_of), pictures, as_of, known.pairings,
                known.changes(collection, as_of), known.roads(collection, as_of), known.bare_claims(as_of),
            )  # fmt: skip
        made = Made(made_from, theme, by_address, settings, store, self._rendered, in_order(findings), catalogue)
        return made, ()

    def _found_theme(self, collection: Collection, seen: _Seen) -> tuple[Theme, NullTranslations | None]:
        """The theme and the words of the language; the very ones from before when neither changed."""
        key = (collection.site.theme, collection.site.language, seen.themes)
        if self._theme is None or self._theme[0] != key:
            theme = find_theme(collection.site.theme, self.order.themes)
            self._theme = (key, theme, catalogue_of(collection.site.language, theme.words))
        return self._theme[1:]

    def _photographs(
        self, seen: _Seen, settings: PictureSettings, store: Store
    ) -> tuple[list[Photograph], tuple[Finding, ...]]:
        """Every photo that can be read, with the pictures it is to become; those not touched since are not read."""
        paths = {photo: self.order.content / photo for photo in seen.photos}
        known = {photo: self._facts[mark] for photo, mark in seen.photos.items() if mark and mark in self._facts}
        new = {photo: path for photo, path in paths.items() if photo not in known}
        found, unreadable = read_all_facts(new, store, self.order.workers) if new else ({}, ())
        facts = {photo: each for photo in paths if (each := known.get(photo) or found.get(photo))}
        self._facts = {mark: facts[photo] for photo, mark in seen.photos.items() if mark and photo in facts}
        return [
            Photograph(paths[photo], photo, each, plan(each, settings)) for photo, each in facts.items()
        ], unreadable


def _look_for_circles(number: int) -> None:
    """All that is kept is out of the collector's sight, which would look through it again and again.

    What is replaced later is freed all the same, unless it holds circles; these are looked for once in a while.
    """
    if number % _COLLECT_EVERY == 0:
        gc.unfreeze()
        gc.collect()
        gc.freeze()


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
