"""The wheel carries the themes and works where there is no checkout."""

import os
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest
from helpers.from_text import write_files
from packaging.requirements import InvalidRequirement, Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

REPOSITORY = Path(__file__).parent.parent.parent

SUFFIXES = {
    "",
    ".py",
    ".typed",
    ".html",
    ".css",
    ".js",
    ".svg",
    ".woff2",
    ".txt",
    ".toml",
    ".md",
    ".yaml",
    ".json",
    ".po",
    ".mo",
}

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
    theme = REPOSITORY / "themes" / "specimen-sheet"
    for path in theme.rglob("*"):
        if path.is_file():
            assert f"sitegen/_themes/specimen-sheet/{path.relative_to(theme).as_posix()}" in names
    assert "sitegen/py.typed" in names
    assert {name.partition("/")[0] for name in names} == {"sitegen", wheel.name.rpartition("-py3")[0] + ".dist-info"}


def test_nothing_of_the_workshop_is_in_the_wheel(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        for name in archive.namelist():
            path = Path(name)
            assert not any(part.startswith(".") or part == "__pycache__" for part in path.parts), name
            assert path.suffix in SUFFIXES, name
            assert not path.name.startswith("test_"), name
            content = archive.read(name)
            assert str(REPOSITORY).encode() not in content, name
            assert len(content) < 400_000, name


def test_the_wheel_asks_for_the_libraries_of_the_project_file_and_no_more(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        (metadata,) = (name for name in archive.namelist() if name.endswith(".dist-info/METADATA"))
        asked = [line.partition(": ")[2] for line in archive.read(metadata).decode().splitlines()]
    project = tomllib.loads((REPOSITORY / "pyproject.toml").read_text("utf-8"))["project"]
    wanted = {canonicalize_name(Requirement(each).name) for each in project["dependencies"]}
    assert wanted == {canonicalize_name(Requirement(each).name) for each in asked if _is_plain(each)}


def _is_plain(line: str) -> bool:
    try:
        return bool(Requirement(line).specifier) and "extra ==" not in line
    except InvalidRequirement:
        return False


def test_every_library_is_bounded_and_held_for_the_checks() -> None:
    told = tomllib.loads((REPOSITORY / "pyproject.toml").read_text("utf-8"))
    held = {}
    for line in (REPOSITORY / ".ci" / "constraints.txt").read_text("utf-8").splitlines():
        if not line.startswith("#"):
            name, version = line.split("==")
            held[canonicalize_name(name)] = Version(version)
    extras = told["project"]["optional-dependencies"]
    everything = [*told["build-system"]["requires"], *told["project"]["dependencies"], *extras["test"]]
    for each in map(Requirement, everything):
        operators = {bound.operator for bound in each.specifier}
        assert operators == {">=", "<"}, f"{each} needs a lower and an upper bound"
        assert held[canonicalize_name(each.name)] in each.specifier, each
    assert "PIP_CONSTRAINT" in (REPOSITORY / ".ci" / "run").read_text("utf-8")


def test_the_wheel_builds_a_site_outside_the_checkout(wheel: Path, tmp_path: Path) -> None:
    zipfile.ZipFile(wheel).extractall(tmp_path / "installed")
    write_files(tmp_path / "home" / "content", ONE_ANIMAL)
    done = subprocess.run(
        [sys.executable, "-P", "-m", "sitegen", "build", "--date", "2026-11-29"],
        cwd=tmp_path / "home",
        env={"PATH": os.environ["PATH"], "PYTHONPATH": str(tmp_path / "installed")},
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    page = (tmp_path / "home/output/animals/juniper.html").read_text(encoding="utf-8")
    assert "amelanistic" in page
