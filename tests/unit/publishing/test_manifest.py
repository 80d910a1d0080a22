import hashlib
import os
from collections.abc import Mapping
from pathlib import Path

import pytest

from sitegen.findings import OutputRefused
from sitegen.publishing import manifest


def digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def digests_of(folder: Path, states: Mapping[str, os.stat_result]) -> dict[str, str]:
    assert all(state.st_ino == (folder / name).stat().st_ino for name, state in states.items())
    return {name: digest((folder / name).read_bytes()) for name in states}


@pytest.mark.parametrize(
    "name",
    [
        "",
        "/etc/passwd",
        "../up.html",
        "a/../../up.html",
        "a//b",
        "./a",
        "a/",
        "a\\b",
        "a\nb",
        "a\0b",
        "x" * 256,
        manifest.NAME,
        ".gitignore",
    ],
)
def test_names_that_leave_or_confuse_the_folder_are_refused(name: str) -> None:
    assert not manifest.is_sound(name)
    with pytest.raises(OutputRefused, match="cannot stand"):
        manifest.check_names([name, "index.html"])


def test_ordinary_names_pass_and_dot_names_that_hosts_ask_for() -> None:
    manifest.check_names(["index.html", "animals/juniper/index.html", ".nojekyll", ".well-known/x", "a..b"])


def test_a_name_cannot_be_file_and_folder_at_once() -> None:
    with pytest.raises(OutputRefused, match="both a file 'a'"):
        manifest.check_names(["a", "a/b/c"])


def test_what_is_written_is_read_and_is_the_same_in_any_order(tmp_path: Path) -> None:
    files = {"b.html": digest(b"b"), "a/ä.html": digest(b"a")}
    assert manifest.written(files) == manifest.written(dict(reversed(files.items())))
    (tmp_path / manifest.NAME).write_bytes(manifest.written(files))
    assert files == manifest.read(tmp_path)


@pytest.mark.parametrize(
    "content",
    [b"", b"{", b"[]", b'{"format": 1}', b'{"format": 1, "files": []}', b'{"format": 2, "files": {"a": "b"}}', b"\xff"],
)
def test_a_manifest_that_is_not_understood_lists_nothing(tmp_path: Path, content: bytes) -> None:
    (tmp_path / manifest.NAME).write_bytes(content)
    assert manifest.read(tmp_path) == {}


def test_a_manifest_edited_to_point_outside_lists_only_what_is_inside(tmp_path: Path) -> None:
    (tmp_path / manifest.NAME).write_text('{"format": 1, "files": {"../precious": "x", "a.html": "y"}}')
    assert manifest.read(tmp_path) == {"a.html": "y"}


def test_a_survey_finds_what_is_ours(tmp_path: Path) -> None:
    files = {"a/b.html": digest(b"page"), "gone.html": digest(b"gone"), "lost.html": digest(b"lost")}
    (tmp_path / manifest.NAME).write_bytes(manifest.written(files))
    (tmp_path / "a").mkdir()
    (tmp_path / "a/b.html").write_bytes(b"page")
    (tmp_path / "lost.html").write_bytes(b"")
    (tmp_path / ".gitignore").write_text("*")
    found = manifest.survey(tmp_path, digests_of)
    assert found.files == {"a/b.html": digest(b"page")}
    assert found.carried == (".gitignore",)
    assert list(found.states) == ["a/b.html"]


def test_an_unreadable_manifest_is_named_as_the_reason(tmp_path: Path) -> None:
    (tmp_path / manifest.NAME).write_text("{")
    (tmp_path / "index.html").write_text("page")
    with pytest.raises(OutputRefused, match="cannot be understood"):
        manifest.survey(tmp_path, digests_of)


def test_a_long_list_of_strangers_is_cut_and_counted(tmp_path: Path) -> None:
    for number in range(8):
        (tmp_path / f"{number}.txt").write_text("mine")
    with pytest.raises(OutputRefused, match="and 3 more"):
        manifest.survey(tmp_path, digests_of)
