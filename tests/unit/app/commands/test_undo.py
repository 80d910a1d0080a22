"""``undo`` as a breeder meets it."""

import json
from collections.abc import Iterator
from pathlib import Path
from unittest import mock

import pytest
from helpers.keeping import all_files, record, typed

LITTER = "litters/2026-juniper-flint/litter.yaml"


@pytest.fixture
def sold(snakes: Path) -> Path:
    """Two offers of young that stand on lines of their own."""
    typed(snakes, "set", "2026-juniper-flint/01", "available", "--on", "2026-10-01", "--price", "140")
    typed(snakes, "set", "2026-juniper-flint/02", "available", "--on", "2026-10-01", "--price", "90")
    return snakes


@pytest.fixture(autouse=True)
def _own_record(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("SITEGEN_UNDO", str(tmp_path / "record"))
    return


def test_the_last_change_and_then_an_earlier_one(sold: Path) -> None:
    done = typed(sold, "undo")
    assert done.stdout == (
        "Taken back: 2026-juniper-flint/02: available since 2026-10-01, price 90.\n"
        f"  changed: {LITTER}\n"
    )  # fmt: skip
    assert "price: 140" in record(sold, LITTER)
    typed(sold, "undo", "6")
    assert "price: 90" in record(sold, LITTER)
    typed(sold, "undo", "4")
    assert "140" not in record(sold, LITTER)
    assert "price: 90" in record(sold, LITTER)


def test_the_list_tells_number_hour_and_what_was_told(sold: Path) -> None:
    typed(sold, "undo")
    lines = typed(sold, "undo", "--list").stdout.splitlines()
    assert lines[0].split() == ["number", "when", "change"]
    assert lines[1].startswith("1       2026-11-29 ")
    assert lines[1].endswith("Juniper stands in animals/juniper now.")
    assert lines[5].endswith("2026-juniper-flint/02: available since 2026-10-01, price 90. (taken back by 6)")
    (*_, fifth, sixth) = json.loads(typed(sold, "undo", "--list", "--json").stdout)["changes"]
    assert (fifth["number"], fifth["undoes"], fifth["taken_back_by"]) == (5, None, 6)
    assert (sixth["undoes"], sixth["taken_back_by"]) == (5, None)
    assert sixth["files"] == [{"path": LITTER, "was": "changed"}]


def test_it_is_shown_before_it_is_done(sold: Path) -> None:
    before = all_files(sold)
    shown = typed(sold, "undo", "--dry-run").stdout
    assert '-  "02": {offer: {price: 90' in shown
    assert all_files(sold) == before


def test_what_stands_in_the_way_is_told_and_nothing_changes(sold: Path) -> None:
    typed(sold, "set", "2026-juniper-flint/01", "sold", "--on", "2026-11-01")
    before = all_files(sold)
    told = typed(sold, "undo", "4", status=1).stderr
    assert 'Change 4, "2026-juniper-flint/01: available since 2026-10-01, price 140."' in told
    assert f"{LITTER}:7 was changed since by change 6" in told
    assert "take that one back first: sitegen undo 6" in told
    assert all_files(sold) == before


def test_what_others_name_is_not_undone(snakes: Path) -> None:
    before = all_files(snakes)
    told = typed(snakes, "undo", "2", status=1).stderr
    assert "litters/2026-juniper-flint/litter.yaml" in told
    assert 'there is no animal "flint"' in told
    assert all_files(snakes) == before


def test_an_import_is_one_change(snakes: Path) -> None:
    before = all_files(snakes)
    (snakes / "sheet.csv").write_text("name,sex\nHazel,female\nMoth,male\n")
    typed(snakes, "import", "sheet.csv", "--species", "corn-snake")
    assert (snakes / "content/animals/moth").is_dir()
    assert "Taken back: 2 records from sheet.csv." in typed(snakes, "undo").stdout
    (snakes / "sheet.csv").unlink()
    assert all_files(snakes) == before


def test_forgetting_asks_and_leaves_nothing_of_a_person(sold: Path) -> None:
    kept = sold.parent / "record"
    before = all_files(sold)
    assert "write --yes as well" in typed(sold, "undo", "--forget", status=2).stderr
    assert "nothing was forgotten" in typed(sold, "undo", "--forget", "--dry-run").stdout
    assert all_files(kept)
    told = typed(sold, "undo", "--forget", "--yes").stdout
    assert "Forgotten: 5 changes, the first of 2026-11-29" in told
    assert all_files(kept) == {}
    assert all_files(sold) == before
    assert typed(sold, "undo").stdout == "There is nothing to take back.\n"
    assert "No change" in typed(sold, "undo", "--list").stdout


@pytest.mark.parametrize("answer", [True, False])
def test_at_a_terminal_forgetting_is_asked(sold: Path, answer: bool) -> None:
    with (
        mock.patch("sitegen.app.commands.undo.sys") as system,
        mock.patch("sitegen.app.commands.undo.click.confirm", return_value=answer) as asked,
    ):
        system.stdin.isatty.return_value = True
        typed(sold, "undo", "--forget")
    assert "holds 5 changes" in asked.call_args.args[0]
    assert asked.call_args.kwargs["abort"] is True


@pytest.mark.parametrize("words", [["3", "--list"], ["--list", "--forget"], ["3", "--forget"], ["--yes"], ["0"]])
def test_options_that_do_not_fit_are_told(sold: Path, words: list[str]) -> None:
    before = all_files(sold)
    typed(sold, "undo", *words, status=2)
    assert all_files(sold) == before


def test_what_is_to_be_dropped_is_told_beside_a_change(sold: Path) -> None:
    with mock.patch("sitegen.keeper.undo_record.TEXT_BYTES", 100):
        done = typed(sold, "set", "2026-juniper-flint/01", "sold", "--on", "2026-11-01")
    assert "can be taken back until 2026-12-06; after that they are dropped" in done.stderr
