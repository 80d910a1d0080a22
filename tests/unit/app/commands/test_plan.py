"""``sitegen plan`` as it is typed; the search is a stand-in but where it is asked for by name."""

import datetime as dt
import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from helpers.from_text import write_files
from helpers.program import run

from sitegen.app import room_question as command
from sitegen.content.wishes import Wishes
from sitegen.plans.room.kinds import BuyingPlan, GoalSeason, HoldbackPlan, Purchase, RankedYoung, RoomPairing, RoomPlan

HERD = """
=== site.yaml
name: Small
format: 2
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
breeding_age: {female: 30 months, male: 18 months}
breeding_season: {paired: March, born: July}
loci:
  amel: {inheritance: recessive}
  reed: {inheritance: dominant, welfare: {text: Some strike beside their food., source: own records}}
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
shows: [amel, reed]
=== litters/2026-a/litter.yaml
dam: juniper
sire: flint
born: 2026-07-01
young: {"01": {sex: male, shows: [amel]}}
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


class Engine:
    """Answers at once, and keeps what it was asked."""

    def __init__(self) -> None:
        self.asked: list[Wishes] = []

    def plan(self, _asked: object, species: str, wishes: Wishes, _as_of: dt.date, *, progress: Any) -> RoomPlan:
        self.asked.append(wishes)
        progress(1.0)
        assert wishes.season is not None
        assert wishes.last is not None
        goals = {goal.id: (GoalSeason(wishes.season, 0.5, 0.4, 0.3, 0.01),) for goal in wishes.goals}
        pairing = RoomPairing("juniper", "flint", dict.fromkeys(goals, 0.4), 0.4, 0.01)
        return RoomPlan(species, wishes.season, wishes.last, (pairing,), (), goals, 0.4, 0.01, 1.0, 4000)

    def holdback(self, _asked: object, litter: str, _wishes: Wishes, _day: dt.date, *, progress: Any) -> HoldbackPlan:
        return HoldbackPlan("corn-snake", litter, (RankedYoung("2026-a/01", True, 0.4, 0.01, {"p": 0.4}),))

    def buying(self, _asked: object, species: str, wishes: Wishes, _day: dt.date, *, progress: Any) -> BuyingPlan:
        return BuyingPlan(species, tuple(Purchase(each, 0.4, 0.01, {"p": 0.4}) for each in wishes.buy))


@pytest.fixture
def engine(monkeypatch: pytest.MonkeyPatch) -> Engine:
    found = Engine()
    monkeypatch.setattr(command, "plan_room", found.plan)
    monkeypatch.setattr(command, "holdback", found.holdback)
    monkeypatch.setattr(command, "buying", found.buying)
    return found


def herd(folder: Path, plan: str = "", more: str = "") -> Path:
    write_files(folder / "content", HERD + more)
    if plan:
        (folder / "content/plan.yaml").write_text(plan)
    return folder


def test_the_answer_begins_with_what_harms_and_the_pairings(engine: Engine, tmp_path: Path) -> None:
    done = run(herd(tmp_path), "plan")
    assert (done.returncode, done.stderr) == (0, "Seasons of corn snake: 100 of 100\n")
    lines = done.stdout.splitlines()
    assert lines[0].startswith("Read this first: Juniper x Flint can give reed.")
    assert lines[1:3] == [
        "Corn snake, season 2027, one clutch:",
        "  Juniper x Flint for p",
    ]
    assert "There is no plan.yaml, so every open project counts the same" in done.stdout
    assert "a veterinarian experienced with reptiles" in done.stdout
    assert done.stdout.index("By the end of 2027:") < done.stdout.index("Promised in 2027 or 2028")
    assert "choices for 2027 were looked at" not in done.stdout
    assert "choices for 2027 were looked at" in run(tmp_path, "plan", "--details").stdout


def test_what_is_typed_goes_before_what_is_written(engine: Engine, tmp_path: Path) -> None:
    herd(tmp_path, "season: 2028\nlitters: 3\nplaces: {corn-snake: 9}\ngoals: {p: 2}\nwithout: [flint]\nlast: 2029\n")
    assert "There is no plan.yaml" not in run(tmp_path, "plan").stdout
    written = engine.asked[0]
    assert (written.season, written.last, written.litters, written.without) == (2028, 2029, 3, ("flint",))
    assert [(goal.id, goal.weight) for goal in written.goals] == [("p", 2)]
    run(tmp_path, "plan", "--season", "2029", "--litters", "1", "--places", "4", "--without", "Juniper")
    typed = replace(written, season=2029, litters=1, places=4, places_by_species={}, without=("flint", "juniper"))
    assert engine.asked[1] == typed


def test_without_a_last_season_young_of_the_first_can_have_young(engine: Engine, tmp_path: Path) -> None:
    herd(tmp_path, "season: 2028\n")
    run(tmp_path, "plan")
    assert engine.asked[0].last == 2031, "born in July 2028, 30 months old in January 2031"


def test_a_season_that_is_past_and_one_after_the_last_are_told_with_the_reason(engine: Engine, tmp_path: Path) -> None:
    herd(tmp_path, "litters: 2\nseason: 2026\n")
    done = run(tmp_path, "plan")
    assert (done.returncode, done.stdout, engine.asked) == (1, "", [])
    assert "plan.yaml:2:9: error: the season 2026 of corn snake can no longer be paired on 2026-10-01" in done.stderr
    assert "2027 or later" in done.stderr
    (tmp_path / "content/plan.yaml").write_text("last: 2026\n")
    assert "the last season, 2026, lies before the next one of corn snake, 2027" in run(tmp_path, "plan").stderr
    (tmp_path / "content/plan.yaml").write_text("last: 2040\n")
    assert "write last: 2034" in run(tmp_path, "plan").stderr
    (tmp_path / "content/plan.yaml").unlink()
    done = run(tmp_path, "plan", "--season", "2026")
    assert done.returncode == 2
    assert "expected 2027 or later" in done.stderr


@pytest.mark.parametrize("words", [["--litters", "0"], ["--season", "27"], ["--without", "junper"],
                                   ["--buy", "--holdback", "2026-a"], ["--holdback", "2026-b"]])  # fmt: skip
def test_what_cannot_be_asked_is_wrong_use(words: list[str], engine: Engine, tmp_path: Path) -> None:
    done = run(herd(tmp_path), "plan", *words)
    assert (done.returncode, done.stdout, engine.asked) == (2, "", [])


def test_a_clash_is_told_and_is_the_exit_status(engine: Engine, tmp_path: Path) -> None:
    assert run(herd(tmp_path), "plan").returncode == 0
    done = run(herd(tmp_path, more=TWICE), "plan")
    assert done.returncode == 1
    told = done.stdout[done.stdout.index("Cannot all be kept:") :].splitlines()
    assert told[1].strip().startswith("2027: Flint is promised to 2 stages (p, only and q, only)")
    assert told[2].strip() == "2027: Juniper is promised to more litters than she can have: p, only and q, only."


def test_machine_output_is_json_and_nothing_else(engine: Engine, tmp_path: Path) -> None:
    done = run(herd(tmp_path), "plan", "--json")
    found = json.loads(done.stdout)
    assert (found["season"], found["last"], found["resting"]) == (2027, 2030, [])
    assert found["goals"]["p"]["kept"] == {"2027": "0.4000"}
    assert (found["breeders"]["seasons"], list(found["breeders"]["animals"])) == (
        [2027, 2028],
        ["2026-a/01", "flint", "juniper"],
    )


def test_the_day_decides_which_season_is_next(engine: Engine, tmp_path: Path) -> None:
    herd(tmp_path)
    for day, season in (("2027-03-31", 2027), ("2027-04-01", 2028)):
        assert json.loads(run(tmp_path, "plan", "--json", "--date", day).stdout)["season"] == season


def test_without_goals_who_can_breed_is_told_all_the_same(tmp_path: Path) -> None:
    write_files(tmp_path / "content", HERD.partition("=== projects")[0])
    done = run(tmp_path, "plan")
    assert done.returncode == 0
    assert done.stdout.startswith("Nothing is wished for")
    assert "Not promised, can breed in 2027" in done.stdout


def test_an_empty_collection_has_nobody_to_breed(tmp_path: Path) -> None:
    write_files(tmp_path / "content", HERD.partition("=== animals")[0])
    assert "No animal of known sex" in run(tmp_path, "plan").stdout


def test_broken_records_are_told_and_nothing_is_planned(engine: Engine, tmp_path: Path) -> None:
    herd(tmp_path, "goals: {p: 1, nothing: 2}\n")
    done = run(tmp_path, "plan")
    assert (done.returncode, done.stdout, engine.asked) == (1, "", [])
    assert 'there is no project "nothing"' in done.stderr


def test_a_contradiction_is_the_exit_status_of_an_answer_too(engine: Engine, tmp_path: Path) -> None:
    tested = "\n=== litters/2025-b/litter.yaml\ndam: juniper\nsire: flint\nborn: 2025\nyoung: {'01': {shows: []}}\n"
    done = run(herd(tmp_path, more=tested), "plan")
    assert done.returncode == 1
    assert "these records cannot all be true" in done.stderr
    assert "Juniper x Flint" in done.stdout


def test_holding_back_and_buying_have_answers_of_their_own(engine: Engine, tmp_path: Path) -> None:
    herd(tmp_path, "buy: [{species: corn-snake, shows: [reed], sex: male}]\n")
    assert run(tmp_path, "plan", "--holdback", "2026-a").stdout.startswith("Of 2026-a keep No. 01:")
    assert json.loads(run(tmp_path, "plan", "--holdback", "2026-a/", "--json").stdout)["keep"] == ["2026-a/01"]
    told = run(tmp_path, "plan", "--buy").stdout.splitlines()
    assert told[0].startswith("Read this first: there is a welfare note on what some of these have.")
    assert told[2] == "  A male that shows reed: p 40 higher."
    assert json.loads(run(tmp_path, "plan", "--buy", "--json").stdout)["corn-snake"]["buy"][0]["gain"] == "0.4000"


def test_no_command_that_makes_or_checks_the_site_can_search() -> None:
    names = ", ".join(f"sitegen.app.commands.{name}" for name in ("build", "check", "preview"))
    asked = f"import sys, {names}; print([name for name in sys.modules if name.startswith('sitegen.plans.room')])"
    done = subprocess.run([sys.executable, "-c", asked], check=True, capture_output=True, text=True)
    assert done.stdout == "[]\n"


SMALLEST = """
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
litter_size: {low: 1, usual: 1, high: 1}
breeding_season: {paired: March, born: July}
loci:
  amel: {inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
born: 2020-07-01
shows: [amel]
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2020-07-01
shows: []
stated: {amel: 66%}
=== plan.yaml
season: 2027
last: 2027
goals: {pair: {shows: [amel], count: 2}}
"""


def test_the_search_itself_finds_the_one_pairing_of_a_room(tmp_path: Path) -> None:
    write_files(tmp_path / "content", f"=== site.yaml\nname: Small\nformat: 2\n{SMALLEST}")
    done = run(tmp_path, "plan", "--json")
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert [(each["dam"], each["sire"]) for each in found["pairings"]] == [("juniper", "flint")]
    kept, error = (float(found["goals"]["pair"][each]["2027"]) for each in ("kept", "error"))
    assert abs(kept - 2 / 3 * 1 / 2) < 4 * error, (
        "the sire carries it in two of three, and one young in two then has it"
    )
    assert (found["order"], found["resting"]) == ("sure", [])
