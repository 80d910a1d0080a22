import os
import subprocess
import sys
import time

import pytest

from sitegen.photos import workers as workers_module
from sitegen.photos.workers import Crashed, in_workers, number_of_workers


@pytest.fixture(params=[True, False], ids=["alone", "beside threads"])
def both_ways(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Workers as copies of this process, and of a small one."""
    monkeypatch.setattr(workers_module, "_is_alone", lambda: request.param)


@pytest.mark.usefixtures("both_ways")
def test_results_come_in_the_order_of_the_jobs() -> None:
    jobs = list(range(20))
    for workers in (1, 2):
        assert list(in_workers(str, jobs, workers)) == [str(job) for job in jobs]


def test_nothing_to_do_tells_so() -> None:
    told: list[tuple[int, int]] = []
    assert list(in_workers(str, [], 2, lambda done, total: told.append((done, total)))) == []
    assert told == [(0, 0)]


@pytest.mark.usefixtures("both_ways")
def test_a_job_that_takes_its_process_down_is_found_and_the_others_are_done() -> None:
    jobs = ["1 + 1", "__import__('os')._exit(3)", "2 + 2", "3 + 3"]
    results = list(in_workers(eval, jobs, 2))
    assert [results[0], *results[2:]] == [2, 4, 6]
    assert isinstance(results[1], Crashed)


@pytest.mark.usefixtures("both_ways")
def test_what_a_job_raises_is_raised_here() -> None:
    for workers in (1, 2):
        with pytest.raises(ZeroDivisionError):
            list(in_workers(eval, ["1", "1 / 0", "2", "3"], workers))


def test_the_number_of_workers_is_the_wanted_or_the_processors() -> None:
    assert number_of_workers(3) == 3
    assert number_of_workers() >= 1


def test_a_program_that_was_typed_in_works_in_its_own_process() -> None:
    program = b"from sitegen.photos.workers import in_workers\nprint(list(in_workers(str, [1, 2, 3, 4], 2)))\n"
    done = subprocess.run([sys.executable, "-"], input=program, capture_output=True, check=True, timeout=60)
    assert done.stdout == b"['1', '2', '3', '4']\n"
    assert done.stderr == b""


@pytest.mark.usefixtures("both_ways")
def test_every_job_may_take_its_process_down() -> None:
    told: list[tuple[int, int]] = []
    results = list(in_workers(os._exit, [3, 4, 5, 6], 2, lambda done, total: told.append((done, total))))
    assert [type(result) for result in results] == [Crashed] * 4
    assert told[-1] == (4, 4)


@pytest.mark.skipif(not workers_module._CAN_COPY, reason="here a process cannot be copied")
def test_one_job_alone_takes_down_no_more_than_its_process(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workers_module, "_is_alone", lambda: True)
    assert isinstance(in_workers(os._exit, [3], 2)[0], Crashed)
    assert in_workers(str, [3], 2) == ["3"]


@pytest.mark.usefixtures("both_ways")
def test_an_error_that_cannot_travel_is_raised_in_its_words() -> None:
    job = "type('Odd', (Exception,), {})('words')"
    with pytest.raises(RuntimeError, match="Odd: words"):
        list(in_workers(eval, ["1", f"(_ for _ in ()).throw({job})", "2"], 2))


def test_where_no_process_can_be_started_the_work_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workers_module, "_serve", os._exit)  # a worker that ends before it is ready
    assert list(in_workers(str, [1, 2, 3, 4], 2)) == ["1", "2", "3", "4"]


@pytest.mark.parametrize("threads", [0, 1], ids=["alone", "beside a thread"])
def test_workers_end_when_their_parent_is_killed(threads: int) -> None:
    program = (
        "import threading, time\n"
        "from sitegen.photos import workers\n"
        f"for _ in range({threads}): threading.Thread(target=time.sleep, args=[60], daemon=True).start()\n"
        "crew = []\n"
        "for _ in range(2): crew.append(workers._started(str, crew))\n"
        "for worker in crew: worker.pipe.recv()\n"
        "print(workers._is_alone(), *(worker.process.pid for worker in crew), flush=True)\n"
        "time.sleep(60)\n"
    )
    parent = subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE)
    assert parent.stdout
    alone, *crew = parent.stdout.readline().decode().split()
    assert (alone == "True") == (sys.platform == "linux" and not threads)
    assert len(crew) == 2
    assert all(_is_alive(int(worker)) for worker in crew)
    parent.kill()
    parent.wait()
    parent.stdout.close()
    deadline = time.monotonic() + 10
    while any(_is_alive(int(worker)) for worker in crew) and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not any(_is_alive(int(worker)) for worker in crew)


def _is_alive(process: int) -> bool:
    try:
        with open(f"/proc/{process}/stat") as file:
            return file.read().rpartition(")")[2].split()[0] not in ("Z", "X")
    except FileNotFoundError:
        return False
