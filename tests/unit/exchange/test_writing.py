import errno
import os
from pathlib import Path

import pytest

from sitegen.exchange.writing import FileThere, write_new
from sitegen.findings import SitegenError


def test_a_file_appears_whole_in_a_folder_that_is_made(tmp_path: Path) -> None:
    write_new(tmp_path / "a/b/c.yaml", b"x")
    assert (tmp_path / "a/b/c.yaml").read_bytes() == b"x"
    assert ["c.yaml"] == [path.name for path in (tmp_path / "a/b").iterdir()]


@pytest.mark.parametrize("links", [True, False])
def test_a_file_that_is_there_is_never_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool
) -> None:
    def refuse(source: str, target: Path) -> None:
        raise OSError(errno.EPERM, "no links here")

    if not links:
        monkeypatch.setattr(os, "link", refuse)
    write_new(tmp_path / "a", b"new")
    for _ in range(2):
        with pytest.raises(FileThere):
            write_new(tmp_path / "a", b"newer")
        assert (tmp_path / "a").read_bytes() == b"new"
    write_new(tmp_path / "a", b"newest", replace=True)
    assert ["a"] == [path.name for path in tmp_path.iterdir()]
    assert (tmp_path / "a").read_bytes() == b"newest"


def test_a_file_that_appears_while_another_is_written_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.fdopen

    def slow(handle: int, mode: str) -> object:
        (tmp_path / "a").write_bytes(b"mine")
        return real(handle, mode)

    monkeypatch.setattr(os, "fdopen", slow)
    with pytest.raises(FileThere):
        write_new(tmp_path / "a", b"new")
    assert (tmp_path / "a").read_bytes() == b"mine"
    assert ["a"] == [path.name for path in tmp_path.iterdir()]


def test_a_stop_half_way_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a").write_bytes(b"old")

    def stop(source: str, target: Path) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", stop)
    with pytest.raises(KeyboardInterrupt):
        write_new(tmp_path / "a", b"new", replace=True)
    assert (tmp_path / "a").read_bytes() == b"old"
    assert ["a"] == [path.name for path in tmp_path.iterdir()]


def test_what_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(SitegenError, match="cannot be written"):
        write_new(tmp_path / "file/a", b"x")
