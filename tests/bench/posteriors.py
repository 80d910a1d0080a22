"""Exact posteriors side by side with pyAgrum on the same pedigrees, in one run: ``python tests/bench/posteriors.py``.

Each size runs in a process of its own, so that the memory shown is that of one problem. The times take in the
building of the network and the reading of all posteriors; pyAgrum answers in floating point. Measured, never
asserted. Goals: at most three times pyAgrum's time, under 300 MB at 3,000 animals, and from 1,000 to 3,000
animals at most 3.5 times the time.
"""

import resource
import subprocess
import sys
from pathlib import Path
from time import perf_counter

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[2])]

from helpers.pedigrees import closed, looked_at, ordinary  # noqa: E402 - the path is set above, so that it runs by hand

from sitegen.genetics.network import answer  # noqa: E402
from sitegen.genetics.questions import Question  # noqa: E402

SIZES = (200, 1000, 3000)
REPEATS = 3


def asked(kind: str, n_animals: int) -> Question:
    """Almost all animals looked at, or a third of them; founders may have any genotype."""
    return looked_at(ordinary(n_animals), share=0.9 if kind == "looked at" else 0.3)


def ours(question: Question) -> None:
    answers = answer(question)
    for member in question.members:
        answers.of(member.id)


def theirs(question: Question) -> None:
    from helpers.by_pyagrum import posteriors  # noqa: PLC0415 - not loaded where our memory is measured

    posteriors(question)


def measure(who: str, kind: str, n_animals: int) -> None:
    """Prints seconds (best of some) and peak megabytes."""
    question = asked(kind, n_animals)
    run = ours if who == "ours" else theirs
    if who != "ours":
        run(asked(kind, 10))  # loading the library is not counted
    times = []
    for _ in range(REPEATS):
        start = perf_counter()
        run(question)
        times.append(perf_counter() - start)
    print(min(times), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)


def of_process(who: str, kind: str, n_animals: int) -> tuple[float, float]:
    command = [sys.executable, __file__, who, kind, str(n_animals)]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    seconds, megabytes = said.split()
    return float(seconds), float(megabytes)


def compare() -> None:
    print(f"{'pedigree':<24}{'ours':>10}{'pyAgrum':>10}{'ratio':>8}{'memory':>10}{'growth':>8}")
    for kind in ("looked at", "hardly looked at"):
        before = 0.0
        for n_animals in SIZES:
            seconds, megabytes = of_process("ours", kind, n_animals)
            others, _ = of_process("pyAgrum", kind, n_animals)
            growth = f"{seconds / before:7.1f}x" if before else ""
            row = f"{seconds:9.3f}s{others:9.3f}s{seconds / others:7.2f}x{megabytes:7.0f} MB{growth:>8}"
            print(f"{kind + ' ' + str(n_animals):<24}{row}")
            before = seconds
    for n_animals in SIZES:
        start = perf_counter()
        (tangle,) = answer(looked_at(closed(n_animals))).failures
        text = f"refused after {perf_counter() - start:.2f} s, largest table over {len(tangle.members)} animals"
        print(f"{'closed group ' + str(n_animals):<24}{text}")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        measure(sys.argv[1], sys.argv[2], int(sys.argv[3]))
    else:
        compare()
