"""The waiting list is begun, added to, changed and cleared in the lines of one person."""

from pathlib import Path

import pytest
from helpers.from_text import CORN, PAIR, write_files

from sitegen.content.binding import bind_content
from sitegen.content.waiting import WAITING_FILE, Person
from sitegen.findings import ContentError, WrongUse
from sitegen.keeper.entries import set_values
from sitegen.keeper.records import Proposal, Records, check_proposal, content_after, open_records
from sitegen.keeper.removing import remove_record
from sitegen.keeper.waiting import add_person, find_person, remove_person

LIST = """# mine
people:
  A. from the fair:  # tall
    contact: a@example.org   # mail only
    since: 2026-05-03

  Bea: {since: 2026-06-01, shows: [amel]}
"""


def records_at(folder: Path, waiting: str | None = LIST) -> Records:
    more = "" if waiting is None else f"=== {WAITING_FILE}\n{waiting}"
    return open_records(write_files(folder / "content", f"{CORN}{PAIR}{more}"))


def after(records: Records, proposal: Proposal) -> str:
    check_proposal(records, proposal)
    (file,) = proposal.files
    assert file.path == WAITING_FILE
    return file.after.decode()


def people(records: Records, proposal: Proposal) -> tuple[Person, ...]:
    collection, findings = bind_content(content_after(records, proposal.files))
    assert collection is not None, findings
    return collection.waiting


def test_the_first_entry_begins_the_file_and_says_what_it_is(tmp_path: Path) -> None:
    records = records_at(tmp_path, None)
    change = add_person(
        records, " A.  from the fair ", {"since": "2026-05-03", "shows": ["amel"], "wants": "", "sex": None}
    )
    text = after(records, change)
    assert text.endswith("people:\n  A. from the fair: {since: 2026-05-03, shows: [amel]}\n")
    assert text.startswith("# Who waits for an animal. Nothing of this file is ever published.")
    assert change.files[0].before is None
    assert [each.name for each in people(records, change)] == ["A. from the fair"]


@pytest.mark.parametrize("name", ["Bea: the second", "#3", "- x", "12", 'the "tall" one', "null", "Zoë {x}"])
def test_any_name_is_read_back_as_it_was_said(name: str, tmp_path: Path) -> None:
    for waiting in (None, "", "# nobody\n", "people:\n", "people: {}\n", LIST):
        records = records_at(tmp_path / str(len(waiting or "none")), waiting)
        change = add_person(records, name, {"contact": "x: y"})
        assert (name, "x: y") in [(each.name, each.contact) for each in people(records, change)]


def test_an_entry_is_added_behind_the_others_and_changes_nothing_else(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    assert after(records, add_person(records, "Cee", {"sex": "female"})) == f"{LIST}  Cee: {{sex: female}}\n"


def test_a_name_that_stands_there_or_none_is_refused(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    with pytest.raises(WrongUse, match=r"Bea stands in waiting\.yaml already and was not changed"):
        add_person(records, "Bea", {})
    with pytest.raises(WrongUse, match="say who waits"):
        add_person(records, " ", {})


def test_what_cannot_be_is_refused_before_it_is_written(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    with pytest.raises(ContentError) as told:
        check_proposal(records, add_person(records, "Cee", {"shows": ["amle"]}))
    assert told.value.findings[0].place is not None
    assert told.value.findings[0].place.file == WAITING_FILE


def test_one_value_is_changed_cleared_or_marked_done_in_its_own_line(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    place = find_person(records, "a. From the fair")
    done = set_values(records, place, {("done",): "2026-10-01"})
    assert after(records, done) == LIST.replace("since: 2026-05-03\n", "since: 2026-05-03\n    done: 2026-10-01\n")
    cleared = set_values(records, place, {("contact",): None, ("since",): "2026-05-04"})
    assert "a@example.org" not in after(records, cleared)
    assert "since: 2026-05-04" in after(records, cleared)
    assert "Bea: {since: 2026-06-01, shows: [amel]}" in after(records, cleared)


def test_somebody_of_whom_nothing_is_left_but_the_name_still_waits(tmp_path: Path) -> None:
    records = records_at(tmp_path, "people:\n  A: {contact: x}\n")
    change = set_values(records, find_person(records, "A"), {("contact",): None})
    assert [(each.name, each.contact) for each in people(records, change)] == [("A", "")]


def test_an_entry_that_is_removed_leaves_no_sign_and_undo_is_told(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    change = remove_person(records, "A. from the fair")
    assert "example.org" not in after(records, change)
    assert "tall" not in after(records, change)
    assert "fair" not in after(records, change)
    assert after(records, change).startswith("# mine\npeople:\n")
    assert [each.name for each in people(records, change)] == ["Bea"]
    assert "sitegen undo --forget" in change.told


def test_nobody_of_that_name_is_told_with_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(WrongUse, match=r'nobody called "Beaa" waits; nearest: Bea'):
        find_person(records_at(tmp_path / "a"), "Beaa")
    with pytest.raises(WrongUse, match=r'nobody called "Bea" waits$'):
        find_person(records_at(tmp_path / "b", None), "Bea")


def test_an_animal_that_was_offered_to_somebody_is_not_removed(tmp_path: Path) -> None:
    records = records_at(tmp_path, "people:\n  A: {offered: flint}\n")
    with pytest.raises(ContentError) as told:
        remove_record(records, "flint")
    assert [each.place and each.place.file for each in told.value.findings] == [WAITING_FILE]
    assert remove_record(records, "juniper").files
