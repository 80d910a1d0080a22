"""From what a record was and what it is to say: the few values that change, and what was written meanwhile."""

from pathlib import Path
from typing import Any

import pytest
from helpers.from_text import write_files

from sitegen.findings import WrongUse
from sitegen.keeper.differences import caught_up, change_record, clashes, differences
from sitegen.keeper.entries import set_values
from sitegen.keeper.lookup import find_animal
from sitegen.keeper.records import Added, Dropped, RecordPlace, check_proposal, open_records

WAS = {"name": "Juniper", "sex": "female", "offer": {"price": "140", "state": "available"}, "shows": ["amel"],
       "meals": [{"date": "2026-10-03", "what": "rat"}, {"date": "2026-10-17", "what": "rat"}]}  # fmt: skip


@pytest.mark.parametrize(
    ("wanted", "changes"),
    [
        ({}, {}),
        ({"sex": "male"}, {("sex",): "male"}),
        ({"kept": True}, {("kept",): True}),
        ({"offer": {"price": "150", "state": "available"}}, {("offer", "price"): "150"}),
        ({"offer": {}}, {("offer", "state"): Dropped(), ("offer", "price"): Dropped()}),
        ({"shows": []}, {("shows",): []}),
        ({"weights": {"2026-01-01": "9 g"}}, {("weights", "2026-01-01"): "9 g"}),
        ({"meals": [{"date": "2026-10-03", "what": "mouse"}, WAS["meals"][1]]}, {("meals", "0", "what"): "mouse"}),
        ({"meals": [Dropped(), WAS["meals"][1], {"date": "2026-10-31"}]},
         {("meals",): Added({"date": "2026-10-31"}), ("meals", "0"): Dropped()}),
        ({"meals": [Dropped(), Dropped()]}, {("meals", "1"): Dropped(), ("meals", "0"): Dropped()}),
    ],
)  # fmt: skip
def test_what_differs_is_changed_and_nothing_else(wanted: dict[str, Any], changes: object) -> None:
    found = differences(WAS, WAS | wanted)
    assert found == changes
    assert list(found) == list(changes), "entries go from the end, so that the positions of the others stay"  # type: ignore[call-overload]


def test_what_was_written_meanwhile_is_told_where_it_is_the_same_value() -> None:
    changes = differences(WAS, WAS | {"sex": "male", "name": "June"})
    assert clashes(WAS | {"line": "ladder"}, WAS, changes) == {}
    assert clashes(WAS | {"sex": "unknown"}, WAS, changes) == {("sex",): "unknown"}
    assert clashes(WAS | {"sex": "male"}, WAS, changes) == {}, "it says already what is wanted"
    assert clashes({key: WAS[key] for key in WAS if key != "sex"}, WAS, changes) == {("sex",): "nothing"}


def test_an_entry_of_a_list_is_changed_only_if_it_is_still_that_entry() -> None:
    changes = differences(WAS, WAS | {"meals": [WAS["meals"][0], {"date": "2026-10-17", "what": "mouse"}]})
    longer = WAS | {"meals": [{"date": "2026-09-01", "what": "rat"}, *WAS["meals"]]}
    assert clashes(longer, WAS, changes) == {("meals", "1", "what"): "rat"}
    assert caught_up(WAS, longer, clashes(longer, WAS, changes)) == WAS, "which entry is meant, nobody knows"
    assert caught_up(WAS, WAS | {"sex": "unknown"}, {("sex",): "unknown"}) == WAS | {"sex": "unknown"}


def test_a_change_by_hand_is_never_overwritten(tmp_path: Path) -> None:
    root = write_files(tmp_path, "=== animals/juniper/animal.yaml\nspecies: corn-snake\nsex: male   # by hand\n")
    place = RecordPlace("juniper", "animals/juniper/animal.yaml")
    seen = {"species": "corn-snake", "sex": "unknown"}
    with pytest.raises(WrongUse, match="was changed in the file meanwhile"):
        change_record(open_records(root), place, seen, seen | {"sex": "female"})
    proposal = change_record(open_records(root), place, seen, seen | {"name": "Juniper"})
    assert proposal.files[0].after == b"name: Juniper\nspecies: corn-snake\nsex: male   # by hand\n"
    assert proposal.told == "juniper: changed name."


TWICE = """\
=== site.yaml
name: Test
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
=== animals/hazel/animal.yaml
species: corn-snake
from_litter: 2024-a/01
sex: female   # probed twice
=== litters/2024-a/litter.yaml
dam: juniper
born: 2024-07-01
young:
  "01": {sex: female}
  "02": {sex: male}
"""


@pytest.mark.parametrize("named", ["hazel", "2024-a/01"])
def test_a_wrong_sex_that_both_records_of_a_young_have_is_corrected_in_both(tmp_path: Path, named: str) -> None:
    root = write_files(tmp_path, TWICE)
    records = open_records(root)
    proposal = set_values(records, find_animal(records, named), {("sex",): "male"})
    check_proposal(records, proposal)
    after = {file.path: (file.after or b"").decode() for file in proposal.files}
    assert "sex: male   # probed twice" in after["animals/hazel/animal.yaml"]
    assert '"01": {sex: male}' in after["litters/2024-a/litter.yaml"]


def test_the_entry_of_a_young_with_a_record_of_its_own_is_corrected_in_both(tmp_path: Path) -> None:
    root = write_files(tmp_path, TWICE)
    records = open_records(root)
    entry = RecordPlace("2024-a/01", "litters/2024-a/litter.yaml", ("young", "01"))
    proposal = change_record(records, entry, {"sex": "female"}, {"sex": "male"})
    check_proposal(records, proposal)
    assert {file.path for file in proposal.files} == {"animals/hazel/animal.yaml", "litters/2024-a/litter.yaml"}
    other = RecordPlace("2024-a/02", "litters/2024-a/litter.yaml", ("young", "02"))
    assert len(change_record(records, other, {"sex": "male"}, {"sex": "female"}).files) == 1
