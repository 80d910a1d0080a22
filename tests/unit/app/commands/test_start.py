"""``start`` as a breeder meets it."""

import json
import os
import pty
import select
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from helpers.keeping import all_files, record, typed
from helpers.program import SITEGEN

from sitegen.keeper.new_records import carried


def test_a_new_collection_builds_at_once(tmp_path: Path) -> None:
    words = ("--name", "Mine", "--species", "corn snake", "--currency", "eur", "--place", "Here")
    typed(tmp_path, "start", "mine", *words)
    assert json.loads(typed(tmp_path / "mine", "check", "--json").stdout) == {"findings": []}
    assert "\nformat: 2\n" in record(tmp_path / "mine", "site.yaml")
    typed(tmp_path / "mine", "build")
    assert "Mine" in (tmp_path / "mine" / "output" / "index.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("species", list(carried()))
def test_every_commented_line_of_the_example_may_be_used(species: str, tmp_path: Path) -> None:
    typed(tmp_path, "start", "mine", "--name", "Mine", "--species", species, "--currency", "EUR")
    path = tmp_path / "mine" / "content" / "animals" / "example" / "animal.yaml"
    text = path.read_text(encoding="utf-8")
    used = [line.removeprefix("# ") if line.startswith(("# born", "# shows", "# stated", "# acq", "# wei", "# off",
            "# priv")) else line for line in text.splitlines()]  # fmt: skip
    assert len([line for line in used if line not in text.splitlines()]) == 7
    path.write_text("\n".join(used) + "\n", encoding="utf-8")
    typed(tmp_path / "mine", "check")


@pytest.mark.parametrize("species", list(carried()))
def test_every_species_file_that_is_carried_is_sound(species: str, tmp_path: Path) -> None:
    typed(tmp_path, "start", "mine", "--name", "Mine", "--species", species, "--currency", "EUR")
    assert json.loads(typed(tmp_path / "mine", "check", "--json").stdout) == {"findings": []}


@pytest.mark.parametrize("named", ["California kingsnake", "lampropeltis californiae", "KINGSNAKE"])
def test_a_species_is_known_by_all_its_names(named: str, tmp_path: Path) -> None:
    typed(tmp_path, "start", "mine", "--name", "Mine", "--species", named, "--currency", "EUR")
    assert (tmp_path / "mine" / "content" / "species" / "kingsnake.yaml").is_file()


def test_a_folder_that_is_not_empty_is_refused(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("dear")
    done = typed(tmp_path, "start", "mine", "--name", "M", "--species", "corn-snake", "--currency", "EUR", status=2)
    assert "mine is not empty (letter.txt)" in done.stderr
    assert all_files(tmp_path) == {"mine/letter.txt": b"dear"}


@pytest.mark.parametrize(
    ("words", "told", "status"),
    [
        (["--species", "corn-snak", "--currency", "EUR"], "nearest: corn-snake", 2),
        (["--species", "corn-snake", "--currency", "EURI"], "is not a currency code", 1),
        (["--currency", "EUR"], "say --name, --species and --currency", 2),
        (["--species", "corn-snake", "--currency", "EUR", "--email", "me"], "is no e-mail address", 2),
    ],
)
def test_a_start_that_cannot_be_writes_nothing(words: list[str], told: str, status: int, tmp_path: Path) -> None:
    assert told in typed(tmp_path, "start", "mine", "--name", "M", *words, status=status).stderr
    assert all_files(tmp_path) == {}


def test_a_way_back_through_a_folder_that_is_not_there_is_no_way_round_the_refusal(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("dear")
    words = ["--name", "M", "--species", "corn-snake", "--currency", "EUR"]
    assert "is not empty (letter.txt)" in typed(tmp_path, "start", "new/../", *words, status=2).stderr
    assert all_files(tmp_path) == {"letter.txt": b"dear"}


def at_terminal(folder: Path, words: Sequence[str], answers: Sequence[str]) -> tuple[int, str]:
    """What is shown when somebody sits there and types the answers."""
    try:
        pid, terminal = pty.fork()
    except OSError as none_left:
        pytest.skip(f"no terminal can be made on this machine: {none_left}")
    if pid == 0:  # pragma: no cover - another process
        os.chdir(folder)
        os.execv(sys.executable, [*SITEGEN, *words])
    shown, left = b"", list(answers)
    while select.select([terminal], [], [], 30)[0]:
        try:
            read = os.read(terminal, 4096)
        except OSError:
            break
        if not read:
            break
        shown += read
        if left and shown.endswith(b"? "):
            os.write(terminal, f"{left.pop(0)}\n".encode())
    os.close(terminal)
    _, status = os.waitpid(pid, 0)
    assert not left
    return os.waitstatus_to_exitcode(status), shown.decode()


def test_questions_are_asked_again_until_the_answer_can_be_used(tmp_path: Path) -> None:
    answers = ["", " Mine ", "cor", "corn-snak", "corn-snake", "EURO", "eur"]
    status, shown = at_terminal(tmp_path, ["start", "mine"], answers)
    assert status == 0, shown
    assert shown.count("nearest: corn-snake") == 2
    assert "three letters of ISO 4217 are needed" in shown
    assert "name: Mine\n" in record(tmp_path / "mine", "site.yaml")
    assert "EUR" in record(tmp_path / "mine", "site.yaml")
