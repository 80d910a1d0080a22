"""What is noted of many animals at once: all of it or nothing, and every fault told with its line."""

import datetime as dt
import unicodedata
from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.findings import ContentError, WrongUse
from sitegen.keeper.noted import Noted, add_events, add_meals, add_measured, noted_lines, noted_words
from sitegen.keeper.records import Proposal, Records, check_proposal, open_records

ON = dt.date(2026, 10, 31)
RECORDS = """
=== species/corn-snake.yaml
name: corn snake
loci:
  amel: {inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
weights: {2026-10-01: 400 g}  # she eats well
=== animals/flint/animal.yaml
name: Old Flint
species: corn-snake
=== animals/hazel-2/animal.yaml
name: Hazel 2
species: corn-snake
=== litters/2026-a/litter.yaml
dam: juniper
born: 2026-07-01
young:
  "01":
  "02": {sex: male}  # the bold one
"""


@pytest.fixture
def records(tmp_path: Path) -> Records:
    return open_records(write_files(tmp_path / "content", RECORDS))


def read(records: Records, key: str, *lines: str) -> list[tuple[str, str, str]]:
    noted = noted_lines(records, key, "\n".join(lines), "lines", ON)
    assert not [one.fault for one in noted if one.fault]
    return [(one.named, one.what, one.on.isoformat()) for one in noted]


def text(proposal: Proposal, path: str) -> str:
    return next(file.after.decode() for file in proposal.files if file.path == path)


@pytest.mark.parametrize(
    ("line", "named", "what"),
    [
        ("juniper 402 g", "juniper", "402 g"),
        ("Juniper; 402 g", "Juniper", "402 g"),
        ("juniper\t402g", "juniper", "402g"),
        ("juniper: 402g", "juniper", "402g"),
        ("juniper, 0,4 kg", "juniper", "0,4 kg"),
        ("  Old Flint   402 g ", "Old Flint", "402 g"),
        ("Hazel 2 402 g", "Hazel 2", "402 g"),
        ("hazel-2 402", "hazel-2", "402"),
        ("2026-a/01 12 g", "2026-a/01", "12 g"),
        ("Old Flint 2 lb 3 oz", "Old Flint", "2 lb 3 oz"),
        ("juniper 14.2oz", "juniper", "14.2oz"),
    ],
)
def test_a_line_names_an_animal_and_then_what_it_weighs(records: Records, line: str, named: str, what: str) -> None:
    assert read(records, "weights", line) == [(named, what, "2026-10-31")]
    assert read(records, "weights", f"2026-05-01 {line}", f"2026-5-2; {line}") == [
        (named, what, "2026-05-01"),
        (named, what, "2026-05-02"),
    ]


@pytest.mark.parametrize(
    ("line", "named", "what"),
    [
        ("juniper adult mouse", "juniper", "adult mouse"),
        ("Old Flint refused adult mouse", "Old Flint", "refused adult mouse"),
        ("hazel 2 2 pinkies", "hazel 2", "2 pinkies"),
        ("Nobody here; mouse: small", "Nobody here", "mouse: small"),
        ("2026-a/01\tpinkie", "2026-a/01", "pinkie"),
        ("nobody eats", "nobody", "eats"),
    ],
)
def test_the_longest_name_of_an_animal_ends_where_the_meal_begins(
    records: Records, line: str, named: str, what: str
) -> None:
    assert read(records, "meals", line) == [(named, what, "2026-10-31")]


def test_a_name_is_known_however_its_accents_were_typed(tmp_path: Path) -> None:
    records = open_records(write_files(tmp_path / "content", RECORDS.replace("Old Flint", "Alte Jún")))
    line = unicodedata.normalize("NFD", "alte jún adult mouse")
    (noted,) = noted_lines(records, "meals", line, "lines", ON)
    assert noted.what == "adult mouse"
    assert add_meals(records, [noted]).files[0].path == "animals/flint/animal.yaml"


def test_blank_lines_and_comments_are_passed_over(records: Records) -> None:
    assert read(records, "weights", "# shed one", "", "   ", "juniper 402 g", "  # juniper 1 g") == [
        ("juniper", "402 g", "2026-10-31")
    ]


def test_a_line_that_nobody_wrote_by_hand_is_told_at_once(records: Records) -> None:
    for line in ("juniper" + " " * 100_000 + "402 g x", "a 1" * 50_000, "juniper " * 20_000):
        for key in ("weights", "meals"):
            (noted,) = noted_lines(records, key, line, "lines", ON)
            assert "too long" in noted.fault


@pytest.mark.parametrize(
    ("words", "found"),
    [
        (["juniper", "402g", "flint", "380g"], [("juniper", "402g"), ("flint", "380g")]),
        (["juniper", "402", "g", "Old Flint", "380 g"], [("juniper", "402 g"), ("Old Flint", "380 g")]),
        (["Old", "Flint", "0.4", "kg"], [("Old Flint", "0.4 kg")]),
        (["Hazel 2", "402g", "2026-a/01", "12"], [("Hazel 2", "402g"), ("2026-a/01", "12")]),
    ],
)
def test_words_are_parted_behind_each_weight(words: list[str], found: list[tuple[str, str]]) -> None:
    assert [(one.named, one.what) for one in noted_words("weights", words, ON)] == found


def test_weights_of_many_are_one_change_with_one_file_for_a_litter(records: Records) -> None:
    lines = "juniper 402g\nOld Flint 380 g\n2026-a/01 12 g\n2026-a/2 13 g\njuniper 402 g\n2026-10-01 juniper 400 g\n"
    change = add_measured(records, "weights", noted_lines(records, "weights", lines, "lines", ON))
    check_proposal(records, change)
    assert [file.path for file in change.files] == [
        "animals/juniper/animal.yaml", "animals/flint/animal.yaml", "litters/2026-a/litter.yaml",
    ]  # fmt: skip
    assert "weights: {2026-10-01: 400 g, 2026-10-31: 402 g}  # she eats well\n" in text(change, change.files[0].path)
    litter = text(change, "litters/2026-a/litter.yaml")
    assert '"01": {weights: {2026-10-31: 12 g}}\n' in litter
    assert '"02": {sex: male, weights: {2026-10-31: 13 g}}  # the bold one\n' in litter
    assert change.told == (
        "juniper: 402 g on 2026-10-31. flint: 380 g on 2026-10-31. 2026-a/01: 12 g on 2026-10-31. "
        "2026-a/02: 13 g on 2026-10-31. juniper: 400 g on 2026-10-01, that stands there already."
    )


def test_every_wrong_line_is_told_and_nothing_is_proposed(records: Records) -> None:
    lines = [
        "flint 380 g", "junper 402 g", "juniper", "juniper 402", "31.10.2026 juniper 402 g", "flint 381 g",
        "2026-10-01 juniper 402 g", "2026-13-01 juniper 402 g", "juniper 1.402 g", "2026-a/09 12 g",
    ]  # fmt: skip
    with pytest.raises(ContentError) as told:
        add_measured(records, "weights", noted_lines(records, "weights", "\n".join(lines), "lines", ON))
    found = {each.place.line: each for each in told.value.findings if each.place}
    assert sorted(found) == [2, 3, 4, 5, 6, 7, 8, 9, 10]
    assert {each.place.file for each in told.value.findings if each.place} == {"lines"}
    assert (found[2].message, found[2].nearest) == ('there is no animal "junper" in the records', "juniper")
    assert "no weight stands at the end" in found[3].message
    assert "the unit is missing" in found[4].message
    assert (found[5].nearest, "not a date" in found[5].message) == ("2026-10-31", True)
    assert found[6].message == "flint is told twice: 380 g, and 381 g on 2026-10-31"
    assert "has a weight of 2026-10-01 already: 400 g" in found[7].message
    assert "there is no day 2026-13-01" in found[8].message
    assert "two ways" in found[9].message
    assert 'lists no young "09"' in found[10].message


def test_several_that_are_said_wrongly_are_all_told(records: Records) -> None:
    with pytest.raises(WrongUse) as told:
        add_measured(records, "weights", noted_words("weights", ["junper", "402g", "flnt", "380g"], ON))
    assert str(told.value).count("there is no animal") == 2


def test_another_weight_of_that_day_is_never_written_over(records: Records) -> None:
    with pytest.raises(WrongUse, match=r"correct it in animals/juniper/animal\.yaml"):
        add_measured(records, "weights", [Noted("juniper", "420g", dt.date(2026, 10, 1))])


def test_meals_of_many_and_two_of_one_animal(records: Records) -> None:
    lines = "juniper adult mouse\nflint refused adult mouse\njuniper pinkie\njuniper adult mouse\n"
    change = add_meals(records, noted_lines(records, "meals", lines, "lines", ON))
    check_proposal(records, change)
    assert text(change, "animals/juniper/animal.yaml").endswith(
        "meals:\n  - {date: 2026-10-31, what: adult mouse}\n  - {date: 2026-10-31, what: pinkie}\n"
    )
    assert text(change, "animals/flint/animal.yaml").endswith("- {date: 2026-10-31, what: adult mouse, taken: false}\n")
    with pytest.raises(ContentError) as told:
        add_meals(records, noted_lines(records, "meals", "juniper\nflint refused\n", "lines", ON))
    assert ["say what was offered" in each.message for each in told.value.findings] == [True, True]


def test_events_of_many_kinds_of_animals_and_litters(records: Records) -> None:
    lines = "juniper shed\n2026-a moved\nOld Flint introduced with juniper\n2026-10-30 flint vet\n"
    change = add_events(records, noted_lines(records, "events", lines, "lines", ON))
    check_proposal(records, change)
    assert text(change, "litters/2026-a/litter.yaml").endswith("events:\n  - {date: 2026-10-31, what: moved}\n")
    flint = text(change, "animals/flint/animal.yaml")
    assert "{date: 2026-10-31, what: introduced, with: juniper}" in flint
    assert "{date: 2026-10-30, what: vet}" in flint
    with pytest.raises(ContentError) as told:
        add_events(records, noted_lines(records, "events", "juniper shde\njuniper introduced\n", "lines", ON))
    assert [each.nearest[:4] for each in told.value.findings] == ["shed", ""]
