"""What the columns of a sheet hold."""

from pathlib import Path

import pytest
from helpers.sheets import planned

from sitegen.findings import ContentError
from sitegen.keeper.columns import HEADINGS, KNOWN
from sitegen.keeper.importing import Import
from sitegen.keeper.sheets import plain_heading


def record(found: Import, animal: str) -> str:
    return found.records[f"animals/{animal}/animal.yaml"]


def test_the_columns_file_says_what_headings_and_words_mean(tmp_path: Path) -> None:
    columns = tmp_path / "columns.yaml"
    columns.write_text(
        'columns: {Rack: ignore, "Pet name": name, Bld: line}\nwords: {Albino: amel}\ndates: month first\n'
    )
    sheet = "Pet name,Rack,Bld,Born,Morph\nRuby,4,red,05/07/2021,Albino\n"
    found = planned(tmp_path, sheet, columns=columns)
    assert found.findings == ()
    assert record(found, "ruby") == "name: Ruby\nspecies: corn-snake\nborn: 2021-05-07\nshows: [amel]\nline: red\n"


@pytest.mark.parametrize(
    "text",
    [
        "colums: {}",
        "columns: {Rack: shelf}",
        "columns: [a]",
        "possible: 100%",
        "dates: sometimes",
        "- a",
        "a: [",
        "words: {a: [b]}",
    ],
)
def test_a_columns_file_that_is_not_understood_stops_everything(tmp_path: Path, text: str) -> None:
    columns = tmp_path / "columns.yaml"
    columns.write_text(text)
    with pytest.raises(ContentError) as refused:
        planned(tmp_path, "name\nRuby\n", columns=columns)
    assert all("columns.yaml" in str(finding.place) for finding in refused.value.findings)


def test_an_empty_column_asks_nothing(tmp_path: Path) -> None:
    assert planned(tmp_path, "name,Rack,name,sex\nRuby,,,f\n").findings == ()
    assert planned(tmp_path, "name,sex\n").rows == 0


def test_every_heading_says_one_thing() -> None:
    headings = [heading for several in HEADINGS.values() for heading in several]
    assert len(headings) == len(set(headings)) == len(KNOWN)
    assert headings == [plain_heading(heading) for heading in headings]


def test_what_names_a_person_is_private() -> None:
    assert {KNOWN[heading] for heading in ("buyer", "seller", "breeder", "customer", "from")} == {"private"}
