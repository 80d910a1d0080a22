"""Workbooks: cells of an XLSX file as the text a person sees, and workbooks whose bytes never vary."""

import datetime as dt
import io
import re
import zipfile
import zlib
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

import openpyxl
from openpyxl.styles import Font

from sitegen.findings import Kind
from sitegen.keeper.sheets import MAX_ROWS, Source, guarded, too_many

_MAX_UNPACKED = 60_000_000
_MAX_PARTS = 2_000
_PREFERRED = "animals"
_ENTITIES = tuple(
    mark.encode(form) for mark in ("<!DOCTYPE", "<!ENTITY") for form in ("utf-8", "utf-16-le", "utf-16-be")
)
_EARLIEST = (1980, 1, 1, 0, 0, 0)
"""The earliest time that a ZIP archive can hold. Source: PKWARE APPNOTE, MS-DOS date format (from memory)."""
_CHANGED = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*")

Value = str | int | Decimal


def rows_of_workbook(raw: bytes, wanted: str, source: Source) -> list[list[str]]:
    """The rows of one sheet: the one that is wanted, else the one called animals, else the first.

    Formulas are not evaluated: what the program that wrote the file had worked out is read. Sheets that are not read
    are told.

    Raises:
        ContentError: It is no workbook, it unpacks to more than any collection needs, or the sheet is not there.
    """
    _check_archive(raw, source)
    try:
        book = openpyxl.load_workbook(io.BytesIO(raw), read_only=True, data_only=True, keep_links=False)
        try:
            sheet = _chosen(book, wanted, source)
            sheet.reset_dimensions()
            return list(_rows(sheet, source))
        finally:
            book.close()
    except SyntaxError as error:  # what the standard library's XML parser raises
        raise _broken(source, error) from None
    except (KeyError, ValueError, TypeError, AttributeError, IndexError, OSError, EOFError) as error:
        raise _broken(source, error) from None
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, OverflowError) as error:
        raise _broken(source, error) from None


def _broken(source: Source, error: Exception) -> Exception:
    return source.refused(
        Kind.FILE_UNREADABLE,
        f"this is not a workbook that can be read ({type(error).__name__})",
        expected="a workbook that ends in .xlsx, without a password",
        remedy="open it in your spreadsheet program and save it again as .xlsx, or as CSV",
    )


def _check_archive(raw: bytes, source: Source) -> None:
    """Bound what the archive unpacks to before anything in it is read."""
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as archive:
            parts = archive.infolist()
            if len(parts) > _MAX_PARTS or sum(part.file_size for part in parts) > _MAX_UNPACKED:
                raise source.refused(
                    Kind.FILE_TOO_LARGE,
                    "this workbook unpacks to more than any collection needs",
                    expected=f"at most {_MAX_UNPACKED:,} bytes",
                    remedy="save the sheet with the animals as CSV",
                )
            for part in parts:
                if part.filename.lower().endswith((".xml", ".rels")):
                    content = archive.read(part)
                    if any(mark in content for mark in _ENTITIES):
                        raise _broken(source, ValueError("it defines entities"))
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, OSError, EOFError, ValueError) as error:
        raise _broken(source, error) from None
    except zlib.error as error:
        raise _broken(source, error) from None


def _chosen(book: Any, wanted: str, source: Source) -> Any:
    sheets = {sheet.title: sheet for sheet in book.worksheets}
    if not sheets:
        raise source.refused(Kind.FILE_UNREADABLE, "this workbook holds no sheet")
    by_name = {title.casefold(): title for title in sheets}
    if wanted and wanted.casefold() not in by_name:
        raise source.refused(
            Kind.FILE_UNREADABLE,
            f'this workbook has no sheet "{wanted}"',
            expected=f"one of {', '.join(sheets)}",
            remedy="name the sheet as it stands on its tab",
        )
    chosen = by_name.get(wanted.casefold() or _PREFERRED) or next(iter(sheets))
    others = [title for title in sheets if title != chosen]
    if others:
        source.notice(f'the sheet "{chosen}" was read; not read: {", ".join(others)}', "name another one with --sheet")
    return sheets[chosen]


def _rows(sheet: Any, source: Source) -> Iterator[list[str]]:
    for number, row in enumerate(sheet.iter_rows(), 1):
        if number > MAX_ROWS:
            raise too_many(source)
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


def workbook_bytes(sheets: Mapping[str, Sequence[Sequence[Value]]]) -> bytes:
    """A workbook with a sheet for each name; the first row of each is its head. The same cells give the same bytes."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for number, row in enumerate(rows, 1):
            for column, value in enumerate(row, 1):
                if value == "":
                    continue
                cell = sheet.cell(number, column)
                cell.value = guarded(value) if isinstance(value, str) else value
                if isinstance(value, str):
                    cell.data_type = "s"
                if number == 1:
                    cell.font = Font(bold=True)
        sheet.freeze_panes = "B2"
    packed = io.BytesIO()
    book.save(packed)
    return _timeless(packed.getvalue())


def _timeless(raw: bytes) -> bytes:
    """The same archive as if it had been made long ago."""
    unpacked = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(unpacked, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            content = old.read(part)
            if part.filename == "docProps/core.xml":
                content = _CHANGED.sub(rb"\g<1>2000-01-01T00:00:00Z", content)
            entry = zipfile.ZipInfo(part.filename, _EARLIEST)
            entry.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(entry, content)
    return unpacked.getvalue()
