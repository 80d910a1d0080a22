"""A sheet as rows of text, whatever program wrote it: separators, encodings, workbooks, and their bounds."""

import csv
import datetime as dt
import io
import re
import warnings
import zipfile
import zlib
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl

from sitegen.below import TooLarge, read_named
from sitegen.findings import ContentError, Finding, Kind, Level, Place

MAX_BYTES = 10_000_000
MAX_ROWS = 20_000
MAX_COLUMNS = 200
MAX_CELL = 10_000
"""Signs of the longest cell that is read; a page of text has three thousand."""

_MAX_UNPACKED = 60_000_000
_MAX_PARTS = 2_000
_PREFERRED = "animals"
"""The sheet of a workbook that is read when none is named."""

_ZIP = b"PK\x03\x04"
_ENTITIES = tuple(
    mark.encode(form) for mark in ("<!DOCTYPE", "<!ENTITY") for form in ("utf-8", "utf-16-le", "utf-16-be")
)
_SEPARATORS = (",", ";", "\t", "|")
_GUARDED = ("=", "+", "-", "@", "\t", "\r")


@dataclass(frozen=True, slots=True)
class Cell:
    """A filled cell: its text, and where it stands, counted from 1."""

    text: str
    row: int
    column: int
    heading: str


@dataclass(frozen=True, slots=True)
class Row:
    """One row with at least one filled cell, by position of the column."""

    number: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet with a row of headings.

    Attributes:
        headings: (column, text) of each filled heading.
        rows: The filled rows below.
        notices: What the reader should know about how it was read.
    """

    file: str
    headings: tuple[tuple[int, str], ...]
    rows: tuple[Row, ...]
    notices: tuple[Finding, ...] = ()
    header_row: int = 1


@dataclass(slots=True)
class SheetFile:
    """The file of a sheet, to say what is wrong with it."""

    name: str
    notices: list[Finding] = field(default_factory=list)

    def refused(self, kind: Kind, message: str, expected: str = "", remedy: str = "", row: int = 0) -> ContentError:
        """The whole file cannot be read."""
        place = Place(self.name, row, 1) if row else Place(self.name)
        return ContentError([Finding(Level.ERROR, kind, place, message, expected, remedy=remedy)])

    def notice(self, message: str, remedy: str) -> None:
        """Something to know of the file."""
        self.notices.append(Finding(Level.NOTICE, Kind.VALUE_WRONG, Place(self.name), message, remedy=remedy))

    def no_workbook(self, why: str = "") -> ContentError:
        """It is no workbook, or a damaged one."""
        return self.refused(
            Kind.FILE_UNREADABLE,
            f"this is not a workbook that can be read{f' ({why})' if why else ''}",
            "a workbook that ends in .xlsx, without a password",
            "open it in your spreadsheet program and save it again as .xlsx, or as CSV" if why
            else "save it as .xlsx or as CSV",
        )  # fmt: skip

    def too_many(self) -> ContentError:
        """More rows than are read."""
        message = f"this sheet goes on after row {MAX_ROWS:,}"
        remedy = "delete the empty rows at the end, or split it"
        return self.refused(Kind.FILE_TOO_LARGE, message, f"at most {MAX_ROWS:,} rows", remedy)


def read_sheet(path: Path, known: Collection[str], wanted: str = "") -> Sheet:
    """A sheet of a CSV file or a workbook; what it is is seen from its content, not from its name.

    ``known`` are headings that are understood, as :func:`plain_heading` writes them; ``wanted`` is the sheet of a
    workbook, empty for the usual one.

    Raises:
        ContentError: It cannot be read.
    """
    file = SheetFile(path.name)
    raw = read_bytes(path, file)
    if raw.startswith(_ZIP):
        return _sheet(_workbook_rows(raw, wanted, file), file)
    if path.suffix.lower() in (".xlsx", ".xlsm", ".xls", ".ods"):
        raise file.no_workbook()
    return _sheet(_csv_rows(decoded(raw, file), known, file), file)


def read_bytes(path: Path, file: SheetFile) -> bytes:
    """The bytes of a file of bearable size.

    Raises:
        ContentError: It is not there, not a file, or too large.
    """
    try:
        if not path.is_file():
            what = "this is no file" if path.exists() else "there is no such file"
            raise file.refused(Kind.FILE_UNREADABLE, what, remedy="name a file that ends in .csv or .xlsx")
        return read_named(path, MAX_BYTES)
    except TooLarge as found:
        message, expected = f"this file has {found.size:,} bytes", f"at most {MAX_BYTES:,} bytes"
        remedy = "delete pictures and sheets that are not records, or split it"
        raise file.refused(Kind.FILE_TOO_LARGE, message, expected, remedy) from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "it cannot be opened"
        raise file.refused(Kind.FILE_UNREADABLE, f"this cannot be read: {why}") from None


def decoded(raw: bytes, file: SheetFile) -> str:
    """The text of a CSV file: UTF-8 or UTF-16 by its mark, else UTF-8, else the Windows form of Latin-1 (told).

    Raises:
        ContentError: It is no text.
    """
    marks = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
    marked = next((encoding for mark, encoding in marks if raw.startswith(mark)), "utf-8")
    try:
        text = raw.decode(marked)
    except UnicodeDecodeError:
        try:
            text = raw.decode("cp1252")
        except UnicodeDecodeError:  # Windows-1252 leaves five bytes without a meaning; Latin-1 reads whatever is left
            text = raw.decode("latin-1")
        told = "this file is not UTF-8; it was read as Latin-1 (Windows-1252)"
        file.notice(told, "look whether letters with accents are right")
    if "\0" in text:
        raise file.refused(Kind.FILE_UNREADABLE, "this is no text", "a CSV file, or a workbook that ends in .xlsx")
    return text


def _csv_rows(text: str, known: Collection[str], file: SheetFile) -> list[list[str]]:
    """The rows of a CSV text. The separator is the one under which most headings are understood.

    Raises:
        ContentError: Quotes do not close, or there is too much of it.
    """
    separators: Sequence[str] = _SEPARATORS
    first, _, rest = text.partition("\n")
    if first.strip().lower().startswith("sep=") and len(first.strip()) == 5:
        separators = first.strip()[4]
        text = "\n" + rest

    def score(separator: str) -> tuple[int, int]:
        rows = _parted(text, separator, file)
        try:
            head = next((cells for cells in rows if any(cell.strip() for cell in cells)), [])
        except ContentError:
            return -1, 0
        return sum(plain_heading(cell) in known for cell in head), len(head)

    return list(_parted(text, max(separators, key=score), file))


def _parted(text: str, separator: str, file: SheetFile) -> Iterator[list[str]]:
    number = 0
    try:
        for number, cells in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True), 1):
            if number > MAX_ROWS:
                raise file.too_many()
            yield cells
    except csv.Error as error:
        raise file.refused(
            Kind.FILE_UNREADABLE,
            f"the cells of row {number + 1} cannot be told apart ({error})",
            "a quoted cell that begins and ends with a quotation mark; one inside it is written twice",
            "mend the quotation marks, or save the sheet again from your spreadsheet program",
            number + 1,
        ) from None


def _workbook_rows(raw: bytes, wanted: str, file: SheetFile) -> list[list[str]]:
    """The rows of one sheet: the one that is wanted, else the one called animals, else the first.

    Formulas are not evaluated: what the program that wrote the file had worked out is read. Sheets that are not read
    are told.

    Raises:
        ContentError: It is no workbook, it unpacks to more than any collection needs, or the sheet is not there.
    """
    try:
        _check_archive(raw, file)
        with warnings.catch_warnings():  # of parts that it passes over; what is missing then is told below
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(io.BytesIO(raw), read_only=True, data_only=True, keep_links=False)
        try:
            sheet = _chosen(book, wanted, file)
            sheet.reset_dimensions()
            return list(_shown_rows(sheet, file))
        finally:
            book.close()
    except (SyntaxError, KeyError, ValueError, TypeError, AttributeError, IndexError, OSError, EOFError) as error:
        # a damaged archive or part; SyntaxError is what the standard library's XML parser raises
        raise file.no_workbook(type(error).__name__) from None
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, OverflowError, zlib.error) as error:
        raise file.no_workbook(type(error).__name__) from None


def _check_archive(raw: bytes, file: SheetFile) -> None:
    """Bound what the archive unpacks to before anything in it is read, and refuse XML that defines entities."""
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        parts = archive.infolist()
        if len(parts) > _MAX_PARTS or sum(part.file_size for part in parts) > _MAX_UNPACKED:
            message = "this workbook unpacks to more than any collection needs"
            remedy = "save the sheet with the animals as CSV"
            raise file.refused(Kind.FILE_TOO_LARGE, message, f"at most {_MAX_UNPACKED:,} bytes", remedy)
        for part in parts:
            if part.filename.lower().endswith((".xml", ".rels")):
                content = archive.read(part)
                if any(mark in content for mark in _ENTITIES):
                    raise ValueError("it defines entities")


def _chosen(book: Any, wanted: str, file: SheetFile) -> Any:
    sheets = {sheet.title: sheet for sheet in book.worksheets}
    if not sheets:
        raise file.refused(Kind.FILE_UNREADABLE, "this workbook holds no sheet")
    by_name = {title.casefold(): title for title in sheets}
    if wanted and wanted.casefold() not in by_name:
        message, expected = f'this workbook has no sheet "{wanted}"', f"one of {', '.join(sheets)}"
        raise file.refused(Kind.FILE_UNREADABLE, message, expected, "name the sheet as it stands on its tab")
    chosen = by_name.get(wanted.casefold() or _PREFERRED) or next(iter(sheets))
    if others := [title for title in sheets if title != chosen]:
        file.notice(f'the sheet "{chosen}" was read; not read: {", ".join(others)}', "name another one with --sheet")
    return sheets[chosen]


def _shown_rows(sheet: Any, file: SheetFile) -> Iterator[list[str]]:
    for number, row in enumerate(sheet.iter_rows(), 1):
        if number > MAX_ROWS:
            raise file.too_many()
        cells = [shown(cell.value, str(getattr(cell, "number_format", "") or "")) for cell in row]
        while cells and not cells[-1]:
            cells.pop()
        yield cells


def shown(value: object, number_format: str = "") -> str:
    """A cell's value as its sheet shows it: a day as year-month-day, a percentage with its sign, ``0.1`` as text.

    >>> shown(0.66, "0%"), shown(140.0), shown(1, "0.0")
    ('66%', '140', '1.0')
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.datetime):
        return value.date().isoformat() if value.time() == dt.time() else value.isoformat(" ")
    if isinstance(value, int | float):
        number = Decimal(repr(value))
        if not number.is_finite() or abs(number.adjusted()) > 30:
            return str(value)
        if "%" in number_format:
            return f"{_digits(number * 100)}%"
        if decimals := re.fullmatch(r"0\.(0+)", number_format.strip()):
            return f"{number:.{len(decimals[1])}f}"
        return _digits(number)
    return str(value)


def _digits(number: Decimal) -> str:
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _sheet(rows: Sequence[Sequence[str]], file: SheetFile) -> Sheet:
    """The sheet: the first filled row holds the headings.

    Raises:
        ContentError: There are no headings, or a cell or row is larger than any record.
    """
    header = next((at for at, cells in enumerate(rows) if any(cell.strip() for cell in cells)), None)
    if header is None:
        expected = "a row of headings, such as name, sex, born, genetics, dam, sire"
        raise file.refused(Kind.FILE_UNREADABLE, "this sheet is empty", expected)
    if any(len(cells) > MAX_COLUMNS for cells in rows):
        message = f"a row has more than {MAX_COLUMNS} columns"
        raise file.refused(Kind.FILE_TOO_LARGE, message, remedy="delete the empty columns")
    headings = tuple((at, text) for at, text in enumerate((_bare(c) for c in rows[header]), 1) if text)
    numbered = enumerate(rows[header + 1 :], header + 2)
    found = (Row(number, tuple(_filled(cells, number, dict(headings), file))) for number, cells in numbered)
    return Sheet(file.name, headings, tuple(row for row in found if row.cells), tuple(file.notices), header + 1)


def _filled(cells: Iterable[str], row: int, headings: dict[int, str], file: SheetFile) -> Iterator[Cell]:
    for column, written in enumerate(cells, 1):
        if len(written) > MAX_CELL:
            message = f"a cell of row {row} holds {len(written):,} signs"
            raise file.refused(Kind.FILE_TOO_LARGE, message, f"at most {MAX_CELL:,}", row=row)
        if text := _bare(written):
            yield Cell(text, row, column, headings.get(column, ""))


def _bare(text: str) -> str:
    """The text of a cell without blanks around it, and without the apostrophe that keeps a program from obeying it."""
    text = text.strip()
    return text[1:] if text[:1] == "'" and text[1:2] in _GUARDED and text[1:2] else text


def guarded(text: str) -> str:
    """Text that no spreadsheet program takes for a formula; signs that steer a machine become blanks.

    Source: OWASP, "CSV Injection" (from memory): cells that begin with = + - @, tab or carriage return.

    >>> guarded("=1+1"), guarded("Flint")
    ("'=1+1", 'Flint')
    """
    dangerous = text.startswith(_GUARDED) or text.lstrip().startswith(_GUARDED)  # some programs trim a cell first
    clean = "".join(sign if sign >= " " or sign == "\n" else " " for sign in text)
    return f"'{clean}" if dangerous else clean


def plain_heading(text: str) -> str:
    """A heading in the one form in which headings are compared.

    >>> plain_heading(" Date_of  Birth: ")
    'date of birth'
    """
    return " ".join(text.replace("_", " ").replace("-", " ").strip(" :*#").casefold().split())
