"""Any sequence of additions and changes keeps every comment, every name and every other record, sign by sign."""

import difflib
import re
import tempfile
from pathlib import Path

from helpers.any_changes import RECORDS, STEPS, Step
from helpers.from_text import write_files
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.content.writing import write
from sitegen.findings import ContentError, WrongUse
from sitegen.keeper import splicing
from sitegen.keeper.records import Proposal, check_proposal, open_records


def comments(text: str) -> list[str]:
    return re.findall(r"# c\d[^\n]*", text)


def names(found: object, path: tuple[str, ...] = ()) -> set[tuple[str, ...]]:
    if isinstance(found, dict):
        return {(*path, key) for key in found} | {n for key, each in found.items() for n in names(each, (*path, key))}
    if isinstance(found, list):
        entries = {(*path, str(at)) for at in range(len(found))}
        return entries | {n for at, each in enumerate(found) for n in names(each, (*path, str(at)))}
    return set()


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(steps=st.lists(STEPS, min_size=1, max_size=8), windows=st.booleans())
def test_a_sequence_of_changes_loses_nothing(steps: list[Step], windows: bool) -> None:
    with tempfile.TemporaryDirectory() as folder:
        root = write_files(Path(folder), RECORDS)
        if windows:
            for path in root.rglob("*.yaml"):
                path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
        for step in steps:
            before = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
            records = open_records(root)
            try:
                change = step(records)
                check_proposal(records, change)
            except (WrongUse, ContentError):
                change = Proposal((), "")
            write(root, change.files)
            after = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
            touched = {root / file.path for file in change.files}
            assert set(before) - set(after) == set()
            assert {path for path in after if after[path] != before.get(path)} == touched
            for path in touched & set(before):
                _check_one(before[path].decode(), after[path].decode())


def _check_one(before: str, after: str) -> None:
    assert comments(after) == comments(before)
    old, new = splicing.plain(before), splicing.plain(after)
    assert names(old) <= names(new)
    assert ("\r\n" in after) == ("\r\n" in before)
    kept = difflib.SequenceMatcher(None, before.splitlines(True), after.splitlines(True), autojunk=False)
    replaced = sum(i2 - i1 for tag, i1, i2, _, _ in kept.get_opcodes() if tag != "equal")
    assert replaced <= 4  # price, its currency, state and day of one offer; every other line is equal sign by sign
