"""Whatever stands in a sheet, importing it gives findings or records, never a traceback, a hang or a lost file."""

import io
import tempfile
import time
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from helpers.from_text import CORN, bound
from helpers.pace import pace
from helpers.sheets import folder, workbook
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from sitegen.content.yaml_faults import first_hidden
from sitegen.content.yaml_tree import Entries, Scalar, parse_tree
from sitegen.findings import ContentError, Kind, Level, has_errors
from sitegen.keeper.cells import read_day, read_price, read_sex, read_sires, read_weight
from sitegen.keeper.columns import HEADINGS, read_mapped
from sitegen.keeper.importing import plan_import
from sitegen.keeper.labels import LabelReader
from sitegen.keeper.record_text import scalar
from sitegen.keeper.sheets import guarded

LIMIT_S = 2
READER = LabelReader(bound(CORN).species["corn-snake"], {})
WORDS = (
    "Snow", "het", "hypo", "66%", "50 %", "1/2", "caramel", "pos", "possible", "ph", "dh", "TH", "double", "for", ",",
    "and", "&", "/", "(", ")", "0.1", "1.0", "0.0.1", "2.3", "CB21", "CB 2021", "hatched", "normal", "super", "homo",
    "visual", "tessera", "palmetto", "super palmetto", "motley/stripe", "motley", "male", "no hets", "zork", "amle",
    "100%", "0%", "999%", "1/0", "x", "or", "?", "-", "'", "\u2640", "banded", "...", "het" * 60, "(" * 80,
)  # fmt: skip
CELLS = (
    *WORDS, "Ruby", "Flint", "ruby", "f", "m", "2021-07-14", "05/07/2021", "14.07.2021", "Jul 2021", "2021", "?", "",
    "available", "sold", "140", "140 EUR", "\u00a3 140", "310 g", "310", "yes", "Flint or Ruby",
    "Flint 2/3 or Ruby 1/3",
    "2026-a/01", "=1+1", "@x", "\ud83d\ude00".encode("utf-16", "surrogatepass").decode("utf-16"), "a: b", "- x", "#",
    "corn-snake", "9" * 400, "1/" + "9" * 400, "{a: b}", "\u202eevil", "null", "all",
)  # fmt: skip
TITLES = (*(heading for headings in HEADINGS.values() for heading in headings), "Rack", "", "name", "name")
RUBY = "=== animals/ruby/animal.yaml\nname: Ruby\nspecies: corn-snake\nsex: female\nshows: [amel]\n"


@contextmanager
def quick() -> Iterator[None]:
    """The work takes less than the limit, whatever else the machine does."""
    started = time.process_time()
    yield
    took = time.process_time() - started
    assert took < LIMIT_S or took < LIMIT_S * pace()


def files(root: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in sorted(root.rglob("*")) if path.is_file()}


def told(raw: bytes, name: str = "a.csv", columns: bytes | None = None) -> None:
    """Plan an import of the file; nothing on the disk changes, and everything is told in words."""
    with tempfile.TemporaryDirectory() as at:
        root = Path(at)
        content = folder(root, RUBY)
        (root / name).write_bytes(raw)
        if columns is not None:
            (root / "columns.yaml").write_bytes(columns)
        before = files(root)
        with quick():
            try:
                mapped = root / "columns.yaml" if columns is not None else None
                found = plan_import(root / name, content, columns=mapped)
                findings = found.findings
                assert not (found.records and has_errors(findings))
                for path, text in found.records.items():
                    assert parse_tree(text, path)[1] == ()
            except ContentError as refused:
                findings = refused.findings
                assert has_errors(findings)
        assert all(finding.message for finding in findings)
        assert before == files(root)


@given(st.one_of(st.text(max_size=80), st.lists(st.sampled_from(WORDS), max_size=12).map(" ".join)), st.booleans())
@settings(deadline=None, max_examples=500)
@example("het " * 90, False)
@example("66% " * 90, False)
@example("(" * 390, True)
def test_any_label(text: str, hets: bool) -> None:
    with quick():
        label = READER.read(text, hets=hets)
    for carried in label.carried:
        assert carried.chance is None or 0 < carried.chance <= 1
    assert label.judged or not label.shows


@given(st.one_of(st.text(max_size=40), st.sampled_from(CELLS)))
@settings(deadline=None, max_examples=250)
def test_any_cell(text: str) -> None:
    with quick():
        for read in (read_day, read_sex, read_sires):
            read(text)
        read_weight(text, in_grams=True)
        read_price(text, "EUR")
    assert not guarded(text).startswith(("=", "+", "-", "@", "\t", "\r"))


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=30))
@example("-")
@settings(deadline=None, max_examples=200)
def test_any_text_stands_in_a_record_as_it_was(text: str) -> None:
    tree, findings = parse_tree(f"about: {scalar(text)}\nlist: [{scalar(text)}]\n", "a")
    if first_hidden(text) >= 0:  # what cannot be seen is told, and keeps the row from being taken
        assert {Kind.TEXT_MISLEADING} == {finding.kind for finding in findings}
        return
    findings = tuple(finding for finding in findings if finding.level is Level.ERROR)
    assert findings == ()
    assert isinstance(tree, Entries)
    value = tree.entries[0][1]
    assert isinstance(value, Scalar)
    assert text == value.text
    assert 2 == len(tree.entries)


@given(st.lists(st.lists(st.sampled_from(CELLS), min_size=3, max_size=3), max_size=8), st.permutations(TITLES))
@settings(deadline=None, max_examples=100, suppress_health_check=[HealthCheck.too_slow])
def test_any_rows(rows: list[list[str]], titles: list[str]) -> None:
    lines = [
        ";".join(("name", *titles[:2])),
        *(";".join(f'"{cell.replace(chr(34), "")}"' for cell in row) for row in rows),
    ]
    told("\n".join(lines).encode("utf-8", "replace"))


@given(st.binary(max_size=300), st.sampled_from(("a.csv", "a.xlsx")))
@settings(deadline=None, max_examples=250)
def test_any_bytes(raw: bytes, name: str) -> None:
    told(raw, name)


BOOK = workbook([["name", "sex", "genetics"], ["Bo", 0.1, "Snow het hypo"], ["Cy", "m", "normal"]])


@given(st.lists(st.tuples(st.integers(0, len(BOOK) - 1), st.integers(0, 255)), min_size=1, max_size=6))
@settings(deadline=None, max_examples=150)
def test_any_damage_to_a_workbook(damage: list[tuple[int, int]]) -> None:
    raw = bytearray(BOOK)
    for at, byte in damage:
        raw[at] = byte
    told(bytes(raw), "a.xlsx")


def _parts() -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(BOOK)) as archive:
        return {part: archive.read(part) for part in archive.namelist()}


PARTS = _parts()


@given(st.sampled_from(sorted(PARTS)), st.data())
@settings(deadline=None, max_examples=150)
def test_any_damage_inside_a_workbook(part: str, data: st.DataObject) -> None:
    content = bytearray(PARTS[part])
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(content) - 1))
        content[at : at + data.draw(st.integers(0, 20))] = data.draw(st.binary(max_size=12))
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name, raw in PARTS.items():
            archive.writestr(name, bytes(content) if name == part else raw)
    told(packed.getvalue(), "a.xlsx")


@given(st.one_of(st.text(max_size=60).map(lambda text: text.encode()), st.binary(max_size=60)))
@settings(deadline=None, max_examples=250)
def test_any_columns_file(raw: bytes) -> None:
    text = raw.decode("utf-8", "replace")
    read_mapped(text, "columns.yaml")
    told(b"name,Rack\nBo,4\n", columns=raw)


@pytest.mark.parametrize(
    "raw",
    [
        b"name,genetics\n" + b"Bo,Snow\n" * 4000,
        b"name,genetics\n" + b"".join(b"Animal %d,Snow het hypo 66%% het caramel\n" % number for number in range(500)),
        b"name\n" + b'"' * 50_000,
        b"," * 199 + b"\n" + b"," * 199,
        ("name,genetics\nBo," + "het amle " * 40 + "\n").encode(),
    ],
)
def test_large_sheets_are_told_in_time(raw: bytes) -> None:
    told(raw)
