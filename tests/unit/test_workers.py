import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from sitegen.workers import Crashed, in_workers, number_of_workers

AT_WORK = """
import os, sys, threading, time
from pathlib import Path
from sitegen.workers import in_workers

def work(folder):
    (folder / str(os.getpid())).touch()
    time.sleep(60)

if __name__ == "__main__":
    if sys.argv[2] == "beside a thread":
        threading.Thread(target=time.sleep, args=[60], daemon=True).start()
    try:
        in_workers(work, [Path(sys.argv[1])] * 6, 2)
    except KeyboardInterrupt:
        print("stopped")
"""


@pytest.fixture(params=["alone", "beside a thread"])
def both_ways(request: pytest.FixtureRequest) -> Iterator[None]:
    """Workers as copies of this process, and of a small one."""
    over = threading.Event()
    beside = threading.Thread(target=over.wait)
    if request.param == "beside a thread":
        beside.start()
    yield
    over.set()
    if request.param == "beside a thread":
        beside.join()


@pytest.mark.usefixtures("both_ways")
def test_results_come_in_the_order_of_the_jobs() -> None:
    jobs = list(range(20))
    for workers in (1, 2):
        assert in_workers(str, jobs, workers) == [str(job) for job in jobs]


def test_nothing_to_do_tells_so() -> None:
    told: list[tuple[int, int]] = []
    assert in_workers(str, [], 2, lambda done, total: told.append((done, total))) == []
    assert told == [(0, 0)]


@pytest.mark.usefixtures("both_ways")
@pytest.mark.parametrize("end", ["_exit(3)", "kill(os.getpid(), 9)"])
def test_a_job_that_takes_its_process_down_is_found_and_the_others_are_done(end: str) -> None:
    jobs = ["1 + 1", f"[os.{end} for os in [__import__('os')]]", *(f"{number} + 0" for number in range(20))]
    told: list[tuple[int, int]] = []
    results = in_workers(eval, jobs, 2, lambda done, total: told.append((done, total)))
    assert [results[0], *results[2:]] == [2, *range(20)]
    assert isinstance(results[1], Crashed)
    assert told == [(done, 22) for done in range(23)]


@pytest.mark.usefixtures("both_ways")
def test_every_job_may_take_its_process_down_many_times() -> None:
    for n_jobs in (1, 2, 4, 9) * 3:
        results = in_workers(os._exit, [3] * n_jobs, 2)
        assert [type(result) for result in results] == [Crashed] * n_jobs


@pytest.mark.usefixtures("both_ways")
def test_a_process_that_dies_with_much_still_to_be_handed_out_holds_up_nothing() -> None:
    """More than a pipe holds (64 KiB) is on its way to the workers."""
    jobs = ["'a' * 3", "__import__('os')._exit(3)", *(f"{'x' * 200_000!r}[:1]" for _ in range(8))]
    results = in_workers(eval, jobs, 2)
    assert [results[0], *results[2:]] == ["aaa", *["x"] * 8]
    assert isinstance(results[1], Crashed)


@pytest.mark.usefixtures("both_ways")
@pytest.mark.parametrize("fault", [ZeroDivisionError, MemoryError, OSError])
def test_what_a_job_raises_is_raised_here(fault: type[Exception]) -> None:
    raising = f"(_ for _ in ()).throw({fault.__name__})"
    for workers in (1, 2):
        with pytest.raises(fault):
            in_workers(eval, ["1", f"next({raising})", "2", "3"], workers)


@pytest.mark.usefixtures("both_ways")
def test_an_error_that_cannot_travel_is_told_in_its_place() -> None:
    job = "type('Odd', (Exception,), {})('words')"
    with pytest.raises(Exception, match="Odd"):
        in_workers(eval, ["1", f"next((_ for _ in ()).throw({job}))", "2"], 2)


def test_the_number_of_workers_is_the_wanted_or_the_processors() -> None:
    assert number_of_workers(3) == 3
    assert number_of_workers() >= 1


@pytest.mark.parametrize("error", [OSError("no /dev/shm"), ImportError("no semaphores")])
def test_where_no_pool_can_be_made_the_work_is_done_here(monkeypatch: pytest.MonkeyPatch, error: Exception) -> None:
    def refuse(*arguments: object) -> None:
        raise error

    monkeypatch.setattr("sitegen.workers.ProcessPoolExecutor", refuse)
    assert in_workers(str, [1, 2, 3, 4], 2) == ["1", "2", "3", "4"]


@pytest.mark.parametrize("beside", ["alone", "beside a thread"])
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_workers_end_with_their_parent(tmp_path: Path, number: signal.Signals, beside: str) -> None:
    """SIGTERM and SIGKILL as the system gives them, SIGINT as the keyboard does: to the whole group."""
    program, marks = tmp_path / "at_work.py", tmp_path / "marks"
    program.write_text(AT_WORK, encoding="utf-8")
    marks.mkdir()
    parent = subprocess.Popen(
        [sys.executable, str(program), str(marks), beside], start_new_session=True,
        text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    _wait_until(lambda: len(list(marks.iterdir())) == 2)
    crew = [int(mark.name) for mark in marks.iterdir()]
    assert all(_is_alive(worker) for worker in crew)
    if number == signal.SIGINT:
        os.killpg(parent.pid, number)
    else:
        parent.send_signal(number)
    out, told = parent.communicate(timeout=60)
    assert out == ("stopped\n" if number == signal.SIGINT else "")
    assert "Traceback" not in told
    _wait_until(lambda: not any(_is_alive(worker) for worker in crew))


def _wait_until(done: Callable[[], bool]) -> None:
    deadline = time.monotonic() + 60
    while not done():
        assert time.monotonic() < deadline
        time.sleep(0.02)


def _is_alive(process: int) -> bool:
    try:
        os.kill(process, 0)
        state = Path(f"/proc/{process}/stat")
        return not state.exists() or state.read_text().rpartition(")")[2].split()[0] not in ("Z", "X")
    except (ProcessLookupError, FileNotFoundError):
        return False
