"""The first steps and recipes of the guide, done as they are written there, and the examples of every --help."""

import json
import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from unittest import mock

import click
import pytest
from helpers.guide_tables import commands
from helpers.program import SITEGEN, run

from sitegen.app import room_question
from sitegen.app.commands import program

REPOSITORY = Path(__file__).parent.parent.parent
GUIDE = REPOSITORY / "sitegen" / "guide"
FIRST_STEPS, RECIPES, ADDING = (
    (GUIDE / f"{page}.md").read_text(encoding="utf-8") for page in ("first-steps", "recipes", "adding")
)


def recipes() -> dict[str, list[tuple[str, list[str]]]]:
    """Title of each recipe to its boxes that are to be done: commands (``sh``), or lines of a record (``yaml``)."""
    found = {}
    for recipe in RECIPES.split("\n## ")[1:]:
        title, _, text = recipe.partition("\n")
        boxes = re.findall(r"```(sh|yaml)\n(.*?)```", text, re.DOTALL)
        found[title] = [(kind, [line for line in box.splitlines() if line]) for kind, box in boxes]
    return found


def sitegen(folder: Path, line: str) -> subprocess.CompletedProcess[str]:
    words = shlex.split(line, comments=True)
    assert words[0] == "sitegen"
    return run(folder, *words[1:])


def do(folder: Path, line: str) -> Path:
    """Do one line of the guide; the folder in which the next one is done."""
    if line.startswith("cd "):
        return folder / line.removeprefix("cd ")
    if line.startswith("rm -r "):
        shutil.rmtree(folder / shlex.split(line, comments=True)[2])
        return folder
    done = sitegen(folder, line)
    assert done.returncode == 0, f"{line}\n{done.stdout}{done.stderr}"
    assert "error" not in done.stderr, line
    return folder


def write_by_hand(folder: Path, lines: list[str]) -> None:
    """Add the lines of a box to the record that its first line names, at its end or under a key."""
    path, _, key = lines[0].removeprefix("# ").partition(", under ")
    record, added = folder / path, "\n".join(lines[1:]) + "\n"
    text = record.read_text(encoding="utf-8")
    if key:
        assert f"\n{key}:\n" in text
        record.write_text(text.replace(f"\n{key}:\n", f"\n{key}:\n{added}", 1), encoding="utf-8")
    else:
        record.write_text(f"{text.rstrip()}\n{added}", encoding="utf-8")


@pytest.fixture(scope="module")
def trial(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The collection to which the first steps lead, done one after the other."""
    folder = tmp_path_factory.mktemp("trial")
    lines = [line for box in re.findall(r"```sh\n(.*?)```", FIRST_STEPS, re.DOTALL) for line in box.splitlines()]
    assert len(lines) >= 15
    for line in lines:
        folder = do(folder, line)
    return folder


def test_the_first_steps_lead_to_a_site_of_three_animals_a_litter_and_two_offers(trial: Path) -> None:
    pages = {path.relative_to(trial / "output").as_posix(): path for path in (trial / "output").rglob("*.html")}
    assert {"animals/juniper.html", "animals/flint.html", "animals/fennel.html"} == {
        address for address in pages if address.startswith("animals/") and "paper" not in address
    }
    available = pages["available.html"].read_text(encoding="utf-8")
    assert "Fennel" in available
    young = pages["litters/2026-juniper-flint/01.html"]
    assert "https://schema.org/SoldOut" in young.read_text(encoding="utf-8")
    assert "you@example.org" in pages["index.html"].read_text(encoding="utf-8")


def test_there_is_a_recipe_for_each_of_the_days_tasks() -> None:
    told = " ".join(recipes()).lower()
    for task in (
        "died", "on hold", "two males", "dna test", "spreadsheet", "proved out", "hatchlings", "another breeder",
        "new computer", "photograph", "kept one back",
    ):  # fmt: skip
        assert task in told


@pytest.mark.parametrize("title", list(recipes()))
def test_a_recipe_works_as_it_is_written(title: str, trial: Path, tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    shutil.copytree(trial, folder)
    for photo in ("holiday.jpg", "young-01.jpg"):
        shutil.copy(REPOSITORY / "content" / "animals" / "basalt" / "IMG_0412.jpg", folder / photo)
    shutil.copy(folder / "output" / "litters" / "2026-juniper-flint" / "01-paper.json", folder)
    (folder / "my-snakes.csv").write_text("name,sex,genetics\nBriar,0.1,Snow het hypo\n", encoding="utf-8")
    for kind, lines in recipes()[title]:
        if kind == "yaml":
            write_by_hand(folder, lines)
        else:
            for line in lines:
                do(folder, line)
    checked = json.loads(sitegen(folder, "sitegen check --json").stdout)
    assert [] == [finding for finding in checked["findings"] if finding["level"] == "error"]


def test_a_young_that_cannot_be_is_told_as_the_recipe_says_and_mended_so(trial: Path, tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    shutil.copytree(trial, folder)
    young = 'sitegen add young 2026-juniper-flint 3 --shows "amel, anery"'
    record = folder / "content/animals/flint/animal.yaml"
    text = record.read_text(encoding="utf-8")
    record.write_text(text + "tests: [{locus: anery, result: +/+}]\n", encoding="utf-8")
    told = sitegen(folder, young)
    assert told.returncode == 1
    assert "these records cannot all be true" in told.stderr
    assert "Nothing was changed" in told.stderr
    record.write_text(text, encoding="utf-8")
    told = sitegen(folder, young)
    assert told.returncode == 0
    assert "must have anerythristic" in told.stdout + told.stderr
    assert sitegen(folder, "sitegen check").returncode == 0


def test_the_rsync_of_the_guide_copies_the_site_and_nothing_else(trial: Path, tmp_path: Path) -> None:
    """The lines for publishing, to a folder and a Git repository of this machine in place of a host."""
    if shutil.which("rsync") is None or shutil.which("git") is None:
        pytest.skip("needs rsync and git")
    line = next(line for line in FIRST_STEPS.splitlines() if line.startswith("rsync -a --delete output/ you@"))
    assert line.endswith("you@example.org:www/")
    subprocess.run(shlex.split(line.replace("you@example.org:www/", f"{tmp_path}/www/")), cwd=trial, check=True)
    site = {path.relative_to(trial / "output") for path in (trial / "output").rglob("*")}
    assert site == {path.relative_to(tmp_path / "www") for path in (tmp_path / "www").rglob("*")}


def examples() -> Iterator[tuple[str, str]]:
    """What is typed after ``sitegen``, and the example that its help text shows."""
    for path, found in commands():
        if found.epilog and found.epilog.startswith("Example:"):
            yield path, found.epilog.removeprefix("Example:").strip()


def test_every_command_of_the_first_steps_has_an_example() -> None:
    kinds = ("animal", "litter", "young", "weight", "meal", "photo", "update", "species")
    wanted = {"start", "set", "schema", "build", "check", "odds", "why", *(f"add {kind}" for kind in kinds)}
    assert wanted <= {path for path, _ in examples()}


@pytest.mark.parametrize(("path", "example"), list(examples()))
def test_the_example_of_a_help_text_runs(
    path: str, example: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fewer_courses = partial(room_question.plan_room, effort=0.05)
    monkeypatch.setattr(room_question, "plan_room", fewer_courses)
    shutil.copytree(REPOSITORY / "content", tmp_path / "content")
    if path in ("add animal", "add species"):
        shutil.rmtree(tmp_path / "content")
        assert sitegen(tmp_path, "sitegen start . --name M --species corn-snake --currency EUR").returncode == 0
    if path in ("add young", "set"):
        before = "sitegen add litter --dam juniper --sire flint --born 2026-07-18 --young 2"
        assert sitegen(tmp_path, before).returncode == 0
    if path == "add outcome":
        laid = "sitegen add litter --dam juniper --sire flint --laid 2026-05-20 --eggs 14"
        assert sitegen(tmp_path, laid).returncode == 0
    if path == "add photo":
        (tmp_path / "holiday").mkdir()
        shutil.copy(REPOSITORY / "content" / "animals" / "basalt" / "IMG_0412.jpg", tmp_path / "holiday")
    done = sitegen(tmp_path, example)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize(("command", "page"), [("preview", "animals/juniper.html"), ("desk", "animals/juniper")])
def test_the_example_of_what_serves_pages_serves_them(trial: Path, command: str, page: str) -> None:
    """It stays until it is ended, so it is followed to its first answer."""
    found = program.get_command(click.Context(program), command)
    assert found is not None
    assert found.epilog is not None
    words = shlex.split(found.epilog.partition("  ")[2])
    assert words[:2] == ["sitegen", command]
    words[words.index("--port") + 1] = "0"
    with subprocess.Popen(
        [*SITEGEN, *words[1:]], cwd=trial, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as process:
        assert process.stdout is not None
        told = process.stdout.readline().decode()
        try:
            address = re.search(r"http://127\.0\.0\.1:\d+/", told)
            assert address is not None, told
            for _ in range(100):
                try:
                    with urllib.request.urlopen(address[0] + page, timeout=60) as answer:
                        body = answer.read().decode()
                    break
                except OSError:
                    time.sleep(0.2)
            assert "Juniper" in body
        finally:
            process.send_signal(signal.SIGINT)
            try:
                assert process.wait(timeout=60) == 0
            finally:
                process.kill()


def completed(folder: Path, line: str) -> list[str]:
    """What is offered for the last word of a line, by the protocol that all three kinds of terminal use."""
    asked = {"_SITEGEN_COMPLETE": "bash_complete", "COMP_WORDS": line, "COMP_CWORD": str(len(line.split(" ")) - 1)}
    with mock.patch.dict(os.environ, asked):
        done = run(folder)
    assert done.stderr == ""
    return [word.partition(",")[2] for word in done.stdout.split()]


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("sitegen pre", ["preview"]),
        ("sitegen add we", ["weight"]),
        ("sitegen check --js", ["--json"]),
    ],
)
def test_the_terminal_completes_commands_and_options(line: str, offered: list[str], tmp_path: Path) -> None:
    assert completed(tmp_path, line) == offered


SHELLS = {
    "bash": ("~/.bashrc", "bash_source"),
    "zsh": ("~/.zshrc", "zsh_source"),
    "fish": ("~/.config/fish/completions/sitegen.fish", "fish_source"),
}


@pytest.mark.parametrize("shell", SHELLS)
def test_the_line_of_the_guide_sets_completion_up(shell: str, tmp_path: Path) -> None:
    """The line stands in the guide with its file; the shell itself, where it is installed, takes it without a word."""
    file, instruction = SHELLS[shell]
    line = next(line for line in ADDING.splitlines() if f"_SITEGEN_COMPLETE={instruction}" in line)
    assert file in ADDING
    (tmp_path / "sitegen").write_text(
        f"#!{sys.executable}\nimport sys\nsys.argv[0] = 'sitegen'\nfrom sitegen.app.commands import main\nmain()\n"
    )
    (tmp_path / "sitegen").chmod(0o755)
    environment = {**os.environ, "PATH": f"{tmp_path}:{os.environ['PATH']}"}
    script = subprocess.run(
        ["sitegen"], env={**environment, "_SITEGEN_COMPLETE": instruction}, capture_output=True, text=True, timeout=60,
        check=False, executable=str(tmp_path / "sitegen"),
    )  # fmt: skip
    assert "sitegen" in script.stdout
    if shutil.which(shell) is None:
        return
    asking = {
        "bash": 'COMP_WORDS=(sitegen add we); COMP_CWORD=2; _sitegen_completion sitegen; echo "${COMPREPLY[@]}"',
        "zsh": "print ${_comps[sitegen]}",
        "fish": "complete -C 'sitegen add we'",
    }[shell]
    before = "autoload -Uz compinit && compinit -D\n" if shell == "zsh" else ""
    done = subprocess.run(
        [shell, "-c", f"{before}{line}\n{asking}"], env=environment, cwd=tmp_path, capture_output=True, text=True,
        timeout=60, check=False,
    )  # fmt: skip
    assert done.stderr == ""
    assert {"bash": "weight", "zsh": "_sitegen_completion", "fish": "weight"}[shell] in done.stdout


def test_every_command_has_an_example() -> None:
    """Each that is no mere group, so that --help never leaves one without a line to begin with."""
    for path, each in commands():
        assert each.epilog, path
        assert f"  sitegen {path} " in f"{each.epilog} ", path
