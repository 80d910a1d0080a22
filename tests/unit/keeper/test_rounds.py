"""What was seen on a round becomes one change; a weight that can hardly be right is asked about first."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.from_text import bound, write_files

from sitegen.findings import WrongUse
from sitegen.keeper.records import Proposal, Records, check_proposal, open_records
from sitegen.keeper.rounds import Seen, add_seen, question_of

ON = dt.date(2026, 11, 25)
RECORDS = """
=== species/corn-snake.yaml
name: corn snake
loci:
  amel: {inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
weights:
  2026-10-01: 400 g   # after the shed
  2026-11-25: 412 g
meals:
  - {date: 2026-11-12, what: adult mouse}
=== animals/flint/animal.yaml
species: corn-snake
sex: male
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
sire: flint
born: 2026-07-18
young:
  "01": {weights: {2026-11-20: 10 g}}
  "02": {sex: male}
"""


def records_at(folder: Path) -> Records:
    return open_records(write_files(folder / "content", RECORDS))


def after(change: Proposal, path: str) -> str:
    (text,) = [file.after.decode() for file in change.files if file.path == path]
    return text


def test_a_row_is_one_change_of_one_record(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    seen = Seen(animal="juniper", weight="402g", fed="adult mouse", refused=True, shed=True, note="in one piece")
    change = add_seen(records, [seen], ON)
    check_proposal(records, change)
    assert change.told == "On 2026-11-25: juniper 402 g, adult mouse refused, shed, in one piece."
    assert after(change, "animals/juniper/animal.yaml") == (
        "species: corn-snake\nsex: female\nweights:\n  2026-10-01: 400 g   # after the shed\n  2026-11-25: 402 g\n"
        "meals:\n  - {date: 2026-11-12, what: adult mouse}\n"
        "  - {date: 2026-11-25, what: adult mouse, taken: false}\n"
        "events:\n  - {date: 2026-11-25, what: shed, note: in one piece}\n"
    )


def test_littermates_are_one_change_of_their_record(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    young = [Seen(animal=f"2026-juniper-flint/{number}", weight="12 g") for number in ("01", "02")]
    change = add_seen(records, [*young, Seen(animal="flint", note="calm")], ON)
    check_proposal(records, change)
    assert [file.path for file in change.files] == [
        "litters/2026-juniper-flint/litter.yaml",
        "animals/flint/animal.yaml",
    ]
    assert after(change, "litters/2026-juniper-flint/litter.yaml").count("2026-11-25: 12 g") == 2
    assert "events:\n  - {date: 2026-11-25, what: note, note: calm}\n" in after(change, "animals/flint/animal.yaml")


def test_what_was_entered_a_moment_ago_is_replaced_and_another_meal_of_the_day_stays(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    path = records.root / "animals/juniper/animal.yaml"
    first = Seen(animal="juniper", fed="pinky")
    second = Seen(animal="juniper", fed="pinky", refused=True, before=first)
    path.write_bytes(add_seen(records, [first], ON).files[0].after)
    records = open_records(records.root)
    change = add_seen(records, [second], ON)
    assert after(change, "animals/juniper/animal.yaml").count("pinky") == 1
    assert "  - {date: 2026-11-25, what: pinky, taken: false}\n" in after(change, "animals/juniper/animal.yaml")
    change = add_seen(records, [Seen(animal="juniper", fed="fuzzy")], ON)
    assert {"pinky", "fuzzy"} <= set(after(change, "animals/juniper/animal.yaml").replace("}", " ").split())


def test_the_same_once_more_changes_nothing(tmp_path: Path) -> None:
    records = records_at(tmp_path)
    change = add_seen(records, [Seen(animal="juniper", weight="412 g")], ON)
    assert (change.files, change.told) == ((), "On 2026-11-25, juniper 412 g: that stands there already.")
    assert add_seen(records, [], ON) == Proposal((), "Nothing was entered.")


def test_who_refused_something_unknown_is_asked(tmp_path: Path) -> None:
    with pytest.raises(WrongUse, match="say what flint refused"):
        add_seen(records_at(tmp_path), [Seen(animal="flint", refused=True)], ON)


@pytest.mark.parametrize(
    ("animal", "weight", "on", "known", "asked"),
    [
        ("juniper", "402 g", "2026-11-24", "", ""),
        ("juniper", "40 g", "2026-11-24", "", "40 g, after 400 g on October 1, 2026: is that right?"),
        ("juniper", "200 g", "2026-11-24", "", "200 g, after 400 g on October 1, 2026: is that right?"),
        ("juniper", "201 g", "2026-11-24", "", ""),
        ("juniper", "800 g", "2026-10-31", "", "800 g, after 400 g on October 1, 2026: is that right?"),
        ("juniper", "800 g", "2026-11-24", "", ""),
        ("juniper", "4.02 kg", "2026-11-24", "", "4,020 g, after 400 g on October 1, 2026: is that right?"),
        ("juniper", "402 g", "2026-11-25", "412", ""),
        ("juniper", "412 g", "2026-11-25", "", ""),
        ("juniper", "402 g", "2026-11-25", "", "412 g stands there for that day. Write 402 g in its place?"),
        ("flint", "4 g", "2026-11-25", "", ""),
        ("juniper", "heavy g", "2026-11-25", "", ""),
    ],
)
def test_a_weight_that_can_hardly_be_right_is_asked_about(
    animal: str, weight: str, on: str, known: str, asked: str
) -> None:
    """Source of the bounds: common practice, no source; eight times in 100 days as check has it."""
    collection = bound(RECORDS)
    day = dt.date.fromisoformat(on)
    seen = Seen(animal=animal, weight=weight, known=known)
    assert question_of(seen, collection.animals[animal], day, collection.site) == asked
    assert question_of(replace(seen, sure=True), collection.animals[animal], day, collection.site) == ""
