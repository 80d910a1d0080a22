"""Offers at the desk: price and state in place, and who waits for what."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.at_the_desk import Keeper, at_the_desk
from helpers.from_text import write_files

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
sex: female
shows: [amel]
offer: {price: 140, state: on hold, since: 2026-11-01, until: 2026-12-01}   # the fair
=== animals/flint/animal.yaml
species: corn-snake
name: Flint
sex: male
shows: []
stated: {amel: certain}
=== litters/2026-a/litter.yaml
dam: juniper
sire: flint
born: 2026-07-01
young:
  "01": {sex: female, shows: [amel], offer: {price: 60, state: available, since: 2026-10-01}}
  "02": {sex: male, shows: [], kept: true}
  "03": {sex: male, shows: [], offer: {price: 30, state: sold, since: 2026-10-02}, private: {buyer: zq-somebody}}
=== waiting.yaml
people:
  A. from the fair: {since: 2026-05-03, species: corn-snake, sex: female, shows: [amel]}
"""


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    write_files(tmp_path / "content", RECORDS)
    with at_the_desk(tmp_path / "content") as keeper:
        yield keeper


def sent(keeper: Keeper, animal: str, was: dict[str, str], now: dict[str, str]) -> dict[str, object]:
    usual = dict.fromkeys(("price", "state", "ready", "until"), "") | was
    fields = {f"was.{key}": value for key, value in usual.items()} | usual | now
    return keeper.send("/offers", animal=animal, **fields).facts


def text(keeper: Keeper, path: str) -> str:
    return (keeper.content / path).read_text()


JUNIPER = {"price": "140", "state": "on hold", "until": "2026-12-01"}


def test_the_table_shows_what_is_to_be_had_and_who_waits_for_it(keeper: Keeper) -> None:
    page = keeper.look("/offers").text
    assert "No. 01 of" in page
    assert "Waiting for one: A. from the fair." in page
    assert "zq-somebody" not in page
    assert "No. 03" not in page
    assert "zq-somebody" in keeper.look("/offers?state=sold").text
    assert "Flint" in keeper.look("/offers?state=none").text
    assert "No. 02" not in keeper.look("/offers?state=none").text  # it stays


def test_a_price_alone_changes_one_value_and_no_day(keeper: Keeper) -> None:
    before = text(keeper, "animals/juniper/animal.yaml")
    assert sent(keeper, "juniper", JUNIPER, {"price": "120"})["refused"] is False
    assert text(keeper, "animals/juniper/animal.yaml") == before.replace("140", "120")


def test_a_hold_that_ends_loses_its_last_day_and_is_dated(keeper: Keeper) -> None:
    sent(keeper, "juniper", JUNIPER, {"state": "sold", "on": "2026-11-20", "buyer": "zq-a-buyer"})
    record = text(keeper, "animals/juniper/animal.yaml")
    assert "offer: {price: 140, state: sold, since: 2026-11-20}   # the fair" in record
    assert "buyer: zq-a-buyer" in record.partition("private")[2]
    assert "zq-a-buyer" not in keeper.look("/site/animals/juniper.html").text


def test_an_offer_begins_and_is_dated_today(keeper: Keeper) -> None:
    sent(keeper, "flint", {}, {"price": "90", "state": "available"})
    assert "offer: {price: 90, state: available, since: 2026-11-25}" in text(keeper, "animals/flint/animal.yaml")


def test_what_was_changed_meanwhile_is_told_and_stays(keeper: Keeper) -> None:
    path = keeper.content / "animals/juniper/animal.yaml"
    path.write_text(path.read_text().replace("140", "150"))
    found = sent(keeper, "juniper", JUNIPER, {"price": "120"})
    assert found["refused"] is True
    assert "is 150 now" in str(found["told"])
    assert "150" in path.read_text()


@pytest.mark.parametrize(
    ("now", "told"),
    [
        ({"price": "cheap"}, "is not a price"),
        ({"state": "gone"}, "is not a state"),
        ({"ready": "soon"}, "is not a date"),
        ({"state": "sold", "on": "2027-01-01"}, "lies ahead"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_written(keeper: Keeper, now: dict[str, str], told: str) -> None:
    before = text(keeper, "animals/juniper/animal.yaml")
    found = sent(keeper, "juniper", JUNIPER, now)
    assert found["refused"] is True
    assert told in str(found)
    assert text(keeper, "animals/juniper/animal.yaml") == before


def test_without_a_script_what_was_typed_stays_in_its_row(keeper: Keeper) -> None:
    fields = {f"was.{key}": value for key, value in {**JUNIPER, "ready": ""}.items()}
    page = keeper.send(
        "/offers", as_json=False, animal="juniper", **fields, **JUNIPER | {"price": "cheap", "ready": ""}
    )
    assert page.status == 422
    assert 'value="cheap"' in page.text


def test_a_price_leaves_the_day_of_an_offer_whose_state_is_not_written(keeper: Keeper) -> None:
    path = keeper.content / "animals/flint/animal.yaml"
    path.write_text(path.read_text() + "offer: {price: 90, since: 2026-10-05}\n")
    sent(keeper, "flint", {"price": "90", "state": "available"}, {"price": "80"})
    assert "offer: {price: 80, since: 2026-10-05}" in path.read_text()
