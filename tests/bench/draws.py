"""How long drawing worlds takes: ``python tests/bench/draws.py [ANIMALS LOCI WORLDS]...``. Measured, never asserted.

Ours draws all animals at all loci given all evidence, its making ready counted, inference not. Beside it in the same
process a bare gene drop in numpy, which passes a random one of two copies from each parent to each young and knows no
evidence. Processor time, best of some; each case is a process of its own, for its memory.
Goal: 20,000 worlds of 30 animals at ten loci in 0.3 s.
"""

import resource
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from time import process_time

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[2])]

import numpy as np  # noqa: E402 - the path is set above, so that it runs by hand
from helpers.pedigrees import looked_at, ordinary  # noqa: E402

from sitegen.genetics.dice import Dice  # noqa: E402
from sitegen.genetics.drawing import drawn  # noqa: E402
from sitegen.genetics.network import answer  # noqa: E402
from sitegen.genetics.questions import Question  # noqa: E402

CASES = ((30, 10, 20_000), (100, 10, 20_000), (300, 10, 4_000), (300, 10, 20_000))
SHARES = {"looked at": 0.9, "hardly looked at": 0.3}
REPEATS = 5


def gene_drop(question: Question, n_loci: int, n_worlds: int) -> None:
    """Two copies of each animal at each locus; founders have any."""
    dice = np.random.default_rng(1)
    for _ in range(n_loci):
        copies: dict[str, np.ndarray] = {}
        for member in question.members:
            if member.dam is None:
                copies[member.id] = dice.integers(0, 2, (2, n_worlds), np.uint8)
            else:
                parents = (copies[member.dam], copies[member.sires[0][0]])
                which = dice.integers(0, 2, (2, n_worlds), np.uint8)
                both = [np.where(one, parent[1], parent[0]) for one, parent in zip(which, parents, strict=True)]
                copies[member.id] = np.array(both)


def best_of(run: Callable[[], object]) -> float:
    times = []
    for _ in range(REPEATS):
        start = process_time()
        run()
        times.append(process_time() - start)
    return min(times)


def measure(kind: str, n_animals: int, n_loci: int, n_worlds: int) -> None:
    members = ordinary(n_animals, 3)
    questions = [looked_at(members, seed=seed, share=SHARES[kind]) for seed in range(n_loci)]
    start = process_time()
    answers = [answer(question) for question in questions]
    inferred = process_time() - start
    everyone = [member.id for member in members]
    ours = best_of(lambda: drawn(answers, everyone, n_worlds, Dice(1), ()))
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    floor = best_of(lambda: gene_drop(questions[0], n_loci, n_worlds))
    name = f"{kind}, {n_animals} x {n_loci}, {n_worlds:,}"
    print(f"{name:<40}{inferred:8.3f}s{ours:8.3f}s{floor:9.3f}s{ours / floor:7.2f}x{megabytes:6.0f} MB")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        measure(sys.argv[2], *map(int, sys.argv[3:]))
    else:
        given = [int(each) for each in sys.argv[1:]]
        cases = list(zip(given[::3], given[1::3], given[2::3], strict=True)) or CASES
        head = f"{'inference':>9}{'ours':>9}{'gene drop':>10}{'ratio':>8}{'memory':>9}"
        print(f"{'animals x loci, worlds':<40}{head}", flush=True)
        for each in SHARES:
            for case in cases:
                subprocess.run([sys.executable, __file__, "--one", each, *map(str, case)], check=True)
