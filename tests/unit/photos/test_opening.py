"""Originals of a hundred million pixels within a bound of memory, and photographs of phones."""

import io
import subprocess
import sys
import textwrap
import zlib
from collections.abc import Callable
from datetime import date
from pathlib import Path

import numpy as np
import pillow_heif
import pytest
from helpers.photographs import read_facts
from PIL import Image

from sitegen.findings import Finding
from sitegen.photos import opening
from sitegen.photos.encode import Photograph, encode_pictures
from sitegen.photos.opening import opened_photo, upright_pixels
from sitegen.photos.store import Store
from sitegen.photos.variants import PhotoFacts, PictureSettings, plan

SIDE = 10_000
LARGEST_MB = 1_000
"""Of one process: at most 256 MB for the file, 4 bytes for each of 120 million pixels, 3 for each without their
transparency, and what Python and Pillow need themselves."""


def png_of_rows(width: int, height: int, depth: int, colour_type: int, row: bytes) -> bytes:
    """A PNG whose rows are all alike, never held unpacked. Source: W3C PNG, section 5 (from memory)."""
    packer = zlib.compressobj(1)
    packed = b"".join(packer.compress(b"\0" + row) for _ in range(height)) + packer.flush()

    def chunk(kind: bytes, content: bytes) -> bytes:
        return len(content).to_bytes(4, "big") + kind + content + zlib.crc32(kind + content).to_bytes(4, "big")

    header = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes((depth, colour_type, 0, 0, 0))
    palette = chunk(b"PLTE", bytes((200, 30, 30, 10, 120, 40))) if colour_type == 3 else b""
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + palette + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


ORIGINALS: dict[str, Callable[[], bytes]] = {
    "colour": lambda: png_of_rows(SIDE, SIDE, 8, 2, bytes((180, 90, 40)) * SIDE),
    "transparent": lambda: png_of_rows(SIDE, SIDE, 8, 6, bytes((180, 90, 40, 128)) * SIDE),
    "sixteen bits": lambda: png_of_rows(SIDE, SIDE, 16, 0, bytes((120, 0)) * SIDE),
    "palette": lambda: png_of_rows(SIDE, SIDE, 8, 3, bytes((0, 1)) * (SIDE // 2)),
}


@pytest.mark.parametrize("kind", list(ORIGINALS))
@pytest.mark.slow
def test_a_hundred_million_pixels_fit_into_the_bound(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "large.png"
    path.write_bytes(ORIGINALS[kind]())
    program = """
        import resource, sys
        from pathlib import Path
        from sitegen.photos.encode import Photograph, encode_pictures
        from sitegen.photos.facts import read_all_facts
        from sitegen.photos.variants import PictureSettings, plan
        from sitegen.photos.store import Store
        path, settings = Path(sys.argv[1]), PictureSettings()
        facts = read_all_facts({path.name: path})[0][path.name]
        encoded = encode_pictures([Photograph(path, path.name, facts, plan(facts, settings))], settings,
                                  Store(path.parent / "store"), workers=1)
        assert encoded.made == 2 * len(settings.widths), encoded
        # Not RUSAGE_SELF: what a program is started from counts there too, and pytest may be larger than the bound.
        own = Path("/proc/self/status").read_text().partition("VmHWM:")[2].split()[0]
        print(max(int(own), resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss) // 1024)
    """
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(program), str(path)],
        capture_output=True, text=True, check=True, timeout=180,
    )  # fmt: skip
    assert int(done.stdout) < LARGEST_MB


def test_bands_join_without_a_seam() -> None:
    """A picture whose height is no multiple of a band is the same as one converted whole."""
    image = Image.effect_noise((37, 700), 90).convert("RGBA")
    image.putalpha(Image.linear_gradient("L").resize(image.size))
    file = io.BytesIO()
    image.save(file, "PNG")
    opened = opened_photo(file.getvalue())
    assert isinstance(opened, Image.Image)
    seen = upright_pixels(opened, 37, 700)
    assert isinstance(seen, Image.Image)
    white = Image.new("RGBA", image.size, (255, 255, 255, 255))
    assert seen.tobytes() == Image.alpha_composite(white, image).convert("RGB").tobytes()


# sRGB under D50, columns red, green, blue. Source: ICC sRGB profile, v2 (from memory).
SRGB_D50 = np.array(((0.43607, 0.38515, 0.14307), (0.22249, 0.71687, 0.06061), (0.01392, 0.09708, 0.71410)))
D50 = np.array((0.9642, 1.0, 0.8249))


def srgb_of_lab(lightness: float, a: float, b: float) -> list[int]:
    """Source: CIE 15, CIELAB; IEC 61966-2-1, transfer function (from memory)."""
    f = (lightness + 16) / 116 + np.array((a / 500, 0, -b / 200))
    light = np.linalg.inv(SRGB_D50) @ (D50 * np.where(f > 6 / 29, f**3, 3 * (6 / 29) ** 2 * (f - 4 / 29)))
    told = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.clip(light, 0, 1) ** (1 / 2.4) - 0.055)
    return [round(255 * float(value)) for value in told]


def test_lab_colours_are_converted() -> None:
    file = io.BytesIO()
    Image.new("LAB", (40, 30), (138, 128 + 48, 128 + 50)).save(file, "TIFF")
    opened = opened_photo(file.getvalue())
    assert isinstance(opened, Image.Image)
    seen = upright_pixels(opened, 40, 30)
    assert isinstance(seen, Image.Image)
    told = seen.getpixel((20, 15))
    assert isinstance(told, tuple)
    assert max(abs(x - y) for x, y in zip(told, srgb_of_lab(138 / 2.55, 48, 50), strict=True)) <= 3, told


# Photographs of phones.

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
