"""How fast photographs become pictures, beside a plain Pillow pipeline in the same run. Measured, never asserted.

The plain pipeline does what one would write first: for each width open the original, turn it upright, shrink it and
save it as AVIF and JPEG, with the same qualities. It works in one process and lets Pillow use all its threads; it
converts no colours. Run from the top of the project::

    python tests/bench/pictures.py --photos 8 --megapixels 12
"""

import argparse
import io
import resource
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from PIL import Image, ImageFilter, ImageOps

from sitegen.photos.encode import Encoded, Photograph, encode_pictures
from sitegen.photos.facts import read_all_facts
from sitegen.photos.variants import PictureSettings, plan
from sitegen.photos.workers import number_of_workers
from sitegen.store import Store

SETTINGS = PictureSettings()


def draw_photos(folder: Path, n_photos: int, megapixels: int) -> dict[str, Path]:
    """Photographs with soft shapes and the noise of a sensor, half of them on their side."""
    width = round((megapixels * 1_000_000 * 4 / 3) ** 0.5)
    size = (width, width * 3 // 4)
    photos = {}
    for number in range(n_photos):
        shapes = Image.effect_noise((120, 90), 150).filter(ImageFilter.GaussianBlur(2)).resize(size)
        grain = Image.effect_noise(size, 14)
        image = Image.merge("RGB", (Image.blend(shapes, grain, 0.15), shapes, Image.blend(shapes, grain, 0.3)))
        exif = Image.Exif()
        exif[0x0112] = 6 if number % 2 else 1
        path = folder / f"{number}.jpg"
        image.save(path, "JPEG", quality=92, exif=exif)
        photos[path.name] = path
    return photos


def plainly(photos: dict[str, Path]) -> int:
    """The plain pipeline; the number of bytes it made."""
    total = 0
    for path in photos.values():
        for width in SETTINGS.widths:
            with Image.open(path) as image:
                upright = ImageOps.exif_transpose(image)
            shrunk = upright.resize((width, round(upright.height * width / upright.width)), Image.Resampling.LANCZOS)
            for format, options in (
                ("AVIF", {"quality": SETTINGS.avif_quality, "speed": SETTINGS.avif_speed}),
                ("JPEG", {"quality": SETTINGS.jpeg_quality, "progressive": True, "optimize": True}),
            ):
                made = io.BytesIO()
                shrunk.save(made, format, **options)
                total += len(made.getvalue())
    return total


def ours(photos: dict[str, Path], store: Store, workers: int) -> Encoded:
    """What a build does: facts, plan, pictures."""
    facts, findings = read_all_facts(photos, store, workers)
    assert not findings
    work = [Photograph(photos[name], name, known, plan(known, SETTINGS)) for name, known in facts.items()]
    return encode_pictures(work, SETTINGS, store, workers)


def timed(label: str, n_photos: int, work: Callable[[], object]) -> None:
    """Run and report."""
    start, processor = time.perf_counter(), processor_seconds()
    result = work()
    seconds, processor = time.perf_counter() - start, processor_seconds() - processor
    n_bytes = result if isinstance(result, int) else 0
    if isinstance(result, Encoded):
        n_bytes = sum(path.stat().st_size for path in result.files.values())
    rate = n_photos / seconds
    print(
        f"{label:<30} {seconds:8.2f} s {rate:8.1f} photos/s"
        f" {processor / n_photos:8.3f} processor s a photo {n_bytes / n_photos / 1024:8.0f} KB a photo"
    )


def processor_seconds() -> float:
    """Time on processors so far, ended workers included: steadier than the clock on a machine that is busy."""
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(usage.ru_utime + usage.ru_stime for usage in used)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--photos", type=int, default=8)
    parser.add_argument("--megapixels", type=int, default=12)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        photos = draw_photos(folder, asked.photos, asked.megapixels)
        for workers in (1, number_of_workers()):
            store = Store(folder / f"store-{workers}")
            label = f"{workers} process{'es' if workers > 1 else ''}"
            timed(f"ours, {label}", len(photos), lambda s=store, w=workers: ours(photos, s, w))
            timed(f"ours, {label}, second run", len(photos), lambda s=store, w=workers: ours(photos, s, w))
        timed("plain pipeline", len(photos), lambda: plainly(photos))
    for who, label in ((resource.RUSAGE_SELF, "this process"), (resource.RUSAGE_CHILDREN, "largest worker")):
        print(f"most memory, {label}: {resource.getrusage(who).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
