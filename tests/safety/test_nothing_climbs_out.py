"""Names that climb, formulas, tags, bombs and monstrous numbers in everything that is read."""

import csv
import io
import re
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from helpers.program import SMALL, run

from sitegen.build import Order, build
from sitegen.content.yaml_tree import parse_tree
from sitegen.evidence.answers import read_known
from sitegen.findings import SitegenError, has_errors

CLIMBS = (
    "../../evil",
    "..",
    "../evil",
    "/etc/passwd",
    "a/../../../evil",
    "..\\..\\evil",
    "evil\x00",
    "C:evil",
    "%2e%2e%2fevil",
)
PLACES = {
    "a young's number": ("litters/2022-a/litter.yaml", '"01":', "{}:"),
    "a dam": ("litters/2022-a/litter.yaml", "dam: dam", "dam: {}"),
    "a sire": ("litters/2022-a/litter.yaml", "sire: sire", "sire: {}"),
    "a gene": ("species/corn-snake.yaml", "  anery:", "  {}:"),
    "a combination": ("species/corn-snake.yaml", "  snow:", "  {}:"),
    "a theme": ("site.yaml", "currency: GBP", "theme: {}"),
    "a language": ("site.yaml", "currency: GBP", "language: {}"),
    "a litter to come from": ("animals/dam/animal.yaml", "shows: []", "shows: []\nfrom_litter: {}"),
    "a caption": ("animals/dam/animal.yaml", "shows: []", "shows: []\ncaptions: {{{}: a picture}}"),
    "a species": ("animals/dam/animal.yaml", "species: corn-snake", "species: {}"),
}


def quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace("\x00", "\\0") + '"'


def everything(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*")}


@pytest.mark.parametrize("place", PLACES)
def test_a_name_that_climbs_is_told_or_stays_inside(content: Callable[[str], Path], place: str) -> None:
    path, old, new = PLACES[place]
    for climb in CLIMBS:
        folder = content(SMALL)
        record = folder / path
        text = record.read_text("utf-8")
        assert old in text
        record.write_text(text.replace(old, new.format(quoted(climb)), 1), encoding="utf-8")
        before = everything(folder.parent)
        told = ""
        try:
            built = build(Order(folder, folder.parent / "output", folder.parent / "themes", workers=1))
            told = str([finding.message for finding in built.findings if has_errors([finding])])
            published = built.published is not None
        except SitegenError as error:
            told, published = str(error), False
        assert published or told, climb
        made = everything(folder.parent) - before
        assert all(name.split("/")[0] == "output" for name in made), climb
        assert not [name for name in made if ".." in name.split("/")], climb


@pytest.mark.parametrize("name", ["..evil", "..", "a b", "-rf", "%2e%2e", "a;b", "<b>", "a'b", 'a"b', "nul\u202egpj"])
@pytest.mark.parametrize("kind", ["animals/{}/animal.yaml", "pages/{}.md", "species/{}.yaml"])
def test_a_folder_name_that_is_no_plain_name_is_told_or_passed_over(
    content: Callable[[str], Path], kind: str, name: str
) -> None:
    folder = content(SMALL)
    target = folder / kind.format(name)
    if name != "..":
        target.parent.mkdir(exist_ok=True)
        target.write_text("species: corn-snake\nshows: []\n" if "animals" in kind else "name: x\n", encoding="utf-8")
    known, findings = read_known(folder)
    assert known is None or name == ".." or name.startswith(".") or not known.collection.animals.get(name)
    assert known is None or all(re.fullmatch(r"[\w-]+", page) for page in known.collection.pages)
    assert findings or known is not None


FORMULAS = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    '=HYPERLINK("http://evil.example","x")',
    "=cmd|' /C calc'!A0",
    "\t=1",
    " =1",
)


def test_no_free_text_becomes_a_formula_in_a_sheet(content: Callable[[str], Path]) -> None:
    for number, formula in enumerate(FORMULAS):
        folder = content(SMALL)
        written = '"' + formula.replace("\\", "\\\\").replace('"', '\\"').replace("\t", "\\t") + '"'
        dam = folder / "animals/dam/animal.yaml"
        dam.write_text(
            dam.read_text("utf-8") + f"name: {written}\nline: {written}\nlocality: {written}\n"
            f"private: {{note: {written}}}\n",
            encoding="utf-8",
        )
        litter = folder / "litters/2022-a/litter.yaml"
        litter.write_text(litter.read_text("utf-8") + f"name: {written}\n", encoding="utf-8")
        for ending in ("csv", "xlsx"):
            target = folder.parent / f"sheet{number}.{ending}"
            done = run(folder.parent, "export", "--with-private", "--to", str(target))
            assert done.returncode == 0, done.stderr
        cells = 0
        for path in folder.parent.glob(f"sheet{number}*.csv"):
            for row in csv.reader(io.StringIO(path.read_text("utf-8-sig"))):
                for cell in row:
                    cells += formula.strip() in cell
                    assert not cell.lstrip(" ").startswith(("=", "+", "@", "\t", "\r")), cell
                    assert not cell.startswith("-"), cell
        assert cells >= 3, formula
        book = openpyxl.load_workbook(folder.parent / f"sheet{number}.xlsx")
        kinds = {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
        assert "f" not in kinds


BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{chr(98 + n)}: &{chr(98 + n)} [{', '.join([f'*{chr(97 + n)}'] * 9)}]\n" for n in range(20)
)


@pytest.mark.parametrize(
    "text",
    [
        BOMB,
        "name: !!python/object/apply:os.system [id]\n",
        "name: !!python/name:os.system\n",
        "name: !evil x\n",
        "<<: &x {name: y}\nother: *x\n",
        "[" * 100_000,
        "{a: " * 50_000,
        "? " * 50_000,
        "- " * 50_000,
        "a: " + "[" * 25 + "]" * 25,
        "a: " + "[" * 30_000 + "]" * 30_000,
        "{a: " * 30_000 + "b" + "}" * 30_000,
        "name: |\n" + "  x\n" * 200_000,
        "a: " + "9" * 500_000,
        "%TAG ! tag:evil.example,2000:\n---\nname: !x y\n",
    ],
    ids=range(15),
)
def test_tags_aliases_and_bombs_are_told_in_bearable_time(text: str) -> None:
    began = time.process_time()
    tree, findings = parse_tree(text, "animals/x/animal.yaml")
    assert time.process_time() - began < 5
    assert tree is None or findings or text.startswith(("name: |", "a: 9"))


def packed(parts: dict[str, bytes]) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return stream.getvalue()


def workbook(*rows: tuple[str, str]) -> dict[str, bytes]:
    stream = io.BytesIO()
    book = openpyxl.Workbook()
    for row in (("id", "species"), *rows):
        book.active.append(row)  # type: ignore[union-attr] # a new workbook has a sheet
    book.save(stream)
    with zipfile.ZipFile(stream) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


@pytest.mark.parametrize(
    "bomb",
    ["one large part", "many parts", "an entity bomb", "an entity of its own", "a forged size", "a climbing part"],
)
def test_a_workbook_that_unpacks_to_too_much_is_refused_unread(content: Callable[[str], Path], bomb: str) -> None:
    folder, parts = content(SMALL).parent, workbook()
    sheet = next(name for name in parts if "sheet1" in name)
    if bomb == "one large part":
        parts[sheet] = b" " * 300_000_000
    elif bomb == "many parts":
        parts |= {f"xl/media/{number}.bin": b"" for number in range(5_000)}
    elif bomb == "an entity bomb":
        laughs = b"".join(b'<!ENTITY %c "%s">' % (98 + n, b"&%c;" % (97 + n) * 9) for n in range(20))
        doctype = b'<!DOCTYPE worksheet [<!ENTITY a "aaaaaaaaaa">' + laughs + b"]>"
        parts[sheet] = doctype + workbook(("flint", "corn-snake"))[sheet].replace(b"</worksheet>", b"&u;</worksheet>")
    elif bomb == "an entity of its own":  # of no size at all, in a sheet that could be read
        parts = workbook(("flint", "corn-snake"))
        parts[sheet] = b'<!DOCTYPE worksheet [<!ENTITY a "x">]>' + parts[sheet]
    elif bomb == "a climbing part":
        parts["../../evil.txt"] = b"evil"
    raw = packed(parts)
    if bomb == "a forged size":
        large = packed(parts | {sheet: b" " * 300_000_000})
        size = (300_000_000).to_bytes(4, "little")
        assert size in large
        raw = large.replace(size, (1_000).to_bytes(4, "little"))
    (folder / "bomb.xlsx").write_bytes(raw)
    before = everything(folder.parent)
    began = time.monotonic()
    done = run(folder, "import", "bomb.xlsx")
    assert time.monotonic() - began < 60
    assert "Traceback" not in done.stderr
    assert bomb == "a climbing part" or done.returncode == 1
    assert everything(folder.parent) == before


NUMBERS = (
    "9" * 5_000,
    "1e999999999",
    "-1",
    "1e-999999999",
    "0x7f",
    "inf",
    "nan",
    "1/0",
    "9" * 400 + "/" + "8" * 400,
    "१२",
)


@pytest.mark.parametrize("number", NUMBERS, ids=[text[:12] for text in NUMBERS])
@pytest.mark.parametrize(
    ("path", "old", "new"),
    [
        ("animals/dam/animal.yaml", "shows: []", "shows: []\nweights: {{2024-05-01: {} g}}"),
        ("animals/dam/animal.yaml", "shows: []", "shows: []\noffer: {{price: {}, state: available}}"),
        ("animals/dam/animal.yaml", "{amel: certain}", "{{amel: {}}}"),
        ("animals/dam/animal.yaml", "2018-06-01", "{}-06-01"),
        ("litters/2022-a/litter.yaml", "young:", "eggs: {}\nyoung:"),
        ("litters/2022-a/litter.yaml", "young:", "others: [{{count: {}, shows: []}}]\nyoung:"),
        ("species/corn-snake.yaml", "high: 28", "high: {}"),
    ],
    ids=["weight", "price", "odds", "year", "eggs", "tally", "litter size"],
)
def test_a_monstrous_number_is_told_or_borne(
    content: Callable[[str], Path], path: str, old: str, new: str, number: str
) -> None:
    folder = content(SMALL)
    record = folder / path
    text = record.read_text("utf-8")
    assert old in text
    record.write_text(text.replace(old, new.format(number), 1), encoding="utf-8")
    began = time.process_time()
    known, findings = read_known(folder)
    assert time.process_time() - began < 10
    assert (known is None) == has_errors(findings) or known is not None
