"""``.setup`` in a folder that was moved or copied, with installers that only note that they were asked."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).parent.parent.parent

# Stands for Python: makes a .venv of programs that write down what they are asked, each naming its folder by its path.
PYTHON = """#!/bin/sh
case "$*" in
"-m venv --clear .venv")
    rm -rf .venv && mkdir -p .venv/bin && echo made >>asked
    printf '#!/bin/sh\\ncase "$*" in *pip*) echo installed >>asked ;; esac\\n' >.venv/bin/python
    printf '#!%s/.venv/bin/inner\\n' "$PWD" >.venv/bin/sitegen
    ln -s /bin/true .venv/bin/inner
    chmod +x .venv/bin/python .venv/bin/sitegen ;;
esac
"""


@pytest.fixture
def program(tmp_path: Path) -> Path:
    folder = tmp_path / "program"
    folder.mkdir()
    for name in (".setup", "pyproject.toml"):
        shutil.copy(REPOSITORY / name, folder)
    (tmp_path / "python").write_text(PYTHON)
    (tmp_path / "python").chmod(0o755)
    return folder


def asked(folder: Path) -> tuple[list[str], str]:
    """What was asked of the installers by one run, and what was said."""
    (folder / "asked").unlink(missing_ok=True)
    done = subprocess.run(
        ["sh", ".setup", "demo"], cwd=folder, env={**os.environ, "PYTHON": str(folder.parent / "python")},
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found = folder / "asked"
    return found.read_text().split() if found.exists() else [], done.stderr


def test_an_environment_is_made_once(program: Path) -> None:
    assert asked(program)[0] == ["made", "installed"]
    assert asked(program)[0] == []


@pytest.mark.parametrize("how", [shutil.move, shutil.copytree])
def test_in_a_folder_that_was_moved_or_copied_it_is_made_anew(program: Path, how: object) -> None:
    asked(program)
    other = program.parent / "elsewhere"
    assert callable(how)
    how(program, other)
    done, told = asked(other)
    assert done == ["made", "installed"]
    assert "moved or copied" in told
    assert asked(other)[0] == []


def test_an_environment_that_does_not_run_any_more_is_made_anew(program: Path) -> None:
    """The Python that it was made with was replaced by another one."""
    asked(program)
    (program / ".venv" / "bin" / "inner").unlink()
    assert asked(program)[0] == ["made", "installed"]


def test_a_changed_list_of_libraries_is_installed_into_what_is_there(program: Path) -> None:
    asked(program)
    with (program / "pyproject.toml").open("a") as stream:
        stream.write("# changed\n")
    assert asked(program)[0] == ["installed"]
