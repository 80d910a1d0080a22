"""Photographs made for the tests, metadata written byte by byte so that nothing rests on the library under test."""

import io
import struct
import zlib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

Colour = tuple[int, int, int]

QUADRANTS: tuple[Colour, Colour, Colour, Colour] = ((210, 40, 40), (40, 170, 60), (50, 60, 200), (220, 210, 90))
"""Top left, top right, bottom left, bottom right."""


@pytest.fixture
def save_photo(tmp_path: Path) -> Callable[[str, bytes], Path]:
    def save(name: str, content: bytes) -> Path:
        path = tmp_path / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
        return path

    return save


@pytest.fixture
def quarters() -> Callable[..., Image.Image]:
    """A picture of four plain quarters, upright."""

    def draw(width: int = 64, height: int = 48) -> Image.Image:
        pixels = np.zeros((height, width, 3), np.uint8)
        top, left = slice(0, height // 2), slice(0, width // 2)
        bottom, right = slice(height // 2, None), slice(width // 2, None)
        for colour, place in zip(QUADRANTS, ((top, left), (top, right), (bottom, left), (bottom, right)), strict=True):
            pixels[place] = colour
        return Image.fromarray(pixels)

    return draw


@pytest.fixture
def written() -> Callable[..., bytes]:
    def write(image: Image.Image, format: str, **options: object) -> bytes:
        file = io.BytesIO()
        image.save(file, format, **options)
        return file.getvalue()

    return write


@pytest.fixture
def exif_block() -> Callable[..., bytes]:
    """A TIFF block as EXIF holds it: orientation, maker, serial number, day, GPS position, thumbnail."""

    def build(
        orientation: int = 1,
        maker: str = "",
        serial: str = "",
        taken: str = "",
        latitude: tuple[int, ...] = (),
        thumbnail: bytes = b"",
    ) -> bytes:
        details = {}
        if taken:
            details[0x9003] = (2, taken.encode() + b"\0")
        if serial:
            details[0xA431] = (2, serial.encode() + b"\0")
        main: dict[int, tuple[int, bytes]] = {0x0112: (3, struct.pack(">H", orientation))}
        if maker:
            main[0x010F] = (2, maker.encode() + b"\0")
        below = {0x8769: details}
        if latitude:
            below[0x8825] = {1: (2, b"N\0"), 2: (5, struct.pack(f">{len(latitude)}I", *latitude))}
        return _tiff(main, below, thumbnail)

    return build


_SIZES = {2: 1, 3: 2, 4: 4, 5: 8}


def _directory(tags: dict[int, tuple[int, bytes]], at: int, follows: int = 0) -> bytes:
    """One TIFF directory, big-endian, its longer values behind it. Source: TIFF 6.0, section 2 (from memory)."""
    entries, behind = b"", b""
    values_at = at + 2 + 12 * len(tags) + 4
    for tag, (kind, value) in sorted(tags.items()):
        count = len(value) // _SIZES[kind]
        if len(value) <= 4:
            entries += struct.pack(">HHI", tag, kind, count) + value.ljust(4, b"\0")
        else:
            entries += struct.pack(">HHII", tag, kind, count, values_at + len(behind))
            behind += value + b"\0" * (len(value) % 2)
    return struct.pack(">H", len(tags)) + entries + struct.pack(">I", follows) + behind


def _tiff(
    main: dict[int, tuple[int, bytes]], below: dict[int, dict[int, tuple[int, bytes]]], thumbnail: bytes
) -> bytes:
    number = struct.pack(">I", 0)
    at = 8 + len(_directory({**main, **dict.fromkeys(below, (4, number))}, 8))
    parts = []
    for tag, tags in below.items():
        main[tag] = (4, struct.pack(">I", at))
        parts.append(_directory(tags, at))
        at += len(parts[-1])
    follows = 0
    if thumbnail:
        follows = at
        size = len(_directory({0x0201: (4, number), 0x0202: (4, number)}, at))
        small = {0x0201: (4, struct.pack(">I", at + size)), 0x0202: (4, struct.pack(">I", len(thumbnail)))}
        parts.append(_directory(small, at) + thumbnail)
    return b"MM\0*" + struct.pack(">I", 8) + _directory(main, 8, follows) + b"".join(parts)


@pytest.fixture
def colour_profile() -> Callable[..., bytes]:
    """A small RGB profile from three primaries (XYZ under D50) and one gamma."""

    def build(primaries: tuple[tuple[float, float, float], ...], gamma: float, name: str = "planted profile") -> bytes:
        # Source: ICC.1:2001-04 (version 2), sections 6.1 and 6.5 (from memory).
        def xyz(values: tuple[float, float, float]) -> bytes:
            return b"XYZ \0\0\0\0" + struct.pack(">3i", *(round(value * 65536) for value in values))

        curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(gamma * 256)) + b"\0\0"
        text = name.encode() + b"\0"
        description = b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + b"\0" * (12 + 67)
        description += b"\0" * (-len(description) % 4)
        tags = [
            (b"desc", description),
            (b"cprt", b"text\0\0\0\0none\0\0\0\0"),
            (b"wtpt", xyz((0.9642, 1.0, 0.8249))),
            *((tag, xyz(primary)) for tag, primary in zip((b"rXYZ", b"gXYZ", b"bXYZ"), primaries, strict=True)),
            *((tag, curve) for tag in (b"rTRC", b"gTRC", b"bTRC")),
        ]
        table, body = struct.pack(">I", len(tags)), b""
        start = 128 + 4 + 12 * len(tags)
        for tag, content in tags:
            table += struct.pack(">4sII", tag, start + len(body), len(content))
            body += content
        size = start + len(body)
        header = struct.pack(">I4sI4s4s4s", size, b"none", 0x02100000, b"mntr", b"RGB ", b"XYZ ")
        header += struct.pack(">6H4s", 2026, 1, 1, 0, 0, 0, b"acsp") + b"\0" * 28
        header += struct.pack(">3i", 63190, 65536, 54061)
        return header.ljust(128, b"\0") + table + body

    return build


@pytest.fixture
def png_by_hand() -> Callable[[int, int, int, int, bytes], bytes]:
    """A PNG from its raw rows, for depths that Pillow does not write. Source: W3C PNG, section 5 (from memory)."""

    def build(width: int, height: int, depth: int, colour_type: int, rows: bytes) -> bytes:
        def chunk(kind: bytes, content: bytes) -> bytes:
            return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))

        header = struct.pack(">IIBBBBB", width, height, depth, colour_type, 0, 0, 0)
        return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")

    return build


@pytest.fixture
def raw_for() -> Callable[[Image.Image, int], Image.Image]:
    """The pixels as a camera stores them so that ``orientation`` makes them upright.

    Where row 0 and column 0 of the stored picture lie when it is looked at.
    Source: EXIF 2.32 (CIPA DC-008), tag 0x0112 (from memory).
    """
    sides = {1: "tl", 2: "tr", 3: "br", 4: "bl", 5: "lt", 6: "rt", 7: "rb", 8: "lb"}

    def store(upright: Image.Image, orientation: int) -> Image.Image:
        seen = np.asarray(upright)
        height, width = seen.shape[:2]
        row_side, column_side = sides[orientation]
        swapped = row_side in "lr"
        stored = np.zeros((width, height, 3) if swapped else (height, width, 3), np.uint8)
        for row in range(stored.shape[0]):
            for column in range(stored.shape[1]):
                across, down = (row, column) if swapped else (column, row)
                if "r" in row_side + column_side:
                    across = width - 1 - across
                if "b" in row_side + column_side:
                    down = height - 1 - down
                stored[row, column] = seen[down, across]
        return Image.fromarray(stored)

    return store
