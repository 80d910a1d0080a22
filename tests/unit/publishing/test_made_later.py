"""Files that are made while they are written, by one process or several."""

import hashlib
import os
import signal
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from sitegen.findings import OutputRefused
from sitegen.publishing import crew
from sitegen.publishing.crew import Begun, share_out
from sitegen.publishing.release import Content, Last, Later, Made, publish

NAMES = [f"animals/a{number}.html" for number in range(130)]


def page(name: str, text: str = "") -> Callable[[], Made]:
    return lambda: Made(f"{name}{text}".encode(), note=f"made {name}")


def site(text: str = "") -> dict[str, Content]:
    def listing(notes: Mapping[str, object]) -> bytes:
        return "\n".join(str(note) for _, note in sorted(notes.items())).encode()

    return {"style.css": b"css", **{name: Later(page(name, text)) for name in NAMES}, "map.xml": Last(listing)}


def standing(output: Path) -> dict[str, bytes]:
    return {path.relative_to(output).as_posix(): path.read_bytes() for path in output.rglob("*") if path.is_file()}


def boom() -> Made:
    raise ValueError("this page cannot be made")


@pytest.mark.parametrize("workers", [1, 2, 3])
def test_every_number_of_workers_makes_the_same_site(tmp_path: Path, workers: int) -> None:
    told: list[tuple[int, int]] = []
    report = publish(site(), tmp_path / "o", workers=workers, tell=lambda done, total: told.append((done, total)))
    publish(site(), tmp_path / "plain")
    assert standing(tmp_path / "o") == standing(tmp_path / "plain")
    assert (report.written, report.kept, report.made, told[-1]) == (132, 0, 130, (130, 130))
    assert report.notes[NAMES[3]] == f"made {NAMES[3]}"
    assert report.digests[NAMES[3]] == hashlib.sha256(NAMES[3].encode()).hexdigest()


def test_lists_that_take_long_are_made_first(tmp_path: Path) -> None:
    made: list[str] = []

    def noting(name: str) -> Later:
        return Later(lambda: made.append(name) or page(name)())  # type: ignore[func-returns-value]  # to note it first

    publish({name: noting(name) for name in ("a/b.html", "search.html", "a/a.html", "about.html")}, tmp_path / "o")
    assert made == ["about.html", "search.html", "a/a.html", "a/b.html"]


@pytest.mark.parametrize("workers", [1, 2])
def test_what_is_made_the_same_again_leaves_the_site_as_it_is(tmp_path: Path, workers: int) -> None:
    publish(site(), tmp_path / "o")
    before = {name: (tmp_path / "o" / name).stat() for name in ("map.xml", *NAMES)}
    report = publish(site(), tmp_path / "o", workers=workers)
    assert (report.written, report.kept, report.made) == (0, 132, 130)
    assert {name: (tmp_path / "o" / name).stat().st_ino for name in before} == {n: s.st_ino for n, s in before.items()}
    report = publish(site(" again"), tmp_path / "o", workers=workers)
    assert (report.written, report.kept) == (130, 2)


def test_what_is_known_to_stand_is_not_made(tmp_path: Path) -> None:
    first = publish(site(), tmp_path / "o")
    known = {name: Later(boom, first.digests[name], first.notes[name]) for name in NAMES}
    report = publish({**site(), **known}, tmp_path / "o")
    assert (report.made, report.written, report.notes) == (0, 0, first.notes)
    (tmp_path / "o" / NAMES[7]).unlink()
    again = {**known, NAMES[7]: Later(page(NAMES[7]), first.digests[NAMES[7]], first.notes[NAMES[7]])}
    report = publish({**site(), **again}, tmp_path / "o")
    assert (report.made, report.written) == (1, 1)
    assert (tmp_path / "o" / NAMES[7]).read_bytes() == NAMES[7].encode()
    report = publish({**site(), **known, "more.html": b"more"}, tmp_path / "o")
    assert (report.made, report.written, report.kept) == (0, 1, 132)


def test_a_known_hash_of_something_else_is_no_reason_to_keep_it(tmp_path: Path) -> None:
    publish(site(), tmp_path / "o")
    changed = {NAMES[0]: Later(page(NAMES[0], " new"), hashlib.sha256(b"other").hexdigest(), "old note")}
    report = publish({**site(), **changed}, tmp_path / "o")
    assert (tmp_path / "o" / NAMES[0]).read_bytes() == f"{NAMES[0]} new".encode()
    assert report.notes[NAMES[0]] == f"made {NAMES[0]}"


@pytest.mark.parametrize("workers", [1, 2])
def test_a_page_that_fails_leaves_the_site_as_it_was(tmp_path: Path, workers: int) -> None:
    publish(site(), tmp_path / "o")
    before = standing(tmp_path / "o")
    with pytest.raises(ValueError, match="cannot be made"):
        publish({**site(" new"), NAMES[60]: Later(boom)}, tmp_path / "o", workers=workers)
    assert standing(tmp_path / "o") == before
    assert not (tmp_path / ".sitegen" / "release-o" / "next").exists()


def test_files_written_by_one_release_are_not_read_by_the_next_and_a_change_by_hand_is_seen(tmp_path: Path) -> None:
    publish(site(), tmp_path / "o", workers=2)
    assert len((tmp_path / ".sitegen/release-o/seen.json").read_text().split("animals/")) == 131
    (tmp_path / "o" / NAMES[0]).write_bytes(b"X" * len(NAMES[0]))
    with pytest.raises(OutputRefused, match=r"a0\.html"):
        publish(site(), tmp_path / "o")


@pytest.mark.skipif(not crew.CAN_COPY, reason="no copies of a process here")
def test_a_job_whose_worker_is_killed_is_done_all_the_same() -> None:
    here = os.getpid()

    def work(number: int) -> int:
        if number == 3 and os.getpid() != here:
            os.kill(os.getpid(), signal.SIGKILL)
        return number * number

    done: list[int] = []
    assert share_out(work, range(9), 2, done.append) == [n * n for n in range(9)]
    assert done[-1] == 9
    assert share_out(work, [], 2, done.append) == []


def fails() -> int:
    raise ValueError("not possible")


@pytest.mark.parametrize("apart", [True, False])
def test_work_that_goes_on_apart_gives_its_result_or_what_it_raised(apart: bool) -> None:
    assert Begun(lambda: 6 * 7, apart=apart).result() == 42
    with pytest.raises(ValueError, match="not possible"):
        Begun(fails, apart=apart).result()
    given_up = Begun(lambda: 1, apart=apart)
    given_up.stop()
    assert given_up.result() == 1


@pytest.mark.skipif(not crew.CAN_COPY, reason="no copies of a process here")
def test_work_apart_that_dies_is_done_here() -> None:
    here = os.getpid()

    def work() -> str:
        if os.getpid() != here:
            os.kill(os.getpid(), signal.SIGKILL)
        return "done"

    assert Begun(work, apart=True).result() == "done"


@pytest.mark.parametrize("workers", [1, 2])
def test_each_release_begins_with_what_the_one_before_left(tmp_path: Path, workers: int) -> None:
    output = tmp_path / "o"
    for number, name in enumerate([NAMES[0], NAMES[1], NAMES[0], NAMES[0]]):
        files = {**site(), name: Later(page(name, f" {number}"))}
        publish(files, output, workers=workers)
        made = {path.relative_to(output).as_posix(): path.read_bytes() for path in output.rglob("*.html")}
        assert {each: made[each] for each in NAMES} == {
            each: f"{each} {number}".encode() if each == name else each.encode() for each in NAMES
        }
