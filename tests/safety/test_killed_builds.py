"""A build killed at any moment leaves the old site or the new one, the next succeeds, and no litter is left behind.

Run with ``KILLS=200`` for the long trial; the suite makes a short one.
"""

import hashlib
import os
import random
import shutil
import signal
import subprocess
import time
from pathlib import Path
from unittest import mock

import pytest
from helpers.from_text import write_files
from helpers.program import SITEGEN, SMALL, run
from PIL import Image

from sitegen.photos.store import ASIDE, LONG_AGO_S

pytestmark = pytest.mark.slow

KILLS = int(os.environ.get("KILLS", "10"))


def start(folder: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [*SITEGEN, "build", "--workers", "3"], cwd=folder, start_new_session=True, text=True,
        env={**os.environ, "SITEGEN_CACHE": str(folder / "cache")}, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


def finish(folder: Path) -> None:
    with mock.patch.dict(os.environ, SITEGEN_CACHE=str(folder / "cache")):
        done = run(folder, "build", "--workers", "3")
    assert done.returncode == 0, done.stderr


def site(folder: Path) -> dict[str, str]:
    """Address to hash of all that a visitor can ask for."""
    output = folder / "output"
    return {
        str(path.relative_to(output)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(output.rglob("*"))
        if path.is_file()
    }


def rename(folder: Path, name: str) -> None:
    record = folder / "content" / "animals" / "dam" / "animal.yaml"
    text = "\n".join(line for line in record.read_text("utf-8").splitlines() if not line.startswith("name:"))
    record.write_text(f"name: {name}\n{text}\n", encoding="utf-8")
    (folder / "content" / "site.yaml").write_text(f"name: Site of {name}\ncurrency: GBP\n", encoding="utf-8")
    Image.effect_noise((900, 600), 60).convert("RGB").save(record.parent / f"2024-05-01 {name}.jpg")


def test_a_build_killed_at_any_moment_leaves_a_whole_site(tmp_path: Path) -> None:
    dice = random.Random(20261125)
    write_files(tmp_path / "content", SMALL)
    finish(tmp_path)
    rename(tmp_path, "Name0")
    begun = time.monotonic()
    start(tmp_path).communicate()
    usual = time.monotonic() - begun
    met = {"old": 0, "new": 0}
    for number in range(1, KILLS + 1):
        before = site(tmp_path)
        rename(tmp_path, f"Name{number}")
        process = start(tmp_path)
        time.sleep(dice.uniform(0.0, 1.1) * usual)
        os.killpg(process.pid, signal.SIGKILL)
        process.communicate()
        after = site(tmp_path)
        finish(tmp_path)
        whole = site(tmp_path)
        assert after in (before, whole), f"kill {number}"
        met["old" if after == before else "new"] += 1
    assert met["old"], "no kill came before the end; the trial tried nothing"
    clean = tmp_path / "clean"
    rename(tmp_path, "Last")
    for path in (tmp_path / "cache").rglob(f"{ASIDE}*"):  # half a write of the store; it is cleared once it is old
        os.utime(path, (time.time() - 2 * LONG_AGO_S,) * 2)
    shutil.copytree(tmp_path / "content", clean / "content")
    finish(clean)
    finish(tmp_path)
    assert site(clean) == site(tmp_path)
    kept = sorted(path.name for path in tmp_path.iterdir())
    assert kept == sorted({path.name for path in clean.iterdir()} | {"clean"}), kept
    assert stored(tmp_path) == stored(clean)


def stored(folder: Path) -> dict[str, set[str]]:
    """What lies in each part of the store that hangs on photographs alone."""
    return {kind: {path.name for path in (folder / "cache" / kind).glob("*/*")} for kind in ("pictures", "tiny")}
