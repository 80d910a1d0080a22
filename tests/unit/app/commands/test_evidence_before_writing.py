"""What would make the records contradict each other is told before it is written, and is not written."""

import contextlib
import io
import json
from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.app.commands import main

RECORDS = """
=== site.yaml
name: Small
currency: GBP
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
breeding_age: {female: 30 months, male: 18 months}
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
born: 2018-06-01
shows: []
stated: {anery: certain}
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2018-06-01
shows: []
tests: [{locus: anery, result: +/+}]
=== litters/2025-juniper-flint/litter.yaml
dam: juniper
sire: flint
laid: 2025-05-20
"""
CLASHING = """
=== animals/olive/animal.yaml
species: corn-snake
sex: female
born: 2018-06-01
tests: [{locus: amel, result: +/+}]
=== litters/2024-olive/litter.yaml
dam: olive
born: 2024-07-01
young:
  "01": {sex: male, shows: [amel]}
"""


def run(folder: Path, *words: str) -> tuple[int, str]:
    told = io.StringIO()
    with contextlib.chdir(folder), contextlib.redirect_stderr(told), contextlib.redirect_stdout(told):
        with pytest.raises(SystemExit) as ended:
            main(list(words))
        return int(ended.value.code or 0), told.getvalue()


def files(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


ANERY = "shows anerythristic"
TESTED = "flint is DNA-tested as not carrying anery"


@pytest.mark.parametrize(
    ("words", "called"),
    [
        (["add", "animal", "Hazel", "--dam", "juniper", "--sire", "flint", "--shows", "anery"], "Hazel"),
        (["add", "young", "2025-juniper-flint", "--shows", "anery"], "young 01 of 2025-juniper-flint"),
        (["import", "sheet.csv"], "Hazel"),
    ],
)
def test_what_would_contradict_the_records_is_told_as_check_tells_it_and_not_written(
    words: list[str], called: str, tmp_path: Path
) -> None:
    write_files(tmp_path / "content", RECORDS)
    (tmp_path / "sheet.csv").write_text("name,sex,dam,sire,genetics\nHazel,female,juniper,flint,anery\n")
    before = files(tmp_path)
    status, told = run(tmp_path, *words)
    assert status == 1
    assert "these records cannot all be true" in told
    assert f"{called} {ANERY}" in told
    assert TESTED in told
    assert files(tmp_path) == before
    if words[0] == "add":
        status, machine = run(tmp_path, *words, "--json")
        assert (status, json.loads(machine)["written"]) == (1, [])
        kinds = {finding["kind"] for finding in json.loads(machine)["findings"]}
        assert kinds == {"contradiction"}


def test_what_came_of_a_litter_is_held_against_the_records_too(tmp_path: Path) -> None:
    """Young that are described before they are counted: the outcome itself says nothing of genes."""
    write_files(tmp_path / "content", RECORDS)
    assert run(tmp_path, "add", "outcome", "2025-juniper-flint", "--born", "2025-07-18", "--young", "2")[0] == 0
    before = files(tmp_path)
    status, told = run(tmp_path, "add", "young", "2025-juniper-flint", "02", "--shows", "anery")
    assert (status, ANERY in told) == (1, True)
    assert files(tmp_path) == before


def test_records_that_contradict_each_other_already_stand_in_nobodys_way(tmp_path: Path) -> None:
    write_files(tmp_path / "content", RECORDS + CLASHING)
    assert run(tmp_path, "check")[0] == 1
    status, told = run(tmp_path, "add", "animal", "Hazel", "--dam", "juniper", "--sire", "flint", "--shows", "nothing")
    assert (status, "cannot all be true" in told) == (0, False)
    status, told = run(tmp_path, "add", "animal", "Ash", "--dam", "juniper", "--sire", "flint", "--shows", "anery")
    assert (status, ANERY in told) == (1, True)


def test_a_record_that_mends_a_fault_is_not_held_back_by_what_can_be_asked_now(tmp_path: Path) -> None:
    """Before, nobody could ask whether the others agree; they do not, and it is not the new record's fault."""
    missing = "\n=== animals/ash/animal.yaml\nspecies: corn-snake\nborn: 2023-01-01\ndam: fennel\nshows: []\n"
    write_files(tmp_path / "content", RECORDS + CLASHING + missing)
    status, told = run(tmp_path, "add", "animal", "Fennel", "--sex", "female", "--born", "2018-06-01")
    assert (status, "cannot all be true" in told) == (0, False)
    assert "cannot all be true" in run(tmp_path, "check")[1]


def test_where_other_records_are_in_error_it_is_said_that_nobody_could_ask(tmp_path: Path) -> None:
    write_files(tmp_path / "content", RECORDS + "=== animals/ash/animal.yaml\nspecies: corn-snake\nsex: perhaps\n")
    status, told = run(tmp_path, "add", "weight", "juniper", "402 g", "--on", "2026-05-03")
    assert (status, "nobody can tell whether they contradict this" in told) == (0, True)
