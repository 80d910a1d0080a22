"""The same function on many photographs, or on many courses of a room, in processes, results in order.

Processes rather than threads. For photographs threads are as fast (Pillow lets the interpreter's lock go), but a
decoder that crashes takes only its process with it. Courses of a room gain nothing from threads: small arrays.

A pool of the standard library says that a process died, not of which job. Jobs are begun in their order, so it is one
of the first that are left: each of these is then tried alone in a pool of its own, and the one that ends it is named.
"""

import contextlib
import ctypes
import gc
import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import connection, resource_tracker
from multiprocessing.context import BaseContext
from queue import SimpleQueue
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from multiprocessing.synchronize import Semaphore

Job = TypeVar("Job")
Result = TypeVar("Result")
Progress = Callable[[int, int], None]

_STOPPING = (signal.SIGINT, signal.SIGTERM)
_LOADED_ONCE = [
    "sitegen.app.commands",
    "sitegen.photos.encode",
    "PIL.JpegImagePlugin",
    "PIL.AvifImagePlugin",
    "sitegen.plans.room.courses",
]
"""What a worker needs, and what the program begins with: a copy of a small process runs its first lines again."""
_TRIM_THRESHOLD, _MMAP_THRESHOLD = -1, -3  # M_TRIM_THRESHOLD, M_MMAP_THRESHOLD. Source: mallopt(3), glibc's malloc.h
_LARGEST_BYTES = 1 << 30


class Crashed:
    """Stands for the result of a job whose process died: the decoder failed on hostile or damaged bytes."""


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
    results: dict[int, Result | Crashed] = {}

    def keep(number: int, result: Result | Crashed) -> None:
        results[number] = result
        if progress:
            progress(len(results), len(jobs))

    if progress:
        progress(0, len(jobs))
    n_workers = number_of_workers(workers)
    while left := [number for number in range(len(jobs)) if number not in results]:
        _work_together(work, {number: jobs[number] for number in left}, n_workers, keep)
        suspects = [number for number in left if number not in results]
        for number in suspects[: 2 * n_workers + 1]:  # a pool holds a job for each worker, and one more than that ready
            _work_together(work, {number: jobs[number]}, 1, keep)
            if number not in results:
                keep(number, Crashed())
    return [results[number] for number in range(len(jobs))]


def _work_together(
    work: Callable[[Job], Result], jobs: Mapping[int, Job], n_workers: int, keep: Callable[[int, Result], None]
) -> None:
    """Give ``keep`` number and result of each job as it is done; of the jobs that a crash left undone, nothing.

    An interrupt is let through only while we wait for a result: at any other moment it could leave a lock of the pool
    taken, or reach a process that has just begun.
    """
    context, n_workers = _context(), min(n_workers, len(jobs))
    done: SimpleQueue[Future[Result]] = SimpleQueue()
    with _held_back() as usual:
        try:
            gate = context.Semaphore(0)
            pool = ProcessPoolExecutor(n_workers, context, _begin, (gate,))
        except (OSError, ImportError):  # this system has no semaphores to share, or not for us
            for number, job in jobs.items():
                keep(number, work(job))
            return
        with pool:
            try:
                numbers = {pool.submit(work, job): number for number, job in jobs.items()}
                for future in numbers:
                    future.add_done_callback(done.put)
                for _ in range(n_workers):  # not before: a pool in which a process dies while others are started hangs
                    gate.release()
                for _ in numbers:
                    with _let_through(usual):
                        future = done.get()
                    keep(numbers[future], future.result())
            except BrokenProcessPool:
                return
            except BaseException:  # nobody waits for the others
                for process in multiprocessing.active_children():
                    process.terminate()
                raise


def _context() -> BaseContext:
    """How processes are started.

    A copy of this process takes 0.003 s, but one made beside other threads (of the preview) would inherit locks that
    they held, and that nobody lets go. So it is then a copy of a small process that has loaded what workers need:
    started once, that takes 0.12 s, and each worker after that 0.005 s. Apple's own libraries bear no copies.
    """
    if sys.platform == "darwin":
        return multiprocessing.get_context("spawn")
    if threading.active_count() == 1:
        return multiprocessing.get_context("fork")
    resource_tracker.ensure_running()  # now, because it would undo what we are about to do to the signals
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(_LOADED_ONCE)
    return context


@contextlib.contextmanager
def _held_back() -> Iterator[set[int | signal.Signals]]:
    """Within it signals wait, here and in every process and thread started here. Gives those that waited before."""
    usual = signal.pthread_sigmask(signal.SIG_BLOCK, _STOPPING)
    try:
        yield usual
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, usual)


@contextlib.contextmanager
def _let_through(usual: set[int | signal.Signals]) -> Iterator[None]:
    """Within it, inside of :func:`_held_back`, they come as ever."""
    try:
        signal.pthread_sigmask(signal.SIG_SETMASK, usual)
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_BLOCK, _STOPPING)


def _begin(gate: "Semaphore") -> None:
    """The first thing that a worker does: an interrupt from the keyboard is left to the parent."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    signal.pthread_sigmask(signal.SIG_UNBLOCK, _STOPPING)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    gc.freeze()  # what is the parent's stays shared, and garbage is looked for even if the parent does not
    gc.enable()
    _keep_memory()
    gate.acquire()


def _end_with_parent() -> None:
    """A worker of a parent that was killed would wait for its next job for ever: it holds both ends of its queue."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        connection.wait([parent.sentinel])
        os._exit(1)


def _keep_memory() -> None:
    """Use the memory of one picture for the next, instead of giving it to the system and asking for it again.

    The C library of Linux returns every large block at once, so each photograph of 12 megapixels had 16,000 pages
    cleared and handed out anew. Eight of them took 3.4 s of processor time, and 3.05 s since; what a process holds at
    most is the same (195 MB). Where the C library has no such switch, nothing is changed.
    """
    with contextlib.suppress(OSError, AttributeError, TypeError):
        of_this_process = ctypes.CDLL(None)
        of_this_process.mallopt(_TRIM_THRESHOLD, _LARGEST_BYTES)
        of_this_process.mallopt(_MMAP_THRESHOLD, _LARGEST_BYTES)
