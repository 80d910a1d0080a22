"""The first steps of the README, done as they are written there, and the examples of every --help."""

import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from sitegen.commands import _COMMANDS, _sitegen

REPOSITORY = Path(__file__).parent.parent.parent
README = (REPOSITORY / "README.md").read_text(encoding="utf-8")


def commands_of(section: str) -> list[str]:
    """The lines in the boxes of a section that are marked to be run."""
    text = README.split(f"\n## {section}\n")[1].split("\n## ")[0]
    return [line for box in re.findall(r"```sh\n(.*?)```", text, re.DOTALL) for line in box.splitlines() if line]


def sitegen(folder: Path, line: str) -> subprocess.CompletedProcess[str]:
    words = shlex.split(line)
    assert words[0] == "sitegen"
    return subprocess.run(
        [sys.executable, "-m", "sitegen", *words[1:]], cwd=folder, capture_output=True, text=True, timeout=120,
        stdin=subprocess.DEVNULL, check=False,
    )  # fmt: skip


def test_the_first_steps_lead_to_a_site(tmp_path: Path) -> None:
    folder, lines = tmp_path, commands_of("First steps")
    assert len(lines) >= 15
    for line in lines:
        if line.startswith("cd "):
            folder = folder / line.removeprefix("cd ")
            continue
        done = sitegen(folder, line)
        assert done.returncode == 0, f"{line}\n{done.stdout}{done.stderr}"
        assert "error" not in done.stderr, line
    pages = {path.relative_to(folder / "output").as_posix(): path for path in (folder / "output").rglob("*.html")}
    for address in ("animals/juniper.html", "animals/flint.html", "animals/fennel.html"):
        assert address in pages
    available = pages["available.html"].read_text(encoding="utf-8")
    assert "Fennel" in available
    young = next(path for address, path in pages.items() if "2026-juniper-flint" in address and "01" in address)
    assert "https://schema.org/SoldOut" in young.read_text(encoding="utf-8")


def examples() -> Iterator[tuple[str, str]]:
    def below(path: str, found: click.Command) -> Iterator[tuple[str, str]]:
        if found.epilog and found.epilog.startswith("Example:"):
            yield path, found.epilog.removeprefix("Example:").strip()
        for name, each in found.commands.items() if isinstance(found, click.Group) else ():
            yield from below(f"{path} {name}", each)

    for name in _COMMANDS:
        found = _sitegen.get_command(click.Context(_sitegen), name)
        assert found is not None
        yield from below(name, found)


def test_every_command_of_the_first_steps_has_an_example() -> None:
    kinds = ("animal", "litter", "young", "weight", "meal", "photo", "update", "species")
    wanted = {"start", "set", "schema", "build", "check", "odds", "why", *(f"add {kind}" for kind in kinds)}
    assert wanted <= {path for path, _ in examples()}


@pytest.mark.parametrize(("path", "example"), list(examples()))
def test_the_example_of_a_help_text_runs(path: str, example: str, tmp_path: Path) -> None:
    shutil.copytree(REPOSITORY / "content", tmp_path / "content")
    if path in ("add animal", "add species"):
        shutil.rmtree(tmp_path / "content")
        assert sitegen(tmp_path, "sitegen start . --name M --species corn-snake --currency EUR").returncode == 0
    if path in ("add young", "set"):
        before = "sitegen add litter --dam juniper --sire flint --born 2026-07-18 --young 2"
        assert sitegen(tmp_path, before).returncode == 0
    if path == "add photo":
        (tmp_path / "holiday").mkdir()
        shutil.copy(REPOSITORY / "content" / "animals" / "basalt" / "IMG_0412.jpg", tmp_path / "holiday")
    done = sitegen(tmp_path, example)
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_terminal_completes_commands_and_options() -> None:
    asked = {"_SITEGEN_COMPLETE": "bash_complete", "COMP_WORDS": "sitegen add we", "COMP_CWORD": "2"}
    done = subprocess.run(
        [sys.executable, "-c", "import sys; sys.argv[0] = 'sitegen'; from sitegen.commands import main; main()"],
        env={**os.environ, **asked}, capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.stdout.split() == ["plain,weight"]
