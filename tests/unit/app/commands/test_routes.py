"""``sitegen routes`` as a breeder runs it."""

import json
from pathlib import Path

import pytest
import yaml
from helpers.from_text import split_files
from helpers.program import SMALL, run

HERE = """
=== animals/show/animal.yaml
species: corn-snake
sex: male
born: 2018-06-01
shows: [anery]
=== animals/other/animal.yaml
species: corn-snake
sex: female
born: 2018-06-01
shows: [amel]
=== projects/pale/project.yaml
name: Pale one
species: corn-snake
goal: {shows: [amel, anery]}
horizon: 2034
=== projects/plain/project.yaml
species: corn-snake
goal: {shows: [amel]}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write(tmp_path, SMALL + HERE)
    return tmp_path


def write(folder: Path, text: str) -> None:
    for path, content in split_files(text).items():
        file = folder / "content" / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(content, encoding="utf-8")


def test_routes_are_told_season_by_season(folder: Path) -> None:
    done = run(folder, "routes", "pale", "--generations", "2")
    assert done.returncode == 0, done.stderr
    assert "Route A" in done.stdout
    assert "pair other with show" in done.stdout
    assert "about 6 in 100 young are it and 94 are not (1/16)" in done.stdout
    assert "What was not tried" in done.stdout
    assert "None that was left can be better even at best." in done.stdout
    assert "Routes: " in done.stderr


def test_a_project_is_found_by_its_name_too(folder: Path) -> None:
    done = run(folder, "routes", "Pale one", "--generations", "2", "--most", "1")
    assert done.returncode == 0
    assert "Route A" in done.stdout
    assert "Route B" not in done.stdout


def test_an_unknown_project_is_wrong_use(folder: Path) -> None:
    done = run(folder, "routes", "plae")
    assert done.returncode == 2
    assert 'there is no project "plae" in the records; nearest: pale' in done.stderr
    assert done.stdout == ""


def test_a_route_as_a_record_can_be_put_into_the_project(folder: Path) -> None:
    done = run(folder, "routes", "pale", "--generations", "2", "--as-record", "a")
    assert done.returncode == 0
    stages = yaml.safe_load(done.stdout)["stages"]
    assert stages["first"]["dam"] == "other"
    record = folder / "content" / "projects" / "pale" / "project.yaml"
    record.write_text(record.read_text() + done.stdout)
    checked = json.loads(run(folder, "check", "--json").stdout)
    assert [each for each in checked["findings"] if each["level"] == "error"] == []
    again = run(folder, "routes", "pale", "--generations", "2")
    assert "your plan" in again.stdout


def test_a_letter_without_a_route_is_wrong_use(folder: Path) -> None:
    done = run(folder, "routes", "pale", "--generations", "2", "--as-record", "Q")
    assert done.returncode == 2
    assert "there is no route Q; there are A" in done.stderr


def test_routes_as_data(folder: Path) -> None:
    done = run(folder, "routes", "pale", "--generations", "2", "--horizon", "2033", "--json")
    facts = json.loads(done.stdout)
    assert facts["horizon"] == 2033
    assert facts["goal"] == {"shows": ["amel", "anery"], "carries": []}
    assert facts["routes"][0]["stages"]["first"]["season"] >= 2023
    assert facts["search"]["left"] == 0


def test_nobody_carries_a_part_of_the_goal(folder: Path) -> None:
    (folder / "content" / "animals" / "show" / "animal.yaml").write_text(
        "species: corn-snake\nsex: male\nborn: 2018-06-01\nshows: []\n"
    )
    done = run(folder, "routes", "pale")
    assert done.returncode == 0
    assert "There is no route: no animal that can be counted on may carry anerythristic." in done.stdout


def test_no_route_in_time_says_what_may_help(folder: Path) -> None:
    done = run(folder, "routes", "pale", "--horizon", "2024", "--date", "2022-12-01")
    assert done.returncode == 0
    assert "There is no route within three generations that reaches the goal by the end of 2024" in done.stdout
