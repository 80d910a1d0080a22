"""Makes the pictures that are missing, from one decode of each original, and keeps them in the store."""

import hashlib
import io
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from sitegen.findings import Finding, SitegenError, in_order
from sitegen.photos.facts import read_content
from sitegen.photos.opening import CRASHED, Fault, opened_photo, upright_pixels, without_metadata
from sitegen.photos.store import Kept, Store, why_not_written
from sitegen.photos.variants import Format, PhotoFacts, PictureSet, PictureSettings, Variant
from sitegen.workers import Progress, in_workers

PICTURES = "pictures"
"""What the store holds them as."""

_CHANGED = Fault("this photo was changed while the site was being built", "build again")


@dataclass(frozen=True, slots=True)
class Photograph:
    """An original and what it is to become. ``file`` names it in findings, relative to the content folder."""

    path: Path
    file: str
    facts: PhotoFacts
    pictures: PictureSet


@dataclass(frozen=True, slots=True)
class Encoded:
    """What stands ready.

    Attributes:
        files: Name below the site's root to the entry of the store, for every variant that stands there whole.
        findings: Photos that could not be decoded; their pictures are missing from ``files``.
        made, kept: Number of pictures encoded in this run, and of those that stood there before.
    """

    files: dict[str, Kept]
    findings: tuple[Finding, ...]
    made: int
    kept: int

    def has_all(self, pictures: PictureSet) -> bool:
        """True when every picture of a photograph stands ready."""
        return all(variant.file_name in self.files for variant in pictures.variants)


@dataclass(frozen=True, slots=True)
class _Job:
    photograph: Photograph
    missing: frozenset[str]
    settings: PictureSettings
    store: Store


def encode_pictures(
    photographs: Sequence[Photograph],
    settings: PictureSettings,
    store: Store,
    workers: int = 0,
    progress: Progress | None = None,
) -> Encoded:
    """Make every planned picture that the store does not hold, in parallel; the same content is made once.

    The bytes depend on the original and the settings alone, not on the number of workers (0 for one a processor). At
    any time at most one original for each worker is in memory.

    Raises:
        SitegenError: The store cannot be written (disk full, no permission).
    """
    distinct = list({photograph.pictures.key: photograph for photograph in photographs}.values())
    wanted = [variant.file_name for photograph in distinct for variant in photograph.pictures.variants]
    files = _standing(wanted, store)
    jobs = [
        _Job(photograph, missing, settings, store)
        for photograph in distinct
        if (missing := frozenset(v.file_name for v in photograph.pictures.variants if v.file_name not in files))
    ]
    jobs.sort(key=_pixels, reverse=True)  # a long one that comes last would keep one worker busy and the others idle
    findings = []
    for job, result in zip(jobs, in_workers(_encode_job, jobs, workers, progress), strict=True):
        if isinstance(result, str):
            raise SitegenError(f"the pictures cannot be kept in {store.folder}: {result}")
        if result is not None:
            findings.append(result if isinstance(result, Finding) else CRASHED.at(job.photograph.file))
    made = _standing([name for job in jobs for name in job.missing], store)
    everything = files | made
    return Encoded(
        {name: everything[name] for name in wanted if name in everything}, in_order(findings), len(made), len(files)
    )


def store_key(file_name: str) -> str:
    """The key under which the store holds a picture."""
    return file_name.rpartition("/")[2]


def _pixels(job: _Job) -> int:
    """How many pixels are read and written: as good as the time it takes. A tall photo has larger pictures."""
    facts, variants = job.photograph.facts, job.photograph.pictures.variants
    made = sum(v.width_px * v.height_px for v in variants if v.file_name in job.missing)
    return facts.width_px * facts.height_px + made


def _standing(names: Sequence[str], store: Store) -> dict[str, Kept]:
    """Those of the pictures that the store holds whole; hashing lets the interpreter's lock go."""
    with ThreadPoolExecutor() as pool:
        found = pool.map(lambda name: store.find(PICTURES, store_key(name)), names)
        return {name: kept for name, kept in zip(names, found, strict=True) if kept}


def _encode_job(job: _Job) -> Finding | str | None:
    """Make all missing pictures of one original; gives what is wrong with it, or why they cannot be stored."""
    photograph = job.photograph
    content = read_content(photograph.path, photograph.file)
    if isinstance(content, Fault):
        return content.at(photograph.file)
    if hashlib.sha256(content).hexdigest() != photograph.facts.content_hash:
        return _CHANGED.at(photograph.file)
    pixels = _largest(content, photograph.pictures)
    del content
    if isinstance(pixels, Fault):
        return pixels.at(photograph.file)
    try:
        _encode_chain(pixels, job)
    except OSError as failure:
        return why_not_written(failure)
    return None


def _largest(content: bytes, pictures: PictureSet) -> Image.Image | Fault:
    """The pixels of the largest picture; the original is let go before anything is encoded."""
    image = opened_photo(content)
    if isinstance(image, Fault):
        return image
    with image:
        return upright_pixels(image, pictures.width_px, pictures.height_px)


def _encode_chain(pixels: Image.Image, job: _Job) -> None:
    """Widest first; each width is made from the next wider one, whether or not that one was missing."""
    by_width = sorted(job.photograph.pictures.variants, key=lambda v: (-v.width_px, v.format))
    for variant in by_width:
        size = (variant.width_px, variant.height_px)
        if pixels.size != size:
            pixels = pixels.resize(size, Image.Resampling.LANCZOS)
        if variant.file_name in job.missing:
            job.store.write(PICTURES, store_key(variant.file_name), encoded(pixels, variant, job.settings))


def encoded(pixels: Image.Image, variant: Variant, settings: PictureSettings) -> bytes:
    """The bytes of one picture, with nothing in them but pixels.

    AVIF is written with one thread: with more the encoder may cut the picture into tiles, and the bytes would depend
    on the machine.
    """
    bare = without_metadata(pixels)
    written = io.BytesIO()
    format: Format = variant.format
    match format:
        case "avif":
            bare.save(
                written,
                "AVIF",
                quality=settings.avif_quality,
                speed=settings.avif_speed,
                max_threads=1,
                autotiling=False,
            )
        case "jpeg":
            bare.save(written, "JPEG", quality=settings.jpeg_quality, progressive=True, optimize=True)
    return written.getvalue()
