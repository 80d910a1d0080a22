"""The same function on many jobs, shared out among copies of this very process, results in order.

A copy (``fork``) knows all that the program has read and inferred so far without being sent any of it, so a page can be
made, rendered and written where nobody else waits for it. Where a process cannot be copied safely, all is done here.
"""

import gc
import multiprocessing
import os
import pickle
import signal
import sys
from collections.abc import Callable, Sequence
from multiprocessing.connection import Connection, wait
from typing import Generic, TypeVar

Job = TypeVar("Job")
Result = TypeVar("Result")
Tell = Callable[[int], None]

CAN_COPY = "fork" in multiprocessing.get_all_start_methods() and sys.platform != "darwin"
"""Apple's own libraries do not bear it; Windows has no such thing."""
_DEAD = (EOFError, OSError)


def share_out(work: Callable[[Job], Result], jobs: Sequence[Job], workers: int, tell: Tell) -> list[Result]:
    """``work(job)`` for each job, in the order of ``jobs``, whatever the number of workers.

    What a job raises is raised here. A job whose worker died is done here.

    Args:
        work: Any function; what it changes in memory is lost. Its results must be such as can be pickled.
        jobs: Each should take a tenth of a second or more.
        workers: How many processes at most; with one, all is done in this process.
        tell: Called with the number of jobs that are done.
    """
    results: dict[int, Result] = {}
    n_workers = min(workers, len(jobs))
    if n_workers > 1 and CAN_COPY:
        _with_crew(work, jobs, n_workers, results, tell)
    for number, job in enumerate(jobs):
        if number not in results:
            results[number] = work(job)
            tell(len(results))
    return [results[number] for number in range(len(jobs))]


class Begun(Generic[Result]):
    """Work that goes on in a copy of this process while something else is done here.

    Its result must be such as can be pickled. Where a process cannot be copied, or the copy dies, the work is done when
    its result is asked for.
    """

    def __init__(self, work: Callable[[], Result], *, apart: bool) -> None:
        """Begin.

        Args:
            work: Any function; what it changes in memory is lost.
            apart: Use another process.
        """
        self._work = work
        self._process = None
        if apart and CAN_COPY:
            context = multiprocessing.get_context("fork")
            self._pipe, theirs = context.Pipe()
            self._process = context.Process(
                target=_serve, args=(theirs, (self._pipe,), lambda job: work(), (None,)), daemon=True
            )
            self._process.start()
            theirs.close()
            self._pipe.send(0)

    def result(self) -> Result:
        """The result, or what the work raised; to be asked for once."""
        results: dict[int, Result] = {}
        if self._process is not None:
            try:
                _take(self._pipe, results)
            finally:
                self.stop()
        return results[0] if results else self._work()

    def stop(self) -> None:
        """Give it up, if it still goes on."""
        if self._process is not None:
            self._pipe.close()
            self._process.terminate()
            self._process.join()
            self._process.close()
            self._process = None


def _with_crew(
    work: Callable[[Job], Result], jobs: Sequence[Job], n_workers: int, results: dict[int, Result], tell: Tell
) -> None:
    """Fill ``results`` by number of the job."""
    context = multiprocessing.get_context("fork")
    gc.freeze()  # what all share is not touched by the collector, so that it stays shared
    pipes: list[Connection] = []
    crew = []
    try:
        for _ in range(n_workers):
            ours, theirs = context.Pipe()
            pipes.append(ours)
            process = context.Process(target=_serve, args=(theirs, tuple(pipes), work, jobs), daemon=True)
            process.start()
            theirs.close()
            crew.append(process)
        waiting = list(range(len(jobs)))[::-1]
        at_work = [pipe for pipe in pipes if _give(pipe, waiting)]
        while at_work:
            for pipe in wait(at_work):
                assert isinstance(pipe, Connection)
                if _take(pipe, results):
                    tell(len(results))
                if not _give(pipe, waiting):
                    at_work.remove(pipe)
    finally:
        gc.unfreeze()
        for pipe in pipes:
            pipe.close()
        for process in crew:
            process.terminate()
            process.join()
            process.close()


def _give(pipe: Connection, waiting: list[int]) -> bool:
    """Give the next job; False when there is none, or the worker is dead."""
    try:
        pipe.send(waiting[-1])
    except (IndexError, *_DEAD):
        return False
    waiting.pop()
    return True


def _take(pipe: Connection, results: dict[int, Result]) -> bool:
    """Take a result; False when the worker is dead."""
    try:
        number, result, error = pipe.recv()
    except _DEAD:
        return False
    if error is not None:
        raise error
    results[number] = result
    return True


def _serve(
    pipe: Connection, of_others: Sequence[Connection], work: Callable[[Job], Result], jobs: Sequence[Job]
) -> None:
    """The life of a worker: job after job, until the pipe ends, as it does when the parent ends or is killed.

    An interrupt from the keyboard is left to the parent. Nothing of the parent's is tidied up at the end.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    for other in of_others:
        other.close()
    try:
        while True:
            number = pipe.recv()
            try:
                answer = pickle.dumps((number, work(jobs[number]), None))
            except Exception as error:
                answer = pickle.dumps((number, None, _portable(error)))
            pipe.send_bytes(answer)
    except _DEAD:
        os._exit(0)
    finally:
        os._exit(1)


def _portable(error: Exception) -> Exception:
    """The error, or its words where it cannot travel."""
    try:
        pickle.loads(pickle.dumps(error))  # noqa: S301 - our own, made in the line itself
    except Exception:
        return RuntimeError(f"{type(error).__name__}: {error}")
    return error
