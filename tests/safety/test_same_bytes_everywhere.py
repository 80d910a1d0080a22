"""The same records give the same bytes: in another folder, time zone, locale, hash seed, and number of workers."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

from command_line import SMALL
from PIL import Image
from written import write_files

PLAIN = {"PATH": os.environ["PATH"], "PYTHONHASHSEED": "0", "TZ": "UTC", "LC_ALL": "C", "LANG": "C"}
OTHER = {
    "PATH": os.environ["PATH"], "PYTHONHASHSEED": "4711", "TZ": "Pacific/Kiritimati", "LC_ALL": "tr_TR.UTF-8",
    "LANG": "tr_TR.UTF-8", "PYTHONUTF8": "0", "HOME": "/",
}  # fmt: skip


def site_of(folder: Path, surroundings: dict[str, str], *more: str) -> dict[str, str]:
    """Address to hash of every file of the built site."""
    content = write_files(folder / "content", SMALL)
    for number, colour in enumerate(("#a06040", "#405060")):
        Image.new("RGB", (1000, 700), colour).save(content / "animals" / "dam" / f"2024-05-0{number + 1}.jpg")
    made = subprocess.run(
        [sys.executable, "-m", "sitegen", "build", "--content", str(content), "--output", f"{folder}/output", *more],
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
    assert len(first) > 20
    assert first == second
