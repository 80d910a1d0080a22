"""Seconds and memory of the plan of a whole room, for 30 and 100 animals, beside one play of the rule alone.

    room_plans.py [N ...]   animals of the rooms (30 100); "30 free" is without limits

Each room is planned in a process of its own: 4 goals, 4 litters, 4 seasons. The ratio is to what 1,000 courses of the
rule's own choice take in the same process, which is what every choice of the search costs.
"""

import os
import random
import resource
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from helpers.made_rooms import AS_OF, SPECIES, asked_of, goal_of, wishes_of

from sitegen.evidence.asking import Asked
from sitegen.genetics.dice import Dice
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import room_of
from sitegen.plans.room.plan import plan_room

KIND = """litter_size: {low: 6, usual: 13, high: 28}
breeding_age: {female: 18 months, male: 18 months}
rest: 1
takes: 9/10
"""
MORE = """  hypo: {inheritance: recessive}
  motley: {inheritance: recessive}
  tessera: {inheritance: dominant}
"""
GOALS = (
    goal_of("snow motley", "amel", "anery", "motley", weight=3),
    goal_of("ghost tessera", "anery", "hypo", "tessera", weight=2),
    goal_of("amel hypo", "amel", "hypo", carries=("motley",)),
    goal_of("two motleys", "motley", "tessera", carries=("anery",), count=2),
)


def made(n: int) -> Asked:
    """A room of so many animals: half of them founders with stated genes, the others their normal young."""
    dice = random.Random(f"room of {n}")
    females, males = [], []
    lines = []
    for at in range(n // 2):
        sex, name = "mff"[at % 3], f"founder-{at}"
        (males if sex == "m" else females).append(name)
        shows = [gene for gene in ("amel", "motley", "tessera") if sex == "f" and dice.random() < 0.2]
        stated = [f"{gene}: {dice.choice(['certain', '66%', '50%'])}" for gene in ("amel", "anery", "hypo", "motley")
                  if dice.random() < 0.35 and gene not in shows]  # fmt: skip
        lines.append(f"{name} {sex} born: 2016-07-01; shows: [{', '.join(shows)}]; stated: {{{', '.join(stated)}}}")
    couples = [(females[at % len(females)], dice.choice(males)) for at in range(max(2, n // 8))]
    for at in range(n - n // 2):
        dam, sire = dice.choice(couples)
        lines.append(f"young-{at} {dice.choice('fm')} dam: {dam}; sire: {sire}; born: {2021 + at % 4}-07-10")
    return asked_of(*lines, species=KIND, more_loci=MORE)


def cpu() -> float:
    """Seconds of processor of this process and those that it started."""
    return sum(os.times()[:4])


def measure(named: str) -> None:
    """Plans one room and prints what it took."""
    n, *free = named.split()
    limits = {"litters": None, "keep": None} if free else {"litters": 4, "keep": 2}
    asked, wishes = made(int(n)), wishes_of(*GOALS, last=2029, **limits)
    room = room_of(asked, SPECIES, wishes, AS_OF)
    player = Player(asked, room, 1000, Dice(1))
    own = player.own_choice()
    began = cpu()
    for start in range(0, 1000, 100):
        player.play([own], start + 100, start=start)
    one, began, wall = cpu() - began, cpu(), time.perf_counter()
    plan = plan_room(asked, SPECIES, wishes, AS_OF)
    took, wall = cpu() - began, time.perf_counter() - wall
    largest = [resource.getrusage(who).ru_maxrss / 1024 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    print(
        f"{named} animals: {wall:.1f} s, {took:.1f} s of processor, {took / one:.1f} times 1,000 courses of the rule "
        f"({one:.2f} s); {largest[0]:.0f} MB, and {largest[1]:.0f} MB in each process beside; {plan.tried} choices; "
        f"value {plan.value:.4f} +- {plan.value_error:.4f}",
        flush=True,
    )


if __name__ == "__main__":
    if len(sys.argv) == 3 and sys.argv[1] == "one":
        measure(sys.argv[2])
    else:
        for size in sys.argv[1:] or ["30", "100", "30 free"]:
            subprocess.run([sys.executable, __file__, "one", size], check=True)
