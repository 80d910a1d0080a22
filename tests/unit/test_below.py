"""What lies below a folder is opened without a link on the way, also one that was put there a moment ago."""

import os
import time
from contextlib import suppress
from pathlib import Path

import pytest

from sitegen import below
from sitegen.below import (
    FolderEntry,
    LeadsAway,
    NotOpened,
    TooLarge,
    entries_below,
    folder_below,
    read_below,
    read_named,
)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    folder = tmp_path / "root" / "a" / "b"
    folder.mkdir(parents=True)
    (folder / "file").write_bytes(b"inside")
    (tmp_path / "away").mkdir()
    (tmp_path / "away" / "file").write_bytes(b"outside")
    return tmp_path / "root"


def test_a_file_a_folder_and_what_it_holds(root: Path) -> None:
    assert read_below(root, "a/b/file", 6) == b"inside"
    (root / "link").symlink_to("/")
    assert sorted(entries_below(root), key=lambda entry: entry.name) == [
        FolderEntry("a", is_link=False, is_folder=True),
        FolderEntry("link", is_link=True, is_folder=False),
    ]
    assert entries_below(root, "a/b") == [FolderEntry("file", is_link=False, is_folder=False)]
    with pytest.raises(TooLarge) as told:
        read_below(root, "a/b/file", 5)
    assert told.value.size == 6


def test_the_root_and_what_the_user_named_may_lie_behind_links(root: Path) -> None:
    (root.parent / "link").symlink_to(root)
    (root.parent / "picture").symlink_to(root / "a/b/file")
    assert read_below(root.parent / "link", "a/b/file", 6) == b"inside"
    assert read_named(root.parent / "picture", 6) == b"inside"


@pytest.mark.parametrize("at", ["a", "a/b", "a/b/file"])
def test_a_link_at_any_level_is_refused_and_named(root: Path, at: str) -> None:
    aim = "../away" if at == "a" else root.parent / "away"
    (root / at).rename(root.parent / "moved")
    (root / at).symlink_to(aim if at != "a/b/file" else root.parent / "away" / "file")
    with pytest.raises(LeadsAway, match=f"^{at} is a link"):
        read_below(root, "a/b/file", 100)
    if at != "a/b/file":
        with pytest.raises(LeadsAway, match=f"^{at} is a link"):
            entries_below(root, "a/b")
        with pytest.raises(LeadsAway), folder_below(root, "a/b/c", make=True):
            pass
        assert [path.name for path in (root.parent / "away").iterdir()] == ["file"]


@pytest.mark.parametrize("path", ["../away/file", "a/../../away/file", "/etc/passwd", "a//b/file", "./a/b/file", ""])
def test_a_path_that_leads_upwards_or_begins_anew_is_refused(root: Path, path: str) -> None:
    with pytest.raises(LeadsAway):
        read_below(root, path, 10_000_000)


def test_a_link_that_is_put_in_place_between_two_steps_is_refused(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = below.open_at

    def opened(name: str, flags: int, folder: int, shown: str) -> int:
        if name == "file":  # the folder above it was opened and found sound a moment ago
            (root / "a").rename(root.parent / "moved")
            (root / "a").mkdir()
            (root / "a/b").symlink_to(root.parent / "away")
        return real(name, flags, folder, shown)

    monkeypatch.setattr(below, "open_at", opened)
    assert read_below(root, "a/b/file", 100) == b"inside"


def test_a_pipe_is_never_waited_for(root: Path) -> None:
    os.mkfifo(root / "pipe")
    os.mkfifo(root / "folder")
    began = time.monotonic()
    for read in (lambda: read_below(root, "pipe", 1), lambda: read_named(root / "pipe", 1)):
        with pytest.raises(NotOpened, match="a pipe or a device"):
            read()
    with pytest.raises(NotADirectoryError):
        read_below(root, "folder/file", 1)
    with pytest.raises(NotOpened, match="a folder"):
        read_below(root, "a", 1)
    assert time.monotonic() - began < 1


def test_no_handle_is_left_open(root: Path) -> None:
    before = len(os.listdir("/dev/fd"))
    for path in ("a/b/file", "a/c/file", "a", "../x"):
        with suppress(OSError):
            read_below(root, path, 100)
    assert len(os.listdir("/dev/fd")) == before
