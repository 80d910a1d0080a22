"""The one writer of records: the records as they stand, a proposed change, and what the change would bring.

Whoever adds to or changes a collection (commands, sheets, papers) goes the same way. ``changed`` and
:func:`~sitegen.keeper.record_text.new_record` make the text of single files, ``think_through`` holds it against the
whole collection, evidence included, and ``write`` of :mod:`sitegen.content.writing` puts it in place.
"""

import datetime as dt
import difflib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from sitegen.below import entries_below, read_below
from sitegen.content.binding import bind_content
from sitegen.content.folder import MAX_TEXT_BYTES, PHOTO_ENDINGS, VIDEO_ENDINGS, Content, ending, read_content
from sitegen.content.report import Report
from sitegen.content.writing import FileChange
from sitegen.content.written_records import Forms, forms_of_content
from sitegen.evidence.answers import Known, known_of
from sitegen.findings import ContentError, Finding, Kind, Level, Place, WrongUse, has_errors
from sitegen.keeper import splicing
from sitegen.keeper.record_text import Value
from sitegen.photos.opening import MAX_BYTES

_OF_EVIDENCE = (Kind.CONTRADICTION, Kind.TOO_TANGLED)
_TEXT_ENDINGS = frozenset({".yaml", ".yml", ".md", ".vtt", ".json"})
_BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class Proposal:
    """What is to be written, in this order; ``told`` says in words what it means.

    ``undoes`` is the number of the earlier change that this one takes back, 0 for none.
    """

    files: tuple[FileChange, ...]
    told: str
    undoes: int = 0


@dataclass(frozen=True, slots=True)
class RecordPlace:
    """Where something stands in the records.

    Attributes:
        shown: What it is called in messages: its folder, or ``LITTER/NUMBER``.
        keys: The names that lead to it within the record; none for a record of its own.
    """

    shown: str
    file: str
    keys: tuple[str, ...] = ()

    @property
    def folder(self) -> str:
        """Where its photographs stand."""
        return self.file.rpartition("/")[0]

    @property
    def kind(self) -> str:
        """``animal``, ``litter`` or ``project``."""
        return self.file.rpartition("/")[2].removesuffix(".yaml")


@dataclass(frozen=True, slots=True)
class Added:
    """An entry for the end of a list, or in another's place, unless it stands in the list already."""

    entry: Value
    instead: Value = None


@dataclass(frozen=True, slots=True)
class Dropped:
    """The name is to go, with what stands behind it."""


Keys = tuple[str, ...]
Written = Value | Added | Dropped


@dataclass(frozen=True, slots=True)
class Records:
    """The content folder, read once.

    Attributes:
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

    def held(self, place: RecordPlace, *keys: str) -> object:
        """What stands at a place: groups, lists and texts; None for nothing.

        Raises:
            ContentError: The record cannot be read.
        """
        return splicing.value_at(splicing.plain(self.text(place.file)), (*place.keys, *keys))

    def raw(self, path: str) -> bytes:
        """The bytes of a file of the content folder."""
        return read_below(self.root, path, MAX_BYTES)

    def exists(self, path: str) -> bool:
        """True when something of this name stands in the content folder, in whatever capitals."""
        folder, _, name = path.rpartition("/")
        try:
            entries = entries_below(self.root, folder)
        except OSError:
            return False
        return name.casefold() in {entry.name.casefold() for entry in entries}


def open_records(root: Path, today: dt.date | None = None) -> Records:
    """The content folder as it stands on a day.

    Raises:
        ContentError: There is none.
    """
    content, findings = read_content(root)
    if not root.is_dir():
        raise ContentError(findings)
    return Records(root, content, forms_of_content(content, Report()), findings, today)


def changed(records: Records, place: RecordPlace, values: Mapping[Keys, Written]) -> tuple[FileChange, ...]:
    """The change of a record that stands there; none when it says all of it already.

    ``values`` has, for the names that lead from the place to a value, the value.

    Raises:
        ContentError: The record cannot be read.
        CannotEdit: It is written in a way that cannot be changed safely.
    """
    return changed_in_order(records, place, values.items())


def changed_in_order(
    records: Records, place: RecordPlace, values: Iterable[tuple[Keys, Written]]
) -> tuple[FileChange, ...]:
    """Likewise, where a list may have several new entries.

    Raises: As for ``changed``.
    """
    text = before = records.text(place.file)
    for keys, value in values:
        path = (*place.keys, *keys)
        held = splicing.value_at(splicing.plain(text), path)
        if isinstance(value, Added):
            text = _with_entry(text, place.kind, path, value, held if isinstance(held, list) else [])
        elif isinstance(value, Dropped):
            text = splicing.drop(text, place.kind, path)
        elif value is None or held != splicing.plain_value(value):
            text = splicing.put(text, place.kind, path, value)
    if text == before:
        return ()
    raw = records.raw(place.file)
    return (FileChange(place.file, raw, (_BOM if raw.startswith(_BOM) else b"") + text.encode("utf-8")),)


def _with_entry(text: str, kind: str, path: tuple[str, ...], added: Added, held: list[object]) -> str:
    entry, instead = splicing.plain_value(added.entry), splicing.plain_value(added.instead)
    if entry in held:
        return text
    if instead is None or instead not in held:
        return splicing.append(text, kind, path, added.entry)
    at = (*path, str(held.index(instead)))
    for key in instead.keys() - entry.keys():
        text = splicing.drop(text, kind, (*at, key))
    assert isinstance(added.entry, Mapping)
    for key in [key for key, each in entry.items() if each != instead.get(key)]:
        text = splicing.put(text, kind, (*at, key), added.entry[key])
    return text


def new_file(path: str, text: str) -> FileChange:
    """A text file that does not stand there yet."""
    return FileChange(path, None, text.encode("utf-8"))


@dataclass(frozen=True, slots=True)
class Consequences:
    """What a change would bring.

    Attributes:
        findings: What is wrong or doubtful after it and is not before.
        known: The records after it and their answers; None where a record is in error, so that nobody can tell
            whether the evidence in all of them agrees.
        all_findings: What is wrong or doubtful after it, also where it was before.
    """

    findings: tuple[Finding, ...]
    known: Known | None
    all_findings: tuple[Finding, ...] = ()


def think_through(records: Records, files: Sequence[FileChange], before: Consequences | None = None) -> Consequences:
    """What a change would bring; nothing is written to find out.

    Findings about a file that is changed name no line: the line does not stand there yet. Where the records were in
    error before, so that their evidence could not be asked, only that of the changed files is held against the change.
    ``before`` is what :func:`as_they_stand` says of the records, where that is known already.
    """
    before = before or as_they_stand(records)
    after = _asked(content_after(records, files), records.today)
    touched = {file.path for file in files}
    told = Counter(_same(finding) for finding in before.findings)
    fresh = []
    for finding in after.findings:
        if told[_same(finding)]:
            told[_same(finding)] -= 1
            continue
        places = [place for place in (finding.place, *finding.others) if place is not None]
        askable_now = after.known is not None and before.known is None
        if finding.kind in _OF_EVIDENCE and askable_now and touched.isdisjoint(at.file for at in places):
            continue
        first, *others = dict.fromkeys(Place(at.file) if at.file in touched else at for at in places) or (None,)
        width = 0 if first is not None and first.file in touched else finding.width
        fresh.append(replace(finding, place=first, width=width, others=tuple(other for other in others if other)))
    return Consequences(tuple(fresh), after.known, after.findings)


def as_they_stand(records: Records) -> Consequences:
    """What is wrong or doubtful in the records, and what they answer."""
    return _asked(records.content, records.today)


def _asked(content: Content, today: dt.date | None) -> Consequences:
    """What is wrong or doubtful in records, and their answers: only sound ones have any."""
    collection, findings = bind_content(content, today=today)
    if collection is None or content.unreadable:
        return Consequences(findings, None, findings)
    known, findings = known_of(content, collection, findings)
    return Consequences(findings, known, findings)


def _same(finding: Finding) -> tuple[str, str, str, str]:
    """What makes a finding the same one, wherever in its file it stands."""
    return finding.level, finding.kind, finding.place.file if finding.place else "", finding.message


def content_after(records: Records, files: Sequence[FileChange]) -> Content:
    """The content folder as it would stand after the change."""
    texts = dict(records.content.texts)
    photos, videos = dict(records.content.photos), dict(records.content.videos)
    touched = {file.path for file in files}
    for file in files:
        if is_text(file.path):
            texts.pop(file.path, None)
            if file.after is not None:
                texts[file.path] = file.after.decode("utf-8-sig", "replace").replace("\r\n", "\n").replace("\r", "\n")
            continue
        for held, endings in ((photos, PHOTO_ENDINGS), (videos, VIDEO_ENDINGS)):
            folder = file.path.rpartition("/")[0]
            there = {*held.get(folder, ())} - {file.path}
            if file.after is not None and ending(file.path) in endings:
                there.add(file.path)
            held |= {folder: tuple(sorted(there))}
            if not there:
                del held[folder]
    unreadable = tuple(path for path in records.content.unreadable if path not in touched)
    return replace(records.content, texts=texts, photos=photos, videos=videos, unreadable=unreadable)


def check_proposal(records: Records, proposal: Proposal, before: Consequences | None = None) -> Consequences:
    """What the change would bring, if nothing of it is an error; ``before`` as for :func:`think_through`.

    Raises:
        ContentError: It would bring an error, or records that contradict each other; nothing is to be written.
        WrongUse: A record would grow beyond what is read.
    """
    for file in proposal.files:
        if is_text(file.path) and len(file.after or b"") > MAX_TEXT_BYTES:
            raise WrongUse(f"{file.path} would have more than {MAX_TEXT_BYTES:,} bytes; nothing was changed")
    found = think_through(records, proposal.files, before)
    if has_errors(found.findings):
        raise ContentError(found.findings)
    return found


def unified_diff(proposal: Proposal) -> str:
    """The change as people and programs read changes; photographs and the like as one line each."""
    told = []
    for file in proposal.files:
        if not is_text(file.path):
            what = "new file" if file.before is None else "file taken away:" if file.after is None else "changed file"
            told.append(f"{what} {file.path} ({len(file.after or file.before or b''):,} bytes)\n")
            continue
        before, after = (_lines(side or b"") for side in (file.before, file.after))
        source, target = (file.path if side is not None else "/dev/null" for side in (file.before, file.after))
        for line in difflib.unified_diff(before, after, source, target):
            told.append(line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n")
    return "".join(told).rstrip("\n")


def _lines(side: bytes) -> list[str]:
    return side.decode("utf-8", "replace").replace("\r\n", "\n").splitlines(keepends=True)


def is_text(path: str) -> bool:
    """True for records, pages, notes and captions; False for photographs, videos and what is none of ours."""
    return ending(path) in _TEXT_ENDINGS
