"""What a photograph says of itself: upright size, day, format by content; and a first small look at it."""

import base64
import hashlib
import io
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from sitegen.findings import Finding
from sitegen.photos.opening import (
    CRASHED,
    DAMAGED,
    EMPTY,
    MAX_BYTES,
    TOO_HEAVY,
    Fault,
    day_taken,
    format_of,
    opened_photo,
    upright_pixels,
    upright_size,
)
from sitegen.photos.remembered import facts_of_content, facts_of_file, remember, stamp
from sitegen.photos.variants import PhotoFacts
from sitegen.photos.workers import Crashed, Progress, in_workers
from sitegen.store import Store

_TINY_PX = 16
_UNREADABLE = Fault("this photo cannot be opened", "look at the permissions of the file")


def read_facts(path: Path, file: str = "", store: Store | None = None) -> PhotoFacts | Finding:
    """The facts of one photograph, or what is wrong with it. The whole picture is decoded once, small.

    Args:
        path: The file.
        file: Its name in a finding, relative to the content folder; the bare file name if empty.
        store: Where facts from before may stand, and are kept.
    """
    name = file or path.name
    facts, findings = read_all_facts({name: path}, store, workers=1)
    return facts[name] if name in facts else findings[0]


def read_all_facts(
    photos: Mapping[str, Path], store: Store | None = None, workers: int = 0, progress: Progress | None = None
) -> tuple[dict[str, PhotoFacts], tuple[Finding, ...]]:
    """Facts of all photographs, those of new or touched files in parallel; findings for the unreadable.

    Args:
        photos: Name for findings (relative to the content folder) to file.
        store: As for ``read_facts``.
        workers: Number of processes; 0 for one a processor.
        progress: Called with the number of new and touched photos done and the number there are.
    """
    stamps = {file: stamp(path) if store else None for file, path in photos.items()}
    results: dict[str, PhotoFacts | Fault | None] = {
        file: facts_of_file(stamps[file], store) if store else None for file in photos
    }
    new = [file for file, result in results.items() if result is None]
    looks = [_Look(photos[file], store) for file in new]
    for file, result in zip(new, in_workers(_looked_at, looks, workers, progress), strict=True):
        results[file] = CRASHED if isinstance(result, Crashed) else result
        if isinstance(result, PhotoFacts) and store:
            remember(result, stamps[file], store)
    facts = {file: result for file, result in results.items() if isinstance(result, PhotoFacts)}
    return facts, tuple(result.at(file) for file, result in results.items() if isinstance(result, Fault))


def read_content(path: Path) -> bytes | Fault:
    """The bytes of a photo, or why they cannot be had."""
    try:
        if not path.is_file():
            return _UNREADABLE
        size = path.stat().st_size
        if size > MAX_BYTES:
            return TOO_HEAVY
        return path.read_bytes() or EMPTY
    except OSError:
        return _UNREADABLE


@dataclass(frozen=True, slots=True)
class _Look:
    """A photo to look at, and where facts of the same bytes may stand."""

    path: Path
    store: Store | None


def _looked_at(look: _Look) -> PhotoFacts | Fault:
    """Facts of a photo whose file is new or was touched; it is decoded only if its bytes are new too."""
    content = read_content(look.path)
    if isinstance(content, Fault):
        return content
    content_hash = hashlib.sha256(content).hexdigest()
    known = facts_of_content(content_hash, look.store) if look.store else None
    return known or facts_of(content, content_hash)


def facts_of(content: bytes, content_hash: str) -> PhotoFacts | Fault:
    """The facts of a photograph of these bytes, decoded to their end; or what is wrong with it."""
    image = opened_photo(content)
    if isinstance(image, Fault):
        return image
    with image:
        format, taken = format_of(image), day_taken(image)
        width, height = upright_size(image)
        longest = max(width, height)
        scale = min(_TINY_PX, longest)
        tiny = upright_pixels(image, max(1, width * scale // longest), max(1, height * scale // longest))
    if isinstance(tiny, Fault) or _ends_early(content, format):
        return DAMAGED
    red, green, blue = tiny.resize((1, 1), Image.Resampling.BOX).tobytes()
    return PhotoFacts(
        content_hash=content_hash,
        format=format,
        width_px=width,
        height_px=height,
        taken=taken,
        placeholder_rgb=f"#{red:02x}{green:02x}{blue:02x}",
        placeholder_data=_data_address(tiny),
    )


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
