"""The largest collection: ``python tests/bench/load.py [ANIMALS [PHOTOS]]``, 10,000 and 20,000 unless given.

Builds once with two workers and few open files allowed, and tells litters, time and peak memory: of the largest
process, and of all processes together, looked at ten times a second (pages that processes share are counted once: the
proportional set size). Goal: within 4 GB.
"""

import contextlib
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import many_records
from all_ended import adopt_what_is_left, all_ended
from PIL import Image
from whole import MEMORY, build_command

OPEN_FILES = 96
"""How many files each process may have open at once."""


def photographs(content: Path, number: int) -> None:
    """Small photographs, each unlike all others, shared out among animals and litters."""
    folders = sorted(path.parent for path in content.glob("*/*/*.yaml") if path.parts[-3] in ("animals", "litters"))
    dice = random.Random(7)
    for rank in range(number):
        picture = Image.frombytes("RGB", (8, 6), dice.randbytes(144)).resize((200, 150), Image.Resampling.BICUBIC)
        picture.save(folders[rank % len(folders)] / f"2024-05-01 {rank // len(folders)}.jpg", quality=80)


def together(session: int) -> float:
    """Megabytes that all processes of a session hold."""
    total = 0
    for folder in Path("/proc").iterdir():
        if folder.name.isdigit():
            with contextlib.suppress(OSError, ValueError, IndexError, StopIteration):
                if int((folder / "stat").read_text().rpartition(")")[2].split()[3]) == session:
                    rollup = (folder / "smaps_rollup").read_text().splitlines()
                    total += int(next(line for line in rollup if line.startswith("Pss:")).split()[1])
    return total / 1024


def main() -> None:
    given = [int(word) for word in sys.argv[1:]]
    animals, photos = [*given, *(10_000, 20_000)[len(given) :]]
    many_records.YOUNG_A_LITTER = (1, 2)
    with tempfile.TemporaryDirectory(dir=MEMORY if MEMORY.is_dir() else None) as name:
        folder = Path(name)
        content = many_records.write_collection(folder / "content", animals)
        shutil.rmtree(content / "projects")  # so many litters of few young promise some animals twice
        photographs(content, photos)
        litters = sum(1 for _ in content.glob("litters/*/litter.yaml"))
        print(f"{animals:,} animals, {litters:,} litters, {photos:,} photographs", flush=True)
        start, peak = time.perf_counter(), 0.0
        adopt_what_is_left()
        with tempfile.TemporaryFile() as told:
            process = subprocess.Popen(
                build_command(content, folder / "site" / "output"), stdout=told, stderr=told, start_new_session=True,
                preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_NOFILE, (OPEN_FILES, OPEN_FILES)),
            )  # fmt: skip
            while process.poll() is None:
                peak = max(peak, together(process.pid))
                time.sleep(0.1)
            all_ended(process.pid)
            told.seek(0)
            said = told.read().decode().splitlines()
            print("\n".join(said[-1:] if process.returncode == 0 else [line for line in said if "error" in line][:5]))
        used = resource.getrusage(resource.RUSAGE_CHILDREN)  # what was left behind too
        print(
            f"status {process.returncode}, {time.perf_counter() - start:.0f} s wall, "
            f"{used.ru_utime + used.ru_stime:.0f} s processor, {used.ru_maxrss / 1024:.0f} MB the largest process, "
            f"{peak:.0f} MB all together, {OPEN_FILES} open files allowed"
        )


if __name__ == "__main__":
    main()
