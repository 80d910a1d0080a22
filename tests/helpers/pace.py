"""How fast this computer is just now, beside the one the limits of time were set on.

A limit in seconds alone would fail on a slow or busy computer and say nothing there of the program. So the same small
work is timed beside what is tested, and the limit grows with it.
"""

import time

USUAL_S = 0.04
"""Processor time of the small work where the limits were set."""


def pace() -> float:
    """How many times longer than usual work takes now; never below 1, so that a fast computer keeps the limit."""
    return max(1.0, _small_work() / USUAL_S)


def _small_work() -> float:
    started = time.process_time()
    counts: dict[str, int] = {}
    for number in range(260_000):
        key = str(number % 997)
        counts[key] = counts.get(key, 0) + len(key)
    return time.process_time() - started
