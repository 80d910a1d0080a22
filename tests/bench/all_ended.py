"""What processes cost that have ended, those included that a program started and did not wait for.

A build lets workers start from a helper process of Python's own, which ends after it. Nobody would count that: so
this process takes what others leave behind as its own children, and waits for them.
"""

import contextlib
import ctypes
import os
import sys
from dataclasses import dataclass

_SET_CHILD_SUBREAPER = 36  # Source: prctl(2) and linux/prctl.h, PR_SET_CHILD_SUBREAPER (from memory)


@dataclass(frozen=True, slots=True)
class Ended:
    """Seconds on processors of all that ended, and megabytes of the largest of them; status of the one asked for."""

    processor: float
    peak: float
    status: int


def adopt_what_is_left() -> None:
    """From now on every process that is left behind below this one becomes its child. Linux only."""
    if sys.platform == "linux" and ctypes.CDLL(None).prctl(_SET_CHILD_SUBREAPER, 1, 0, 0, 0):
        raise SystemExit("processes that are left behind cannot be counted")


def all_ended(process: int) -> Ended:
    """Wait for ``process`` and everything else that runs below this one."""
    processor, peak, code = 0.0, 0.0, 0
    with contextlib.suppress(ChildProcessError):
        while True:
            ended, status, used = os.wait4(-1, 0)
            processor += used.ru_utime + used.ru_stime
            peak = max(peak, used.ru_maxrss / 1024)
            if ended == process:
                code = os.waitstatus_to_exitcode(status)
    return Ended(processor, peak, code)
