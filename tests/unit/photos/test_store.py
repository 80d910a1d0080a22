import hashlib
import os
import signal
import subprocess
import sys
import textwrap
import time
from pathlib import Path

import pytest

from sitegen.photos.store import Store, cache_folder


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "kept")


def test_what_was_written_is_found_and_read(store: Store) -> None:
    assert store.find("pages", "abc.html") is None
    assert store.read("pages", "abc.html") is None
    kept = store.write("pages", "abc.html", b"page")
    assert store.find("pages", "abc.html") == kept
    assert kept.read() == b"page"
    assert kept.digest == hashlib.sha256(b"page").hexdigest()
    assert store.read("pages", "abc.html") == b"page"
    assert store.find("pictures", "abc.html") is None


@pytest.mark.parametrize("damage", ["a bit", "cut off", "zeroed", "emptied", "a link"])
def test_what_was_damaged_counts_as_not_there_and_is_made_anew(store: Store, damage: str, tmp_path: Path) -> None:
    kept = store.write("pages", "abc", b"page" * 100)
    whole = kept.path.read_bytes()
    if damage == "a link":
        (tmp_path / "elsewhere").write_bytes(whole)
        kept.path.unlink()
        kept.path.symlink_to(tmp_path / "elsewhere")
    else:
        flipped = whole[:200] + bytes([whole[200] ^ 1]) + whole[201:]
        damaged = {"a bit": flipped, "cut off": whole[:-1], "zeroed": bytes(len(whole)), "emptied": b""}
        kept.path.write_bytes(damaged[damage])
    assert store.find("pages", "abc") is None
    assert store.read("pages", "abc") is None
    with pytest.raises(OSError, match="changed meanwhile"):
        kept.read()
    assert store.write("pages", "abc", b"page" * 100) == kept
    assert kept.read() == b"page" * 100
    assert damage != "a link" or (tmp_path / "elsewhere").read_bytes() == whole


def test_the_cache_folder_is_the_users_own_or_the_one_that_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SITEGEN_CACHE", "/somewhere/else")
    assert cache_folder() == Path("/somewhere/else")
    monkeypatch.delenv("SITEGEN_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", "/people/keeper/cache")
    monkeypatch.setenv("HOME", "/people/keeper")
    assert cache_folder().is_relative_to("/people/keeper")


@pytest.mark.parametrize("key", ["", "ab", "../../etc", "a/b", "ABC", "abc\n", ".hidden", "a..b", "x" * 200])
def test_a_key_that_is_no_plain_name_is_our_mistake(store: Store, key: str) -> None:
    with pytest.raises(ValueError, match="not a key"):
        store.write("pages", key, b"x")
    with pytest.raises(ValueError, match="not a key"):
        store.find("../pages", "abc")


def test_the_folder_is_marked_as_a_cache_when_it_is_made(store: Store) -> None:
    store.write("pages", "abc", b"x")
    assert (store.folder / "CACHEDIR.TAG").read_text().startswith("Signature: 8a477f597d28d172789f06886806bc55")


def test_a_folder_that_is_there_is_left_as_it_is(store: Store) -> None:
    store.folder.mkdir()
    store.write("pages", "abc", b"x")
    assert [path.name for path in store.folder.iterdir()] == ["pages"]


def test_pruning_removes_what_was_not_asked_for_in_two_months_and_nothing_else(store: Store) -> None:
    kept, found, gone = (store.write("pages", key, b"x") for key in ("abc", "def", "xyz"))
    other_kind = store.write("pictures", "xyz", b"x")
    strangers = [store.folder / "notes.txt", store.folder / "pages" / "notes.txt", kept.path.parent / "zzz-mine"]
    for stranger in strangers:
        stranger.write_text("mine")
    long_ago = time.time() - 61 * 24 * 3600
    for path in (found.path, gone.path, other_kind.path, *strangers):
        os.utime(path, (long_ago, long_ago))
    assert store.find("pages", "def") == found
    assert store.prune("pages") == 1
    assert [each.path.exists() for each in (kept, found, gone, other_kind)] == [True, True, False, True]
    assert all(stranger.exists() for stranger in strangers)


def test_a_store_that_was_never_written_has_nothing_to_prune(store: Store) -> None:
    assert store.prune("pages") == 0


def test_a_killed_write_leaves_nothing_that_is_taken_and_is_pruned_later(store: Store) -> None:
    program = f"""
        import os, signal
        from pathlib import Path
        from sitegen.photos.store import Store, cache_folder
        os.replace = lambda *names: os.kill(os.getpid(), signal.SIGKILL)
        Store(Path({str(store.folder)!r})).write("pages", "abc", b"half")
    """
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(program)], check=False, timeout=30)
    assert done.returncode == -signal.SIGKILL
    (aside,) = (store.folder / "pages" / "ab").iterdir()
    assert store.find("pages", "abc") is None
    assert store.prune("pages") == 0, "it could still be at work"
    long_ago = time.time() - 7200
    os.utime(aside, (long_ago, long_ago))
    assert store.prune("pages") == 1
    assert not aside.exists()


def test_a_write_that_fails_leaves_the_old_entry(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    kept = store.write("pages", "abc", b"old")

    def full(*names: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space"):
        store.write("pages", "abc", b"new")
    assert kept.read() == b"old"
    assert [entry.name for entry in kept.path.parent.iterdir()] == ["abc"]
