"""How long the history of a large collection takes, run by hand: ``python tests/bench/history.py``. Never asserted."""

import sys
from itertools import pairwise
from pathlib import Path
from time import perf_counter

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[2])]

from helpers.random_histories import large_collection  # noqa: E402 - the path is set above, so that it runs by hand

from sitegen.evidence.answers import answers  # noqa: E402
from sitegen.evidence.arrivals import arrivals_of  # noqa: E402
from sitegen.evidence.history import history  # noqa: E402
from sitegen.site.material import told_changes  # noqa: E402


def measure(doubtful: float) -> None:
    """Ten years, a hundred litters, ten loci; a share of the litters has a sire that nobody knows for certain."""
    collection = large_collection(3, n_litters=100, n_loci=10, doubtful=doubtful)
    times = [perf_counter()]
    answers(collection)
    times.append(perf_counter())
    turns = history(arrivals_of(collection))
    times.append(perf_counter())
    told = told_changes(collection, {})
    times.append(perf_counter())
    today, replayed, everything = (end - start for start, end in pairwise(times))
    days = len({turn.day for turn in turns})
    n_told = sum(map(len, told.values()))
    size = f"{len(collection.animals)} animals, {doubtful:.0%} doubtful"
    print(f"{size}: today {today:.2f} s; {days} days {replayed:.2f} s; with {n_told} changes {everything:.2f} s")


if __name__ == "__main__":
    for doubtful in (0.0, 0.03):
        measure(doubtful)
