"""How long a search for routes takes: ``python tests/bench/routes.py [ANIMALS]``, processor time of one core.

A neutral herd and a goal of three recessive genes. ``clear``: the odds of every animal are certain; ``doubtful``: many
animals may carry, each with odds of its own, so that hardly any two are alike.
"""

import datetime as dt
import random
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from helpers.from_text import bound

from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.plans.roads.courses import Roads
from sitegen.plans.roads.routes import horizon_of, quickly, search, worked_out_by
from sitegen.plans.roads.routes_kinds import Bounds

DAY = dt.date(2026, 10, 1)
GENES = ("g0", "g1", "g2")
CLEAR = ("show", "certain", "", "", "", "", "", "", "", "")
DOUBTFUL = ("show", "certain", "66%", "50%", "1/3", "", "")


def herd(n_animals: int, kinds: tuple[str, ...], seed: int = 1) -> str:
    """The records of a species, of so many grown animals, and of a project."""
    dice = random.Random(seed)
    loci = "\n".join(f"  {gene}: {{inheritance: recessive}}" for gene in GENES)
    parts = [
        f"=== species/s.yaml\nsexes: ZW\nlitter_size: {{low: 6, usual: 13, high: 28}}\n"
        f"breeding_age: {{female: 30 months, male: 18 months}}\nloci:\n{loci}"
    ]
    for number in range(n_animals):
        found = {gene: dice.choice(kinds) for gene in GENES}
        if all(kind == "show" for kind in found.values()):
            found["g0"] = "certain"
        shows = ", ".join(gene for gene, kind in found.items() if kind == "show")
        stated = ", ".join(f"{gene}: {kind}" for gene, kind in found.items() if kind not in ("show", ""))
        parts.append(
            f"=== animals/a{number:02d}/animal.yaml\nspecies: s\nsex: {('female', 'male')[number % 2]}\n"
            f"born: {dice.choice((2020, 2022, 2024, 2025))}-07-01\nshows: [{shows}]\nstated: {{{stated}}}"
        )
    parts.append("=== projects/p/project.yaml\nspecies: s\ngoal: {shows: [g0, g1, g2]}")
    return "\n".join(parts) + "\n"


def main() -> None:
    n_animals = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    print("herd      founders  ways    estimated  worked out  left open  routes  seconds")
    for name, kinds in (("clear", CLEAR), ("doubtful", DOUBTFUL)):
        for seed in (1, 2, 3):
            asked = ask(gather(bound(herd(n_animals, kinds, seed))))
            project = asked.evidence.collection.projects["p"]
            start = time.process_time()
            roads, horizon = Roads(asked, "s"), horizon_of(asked, project, DAY)
            exact = worked_out_by(roads, project, DAY, horizon)
            found = search(
                asked, project, DAY, quickly(roads, project, DAY, horizon), Bounds(horizon=horizon), finally_by=exact
            )
            spent = time.process_time() - start
            print(
                f"{name:8}  {len(found.founders):8}  {found.shapes:6}  {found.estimated:9}  {found.worked_out:10}  "
                f"{found.open:9}  {len(found.routes):6}  {spent:7.1f}",
                flush=True,
            )


if __name__ == "__main__":
    main()
