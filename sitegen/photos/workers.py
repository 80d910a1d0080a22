"""The same function on many photographs, in processes, results in order.

Processes rather than threads, though threads are as fast (Pillow lets the interpreter's lock go): a decoder that
crashes takes only its worker with it. One job at a time goes to each worker, through a pipe of its own, so that a
worker that dies tells which photo it died of; the pools of the standard library lose that, and were seen to hang
(Python 3.11.7).

Workers are copies of a small process that has loaded what they need and nothing else: started once, it takes 0.12 s,
and each worker after that 0.005 s; fresh interpreters took 0.13 s for every two. A copy of this very process would
inherit the threads and locks of a progress display or of the preview.
"""

import multiprocessing
import os
import pickle
import signal
import sys
from collections.abc import Callable, Sequence
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import TypeVar

from sitegen.frozen import dataclass
from sitegen.photos.memory import keep_memory

Job = TypeVar("Job")
Result = TypeVar("Result")
Progress = Callable[[int, int], None]

_CAN_COPY = "forkserver" in multiprocessing.get_all_start_methods() and sys.platform != "darwin"
"""Apple's own libraries do not bear copies of a process; Windows has no such thing."""
_LOADED_ONCE = ["sitegen.commands", "sitegen.photos.encode", "PIL.JpegImagePlugin", "PIL.AvifImagePlugin"]
"""What a worker needs, and what the program begins with, since every worker runs the first lines of it again."""
_READY, _DONE, _FAILED = "ready", "done", "failed"  # what a worker may say
_DEAD = (EOFError, OSError)


class Crashed:
    """Stands for the result of a job whose process died: the decoder failed on hostile or damaged bytes."""


@dataclass(slots=True)
class _Worker:
    """A process, the pipe to it, and the job it is at; None until it has said that it is ready, and between jobs."""

    process: BaseProcess
    pipe: Connection
    job: int | None = None


def number_of_workers(wanted: int = 0) -> int:
    """``wanted``, or one for each processor this process may use."""
    if wanted > 0:
        return wanted
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def in_workers(
    work: Callable[[Job], Result], jobs: Sequence[Job], workers: int = 0, progress: Progress | None = None
) -> list[Result | Crashed]:
    """``work(job)`` for each job, in the order of ``jobs``, whatever the number of workers.

    ``work`` must be a function of a module, and return its failures; what it raises is raised here.
    """
    tell = progress or (lambda done, total: None)
    n_workers = min(number_of_workers(workers), len(jobs))
    results: dict[int, Result | Crashed] = {}
    tell(0, len(jobs))
    if n_workers > 1 and _has_a_file_of_its_own():
        _work_in_processes(work, jobs, n_workers, results, tell)
    elif len(jobs) > 1:
        keep_memory()
    for index, job in enumerate(jobs):  # all of them, or those left where no process can be started
        if index not in results:
            results[index] = work(job)
            tell(len(results), len(jobs))
    return [results[index] for index in range(len(jobs))]


def _has_a_file_of_its_own() -> bool:
    """False for a program that was typed in: a new process could not read it again."""
    main = sys.modules.get("__main__")
    path = getattr(main, "__file__", None)
    return getattr(main, "__spec__", None) is not None or path is None or Path(path).exists()


def _work_in_processes(
    work: Callable[[Job], Result],
    jobs: Sequence[Job],
    n_workers: int,
    results: dict[int, Result | Crashed],
    tell: Progress,
) -> None:
    """Fill ``results`` by number of the job; nothing more is filled in when no worker can be started."""
    waiting = list(range(len(jobs)))[::-1]
    crew = [_started(work) for _ in range(n_workers)]
    try:
        while crew and len(results) < len(jobs):
            for pipe in wait([worker.pipe for worker in crew]):
                worker = next(worker for worker in crew if worker.pipe is pipe)
                done, was_ready = worker.job, _receive(worker, results)
                if was_ready:
                    _give_next(worker, waiting, jobs)
                else:
                    crew.remove(worker)
                    _end(worker)
                    if done is not None and waiting:
                        crew.append(_started(work))
                if done is not None:
                    tell(len(results), len(jobs))
    finally:
        for worker in crew:
            _end(worker)


def _receive(worker: _Worker, results: dict[int, Result | Crashed]) -> bool:
    """Take what a worker has to say; False when it is dead, which is then the result of the job it was at."""
    job, worker.job = worker.job, None
    try:
        told, value = worker.pipe.recv()
    except _DEAD:
        if job is not None:
            results[job] = Crashed()
        return False
    if told == _FAILED:
        raise value
    if told == _DONE and job is not None:
        results[job] = value
    return True


def _give_next(worker: _Worker, waiting: list[int], jobs: Sequence[Job]) -> None:
    if waiting:
        worker.job = waiting.pop()
        try:
            worker.pipe.send(jobs[worker.job])
        except _DEAD:  # it died before it had the job; the end of its pipe is told by the next wait
            waiting.append(worker.job)
            worker.job = None


def _started(work: Callable[[Job], Result]) -> _Worker:
    ours, theirs = multiprocessing.Pipe()
    process: BaseProcess
    if _CAN_COPY:
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(_LOADED_ONCE)
        process = context.Process(target=_serve, args=(theirs, work), daemon=True)
    else:
        process = multiprocessing.get_context("spawn").Process(target=_serve, args=(theirs, work), daemon=True)
    process.start()
    theirs.close()
    return _Worker(process, ours)


def _end(worker: _Worker) -> None:
    worker.pipe.close()
    worker.process.terminate()
    worker.process.join()
    worker.process.close()


def _serve(pipe: Connection, work: Callable[[Job], Result]) -> None:
    """The life of a worker: job after job, until the pipe ends, as it does when the parent ends or is killed.

    An interrupt from the keyboard is left to the parent.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    keep_memory()
    pipe.send((_READY, None))
    while True:
        try:
            job = pipe.recv()
        except _DEAD:
            return
        answer: tuple[str, Result | Exception]
        try:
            answer = (_DONE, work(job))
        except Exception as error:
            answer = (_FAILED, _portable(error))
        pipe.send(answer)


def _portable(error: Exception) -> Exception:
    """The error, or its words where it cannot travel."""
    try:
        pickle.loads(pickle.dumps(error))  # noqa: S301 - our own, made in the line itself
    except Exception:
        return RuntimeError(f"{type(error).__name__}: {error}")
    return error
