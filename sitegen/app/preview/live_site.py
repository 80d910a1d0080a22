"""The site as the records make it at this moment, made anew after each change by the very functions of a build.

A page, picture or other file is made when it is asked for, and is byte for byte what ``sitegen build`` would put at
that address. Nothing is carried over from one state to the next but what was read of photographs and of a theme that
nobody touched.
"""

import datetime as dt
import gc
import os
import secrets
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from sitegen.build import Order, SiteState, site_of
from sitegen.content.folder import read_content
from sitegen.findings import Finding, SitegenError, has_errors
from sitegen.photos.encode import Photograph, encode_pictures
from sitegen.photos.facts import read_all_facts
from sitegen.photos.share_pictures import SHARES_BEGIN, ShareCard, compose_shares
from sitegen.photos.store import Kept, Store
from sitegen.photos.variants import PhotoFacts
from sitegen.render.machine import machine_files
from sitegen.render.pages import render_page
from sitegen.render.prose import broken_links, note_of
from sitegen.render.themes import Theme, find_theme, share_style, theme_files
from sitegen.site.addresses import START, root_path
from sitegen.site.parts import Page
from sitegen.site.share import every_share
from sitegen.words.speech import spoken

_MAKING = threading.RLock()
"""Held while anything of a site is made: the language is set for the whole process, and a site keeps what was made."""
_ENCODING = threading.RLock()
"""Held while pictures are encoded: one photograph at a time, since a large one takes a good part of the memory."""
_LATE_NS = 2_000_000_000
"""A file changed so shortly ago may change again within the grain of its clock; its stamp proves nothing yet."""
Stamp = tuple[int, ...]


class SiteFiles:
    """Every file of one state of the site, made when it is asked for.

    Attributes:
        findings: What is doubtful in the records.
        photographs: Address of each picture to the photograph it is made from.
    """

    def __init__(self, site: SiteState, findings: tuple[Finding, ...]) -> None:
        """Make nothing yet but the list of what there is."""
        self.site = site
        self.findings = findings
        self.photographs: Mapping[str, Photograph] = {
            variant.file_name: each for each in site.photographs for variant in each.pictures.variants
        }
        self._store = Store.of_user()
        self._models: dict[str, Page] = {}
        self._theme = theme_files(site.theme)
        with _MAKING, spoken(site.catalogue):
            self._machine = machine_files(site.material, lambda: [note_of(self._page(each)) for each in site.pages])

    def others(self) -> tuple[str, ...]:
        """Addresses of the files that are neither pages nor pictures of photographs."""
        with _MAKING, spoken(self.site.catalogue):
            return (*self._theme, *self._machine, *self._cards(), *self.site.videos.files)

    def find(self, address: str) -> bytes | None:
        """The file at an address; None when there is none.

        Raises:
            ThemeError: The page's template is at fault.
            SitegenError: A photograph cannot be decoded, or a picture cannot be kept.
        """
        if address in self.photographs:
            picture = self._picture(address)
            return picture.read() if picture else None
        with _MAKING, spoken(self.site.catalogue):
            if address in self.site.pages:
                return render_page(self._page(address), self.site.theme)
            if address in self._machine:
                return self._machine[address]()
            if address.startswith(SHARES_BEGIN):
                return self._share(address)
            if address in self.site.videos.files:
                return self.site.videos.files[address].read()
            return self._theme.get(address)

    def broken_links(self, address: str) -> tuple[Finding, ...]:
        """Links of a page's texts that lead nowhere."""
        with _MAKING, spoken(self.site.catalogue):
            notes = [note_of(self._page(address))] if address in self.site.pages else []
            if not broken_links(notes):  # most pages have no text that links anywhere
                return ()
            return broken_links(notes, {*self.site.pages, *self.others(), *self.photographs})

    def from_root(self, address: str) -> str:
        """The address from the site's root, also when the path of its public address stands before it.

        The page "not found" links so, because it is shown at any address.
        """
        path = root_path(self.site.material.collection.site.address).removeprefix("/")
        known = not path or address in self.site.pages or address in self.photographs
        return address if known else address.removeprefix(path) or START

    def _page(self, address: str) -> Page:
        if address not in self._models:
            self._models[address] = self.site.pages[address]()
        return self._models[address]

    def _cards(self) -> dict[str, ShareCard]:
        return every_share(self.site.material)

    def _share(self, address: str) -> bytes | None:
        card = self._cards().get(address)
        if card is None:
            return None
        photo = self._picture(card.photo) if card.photo else None
        style, pictures = share_style(self.site.theme), {card.photo: photo} if photo else {}
        return compose_shares({address: card}, style, pictures, self._store, 1).files[address].read()

    def _picture(self, address: str) -> Kept | None:
        """A picture of a photograph, encoded now when it never was."""
        with _ENCODING:
            encoded = encode_pictures([self.photographs[address]], self.site.settings, self._store, workers=1)
        if encoded.findings:
            raise SitegenError(str(encoded.findings[0].message))
        return encoded.files.get(address)


@dataclass(frozen=True, slots=True)
class PreviewState:
    """What there is to show.

    Attributes:
        number: Another one after each change. Begins anywhere, so that a page of an earlier preview loads again.
        good: The site as it was last sound; None when it never was.
        trouble: What stands in the way now; empty when ``good`` is up to date.
        fault: Trouble that is no finding: a theme's fault, or a folder that cannot be written.
    """

    number: int = field(default_factory=lambda: secrets.randbits(40))
    good: SiteFiles | None = None
    trouble: tuple[Finding, ...] = ()
    fault: str = ""

    @property
    def is_sound(self) -> bool:
        """True when the site is what the records say."""
        return self.good is not None and not self.trouble and not self.fault


class LiveSite:
    """Holds the state and makes the next one.

    Attributes:
        order: Where the records, themes and pictures are. Nothing is put into its output folder.
    """

    def __init__(self, order: Order, today: Callable[[], dt.date | None] = lambda: None) -> None:
        """Make nothing yet; ``today`` is asked anew for every state, since a preview may run for days."""
        self.order = order
        self.state = PreviewState()
        self._today = today
        self._seen: object = None
        self._facts: dict[Stamp, PhotoFacts] = {}
        self._theme: tuple[object, Theme] | None = None

    def remake(self) -> PreviewState:
        """Read again and make the state that follows; the last sound site is kept beside trouble.

        When all is as it was read before, the state stays: a page that is open need not load again.
        """
        content, reading = read_content(self.order.content)
        beside = (*content.photos.values(), *content.videos.values())
        photos = [self.order.content / photo for folder in beside for photo in folder]
        today, stamps = self._today(), [_stamp(photo) for photo in photos]
        themes = _theme_stamp(self.order.themes)
        seen = today, content, reading, stamps, themes
        if seen == self._seen and None not in stamps:
            return self.state
        self._seen = seen
        files, fault = None, ""
        try:
            with _MAKING:
                order = replace(self.order, today=today)
                theme_of = partial(self._theme_of, themes)
                site, findings = site_of(order, content, reading, facts_of=self._facts_of, theme_of=theme_of)
            if site is not None and not has_errors(findings):
                files = SiteFiles(site, findings)
        except SitegenError as error:
            findings, fault = (), str(error)
        trouble = () if files else findings
        self.state = PreviewState(self.state.number + 1, files or self.state.good, trouble, fault)
        return self.state

    def tidy_up(self) -> None:
        """Give back the memory of earlier states.

        Commands run without Python's collector, which would take a third of the time that a state and a page take.
        This one goes on for long, so it collects when nothing is to be made.
        """
        with _MAKING:
            gc.collect()

    def _theme_of(self, files: Sequence[object], name: str, themes: Path) -> Theme:
        """As :func:`find_theme`; a theme whose ``files`` stay is not compiled again: an eighth of a save."""
        stamp = name, files
        if self._theme is None or self._theme[0] != stamp:
            self._theme = stamp, find_theme(name, themes)
        return self._theme[1]

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


def _stamp(path: Path) -> Stamp | None:
    """What tells a file's present state from any other; None when it proves nothing.

    The time of the last change of the inode counts too: unlike the time of the content it cannot be set back.
    """
    try:
        state = os.stat(path)
    except OSError:
        return None
    late = abs(time.time_ns() - state.st_ctime_ns) < _LATE_NS
    return None if late else (state.st_dev, state.st_ino, state.st_size, state.st_mtime_ns, state.st_ctime_ns)


def _theme_stamp(themes: Path) -> list[tuple[str, int, int]]:
    """Names, sizes and times of the user's own theme files; those that come with the program do not change."""
    found = []
    for path in sorted(themes.rglob("*")) if themes.is_dir() else ():
        try:
            state = path.lstat()
        except OSError:
            continue
        found.append((path.as_posix(), state.st_size, state.st_mtime_ns))
    return found
