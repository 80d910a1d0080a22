"""A sheet as rows of text, whatever program wrote it: separators, encodings and bounds of CSV files."""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sitegen.below import TooLarge, read_named
from sitegen.findings import ContentError, Finding, Kind, Level, Place

MAX_BYTES = 10_000_000
MAX_ROWS = 20_000
MAX_COLUMNS = 200
MAX_CELL = 10_000
"""Signs of the longest cell that is read; a page of text has three thousand."""

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
        file: What the file is called, for places.
        headings: (column, text) of each filled heading.
        rows: The filled rows below.
        notices: What the reader should know about how it was read.
        header_row: The row in which the headings stand.
    """

    file: str
    headings: tuple[tuple[int, str], ...]
    rows: tuple[Row, ...]
    notices: tuple[Finding, ...] = ()
    header_row: int = 1


@dataclass(slots=True)
class Source:
    """Where a sheet comes from, to say what is wrong with it."""

    file: str
    notices: list[Finding] = field(default_factory=list)

    def refused(self, kind: Kind, message: str, *, row: int = 0, expected: str = "", remedy: str = "") -> ContentError:
        """The whole file cannot be read."""
        place = Place(self.file, row, 1) if row else Place(self.file)
        return ContentError([Finding(Level.ERROR, kind, place, message, expected, remedy=remedy)])

    def notice(self, message: str, remedy: str = "") -> None:
        """Something to know of the file."""
        self.notices.append(
            Finding(Level.NOTICE, Kind.VALUE_WRONG, Place(self.file), message, remedy=remedy),
        )


def read_bytes(path: Path, source: Source) -> bytes:
    """The bytes of a file of bearable size.

    Raises:
        ContentError: It is not there, not a file, or too large.
    """
    try:
        if not path.is_file():
            what = "this is no file" if path.exists() else "there is no such file"
            raise source.refused(Kind.FILE_UNREADABLE, what, remedy="name a file that ends in .csv or .xlsx")
        return read_named(path, MAX_BYTES)
    except TooLarge as found:
        raise source.refused(
            Kind.FILE_TOO_LARGE,
            f"this file has {found.size:,} bytes",
            expected=f"at most {MAX_BYTES:,} bytes",
            remedy="delete pictures and sheets that are not records, or split it",
        ) from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "it cannot be opened"
        raise source.refused(Kind.FILE_UNREADABLE, f"this cannot be read: {why}") from None


def decoded(raw: bytes, source: Source) -> str:
    """The text of a CSV file: UTF-8 or UTF-16 by its mark, else UTF-8, else the Windows form of Latin-1 (told).

    Raises:
        ContentError: It is no text.
    """
    marks = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
    marked = next((encoding for mark, encoding in marks if raw.startswith(mark)), "utf-8")
    text = None
    for encoding in (marked, "cp1252", "latin-1"):
        try:
            text = raw.decode(encoding)
            break
        except UnicodeDecodeError:
            continue
    assert text is not None
    if encoding in ("cp1252", "latin-1"):
        source.notice(
            "this file is not UTF-8; it was read as Latin-1 (Windows-1252)",
            "look whether letters with accents are right",
        )
    if "\0" in text:
        raise source.refused(
            Kind.FILE_UNREADABLE, "this is no text", expected="a CSV file, or a workbook that ends in .xlsx"
        )
    return text


def rows_of_csv(text: str, known: frozenset[str], source: Source) -> list[list[str]]:
    """The rows of a CSV text. The separator is the one under which most headings are understood.

    Args:
        text: The file.
        known: Headings that are understood, as :func:`plain_heading` writes them.
        source: For messages.

    Raises:
        ContentError: Quotes do not close, or there is too much of it.
    """
    first, _, rest = text.partition("\n")
    if first.strip().lower().startswith("sep=") and len(first.strip()) == 5:
        separators: tuple[str, ...] = (first.strip()[4],)
        text = "\n" + rest
    else:
        separators = _SEPARATORS

    def score(separator: str) -> tuple[int, int]:
        try:
            found = next(_rows(text, separator, source), [])
        except ContentError:
            return -1, 0
        return sum(plain_heading(cell) in known for cell in found), len(found)

    best = max(separators, key=score)
    return list(_rows(text, best, source, blank=True))


def _rows(text: str, separator: str, source: Source, *, blank: bool = False) -> Iterator[list[str]]:
    """The rows; without ``blank`` those that hold something."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    number = 0
    try:
        for cells in reader:
            number += 1
            if number > MAX_ROWS:
                raise too_many(source)
            if blank or any(cell.strip() for cell in cells):
                yield cells
    except csv.Error as error:
        raise source.refused(
            Kind.FILE_UNREADABLE,
            f"the cells of row {number + 1} cannot be told apart ({error})",
            row=number + 1,
            expected="a quoted cell that begins and ends with a quotation mark; one inside it is written twice",
            remedy="mend the quotation marks, or save the sheet again from your spreadsheet program",
        ) from None


def too_many(source: Source) -> ContentError:
    """More rows than are read."""
    return source.refused(
        Kind.FILE_TOO_LARGE,
        f"this sheet goes on after row {MAX_ROWS:,}",
        expected=f"at most {MAX_ROWS:,} rows",
        remedy="delete the empty rows at the end, or split it",
    )


def sheet_of(rows: Sequence[Sequence[str]], source: Source) -> Sheet:
    """The sheet: the first filled row holds the headings.

    Raises:
        ContentError: There are no headings, or a cell or row is larger than any record.
    """
    header = next((at for at, cells in enumerate(rows) if any(cell.strip() for cell in cells)), None)
    if header is None:
        raise source.refused(
            Kind.FILE_UNREADABLE,
            "this sheet is empty",
            expected="a row of headings, such as name, sex, born, genetics, dam, sire",
        )
    if any(len(cells) > MAX_COLUMNS for cells in rows):
        raise source.refused(
            Kind.FILE_TOO_LARGE, f"a row has more than {MAX_COLUMNS} columns", remedy="delete the empty columns"
        )
    headings = tuple((at, text) for at, text in enumerate((_bare(c) for c in rows[header]), 1) if text)
    by_column = dict(headings)
    found = []
    for number, cells in enumerate(rows[header + 1 :], header + 2):
        filled = tuple(_filled(cells, number, by_column, source))
        if filled:
            found.append(Row(number, filled))
    return Sheet(source.file, headings, tuple(found), tuple(source.notices), header + 1)


def _filled(cells: Iterable[str], row: int, headings: dict[int, str], source: Source) -> Iterator[Cell]:
    for column, written in enumerate(cells, 1):
        if len(written) > MAX_CELL:
            raise source.refused(
                Kind.FILE_TOO_LARGE,
                f"a cell of row {row} holds {len(written):,} signs",
                row=row,
                expected=f"at most {MAX_CELL:,}",
            )
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
