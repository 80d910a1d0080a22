"""The old file or the new one, never half; nothing that somebody else wrote is lost."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sitegen.authoring.desk import Change, FileChange
from sitegen.authoring.writing import NotWritten, write

OLD, NEW = b"old\n" * 50_000, b"new\n" * 60_000


def change(before: bytes | None, after: bytes, path: str = "animals/a/animal.yaml") -> Change:
    return Change((FileChange(path, before, after),), "")


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
    both = Change((FileChange("animals/b/animal.yaml", None, NEW), FileChange("animals/a/animal.yaml", None, NEW)), "")
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


_ENDLESS = """
import sys
from pathlib import Path
from sitegen.authoring.desk import Change, FileChange
from sitegen.authoring.writing import write
root, old, new = Path(sys.argv[1]), b"old\\n" * 50_000, b"new\\n" * 60_000
print("ready", flush=True)
while True:
    for before, after in ((old, new), (new, old)):
        write(root, Change((FileChange("animals/a/animal.yaml", before, after),), ""))
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
