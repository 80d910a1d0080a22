"""Rooms as records and wishes, made in a test."""

import datetime as dt
from fractions import Fraction
from typing import Any

from helpers.from_text import bound
from sitegen.content.projects import Goal
from sitegen.content.wishes import WishedGoal, Wishes
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.findings import Place

AS_OF = dt.date(2026, 1, 1)
SPECIES = "snake"
_PLACE = Place("plan.yaml")


def asked_of(*animals: str, species: str = "", more_loci: str = "", others: str = "") -> Asked:
    """A snake with the recessives amel and anery, and animals as ``fern f shows: [amel]; stated: {anery: 66%}``.

    All are grown; ``species`` are further lines of the species file, ``more_loci`` of its loci, ``others`` further
    records.
    """
    loci = "loci:\n  amel: {inheritance: recessive}\n  anery: {inheritance: recessive}\n"
    text = f"=== species/{SPECIES}.yaml\nsexes: ZW\nbreeding_season: {{paired: March, born: July}}\n"
    text += (species or "litter_size: {low: 2, usual: 2, high: 2}\n") + loci + more_loci
    for each in animals:
        name, sex, *lines = each.split(" ", 2)
        text += f"=== animals/{name}/animal.yaml\nspecies: {SPECIES}\nsex: {'female' if sex == 'f' else 'male'}\n"
        own = [line.strip() for line in " ".join(lines).split(";") if line.strip()]
        text += "".join(f"{line}\n" for line in own)
        text += "" if any(line.startswith("born") for line in own) else "born: 2020-07-01\n"
        text += "" if any(line.startswith("shows") for line in own) else "shows: []\n"
    return ask(gather(bound(text + others)))


def goal_of(name: str, *shows: str, carries: tuple[str, ...] = (), count: int = 1, weight: int = 1) -> WishedGoal:
    """A goal of the plan."""
    goal = Goal(tuple(shows), carries)
    return WishedGoal(id=name, species=SPECIES, goal=goal, count=count, weight=Fraction(weight), place=_PLACE)


def wishes_of(*goals: WishedGoal, **limits: Any) -> Wishes:
    """Wishes for 2026 to 2028."""
    usual: dict[str, Any] = {
        "season": 2026, "last": 2028, "litters": 1, "keep": 1, "places": None, "sooner": False, "without": (),
        "relatedness": None, "tests": None, "buy": (), "budget": None,
    }  # fmt: skip
    return Wishes(goals=goals, **{**usual, **limits})
