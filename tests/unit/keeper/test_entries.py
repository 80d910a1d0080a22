"""What is added to records day by day, and values that are changed or cleared."""

import datetime as dt
from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.content.binding import bind_content
from sitegen.findings import ContentError, Kind, WrongUse
from sitegen.keeper.entries import add_decision, set_values
from sitegen.keeper.lookup import find_animal
from sitegen.keeper.records import Records, check_proposal, content_after, open_records

ON = dt.date(2026, 10, 31)
RECORDS = """
=== species/corn-snake.yaml
name: corn snake
loci:
  amel: {inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
=== animals/flint/animal.yaml
species: corn-snake
=== projects/ladder/project.yaml
name: Ladder
species: corn-snake
goal: {shows: [amel]}  # what we are after
stages:
  first:
    season: 2027
    dam: juniper
    sire: flint
    tries: 2
    keep: {goal: {shows: [amel], count: 2}}
    else:  # another way on
      sons: {only: true, carries: [amel], sex: male}
    until: else
about: |
  A text.
"""


def records_at(folder: Path, records: str = RECORDS) -> Records:
    return open_records(write_files(folder / "content", records))


def decided(records: Records, project: str, text: str, stage: str = "") -> list[tuple[str, str, str]]:
    change = add_decision(records, project, text, stage, ON)
    check_proposal(records, change)
    collection, findings = bind_content(content_after(records, change.files))
    assert collection is not None, findings
    return [(str(each.date), each.stage, each.text) for each in collection.projects["ladder"].decisions]


@pytest.mark.parametrize("text", ["We wait.", 'Two: "not" one; #3, [a] & {b}', "50% of them", "Zwei Töchter\nbleiben"])
def test_what_was_decided_is_read_back_as_it_was_said(tmp_path: Path, text: str) -> None:
    assert decided(records_at(tmp_path), "ladder", text, "first") == [("2026-10-31", "first", " ".join(text.split()))]


def test_a_decision_comes_after_those_that_stand_there_and_changes_nothing_else(tmp_path: Path) -> None:
    before = RECORDS.replace("about: |", "decisions:\n  - {date: 2026-01-02, text: We begin.}\nabout: |")
    records = records_at(tmp_path, before)
    (file,) = add_decision(records, "Ladder", "We wait.", "", ON).files
    old = records.raw("projects/ladder/project.yaml").decode()
    added = "  - {date: 2026-10-31, text: We wait.}\n"
    assert file.after.decode() == old.replace("about: |", f"{added}about: |")
    collection, _ = bind_content(content_after(records, (file,)))
    assert collection is not None
    (stage,) = collection.projects["ladder"].stages
    assert ([kept.id for kept in stage.otherwise], stage.until) == (["sons"], "else")


def test_the_same_decision_is_not_written_twice(tmp_path: Path) -> None:
    records = records_at(tmp_path, RECORDS + "decisions: [{date: 2026-10-31, text: We wait.}]\n")
    assert add_decision(records, "ladder", "We wait.", "", ON).files == ()


def test_a_stage_or_project_that_is_not_there_is_told(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    with pytest.raises(ContentError) as told:
        check_proposal(records, add_decision(records, "ladder", "We wait.", "frist", ON))
    assert [(each.kind, each.nearest) for each in told.value.findings] == [(Kind.STAGE_UNKNOWN, "first")]
    with pytest.raises(WrongUse, match="nearest: ladder"):
        add_decision(records, "laddr", "We wait.", "", ON)
    with pytest.raises(WrongUse, match="what was decided"):
        add_decision(records, "ladder", "  ", "", ON)


ONE = """
=== animals/juniper/animal.yaml
name: Juniper  # of the first clutch
species: corn-snake
sex: male
died: 2026-05-01  # at night
shows: [amel]
offer: {price: 120, state: available}
"""


def test_values_are_changed_and_cleared_in_one_change(tmp_path: Path) -> None:
    records = records_at(tmp_path, RECORDS.split("=== animals/juniper")[0] + ONE)
    values = {("sex",): "female", ("died",): None, ("shows",): [], ("kept",): None, ("born",): "2020"}
    change = set_values(records, find_animal(records, "juniper"), values)
    check_proposal(records, change)
    (file,) = change.files
    assert file.after.decode() == (
        "name: Juniper  # of the first clutch\nspecies: corn-snake\nsex: female\nborn: 2020\n# at night\nshows: []\n"
        "offer: {price: 120, state: available}\n"
    )
    assert change.told == (
        "juniper: sex female (was male), died taken out (was 2026-05-01), shows [], kept taken out, born 2020."
    )


def test_values_that_stand_there_change_nothing(tmp_path: Path) -> None:
    records = records_at(tmp_path, RECORDS.split("=== animals/juniper")[0] + ONE)
    change = set_values(records, find_animal(records, "juniper"), {("sex",): "male", ("kept",): None})
    assert change.files == ()
    assert "stands there already" in change.told
