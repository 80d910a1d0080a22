"""How fast photographs become pictures, beside plain Pillow pipelines in the same run. Measured, never asserted.

The best plain pipeline is the shortest way that Pillow offers to the same pictures: a JPEG decoded at the smallest
sufficient scale of its own, turned upright after it was shrunk, each width made from the next wider one, the same
filter, formats, qualities and speed, one thread an encoder, and the photographs shared out among workers (processes,
and threads, since Pillow lets the interpreter's lock go). It looks at no photograph before, checks nothing, converts
no colours and keeps what it made in one folder. The naive one is what one would write first: for each width open the
original, turn it upright, shrink it and save it.

All of them are run in turns, and each row tells the best and the median. Run from the top of the project::

    python tests/bench/pictures.py --photos 8 --megapixels 12 --repeat 3
    python tests/bench/pictures.py --done 20000
"""

import argparse
import io
import multiprocessing
import os
import statistics
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from all_ended import adopt_what_is_left, all_ended
from PIL import Image, ImageFilter, ImageOps

from sitegen.photos.encode import PICTURES, Encoded, Photograph, encode_pictures, store_key
from sitegen.photos.facts import read_all_facts
from sitegen.photos.store import Store
from sitegen.photos.variants import PictureSettings, plan

SETTINGS = PictureSettings()
JPEG = {"quality": SETTINGS.jpeg_quality, "progressive": True, "optimize": True}
AVIF = {"quality": SETTINGS.avif_quality, "speed": SETTINGS.avif_speed}
ONE_THREAD = {"max_threads": 1, "autotiling": False}
LANCZOS = Image.Resampling.LANCZOS
ON_ITS_SIDE = 5  # the first EXIF orientation whose width is a height


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


def naively(path: Path, into: Path) -> int:
    """The pictures of one photograph as one would write it first, Pillow using all its threads; bytes made."""
    total = 0
    for width in SETTINGS.widths:
        with Image.open(path) as image:
            upright = ImageOps.exif_transpose(image)
        shrunk = upright.resize((width, round(upright.height * width / upright.width)), LANCZOS)
        total += saved(shrunk, "AVIF", AVIF, into) + saved(shrunk, "JPEG", JPEG, into)
    return total


def at_best(path: Path, into: Path) -> int:
    """The pictures of one photograph by the best plain pipeline; bytes made."""
    widths, total = sorted(SETTINGS.widths, reverse=True), 0
    with Image.open(path) as image:
        turned = image.getexif().get(0x0112, 1) >= ON_ITS_SIDE
        width, height = image.size[::-1] if turned else image.size
        size = (widths[0], round(height * widths[0] / width))
        size = size[::-1] if turned else size
        image.draft("RGB", size)
        pixels = ImageOps.exif_transpose(with_marks(image.resize(size, LANCZOS), image))
    pixels.info.clear()
    for width in widths:
        if pixels.width != width:
            pixels = pixels.resize((width, round(height_of(pixels, width))), LANCZOS)
        total += saved(pixels, "AVIF", AVIF | ONE_THREAD, into) + saved(pixels, "JPEG", JPEG, into)
    return total


def with_marks(pixels: Image.Image, image: Image.Image) -> Image.Image:
    pixels.getexif()[0x0112] = image.getexif().get(0x0112, 1)
    return pixels


def height_of(pixels: Image.Image, width: int) -> float:
    return pixels.height * width / pixels.width


def saved(pixels: Image.Image, format: str, options: dict[str, object], into: Path) -> int:
    made = io.BytesIO()
    pixels.save(made, format, **options)
    handle, _ = tempfile.mkstemp(dir=into)
    with os.fdopen(handle, "wb") as file:
        return file.write(made.getvalue())


def plainly(one: Callable[[Path, Path], int], photos: dict[str, Path], folder: Path, crew: Executor | None) -> int:
    """A plain pipeline over all photographs; bytes made."""
    folder.mkdir(parents=True)
    each = partial(one, into=folder)
    if crew is None:
        return sum(map(each, photos.values()))
    with crew:
        return sum(crew.map(each, photos.values()))


def ours(photos: dict[str, Path], folder: Path, workers: int) -> int:
    """What a build does: facts, plan, pictures; bytes made."""
    return sum(made.path.stat().st_size for made in built(photos, Store(folder), workers).files.values())


def built(photos: dict[str, Path], store: Store, workers: int) -> Encoded:
    facts, findings = read_all_facts(photos, store, workers)
    assert not findings
    work = [Photograph(photos[name], name, known, plan(known, SETTINGS)) for name, known in facts.items()]
    return encode_pictures(work, SETTINGS, store, workers)


@dataclass(slots=True)
class Row:
    """A way to make pictures and what it took: seconds by the clock and on processors, each time; bytes, megabytes."""

    label: str
    work: Callable[[Path], int]
    seconds: list[float] = field(default_factory=list)
    processor: list[float] = field(default_factory=list)
    n_bytes: int = 0
    peak: float = 0.0

    def run(self, folder: Path) -> None:
        """Once, in a process of its own, so that nothing is ready from before and all that it took is known."""
        told, tell = os.pipe()
        process = os.fork()
        if not process:
            start = time.perf_counter()
            n_bytes = self.work(folder)
            os.write(tell, f"{time.perf_counter() - start} {n_bytes}".encode())
            os._exit(0)
        os.close(tell)
        with os.fdopen(told) as pipe:
            ended = all_ended(process)
            seconds, n_bytes = pipe.read().split()
        self.seconds.append(float(seconds))
        self.processor.append(ended.processor)
        self.n_bytes, self.peak = int(n_bytes), max(self.peak, ended.peak)


def compare(photos: dict[str, Path], folder: Path, repeat: int, workers: int) -> None:
    """Every way in turns, ``repeat`` times, and a table of it."""
    fork = multiprocessing.get_context("fork")
    rows = {
        "one": Row("ours, 1 worker", lambda at: ours(photos, at, 1)),
        "all": Row(f"ours, {workers} workers", lambda at: ours(photos, at, workers)),
        "plain one": Row("best plain, 1 worker", lambda at: plainly(at_best, photos, at, None)),
        "plain processes": Row(
            f"best plain, {workers} processes",
            lambda at: plainly(at_best, photos, at, ProcessPoolExecutor(workers, fork)),
        ),
        "plain threads": Row(
            f"best plain, {workers} threads", lambda at: plainly(at_best, photos, at, ThreadPoolExecutor(workers))
        ),
        "naive": Row("naive plain", lambda at: plainly(naively, photos, at, None)),
    }
    for turn in range(repeat):
        for key, row in rows.items():
            row.run(folder / f"made-{turn}-{key}")
    n_photos = len(photos)
    print(f"{'':<28} photos a second: best  median   processor s a photo: best  median   KB a photo   MB at most")
    for row in rows.values():
        best, median = (n_photos / of(row.seconds) for of in (min, statistics.median))
        least, middle = (of(row.processor) / n_photos for of in (min, statistics.median))
        kilobytes = row.n_bytes / n_photos / 1024
        print(
            f"{row.label:<28} {best:21.2f} {median:7.2f} {least:27.3f} {middle:7.3f} {kilobytes:12.0f} {row.peak:12.0f}"
        )
    print(f"{'ratios by the clock':<28} {'best':>21} {'median':>7}   by processor time: median")
    for label, over, under in (
        ("ours beside best plain, 1", "plain one", "one"),
        (f"ours beside processes, {workers}", "plain processes", "all"),
        (f"ours beside threads, {workers}", "plain threads", "all"),
        (f"ours, {workers} workers beside 1", "one", "all"),
        (f"plain, {workers} processes beside 1", "plain one", "plain processes"),
        (f"plain, {workers} threads beside 1", "plain one", "plain threads"),
    ):
        best = min(rows[over].seconds) / min(rows[under].seconds)
        pairs = zip(rows[over].seconds, rows[under].seconds, strict=True)
        work = statistics.median(rows[over].processor) / statistics.median(rows[under].processor)
        print(f"{label:<28} {best:21.2f} {statistics.median(a / b for a, b in pairs):7.2f} {work:27.2f}")


def done_already(n_photos: int, folder: Path, repeat: int) -> None:
    """What photographs cost whose pictures all stand in the store; the pictures are stand-ins of one byte.

    The photographs are small, but named as large ones are: eight pictures each.
    """
    wide = Image.new("RGB", (SETTINGS.widths[-1], 8), "#336699")
    content = io.BytesIO()
    wide.save(content, "JPEG", quality=30)
    photos = {}
    for number in range(n_photos):
        path = folder / "originals" / f"{number % 100}" / f"{number}.jpg"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content.getvalue() + str(number).encode())
        photos[path.name] = path
    time.sleep(3)  # until the files are no longer new: a stamp must prove something
    store = Store(folder / "store")
    facts, _ = read_all_facts(photos, store)
    n_pictures = 0
    for known in facts.values():
        for variant in plan(known, SETTINGS).variants:
            store.write(PICTURES, store_key(variant.file_name), b"1")
            n_pictures += 1
    steps: dict[str, list[float]] = {"facts": [], "plan": [], "pictures": [], "tidying": []}
    for _ in range(repeat):
        start = time.perf_counter()
        facts, _ = read_all_facts(photos, store)
        read = time.perf_counter()
        work = [Photograph(photos[name], name, known, plan(known, SETTINGS)) for name, known in facts.items()]
        planned = time.perf_counter()
        encoded = encode_pictures(work, SETTINGS, store)
        end = time.perf_counter()
        assert (encoded.made, encoded.kept) == (0, n_pictures)
        gone = store.prune(PICTURES)
        assert not gone
        tidy = time.perf_counter()
        for step, seconds in zip(steps, (read - start, planned - read, end - planned, tidy - end), strict=True):
            steps[step].append(seconds)
    steps["all"] = [sum(turn) for turn in zip(*steps.values(), strict=True)]
    print(f"{n_photos} photographs, {n_pictures} pictures, all done before; milliseconds, best and median")
    for step, seconds in steps.items():
        best, median = (of(seconds) * 1000 for of in (min, statistics.median))
        print(
            f"{step:<10} a photograph {best / n_photos:7.4f} {median / n_photos:7.4f}"
            f"   a picture {best / n_pictures:7.4f} {median / n_pictures:7.4f}"
        )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--photos", type=int, default=8)
    parser.add_argument("--megapixels", type=int, default=12)
    parser.add_argument("--repeat", type=int, default=3)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--done", type=int, default=0, help="measure so many photographs that are done instead")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        if asked.done:
            done_already(asked.done, Path(name), asked.repeat)
            return
        with ProcessPoolExecutor(1) as apart:  # so that what drawing takes is not in the memory of each row
            photos = apart.submit(draw_photos, Path(name), asked.photos, asked.megapixels).result()
        adopt_what_is_left()
        compare(photos, Path(name), asked.repeat, asked.workers)


if __name__ == "__main__":
    main()
