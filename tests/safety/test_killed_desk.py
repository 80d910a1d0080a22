"""The desk may be killed while it saves: what it said it kept is there, every file is whole, and all can be undone.

Run with ``KILLS=100`` for the long trial; the suite makes a short one.
"""

import datetime as dt
import os
import random
import re
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from http.client import HTTPException
from pathlib import Path

import pytest
from helpers.any_changes import RECORDS
from helpers.at_the_desk import Keeper
from helpers.from_text import write_files

from sitegen.app.commands.desk import desk_of
from sitegen.app.loopback import LoopbackServer
from sitegen.build import Order
from sitegen.keeper.records import open_records
from sitegen.keeper.undo import undo_proposal
from sitegen.keeper.undo_record import changes_of, put_in_place

pytestmark = pytest.mark.slow

KILLS = int(os.environ.get("KILLS", "12"))
TODAY = dt.date(2026, 11, 29)
NOON = dt.datetime(2026, 11, 29, 12, tzinfo=dt.UTC)


@contextmanager
def desk_to_be_killed(content: Path) -> Iterator[tuple[Keeper, int]]:
    """A desk in a process of its own, and the number of that process."""
    reads, writes = os.pipe()
    if not (child := os.fork()):
        try:
            order = Order(content, content.parent / "output", content.parent / "themes")
            app = desk_of(order, lambda: TODAY, lambda told: None)
            with LoopbackServer(app, lambda told: None, methods=("GET", "HEAD", "POST")) as line:
                os.write(writes, f"{line.port}\n".encode())
                signal.pause()
        finally:
            os._exit(1)
    try:
        port = int(os.read(reads, 16))
        yield Keeper(port, content), child
    finally:
        os.close(reads)
        os.close(writes)
        with suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)


def saves_until_killed(content: Path, seconds: float, dice: random.Random, kept: dict[str, str]) -> None:
    """Note in ``kept`` by day the weights that the desk said it kept; the one that it was killed at is not known."""
    with desk_to_be_killed(content) as (keeper, child):
        keeper.look("/round")
        threading.Timer(seconds, os.kill, (child, signal.SIGKILL)).start()
        with suppress(OSError, HTTPException):
            while True:
                day = (dt.date(2024, 1, 1) + dt.timedelta(days=dice.randrange(900))).isoformat()
                grams = str(dice.randrange(300, 400))
                kept.pop(day, None)
                found = keeper.send(f"/round?day={day}", **{"weight:juniper": grams, "sure:juniper": grams})
                assert found.status == 200, found.text
                kept[day] = grams


def test_nothing_that_the_desk_kept_is_lost_when_it_is_killed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SITEGEN_UNDO", str(tmp_path / "undo"))
    root = write_files(tmp_path / "content", RECORDS)
    first = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
    dice, kept = random.Random(20261130), dict[str, str]()
    for _ in range(KILLS):
        saves_until_killed(root, dice.uniform(0.02, 0.5), dice, kept)
        records = open_records(root)
        written = records.text("animals/juniper/animal.yaml")
        assert [finding for finding in records.reading if "not read" not in finding.message] == []
        for day, grams in kept.items():
            assert re.search(rf"{day}: {grams} g", written), (day, grams)
    assert len(kept) > KILLS / 2, "hardly anything was kept; the trial tried nothing"
    for number in [change.number for change in changes_of(root)]:
        put_in_place(root, undo_proposal(open_records(root), number), NOON)
    left = {path: path.read_bytes() for path in root.rglob("*") if path.is_file() and ".sitegen-" not in path.name}
    assert left == first
