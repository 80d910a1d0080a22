"""Every page and every file for machines: each made when its turn comes, or known to be what it was."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any, Self

from sitegen.claims.changes import Change, grounded_today
from sitegen.claims.kinds import Claim
from sitegen.genetics.questions import AnimalId
from sitegen.hashes import content_hash
from sitegen.inferred import Inferred, Packed, packed
from sitegen.noted import taking_notes
from sitegen.pages.addresses import SITEMAP
from sitegen.pages.material import Material, noted_material
from sitegen.pages.replayed import told_changes
from sitegen.pages.whole_site import Make, every_page
from sitegen.publishing.again import program_state
from sitegen.publishing.crew import Begun
from sitegen.publishing.last_ledger import LastTime, read, write
from sitegen.publishing.ledger import Entry, Ledger
from sitegen.publishing.release import Content, Last, Later, Made, ReleaseReport, workshop_of
from sitegen.records.collection import Collection
from sitegen.rendering.links import PageNote, note_of
from sitegen.rendering.machine import machine_files, sitemap
from sitegen.rendering.themes import Theme, compiled_templates, render_page

_Work = Callable[[Any], tuple[bytes, PageNote | None]]
"""Makes a file by its maker: a page's, or any other's."""


_Changes = Mapping[AnimalId, tuple[Change, ...]]


@dataclass(slots=True)
class Beside:
    """What is done while all else is: records are replayed, templates compiled, and what was inferred is packed.

    Attributes:
        apart: Do it in other processes. Without them it is done when it is asked for, and templates are compiled when
            they are needed.
    """

    apart: bool
    _changes: Begun[_Changes] | None = None
    _codes: Begun[Mapping[str, bytes]] | None = None
    _packed: Begun[Packed] | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *failure: object) -> None:
        for begun in (self._changes, self._codes, self._packed):
            if begun is not None:
                begun.stop()

    def begin(self, collection: Collection, themes: Path | None) -> None:
        """Begin with the records of a collection, and with its theme, which the user's own folder may have."""
        self._changes = Begun(partial(told_changes, collection, {}), apart=self.apart)
        if self.apart:
            self._codes = Begun(partial(compiled_templates, collection.site.theme, themes), apart=True)

    def changes(self, claims: Mapping[AnimalId, Sequence[Claim]]) -> _Changes:
        """Animal to what changed of what is said of it; to be asked for once, after :meth:`begin`."""
        assert self._changes is not None
        return grounded_today(self._changes.result(), claims)

    def templates(self) -> Mapping[str, bytes]:
        """What was compiled of the theme; nothing where it was never begun. To be asked for once."""
        return self._codes.result() if self._codes is not None else {}

    def pack(self, inferred: Inferred) -> None:
        """Begin to pack what was inferred."""
        self._packed = Begun(partial(packed, inferred), apart=self.apart)

    def packed(self) -> Packed | None:
        """What was packed, if it was begun; to be asked for once."""
        return self._packed.result() if self._packed is not None else None


@dataclass(frozen=True, slots=True)
class Making:
    """How the files of one build are made.

    Attributes:
        material: What they are made from; notes what is asked of it.
        theme: How pages look.
        ledger: The content of all that, by hashes.
        place: Where the build before kept which file was made from what.
    """

    material: Material
    theme: Theme
    ledger: Ledger
    place: Path

    @classmethod
    def of(
        cls, material: Material, theme: Theme, output: Path, known: Mapping[str, Mapping[object, bytes]], workers: int
    ) -> "Making":
        """Of the material of a build, of which some values may be known by their hashes; so many processes hash."""
        noted, mappings, others = noted_material(material)
        look = (theme.name, theme.templates, theme.style, theme.script, theme.words)
        base = content_hash([others, program_state(), *look]).hex()
        ledger = Ledger(base, mappings, (Material, Theme), known, workers)
        return cls(noted, theme, ledger, workshop_of(output) / "ledger.json")

    def files(self) -> dict[str, Content]:
        """Every page and every file for machines."""
        before = read(self.place, self.ledger, _noted_page)
        pages = {
            address: self._later(address, make, self._page, before)
            for address, make in every_page(self.material).items()
        }
        machine = {
            address: self._later(address, make, self._file, before)
            for address, make in machine_files(self.material, tuple).items()
        }
        site = self.material.collection.site.address
        last = {SITEMAP: Last(lambda notes: sitemap(page_notes({page: notes[page] for page in pages}), site))}
        return {**pages, **machine, **(last if SITEMAP in machine else {})}

    def keep(self, released: ReleaseReport) -> None:
        """Keep for the next build which file was made from what."""
        for note in released.notes.values():
            if isinstance(note, Entry):
                self.ledger.learn(note.late)
        entries = {
            name: note if note.digest == released.digests[name] else replace(note, digest=released.digests[name])
            for name, note in released.notes.items()
            if isinstance(note, Entry) and note.held
        }
        write(self.place, self.ledger, entries, _plain_note)

    def _later(self, address: str, make: Callable[..., object], work: _Work, before: LastTime) -> Later:
        if (known := before.same(address, make)) is not None:
            return Later(partial(self._made, make, work), known.digest, known)
        return Later(partial(self._made, make, work))

    def _made(self, make: Callable[..., object], work: _Work) -> Made:
        with taking_notes() as found:
            content, note = work(make)
        return Made(content, self.ledger.entry(found, make, note))

    def _page(self, make: Make) -> tuple[bytes, PageNote]:
        page = make()
        return render_page(page, self.theme), note_of(page)

    def _file(self, make: Callable[[], bytes]) -> tuple[bytes, None]:
        return make(), None


def page_notes(notes: Mapping[str, object]) -> list[PageNote]:
    """The notes of pages among those of all files, in the same order."""
    return [note.note for note in notes.values() if isinstance(note, Entry) and isinstance(note.note, PageNote)]


def _plain_note(note: object) -> object:
    if not isinstance(note, PageNote):
        return None
    return [note.address, note.record, note.changed, note.listed, note.links]


def _noted_page(told: object) -> PageNote | None:
    if not isinstance(told, list):
        return None
    address, record, changed, listed, links = told
    return PageNote(address, record, changed, listed, tuple((written, leads) for written, leads in links))
