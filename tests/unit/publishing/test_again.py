"""When a site need not be made again, and that any change of what it was made from is seen."""

import os
import time
from pathlib import Path

import pytest

from sitegen.findings import Finding, Kind, Level, OutputRefused, Place
from sitegen.publishing import again
from sitegen.publishing.again import built_before, keep, state_of
from sitegen.publishing.release import publish
from sitegen.store import sealed

FOUND = (
    Finding(Level.NOTICE, Kind.LINK_BROKEN, Place("pages/a.md", 3, 4), "a “link”", "x", "y", "z", 5, (Place("b"),)),
    Finding(Level.NOTICE, Kind.PHOTO_UNREADABLE, None, "no photo"),
)


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch) -> None:
    """The clock is well beyond the time of every file."""
    now = time.time_ns
    monkeypatch.setattr(again.time, "time_ns", lambda: now() + 10_000_000_000)


@pytest.fixture
def content(tmp_path: Path) -> Path:
    for name in ("site.yaml", "animals/a/animal.yaml", "animals/a/1.jpg"):
        path = tmp_path / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(name.encode())
    return tmp_path / "content"


@pytest.mark.usefixtures("later")
def test_the_same_site_is_found_again_with_all_that_was_told(content: Path) -> None:
    output = content.parent / "output"
    publish({"index.html": b"page"}, output)
    state = state_of([content], "2026-01-01")
    assert state
    assert state == state_of([content], "2026-01-01")
    assert built_before(state, output, [content]) is None
    keep(state, output, FOUND, {"pages": 1})
    found = built_before(state, output, [content])
    assert found is not None
    assert (found[1].findings, found[1].numbers, found[0].written, found[0].kept) == (FOUND, {"pages": 1}, 0, 1)


def test_what_was_changed_just_now_proves_nothing(content: Path) -> None:
    assert state_of([content]) == ""


def edit(path: Path) -> None:
    path.write_bytes(path.read_bytes().upper())


def edit_and_set_the_time_back(path: Path) -> None:
    state = path.stat()
    edit(path)
    os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))


def replace_by_a_link(path: Path) -> None:
    path.unlink()
    path.symlink_to("/dev/null")


@pytest.mark.usefixtures("later")
@pytest.mark.parametrize("change", [edit, edit_and_set_the_time_back, replace_by_a_link, Path.unlink])
@pytest.mark.parametrize("name", ["site.yaml", "animals/a/animal.yaml", "animals/a/1.jpg"])
def test_any_change_of_any_file_is_seen(content: Path, change: object, name: str) -> None:
    before = state_of([content])
    assert callable(change)
    change(content / name)
    assert state_of([content]) not in ("", before)


@pytest.mark.usefixtures("later")
def test_new_files_folders_and_another_question_are_seen(content: Path) -> None:
    states = [state_of([content]), state_of([content], "2026-01-02"), state_of([content, content / "animals"])]
    (content / "litters").mkdir()
    states.append(state_of([content]))
    (content / "litters" / "x").write_bytes(b"")
    states.append(state_of([content]))
    assert len(set(states)) == 5


@pytest.mark.usefixtures("later")
def test_a_site_that_does_not_stand_as_it_was_made_is_made_again(content: Path) -> None:
    output, state = content.parent / "output", "f" * 64
    publish({"index.html": b"page", "a/b.html": b"b"}, output)
    keep(state, output, (), {})
    assert built_before(state, output, [])
    (output / "a" / "b.html").unlink()
    assert built_before(state, output, []) is None
    (output / "a" / "b.html").write_bytes(b"mine")
    with pytest.raises(OutputRefused, match=r"a/b\.html"):
        built_before(state, output, [])


@pytest.mark.parametrize("memory", [b"", b"[]", b"{}", b"\xff", b'{"state": "s", "findings": [{}], "numbers": {}}'])
@pytest.mark.parametrize("whole", [True, False])
def test_a_memory_that_is_not_understood_is_no_memory(tmp_path: Path, memory: bytes, whole: bool) -> None:
    publish({"index.html": b"page"}, tmp_path / "output")
    (tmp_path / ".sitegen/release-output/built.json").write_bytes(sealed(memory) if whole else memory)
    assert built_before("s", tmp_path / "output", []) is None


def test_an_empty_state_forgets_what_was_kept(tmp_path: Path) -> None:
    output = tmp_path / "output"
    publish({"index.html": b"page"}, output)
    keep("s", output, (), {})
    keep("", output, (), {})
    assert built_before("s", output, []) is None
