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

import pytest
from helpers.from_text import write_files
from helpers.program import SITEGEN, SMALL
from PIL import Image

from sitegen.photos.store import _ASIDE, _LONG_AGO_S

KILLS = int(os.environ.get("KILLS", "8"))


def start(folder: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [*SITEGEN, "build", "--workers", "3"], cwd=folder, start_new_session=True, text=True,
        env={**os.environ, "SITEGEN_CACHE": str(folder / "cache")}, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


def finish(folder: Path) -> None:
    process = start(folder)
    _out, told = process.communicate(timeout=120)
    assert process.returncode == 0, told


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


@pytest.mark.parametrize(("more", "kills"), [(0, KILLS), (90, KILLS // 4)], ids=["few pages", "pages in processes"])
def test_a_build_killed_at_any_moment_leaves_a_whole_site(tmp_path: Path, more: int, kills: int) -> None:
    dice = random.Random(20261125)
    write_files(tmp_path / "content", SMALL)
    for number in range(more):
        record = tmp_path / "content" / "animals" / f"a{number:03d}" / "animal.yaml"
        record.parent.mkdir()
        record.write_text("species: corn-snake\nsex: female\nborn: 2020-05-01\nshows: []\n", encoding="utf-8")
    finish(tmp_path)
    begun = time.monotonic()
    rename(tmp_path, "Name0")
    finish(tmp_path)
    usual = time.monotonic() - begun
    met = {"old": 0, "new": 0}
    for number in range(1, kills + 1):
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
    for path in (tmp_path / "cache").rglob(f"{_ASIDE}*"):  # half a write of the store; it is cleared once it is old
        os.utime(path, (time.time() - 2 * _LONG_AGO_S,) * 2)
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
