"""The words of the process that is computed: states, stages that can be bred, pairings, how far a state is."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from sitegen.genetics.loci import Sex
from sitegen.plans.roads.plan import StagePlan

BORN = -1
"""In place of a number of tries: a stage that only waits for a litter has had one."""


class RoadState(NamedTuple):
    """Where a road is before a season.

    Attributes:
        animals: What each animal of the start is; None once it does not matter any more.
        kept: For each holdback what its young are, as far as they become parents; else how many there are.
        ready: For each holdback the season before which its young are too young; 0 if that is past or not known.
        tries: For each stage how often it was tried on this road, where that matters.
        resting: Dams that rest, with the season from which they breed again.
        settled: For each stage of which nothing else hangs, once its parents are known: the odds of each dam's young
            by each sire.
    """

    animals: tuple[int | None, ...]
    kept: tuple[tuple[int, ...] | int, ...]
    ready: tuple[int, ...]
    tries: tuple[int, ...]
    resting: tuple[tuple[tuple[int, int], int], ...]
    settled: tuple[tuple[tuple[int, ...], ...] | None, ...]


@dataclass(frozen=True, slots=True)
class Leg:
    """One stage that can still be bred.

    Attributes:
        plan: The stage as it stands.
        aim: What its young are sorted by (short name).
        keep: Numbers of its open holdbacks.
        counts: How many each wants.
        dams, sires: Numbers of the animals at the start.
        dam_holdback, sire_holdback: Or the number of the holdback.
        tries: Tries left; None for no bound.
        turns: The number of tries decides which sire a dam gets.
        last: The last stage of the road.
    """

    plan: StagePlan
    aim: int
    keep: tuple[int, ...]
    counts: tuple[int, ...]
    dams: tuple[int, ...]
    sires: tuple[int, ...]
    dam_holdback: int | None
    sire_holdback: int | None
    tries: int | None
    turns: bool
    last: bool


class Mating(NamedTuple):
    """A pairing of a season: the leg, dam and sire by their places there; ``who`` rests after a litter.

    ``sure`` is True for a litter on the way whose eggs are laid; ``extra`` for any litter on the way, whose dam and
    sire are numbers of animals at the start.
    """

    leg: int
    dam: int
    sire: int
    who: tuple[int, int]
    sure: bool = False
    extra: bool = False


@dataclass(frozen=True, slots=True)
class Terms:
    """What the species says of litters.

    Attributes:
        sizes: Number of living young to its chance.
        a_year: Litters of a dam in a season that takes.
        takes: Chance that a pairing takes.
        months: Breeding age by sex.
    """

    sizes: Mapping[int, float]
    a_year: int
    takes: float
    months: Mapping[Sex, int]


@dataclass(frozen=True, slots=True, eq=False)
class Status:
    """How far the stages of a state are; one for all states that are as far, compared by identity.

    Attributes:
        counts: How many young of each holdback are kept.
        done: For each stage True when it has given all it is to give.
        closed: For each stage True when it is not bred any more on this road.
        stands: For each holdback True when its young are all kept that will be, and there are any.
        needs: For each stage how many young each of its holdbacks still needs.
    """

    counts: tuple[int, ...]
    done: tuple[bool, ...]
    closed: tuple[bool, ...]
    stands: tuple[bool, ...]
    needs: tuple[tuple[int, ...], ...]
