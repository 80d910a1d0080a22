import base64
import hashlib
import io
import struct
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from helpers.photographs import read_facts
from PIL import Image, ImageDraw, PngImagePlugin

from sitegen.findings import Finding, Kind, Level, Place
from sitegen.photos import facts as facts_module
from sitegen.photos import opening
from sitegen.photos.encode import Photograph, encode_pictures
from sitegen.photos.facts import read_all_facts, read_content
from sitegen.photos.store import Store
from sitegen.photos.variants import PhotoFacts, PictureSettings, plan

Save = Callable[[str, bytes], Path]
Draw = Callable[..., Image.Image]
Write = Callable[..., bytes]

FORMATS = {"JPEG": "jpeg", "PNG": "png", "WEBP": "webp", "AVIF": "avif", "TIFF": "tiff", "GIF": "gif", "BMP": "bmp"}


def known(result: PhotoFacts | Finding) -> PhotoFacts:
    assert isinstance(result, PhotoFacts), result
    return result


def fault(result: PhotoFacts | Finding) -> Finding:
    assert isinstance(result, Finding), result
    assert (result.level, result.kind) == (Level.ERROR, Kind.PHOTO_UNREADABLE)
    assert result.message
    assert result.remedy
    return result


@pytest.mark.parametrize("format", FORMATS)
def test_the_format_is_told_by_content_not_by_name(
    format: str, save_photo: Save, quarters: Draw, written: Write
) -> None:
    content = written(quarters(), format)
    facts = known(read_facts(save_photo("a.jpg", content)))
    assert (facts.format, facts.width_px, facts.height_px) == (FORMATS[format], 64, 48)
    assert facts.content_hash == hashlib.sha256(content).hexdigest()
    assert facts.taken is None


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
def test_width_and_height_are_upright_and_turned_once(
    orientation: int, format: str, save_photo: Save, quarters: Draw, written: Write, exif_block: Write
) -> None:
    content = written(quarters(), format, exif=b"Exif\0\0" + exif_block(orientation))
    facts = known(read_facts(save_photo("a", content)))
    assert (facts.width_px, facts.height_px) == ((64, 48) if orientation < 5 else (48, 64))


@pytest.mark.parametrize("orientation", [0, 9, 65535])
def test_a_nonsense_orientation_is_none(
    orientation: int, save_photo: Save, quarters: Draw, written: Write, exif_block: Write
) -> None:
    content = written(quarters(), "JPEG", exif=b"Exif\0\0" + exif_block(orientation))
    assert known(read_facts(save_photo("a.jpg", content))).width_px == 64


@pytest.mark.parametrize(
    ("written_day", "day"),
    [
        ("2024:05:01 18:30:00", date(2024, 5, 1)),
        ("2024-05-01T18:30", date(2024, 5, 1)),
        ("0000:00:00 00:00:00", None),
        ("    :  :     :  :  ", None),
        ("2024:13:01 00:00:00", None),
        ("", None),
    ],
)
def test_the_day_is_the_cameras(
    written_day: str, day: date | None, save_photo: Save, quarters: Draw, written: Write, exif_block: Write
) -> None:
    content = written(quarters(), "JPEG", exif=b"Exif\0\0" + exif_block(taken=written_day))
    assert known(read_facts(save_photo("a.jpg", content))).taken == day


@pytest.mark.parametrize("block", [b"", b"garbage", b"MM\0*\0\0\0\x08\xff\xff", b"II*\0\xff\xff\xff\xff"])
def test_damaged_metadata_does_not_spoil_the_photo(
    block: bytes, save_photo: Save, quarters: Draw, written: Write
) -> None:
    facts = known(read_facts(save_photo("a.jpg", written(quarters(), "JPEG", exif=b"Exif\0\0" + block))))
    assert (facts.width_px, facts.taken) == (64, None)


def test_the_placeholder_is_a_tiny_upright_picture(save_photo: Save, written: Write, exif_block: Write) -> None:
    image = Image.new("RGB", (400, 200), (250, 0, 0))
    ImageDraw.Draw(image).rectangle((200, 0, 400, 200), fill=(0, 0, 250))
    content = written(image, "PNG", exif=b"Exif\0\0" + exif_block(6))
    facts = known(read_facts(save_photo("a.png", content)))
    kind, data = facts.placeholder_data.split(",")
    assert kind == "data:image/png;base64"
    assert len(facts.placeholder_data) < 600
    tiny = Image.open(io.BytesIO(base64.b64decode(data))).convert("RGB")
    assert tiny.size == (8, 16)
    assert tiny.getpixel((4, 1))[0] > 200, "left becomes top when a photo is turned to the right"
    assert tiny.getpixel((4, 14))[2] > 200


def test_a_picture_of_one_pixel_and_a_thin_line_are_pictures(save_photo: Save, written: Write) -> None:
    for size in ((1, 1), (3000, 1), (1, 3000)):
        facts = known(read_facts(save_photo("a.png", written(Image.new("RGB", size), "PNG"))))
        assert (facts.width_px, facts.height_px) == size


@pytest.mark.parametrize("format", FORMATS)
@pytest.mark.parametrize("share", [0.05, 0.5, 0.97])
def test_a_photo_that_ends_early_is_told(format: str, share: float, save_photo: Save, written: Write) -> None:
    noise = Image.effect_noise((160, 120), 80).convert("RGB")
    content = written(noise, format)
    finding = fault(read_facts(save_photo("a.jpg", content[: int(len(content) * share)]), "animals/x/a.jpg"))
    assert finding.place == Place("animals/x/a.jpg")
    assert "damaged" in finding.message


def test_a_jpeg_without_its_last_two_bytes_ends_early_too(save_photo: Save, quarters: Draw, written: Write) -> None:
    assert "damaged" in fault(read_facts(save_photo("a.jpg", written(quarters(), "JPEG")[:-2]))).message


def test_a_jpeg_with_something_behind_it_is_whole(save_photo: Save, quarters: Draw, written: Write) -> None:
    known(read_facts(save_photo("a.jpg", written(quarters(), "JPEG") + b"film of a phone")))


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "empty"),
        (b"These are my notes on Juniper.\n", "not a picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "not a picture"),
        (b"%PDF-1.7\n", "not a picture"),
        (b"\0" * 5000, "not a picture"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + b"\0" * 200, "damaged"),
        (b"\0\0\0\x18ftypmif1\0\0\0\0mif1heic" + b"\0" * 200, "damaged"),
        (b"\xff\xd8\xff\xe0", "damaged"),
    ],
)
def test_what_is_no_picture_is_told_for_what_it_is(content: bytes, told: str, save_photo: Save) -> None:
    finding = fault(read_facts(save_photo("2024-05-01.jpg", content)))
    assert told in finding.message
    assert finding.place == Place("2024-05-01.jpg")


def test_a_missing_file_and_a_folder_are_told(tmp_path: Path) -> None:
    assert "cannot be opened" in fault(read_facts(tmp_path / "missing.jpg")).message
    assert "cannot be opened" in fault(read_facts(tmp_path)).message


@pytest.mark.parametrize(("width", "height"), [(12_000, 11_000), (60_000, 60_000), (2**31 - 1, 2**31 - 1), (40_000, 2)])
def test_a_small_file_that_claims_to_be_huge_is_refused_before_it_is_unpacked(
    width: int, height: int, save_photo: Save, png_by_hand: Write
) -> None:
    content = png_by_hand(width, height, 8, 2, b"\0" * 1000)
    assert "million pixels" in fault(read_facts(save_photo("a.png", content))).message


def test_a_file_heavier_than_the_bound_is_not_read(save_photo: Save, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(facts_module.opening, "MAX_BYTES", 1000)
    assert "larger than" in fault(read_facts(save_photo("a.jpg", b"x" * 1001))).message


def test_whatever_a_decoder_raises_is_a_damaged_photo(
    save_photo: Save, quarters: Draw, written: Write, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(self: object) -> None:
        raise struct.error("unpack requires a buffer of 4 bytes")

    monkeypatch.setattr(PngImagePlugin.PngImageFile, "load", fail)
    assert "damaged" in fault(read_facts(save_photo("a.png", written(quarters(), "PNG")))).message


def test_one_bad_photo_does_not_stop_the_others(save_photo: Save, quarters: Draw, written: Write) -> None:
    photos = {
        "animals/a/1.jpg": save_photo("animals/a/1.jpg", written(quarters(), "JPEG")),
        "animals/a/2.jpg": save_photo("animals/a/2.jpg", b"no picture"),
        "animals/b/3.png": save_photo("animals/b/3.png", written(quarters(), "PNG")),
        "animals/b/4.png": save_photo("animals/b/4.png", b""),
    }
    for workers in (1, 2):
        facts, findings = read_all_facts(photos, workers=workers)
        assert list(facts) == ["animals/a/1.jpg", "animals/b/3.png"]
        assert [str(f.place) for f in findings] == ["animals/a/2.jpg", "animals/b/4.png"]


def test_the_bound_on_pixels_is_the_one_that_is_told() -> None:
    assert f"{opening.MAX_PIXELS // 1_000_000} million" in opening.TOO_MANY_PIXELS.message


def test_a_photo_of_the_collection_that_is_a_link_is_told_and_one_that_the_user_named_is_read(
    tmp_path: Path, save_photo: Save, quarters: Draw, written: Write
) -> None:
    real = save_photo("a.jpg", written(quarters(), "JPEG"))
    for file in ("animals/x/link.jpg", "animals/y/a.jpg"):
        place = tmp_path / "content" / file
        place.parent.mkdir(parents=True)
        place.symlink_to(real)
        assert "is a link" in fault(read_facts(place, file)).message
        assert read_content(place) == real.read_bytes()
    (tmp_path / "content/animals/z").symlink_to(real.parent)
    assert "is a link" in fault(read_facts(tmp_path / "content/animals/z/a.jpg", "animals/z/a.jpg")).message


def test_a_photo_that_became_a_link_after_it_was_looked_at_is_not_encoded(
    tmp_path: Path, save_photo: Save, quarters: Draw, written: Write
) -> None:
    real = save_photo("a.jpg", written(quarters(), "JPEG"))
    path = tmp_path / "content/animals/x/a.jpg"
    path.parent.mkdir(parents=True)
    path.write_bytes(real.read_bytes())
    facts, settings = known(read_facts(path, "animals/x/a.jpg")), PictureSettings((400,))
    path.unlink()
    path.symlink_to(real)
    photograph = Photograph(path, "animals/x/a.jpg", facts, plan(facts, settings))
    encoded = encode_pictures([photograph], settings, Store(tmp_path / "store"), 1)
    assert encoded.files == {}
    assert ["is a link" in finding.message for finding in encoded.findings] == [True]
