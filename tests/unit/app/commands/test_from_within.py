"""Commands find the collection that holds the folder they are run in, and no other."""

import os
import shutil
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SMALL, run


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    write_files(tmp_path / "mine" / "content", SMALL)
    (tmp_path / "mine" / "themes").mkdir()
    return tmp_path / "mine"


@pytest.mark.parametrize("inside", ["content", "content/animals/dam", "themes"])
def test_the_collection_is_found_from_any_folder_inside_it(mine: Path, inside: str) -> None:
    done = run(mine / inside, "build")
    assert done.returncode == 0, done.stderr
    assert f"The collection in {mine} is meant." in done.stderr
    assert (mine / "output" / "index.html").is_file()
    assert not (mine / inside / "output").exists()


def test_a_record_is_added_from_within_the_collection_it_belongs_to(mine: Path) -> None:
    done = run(mine / "content" / "animals" / "dam", "add", "weight", "dam", "402 g", "--on", "2026-05-03")
    assert done.returncode == 0, done.stderr
    assert f"The collection in {mine} is meant." in done.stderr
    assert "402 g" in (mine / "content/animals/dam/animal.yaml").read_text()
    assert run(mine / "themes", "schema", "animal").returncode == 0


def test_in_its_own_folder_nothing_is_said(mine: Path) -> None:
    assert "is meant" not in run(mine, "check").stderr


def test_what_is_said_wins_and_is_meant_from_the_current_folder(mine: Path) -> None:
    write_files(mine / "themes" / "other", SMALL)
    done = run(mine / "themes", "build", "--content", "other")
    assert done.returncode == 0, done.stderr
    assert (mine / "themes" / "output").is_dir()
    done = run(mine / "content", "build", "--output", "../site")
    assert (mine / "site" / "index.html").is_file(), done.stderr


def test_outside_of_any_collection_the_message_is_as_ever(tmp_path: Path) -> None:
    done = run(tmp_path, "check")
    assert done.returncode == 1
    assert "there is no content folder here: content" in done.stdout


def test_a_folder_with_a_content_of_its_own_is_not_passed_over(mine: Path) -> None:
    """Somebody's unfinished collection inside another one is the one that is meant."""
    (mine / "theirs" / "content" / "animals").mkdir(parents=True)
    shutil.copytree(mine / "content" / "species", mine / "theirs" / "content" / "species")
    done = run(mine / "theirs", "check")
    assert "is meant" not in done.stderr


@pytest.mark.skipif(os.getuid() != 0, reason="only root can give a folder to somebody else")
def test_a_collection_above_the_folder_of_another_user_is_not_meant(mine: Path) -> None:
    inner = mine / "shared" / "work"
    inner.mkdir(parents=True)
    os.chown(mine / "shared", 65534, 65534)
    done = run(inner, "check")
    assert done.returncode == 1
    assert "there is no content folder here" in done.stdout


@pytest.mark.skipif(os.getuid() != 0, reason="only root can give a folder to somebody else")
def test_a_collection_that_another_user_laid_above_is_not_meant(mine: Path) -> None:
    inner = mine / "work"
    inner.mkdir()
    os.chown(mine, 65534, 65534)
    assert "there is no content folder here" in run(inner, "check").stdout
