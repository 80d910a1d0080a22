import hashlib
import os
import time
from pathlib import Path

import pytest

from sitegen.findings import OutputRefused
from sitegen.publishing import seen as seen_module
from sitegen.publishing.release import publish
from sitegen.publishing.seen import Seen
from sitegen.store import sealed


@pytest.fixture
def reads(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the files that were read to be hashed."""
    names: list[str] = []
    ordinary = seen_module.digest_of_file

    def watched(path: Path) -> str:
        names.append(path.name)
        return ordinary(path)

    monkeypatch.setattr(seen_module, "digest_of_file", watched)
    return names


def old_file(path: Path, content: bytes) -> Path:
    path.write_bytes(content)
    os.utime(path, ns=(0, time.time_ns() - 10_000_000_000))
    return path


def test_a_file_not_touched_since_is_not_read_again(tmp_path: Path, reads: list[str]) -> None:
    files = [old_file(tmp_path / name, name.encode()) for name in ("a", "b")]
    expected = [hashlib.sha256(name).hexdigest() for name in (b"a", b"b", b"c")]
    for _ in range(2):
        seen = Seen(tmp_path / "seen.json")
        assert seen.digests([*files, b"c"]) == expected
        seen.keep()
    assert sorted(reads) == ["a", "b"]


def test_a_file_written_just_now_is_read_the_next_time(tmp_path: Path, reads: list[str]) -> None:
    (tmp_path / "a").write_bytes(b"a")
    for _ in range(2):
        seen = Seen(tmp_path / "seen.json")
        seen.digests([tmp_path / "a"])
        seen.keep()
    assert reads == ["a", "a"]


@pytest.mark.parametrize("change", ["content", "size", "another file"])
def test_a_file_that_was_changed_is_read_again(change: str, tmp_path: Path, reads: list[str]) -> None:
    path = old_file(tmp_path / "a", b"one")
    seen = Seen(tmp_path / "seen.json")
    seen.digests([path])
    seen.keep()
    state = path.stat()
    if change == "content":
        path.write_bytes(b"two")
    elif change == "size":
        path.write_bytes(b"three")
        os.utime(path, ns=(0, state.st_mtime_ns))
    else:
        (tmp_path / "b").write_bytes(b"two")
        os.utime(tmp_path / "b", ns=(0, state.st_mtime_ns))
        (tmp_path / "b").replace(path)
    expected = hashlib.sha256(path.read_bytes()).hexdigest()
    assert Seen(tmp_path / "seen.json").digests([path]) == [expected]
    assert reads == ["a", "a"]


@pytest.mark.parametrize("memory", [b"", b"{", b"[]", b'{"/x": 3}', b"\xff", *map(sealed, (b"{", b"[]", b'{"/x": 3}'))])
def test_a_memory_that_is_not_understood_is_no_memory(memory: bytes, tmp_path: Path) -> None:
    (tmp_path / "seen.json").write_bytes(memory)
    path = old_file(tmp_path / "a", b"a")
    assert Seen(tmp_path / "seen.json").digests([path]) == [hashlib.sha256(b"a").hexdigest()]


def test_a_release_reads_old_files_once_and_still_sees_a_change_by_hand(tmp_path: Path, reads: list[str]) -> None:
    output = tmp_path / "output"
    picture = old_file(tmp_path / "picture", b"picture")
    files: dict[str, bytes | Path] = {"index.html": b"page", "p.jpg": picture}
    publish(files, output)
    for name in files:
        os.utime(output / name, ns=(0, time.time_ns() - 10_000_000_000))
    publish(files, output)
    assert sorted(reads) == ["index.html", "p.jpg", "picture"]
    publish({**files, "new.html": b"new"}, output)
    publish(files, output)
    assert sorted(reads) == ["index.html", "p.jpg", "picture"]  # what the release itself wrote it need not read
    (output / "p.jpg").write_bytes(b"by hand")
    with pytest.raises(OutputRefused, match=r"p\.jpg"):
        publish(files, output)
