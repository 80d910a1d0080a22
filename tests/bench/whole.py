"""The whole build beside a bare floor, in one run: ``python tests/bench/whole.py [ANIMALS ...] [--photos N]``.

For each size a neutral collection is written (many_records.py, to memory where the system has such a folder), then
built with two workers by the command that users run: cold, again with nothing changed, with one weight changed, with
one stated chance changed. The floor (floor.py) is a short script in one process that reads the same YAML with the C
parser, renders the same templates from ready-made page models, and writes the same files. Measured, never asserted:
what else the machine does is in the clock (wall), hardly in the processor's time.

A build keeps nothing but encoded pictures, so building again takes what a cold build takes without them; only files
whose bytes changed are written.

Goals, in processor time: a cold build at most 6.5 times the floor at 300 animals and 4.2 times at 1,000; 3.3 times from
1,000 to 3,000; a peak under 400 MB at 3,000.
"""

import argparse
import compileall
import datetime as dt
import json
import os
import pickle
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from all_ended import adopt_what_is_left, all_ended
from many_records import write_collection

from sitegen import build
from sitegen.content.folder import read_content
from sitegen.evidence import answers as known
from sitegen.site import material

sys.setrecursionlimit(10_000)
SIZES = (300, 1_000, 3_000)
DAY = "2026-11-25"
MEMORY = Path("/dev/shm")
STAGES = {
    "read": ("read_content", "bind_content"),
    "infer": ("gather", "ask", "answers_of", "claims_of_animal", "audit", "litter_pairing", "material"),
    "replay": ("families_of", "history", "changes_of"),
    "render": ("render_page",),
    "pictures": ("read_all_facts", "encode_pictures", "compose_shares"),
    "write": ("publish",),
}
"""Functions by stage. What is called within another one is counted once, where it is called."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What a process took, its workers included; the peak is that of its largest process."""

    wall: float
    processor: float
    peak: float


def as_installed() -> None:
    """Compile every module, as an installer does; where the surroundings forbid Python to, each start would again."""
    compileall.compile_dir(Path(build.__file__).parent, quiet=1)


def cost_of(command: list[str]) -> Cost:
    """Run to the end, and measure."""
    adopt_what_is_left()
    start = time.perf_counter()
    with tempfile.TemporaryFile() as told, subprocess.Popen(command, stdout=told, stderr=told) as process:
        ended = all_ended(process.pid)
        process.returncode = ended.status
        if process.returncode:
            told.seek(0)
            raise SystemExit(told.read().decode())
    return Cost(time.perf_counter() - start, ended.processor, ended.peak)


def build_command(content: Path, output: Path, workers: int = 2) -> list[str]:
    return [sys.executable, "-m", "sitegen", "build", "--content", str(content), "--output", str(output),
            "--date", DAY, "--workers", str(workers)]  # fmt: skip


def floor_of(content: Path, ready: Path, output: Path) -> tuple[Cost, int]:
    """The floor's own account, without the time to load what is ready-made; and the number of files."""
    command = [sys.executable, str(Path(__file__).with_name("floor.py")), *map(str, (content, ready, output))]
    told = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    return Cost(told["wall"], told["processor"], told["peak"]), told["files"]


def make_ready(content: Path, output: Path, ready: Path) -> None:
    """Page models, and the bytes of every other file as the build wrote it."""
    order = build.Order(content, output, Path("themes"), date=dt.date.fromisoformat(DAY))
    site, _ = build.site_of(order, *read_content(content))
    assert site is not None
    pages = site.pages
    with ready.open("wb") as stream:
        for path in sorted(path for path in output.rglob("*") if path.is_file() and path.name[0] != "."):
            address = path.relative_to(output).as_posix()
            made = pages[address]() if address in pages else path.read_bytes()
            pickle.dump((address, made), stream)


def stages_of(content: Path, output: Path) -> None:
    """Print processor seconds by stage of a cold build in one process."""
    spent: dict[str, float] = dict.fromkeys((*STAGES, "word"), 0.0)
    stack: list[list[float]] = []

    def timed(stage: str, work: Callable[..., object], *args: object, **named: object) -> object:
        stack.append([0.0])
        start = time.process_time()
        try:
            return work(*args, **named)
        finally:
            took = time.process_time() - start
            spent[stage] += took - stack.pop()[0]
            if stack:
                stack[-1][0] += took

    for stage, names in STAGES.items():
        for name in names:
            for module in (build, known, material):
                if hasattr(module, name):
                    setattr(module, name, partial(timed, stage, getattr(module, name)))
    ordinary = build.every_page
    build.every_page = lambda material: {
        address: partial(timed, "word", make) for address, make in ordinary(material).items()
    }
    start = time.process_time()
    built = build.build(build.Order(content, output, Path("themes"), date=dt.date.fromisoformat(DAY), workers=1))
    assert built.published is not None, built.findings[:3]
    spent["other"] = time.process_time() - start - sum(spent.values())
    print(json.dumps(spent))


def changed(content: Path) -> Iterator[str]:
    """Changes the record of the last founder of which one thing is certain, and says how."""
    file = max(path for path in content.glob("animals/*/animal.yaml") if "alder: certain" in path.read_text("utf-8"))
    for what, old, new in (
        ("one weight", r"weights:\n", "weights:\n  2021-01-01: 401 g\n"),
        ("one stated", "alder: certain", "alder: 401/1000"),
    ):
        text = file.read_text("utf-8")
        assert re.search(old, text)
        file.write_text(re.sub(old, new, text), "utf-8")
        time.sleep(3)
        yield what


def settle(content: Path) -> None:
    """Date all records back a little, as if they had been saved some time ago."""
    long_ago = time.time_ns() - 60_000_000_000
    for path in content.rglob("*"):
        os.utime(path, ns=(long_ago, long_ago))
    time.sleep(3)  # the change of the date is itself a change


def measure(size: int, n_photos: int, folder: Path, before: dict[str, float]) -> None:
    content = write_collection(folder / "content", size, n_photos=n_photos)
    settle(content)
    command = build_command(content, folder / "site" / "output")
    cold = cost_of(command)
    ready = folder / "ready"
    subprocess.run([sys.executable, __file__, "--ready", str(content), command[7], str(ready)], check=True)
    floor, n_files = floor_of(content, ready, folder / "floor")
    ready.unlink()
    n_records = sum(1 for path in content.rglob("*") if path.is_file())
    print(f"\n{size:,} animals: {n_records:,} records, {n_files:,} files")
    row("bare floor, one process", floor, floor)
    row("cold build, two workers", cold, floor)
    again = cost_of(command)
    row("again, nothing changed", again, floor)
    for what in changed(content):
        row(f"again, {what} changed", cost_of(command), floor)
    for name, now in (("floor", floor.processor), ("cold", cold.processor), ("cold wall", cold.wall)):
        if name in before:
            print(f"    {name} grew {now / before[name]:.1f} times")
        before[name] = now
    command = [sys.executable, __file__, "--stages", str(content), str(folder / "one" / "output")]
    spent = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    print("    one process by stage: " + ", ".join(f"{stage} {seconds:.2f}" for stage, seconds in spent.items()))


def row(what: str, cost: Cost, floor: Cost) -> None:
    print(f"  {what:<30} {cost.wall:8.2f} s wall {cost.processor:8.2f} s processor {cost.peak:7.0f} MB   x floor:"
          f" {cost.wall / floor.wall:6.3f} wall {cost.processor / floor.processor:6.3f} processor"
          f" {cost.peak / floor.peak:5.2f} memory", flush=True)  # fmt: skip


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("sizes", type=int, nargs="*", default=SIZES)
    parser.add_argument("--photos", type=int, default=0)
    asked = parser.parse_args()
    as_installed()
    before: dict[str, float] = {}
    for size in asked.sizes:
        with tempfile.TemporaryDirectory(dir=MEMORY if MEMORY.is_dir() else None) as name:
            measure(size, asked.photos, Path(name), before)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--ready"]:
        make_ready(*map(Path, sys.argv[2:]))
    elif sys.argv[1:2] == ["--stages"]:
        stages_of(*map(Path, sys.argv[2:]))
    else:
        main()
