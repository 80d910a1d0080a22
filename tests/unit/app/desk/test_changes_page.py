"""What was changed, told and taken back at the desk."""

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.at_the_desk import Keeper, at_the_desk
from helpers.from_text import write_files

from sitegen.keeper.noted import Noted, add_measured
from sitegen.keeper.records import open_records
from sitegen.keeper.undo_record import put_in_place

HOUR = dt.datetime(2026, 11, 25, 9, 30, tzinfo=dt.UTC)
RECORDS = """\
=== site.yaml
name: Test
currency: EUR
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
name: Juniper
"""


@pytest.fixture
def keeper(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Keeper]:
    monkeypatch.setenv("SITEGEN_UNDO", str(tmp_path / "undo"))
    content = tmp_path / "content"
    write_files(content, RECORDS)
    for grams, day in ((402, 1), (405, 2)):
        records = open_records(content, HOUR.date())
        on = dt.date(2026, 11, day)
        put_in_place(content, add_measured(records, "weights", [Noted("juniper", f"{grams} g", on)]), HOUR)
    with at_the_desk(content) as keeper:
        yield keeper


def record(keeper: Keeper) -> str:
    return (keeper.content / "animals/juniper/animal.yaml").read_text()


def test_changes_are_listed_the_latest_first_and_one_is_shown_line_by_line(keeper: Keeper) -> None:
    page = keeper.look("/changes").text
    assert 0 < page.index("405 g") < page.index("402 g")
    assert "402 g" in keeper.look("/changes/1").text
    assert "+weights:" in keeper.look("/changes/1").text
    assert keeper.look("/changes/99").status == 303


def test_a_change_is_taken_back_and_that_can_be_taken_back_too(keeper: Keeper) -> None:
    before = record(keeper)
    found = keeper.send("/changes/2/undo").facts
    assert (found["refused"], found["undo"]) == (False, 3)
    assert "405 g" not in record(keeper)
    assert "402 g" in record(keeper)
    assert "taken back" in keeper.look("/changes").text
    assert keeper.send("/changes/3/undo").facts["refused"] is False
    assert record(keeper) == before


def test_without_a_script_the_page_after_it_tells_what_was_done(keeper: Keeper) -> None:
    answer = keeper.send("/changes/2/undo", as_json=False)
    assert (answer.status, answer.headers["location"]) == (303, "/changes?done=3")
    assert 'action="/changes/3/undo"' in keeper.look("/changes?done=3").text
    assert "405 g" in keeper.look("/changes?done=3").text


def test_what_was_edited_by_hand_since_stands_in_the_way_and_is_told(keeper: Keeper) -> None:
    path = keeper.content / "animals/juniper/animal.yaml"
    path.write_text(record(keeper).replace("405 g", "450 g"))
    found = keeper.send("/changes/2/undo", as_json=False)
    assert found.status == 422
    assert "by hand" in found.text
    assert "450 g" in record(keeper)


def test_forgetting_asks_first(keeper: Keeper) -> None:
    assert "what 2 changes replaced is deleted" in keeper.look("/changes/forget").text
    assert "402 g" in keeper.look("/changes").text
    assert keeper.send("/changes/forget", as_json=False).status == 303
    assert "no change is kept" in keeper.look("/changes").text
    assert "405 g" in record(keeper)
