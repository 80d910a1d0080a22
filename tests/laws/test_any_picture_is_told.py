"""Whatever the bytes are: facts or one finding, never an exception, and pictures exactly where there are facts."""

import io
import random
import struct
import time
import zlib
from pathlib import Path

import pillow_heif
import pytest
from helpers.photographs import read_facts
from PIL import Image

from sitegen.findings import Finding
from sitegen.photos.encode import Photograph, encode_pictures
from sitegen.photos.store import Store
from sitegen.photos.variants import PhotoFacts, PictureSettings, plan

SETTINGS = PictureSettings(widths=(24,))
FORMATS = ("JPEG", "PNG", "WEBP", "AVIF", "TIFF", "GIF", "BMP", "HEIF")
TRIES = 60


def written(format: str, dice: random.Random) -> bytes:
    image = Image.effect_noise((dice.randint(20, 60), dice.randint(20, 60)), 80).convert("RGB")
    file = io.BytesIO()
    if format == "HEIF":
        pillow_heif.from_pillow(image).save(file, quality=60)
    else:
        image.save(file, format)
    return file.getvalue()


def spoilt(content: bytes, dice: random.Random) -> bytes:
    """The bytes cut, changed, repeated or grown, mostly near the beginning, where sizes and offsets stand."""
    held = bytearray(content)
    for _ in range(dice.randint(1, 6)):
        at = dice.randrange(min(len(held), dice.choice((16, 64, 300, len(held)))))
        match dice.randrange(4):
            case 0:
                held[at] = dice.randrange(256)
            case 1:
                held[at : at + 4] = dice.choice((b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff", b"\0\0\0\0", b"\0\0\0\1"))
            case 2:
                del held[dice.randrange(at, len(held)) + 1 :]
            case _:
                held[at:at] = held[: dice.randrange(1, 40)]
    return bytes(held)


@pytest.mark.parametrize("format", FORMATS)
def test_any_bytes_are_a_photo_or_a_finding(format: str, tmp_path: Path) -> None:
    dice = random.Random(f"pictures {format}")
    path, store, seen = tmp_path / "photo.jpg", Store(tmp_path / "store"), set()
    for _ in range(TRIES):
        path.write_bytes(spoilt(written(format, dice), dice))
        began = time.monotonic()
        facts = read_facts(path)
        seen.add(type(facts))
        if isinstance(facts, PhotoFacts):
            encoded = encode_pictures([Photograph(path, "photo.jpg", facts, plan(facts, SETTINGS))], SETTINGS, store, 1)
            assert bool(encoded.files) != bool(encoded.findings)
        assert time.monotonic() - began < 20
    assert seen <= {PhotoFacts, Finding}
    assert Finding in seen


def chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


@pytest.mark.parametrize("kind", [b"zTXt", b"iTXt", b"iCCP"])
def test_a_bomb_in_the_metadata_is_not_unpacked(kind: bytes, tmp_path: Path) -> None:
    """200 MB of nothing, packed into 200 kB, where a comment or a colour profile should stand."""
    bomb = zlib.compress(bytes(200_000_000), 9)
    before = b"a\0\1\0\0\0" if kind == b"iTXt" else b"a\0\0"
    header = struct.pack(">IIBBBBB", 30, 20, 8, 2, 0, 0, 0)
    rows = zlib.compress((b"\0" + bytes((180, 90, 40)) * 30) * 20)
    path = tmp_path / "a.png"
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header) + chunk(kind, before + bomb) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
    )  # fmt: skip
    began = time.monotonic()
    assert isinstance(read_facts(path), PhotoFacts | Finding)
    assert time.monotonic() - began < 5


def test_of_ten_thousand_frames_one_is_looked_at(tmp_path: Path) -> None:
    """A GIF of 10,000 frames of 3000 by 3000 pixels, most of them the same few bytes."""
    file = io.BytesIO()
    frame = Image.new("P", (3000, 3000), 1)
    frame.putpalette([0, 0, 0, 200, 60, 30])
    frame.save(file, "GIF", save_all=True, append_images=[Image.new("P", (3000, 3000), 0)], duration=10)
    whole = file.getvalue().removesuffix(b";")
    start = whole.rindex(b"\x21\xf9")
    path = tmp_path / "a.gif"
    path.write_bytes(whole + whole[start:] * 10_000 + b";")
    began = time.monotonic()
    facts = read_facts(path)
    assert isinstance(facts, PhotoFacts)
    assert (facts.width_px, facts.height_px) == (3000, 3000)
    assert time.monotonic() - began < 5
