"""``sitegen season`` as it is typed."""

import json
from pathlib import Path

from helpers.from_text import write_files
from helpers.program import run

DEMO = Path(__file__).resolve().parents[4]
HERD = """
=== site.yaml
name: Small
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
breeding_age: {female: 30 months, male: 18 months}
breeding_season: {paired: March, born: July}
loci:
  amel: {inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
born: 2020-07-01
shows: [amel]
=== animals/flint/animal.yaml
name: Flint
species: corn-snake
sex: male
born: 2020-07-01
shows: [amel]
=== projects/p/project.yaml
species: corn-snake
goal: {shows: [amel]}
decisions: [{date: 2026-10-01, text: We begin.}]
stages:
  only: {season: 2027, dam: juniper, sire: flint}
"""
TWICE = """
=== projects/q/project.yaml
species: corn-snake
goal: {shows: [amel]}
stages:
  only: {season: 2027, dam: juniper, sire: flint}
"""


def test_the_demonstration_has_no_promise_that_cannot_be_kept() -> None:
    done = run(DEMO, "season")
    assert (done.returncode, done.stderr) == (0, "")
    assert "Promised in 2027 or 2028: corn snake" in done.stdout
    assert "Jasper" in done.stdout
    assert "welfare note: reedmark" in done.stdout
    assert "a veterinarian experienced with reptiles" in done.stdout


def test_a_clash_is_told_first_and_is_the_exit_status(tmp_path: Path) -> None:
    write_files(tmp_path / "content", HERD)
    assert run(tmp_path, "season").returncode == 0
    write_files(tmp_path / "content", TWICE)
    done = run(tmp_path, "season")
    assert done.returncode == 1
    lines = done.stdout.splitlines()
    assert lines[0] == "Cannot all be kept:"
    assert lines[1].strip().startswith("2027: Flint is promised to 2 stages (p, only and q, only)")
    assert lines[2].strip() == "2027: Juniper is promised to more litters than she can have: p, only and q, only."


def test_machine_output_is_json_and_nothing_else(tmp_path: Path) -> None:
    write_files(tmp_path / "content", HERD)
    done = run(tmp_path, "season", "2028", "--json")
    found = json.loads(done.stdout)
    assert (found["seasons"], found["conflicts"], list(found["animals"])) == ([2028, 2029], [], ["flint", "juniper"])


def test_the_day_decides_which_season_is_next(tmp_path: Path) -> None:
    write_files(tmp_path / "content", HERD)
    assert json.loads(run(tmp_path, "season", "--json").stdout)["seasons"][0] == 2027
    assert json.loads(run(tmp_path, "season", "--json", "--date", "2027-04-01").stdout)["seasons"][0] == 2028


def test_wrong_use_and_broken_records(tmp_path: Path) -> None:
    write_files(tmp_path / "content", HERD)
    assert run(tmp_path, "season", "27").returncode == 2
    (tmp_path / "content/animals/flint/animal.yaml").write_text("species: corn-snak\n")
    done = run(tmp_path, "season")
    assert (done.returncode, done.stdout) == (1, "")
    assert 'there is no species "corn-snak"' in done.stderr


def test_an_empty_collection_has_nobody_to_breed(tmp_path: Path) -> None:
    write_files(tmp_path / "content", HERD.split("=== animals")[0])
    done = run(tmp_path, "season")
    assert done.returncode == 0
    assert "No animal of known sex" in done.stdout
