"""The colours of a photograph as sRGB, whatever space its numbers are written in."""

import io
import struct
from functools import lru_cache

from PIL import ExifTags, Image, ImageCms

_INDEX = 1  # the tag of the interoperability index, in the directory of that name
_ADOBE_INDEX = "R03"
_ADOBE_SPACE = 2

# Adobe RGB (1998) under D50, red, green, blue; and its gamma.
# Source: Adobe RGB (1998) Color Image Encoding, version 2005-05, section 4.3 and annex (from memory).
_ADOBE = ((0.60974, 0.31111, 0.01947), (0.20528, 0.62567, 0.06087), (0.14919, 0.06322, 0.74457))
_ADOBE_GAMMA = 563 / 256
_D50 = (0.9642, 1.0, 0.8249)


def in_srgb(pixels: Image.Image, profile: object, *, adobe: bool = False) -> Image.Image:
    """The pixels as sRGB, or as they are if they are; a profile that is broken or for other colours is passed over.

    Args:
        pixels: L, RGB, CMYK or LAB with 8 bits a channel.
        profile: The ICC profile that came with them; anything but bytes is none.
        adobe: Without a profile, the numbers of an RGB picture are Adobe RGB.
    """
    if pixels.mode == "LAB":
        lab, srgb = ImageCms.createProfile("LAB"), ImageCms.createProfile("sRGB")
        return ImageCms.profileToProfile(pixels, lab, srgb, outputMode="RGB") or pixels.convert("RGB")
    if not profile and adobe and pixels.mode == "RGB":
        profile = adobe_profile()
    if isinstance(profile, bytes) and profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            converted = ImageCms.profileToProfile(pixels, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            converted = None
        if converted is not None:
            return converted
    return pixels if pixels.mode == "RGB" else pixels.convert("RGB")


def says_adobe(exif: Image.Exif) -> bool:
    """True when a camera wrote Adobe RGB and left the profile out, as many do.

    Source: DCF 2.0 (CIPA DC-009), optional colour space: interoperability index "R03"; some write 2 as the colour
    space (from memory).
    """
    index = exif.get_ifd(ExifTags.IFD.Interop).get(_INDEX)
    told = index.decode("ascii", "replace") if isinstance(index, bytes) else str(index)
    space = exif.get_ifd(ExifTags.IFD.Exif).get(ExifTags.Base.ColorSpace)
    return told.strip("\0 ") == _ADOBE_INDEX or space == _ADOBE_SPACE


@lru_cache(maxsize=1)
def adobe_profile() -> bytes:
    """A small profile of Adobe RGB (1998). Source: ICC.1:2001-04 (version 2), sections 6.1 and 6.5 (from memory)."""
    curve = b"curv\0\0\0\0" + struct.pack(">IHxx", 1, round(_ADOBE_GAMMA * 256))
    name = b"Adobe RGB (1998)\0"
    described = b"desc\0\0\0\0" + struct.pack(">I", len(name)) + name + bytes(12 + 67)
    tags = [
        (b"desc", described + bytes(-len(described) % 4)),
        (b"cprt", b"text\0\0\0\0none\0\0\0\0"),
        (b"wtpt", _xyz(_D50)),
        *zip((b"rXYZ", b"gXYZ", b"bXYZ"), map(_xyz, _ADOBE), strict=True),
        *((tag, curve) for tag in (b"rTRC", b"gTRC", b"bTRC")),
    ]
    table, body, start = struct.pack(">I", len(tags)), b"", 128 + 4 + 12 * len(tags)
    for tag, content in tags:
        table += struct.pack(">4sII", tag, start + len(body), len(content))
        body += content
    head = struct.pack(">I4sI4s4s4s", start + len(body), b"none", 0x02100000, b"mntr", b"RGB ", b"XYZ ")
    head += struct.pack(">6H4s28x3i", 2026, 1, 1, 0, 0, 0, b"acsp", *(round(value * 65536) for value in _D50))
    return head.ljust(128, b"\0") + table + body


def _xyz(values: tuple[float, float, float]) -> bytes:
    return b"XYZ \0\0\0\0" + struct.pack(">3i", *(round(value * 65536) for value in values))
