"""Bytes of a photograph to upright sRGB pixels; every way in which that may fail, told for a breeder."""

import importlib
import io
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date

from PIL import ExifTags, Image, ImageCms

from sitegen.findings import Finding, Kind, Level, Place

MAX_BYTES = 256 * 1024 * 1024
MAX_PIXELS = 120_000_000
MAX_SIDE_PX = 30_000
FORMATS = ("JPEG", "PNG", "WEBP", "AVIF", "TIFF", "GIF", "BMP")

_BAND_PX = 256  # rows that are converted at a time, so that a large original is never in memory twice
_SIXTEEN_BITS = ("I;16", "I;16L", "I;16B", "I;16N")
_ORIGINAL, _DIGITISED = ExifTags.Base.DateTimeOriginal, ExifTags.Base.DateTimeDigitized
_WHITE = (255, 255, 255)

# Brands of HEIF files that hold HEVC pictures, bytes 8 to 11 of the file.
# Source: ISO/IEC 23008-12, annex B (from memory).
_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")

# EXIF orientation to the turn that makes the picture upright.
# Source: EXIF 2.32 (CIPA DC-008), tag 0x0112 (from memory; each value has a pixel test).
_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a photograph or video cannot be used, and what to do about it."""

    message: str
    remedy: str
    expected: str = ""
    kind: Kind = Kind.PHOTO_UNREADABLE

    def at(self, file: str) -> Finding:
        """The finding for the photo ``file``, a path relative to the content folder."""
        return Finding(
            level=Level.ERROR,
            kind=self.kind,
            place=Place(file),
            message=self.message,
            expected=self.expected,
            remedy=self.remedy,
        )


EMPTY = Fault("this photo is an empty file", "copy it again from the camera, or remove it")
DAMAGED = Fault(
    "this photo is damaged or ends too early: part of the picture is missing",
    "copy it again from the camera, or remove it",
)
CRASHED = Fault(
    "this photo makes the program that unpacks pictures fail",
    "open it in another program and save it as a new JPEG, or remove it",
)
LINKED = Fault(
    "this is a link to another place; links are not followed",
    "delete the link and copy the photo here",
    expected="a photo of its own",
)
NOT_A_PICTURE = Fault(
    "this file is not a picture, whatever its name says",
    "replace it by the photo, or move the file out of the content folder",
    expected="a JPEG, PNG, WebP, AVIF, HEIC, TIFF, GIF or BMP picture",
)
TOO_HEAVY = Fault(
    f"this photo is larger than {MAX_BYTES // 1024 // 1024} MB",
    "save a smaller copy and use that",
    expected=f"at most {MAX_BYTES // 1024 // 1024} MB",
)
TOO_MANY_PIXELS = Fault(
    f"this photo has more than {MAX_PIXELS // 1_000_000} million pixels, or a side longer than {MAX_SIDE_PX} pixels",
    "save a smaller copy; 2,000 pixels of width are enough for every page",
    expected=f"at most {MAX_PIXELS // 1_000_000} million pixels and {MAX_SIDE_PX} pixels a side",
)


def opened_photo(content: bytes) -> Image.Image | Fault:
    """The photo with its header read, or why that cannot be done. Nothing is unpacked yet."""
    if not content:
        return EMPTY
    try:
        with _quietly():
            image: Image.Image = Image.open(io.BytesIO(content), formats=FORMATS)
    except Image.DecompressionBombError:
        return TOO_MANY_PIXELS
    except Exception:  # decoders meet damaged files with almost any exception
        known = _of_a_phone(content)
        if isinstance(known, Fault):
            return known
        image = known
    if image.width * image.height > MAX_PIXELS or max(image.size) > MAX_SIDE_PX:
        return TOO_MANY_PIXELS
    return image


def format_of(image: Image.Image) -> str:
    """The format of the bytes in lower case; the multi-picture form of JPEG is JPEG."""
    return "jpeg" if image.format in ("JPEG", "MPO") else (image.format or "").lower()


def orientation_of(image: Image.Image) -> int:
    """The EXIF orientation, 1 to 8; 1 when there is none or it is nonsense."""
    value = _metadata(image, lambda exif: exif.get(ExifTags.Base.Orientation))
    return value if isinstance(value, int) and value in _TURNS else 1


def upright_size(image: Image.Image) -> tuple[int, int]:
    """Width and height as the photo is looked at."""
    width, height = image.size
    return (height, width) if orientation_of(image) >= 5 else (width, height)


def day_taken(image: Image.Image) -> date | None:
    """The day on which the photo was taken, or digitised, by the camera's clock; None when it does not say."""
    for told in (_detail(image, _ORIGINAL), _detail(image, _DIGITISED)):
        try:
            return date.fromisoformat(str(told)[:10].replace(":", "-"))
        except ValueError:
            continue
    return None


def _detail(image: Image.Image, tag: int) -> object:
    return _metadata(image, lambda exif: exif.get_ifd(ExifTags.IFD.Exif).get(tag))


def _metadata(image: Image.Image, read: Callable[[Image.Exif], object]) -> object:
    """One value of the photo's EXIF block; None when the block is missing or damaged."""
    try:
        with _quietly():
            return read(image.getexif())
    except Exception:  # written by anybody: damage shows as almost any exception
        return None


def upright_pixels(image: Image.Image, width_px: int, height_px: int) -> Image.Image | Fault:
    """The first frame, upright, in sRGB, on white, at the given size, and without any metadata; or what is damaged.

    The size is as looked at and not larger than the original. The photo is shrunk before it is turned and before
    its colours are converted, and a JPEG is decoded at the smallest sufficient scale of its own, so that an
    original costs little more than its largest picture.
    """
    orientation = orientation_of(image)
    size = (height_px, width_px) if orientation >= 5 else (width_px, height_px)
    profile = image.info.get("icc_profile")
    try:
        with _quietly():
            image.draft(None, size)
            pixels = _eight_bits_on_white(image)
    except Exception:  # as above
        return DAMAGED
    same = pixels.size == size
    pixels = pixels.copy() if same else pixels.resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)
    pixels.info = {}  # a picture of our own from here on
    pixels = _in_srgb(pixels, profile)
    if orientation in _TURNS:
        pixels = pixels.transpose(_TURNS[orientation])
    assert pixels.size == (width_px, height_px)
    return without_metadata(pixels)


def without_metadata(pixels: Image.Image) -> Image.Image:
    """The pixels alone: Pillow's writers take comments, profiles and more from ``info``.

    A picture that has no more than pixels, because Pillow made it from others, is handed back as it is.
    """
    if type(pixels) is Image.Image and not pixels.info:
        return pixels
    bare = pixels.copy()
    bare.info = {}
    return bare


def _eight_bits_on_white(image: Image.Image) -> Image.Image:
    """The loaded image as L, RGB, CMYK or LAB with 8 bits a channel; what is transparent becomes white."""
    image.load()
    if image.has_transparency_data:
        return _in_bands(image, "RGB", _on_white)
    if image.mode in _SIXTEEN_BITS:
        return _in_bands(image, "L", lambda band: _scaled(band.convert("I")))
    if image.mode == "I":
        deep = max(value for value in image.getextrema() if isinstance(value, int | float)) > 255
        return _in_bands(image, "L", _scaled if deep else lambda band: band.convert("L"))
    if image.mode in ("L", "RGB", "CMYK", "LAB"):
        return image
    wanted = "L" if image.mode == "1" else "RGB"
    return _in_bands(image, wanted, lambda band: band.convert(wanted))


def _in_bands(image: Image.Image, mode: str, change: Callable[[Image.Image], Image.Image]) -> Image.Image:
    """The image in another mode, changed a band of rows at a time."""
    whole = Image.new(mode, image.size)
    for top in range(0, image.height, _BAND_PX):
        whole.paste(change(image.crop((0, top, image.width, min(top + _BAND_PX, image.height)))), (0, top))
    return whole


def _on_white(band: Image.Image) -> Image.Image:
    layer = band.convert("RGBA")
    return Image.alpha_composite(Image.new("RGBA", layer.size, (*_WHITE, 255)), layer).convert("RGB")


def _scaled(band: Image.Image) -> Image.Image:
    """16 bits a pixel to 8: 65,535 is 255."""
    return band.point(lambda value: value * (1 / 257)).convert("L")


@contextmanager
def _quietly() -> Iterator[None]:
    """Without Pillow's warnings: of odd metadata, which is dropped anyway, and of sizes, which are checked here."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


def _of_a_phone(content: bytes) -> Image.Image | Fault:
    """A phone's HEIC where it can be read; else why these bytes cannot be."""
    if content[4:8] != b"ftyp" or content[8:12] not in _BRANDS:
        return _unknown(content)
    try:
        with _quietly():
            return _opened_heic(content)
    except Exception:  # as above
        return DAMAGED


def _unknown(content: bytes) -> Fault:
    """Why Pillow does not know these bytes: a picture cut off in its header, or no picture."""
    starts = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"GIF87a", b"GIF89a", b"II*\0", b"MM\0*")
    if content.startswith(starts) or content[8:12] in (b"WEBP", b"avif", b"avis"):
        return DAMAGED
    return NOT_A_PICTURE


def _opened_heic(content: bytes) -> Image.Image:
    """The photo with its header read; nothing is unpacked yet.

    ``pillow_heif`` is loaded when the first such photo comes. It turns the picture upright by the container's own
    marks and brings deep colours to 8 bits; the colour profile stays with it and is obeyed like any other.

    Raises:
        Exception: Of almost any kind, for damaged bytes.
    """
    importlib.import_module("pillow_heif").register_heif_opener(thumbnails=False)
    return Image.open(io.BytesIO(content), formats=("HEIF",))


def _in_srgb(pixels: Image.Image, profile: object) -> Image.Image:
    """The pixels as sRGB, or as they are if they are; a profile that is broken or for other colours is passed over."""
    if pixels.mode == "LAB":
        lab, srgb = ImageCms.createProfile("LAB"), ImageCms.createProfile("sRGB")
        return ImageCms.profileToProfile(pixels, lab, srgb, outputMode="RGB") or pixels.convert("RGB")
    if isinstance(profile, bytes) and profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            converted = ImageCms.profileToProfile(pixels, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            converted = None
        if converted is not None:
            return converted
    return pixels if pixels.mode == "RGB" else pixels.convert("RGB")
