"""Photographs of phones."""

import io
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pillow_heif
import pytest
from PIL import Image

from sitegen.findings import Finding
from sitegen.photos import opening
from sitegen.photos.encode import Photograph, encode_pictures
from sitegen.photos.facts import read_facts
from sitegen.photos.opening import opened_photo, upright_pixels
from sitegen.photos.store import Store
from sitegen.photos.variants import PhotoFacts, PictureSettings, plan

Build = Callable[..., bytes]
RED, BLUE = (210, 40, 40), (50, 60, 200)


@pytest.fixture
def heic() -> Build:
    """A HEIC of two halves, the left one red."""

    def build(width: int = 640, height: int = 480, colour: tuple[int, int, int] | None = None, **more: object) -> bytes:
        image = Image.new("RGB", (width, height), colour or BLUE)
        if colour is None:
            image.paste(RED, (0, 0, width // 2, height))
        held = pillow_heif.from_pillow(image)
        written = io.BytesIO()
        held.save(written, quality=95, **more)
        return written.getvalue()

    return build


def alike(one: object, other: tuple[int, int, int], within: int = 8) -> bool:
    assert isinstance(one, tuple)
    return all(abs(a - b) <= within for a, b in zip(one, other, strict=True))


def test_a_heic_becomes_pictures_like_any_other(heic: Build, exif_block: Build, tmp_path: Path) -> None:
    exif = exif_block(maker="PLANTED-MAKER", serial="PLANTED-SERIAL", taken="2025:06:12 10:00:00", latitude=(51, 1) * 3)
    path = tmp_path / "IMG_0001.heic"
    path.write_bytes(heic(exif=b"Exif\0\0" + exif))
    assert b"PLANTED-MAKER" in path.read_bytes()
    facts = read_facts(path)
    assert isinstance(facts, PhotoFacts)
    assert (facts.format, facts.width_px, facts.height_px, facts.taken) == ("heif", 640, 480, date(2025, 6, 12))
    settings = PictureSettings(widths=(320, 640))
    photograph = Photograph(path, path.name, facts, plan(facts, settings))
    encoded = encode_pictures([photograph], settings, Store(tmp_path / "store"), workers=1)
    assert (encoded.made, encoded.findings) == (4, ())
    for made in encoded.files.values():
        assert b"PLANTED" not in made.read()
        with Image.open(io.BytesIO(made.read())) as picture:
            assert not picture.getexif()
            assert alike(picture.getpixel((picture.width // 4, picture.height // 2)), RED)
            assert alike(picture.getpixel((picture.width * 3 // 4, picture.height // 2)), BLUE)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_turned_heic_comes_out_upright_and_is_turned_once(heic: Build, exif_block: Build, orientation: int) -> None:
    """The library writes the turn into the container when it is given one; reading must not apply it twice."""
    image = opened_photo(heic(exif=exif_block(orientation)))
    assert isinstance(image, Image.Image)
    plain = opened_photo(heic())
    assert isinstance(plain, Image.Image)
    expected = plain.convert("RGB")
    if orientation > 1:
        marked = Image.Exif()
        marked[0x0112] = orientation
        file = io.BytesIO()
        expected.save(file, "PNG", exif=marked)
        from_png = opened_photo(file.getvalue())
        assert isinstance(from_png, Image.Image)
        turned = upright_pixels(from_png, *opening.upright_size(from_png))
        assert isinstance(turned, Image.Image)
        expected = turned
    seen = upright_pixels(image, *opening.upright_size(image))
    assert isinstance(seen, Image.Image)
    assert seen.size == expected.size
    for at in ((0.1, 0.1), (0.9, 0.1), (0.1, 0.9), (0.9, 0.9)):
        spot = (int(seen.width * at[0]), int(seen.height * at[1]))
        told = expected.getpixel(spot)
        assert isinstance(told, tuple)
        assert alike(seen.getpixel(spot), (int(told[0]), int(told[1]), int(told[2]))), spot


def test_the_wide_colours_of_a_phone_are_converted(heic: Build, colour_profile: Build) -> None:
    # The profile's primaries are turned round, so that only a reader that obeys it sees green.
    turned = ((0.38515, 0.71687, 0.09708), (0.43607, 0.22249, 0.01392), (0.14307, 0.06061, 0.71410))
    image = opened_photo(heic(colour=(220, 0, 0), icc_profile=colour_profile(turned, 2.2)))
    assert isinstance(image, Image.Image)
    seen = upright_pixels(image, image.width, image.height)
    assert isinstance(seen, Image.Image)
    assert alike(seen.getpixel((100, 100)), (0, 220, 0), 12)


def test_a_heic_that_ends_early_is_damaged_and_a_huge_one_is_refused(
    heic: Build, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = heic()
    path = tmp_path / "a.heic"
    for share in (0.1, 0.5, 0.95):
        path.write_bytes(whole[: int(len(whole) * share)])
        found = read_facts(path)
        assert isinstance(found, Finding), share
        assert "damaged" in found.message
    monkeypatch.setattr(opening, "MAX_PIXELS", 100_000)
    path.write_bytes(whole)
    found = read_facts(path)
    assert isinstance(found, Finding)
    assert "million pixels" in found.message
