"""Videos: written anew with nothing but pictures and sound, told when they cannot be, kept from run to run."""

import io
import re
import struct
from pathlib import Path

import av
import pytest
from helpers.videos import small_video

from sitegen.findings import Finding, Kind, Level
from sitegen.photos.opening import Fault
from sitegen.photos.store import Store
from sitegen.photos.videos import DAMAGED, MAX_BYTES, OTHER_FORM, Videos, ready_videos, rewritten

SECRET = "zq-secret"
PLANTED = ("title", "comment", "handler", "place", "message", "track", "xmp", "behind")


NEEDED = frozenset(
    b"ftyp free mdat moov mvhd trak tkhd edts elst mdia mdhd hdlr minf vmhd smhd dinf dref stbl stsd stts stss ctts "
    b"stsc stsz stco sgpd sbgp udta".split()
)


def ready(folder: Path, files: dict[str, bytes]) -> Videos:
    for name, content in files.items():
        (folder / "content").mkdir(exist_ok=True)
        (folder / "content" / name).write_bytes(content)
    captions = {name: content.decode() for name, content in files.items() if name.endswith(".vtt")}
    videos = sorted(files.keys() - captions.keys())
    return ready_videos(folder / "content", videos, captions, Store(folder / "store"), workers=1)


def told(videos: Videos) -> Finding:
    assert len(videos.findings) == 1
    return videos.findings[0]


def boxes(content: bytes) -> set[bytes]:
    """Kinds of all boxes, those in boxes too. Source: ISO/IEC 14496-12, 4.2 (from memory)."""
    found, at = set(), 0
    while at + 8 <= len(content):
        size, kind = struct.unpack(">I4s", content[at : at + 8])
        found.add(kind)
        if kind in (b"moov", b"trak", b"mdia", b"minf", b"stbl", b"dinf", b"edts"):
            found |= boxes(content[at + 8 : at + size])
        at += max(size, 8)
    return found


def places(content: bytes) -> list[int]:
    """Where a list of tags or a gap begins."""
    return [match.start() for match in re.finditer(rb"ilst|free", content)]


@pytest.mark.parametrize("form", ["mp4", "mov"])
def test_nothing_is_left_but_pictures_and_sound(form: str) -> None:
    content = small_video(2, SECRET, form=form)
    assert [what for what in PLANTED if f"{SECRET}-{what}".encode() not in content] == []
    assert form == "mp4" or b"\xa9xyz" in content
    made = rewritten(content)
    assert not isinstance(made, Fault)
    written, seconds, sound = made
    assert (seconds, sound) == (2, True)
    assert SECRET.encode() not in written
    assert b"52.5200" not in written
    assert boxes(written) <= NEEDED, "nothing that a player does not need"
    assert {b"\0\0\0\x08free", b"\0\0\0\x08ilst"} <= {written[at - 4 : at + 4] for at in places(written)}, "empty ones"
    with av.open(io.BytesIO(written)) as again:
        assert [stream.type for stream in again.streams] == ["video", "audio"]
        assert "creation_time" not in {*again.metadata, *again.streams.video[0].metadata}
        assert sum(1 for _ in again.decode(video=0)) == 20


def test_the_pictures_are_those_of_the_original_and_stand_upright() -> None:
    content = small_video(1)
    at = content.index(b"tkhd") + 44
    quarter = struct.pack(">9i", 0, 1 << 16, 0, -1 << 16, 0, 0, 64 << 16, 0, 1 << 30)
    turned = content[:at] + quarter + content[at + 36 :]
    made = rewritten(turned)
    assert not isinstance(made, Fault)
    frames = []
    for each in (turned, made[0]):
        with av.open(io.BytesIO(each)) as video:
            frames.append([(frame.rotation, frame.to_ndarray().tobytes()) for frame in video.decode(video=0)])
    assert frames[0] == frames[1]
    assert frames[0][0][0] != 0


def test_the_same_video_gives_the_same_bytes_and_begins_with_its_index() -> None:
    content = small_video(1, SECRET)
    made = rewritten(content)
    assert made == rewritten(content)
    assert not isinstance(made, Fault)
    assert made[0].index(b"moov") < made[0].index(b"mdat")


def test_a_video_without_sound_says_so() -> None:
    made = rewritten(small_video(1, sound=False))
    assert not isinstance(made, Fault)
    assert made[1:] == (1, False)


@pytest.mark.parametrize("share", [0.02, 0.4, 0.6, 0.95])
def test_a_video_of_which_a_part_is_missing_is_told(share: float) -> None:
    whole = rewritten(small_video(4, sound=False))
    assert not isinstance(whole, Fault)
    assert rewritten(whole[0][: int(share * len(whole[0]))]) in (DAMAGED, OTHER_FORM)


@pytest.mark.parametrize("content", [b"", b"no video", b"\0" * 4096, b"\0\0\0\x18ftypmp42" + b"x" * 999])
def test_what_is_no_video_is_told(content: bytes) -> None:
    assert rewritten(content) == DAMAGED


def test_a_form_that_browsers_do_not_play_is_told_with_one_that_they_do(tmp_path: Path) -> None:
    found = told(ready(tmp_path, {"a.mp4": small_video(1, codec="mpeg4")}))
    assert (found.kind, found.level) == (Kind.VIDEO_UNREADABLE, Level.ERROR)
    assert "H.264" in found.expected


def test_a_video_too_large_for_a_phone_is_told_with_its_size_and_the_bound(tmp_path: Path) -> None:
    found = told(ready(tmp_path, {"a.mp4": bytes(MAX_BYTES + 12_000_000)}))
    assert "42 MB" in found.message
    assert "30 MB" in found.expected


def test_a_broken_video_leaves_the_others(tmp_path: Path) -> None:
    videos = ready(tmp_path, {"a.mp4": small_video(1), "b.mp4": b"broken", "c.mov": small_video(1, form="mov")})
    assert set(videos.shown) == {"a.mp4", "c.mov"}
    assert told(videos).place is not None
    assert {each.address for each in videos.shown.values()} == set(videos.files)


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "content").mkdir()
    (tmp_path / "elsewhere.mp4").write_bytes(small_video(1))
    (tmp_path / "content" / "a.mp4").symlink_to(tmp_path / "elsewhere.mp4")
    videos = ready_videos(tmp_path / "content", ["a.mp4"], {}, Store(tmp_path / "store"), workers=1)
    assert "link" in told(videos).message


def test_what_was_made_is_kept_and_a_changed_video_has_another_address(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = ready(tmp_path, {"a.mp4": small_video(1)})
    with monkeypatch.context() as patched:
        patched.setattr("sitegen.photos.videos.rewritten", lambda content: pytest.fail("it was made before"))
        assert ready(tmp_path, {"a.mp4": small_video(1)}).shown == first.shown
    assert ready(tmp_path, {"a.mp4": small_video(2)}).shown["a.mp4"].address != first.shown["a.mp4"].address


CUES = "00:00.000 --> 00:01.000\nShe sheds."


def test_captions_keep_what_is_shown_and_nothing_else(tmp_path: Path) -> None:
    text = f"WEBVTT {SECRET}-head\n\nNOTE {SECRET}-note\n\nSTYLE\n::cue {{}}\n\n{SECRET}-name\n{CUES}\n"
    videos = ready(tmp_path, {"a.mp4": small_video(1), "a.vtt": text.encode()})
    address = videos.shown["a.mp4"].captions
    assert videos.files[address].read().decode() == f"WEBVTT\n\n{CUES}\n"


def test_captions_in_another_form_are_told_and_the_video_is_shown_without(tmp_path: Path) -> None:
    videos = ready(tmp_path, {"a.mp4": small_video(1), "a.vtt": b"1\n00:00:00,000 --> 00:00:01,000\nHello"})
    assert "WebVTT" in told(videos).message
    assert videos.shown["a.mp4"].captions == ""
