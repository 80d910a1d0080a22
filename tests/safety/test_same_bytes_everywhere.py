"""The same records give the same bytes: in another folder, time zone, locale, hash seed, number of workers, guarded."""

import hashlib
import os
import subprocess
from pathlib import Path

from helpers.from_text import write_files
from helpers.program import SITEGEN, SMALL
from PIL import Image

PYTHON = {name: os.environ[name] for name in ("PATH", "PYTHONPATH", "SITEGEN_CACHE") if name in os.environ}
PLAIN = {**PYTHON, "PYTHONHASHSEED": "0", "TZ": "UTC", "LC_ALL": "C", "LANG": "C"}
OTHER = {
    **PYTHON, "PYTHONHASHSEED": "4711", "TZ": "Pacific/Kiritimati", "LC_ALL": "tr_TR.UTF-8",
    "LANG": "tr_TR.UTF-8", "PYTHONUTF8": "0", "HOME": "/",
}  # fmt: skip


EVERYTHING = (
    SMALL.replace("name: Small", "name: Small\naddress: https://small.example/")
    + """
  "03":
    sex: female
    shows: []
    offer: {price: 140, state: available, since: 2022-09-01}
=== projects/two/project.yaml
name: Two
species: corn-snake
goal: {shows: [amel]}
horizon: 2030
stages:
  first: {season: 2022, dam: dam, sire: sire, litters: [2022-a], keep: {kept: {shows: [amel]}}}
  second: {season: 2027, dam: dam, sire: sire}
=== projects/two/updates/2022-07-02-first.md
# First

All out.
"""
)
"""With a road that is worked out by trials, feeds, offers and pictures to share."""
ANIMALS = 90
"""Enough pages that several processes make them."""


def site_of(folder: Path, surroundings: dict[str, str], *more: str) -> dict[str, str]:
    """Address to hash of every file of the built site."""
    content = write_files(folder / "content", EVERYTHING)
    for number in range(ANIMALS):
        record = content / "animals" / f"a{number:03d}" / "animal.yaml"
        record.parent.mkdir()
        record.write_text("species: corn-snake\nsex: male\nborn: 2020-05-01\nshows: []\n", encoding="utf-8")
    for number, colour in enumerate(("#a06040", "#405060")):
        Image.new("RGB", (1000, 700), colour).save(content / "animals" / "dam" / f"2024-05-0{number + 1}.jpg")
    made = subprocess.run(
        [*SITEGEN, "build", "--content", str(content), "--output", f"{folder}/output", *more],
        cwd=folder, env=surroundings, capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert made.returncode == 0, made.stderr
    output = folder / "output"
    return {
        str(path.relative_to(output)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(output.rglob("*"))
        if path.is_file()
    }


def test_the_same_records_give_the_same_bytes_everywhere(tmp_path: Path) -> None:
    here, there = tmp_path / "a", tmp_path / "another place ä"
    here.mkdir()
    there.mkdir()
    first = site_of(here, PLAIN, "--workers", "1")
    second = site_of(there, OTHER, "--workers", "3")
    assert len(first) > 100
    assert {"available.xml", "journal.xml", "projects/two.html", "projects/two.xml", "sitemap.xml"} <= first.keys()
    assert [name for name in first if "share" in name]
    assert first == second
