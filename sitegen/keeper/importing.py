"""From a sheet to new records: read, planned, tried in memory, and only then written."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from sitegen.content.species import Species
from sitegen.evidence.answers import Known
from sitegen.findings import ContentError, Finding, Kind, Level, Place, has_errors, in_order
from sitegen.genetics.questions import AnimalId
from sitegen.keeper.cells import Unread
from sitegen.keeper.columns import KNOWN, Mapped, columns_of, read_mapped
from sitegen.keeper.labels import LabelReader
from sitegen.keeper.planning import RowPlanner, carrying, differences
from sitegen.keeper.record_text import new_record
from sitegen.keeper.records import Consequences, Records, as_they_stand, new_file, open_records, think_through
from sitegen.keeper.rows import Draft, RowReader, record_values
from sitegen.keeper.sheets import Sheet, SheetFile, decoded, read_bytes, read_sheet

_MOST_ATTEMPTS = 12
"""How often rows that turn out to be unsound are left out and the others tried again."""


@dataclass(frozen=True, slots=True)
class Import:
    """What an import would do.

    Attributes:
        findings: Everything to tell, by row.
        records: Path below the content folder to the text of each new record; empty when nothing may be written.
        rows: How many rows hold something.
        new: Rows that become records.
        known: Rows of animals that have a record already.
        differing: How many of those differ from their record.
        left: Rows that are not taken.
        waiting: How many of those are understood and wait for the row of a parent.
    """

    findings: tuple[Finding, ...]
    records: dict[str, str] = field(default_factory=dict)
    rows: int = 0
    new: int = 0
    known: int = 0
    differing: int = 0
    left: int = 0
    waiting: int = 0


def plan_import(
    file: Path,
    content: Path,
    *,
    columns: Path | None = None,
    species: str = "",
    sheet: str = "",
    partly: bool = False,
    with_parents: bool = False,
    today: dt.date | None = None,
) -> Import:
    """What an import would do; reads files and writes none.

    Args:
        file: The sheet.
        content: The content folder.
        columns: The keeper's file of columns, if there is one.
        species: Id or name of the species of rows that name none; empty when not said.
        sheet: The sheet of a workbook; empty for the usual one.
        partly: Rows that were understood whole are taken although others were not.
        with_parents: Parents without a record or row get a bare record.
        today: The day it is; nothing has happened after it.

    Raises:
        ContentError: The records are in error, or a file cannot be read.
    """
    mapped = _mapped(columns)
    table = read_sheet(file, {*KNOWN, *mapped.columns}, sheet)
    records, before, known = _sound(content, today)
    held, findings = columns_of(table, mapped)
    if has_errors(findings):
        return Import(in_order([*table.notices, *findings]), rows=len(table.rows), left=len(table.rows))
    own = known.collection.species
    readers = {species_id: LabelReader(each, mapped.words) for species_id, each in own.items()}
    reader = RowReader(table.file, held, mapped.dates, readers, _usual(species, own))
    planner = RowPlanner(known.collection, with_parents, mapped.possible)
    drafts = planner.plan([reader.read(row) for row in table.rows])
    trial = _Trial(records, before, planner, drafts)
    kept, after = trial.sound()
    trial.tell_waiting()
    _compare(drafts, known, kept.values(), after)
    return _outcome(table, drafts, kept, partly)


def _mapped(path: Path | None) -> Mapped:
    """The keeper's file of columns.

    Raises:
        ContentError: It cannot be read, or something in it is not understood.
    """
    if path is None:
        return Mapped()
    file = SheetFile(path.name)
    mapped, findings = read_mapped(decoded(read_bytes(path, file), file), path.name)
    if has_errors(findings):
        raise ContentError(findings)
    return mapped


def _sound(content: Path, today: dt.date | None) -> tuple[Records, Consequences, Known]:
    """The records as they stand, and what they answer.

    Raises:
        ContentError: One of them is in error, so that nothing can be put beside them.
    """
    records = open_records(content, today)
    if has_errors(records.reading) and not records.content.texts:
        raise ContentError(records.reading)
    before = as_they_stand(records)
    if before.known is None or has_errors(records.reading):
        raise ContentError(in_order([*records.reading, *before.findings]))
    return records, before, before.known


def _usual(named: str, species: Mapping[str, Species]) -> str:
    """The species of rows that name none: the one that is said, or the only one there is.

    Raises:
        ContentError: There is no such species, or none at all.
    """
    found = [own.id for own in species.values() if named.casefold() in (own.id.casefold(), own.name.casefold())]
    if (named and not found) or not species:
        message = f'there is no species "{named}"' if named else "there is no species file yet"
        expected = f"one of {', '.join(species)}" if species else "a file in the folder species"
        remedy = "write the species file first"
        raise ContentError([Finding(Level.ERROR, Kind.SPECIES_UNKNOWN, None, message, expected, remedy=remedy)])
    return found[0] if found else next(iter(species)) if len(species) == 1 else ""


@dataclass(slots=True)
class _Trial:
    """Tries the new records beside those that stand, and keeps what is sound."""

    records: Records
    before: Consequences
    planner: RowPlanner
    drafts: list[Draft]
    waiting: dict[int, list[int]] = field(default_factory=dict)

    def sound(self) -> tuple[dict[str, Draft], Known | None]:
        """The new drafts that stand beside the records without an error, and what all of them answer together.

        The drafts are given by the paths of their records. All others say why not.
        """
        for attempt in range(_MOST_ATTEMPTS):
            self._let_wait()
            kept = self._whole()
            if not kept:
                return {}, self.before.known
            by_path = {f"animals/{draft.id}/animal.yaml": draft for draft in kept}
            files = [new_file(path, self._text(path, draft)) for path, draft in by_path.items()]
            found = think_through(self.records, files, self.before)
            errors = [finding for finding in found.findings if finding.level is Level.ERROR]
            blamed = [self._blame(finding, by_path) for finding in errors]
            if not errors:
                for finding in found.findings:
                    self._blame(finding, by_path)
                return by_path, found.known
            if not all(blamed) or attempt == _MOST_ATTEMPTS - 2:  # an error of no row in particular: nothing is taken
                for draft in kept:
                    for finding in errors:
                        self._retell(draft, finding)
        return {}, None

    def _text(self, path: str, draft: Draft) -> str:
        if not draft.text:
            values = record_values(draft, self.planner.stated(draft))
            draft.text = new_record(self.records.root, path, "animal", values)
        return draft.text

    def _whole(self) -> list[Draft]:
        """The new drafts that were understood whole; a bare parent only beside a young that was."""
        whole = [draft for draft in self.drafts if draft.whole and not draft.waits and not draft.known and draft.id]
        named = {parent for draft in whole for parent in draft.parents}
        return [draft for draft in whole if not draft.bare or draft.id in named]

    def _let_wait(self) -> None:
        """A row whose parent stands in a row that is not taken is not taken either; it is told once, at the parent."""
        new = [draft for draft in self.drafts if not draft.known and draft.id]
        while True:
            lost: dict[AnimalId, Draft] = {}
            for draft in new:
                if draft.waits or not draft.whole:
                    lost.setdefault(draft.id, draft)
            hanging = [
                (draft, lost[parent])
                for draft in new
                if draft.whole and not draft.waits and (parent := next((p for p in draft.parents if p in lost), ""))
            ]
            if not hanging:
                return
            for draft, parent_draft in hanging:
                draft.waits = True
                self.waiting.setdefault(parent_draft.row, []).append(draft.row)

    def tell_waiting(self) -> None:
        """Tell each parent that is not taken which rows wait for it."""
        first = {draft.row: draft for draft in reversed(self.drafts)}
        for row, waiting in self.waiting.items():
            numbers = sorted(set(waiting))
            names = f"row {numbers[0]} names" if len(numbers) == 1 else f"rows {', '.join(map(str, numbers))} name"
            message = f"{names} this animal as a parent, and so must wait"
            held = "name" if "name" in first[row].cells else "id"
            why = Unread(message, remedy="mend this row first")
            first[row].tell(held, Kind.ANIMAL_UNKNOWN, why, Level.NOTICE)

    def _blame(self, finding: Finding, by_path: Mapping[str, Draft]) -> bool:
        """Tell a finding of the records at the first row it is about; False when it is about none."""
        places = [place for place in (finding.place, *finding.others) if place]
        drafts = [by_path[path] for path in dict.fromkeys(place.file for place in places) if path in by_path]
        drafts.sort(key=lambda draft: draft.row)
        if not drafts:
            return False
        self._retell(drafts[0], finding, drafts[1:])
        for draft in drafts:
            draft.unsound = draft.unsound or finding.level is Level.ERROR
        return True

    def _retell(self, draft: Draft, finding: Finding, beside: Sequence[Draft] = ()) -> None:
        """Tell a finding of the records at a row, with the other rows and records that belong to it."""
        message = f"row {draft.row}, {draft.called}: {finding.message}"
        rows = [Place(draft.file, other.row, 1) for other in beside]
        places = [place for place in (finding.place, *finding.others) if place]
        known = [place for place in places if place.file in self.records.content.texts]
        place = Place(draft.file, draft.row, 1)
        told = replace(finding, place=place, message=message, width=0, others=(*rows, *known))
        if told not in draft.findings:
            draft.findings.append(told)


def _compare(drafts: Iterable[Draft], known: Known, kept: Iterable[Draft], after: Known | None) -> None:
    """Tell where rows differ from records that stand, and labels of new records from the evidence."""
    for draft in drafts:
        if draft.known and draft.whole:
            for held, clause in differences(draft, known):
                _tell_difference(draft, held, clause, "the record stays as it is; change it there if it is wrong")
    for draft in kept:
        if after is not None and draft.parents:
            for carried in draft.label.carried:
                for held, clause in carrying(draft, carried, after):
                    _tell_difference(draft, held, clause, "nothing of it is stored; the site says what the records say")


def _tell_difference(draft: Draft, held: str, clause: str, remedy: str) -> None:
    if held == "genetics" and held not in draft.cells:
        held = "hets"
    draft.tell(held, Kind.VALUE_WRONG, Unread(clause, remedy=remedy), Level.NOTICE)


def _outcome(sheet: Sheet, drafts: Sequence[Draft], kept: Mapping[str, Draft], partly: bool) -> Import:
    """What is told of all rows, and the records that may be written."""
    faulty = {draft.row for draft in drafts if not draft.whole}
    waiting = {draft.row for draft in drafts if draft.waits} - faulty
    known = [draft for draft in drafts if draft.known and draft.row not in faulty]
    return Import(
        findings=in_order([*sheet.notices, *(finding for draft in drafts for finding in draft.findings)]),
        records={path: draft.text for path, draft in kept.items()} if partly or not faulty else {},
        rows=len({draft.row for draft in drafts}),
        new=len({draft.row for draft in kept.values()} - {draft.row for draft in known}),
        known=len(known),
        differing=sum(any(f.level is Level.NOTICE for f in draft.findings) for draft in known),
        left=len(faulty | waiting),
        waiting=len(waiting),
    )
