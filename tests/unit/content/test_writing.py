"""The old file or the new one, never half; nothing that somebody else wrote is lost."""

import errno
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sitegen.content import writing
from sitegen.content.writing import FileChange, NotWritten, write

OLD, NEW = b"old\n" * 50_000, b"new\n" * 60_000


def change(before: bytes | None, after: bytes, path: str = "animals/a/animal.yaml") -> list[FileChange]:
    return [FileChange(path, before, after)]


@pytest.fixture
def record(tmp_path: Path) -> Path:
    path = tmp_path / "animals" / "a" / "animal.yaml"
    path.parent.mkdir(parents=True)
    path.write_bytes(OLD)
    return path


def test_permissions_stay(record: Path, tmp_path: Path) -> None:
    record.chmod(0o640)
    write(tmp_path, change(OLD, NEW))
    assert record.read_bytes() == NEW
    assert record.stat().st_mode & 0o777 == 0o640
    assert [path.name for path in record.parent.iterdir()] == ["animal.yaml"]


def test_a_file_that_another_program_changed_meanwhile_is_not_written_over(record: Path, tmp_path: Path) -> None:
    record.write_bytes(b"theirs")
    with pytest.raises(NotWritten, match="changed by another program"):
        write(tmp_path, change(OLD, NEW))
    assert record.read_bytes() == b"theirs"


def test_a_new_file_never_takes_the_place_of_another(record: Path, tmp_path: Path) -> None:
    with pytest.raises(NotWritten, match="stands there already"):
        write(tmp_path, change(None, NEW))
    assert record.read_bytes() == OLD


def test_one_file_in_the_way_keeps_all_from_being_written(record: Path, tmp_path: Path) -> None:
    both = [FileChange("animals/b/animal.yaml", None, NEW), FileChange("animals/a/animal.yaml", None, NEW)]
    with pytest.raises(NotWritten):
        write(tmp_path, both)
    assert not (tmp_path / "animals" / "b").exists()


@pytest.mark.skipif(os.geteuid() == 0, reason="the administrator may write everywhere")
def test_a_folder_that_cannot_be_written_is_told(record: Path, tmp_path: Path) -> None:
    record.parent.chmod(0o500)
    try:
        with pytest.raises(NotWritten, match="nothing was changed"):
            write(tmp_path, change(OLD, NEW))
    finally:
        record.parent.chmod(0o700)
    assert record.read_bytes() == OLD


def test_a_new_file_appears_whole_in_a_folder_that_is_made(tmp_path: Path) -> None:
    write(tmp_path / "content", change(None, NEW))
    assert (tmp_path / "content/animals/a/animal.yaml").read_bytes() == NEW
    assert [path.name for path in (tmp_path / "content/animals/a").iterdir()] == ["animal.yaml"]


@pytest.mark.parametrize("links", [True, False])
def test_a_file_that_appears_while_another_is_written_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool
) -> None:
    """Also where the file system knows no hard links."""
    real, path = os.link, tmp_path / "animals/a/animal.yaml"

    def meanwhile(source: str, target: str, **folders: int) -> None:
        path.write_bytes(b"theirs")
        if not links:
            raise OSError(errno.EPERM, "no links here")
        real(source, target, **folders)

    monkeypatch.setattr(os, "link", meanwhile)
    with pytest.raises(NotWritten, match="stands there already"):
        write(tmp_path, change(None, NEW))
    assert path.read_bytes() == b"theirs"
    assert [each.name for each in path.parent.iterdir()] == ["animal.yaml"]


def test_without_hard_links_a_new_file_is_written_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(source: str, target: str, **folders: int) -> None:
        raise OSError(errno.EPERM, "no links here")

    monkeypatch.setattr(os, "link", refuse)
    write(tmp_path, change(None, NEW))
    assert (tmp_path / "animals/a/animal.yaml").read_bytes() == NEW


def test_a_stop_half_way_leaves_the_old_file(record: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(source: str, target: str, **folders: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", stop)
    with pytest.raises(KeyboardInterrupt):
        write(tmp_path, change(OLD, NEW))
    assert record.read_bytes() == OLD
    assert [path.name for path in record.parent.iterdir()] == ["animal.yaml"]


def test_what_the_system_refuses_is_told_with_what_was_written_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(NotWritten, match="file/a: Not a directory; nothing was changed"):
        write(tmp_path, [*change(None, NEW, "b"), *change(None, NEW, "file/a")])
    assert not (tmp_path / "b").exists()
    left, real = [1], os.fsync

    def full(handle: int) -> None:
        if not left:
            raise OSError(errno.ENOSPC, "No space left on device")
        left.pop()
        real(handle)

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(NotWritten, match="c: No space left on device; written before that: b"):
        write(tmp_path, [*change(None, NEW, "b"), *change(None, NEW, "c")])
    assert [path.name for path in tmp_path.iterdir() if path.name != "file"] == ["b"]


def test_nothing_is_read_or_written_through_a_link_on_the_way(tmp_path: Path) -> None:
    """A folder of the collection that leads elsewhere: what lies there stays as it is, and nothing is added to it."""
    away = tmp_path / "away"
    (away / "a").mkdir(parents=True)
    (away / "a" / "animal.yaml").write_bytes(OLD)
    root = tmp_path / "content"
    root.mkdir()
    (root / "animals").symlink_to(away)
    for before, path in ((OLD, "animals/a/animal.yaml"), (None, "animals/b/animal.yaml"), (None, "animals/c.yaml")):
        with pytest.raises(NotWritten, match=r"animals is a link to another place; .* nothing was changed"):
            write(root, change(before, NEW, path))
    (root / "animals").unlink()
    (root / "animals" / "a").mkdir(parents=True)
    (root / "animals" / "a" / "animal.yaml").symlink_to(away / "a" / "animal.yaml")
    for known in (OLD, None):
        with pytest.raises(NotWritten, match=r"animals/a/animal\.yaml is a link"):
            write(root, change(known, NEW))
    assert sorted(path.name for path in away.rglob("*")) == ["a", "animal.yaml"]
    assert (away / "a" / "animal.yaml").read_bytes() == OLD


def test_the_longest_name_that_a_system_takes_can_be_written(tmp_path: Path) -> None:
    for name in ("x" * 250, "\N{SNAKE}" * 60):
        write(tmp_path, change(None, NEW, name))
        assert (tmp_path / name).read_bytes() == NEW


def test_what_was_written_is_known_for_the_report_of_a_fault(tmp_path: Path) -> None:
    before = len(writing.written_so_far)
    write(tmp_path, change(None, NEW, "b"))
    assert writing.written_so_far[before:] == ["b"]


_ENDLESS = """
import sys
from pathlib import Path
from sitegen.content.writing import FileChange, write
root, old, new = Path(sys.argv[1]), b"old\\n" * 50_000, b"new\\n" * 60_000
print("ready", flush=True)
while True:
    for before, after in ((old, new), (new, old)):
        write(root, [FileChange("animals/a/animal.yaml", before, after)])
"""


def test_a_process_that_is_ended_at_any_moment_leaves_the_old_file_or_the_new_one(record: Path, tmp_path: Path) -> None:
    left_behind = 0
    for moment in range(12):
        record.write_bytes(OLD)
        process = subprocess.Popen([sys.executable, "-c", _ENDLESS, str(tmp_path)], stdout=subprocess.PIPE)
        assert process.stdout is not None
        process.stdout.readline()
        time.sleep(0.003 * moment)
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
        found = record.read_bytes()
        assert found in (OLD, NEW)
        left_behind += len(list(record.parent.iterdir())) - 1
        write(tmp_path, change(found, NEW))
        assert [path.name for path in record.parent.iterdir()] == ["animal.yaml"]
        assert record.read_bytes() == NEW
    assert left_behind <= 12  # at most the one file that was being written


_ENDED_AT = """
import os, signal, sys
from pathlib import Path
import sitegen.content.writing
from sitegen.content.writing import FileChange, write
root, moment, kind = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
left = [moment]
def counted(real):
    def call(*given, **more):
        for _ in (0, 1):  # before the call, and after it
            if left[0] == 0:
                os.kill(os.getpid(), signal.SIGKILL)
            left[0] -= 1
            found = real(*given, **more) if _ == 0 else found
        return found
    return call
for name in ("fsync", "replace", "link", "fchmod", "open", "unlink", "mkdir"):
    setattr(os, name, counted(getattr(os, name)))
old, new = b"old\\n" * 50_000, b"new\\n" * 60_000
path, before = ("animals/a/animal.yaml", old) if kind == "changed" else ("animals/b/animal.yaml", None)
write(root, [FileChange(path, before, new)])
print("done")
"""


@pytest.mark.parametrize("kind", ["changed", "new"])
def test_a_process_that_is_ended_before_or_after_any_step_of_writing_leaves_no_half_file_and_no_litter(
    kind: str, record: Path, tmp_path: Path
) -> None:
    path = record if kind == "changed" else tmp_path / "animals/b/animal.yaml"
    moments = 0
    for moment in range(60):
        record.write_bytes(OLD)
        if kind == "new" and path.exists():
            path.unlink()
        done = subprocess.run(
            [sys.executable, "-c", _ENDED_AT, str(tmp_path), str(moment), kind], capture_output=True, check=False
        )
        found = path.read_bytes() if path.exists() else None
        assert found in (OLD if kind == "changed" else None, NEW)
        if done.stdout:
            assert done.returncode == 0
            break
        assert done.returncode == -signal.SIGKILL, done.stderr
        moments += 1
        if path.parent.exists():
            assert len([each for each in path.parent.iterdir() if each != path]) <= 1  # the one that was being written
    else:
        pytest.fail("it was never let through")
    assert moments >= 8
    assert found == NEW
    assert [each.name for each in path.parent.iterdir()] == ["animal.yaml"]


def test_a_file_that_goes_away_takes_its_empty_folder_along(record: Path, tmp_path: Path) -> None:
    write(tmp_path, [FileChange("animals/a/animal.yaml", OLD, None)])
    assert [path.name for path in tmp_path.rglob("*")] == ["animals"]


def test_a_file_that_goes_away_leaves_what_stands_beside_it(record: Path, tmp_path: Path) -> None:
    (record.parent / "2026-01-01.jpg").write_bytes(b"jpeg")
    write(tmp_path, [FileChange("animals/a/animal.yaml", OLD, None)])
    assert [path.name for path in record.parent.iterdir()] == ["2026-01-01.jpg"]


def test_a_file_that_another_program_changed_meanwhile_does_not_go_away(record: Path, tmp_path: Path) -> None:
    record.write_bytes(b"theirs")
    with pytest.raises(NotWritten, match="changed by another program"):
        write(tmp_path, [FileChange("animals/a/animal.yaml", OLD, None)])
    assert record.read_bytes() == b"theirs"
