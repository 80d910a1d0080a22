"""What a photograph says of itself: upright size, day, format by content; and a first small look at it."""

import base64
import hashlib
import io
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from sitegen.below import LeadsAway, TooLarge, read_below, read_named
from sitegen.findings import Finding
from sitegen.photos import opening
from sitegen.photos.store import Store
from sitegen.photos.variants import RECIPE, PhotoFacts
from sitegen.workers import Crashed, Progress, in_workers

TINY = "tiny"
_TINY_PX = 16
_UNREADABLE = opening.Fault("this photo cannot be opened", "look at the permissions of the file")


def read_all_facts(
    photos: Mapping[str, Path], store: Store | None = None, workers: int = 0, progress: Progress | None = None
) -> tuple[dict[str, PhotoFacts], tuple[Finding, ...]]:
    """Facts of all photographs, in parallel; findings for the unreadable, by their paths from the content folder.

    The store keeps the tiny picture of each photograph, for which alone the whole of it would be decoded.
    """
    looks = [_Look(path, file, store) for file, path in photos.items()]
    results = dict(zip(photos, in_workers(_looked_at, looks, workers, progress), strict=True))
    facts = {file: result for file, result in results.items() if isinstance(result, PhotoFacts)}
    faults = {file: opening.CRASHED if isinstance(result, Crashed) else result for file, result in results.items()}
    return facts, tuple(fault.at(file) for file, fault in faults.items() if isinstance(fault, opening.Fault))


def read_content(path: Path, file: str = "") -> bytes | opening.Fault:
    """The bytes of a photo, or why they cannot be had.

    No link is followed in ``file``, its path from the content folder, the end of ``path``. It is empty for a photo that
    the user named, which may lie behind links.
    """
    try:
        if not file:
            return read_named(path, opening.MAX_BYTES) or opening.EMPTY
        content = path.parents[file.count("/")]
        return read_below(content, path.relative_to(content).as_posix(), opening.MAX_BYTES) or opening.EMPTY
    except LeadsAway:
        return opening.LINKED
    except TooLarge:
        return opening.TOO_HEAVY
    except OSError:
        return _UNREADABLE


@dataclass(frozen=True, slots=True)
class _Look:
    """A photo to look at, and where its tiny picture may stand."""

    path: Path
    file: str
    store: Store | None


def _looked_at(look: _Look) -> PhotoFacts | opening.Fault:
    content = read_content(look.path, look.file)
    if isinstance(content, opening.Fault):
        return content
    return facts_of(content, hashlib.sha256(content).hexdigest(), look.store)


def facts_of(content: bytes, content_hash: str, store: Store | None = None) -> PhotoFacts | opening.Fault:
    """The facts of a photograph of these bytes, decoded to their end; or what is wrong with it."""
    image = opening.opened_photo(content)
    if isinstance(image, opening.Fault):
        return image
    with image:
        format, taken = opening.format_of(image), opening.day_taken(image)
        width, height = opening.upright_size(image)
        tiny = _kept_tiny(content_hash, store) or _new_tiny(image, content, store, content_hash)
    if isinstance(tiny, opening.Fault):
        return tiny
    return PhotoFacts(content_hash, format, width, height, taken, _data_address(tiny))


def _kept_tiny(content_hash: str, store: Store | None) -> Image.Image | None:
    """The tiny picture of these bytes, made before: proof that all of the photograph could be decoded."""
    found = store.read(TINY, _tiny_key(content_hash)) if store else None
    if found is None:
        return None
    with Image.open(io.BytesIO(found), formats=("PNG",)) as image:
        return image.convert("RGB")


def _new_tiny(
    image: Image.Image, content: bytes, store: Store | None, content_hash: str
) -> Image.Image | opening.Fault:
    """A picture of at most 16 by 16 pixels, for which all of the photograph is decoded, or what is damaged."""
    width, height = opening.upright_size(image)
    longest = max(width, height)
    scale = min(_TINY_PX, longest)
    tiny = opening.upright_pixels(image, max(1, width * scale // longest), max(1, height * scale // longest))
    if isinstance(tiny, opening.Fault) or _ends_early(content, opening.format_of(image)):
        return opening.DAMAGED
    if store is not None:
        written = io.BytesIO()
        tiny.save(written, "PNG")
        with suppress(OSError):  # it is made again
            store.write(TINY, _tiny_key(content_hash), written.getvalue())
    return tiny


def _tiny_key(content_hash: str) -> str:
    return f"{content_hash[:40]}-{RECIPE}.png"


def _data_address(tiny: Image.Image) -> str:
    """A ``data:`` address of the picture in 16 colours, some 300 characters."""
    written = io.BytesIO()
    tiny.quantize(16, dither=Image.Dither.NONE).save(written, "PNG", optimize=True)
    return "data:image/png;base64," + base64.b64encode(written.getvalue()).decode("ascii")


def _ends_early(content: bytes, format: str) -> bool:
    """True for a JPEG without its end mark; some decoders fill up what is missing without a word.

    Within the picture data an 0xFF byte is always followed by 0x00 or a restart mark, so the end mark is unmistakable.
    Source: ITU-T T.81, B.1.1.5 (from memory).
    """
    return format == "jpeg" and content.find(b"\xff\xd9", max(content.find(b"\xff\xda"), 0)) < 0
