"""Makes the site anew from the records after a change, from what can be kept of the state before."""

import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

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
from sitegen.reading.folder import read_content
from sitegen.records.binding import bind_content
from sitegen.records.collection import Collection
from sitegen.records.forms_of_content import Filled
from sitegen.records.latest import latest_date
from sitegen.rendering.themes import Theme, find_theme
from sitegen.store import Store
from sitegen.wording.audit.whole import audit


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
    """Holds the state, and all that makes the next one quick.

    Attributes:
        order: Where the records, themes and pictures are. Nothing is put into its output folder.
        state: What there is to show.
        making: Held while anything of the site is made, since what is made is shared between states.
        changed: Tells those who wait for the next state.
        closing: There will be no next state.
    """

    order: Order
    state: State = State(0)
    making: threading.RLock = field(default_factory=threading.RLock)
    changed: threading.Condition = field(default_factory=threading.Condition)
    closing: bool = False
    _filled: Filled = field(default_factory=Filled)
    _proven: Proven | None = None
    _facts: dict[str, PhotoFacts] = field(default_factory=dict)
    _theme: Theme | None = None
    _rendered: dict[str, Rendered] = field(default_factory=dict)

    def remake(self) -> State:
        """Read the records and make the state that follows from them; the last sound site is kept beside trouble."""
        good, number = self.state.good, self.state.number + 1
        try:
            with self.making:
                made, findings = self._make()
            state = State(number, made or good, () if made else findings)
        except SitegenError as error:
            state = State(number, good, fault=str(error))
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

    def _make(self) -> tuple[Made | None, tuple[Finding, ...]]:
        """The site, or the findings that stand in its way."""
        read, reading = read_content(self.order.content)
        self._filled.keep_only(read.texts)
        collection, binding = bind_content(read, self._filled) if not has_errors(reading) or read.texts else (None, ())
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
        theme = self._found_theme(collection)
        settings, store = settings_of(collection.site.pictures), store_of(self.order)
        photos = [photo for folder in read.photos.values() for photo in folder]
        photographs, unreadable = self._photographs(photos, settings, store)
        findings += unreadable
        if has_errors(findings):
            return None, in_order(findings)
        pictures = {each.file: each.pictures for each in photographs}
        by_address = {variant.file_name: each for each in photographs for variant in each.pictures.variants}
        made_from = material(collection, known.answers, known.claims(as_of), pictures, as_of, known.pairings)
        return Made(made_from, theme, by_address, settings, store, self._rendered, in_order(findings)), ()

    def _found_theme(self, collection: Collection) -> Theme:
        """The theme; the very one from before when no file of it changed, since its templates are compiled."""
        theme = find_theme(collection.site.theme, self.order.themes)
        if self._theme is None or theme != self._theme:
            self._theme = theme
        return self._theme

    def _photographs(
        self, photos: Sequence[str], settings: PictureSettings, store: Store
    ) -> tuple[list[Photograph], tuple[Finding, ...]]:
        """Every photo that can be read, with the pictures it is to become; those not touched since are not read."""
        paths = {photo: self.order.content / photo for photo in photos}
        stamps = {photo: stamp(path) for photo, path in paths.items()}
        known = {photo: self._facts[seen] for photo, seen in stamps.items() if seen in self._facts and seen}
        new = {photo: path for photo, path in paths.items() if photo not in known}
        found, unreadable = read_all_facts(new, store, self.order.workers) if new else ({}, ())
        facts: Mapping[str, PhotoFacts] = {photo: known.get(photo) or found[photo] for photo in paths
                                           if photo in known or photo in found}  # fmt: skip
        self._facts = {seen: facts[photo] for photo, seen in stamps.items() if seen and photo in facts}
        return [
            Photograph(paths[photo], photo, each, plan(each, settings)) for photo, each in facts.items()
        ], unreadable
