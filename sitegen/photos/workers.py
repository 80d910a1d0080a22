"""The same function on many photographs, in processes, results in order.

Processes rather than threads, though threads are as fast (Pillow lets the interpreter's lock go): a decoder that
crashes takes only its worker with it. One job at a time goes to each worker, through a pipe of its own, so that a
worker that dies tells which photo it died of; the pools of the standard library lose that, and were seen to hang
(Python 3.11.7).

A worker is a copy of this very process, which takes 0.003 s, as long as nothing else goes on in it. A copy made
beside other threads (of the preview) would inherit locks that they held, and that nobody lets go. So it is then a copy
of a small process that has loaded what workers need: started once, that takes 0.12 s, and each worker after that
0.005 s.
"""

import contextlib
import gc
import multiprocessing
import os
import pickle
import signal
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import TypeVar

from sitegen.photos.memory import keep_memory

Job = TypeVar("Job")
Result = TypeVar("Result")
Progress = Callable[[int, int], None]

_CAN_COPY = "forkserver" in multiprocessing.get_all_start_methods() and sys.platform != "darwin"
"""Apple's own libraries do not bear copies of a process; Windows has no such thing."""
_THREADS = Path("/proc/self/task")
"""Linux lists a process' threads here, those of libraries too."""
_LOADED_ONCE = ["sitegen.app.commands", "sitegen.photos.encode", "PIL.JpegImagePlugin", "PIL.AvifImagePlugin"]
"""What a worker needs, and what the program begins with: a copy of a small process runs its first lines again."""
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
    wanted = number_of_workers(workers)
    n_workers = min(wanted, len(jobs))
    apart = n_workers > 1 or (n_workers < wanted and _is_copied())  # one photo alone, where it costs next to nothing
    results: dict[int, Result | Crashed] = {}
    tell(0, len(jobs))
    if jobs and apart and _has_a_file_of_its_own():
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
    crew: list[_Worker] = []
    try:
        while len(crew) < n_workers:
            crew.append(_started(work, crew))
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
                        crew.append(_started(work, crew))
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


def _started(work: Callable[[Job], Result], crew: Sequence[_Worker] = ()) -> _Worker:
    """One more worker beside a crew."""
    ours, theirs = multiprocessing.Pipe()
    process: BaseProcess
    if _is_copied():
        copied = (theirs, work, (ours, *(worker.pipe for worker in crew)))
        process = multiprocessing.get_context("fork").Process(target=_serve, args=copied, daemon=True)
    elif _CAN_COPY:
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(_LOADED_ONCE)
        process = context.Process(target=_serve, args=(theirs, work), daemon=True)
    else:
        process = multiprocessing.get_context("spawn").Process(target=_serve, args=(theirs, work), daemon=True)
    process.start()
    theirs.close()
    return _Worker(process, ours)


def _is_copied() -> bool:
    """True when a worker is a copy of this very process."""
    return _CAN_COPY and _is_alone()


def _is_alone() -> bool:
    """True when this process is known to have one thread, this one."""
    try:
        return len(list(_THREADS.iterdir())) == 1
    except OSError:
        return False


def _end(worker: _Worker) -> None:
    worker.pipe.close()
    worker.process.terminate()
    worker.process.join()
    worker.process.close()


def _serve(pipe: Connection, work: Callable[[Job], Result], of_others: Sequence[Connection] = ()) -> None:
    """The life of a worker: job after job, until the pipe ends, as it does when the parent ends or is killed.

    An interrupt from the keyboard is left to the parent. Pipes ``of_others`` came with the copy, and would not end.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    for other in of_others:
        other.close()
    gc.freeze()  # what is the parent's stays shared, and garbage is looked for even if the parent does not
    gc.enable()
    keep_memory()
    with contextlib.suppress(BrokenPipeError):  # the parent was interrupted: nobody is left to be told
        pipe.send((_READY, None))
        _serve_jobs(pipe, work)


def _serve_jobs(pipe: Connection, work: Callable[[Job], Result]) -> None:
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
