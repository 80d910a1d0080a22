import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from sitegen.findings import Finding
from sitegen.photos import facts as facts_module
from sitegen.photos.facts import read_all_facts, read_facts
from sitegen.photos.remembered import forget_others, stamp
from sitegen.photos.variants import PhotoFacts
from sitegen.store import Store

Save = Callable[[str, bytes], Path]
Draw = Callable[..., Image.Image]
Write = Callable[..., bytes]


def known(result: PhotoFacts | Finding) -> PhotoFacts:
    assert isinstance(result, PhotoFacts), result
    return result


@pytest.fixture
def three_seconds_later(monkeypatch: pytest.MonkeyPatch) -> None:
    now = time.time_ns
    monkeypatch.setattr(time, "time_ns", lambda: now() + 3_000_000_000)


def test_facts_are_remembered_by_content(
    save_photo: Save, quarters: Draw, written: Write, exif_block: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Store(tmp_path / "store")
    content = written(quarters(), "JPEG", exif=b"Exif\0\0" + exif_block(6, taken="2024:05:01 10:00:00"))
    first = known(read_facts(save_photo("a.jpg", content), store=store))
    undated = known(read_facts(save_photo("b.jpg", written(quarters(), "JPEG")), store=store))

    def fail(content: bytes) -> None:
        raise AssertionError("a known photo was decoded again")

    monkeypatch.setattr(facts_module, "opened_photo", fail)
    assert read_facts(save_photo("renamed.jpg", content), store=store) == first
    photos = {name: save_photo(name, (tmp_path / "content" / name).read_bytes()) for name in ("a.jpg", "b.jpg")}
    assert read_all_facts(photos, store) == ({"a.jpg": first, "b.jpg": undated}, ())


@pytest.mark.parametrize("entry", [b"{", b"[]", b"{}", b'{"taken": 7}', b'{"taken": null, "surprise": 1}'])
def test_an_entry_of_the_store_that_is_not_understood_is_made_again(
    entry: bytes, save_photo: Save, quarters: Draw, written: Write, tmp_path: Path
) -> None:
    store = Store(tmp_path / "store")
    path = save_photo("a.jpg", written(quarters(), "JPEG"))
    expected = known(read_facts(path, store=store))
    (kept,) = (store.folder / "facts").glob("*/*")
    kept.write_bytes(entry)
    assert read_facts(path, store=store) == expected


def test_a_store_that_cannot_be_written_does_not_hinder_reading(
    save_photo: Save, quarters: Draw, written: Write, tmp_path: Path
) -> None:
    (tmp_path / "store").write_text("a file in its place")
    known(read_facts(save_photo("a.jpg", written(quarters(), "JPEG")), store=Store(tmp_path / "store")))


@pytest.mark.usefixtures("three_seconds_later")
def test_a_file_that_was_not_touched_is_not_even_read(
    save_photo: Save, quarters: Draw, written: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Store(tmp_path / "store")
    photos = {"a.jpg": save_photo("a.jpg", written(quarters(), "JPEG"))}
    first = read_all_facts(photos, store)
    assert list(first[0]) == ["a.jpg"]

    def fail(path: Path) -> None:
        raise AssertionError("read again")

    monkeypatch.setattr(facts_module, "read_content", fail)
    assert read_all_facts(photos, store) == first


@pytest.mark.usefixtures("three_seconds_later")
def test_a_file_with_other_content_is_seen_though_size_and_date_are_the_same(
    save_photo: Save, written: Write, tmp_path: Path
) -> None:
    store = Store(tmp_path / "store")
    one, other = (written(Image.new("RGB", (60, 40), colour), "BMP") for colour in ("red", "blue"))
    assert len(one) == len(other)
    path = save_photo("a.bmp", one)
    times = (path.stat().st_atime_ns, path.stat().st_mtime_ns)
    assert known(read_facts(path, store=store)).placeholder_rgb == "#ff0000"
    time.sleep(0.02)
    path.write_bytes(other)
    os.utime(path, ns=times)
    assert path.stat().st_mtime_ns == times[1]
    assert known(read_facts(path, store=store)).placeholder_rgb == "#0000ff"


def test_a_file_changed_just_now_has_no_stamp_yet(save_photo: Save) -> None:
    path = save_photo("a.jpg", b"x")
    assert stamp(path) is None
    assert stamp(path.parent / "missing.jpg") is None


@pytest.mark.usefixtures("three_seconds_later")
def test_a_stamp_is_of_one_file_in_one_place(save_photo: Save) -> None:
    path = save_photo("a.jpg", b"x")
    first = stamp(path)
    assert first is not None
    assert stamp(path) == first
    assert stamp(save_photo("b.jpg", b"x")) != first
    path.rename(path.with_name("c.jpg"))
    assert stamp(path.with_name("c.jpg")) != first


@pytest.mark.usefixtures("three_seconds_later")
def test_what_is_gone_is_forgotten_and_what_is_there_is_not(
    save_photo: Save, quarters: Draw, written: Write, tmp_path: Path
) -> None:
    store = Store(tmp_path / "store")
    photos = {name: save_photo(name, written(quarters(size), "JPEG")) for name, size in (("a.jpg", 40), ("b.jpg", 60))}
    facts, _ = read_all_facts(photos, store)
    assert len(list(store.folder.glob("facts/*/*"))) == len(list(store.folder.glob("seen/*/*"))) == 2
    assert forget_others([photos["a.jpg"]], [facts["a.jpg"]], store) == 2
    assert len(list(store.folder.glob("facts/*/*"))) == len(list(store.folder.glob("seen/*/*"))) == 1
    assert read_all_facts({"a.jpg": photos["a.jpg"]}, store)[0] == {"a.jpg": facts["a.jpg"]}


@pytest.mark.usefixtures("three_seconds_later")
@pytest.mark.parametrize("entry", [b"../../etc/passwd", b"\xff\xfe", b"0" * 64])
def test_a_damaged_note_of_a_stamp_is_passed_over(
    entry: bytes, save_photo: Save, quarters: Draw, written: Write, tmp_path: Path
) -> None:
    store = Store(tmp_path / "store")
    path = save_photo("a.jpg", written(quarters(), "JPEG"))
    expected = known(read_facts(path, store=store))
    (note,) = store.folder.glob("seen/*/*")
    note.write_bytes(entry)
    assert known(read_facts(path, store=store)) == expected
