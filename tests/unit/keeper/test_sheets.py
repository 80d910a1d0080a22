import datetime as dt
import time
import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from helpers.sheets import workbook

from sitegen.findings import ContentError
from sitegen.keeper.columns import KNOWN
from sitegen.keeper.exporting import workbook_bytes
from sitegen.keeper.sheets import MAX_BYTES, MAX_ROWS, Sheet, read_sheet, shown

PLAIN = "name,sex,genetics\nRuby,0.1,Snow\n"


def sheet(tmp_path: Path, raw: bytes | str, name: str = "a.csv", wanted: str = "") -> Sheet:
    file = tmp_path / name
    file.write_bytes(raw.encode() if isinstance(raw, str) else raw)
    return read_sheet(file, KNOWN, wanted)


def texts(found: Sheet) -> list[list[str]]:
    return [[cell.text for cell in row.cells] for row in found.rows]


@pytest.mark.parametrize(
    "raw",
    [
        PLAIN.encode(), PLAIN.encode("utf-8-sig"), PLAIN.encode("utf-16"), PLAIN.replace(",", ";").encode(),
        PLAIN.replace(",", "\t").encode(), PLAIN.replace("\n", "\r\n").encode(), b"\n\n" + PLAIN.encode(),
        b"sep=;\n" + PLAIN.replace(",", ";").encode(), b'"name","sex","genetics"\n"Ruby","0.1","Snow"\n',
        PLAIN.replace("\n", "\r").encode(),
    ],
)  # fmt: skip
def test_what_programs_write_is_read_alike(tmp_path: Path, raw: bytes) -> None:
    found = sheet(tmp_path, raw)
    assert ["name", "sex", "genetics"] == [text for _, text in found.headings]
    assert [["Ruby", "0.1", "Snow"]] == texts(found)


def test_a_separator_inside_quotes_parts_nothing(tmp_path: Path) -> None:
    found = sheet(tmp_path, 'name;genetics\nRuby;"het for amel, hypo; anery"\n')
    assert [["Ruby", "het for amel, hypo; anery"]] == texts(found)


def test_latin_1_is_read_and_told(tmp_path: Path) -> None:
    found = sheet(tmp_path, "name,sex\nZoë,f\n".encode("latin-1"))
    assert [["Zoë", "f"]] == texts(found)
    assert "Latin-1" in found.notices[0].message


def test_rows_are_counted_as_a_spreadsheet_counts_them(tmp_path: Path) -> None:
    found = sheet(tmp_path, 'name,about\nRuby,"two\nlines"\n\nFlint,x\n')
    assert [2, 4] == [row.number for row in found.rows]


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (b"", "empty"), (b"\n \n", "empty"), (b"a\0b,c", "no text"), (b'name\n"open', "cannot be told apart"),
        (b'name\n"a"b\n', "cannot be told apart"), (b"name\n" + b"x" * 20_000, "signs"),
        (b"name\n" + b"," * 500, "columns"), (b"name\n" + b"x\n" * MAX_ROWS, "goes on"),
        (b" " * (MAX_BYTES + 1), "bytes"), (b"PK\x03\x04 broken", "workbook"),
    ],
)  # fmt: skip
def test_what_is_no_sheet_is_refused(tmp_path: Path, raw: bytes, told: str) -> None:
    with pytest.raises(ContentError) as refused:
        sheet(tmp_path, raw)
    assert told in refused.value.findings[0].message


def test_a_missing_file_and_a_folder_are_refused(tmp_path: Path) -> None:
    for name in ("nothing.csv", "."):
        with pytest.raises(ContentError):
            read_sheet(tmp_path / name, KNOWN)


def test_cells_of_a_workbook_read_as_they_are_shown(tmp_path: Path) -> None:
    rows = [["name", "sex", "born", "hets", "price", "n"], ["Ruby", 0.1, dt.datetime(2021, 7, 14), 0.66, 140.0, "007"]]  # noqa: DTZ001
    found = sheet(tmp_path, workbook(rows, {"D2": "0%"}), "a.xlsx")
    assert [["Ruby", "0.1", "2021-07-14", "66%", "140", "007"]] == texts(found)
    assert "1.0" == shown(1, "0.0")


def test_a_formula_is_never_worked_out(tmp_path: Path) -> None:
    found = sheet(tmp_path, workbook([["name", "notes"], ["Ruby", '=HYPERLINK("x")']]), "a.xlsx")
    assert [["Ruby"]] == texts(found)


def test_the_sheet_that_is_named_is_read_and_the_others_are_told(tmp_path: Path) -> None:
    book = workbook_bytes({"litters": [["id"], ["x"]], "animals": [["name"], ["Ruby"]]})
    found = sheet(tmp_path, book, "a.xlsx")
    assert [["Ruby"]] == texts(found)
    assert "litters" in found.notices[0].message
    assert [["x"]] == texts(sheet(tmp_path, book, "a.xlsx", "Litters"))
    with pytest.raises(ContentError):
        sheet(tmp_path, book, "a.xlsx", "other")


def packed(**parts: bytes) -> bytes:
    raw = BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name.replace("__", "/") + ".xml", content)
    return raw.getvalue()


def test_an_archive_that_unpacks_without_end_is_refused_unread(tmp_path: Path) -> None:
    with pytest.raises(ContentError) as refused:
        sheet(tmp_path, packed(xl__workbook=b" " * 70_000_000), "a.xlsx")
    assert "unpacks to more" in refused.value.findings[0].message


def test_entities_are_refused(tmp_path: Path) -> None:
    with pytest.raises(ContentError) as refused:
        sheet(tmp_path, packed(xl__workbook=b'<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'), "a.xlsx")
    assert "ValueError" in refused.value.findings[0].message


def test_the_same_cells_give_the_same_workbook_whatever_the_clock() -> None:
    rows = {"animals": [["name", "price"], ["=1+1", 140], ["-x", ""]]}
    first = workbook_bytes(rows)  # type: ignore[arg-type]
    time.sleep(2.1)  # a ZIP archive counts every two seconds
    assert first == workbook_bytes(rows)  # type: ignore[arg-type]
