"""What was changed in any order can be taken back to the first sign, and one change alone without touching another."""

import datetime as dt
import os
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from unittest import mock

from helpers.any_changes import RECORDS, STEPS, Step
from helpers.from_text import write_files
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.findings import ContentError, WrongUse
from sitegen.keeper.records import check_proposal, open_records
from sitegen.keeper.undo import InTheWay, undo_proposal
from sitegen.keeper.undo_record import put_in_place

NOON = dt.datetime(2026, 11, 29, 12, tzinfo=dt.UTC)
Files = dict[str, bytes]


@contextmanager
def a_collection(windows: bool) -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as folder:
        root = write_files(Path(folder) / "content", RECORDS)
        if windows:
            for path in root.rglob("*.yaml"):
                path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
        with mock.patch.dict(os.environ, SITEGEN_UNDO=f"{folder}/undo"):
            yield root


def files(root: Path) -> Files:
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in root.rglob("*") if path.is_file()}


def take(root: Path, steps: list[Step]) -> list[Files]:
    """The files before each step that changed something, and at the end."""
    states = [files(root)]
    for step in steps:
        records = open_records(root)
        try:
            proposal = step(records)
            check_proposal(records, proposal)
        except (WrongUse, ContentError):
            continue
        if put_in_place(root, proposal, NOON).number:
            states.append(files(root))
    return states


def undo(root: Path, number: int = 0) -> int:
    return put_in_place(root, undo_proposal(open_records(root), number), NOON).number


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(steps=st.lists(STEPS, min_size=1, max_size=8), windows=st.booleans())
def test_all_that_was_done_is_undone_in_reverse(steps: list[Step], windows: bool) -> None:
    with a_collection(windows) as root:
        states = take(root, steps)
        undos = []
        for state in reversed(states[:-1]):
            undos.append(undo(root))
            assert files(root) == state
        for number, state in zip(reversed(undos), states[1:], strict=True):
            undo(root, number)
            assert files(root) == state


def lines(content: bytes | None) -> Counter[bytes]:
    return Counter((content or b"").splitlines())


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(steps=st.lists(STEPS, min_size=2, max_size=8), windows=st.booleans(), dice=st.randoms(use_true_random=False))
def test_one_change_alone_takes_its_own_lines_along_or_stays(steps: list[Step], windows: bool, dice: object) -> None:
    with a_collection(windows) as root:
        states = take(root, steps)
        if len(states) < 2:
            return
        number = dice.randint(1, len(states) - 1)  # type: ignore[attr-defined]
        before, after, now = states[number - 1], states[number], states[-1]
        taken, refused = 0, ""
        try:
            taken = undo(root, number)
        except InTheWay as told:
            refused = str(told)
        if refused:
            assert files(root) == now
            assert "take that one back first" in refused  # nobody's hand was here
            return
        found = files(root)
        for path in {*before, *after, *now}:
            came, went = (lines(side.get(path)) - lines(other.get(path)) for side, other in
                          ((after, before), (before, after)))  # fmt: skip
            assert lines(found.get(path)) == lines(now.get(path)) - came + went
        undo(root, taken)
        assert files(root) == now
