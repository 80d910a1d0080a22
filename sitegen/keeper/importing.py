"""From a sheet to new records: read, planned, tried in memory, and only then written."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path

from sitegen.findings import ContentError, Finding, Kind, Level, Place, has_errors, in_order
from sitegen.genetics.questions import AnimalId
from sitegen.keeper.columns import Field, Mapped, columns_of, known_headings, read_mapped
from sitegen.keeper.comparing import carrying, differences
from sitegen.keeper.neat import record_text
from sitegen.keeper.planning import Planner
from sitegen.keeper.rows import Draft, RowReader
from sitegen.keeper.sheets import Sheet, Source, decoded, read_bytes, rows_of_csv, sheet_of
from sitegen.keeper.standing import Standing, beside, read_standing
from sitegen.keeper.workbooks import rows_of_workbook

_ZIP = b"PK\x03\x04"
_MOST_ATTEMPTS = 12
"""How often rows that turn out to be unsound are left out and the others tried again."""


@dataclass(frozen=True, slots=True)
class ImportOrder:
    """What is to be imported.

    Attributes:
        file: The sheet.
        content: The content folder.
        columns: The keeper's file of columns, if there is one.
        species: Id or name of the species of rows that name none; empty when not said.
        sheet: The sheet of a workbook; empty for the usual one.
        partly: Rows that were understood whole are taken although others were not.
        with_parents: Parents without a record or row get a bare record.
        today: The day it is; nothing has happened after it.
    """

    file: Path
    content: Path
    columns: Path | None = None
    species: str = ""
    sheet: str = ""
    partly: bool = False
    with_parents: bool = False
    today: dt.date | None = None


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


def plan_import(order: ImportOrder) -> Import:
    """What an import would do; reads files and writes none.

    Raises:
        ContentError: The records are in error, or a file cannot be read.
    """
    mapped = _mapped(order.columns)
    sheet = read_sheet(order.file, order.sheet, mapped)
    standing = read_standing(order.content, order.today)
    columns = columns_of(sheet, mapped)
    if has_errors(columns.findings):
        return Import(in_order([*sheet.notices, *columns.findings]), rows=len(sheet.rows), left=len(sheet.rows))
    reader = RowReader(sheet.file, columns, mapped, standing.collection.species, _usual(order.species, standing))
    planner = Planner(standing.collection, reader, order.with_parents, mapped.possible)
    drafts = planner.plan([reader.read(row) for row in sheet.rows])
    return _Attempt(standing, reader, planner, drafts, order.partly).outcome(sheet)


def read_sheet(path: Path, wanted: str = "", mapped: Mapped | None = None) -> Sheet:
    """A sheet of a CSV file or a workbook; what it is is seen from its content, not from its name.

    Raises:
        ContentError: It cannot be read.
    """
    source = Source(path.name)
    raw = read_bytes(path, source)
    if raw.startswith(_ZIP):
        return sheet_of(rows_of_workbook(raw, wanted, source), source)
    if path.suffix.lower() in (".xlsx", ".xlsm", ".xls", ".ods"):
        raise source.refused(
            Kind.FILE_UNREADABLE, "this is not a workbook that can be read",
            expected="a workbook that ends in .xlsx, without a password", remedy="save it as .xlsx or as CSV",
        )  # fmt: skip
    return sheet_of(rows_of_csv(decoded(raw, source), known_headings(mapped or Mapped()), source), source)


def _mapped(path: Path | None) -> Mapped:
    """The keeper's file of columns.

    Raises:
        ContentError: It cannot be read, or something in it is not understood.
    """
    if path is None:
        return Mapped()
    source = Source(path.name)
    mapped, findings = read_mapped(decoded(read_bytes(path, source), source), path.name)
    if has_errors(findings):
        raise ContentError(findings)
    return mapped


def _usual(named: str, standing: Standing) -> str:
    """The species of rows that name none: the one that is said, or the only one there is.

    Raises:
        ContentError: There is no such species, or none at all.
    """
    species = standing.collection.species
    found = [own.id for own in species.values() if named.casefold() in (own.id.casefold(), own.name.casefold())]
    if (named and not found) or not species:
        message = f'there is no species "{named}"' if named else "there is no species file yet"
        raise ContentError(
            [
                Finding(
                    Level.ERROR, Kind.SPECIES_UNKNOWN, None, message,
                    expected=f"one of {', '.join(species)}" if species else "a file in the folder species",
                    remedy="write the species file first",
                )
            ]
        )  # fmt: skip
    return found[0] if found else next(iter(species)) if len(species) == 1 else ""


@dataclass(slots=True)
class _Attempt:
    """Tries the new records beside those that stand, and keeps what is sound."""

    standing: Standing
    reader: RowReader
    planner: Planner
    drafts: list[Draft]
    partly: bool
    together: Standing | None = None
    waiting: dict[int, list[int]] = field(default_factory=dict)

    def outcome(self, sheet: Sheet) -> Import:
        kept = self._sound()
        self._compare(kept)
        self._tell_waiting()
        records = {_path(draft): self._text(draft) for draft in kept}
        rows = {draft.row for draft in self.drafts}
        faulty = {draft.row for draft in self.drafts if not draft.whole}
        waiting = {draft.row for draft in self.drafts if draft.waits} - faulty
        known = [draft for draft in self.drafts if draft.known and draft.row not in faulty]
        writes = bool(records) and (self.partly or not faulty)
        findings = [finding for draft in self.drafts for finding in draft.findings]
        return Import(
            findings=in_order([*sheet.notices, *findings]),
            records=records if writes else {},
            rows=len(rows),
            new=len({draft.row for draft in kept} - {draft.row for draft in known}),
            known=len(known),
            differing=sum(any(f.level is Level.NOTICE for f in draft.findings) for draft in known),
            left=len(faulty | waiting),
            waiting=len(waiting),
        )

    def _text(self, draft: Draft) -> str:
        return record_text(draft, self.planner.stated(draft))

    def _sound(self) -> list[Draft]:
        """The new drafts that stand beside the records without an error; all others say why not."""
        for attempt in range(_MOST_ATTEMPTS):
            self._let_wait()
            kept = self._whole()
            if not kept:
                self.together = self.standing
                return []
            together, findings = beside(self.standing, {_path(draft): self._text(draft) for draft in kept})
            by_path = {_path(draft): draft for draft in kept}
            blamed = [self._blame(finding, by_path) for finding in findings if finding.level is Level.ERROR]
            if not blamed:
                self.together = together
                self._pass_on(findings, by_path)
                return kept
            if not all(blamed) or attempt == _MOST_ATTEMPTS - 2:
                for draft in kept:
                    self._tell_unsound(draft, findings)
        return []

    def _whole(self) -> list[Draft]:
        """The new drafts that were understood whole; a bare parent only beside a young that was."""
        whole = [draft for draft in self.drafts if draft.whole and not draft.waits and not draft.known and draft.id]
        named = {parent for draft in whole for parent in (draft.dam, *(sire for sire, _ in draft.sires))}
        return [draft for draft in whole if not draft.bare or draft.id in named]

    def _let_wait(self) -> None:
        """A row whose parent stands in a row that is not taken is not taken either; it is told once, at the parent."""
        while True:
            open_ = [draft for draft in self.drafts if not draft.known and draft.id]
            lost: dict[AnimalId, Draft] = {}
            for draft in open_:
                if draft.waits or not draft.whole:
                    lost.setdefault(draft.id, draft)
            found = list(self.planner.hanging([d for d in open_ if d.whole and not d.waits], lost))
            if not found:
                return
            for draft, parent in found:
                draft.waits = True
                self.waiting.setdefault(parent.row, []).append(draft.row)

    def _tell_waiting(self) -> None:
        first = {draft.row: draft for draft in reversed(self.drafts)}
        for row, waiting in self.waiting.items():
            draft = first[row]
            numbers = sorted(set(waiting))
            names = f"row {numbers[0]} names" if len(numbers) == 1 else f"rows {', '.join(map(str, numbers))} name"
            self.reader.tell(
                draft, Field.NAME if Field.NAME in draft.cells else Field.ID, Kind.ANIMAL_UNKNOWN,
                f"{names} this animal as a parent, and so must wait",
                remedy="mend this row first", level=Level.NOTICE,
            )  # fmt: skip

    def _blame(self, finding: Finding, by_path: dict[str, Draft]) -> bool:
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

    def _retell(self, draft: Draft, finding: Finding, beside: Iterable[Draft] = ()) -> None:
        message = f"row {draft.row}, {draft.called}: {finding.message}"
        rows = [Place(self.reader.file, other.row, 1) for other in beside]
        places = [place for place in (finding.place, *finding.others) if place]
        records = [place for place in places if place.file in self.standing.content.texts]
        told = replace(
            finding, place=Place(self.reader.file, draft.row, 1), message=message, width=0, others=(*rows, *records)
        )
        if told not in draft.findings:
            draft.findings.append(told)

    def _tell_unsound(self, draft: Draft, findings: Iterable[Finding]) -> None:
        """An error that no row can be blamed for: nothing is taken."""
        for finding in findings:
            if finding.level is Level.ERROR:
                self._retell(draft, finding)

    def _pass_on(self, findings: Iterable[Finding], by_path: dict[str, Draft]) -> None:
        for finding in findings:
            self._blame(finding, by_path)

    def _compare(self, kept: list[Draft]) -> None:
        """Tell where rows differ from records that stand, and labels from the evidence."""
        for draft in self.drafts:
            if draft.known and draft.whole:
                for held, clause in differences(draft, self.standing):
                    self._tell_difference(
                        draft, held, clause, "the record stays as it is; change it there if it is wrong"
                    )
        for draft in kept:
            if self.together is not None and (draft.dam or draft.sires):
                for carried in draft.label.carried:
                    for held, clause in carrying(draft, carried, self.together):
                        self._tell_difference(
                            draft, held, clause, "nothing of it is stored; the site says what the records say"
                        )

    def _tell_difference(self, draft: Draft, held: Field, clause: str, remedy: str) -> None:
        if held is Field.GENETICS and held not in draft.cells:
            held = Field.HETS
        self.reader.tell(draft, held, Kind.VALUE_WRONG, clause, remedy=remedy, level=Level.NOTICE)


def _path(draft: Draft) -> str:
    return f"animals/{draft.id}/animal.yaml"


def ids(records: Iterable[str]) -> tuple[AnimalId, ...]:
    """The ids of new records from their paths."""
    return tuple(path.split("/")[1] for path in records)
