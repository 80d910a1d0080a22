"""Originals of a hundred million pixels: within a bound of memory, whatever they are made of."""

import io
import subprocess
import sys
import textwrap
import zlib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from sitegen.photos.opening import opened_photo, upright_pixels

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
def test_a_hundred_million_pixels_fit_into_the_bound(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "large.png"
    path.write_bytes(ORIGINALS[kind]())
    program = """
        import resource, sys
        from pathlib import Path
        from sitegen.photos.encode import Photograph, encode_pictures
        from sitegen.photos.facts import read_facts
        from sitegen.photos.variants import PhotoFacts, PictureSettings, plan
        from sitegen.photos.store import Store
        path, settings = Path(sys.argv[1]), PictureSettings()
        facts = read_facts(path)
        assert isinstance(facts, PhotoFacts), facts
        encoded = encode_pictures([Photograph(path, path.name, facts, plan(facts, settings))], settings,
                                  Store(path.parent / "store"), workers=1)
        assert encoded.made == 8, encoded
        processes = resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN
        print(max(resource.getrusage(each).ru_maxrss for each in processes) // 1024)
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
