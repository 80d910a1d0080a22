"""How long a pairing with ten loci in play takes after loading: ``python tests/bench/pairing.py``.

Both parents are in doubt at all ten loci, so all 1,024 looks are possible.
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from helpers.from_text import bound

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.evidence.pairings import pairing

STATED = ("66%", "50%", "certain", "1/3")
RUNS = 7


def herd(n_loci: int) -> str:
    loci = "\n".join(f"  g{number}: {{inheritance: recessive}}" for number in range(n_loci))
    stated = ", ".join(f"g{number}: {STATED[number % len(STATED)]}" for number in range(n_loci))
    animals = "\n".join(
        f"=== animals/{name}/animal.yaml\nspecies: s\nsex: {sex}\nshows: []\nstated: {{{stated}}}"
        for name, sex in (("dam", "female"), ("sire", "male"))
    )
    return f"=== species/s.yaml\nsexes: ZW\nloci:\n{loci}\n{animals}\n"


def main() -> None:
    print("loci  looks  best ms  median ms")
    for n_loci in (2, 5, 10):
        asked = ask(gather(bound(herd(n_loci))))
        times = []
        for _ in range(RUNS):
            start = time.perf_counter()
            found = pairing(asked, "dam", "sire")
            times.append(1000 * (time.perf_counter() - start))
        print(f"{n_loci:4}  {len(found.looks):5}  {min(times):7.1f}  {sorted(times)[RUNS // 2]:9.1f}")


if __name__ == "__main__":
    main()
