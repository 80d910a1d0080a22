"""How long every number of a project of four stages and five loci takes: ``python tests/bench/roads.py``.

Also a shorter one of three genes; each with 2,000 and 20,000 drawn plans, to see what one costs.
"""

import datetime as dt
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from helpers.from_text import bound
from helpers.outlooks import outlook

from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather

TODAY = dt.date(2026, 1, 15)
RUNS = 5

SPECIES = """
=== species/s.yaml
sexes: ZW
litter_size: {low: 6, usual: 13, high: 28}
breeding_age: {female: 30 months, male: 18 months}
breeding_season: {paired: March, born: July}
rest: 1
takes: 9/10
loci:
  g0: {inheritance: recessive}
  g1: {inheritance: recessive}
  g2: {inheritance: recessive}
  g3: {inheritance: dominant}
  g4: {inheritance: recessive}
"""


def animals(doubt: bool) -> str:
    shows = {"dam": ("female", "g0, g3"), "sire": ("male", "g1"), "aunt": ("female", "g2"), "uncle": ("male", "g4")}
    stated = "\nstated: {g0: 66%, g1: 50%, g2: 66%, g4: 50%}" if doubt else ""
    return "".join(
        f"=== animals/{name}/animal.yaml\nspecies: s\nsex: {sex}\nborn: 2020-07-01\nshows: [{own}]{stated}\n"
        for name, (sex, own) in shows.items()
    )


ROAD = """
=== projects/p/project.yaml
name: p
species: s
goal: {shows: [g0, g1, g2, g3, g4]}
horizon: 2042
stages:
  one:
    season: 2026
    dam: dam
    sire: sire
    keep: {d: {shows: [g3], carries: [g0, g1], count: 2, sex: female}}
  two:
    season: 2026
    dam: aunt
    sire: uncle
    keep: {s: {carries: [g2, g4], sex: male}}
  three:
    season: 2029
    dam: one.d
    sire: two.s
    keep:
      d: {shows: [g3], carries: [g0, g1, g2, g4], count: 3, sex: female}
      s: {shows: [g3], carries: [g0, g1, g2, g4], count: 2, sex: male}
  four:
    season: 2032
    dam: three.d
    sire: three.s
"""

THREE = """
=== projects/p/project.yaml
name: p
species: s
goal: {shows: [g0, g1, g3]}
stages:
  one: {season: 2026, dam: dam, sire: sire, keep: {s: {shows: [g3], sex: male}}}
  two: {season: 2028, dam: dam, sire: one.s, keep: {d: {shows: [g0, g3], sex: female}}}
  three: {season: 2031, dam: two.d, sire: one.s}
"""


def collection(road: str, doubt: bool) -> Asked:
    text = SPECIES + animals(doubt) + road
    return ask(gather(bound(text)))


def timed(name: str, asked: Asked, draws: int) -> None:
    own = asked.evidence.collection.projects["p"]
    times = []
    for _ in range(RUNS):
        asked.memory.clear()
        start = time.process_time()
        found = outlook(asked, own, TODAY, draws=draws)
        times.append(time.process_time() - start)
    last = found.by_season[-1]
    print(
        f"{name:34} {draws:7} {min(times):6.2f} {sorted(times)[RUNS // 2]:7.2f}"
        f"   kept by {last.season}: {float(last.kept):.4f} +- {float(found.error):.4f}"
    )


def main() -> None:
    print("(processor time)                     plans   best  median s")
    for draws in (2_000, 20_000):
        timed("four stages, certain parents", collection(ROAD, False), draws)
        timed("four stages, parents in doubt", collection(ROAD, True), draws)
        timed("three genes", collection(THREE, True), draws)


if __name__ == "__main__":
    main()
