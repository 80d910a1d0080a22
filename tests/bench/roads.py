"""How long every number of a project of four stages and five loci takes: ``python tests/bench/roads.py``.

The same road is also asked with everything added up (a bound that is never reached) and with nothing, so that the two
ways can be compared; and a short road of three genes many times from one workshop.
"""

import datetime as dt
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from helpers.from_text import bound

from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.plans.roads.courses import Roads
from sitegen.plans.roads.outlook import outlook

TODAY = dt.date(2026, 1, 15)
RUNS = 5
SHORT = 200

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


def timed(name: str, asked: Asked, **more: int) -> None:
    own = asked.evidence.collection.projects["p"]
    times = []
    for _ in range(RUNS):
        asked.memory.clear()
        start = time.process_time()
        found = outlook(asked, own, TODAY, **more)
        times.append(time.process_time() - start)
    last = found.by_season[-1]
    print(
        f"{name:34} {min(times):6.2f} {sorted(times)[RUNS // 2]:7.2f}   {found.method.states:7} {found.method.runs:6}"
        f"  by {last.season}: {float(last.by):.4f} +- {float(found.method.error):.4f}"
    )


def main() -> None:
    print("four stages, five loci              best  median s  steps   runs   (processor time)")
    timed("certain parents", collection(ROAD, False))
    timed("parents in doubt", collection(ROAD, True))
    timed("three genes", collection(THREE, True))
    timed("three genes, drawn", collection(THREE, True), states=0)
    asked = collection(THREE, True)
    roads, own = Roads(asked, "s"), asked.evidence.collection.projects["p"]
    start = time.process_time()
    for _ in range(SHORT):
        roads.course(own, TODAY)
    print(f"three genes, {SHORT} times from one workshop: {1000 * (time.process_time() - start) / SHORT:.1f} ms each")


if __name__ == "__main__":
    main()
