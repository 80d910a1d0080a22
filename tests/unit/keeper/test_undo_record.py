"""Every change is noted before it is written, for the user alone; what is to be dropped is told before."""

import datetime as dt
import os
import stat
from pathlib import Path

import pytest

from sitegen.content.writing import FileChange, NotWritten
from sitegen.keeper import undo_record
from sitegen.keeper.records import Proposal
from sitegen.keeper.undo_record import changes_of, forget, put_in_place

NOON = dt.datetime(2026, 11, 29, 12, tzinfo=dt.UTC)
RECORD = "animals/a/animal.yaml"


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SITEGEN_UNDO", str(tmp_path / "undo"))
    (tmp_path / "content").mkdir()
    return tmp_path / "content"


def change(before: bytes | None, after: bytes | None, told: str = "told", path: str = RECORD) -> Proposal:
    return Proposal((FileChange(path, before, after),), told)


def kept(root: Path) -> list[Path]:
    return [path for path in root.parent.joinpath("undo").rglob("*") if path.is_file()]


def test_a_change_is_kept_with_its_bytes_before_and_after(root: Path) -> None:
    odd = b"\xef\xbb\xbfname: \xff\r\n"
    assert put_in_place(root, change(None, odd, "first"), NOON).number == 1
    assert put_in_place(root, change(odd, b"name: A\n", "second"), NOON).number == 2
    second, first = changes_of(root)
    assert (first.told, second.told, second.at) == ("first", "second", NOON)
    (file,) = second.files
    assert second.kept(file, file.before) == odd
    assert second.kept(file, file.after) == b"name: A\n"
    assert first.files[0].before is None


def test_nobody_else_may_read_it(root: Path) -> None:
    put_in_place(root, change(None, b"private: x\n"), NOON)
    photo = FileChange("animals/a/2026-01-01.jpg", None, b"jpeg")
    put_in_place(root, Proposal((photo,), ""), NOON)
    for path in (root.parent / "undo").rglob("*"):
        assert stat.S_IMODE(path.stat().st_mode) == (0o700 if path.is_dir() else 0o600), path
    assert stat.S_IMODE((root.parent / "undo").stat().st_mode) == 0o700


def test_a_photograph_that_is_added_is_not_kept_twice_and_one_that_goes_is(root: Path) -> None:
    photo = os.urandom(50_000)
    path = "animals/a/2026-01-01.jpg"
    put_in_place(root, change(None, photo, path=path), NOON)
    assert sum(each.stat().st_size for each in kept(root)) < 2_000
    put_in_place(root, change(photo, None, path=path), NOON)
    latest = next(changes_of(root))
    assert latest.kept(latest.files[0], latest.files[0].before) == photo


def test_a_change_that_somebody_else_forestalled_leaves_no_note(root: Path) -> None:
    put_in_place(root, change(None, b"a\n"), NOON)
    with pytest.raises(NotWritten, match="changed by another program"):
        put_in_place(root, change(b"b\n", b"c\n"), NOON)
    assert [each.number for each in changes_of(root)] == [1]


def test_a_note_whose_change_was_never_written_counts_for_nothing(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    put_in_place(root, change(None, b"a\n"), NOON)

    def killed(*_: object) -> None:
        os._exit(9)

    if not (child := os.fork()):
        monkeypatch.setattr(undo_record, "write", killed)
        put_in_place(root, change(b"a\n", b"b\n", "never"), NOON)
    os.waitpid(child, 0)
    assert len(kept(root)) == 2
    assert [each.told for each in changes_of(root)] == ["told"]
    assert put_in_place(root, change(b"a\n", b"c\n"), NOON).number == 2


def test_a_change_that_was_written_in_part_is_kept(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    both = Proposal((FileChange(RECORD, None, b"a\n"), FileChange("animals/b/animal.yaml", None, b"b\n")), "two")
    (root / "animals").mkdir()
    (root / "animals" / "b").symlink_to(root)
    with pytest.raises(NotWritten):
        put_in_place(root, both, NOON)
    assert list(changes_of(root)) == []
    write = undo_record.write

    def first_alone(root: Path, files: tuple[FileChange, ...]) -> None:
        write(root, files[:1])
        raise NotWritten("the disk is full")

    monkeypatch.setattr(undo_record, "write", first_alone)
    with pytest.raises(NotWritten):
        put_in_place(root, both, NOON)
    assert [each.told for each in changes_of(root)] == ["two"]


def test_without_room_for_the_note_nothing_is_written(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (root.parent / "file").write_text("")
    monkeypatch.setenv("SITEGEN_UNDO", str(root.parent / "file"))
    with pytest.raises(NotWritten, match="without an undo record nothing is changed"):
        put_in_place(root, change(None, b"a\n"), NOON)
    assert not (root / RECORD).exists()


def days(root: Path, *days: int) -> list[str]:
    """What is told with changes after so many days."""
    told = []
    for day in days:
        before = (root / RECORD).read_bytes() if (root / RECORD).exists() else None
        done = put_in_place(root, change(before, f"{day}\n".encode()), NOON + dt.timedelta(days=day))
        told.append(done.notice)
    return told


def test_after_a_year_it_is_told_a_week_before_anything_is_dropped(root: Path) -> None:
    told = days(root, 0, 20, 100, 365)
    assert told == [""] * 4
    (notice,) = days(root, 366)
    assert "Changes of 2026-12-19 and before can be taken back until 2027-12-07" in notice
    assert days(root, 367, 373) == ["", ""]
    assert len(list(changes_of(root))) == 7
    assert days(root, 374) == [""]
    assert [each.number for each in changes_of(root)] == [8, 7, 6, 5, 4, 3]


@pytest.mark.parametrize(("bound", "path"), [("TEXT_BYTES", RECORD), ("PHOTO_BYTES", "animals/a/2026-01-01.jpg")])
def test_what_grows_too_large_is_told_before_it_is_dropped(
    root: Path, monkeypatch: pytest.MonkeyPatch, bound: str, path: str
) -> None:
    monkeypatch.setattr(undo_record, bound, 100_000)
    before, notices = None, []
    for _ in range(9 if bound == "TEXT_BYTES" else 15):  # a text is kept before and after, a photograph before alone
        after = os.urandom(8_000)
        notices.append(put_in_place(root, change(before, after, path=path), NOON).notice)
        before = after
    assert [bool(notice) for notice in notices] == [number == 6 for number in range(9)] or bound == "PHOTO_BYTES"
    assert sum(map(bool, notices)) == 1
    full = sum(each.stat().st_size for each in kept(root))
    assert full > 100_000
    assert put_in_place(root, change(before, b"end", path=path), NOON + dt.timedelta(days=8)).notice
    assert sum(each.stat().st_size for each in kept(root)) < full


def test_the_latest_change_is_never_dropped(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(undo_record, "TEXT_BYTES", 10)
    days(root, 0, 1, 20, 40, 60)
    assert next(each.number for each in changes_of(root)) == 5


def test_forgetting_leaves_nothing_of_it(root: Path) -> None:
    put_in_place(root, change(None, b"private: Alice\n"), NOON)
    assert forget(root) == (1, "2026-11-29")
    assert kept(root) == []
    assert list(changes_of(root)) == []
    assert forget(root.parent) == (0, "")


def test_two_collections_know_nothing_of_each_other(root: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    put_in_place(root, change(None, b"a\n"), NOON)
    put_in_place(other, change(None, b"b\n"), NOON)
    assert forget(other) == (1, "2026-11-29")
    (tmp_path / "link").symlink_to(root)
    assert len(list(changes_of(tmp_path / "link"))) == 1


def test_a_note_that_is_spoilt_is_told_with_its_file(root: Path) -> None:
    put_in_place(root, change(None, b"a\n"), NOON)
    (note,) = kept(root)
    note.write_bytes(b"no zip")
    with pytest.raises(NotWritten, match=r"00000001-2026-11-29-\d+\.zip.*not whole"):
        list(changes_of(root))
    with pytest.raises(NotWritten, match="move it away"):
        put_in_place(root, change(b"a\n", b"b\n"), NOON)
    assert (root / RECORD).read_bytes() == b"a\n"
    assert forget(root)[0] == 1
    assert put_in_place(root, change(b"a\n", b"b\n"), NOON).number == 1


def test_an_empty_change_is_none(root: Path) -> None:
    assert put_in_place(root, Proposal((), "that stands there already"), NOON).number == 0
    assert kept(root) == []


def test_a_collection_that_is_out_of_reach_for_a_while_loses_nothing(root: Path) -> None:
    """A note is dropped when its change was never written; where there is no collection at all, nobody can tell."""
    put_in_place(root, change(None, b"a\n"), NOON)
    root.rename(root.parent / "away")
    assert [each.number for each in changes_of(root)] == [1]
    (root.parent / "away").rename(root)
    assert [each.number for each in changes_of(root)] == [1]


def test_a_change_that_was_written_is_never_told_as_refused(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> str:
        raise OSError("the disk is full")

    monkeypatch.setattr(undo_record, "_make_room", full)
    assert put_in_place(root, change(None, b"a\n"), NOON).number == 1
    assert (root / RECORD).read_bytes() == b"a\n"
