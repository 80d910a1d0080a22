"""What is said to have happened has happened by the day that the clock of the computer says, or ``--date``."""

import contextlib
import datetime as dt
import io
from collections.abc import Mapping
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SMALL

from sitegen.app.commands import main, options

AHEAD = """
=== animals/dam/animal.yaml
species: corn-snake
sex: female
born: 2018-06-01
shows: []
stated: {amel: certain}
weights: {2031-05-01: 402 g}
"""


def run(folder: Path, *words: str) -> tuple[int, str]:
    told = io.StringIO()
    with contextlib.chdir(folder), contextlib.redirect_stderr(told), contextlib.redirect_stdout(told):
        with pytest.raises(SystemExit) as ended:
            main(list(words))
        return int(ended.value.code or 0), told.getvalue()


def on(day: dt.date, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(options, "clock", lambda: day)


READING = (
    ["check"], ["build"], ["why", "dam"], ["odds", "dam", "sire"], ["plan"], ["export"], ["import", "sheet.csv"],
    ["today"],
)  # fmt: skip


@pytest.mark.parametrize("words", READING, ids=lambda words: words[0])
def test_every_command_that_reads_tells_a_day_that_has_not_come(words: list[str], tmp_path: Path) -> None:
    write_files(tmp_path / "content", SMALL + AHEAD)
    (tmp_path / "sheet.csv").write_text("name,sex\nHazel,female\n")
    status, told = run(tmp_path, *words)
    assert status == 1
    assert "dam: a weight is dated 2031-05-01, and today is 2026-11-29" in told
    assert "Is the clock of this computer right?" in told
    assert not (tmp_path / "output").exists()
    status, told = run(tmp_path, *words, "--date", "2031-05-02")
    assert "today is" not in told


def test_one_day_more_is_let_pass_and_two_are_not(tmp_path: Path) -> None:
    write_files(tmp_path / "content", SMALL + AHEAD)
    assert run(tmp_path, "check", "--date", "2031-04-30")[0] == 0
    assert run(tmp_path, "check", "--date", "2031-04-29")[0] == 1


def test_what_is_added_for_a_day_that_has_not_come_is_not_written(tmp_path: Path) -> None:
    write_files(tmp_path / "content", SMALL)
    before = (tmp_path / "content/animals/dam/animal.yaml").read_bytes()
    status, told = run(tmp_path, "add", "weight", "dam", "402 g", "--on", "2027-05-01")
    assert (status, "today is 2026-11-29" in told) == (1, True)
    assert (tmp_path / "content/animals/dam/animal.yaml").read_bytes() == before


def bytes_of(folder: Path) -> Mapping[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_pages_say_the_same_on_every_day(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    sites = []
    for day in (dt.date(2022, 7, 1), dt.date(2026, 11, 29), dt.date(2099, 1, 1)):
        write_files(tmp_path / str(day.year) / "content", SMALL)
        on(day, monkeypatch)
        assert run(tmp_path / str(day.year), "build")[0] == 0
        sites.append(bytes_of(tmp_path / str(day.year) / "output"))
    assert sites[0] == sites[1] == sites[2]


def test_a_day_far_from_our_time_is_none(tmp_path: Path) -> None:
    write_files(tmp_path / "content", SMALL)
    for words in (["check"], ["today"]):
        for day in ("9999-12-31", "2200-01-01", "1899-12-31"):
            status, told = run(tmp_path, *words, "--date", day)
            assert (status, "is no day" in told) == (2, True)
        assert run(tmp_path, *words, "--date", "2199-12-31")[0] == 0
