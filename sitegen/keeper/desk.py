"""The records as they stand, and a change that is thought through before anything is written."""

import datetime as dt
import difflib
import os
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path

from sitegen.below import entries_below, read_below
from sitegen.content.binding import bind_content
from sitegen.content.folder import MAX_TEXT_BYTES, PHOTO_ENDINGS, Content, read_content
from sitegen.content.references import Forms, forms_of_content
from sitegen.content.report import Report
from sitegen.content.writing import FileChange
from sitegen.evidence.answers import known_of
from sitegen.findings import ContentError, Finding, Kind, Level, Place, WrongUse, has_errors
from sitegen.photos.opening import MAX_BYTES

_OF_EVIDENCE = (Kind.CONTRADICTION, Kind.TOO_TANGLED)
_BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class Change:
    """What is to be written, in this order; ``told`` says in words what it means."""

    files: tuple[FileChange, ...]
    told: str


@dataclass(frozen=True, slots=True)
class Desk:
    """The content folder, read once.

    Attributes:
        root: The folder.
        content: What it holds.
        forms: The records as they are written.
        reading: What was found while it was read.
        today: The day it is; nothing has happened after it. None where that is not looked at.
    """

    root: Path
    content: Content
    forms: Forms
    reading: tuple[Finding, ...] = field(default=())
    today: dt.date | None = None

    def text(self, path: str) -> str:
        """A record's text exactly as it stands in the file, without a byte order mark.

        Raises:
            ContentError: It cannot be read as a record; the findings say why.
        """
        report = Report()
        forms_of_content(Content({path: self.content.texts.get(path, "")}), report)
        broken = [f for f in (*self.reading, *report.findings) if f.place and f.place.file == path]
        unusable = [
            f for f in broken if f.level is Level.ERROR and f.kind.value.startswith(("yaml-", "file-", "key-twice"))
        ]
        if path not in self.content.texts or unusable:
            raise ContentError(unusable or self.reading)
        return self.raw(path).removeprefix(_BOM).decode("utf-8")

    def raw(self, path: str) -> bytes:
        """The bytes of a file of the content folder."""
        return read_below(self.root, path, MAX_BYTES)

    def changed(self, path: str, text: str) -> FileChange:
        """The change of a record that stands there to a new text; a byte order mark stays."""
        before = self.raw(path)
        return FileChange(path, before, (_BOM if before.startswith(_BOM) else b"") + text.encode("utf-8"))

    def exists(self, path: str) -> bool:
        """True when something of this name stands in the content folder, in whatever capitals."""
        folder, _, name = path.rpartition("/")
        try:
            entries = entries_below(self.root, folder)
        except OSError:
            return False
        return name.casefold() in {entry.name.casefold() for entry in entries}


def open_desk(root: Path, today: dt.date | None = None) -> Desk:
    """The content folder as it stands on a day.

    Raises:
        ContentError: There is none.
    """
    content, findings = read_content(root)
    if not root.is_dir():
        raise ContentError(findings)
    return Desk(root, content, forms_of_content(content, Report()), findings, today)


def new_file(path: str, text: str) -> FileChange:
    """A text file that does not stand there yet."""
    return FileChange(path, None, text.encode("utf-8"))


@dataclass(frozen=True, slots=True)
class Checked:
    """What a change would bring: what is wrong or doubtful after it and is not before.

    ``asked`` is False where a record is in error, so that nobody can tell whether the evidence in all of them agrees.
    """

    findings: tuple[Finding, ...]
    asked: bool


def checked(desk: Desk, change: Change) -> Checked:
    """What the change would bring; nothing is written to find out.

    Findings about a file that is changed name no line: the line does not stand there yet. Where the records were in
    error before, so that their evidence could not be asked, only that of the changed files is held against the change.
    """
    known, was_asked = _told(desk.content, desk.today)
    before = Counter(_same(finding) for finding in known)
    fresh = []
    touched = {file.path for file in change.files}
    after, is_asked = _told(content_after(desk, change), desk.today)
    for finding in after:
        if before[_same(finding)]:
            before[_same(finding)] -= 1
            continue
        places = [place for place in (finding.place, *finding.others) if place is not None]
        if finding.kind in _OF_EVIDENCE and is_asked > was_asked and touched.isdisjoint(at.file for at in places):
            continue
        shown = [Place(place.file) if place.file in touched else place for place in places]
        first, *others = dict.fromkeys(shown) or (None,)
        unwritten = first is not None and first.file in touched
        width = 0 if unwritten else finding.width
        fresh.append(replace(finding, place=first, width=width, others=tuple(other for other in others if other)))
    return Checked(tuple(fresh), is_asked)


def _told(content: Content, today: dt.date | None) -> tuple[tuple[Finding, ...], bool]:
    """What is wrong or doubtful in records, and whether their evidence could be asked: only sound ones have any."""
    collection, findings = bind_content(content, today=today)
    if collection is None or content.unreadable:
        return findings, False
    return known_of(content, collection, findings)[1], True


def content_after(desk: Desk, change: Change) -> Content:
    """The content folder as it would stand after the change."""
    return _after(desk.content, change.files)


def check_change(desk: Desk, change: Change) -> Checked:
    """The notices that the change would bring.

    Raises:
        ContentError: It would bring an error, or records that contradict each other; nothing is to be written.
        WrongUse: A record would grow beyond what is read.
    """
    for file in change.files:
        if _is_text(file) and len(file.after) > MAX_TEXT_BYTES:
            raise WrongUse(f"{file.path} would have more than {MAX_TEXT_BYTES:,} bytes; nothing was changed")
    found = checked(desk, change)
    if has_errors(found.findings):
        raise ContentError(found.findings)
    return found


def _is_text(file: FileChange) -> bool:
    """False for photographs."""
    return os.path.splitext(file.path)[1].lower() not in PHOTO_ENDINGS


def unified_diff(change: Change) -> str:
    """The change as people and programs read changes; photographs as one line each."""
    told = []
    for file in change.files:
        if not _is_text(file):
            told.append(f"new file {file.path} ({len(file.after):,} bytes)\n")
            continue
        before, after = (_lines(side) for side in (file.before or b"", file.after))
        source = file.path if file.before is not None else "/dev/null"
        for line in difflib.unified_diff(before, after, source, file.path):
            told.append(line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n")
    return "".join(told).rstrip("\n")


def _lines(side: bytes) -> list[str]:
    text = side.decode("utf-8", "replace").replace("\r\n", "\n")
    return text.splitlines(keepends=True)


def _same(finding: Finding) -> tuple[str, str, str, str]:
    """What makes a finding the same one, wherever in its file it stands."""
    return finding.level, finding.kind, finding.place.file if finding.place else "", finding.message


def _after(content: Content, files: Iterable[FileChange]) -> Content:
    texts: dict[str, str] = dict(content.texts)
    photos: dict[str, tuple[str, ...]] = dict(content.photos)
    for file in files:
        if _is_text(file):
            texts[file.path] = file.after.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
        else:
            folder = file.path.rpartition("/")[0]
            photos[folder] = tuple(sorted({*photos.get(folder, ()), file.path}))
    return Content(texts, photos, content.unreadable)
