import csv
import io
from pathlib import Path

import openpyxl
import pytest
from helpers.sheets import folder

from sitegen.content.writing import NotWritten
from sitegen.evidence.answers import Known, read_known
from sitegen.keeper.exporting import Tables, csv_text, tables_of, write_tables
from sitegen.keeper.sheets import guarded

ANIMALS = """
=== animals/ruby/animal.yaml
name: "=HYPERLINK(1)"
species: corn-snake
sex: female
born: 2018-07-14
shows: [amel]
stated: {hypo: 66%, anery: certain}
weights: {2024-05-01: 310 g, 2023-05-01: 200 g}
lengths: {2024-05-03: 102.5 cm, 2023-05-01: 84 cm}
offer: {price: 140, state: on hold, since: 2024-06-01, until: 2024-06-15}
private: {paid: 77713, buyer: {name: zq-nobody}}
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2018
shows: []
=== litters/2022-a/litter.yaml
dam: ruby
sire: flint
born: 2022-07-01
eggs: 9
young:
  "01": {sex: male, shows: [], private: {buyer: zq-somebody}}
others: [{count: 3, shows: []}]
"""


def known(tmp_path: Path) -> Known:
    found, findings = read_known(folder(tmp_path, ANIMALS))
    assert found is not None, findings
    return found


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def tables(tmp_path: Path, *, private: bool = False) -> Tables:
    return tables_of(known(tmp_path), with_private=private)


def test_one_row_an_animal_with_its_claims_and_exact_chances(tmp_path: Path) -> None:
    young, flint, ruby = rows(csv_text(tables(tmp_path).animals))
    assert ("2022-a/01", "ruby", "flint", "2022-a/01", "normal", "2022-07-01") == tuple(
        young[key] for key in ("id", "dam", "sire", "litter", "shows", "born")
    )
    assert "hypo 1/3" in young["exact chances"]
    assert young["label line"] == (
        "Normal, het amelanistic, possible het anerythristic (50 in 100, on a keeper’s word), "
        "possible het hypo (33 in 100, on a keeper’s word), male, 2022"
    )
    assert "2/3 het hypo, het anery" == ruby["stated"]
    assert ("310", "2024-05-01", "102.5", "2024-05-03", "on hold", "140", "GBP", "2024-06-15") == tuple(
        ruby[key] for key in ("weight (g)", "weighed", "length (cm)", "measured", "state", "price", "currency", "until")
    )
    assert "" == flint["stated"]


def test_litters_have_rows_of_their_own(tmp_path: Path) -> None:
    (litter,) = rows(csv_text(tables(tmp_path).litters))
    assert ("2022-a", "9", "1", "3") == tuple(litter[key] for key in ("id", "eggs", "young listed", "young not listed"))


def test_what_is_private_is_left_out_unless_it_is_asked_for(tmp_path: Path) -> None:
    found = tables(tmp_path)
    for text in (csv_text(found.animals), csv_text(found.litters)):
        assert "77713" not in text
        assert "zq-" not in text
        assert "private" not in text
    young, _, ruby = rows(csv_text(tables(tmp_path, private=True).animals))
    assert ("77713", "zq-nobody") == (ruby["private paid"], ruby["private buyer name"])
    assert "zq-somebody" == young["private buyer"]


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"])
def test_no_cell_is_a_formula(text: str) -> None:
    assert guarded(text).startswith("'")
    assert "\t" not in guarded(text)


def test_a_name_that_begins_like_a_formula_is_guarded_in_both_forms(tmp_path: Path) -> None:
    found = tables(tmp_path)
    assert ",'=HYPERLINK(1)," in csv_text(found.animals)
    target = tmp_path / "all.xlsx"
    write_tables(found, target, replace=False)
    book = openpyxl.load_workbook(target)
    cells = [cell for row in book["animals"].iter_rows() for cell in row if cell.value is not None]
    assert "'=HYPERLINK(1)" in [cell.value for cell in cells]
    assert "f" not in {cell.data_type for cell in cells}
    assert 140 in [cell.value for cell in cells]


def test_a_file_that_is_there_is_replaced_only_when_that_is_said(tmp_path: Path) -> None:
    target = tmp_path / "all.csv"
    target.write_text("mine")
    found = tables(tmp_path)
    with pytest.raises(NotWritten):
        write_tables(found, target, replace=False)
    assert target.read_text() == "mine"
    assert not (tmp_path / "all-litters.csv").exists()
    assert ["all-litters.csv", "all.csv"] == sorted(path.name for path in write_tables(found, target, replace=True))
    assert target.read_bytes().startswith(b"\xef\xbb\xbfid,name")


def test_the_same_records_give_the_same_bytes(tmp_path: Path) -> None:
    for name in ("a.xlsx", "b.xlsx"):
        write_tables(tables(tmp_path), tmp_path / name, replace=False)
    assert (tmp_path / "a.xlsx").read_bytes() == (tmp_path / "b.xlsx").read_bytes()
