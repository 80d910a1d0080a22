"""Sheets for tests: CSV texts, workbooks, and content folders to import them into."""

import io
from collections.abc import Sequence
from pathlib import Path

import openpyxl

from helpers.from_text import CORN, write_files
from sitegen.content.writing import FileChange, write
from sitegen.keeper.importing import Import, plan_import

EMPTY = f"""
=== site.yaml
name: Small
currency: GBP
{CORN}
"""


def folder(root: Path, more: str = "") -> Path:
    """A content folder with a species and what else is given."""
    return write_files(root / "content", EMPTY + more)


def planned(root: Path, sheet: str | bytes, more: str = "", *, name: str = "snakes.csv", **wishes: object) -> Import:
    """What the import of a sheet into a small collection would do."""
    content = folder(root, more)
    file = root / name
    file.write_bytes(sheet.encode() if isinstance(sheet, str) else sheet)
    return plan_import(file, content, **wishes)  # type: ignore[arg-type]


def imported(root: Path, sheet: str | bytes, more: str = "", *, name: str = "snakes.csv", **wishes: object) -> Import:
    """The same, and the records are written."""
    found = planned(root, sheet, more, name=name, **wishes)
    written(root / "content", found)
    return found


def written(content: Path, found: Import) -> None:
    """Write the records of an import."""
    write(content, [FileChange(path, None, text.encode()) for path, text in found.records.items()])


def workbook(rows: Sequence[Sequence[object]], formats: dict[str, str] | None = None, title: str = "Sheet") -> bytes:
    """A workbook with one sheet; formats by cell (``B2``)."""
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = title
    for row in rows:
        sheet.append(list(row))
    for cell, number_format in (formats or {}).items():
        sheet[cell].number_format = number_format
    packed = io.BytesIO()
    book.save(packed)
    return packed.getvalue()
