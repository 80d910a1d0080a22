"""Whoever changes a collection may be killed at any moment: each file is whole, and all can be taken back to the start.

Run with ``KILLS=200`` for the long trial; the suite makes a short one.
"""

import datetime as dt
import os
import random
import signal
import time
from pathlib import Path

import pytest
from helpers.any_changes import RECORDS
from helpers.from_text import write_files

from sitegen.content.writing import FileChange
from sitegen.findings import ContentError, WrongUse
from sitegen.keeper.new_records import add_animal
from sitegen.keeper.noted import Noted, add_events, add_measured
from sitegen.keeper.records import Proposal, Records, open_records
from sitegen.keeper.removing import remove_record
from sitegen.keeper.undo import InTheWay, undo_proposal
from sitegen.keeper.undo_record import changes_of, put_in_place

pytestmark = pytest.mark.slow

KILLS = int(os.environ.get("KILLS", "25"))
NOON = dt.datetime(2026, 11, 29, 12, tzinfo=dt.UTC)


def proposed(records: Records, dice: random.Random) -> Proposal:
    day = dt.date(2024, 1, 1) + dt.timedelta(days=dice.randrange(600))
    photo = f"animals/flint/{day}.jpg"
    if dice.random() < 0.2:
        return undo_proposal(records)
    if dice.random() < 0.2:
        return add_animal(records, "Hazel", "", {})
    if dice.random() < 0.3:
        return remove_record(records, dice.choice(["hazel", "hazel-2", "2022-a/01", "2022-a/03"]))
    if dice.random() < 0.4:
        return add_measured(records, "weights", [Noted("juniper", f"{dice.randrange(1, 500)}g", day)])
    if dice.random() < 0.5:
        return add_events(records, [Noted(each, "shed", day) for each in ("juniper", "flint", "2022-a/01")])
    if there := records.content.photos.get("animals/flint"):
        return Proposal((FileChange(there[0], records.raw(there[0]), None),), "a photograph less")
    return Proposal((FileChange(photo, None, dice.randbytes(20_000)),), "a photograph more")


def change_without_end(root: Path, seed: int) -> None:
    dice = random.Random(seed)
    while True:
        try:
            put_in_place(root, proposed(open_records(root), dice), NOON)
        except (WrongUse, ContentError, InTheWay):
            continue


def killed_after(root: Path, seconds: float, seed: int) -> None:
    if not (child := os.fork()):
        try:
            change_without_end(root, seed)
        finally:
            os._exit(1)
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "it ended by itself"


def files(root: Path) -> dict[str, bytes]:
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in root.rglob("*")
            if path.is_file() and ".sitegen-" not in path.name}  # fmt: skip


def test_nothing_is_lost_when_a_change_is_killed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SITEGEN_UNDO", str(tmp_path / "undo"))
    root = write_files(tmp_path / "content", RECORDS)
    first, dice = files(root), random.Random(20261129)
    for seed in range(KILLS):
        killed_after(root, dice.uniform(0, 0.2), seed)
        records = open_records(root)
        assert [finding for finding in records.reading if "not read" not in finding.message] == []
        assert all(records.text(path) for path in first)
    made = [change.number for change in changes_of(root)]
    assert len(made) > KILLS / 5, "hardly anything was changed; the trial tried nothing"
    for number in made:
        put_in_place(root, undo_proposal(open_records(root), number), NOON)
    assert files(root) == first
