"""A change is made as small as it can be, and thought through on the whole collection before it is written."""

from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.findings import ContentError, Kind, WrongUse
from sitegen.keeper.lookup import record_of
from sitegen.keeper.records import (
    Added,
    Proposal,
    Records,
    as_they_stand,
    changed,
    check_proposal,
    new_file,
    open_records,
    think_through,
    unified_diff,
)

RECORDS = """
=== site.yaml
name: Small
currency: GBP
=== species/corn-snake.yaml
name: corn snake
loci:
  amel: {inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake   # sure
sex: "female"
meals: [{date: 2026-01-02, what: mouse}]
"""
JUNIPER = "animals/juniper/animal.yaml"
CLASH = "species: corn-snake\nshows: [amel]\ntests: [{locus: amel, result: +/+}]\n"


@pytest.fixture
def records(tmp_path: Path) -> Records:
    return open_records(write_files(tmp_path / "content", RECORDS))


def test_what_stands_there_already_is_not_written_again(records: Records) -> None:
    place = record_of(records, "animals", "juniper")
    assert changed(records, place, {("sex",): "female"}) == ()
    assert changed(records, place, {("meals",): Added({"date": "2026-01-02", "what": "mouse"})}) == ()


def test_several_values_are_one_change_of_the_file(records: Records) -> None:
    place = record_of(records, "animals", "juniper")
    (file,) = changed(records, place, {("born",): "2020", ("weights", "2026-01-02"): "310 g"})
    lines = [
        "species: corn-snake   # sure", 'sex: "female"', "born: 2020", "weights: {2026-01-02: 310 g}",
    ]  # fmt: skip
    assert sorted(file.after.decode().splitlines()) == sorted([*lines, "meals: [{date: 2026-01-02, what: mouse}]"])
    assert (file.path, file.before) == (JUNIPER, records.raw(JUNIPER))


def test_a_byte_order_mark_stays(tmp_path: Path) -> None:
    root = write_files(tmp_path / "content", RECORDS)
    (root / JUNIPER).write_bytes(b"\xef\xbb\xbf" + (root / JUNIPER).read_bytes())
    records = open_records(root)
    (file,) = changed(records, record_of(records, "animals", "juniper"), {("born",): "2020"})
    assert file.after.startswith(b"\xef\xbb\xbfspecies")


def test_only_what_a_change_brings_is_told(records: Records) -> None:
    new = new_file("animals/ash/animal.yaml", "species: corn-snake\ncolour: red\n")
    found = think_through(records, [new])
    assert [(finding.kind, str(finding.place)) for finding in found.findings] == [(Kind.KEY_UNKNOWN, new.path)]
    assert found.known is None
    before = as_they_stand(records)
    assert think_through(records, [new], before) == found


def test_evidence_is_held_against_a_change(records: Records) -> None:
    clash = Proposal((new_file("animals/ash/animal.yaml", CLASH),), "")
    with pytest.raises(ContentError) as refused:
        check_proposal(records, clash)
    assert {finding.kind for finding in refused.value.findings} == {Kind.CONTRADICTION}


def test_a_record_does_not_grow_beyond_what_is_read(records: Records) -> None:
    with pytest.raises(WrongUse, match="1,000,000 bytes"):
        check_proposal(records, Proposal((new_file("animals/ash/animal.yaml", "# " * 600_000),), ""))


def test_a_change_is_shown_as_a_difference_and_a_photograph_by_its_size(records: Records) -> None:
    files = changed(records, record_of(records, "animals", "juniper"), {("born",): "2020"})
    photo = new_file("animals/juniper/2026.jpg", "12345")
    shown = unified_diff(Proposal((*files, photo), "")).splitlines()
    assert "+born: 2020" in shown
    assert shown[-1] == "new file animals/juniper/2026.jpg (5 bytes)"
