"""A full disk, folders that cannot be written, two builds at once, a clock that goes back, a builder that is killed:
the site that stands stays whole, the next build succeeds, and nothing is left behind."""

import hashlib
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from unittest import mock

import pytest
from helpers.from_text import write_files
from helpers.program import SITEGEN, SMALL, run
from PIL import Image

FILLED_TO = (0, 12, 60, 200, 320, 400)
"""Kilobytes that are left free; a build of the small site with a new photograph needs about 500."""
ANIMALS = 20
"""Enough pages that two builds meet, and enough share pictures that several processes make them."""


POWERLESS = ["setpriv", "--inh-caps=-all", "--bounding-set=-all", "--"] if os.geteuid() == 0 else []
"""Before a command: root without the power to pass over permissions."""


def build(folder: Path, *more: str) -> subprocess.CompletedProcess[str]:
    """A build within this process."""
    with mock.patch.dict(os.environ, surroundings(folder)):
        return run(folder, "build", *more)


def powerless_build(folder: Path) -> subprocess.CompletedProcess[str]:
    """A build by somebody who may not pass over permissions."""
    command = [*POWERLESS, *SITEGEN, "build"]
    return subprocess.run(
        command, cwd=folder, capture_output=True, text=True, timeout=120, check=False, env=surroundings(folder)
    )


def surroundings(folder: Path) -> dict[str, str]:
    return {**os.environ, "SITEGEN_CACHE": str(folder / "cache")}


def site(folder: Path) -> dict[str, str]:
    """Address to hash of all that a visitor can ask for."""
    output = folder / "output"
    return {
        str(path.relative_to(output)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(output.rglob("*"))
        if path.is_file()
    }


def photograph(folder: Path, name: str, seed: int) -> None:
    noise = Image.frombytes("RGB", (60, 40), random.Random(seed).randbytes(60 * 40 * 3)).resize((900, 600))
    noise.save(folder / "content" / "animals" / "dam" / f"{name}.jpg", quality=80)


def many_animals(folder: Path) -> None:
    write_files(folder / "content", SMALL)
    for number in range(ANIMALS):
        record = folder / "content" / "animals" / f"a{number:03d}" / "animal.yaml"
        record.parent.mkdir()
        record.write_text("species: corn-snake\nsex: female\nborn: 2020-05-01\nshows: []\n", encoding="utf-8")


def named(folder: Path, name: str) -> None:
    """Another name of the site changes every page."""
    (folder / "content" / "site.yaml").write_text(f"name: {name}\ncurrency: GBP\n", encoding="utf-8")


def aside(folder: Path, *, killed: bool = False) -> list[str]:
    """Names of all that a build may leave half done; of a killed one without a half write of the store.

    That stays for an hour, so that nobody takes it from a build that still writes it (tests/unit/photos/test_store.py).
    """
    usual = {"content", "output", "cache", "clean", "filler"}
    found = [path.name for path in folder.iterdir() if path.name not in usual]
    return sorted(found + ([] if killed else [path.name for path in (folder / "cache").rglob(".aside-*")]))


@pytest.fixture
def small_disk() -> Iterator[Path]:
    """A disk of four megabytes."""
    if os.geteuid() != 0 or not shutil.which("mount"):
        pytest.skip("only root can make a disk")
    with tempfile.TemporaryDirectory() as name:
        made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=4m", "none", name], capture_output=True, check=False)
        if made.returncode:
            pytest.skip("this machine lets nobody make a disk")
        try:
            yield Path(name)
        finally:
            subprocess.run(["umount", "-l", name], check=True)


def test_a_full_disk_leaves_the_site_as_it_was_and_the_next_build_succeeds(small_disk: Path) -> None:
    write_files(small_disk / "content", SMALL)
    photograph(small_disk, "2024-05-01", 1)
    assert build(small_disk).returncode == 0
    filler, failed = small_disk / "filler", 0
    for number, free in enumerate(FILLED_TO):
        before = site(small_disk)
        named(small_disk, f"Name {number}")
        photograph(small_disk, "2024-05-01", number + 2)
        room = os.statvfs(small_disk)
        filler.write_bytes(b"\0" * max(0, room.f_bavail * room.f_frsize - free * 1024))
        done = build(small_disk)
        assert "Traceback" not in done.stderr
        if done.returncode:
            failed += 1
            assert "disk is full" in done.stderr, (free, done.stderr)
            assert site(small_disk) == before, free
        filler.unlink()
        assert aside(small_disk) == [], free
        done = build(small_disk)
        assert done.returncode == 0, done.stderr
        assert site(small_disk) != before
    assert failed >= 3
    shutil.copytree(small_disk / "content", small_disk / "clean" / "content")
    assert build(small_disk / "clean").returncode == 0
    assert site(small_disk / "clean") == site(small_disk)


def test_a_disk_that_can_only_be_read_is_told(small_disk: Path, tmp_path: Path) -> None:
    write_files(tmp_path / "content", SMALL)
    output = small_disk / "output"
    assert build(tmp_path, "--output", str(output)).returncode == 0
    before = site(small_disk)
    named(tmp_path, "Another")
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    try:
        done = build(tmp_path, "--output", str(output))
    finally:
        subprocess.run(["mount", "-o", "remount,rw", str(small_disk)], check=True)
    assert done.returncode == 1
    assert "can only be read" in done.stderr
    assert "Traceback" not in done.stderr
    assert site(small_disk) == before
    assert build(tmp_path, "--output", str(output)).returncode == 0


@pytest.mark.skipif(bool(POWERLESS) and not shutil.which("setpriv"), reason="root may touch everything")
@pytest.mark.parametrize("barred", ["output", ".", "content/animals/dam"])
def test_a_folder_that_may_not_be_touched_is_told_and_the_site_stays(tmp_path: Path, barred: str) -> None:
    write_files(tmp_path / "content", SMALL)
    assert build(tmp_path).returncode == 0
    before = site(tmp_path)
    named(tmp_path, "Another")
    (tmp_path / barred).chmod(0o000 if barred.startswith("content") else 0o500)
    done = powerless_build(tmp_path)
    stays = site(tmp_path)
    (tmp_path / barred).chmod(0o755)
    assert "Traceback" not in done.stderr
    assert done.returncode == 1, "nothing was barred"
    told = "check the permissions" if barred.startswith("content") else "there is no permission to write there"
    assert told in done.stderr, done.stderr
    assert stays == before
    done = build(tmp_path)
    assert done.returncode == 0, done.stderr
    assert site(tmp_path) != before
    assert aside(tmp_path) == []


@pytest.mark.skipif(bool(POWERLESS) and not shutil.which("setpriv"), reason="root may touch everything")
def test_a_folder_of_the_site_that_may_not_be_touched_does_not_keep_the_old_site_from_being_cleared(
    tmp_path: Path,
) -> None:
    write_files(tmp_path / "content", SMALL)
    assert build(tmp_path).returncode == 0
    before = site(tmp_path)
    named(tmp_path, "Another")
    (tmp_path / "output" / "animals").chmod(0o500)
    done = powerless_build(tmp_path)
    assert done.returncode == 0, done.stderr
    assert site(tmp_path) != before
    assert aside(tmp_path) == []


@pytest.mark.slow
def test_of_two_builds_at_once_each_ends_well_or_says_so(tmp_path: Path) -> None:
    many_animals(tmp_path)
    assert build(tmp_path).returncode == 0
    for number in range(3):
        named(tmp_path, f"Name {number}")
        both = [
            subprocess.Popen(
                [*SITEGEN, "build", "--workers", "2"], cwd=tmp_path, text=True,
                env=surroundings(tmp_path), stdout=subprocess.PIPE, stderr=subprocess.PIPE,
            )
            for _ in range(2)
        ]  # fmt: skip
        told = [each.communicate(timeout=120)[1] for each in both]
        assert 0 in [each.returncode for each in both], told
        for each, words in zip(both, told, strict=True):
            assert each.returncode == 0 or "another build is just writing" in words, words
        assert build(tmp_path).returncode == 0
        assert aside(tmp_path) == []
    shutil.copytree(tmp_path / "content", tmp_path / "clean" / "content")
    assert build(tmp_path / "clean").returncode == 0
    assert site(tmp_path / "clean") == site(tmp_path)


BACK_THEN = """
import sys, time
now, now_ns = time.time, time.time_ns
time.time = lambda: now() - 300_000_000
time.time_ns = lambda: now_ns() - 300_000_000 * 10**9
from sitegen.app.commands import main
sys.argv[1:] = ["build"]
main()
"""


@pytest.mark.slow
def test_a_clock_that_goes_back_changes_nothing(tmp_path: Path) -> None:
    write_files(tmp_path / "content", SMALL)
    photograph(tmp_path, "2024-05-01", 1)
    assert build(tmp_path).returncode == 0
    ahead = time.time() + 300_000_000
    for path in (*tmp_path.rglob("*"), tmp_path):
        os.utime(path, (ahead, ahead))
    for number in range(3):
        named(tmp_path, f"Name {number}")
        photograph(tmp_path, "2024-05-01", 5 + number)
        for path in (tmp_path / "content").rglob("*"):
            os.utime(path, (ahead, ahead))
        done = subprocess.run(
            [sys.executable, "-c", BACK_THEN], cwd=tmp_path, capture_output=True, text=True, env=surroundings(tmp_path)
        )
        assert done.returncode == 0, done.stderr
        clean = tmp_path.parent / f"{tmp_path.name}-clean{number}"
        shutil.copytree(tmp_path / "content", clean / "content")
        assert build(clean).returncode == 0
        assert site(clean) == site(tmp_path)
    assert aside(tmp_path) == []


def of_session(session: int) -> list[int]:
    """Processes of a session that are still at work."""
    found = []
    for folder in Path("/proc").iterdir():
        if folder.name.isdigit():
            try:
                state, _parent, _group, own = (folder / "stat").read_text().rpartition(")")[2].split()[:4]
            except OSError:
                continue
            if int(own) == session and state not in "ZX":
                found.append(int(folder.name))
    return found


@pytest.mark.slow
@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="there is no list of processes here")
def test_the_workers_of_a_killed_build_end_too(tmp_path: Path) -> None:
    many_animals(tmp_path)
    for number in range(6):
        photograph(tmp_path, f"2024-05-0{number + 1}", number)
    dice, had_workers = random.Random(8), 0
    begun = time.monotonic()
    assert build(tmp_path, "--workers", "3").returncode == 0
    usual = time.monotonic() - begun
    for number in range(6):
        named(tmp_path, f"Name {number}")
        photograph(tmp_path, "2024-05-01", 10 + number)
        before = site(tmp_path)
        process = subprocess.Popen(
            [*SITEGEN, "build", "--workers", "3"], cwd=tmp_path, start_new_session=True, env=surroundings(tmp_path),
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        while process.poll() is None and len(of_session(process.pid)) < 2:
            time.sleep(0.005)
        had_workers += process.poll() is None
        time.sleep(dice.uniform(0.0, 0.2) * usual)
        process.send_signal(signal.SIGKILL)
        process.wait()
        waited = time.monotonic()
        while of_session(process.pid) and time.monotonic() < waited + 30:
            time.sleep(0.05)
        assert of_session(process.pid) == []
        assert build(tmp_path, "--workers", "3").returncode == 0
        assert len(site(tmp_path)) == len(before)
        assert aside(tmp_path, killed=True) == []
    assert had_workers, "no kill met a worker; the trial tried nothing"
