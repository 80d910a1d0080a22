"""Rows are brought together with the records that stand, and compared with them."""

from pathlib import Path

from helpers.sheets import planned

from sitegen.findings import Level
from sitegen.keeper.importing import Import

RUBY = "=== animals/ruby/animal.yaml\nname: Ruby\nspecies: corn-snake\nsex: female\nborn: 2018\nshows: [amel]\n"


def messages(found: Import, level: Level = Level.ERROR) -> list[str]:
    return [finding.message for finding in found.findings if finding.level is level]


def record(found: Import, animal: str) -> str:
    return found.records[f"animals/{animal}/animal.yaml"]


def test_a_row_that_differs_from_its_record_is_told_and_the_record_stays(tmp_path: Path) -> None:
    found = planned(tmp_path, "name,sex,born,genetics\nruby,m,2019,anery het hypo\n", RUBY)
    assert (found.records, messages(found), found.differing) == ({}, [], 1)
    told = "\n".join(messages(found, Level.NOTICE))
    assert 'sex "m": the record says female' in told
    assert 'born "2019": the record says 2018' in told
    assert "the record says that it shows amel" in told
    assert '"het hypo" says more than the records' in told


def test_what_a_label_states_of_an_animal_with_parents_is_compared_and_not_stored(tmp_path: Path) -> None:
    sheet = (
        "name,sex,born,genetics,dam,sire\nRuby,f,2018,normal het amel,,\nFlint,m,2018,normal het amel,,\n"
        "Kid,m,2021,normal 66% het amel,Ruby,Flint\nKid2,m,2021,normal het amel,Ruby,Flint\n"
        "Kid3,m,2021,normal pos het amel,Ruby,Flint\nKid4,f,2021,normal 66% het hypo,Ruby,Flint\n"
    )
    found = planned(tmp_path, sheet)
    assert "stated" not in record(found, "kid")
    notices = messages(found, Level.NOTICE)
    assert 2 == len(notices), notices
    assert "row 5" in notices[0]
    assert "about 67 in 100" in notices[0]
    assert "row 7" in notices[1]
    assert "none do" in notices[1]


def test_possible_without_a_number_says_nothing_of_a_founder_unless_the_keeper_says_what_it_means(
    tmp_path: Path,
) -> None:
    sheet = "name,genetics\nRuby,amel pos het hypo\n"
    assert "is not said" in messages(planned(tmp_path, sheet))[0]
    columns = tmp_path / "columns.yaml"
    columns.write_text("possible: 50%\n")
    assert "stated: {hypo: 50%}" in record(planned(tmp_path, sheet, columns=columns), "ruby")


def test_parents_are_found_by_name_and_id_in_rows_and_records(tmp_path: Path) -> None:
    sheet = (
        "id,name,sex,born,dam,sire\n7,Kid,f,2022,RUBY,Old Flint or basalt\nf1,Old Flint,m,2018,,\nbasalt,,m,2018,,\n"
    )
    found = planned(tmp_path, sheet, RUBY)
    assert "dam: ruby\nsire: [f1, basalt]\n" in record(found, "7")


def test_a_parent_nobody_knows_is_told_or_gets_a_bare_record(tmp_path: Path) -> None:
    sheet = "name,dam,sire\nKid,Rubby,Flint 2/3 or Basalt 1/3\nKid2,Ruby,Flint\n"
    found = planned(tmp_path, sheet, RUBY)
    assert "ruby" in [finding.nearest for finding in found.findings]
    made = planned(tmp_path, sheet.replace("Rubby", "Ruby"), RUBY, with_parents=True)
    assert made.findings == ()
    assert {"kid", "kid2", "flint", "basalt"} == {path.split("/")[1] for path in made.records}
    assert record(made, "flint") == "name: Flint\nspecies: corn-snake\nsex: male\n"
    assert "sire: {flint: 2/3, basalt: 1/3}" in record(made, "kid")
