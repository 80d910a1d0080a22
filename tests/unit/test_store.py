import os
import signal
import subprocess
import sys
import textwrap
import time
from pathlib import Path

import pytest

from sitegen.store import Store


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "kept")


def test_what_was_written_is_found_and_read(store: Store) -> None:
    assert store.find("pages", "abc.html") is None
    assert store.read("pages", "abc.html") is None
    path = store.write("pages", "abc.html", b"page")
    assert store.find("pages", "abc.html") == path
    assert store.read("pages", "abc.html") == b"page"
    assert store.find("pictures", "abc.html") is None


def test_an_empty_file_counts_as_not_there(store: Store) -> None:
    store.write("pages", "abc", b"page").write_bytes(b"")
    assert store.find("pages", "abc") is None
    assert store.read("pages", "abc") is None
    with pytest.raises(ValueError, match="empty"):
        store.write("pages", "abd", b"")


@pytest.mark.parametrize("key", ["", "ab", "../../etc", "a/b", "ABC", "abc\n", ".hidden", "a..b", "x" * 200])
def test_a_key_that_is_no_plain_name_is_our_mistake(store: Store, key: str) -> None:
    with pytest.raises(ValueError, match="not a key"):
        store.write("pages", key, b"x")
    with pytest.raises(ValueError, match="not a key"):
        store.find("../pages", "abc")


def test_the_folder_is_marked_as_a_cache_when_it_is_made(store: Store) -> None:
    store.write("pages", "abc", b"x")
    assert (store.folder / "CACHEDIR.TAG").read_text().startswith("Signature: 8a477f597d28d172789f06886806bc55")
    assert (store.folder / ".gitignore").read_text() == "*\n"


def test_a_folder_that_is_there_is_left_as_it_is(store: Store) -> None:
    store.folder.mkdir()
    store.write("pages", "abc", b"x")
    assert [path.name for path in store.folder.iterdir()] == ["pages"]


def test_pruning_removes_what_is_not_kept_and_nothing_else(store: Store) -> None:
    kept, gone = store.write("pages", "abc", b"x"), store.write("pages", "xyz", b"x")
    other_kind = store.write("pictures", "xyz", b"x")
    strangers = [store.folder / "notes.txt", store.folder / "pages" / "notes.txt", kept.parent / "zzz-mine"]
    for stranger in strangers:
        stranger.write_text("mine")
    assert store.prune("pages", ["abc"]) == 1
    assert kept.exists()
    assert not gone.exists()
    assert other_kind.exists()
    assert all(stranger.exists() for stranger in strangers)


def test_a_store_that_was_never_written_has_nothing_to_prune(store: Store) -> None:
    assert store.prune("pages", []) == 0


def test_a_killed_write_leaves_nothing_that_is_taken_and_is_pruned_later(store: Store) -> None:
    program = f"""
        import os, signal
        from pathlib import Path
        from sitegen.store import Store
        os.replace = lambda *names: os.kill(os.getpid(), signal.SIGKILL)
        Store(Path({str(store.folder)!r})).write("pages", "abc", b"half")
    """
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(program)], check=False, timeout=30)
    assert done.returncode == -signal.SIGKILL
    (aside,) = (store.folder / "pages" / "ab").iterdir()
    assert store.find("pages", "abc") is None
    assert store.prune("pages", []) == 0, "it could still be at work"
    long_ago = time.time() - 7200
    os.utime(aside, (long_ago, long_ago))
    assert store.prune("pages", []) == 1
    assert not aside.exists()


def test_a_write_that_fails_leaves_the_old_entry(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    path = store.write("pages", "abc", b"old")

    def full(*names: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space"):
        store.write("pages", "abc", b"new")
    assert path.read_bytes() == b"old"
    assert [entry.name for entry in path.parent.iterdir()] == ["abc"]
