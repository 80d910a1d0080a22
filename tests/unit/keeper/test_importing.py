"""From a sheet to records: what is taken, what is told, and what is left as it was."""

import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.sheets import folder, imported, planned, written

from sitegen.content.writing import NotWritten
from sitegen.findings import ContentError, Kind, Level
from sitegen.keeper.importing import Import, plan_import
from sitegen.keeper.splicing import plain

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
        ("name,weight\nRuby,310 g\n", "the day of the weight is not said"),
        ("name,weight,weighed\nRuby,310,2024\n", "no weight with its unit"),
        ("name,length\nRuby,90 cm\n", "the day of the length is not said"),
        ("name,length,measured\nRuby,90,2024\n", "no length with its unit"),
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
    again = plan_import(tmp_path / "snakes.csv", folder(tmp_path))
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
        found = plan_import(Path(root) / "snakes.csv", content)
    errors = [finding for finding in found.findings if finding.level is Level.ERROR]
    assert {f"snakes.csv:{at}" for at in oddities} == {str(finding.place) for finding in errors}
    assert len(oddities) == len(errors)
    for finding in errors:
        assert oddities[str(finding.place).removeprefix("snakes.csv:")] in finding.message
        assert finding.nearest or finding.remedy
    assert (60, 0) == (found.rows, len(found.records))
    assert 60 == found.new + found.left


def test_a_cell_of_several_lines_is_a_block_in_the_record(tmp_path: Path) -> None:
    found = imported(tmp_path, 'name,about,notes\nRuby,"Likes\n\nto climb","bites\nat: night"\n')
    text = found.records["animals/ruby/animal.yaml"]
    assert text.endswith("about: |-\n  Likes\n\n  to climb\nprivate:\n  notes: |-\n    bites\n    at: night\n")
    assert plain(text)["private"] == {"notes": "bites\nat: night"}
