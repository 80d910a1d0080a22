"""The wheel carries the themes and works where there is no checkout."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from written import write_files

REPOSITORY = Path(__file__).parent.parent.parent

ONE_ANIMAL = """
=== site.yaml
name: One
=== species/corn-snake.yaml
name: corn snake
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
shows: [amel]
"""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=REPOSITORY, capture_output=True, check=True, timeout=120,
    )  # fmt: skip
    (made,) = folder.glob("*.whl")
    return made


def test_the_wheel_holds_the_program_and_its_themes_and_nothing_else(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    theme = REPOSITORY / "themes" / "field-notes"
    for path in theme.rglob("*"):
        if path.is_file():
            assert f"sitegen/_themes/field-notes/{path.relative_to(theme).as_posix()}" in names
    assert "sitegen/py.typed" in names
    assert {name.partition("/")[0] for name in names} == {"sitegen", wheel.name.rpartition("-py3")[0] + ".dist-info"}


def test_the_wheel_builds_a_site_outside_the_checkout(wheel: Path, tmp_path: Path) -> None:
    zipfile.ZipFile(wheel).extractall(tmp_path / "installed")
    write_files(tmp_path / "home" / "content", ONE_ANIMAL)
    done = subprocess.run(
        [sys.executable, "-P", "-m", "sitegen", "build"],
        cwd=tmp_path / "home",
        env={"PATH": os.environ["PATH"], "PYTHONPATH": str(tmp_path / "installed")},
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    page = (tmp_path / "home/output/animals/juniper.html").read_text(encoding="utf-8")
    assert "amelanistic" in page
