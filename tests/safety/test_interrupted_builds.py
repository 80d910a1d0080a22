"""An interrupt at any moment, of the main process alone or of all: nothing changed, or all of it, and told truly.

Run with ``STOPS=100`` for the long trial; the suite makes a short one.
"""

import os
import random
import signal
import subprocess
import time
from pathlib import Path
from unittest import mock

import pytest
from helpers.from_text import write_files
from helpers.program import SITEGEN, SMALL, run
from PIL import Image

pytestmark = pytest.mark.slow

STOPS = int(os.environ.get("STOPS", "4"))
NOTHING, DONE = "Stopped. Nothing was changed.", "Stopped. This had been written, each file whole:"


def start(folder: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [*SITEGEN, "build", "--workers", "2"], cwd=folder, start_new_session=True, text=True,
        env={**os.environ, "SITEGEN_CACHE": str(folder / "cache")}, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


def finish(folder: Path) -> None:
    with mock.patch.dict(os.environ, SITEGEN_CACHE=str(folder / "cache")):
        done = run(folder, "build", "--workers", "2")
    assert done.returncode == 0, done.stderr


def site(folder: Path) -> dict[str, bytes]:
    output = folder / "output"
    return {str(path.relative_to(output)): path.read_bytes() for path in output.rglob("*") if path.is_file()}


def change(folder: Path, name: str) -> None:
    (folder / "content" / "site.yaml").write_text(f"name: Site of {name}\ncurrency: GBP\n", encoding="utf-8")
    for number in range(3):
        Image.effect_noise((900, 600), 60).convert("RGB").save(
            folder / "content" / "animals" / "dam" / f"2024-05-0{number + 1}.jpg"
        )


def wait_until_it_listens(process: subprocess.Popen[str]) -> None:
    """Wait until the program has said what is to happen on SIGTERM; before that the system ends it, wordless."""
    status = Path(f"/proc/{process.pid}/status")
    while process.poll() is None:
        caught = next(line for line in status.read_text().splitlines() if line.startswith("SigCgt:"))
        if int(caught.split()[1], 16) & (1 << (signal.SIGTERM - 1)):
            return
        time.sleep(0.002)


def of_session(session: int) -> list[str]:
    """Processes of a session that have not ended."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[3]) == session and fields[0] not in "ZX":
            found.append(stat.parent.name)
    return found


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="there is no list of processes here")
@pytest.mark.parametrize("whom", ["all", "the main process", "the main process, twice"])
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=["interrupt", "terminate"])
def test_a_build_interrupted_at_any_moment_leaves_nothing(tmp_path: Path, number: signal.Signals, whom: str) -> None:
    dice = random.Random(f"{number}{whom}")
    write_files(tmp_path / "content", SMALL)
    for animal in range(24):
        record = tmp_path / "content" / "animals" / f"a{animal:03d}" / "animal.yaml"
        record.parent.mkdir()
        record.write_text("species: corn-snake\nsex: female\nborn: 2020-05-01\nshows: []\n", encoding="utf-8")
    begun = time.monotonic()
    change(tmp_path, "Name")
    start(tmp_path).communicate(timeout=120)
    usual = time.monotonic() - begun
    stopped = 0
    for turn in range(STOPS):
        before = site(tmp_path)
        change(tmp_path, f"Name{turn}")
        process = start(tmp_path)
        wait_until_it_listens(process)
        time.sleep(dice.uniform(0.0, 1.0) * usual)
        if whom == "all":
            os.killpg(process.pid, number)
        else:
            process.send_signal(number)
        if whom.endswith("twice"):
            time.sleep(dice.choice((0.0, 0.001, 0.02)))
            process.send_signal(number)
        _out, told = process.communicate(timeout=60)
        assert "Traceback" not in told, told
        assert "Exception ignored" not in told, told
        for _ in range(100):
            if not of_session(process.pid):
                break
            time.sleep(0.01)
        assert of_session(process.pid) == []
        assert sorted(path.name for path in tmp_path.iterdir()) == ["cache", "content", "output"]
        after = site(tmp_path)
        if process.returncode == 0:
            finish(tmp_path)
            assert after == site(tmp_path)
            continue
        assert process.returncode == 1
        stopped += 1
        if NOTHING in told:
            assert after == before
        else:
            assert DONE in told
            finish(tmp_path)
            assert after == site(tmp_path)
    assert stopped, "nothing was interrupted; the trial tried nothing"
    finish(tmp_path)
