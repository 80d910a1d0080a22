"""Before anything is written it is thought through, and whatever ends a command leaves whole records."""

import contextlib
import io
import json
import random
import signal
import subprocess
import time
from pathlib import Path
from unittest import mock

import pytest
from helpers.from_text import write_files
from helpers.keeping import all_files, typed
from helpers.program import SITEGEN

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
    before = all_files(tmp_path)
    status, told = run(tmp_path, *words)
    assert status == 1
    assert "these records cannot all be true" in told
    assert f"{called} {ANERY}" in told
    assert TESTED in told
    assert all_files(tmp_path) == before
    if words[0] == "add":
        status, machine = run(tmp_path, *words, "--json")
        assert (status, json.loads(machine)["written"]) == (1, [])
        kinds = {finding["kind"] for finding in json.loads(machine)["findings"]}
        assert kinds == {"contradiction"}


def test_what_came_of_a_litter_is_held_against_the_records_too(tmp_path: Path) -> None:
    """Young that are described before they are counted: the outcome itself says nothing of genes."""
    write_files(tmp_path / "content", RECORDS)
    assert run(tmp_path, "add", "outcome", "2025-juniper-flint", "--born", "2025-07-18", "--young", "2")[0] == 0
    before = all_files(tmp_path)
    status, told = run(tmp_path, "add", "young", "2025-juniper-flint", "02", "--shows", "anery")
    assert (status, ANERY in told) == (1, True)
    assert all_files(tmp_path) == before


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


def told_of_a_fault(folder: Path, at: str, *words: str) -> str:
    """What is said when the program itself fails at a place."""
    out, err = io.StringIO(), io.StringIO()
    with (
        contextlib.chdir(folder),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        mock.patch("sitegen.content.writing.written_so_far", []),
        mock.patch(at, side_effect=ValueError("shares do not sum to 1")),
        pytest.raises(SystemExit) as ended,
    ):
        main(list(words))
    assert ended.value.code == 1
    assert "Traceback" not in err.getvalue()
    assert "Please report it with these words: ValueError: shares do not sum to 1" in err.getvalue()
    return err.getvalue()


def test_a_fault_of_our_own_asks_for_a_report_and_says_truly_what_was_changed(snakes: Path) -> None:
    before = all_files(snakes)
    words = ("add", "weight", "juniper", "310 g", "--on", "2026-10-03")
    assert "Nothing was changed" in told_of_a_fault(snakes, "sitegen.app.commands.changing.check_proposal", *words)
    assert "Nothing was changed" in told_of_a_fault(snakes, "sitegen.app.commands.check.check", "check")
    assert all_files(snakes) == before
    told = told_of_a_fault(snakes, "sitegen.app.commands.changing.tell", *words)
    assert "animals/juniper/animal.yaml" in told
    assert "Nothing was changed" not in told
    assert all_files(snakes) != before


@pytest.mark.slow
def test_a_command_that_is_ended_at_any_moment_leaves_the_old_record_or_the_new_one(snakes: Path) -> None:
    """``set`` and ``add`` by turns, ended at random moments between their start and their end."""
    chance = random.Random(7)
    states = ["available", "sold"]
    litter = "content/litters/2026-juniper-flint/litter.yaml"
    started = time.perf_counter()
    subprocess.run([*SITEGEN, "check"], cwd=snakes, stdout=subprocess.DEVNULL, check=True)
    usual = time.perf_counter() - started
    written = 0
    for moment in range(8):
        before = all_files(snakes)
        words = (
            ["set", "2026-juniper-flint/01", states[moment // 2 % 2], "--on", f"2026-11-{moment + 1:02d}"]
            if moment % 2
            else ["add", "animal", f"Snake {moment}", "--sex", "male"]
        )
        told = json.loads(typed(snakes, *words, "--dry-run", "--json").stdout)
        added = [line[1:] for line in told["diff"].splitlines() if line.startswith("+") and not line.startswith("+++")]
        process = subprocess.Popen([*SITEGEN, *words], cwd=snakes, stdout=subprocess.DEVNULL)
        time.sleep(chance.uniform(0, 1.1 * usual))
        process.send_signal(signal.SIGKILL)
        process.wait()
        after = {path: raw for path, raw in all_files(snakes).items() if ".sitegen-" not in path}
        before = {path: raw for path, raw in before.items() if ".sitegen-" not in path}
        changed = {path for path in after if after[path] != before.get(path)}
        assert set(before) <= set(after)
        assert changed <= ({litter} if moment % 2 else {f"content/animals/snake-{moment}/animal.yaml"})
        for path in changed:
            assert all(line in after[path].decode() for line in added)
        written += bool(changed)
    typed(snakes, "set", "2026-juniper-flint/02", "sold", "--on", "2026-11-20")
    typed(snakes, "check")
    assert not [path for path in all_files(snakes / "content/litters") if ".sitegen-" in path]
    assert written < 8
