"""HEIC, the format of some phones, through ``pillow_heif``, which is loaded when the first such photo comes.

The library turns the picture upright by the container's own marks and brings deep colours to 8 bits; the colour
profile stays with it and is obeyed like any other.
"""

import importlib
import io

from PIL import Image

# Brands of HEIF files that hold HEVC pictures, bytes 8 to 11 of the file.
# Source: ISO/IEC 23008-12, annex B (from memory).
_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")


def is_heic(content: bytes) -> bool:
    """True for bytes that begin as a HEIC file does."""
    return content[4:8] == b"ftyp" and content[8:12] in _BRANDS


def opened_heic(content: bytes) -> Image.Image:
    """The photo with its header read; nothing is unpacked yet.

    Raises:
        Exception: Of almost any kind, for damaged bytes.
    """
    importlib.import_module("pillow_heif").register_heif_opener(thumbnails=False)
    return Image.open(io.BytesIO(content), formats=("HEIF",))
