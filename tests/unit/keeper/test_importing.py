"""From a sheet to records: what is taken, what is told, and what is left as it was."""

import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.sheets import folder, imported, planned, written

from sitegen.content.writing import NotWritten
from sitegen.findings import ContentError, Kind, Level
from sitegen.keeper.importing import Import, ImportOrder, plan_import

REPOSITORY = Path(__file__).parent.parent.parent.parent
RUBY = "=== animals/ruby/animal.yaml\nname: Ruby\nspecies: corn-snake\nsex: female\nborn: 2018\nshows: [amel]\n"


def messages(found: Import, level: Level = Level.ERROR) -> list[str]:
    return [finding.message for finding in found.findings if finding.level is level]


def record(found: Import, animal: str) -> str:
    return found.records[f"animals/{animal}/animal.yaml"]


def test_a_row_becomes_a_record_a_person_could_have_written(tmp_path: Path) -> None:
    found = planned(
        tmp_path,
        "Name,Sex,Born,Morph,Notes,Weight (g),Weighed\n"
        "Ruby,0.1,2021-07-14,Snow het hypo 66% het caramel,bites,310,2024-05-01\n",
    )
    assert found.findings == ()
    assert record(found, "ruby") == (
        "name: Ruby\nspecies: corn-snake\nsex: female\nborn: 2021-07-14\nshows: [snow]\n"
        "stated: {hypo: certain, caramel: 66%}\nweights: {2024-05-01: 310 g}\nprivate:\n  notes: bites\n"
    )


def test_one_row_that_is_not_understood_keeps_all_from_being_written(tmp_path: Path) -> None:
    sheet = "name,genetics\nRuby,Snow\nFlint,Snwo\n"
    found = planned(tmp_path, sheet)
    assert found.records == {}
    (message,) = messages(found)
    assert 'row 3, genetics "Snwo"' in message
    assert found.findings[0].place is not None
    assert "snakes.csv:3:2" == str(found.findings[0].place)
    assert "snow" in found.findings[0].nearest
    assert (2, 1, 1) == (found.rows, found.new, found.left)


def test_partly_takes_the_rows_that_were_understood_and_no_row_that_hangs_on_another(tmp_path: Path) -> None:
    sheet = "name,genetics,dam\nRuby,Snwo,\nKid,amel,Ruby\nGrandkid,amel,Kid\nFlint,amel,\n"
    found = planned(tmp_path, sheet, partly=True)
    assert ["animals/flint/animal.yaml"] == list(found.records)
    assert 1 == len(messages(found))
    first, second = messages(found, Level.NOTICE)
    assert 'row 2, name "Ruby": row 3 names this animal as a parent, and so must wait' == first
    assert 'row 3, name "Kid": row 4 names this animal as a parent, and so must wait' == second
    assert (3, 2) == (found.left, found.waiting)


def test_a_second_import_changes_nothing(tmp_path: Path) -> None:
    sheet = "id,name,sex,genetics,dam,sire\n,Ruby,f,amel het hypo,,\n,Flint,m,normal,,\nx/1,,m,,Ruby,Flint\n"
    assert 3 == len(imported(tmp_path, sheet).records)
    before = {path: path.read_bytes() for path in (tmp_path / "content").rglob("*") if path.is_file()}
    again = imported(tmp_path, sheet)
    assert (again.findings, again.records, again.known) == ((), {}, 3)
    assert before == {path: path.read_bytes() for path in (tmp_path / "content").rglob("*") if path.is_file()}


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


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        ("name,Rack\nRuby,4\n", 'what the column "Rack" holds'),
        ("name,sex,gender\nRuby,f,f\n", "are both read as sex"),
        ("sex\nf\n", "no column holds names"),
        ("name,\nRuby,x\n", "column 2 has no heading"),
        ("name,sex\n,f\n", "neither a name nor an id"),
        ("name\n!!!\n", "no folder can be named"),
        ("name\nAll\n", "is a word of the records"),
        ("id,name\nnone,Ruby\n", "is a word of the records"),
        ("name,hets\nRuby,50/50 het amel\n", '"50/50" is no chance'),
        ("name,hets\nRuby,1/1 het amel\n", '"1/1" is no chance'),
        ("name\nRuby\nruby\n", "stands in row 3 as well"),
        ("id,name\na,Ruby\nA,Flint\n", "stands in row 3 as well"),
        ("name,species\nRuby,corn snak\n", "no such species"),
        ("name,sex\nRuby,2.1\n", "stands for 3 animals"),
        ("name,sex,genetics\nRuby,m,0.1 amel\n", "both male and female"),
        ("name,born,genetics\nRuby,2019,amel CB21\n", "born at two times"),
        ("name,price\nRuby,140\n", "whether it is offered is not said"),
        ("name,weight\nRuby,310 g\n", "the day of weighing is not said"),
        ("name,weight,weighed\nRuby,310,2024\n", "no weight with its unit"),
        ("name,genetics\nRuby,amel het amel\n", "seen, and to be carried unseen"),
        ("name,genetics\nRuby,motley stripe amel\n", ""),
        ("name,litter\nRuby,2026-x\n", "is not said by the sheet"),
        ("name,dam,sire\nKid,Kid,\n", "row 2"),
        ("name,sex,dam\nRuby,m,\nKid,f,Ruby\n", "row"),
        ("name,born,dam\nRuby,2022,\nKid,2020,Ruby\n", "row"),
        ("name,sire\nKid,Flint 1/2 or Ruby 1/3\nFlint,\nRuby,\n", "do not sum to 1"),
        ("name,shows,dam,sire\nRuby,amel,,\nFlint,amel,,\nKid,normal,Ruby,Flint\n", "row"),
        ("name,unsure\nRuby,hipo\n", 'no gene "hipo"'),
    ],
)
def test_nothing_is_guessed_and_nothing_written(tmp_path: Path, sheet: str, told: str) -> None:
    found = planned(tmp_path, sheet)
    if told:
        assert found.records == {}
        assert any(told in message for message in messages(found)), messages(found)
    else:
        assert found.records


def test_a_contradiction_is_told_at_every_row_it_needs(tmp_path: Path) -> None:
    sheet = "name,shows,dam,sire\nRuby,amel,,\nFlint,amel,,\nKid,normal,Ruby,Flint\nBo,anery,,\n"
    found = planned(tmp_path, sheet, partly=True)
    (clash,) = [finding for finding in found.findings if finding.kind is Kind.CONTRADICTION]
    assert ["snakes.csv:2:1", "snakes.csv:3:1", "snakes.csv:4:1"] == [str(at) for at in (clash.place, *clash.others)]
    assert 3 == found.left - found.waiting
    assert ["animals/bo/animal.yaml"] == list(found.records)


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


def test_records_in_error_stop_an_import(tmp_path: Path) -> None:
    with pytest.raises(ContentError):
        planned(tmp_path, "name\nBo\n", RUBY + "colour: red\n")


def test_an_existing_contradiction_is_not_laid_at_the_door_of_a_sheet(tmp_path: Path) -> None:
    bad = (
        RUBY + "=== animals/kid/animal.yaml\nspecies: corn-snake\nshows: []\nborn: 2022\ndam: ruby\n"
        "tests: [{locus: amel, result: +/+}]\n"
    )
    assert ["animals/bo/animal.yaml"] == list(planned(tmp_path, "name\nBo\n", bad).records)


def test_a_record_that_appears_meanwhile_is_not_overwritten(tmp_path: Path) -> None:
    found = planned(tmp_path, "name\nRuby\n")
    mine = tmp_path / "content/animals/ruby/animal.yaml"
    mine.parent.mkdir(parents=True)
    mine.write_text("species: corn-snake\n")
    with pytest.raises(NotWritten):
        written(tmp_path / "content", found)
    assert mine.read_text() == "species: corn-snake\n"
    assert ["animal.yaml"] == [path.name for path in mine.parent.iterdir()]


def test_an_import_that_was_stopped_half_way_goes_on_with_the_rest(tmp_path: Path) -> None:
    sheet = "name,dam\nRuby,\nKid,Ruby\n"
    found = planned(tmp_path, sheet)
    written(tmp_path / "content", replace(found, records=dict([next(iter(found.records.items()))])))
    rest = planned(tmp_path, sheet)
    assert (["animals/kid/animal.yaml"], 1) == (list(rest.records), rest.known)


@pytest.mark.parametrize(
    "name", ["Ruby: the first", "- Ruby", '"Ruby" \\', "Ruby # 2", "No", "null", "{Ruby}", "Rübÿ 🐍", "&a *b", "'=x"]
)
def test_any_name_stays_as_it_is_written(tmp_path: Path, name: str) -> None:
    cell = '"' + name.replace('"', '""') + '"'
    found = imported(tmp_path, f"id,name,notes\na,{cell},{cell}\n")
    assert found.findings == ()
    again = plan_import(ImportOrder(tmp_path / "snakes.csv", folder(tmp_path)))
    assert (again.findings, again.known) == ((), 1)


def test_sixty_rows_with_twelve_oddities() -> None:
    """Every oddity is told at its row and column, and nothing else is an error."""
    sheet = (Path(__file__).parent / "sixty_rows.csv").read_text(encoding="utf-8")
    oddities = {
        "2:1": "stands in row 57", "24:4": '"Amle" is not understood', "29:4": '"hipo" is not understood',
        "33:2": "stands for 3 animals", "35:7": "is not a price", "38:3": "read in two ways", "40:5": "Comfry",
        "43:6": "Birch's brother", "46:4": "stands without het", "51:4": '"or" is not understood',
        "54:4": "is not said", "57:1": "stands in row 2", "59:4": "shows with one copy",
    }  # fmt: skip
    with tempfile.TemporaryDirectory() as root:
        content = Path(root) / "content"
        for file in ("site.yaml", "species/corn-snake.yaml"):
            text = (REPOSITORY / "content" / file).read_text(encoding="utf-8")
            write_files(content, f"=== {file}\n{text}")
        (Path(root) / "snakes.csv").write_text(sheet)
        found = plan_import(ImportOrder(Path(root) / "snakes.csv", content))
    errors = [finding for finding in found.findings if finding.level is Level.ERROR]
    assert {f"snakes.csv:{at}" for at in oddities} == {str(finding.place) for finding in errors}
    assert len(oddities) == len(errors)
    for finding in errors:
        assert oddities[str(finding.place).removeprefix("snakes.csv:")] in finding.message
        assert finding.nearest or finding.remedy
    assert (60, 0) == (found.rows, len(found.records))
    assert 60 == found.new + found.left


def test_an_empty_column_asks_nothing(tmp_path: Path) -> None:
    assert planned(tmp_path, "name,Rack,name,sex\nRuby,,,f\n").findings == ()
    assert planned(tmp_path, "name,sex\n").rows == 0
