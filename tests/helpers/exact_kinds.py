"""A room in plain numbers, and what its keeper knows before a season: the vocabulary of the exact solver."""

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

ONE = Fraction(1)
FEMALE, MALE = 0, 1

Genes = Hashable
"""The genotype of an animal at all loci that matter."""
Choice = frozenset[tuple[str, str]]
"""Pairings of a season: (dam, sire)."""


@dataclass(frozen=True)
class Starter:
    """An animal of the start: its name, its sex and the first season (0, 1, ...) in which it may be paired."""

    name: str
    sex: int
    ready: int


@dataclass(frozen=True)
class Aim:
    """A goal: how many kept animals must be so, and what owning them is worth at the end of each season."""

    id: str
    count: int
    rewards: tuple[Fraction, ...]


@dataclass(frozen=True)
class Game:
    """A room in plain numbers.

    Attributes:
        seasons: How many are played.
        start: The animals owned at the start.
        worlds: Their joint genotypes, in their order, to the chance; sums to 1.
        young: What one young of a dam and a sire of such genotypes is: (sex, genotype) to the chance; what the sum
            lacks of 1 is not born alive.
        look: What is seen of a genotype, by sex.
        is_aim: For each goal whether a genotype is it.
        aims: The goals.
        sizes: Number of young of a litter to its chance.
        grown: Seasons from birth to the first pairing, of females and males.
        takes: Chance that a pairing gives a litter.
        rest, rest_after_failure: Seasons that a dam rests after a litter, and after a pairing without one.
        litters: Most pairings of a season; None for as many as there are dams.
        keep: Most young kept of a litter; None for all.
        places: Most animals; None without a limit.
        sire_litters: Most pairings of a sire in a season.
        kinship: Of the animals of the start, themselves included, where relatedness is limited.
        relatedness: Highest kinship of a pair.
        off: Names of animals that are not paired in the first season.
    """

    seasons: int
    start: tuple[Starter, ...]
    worlds: Mapping[tuple[Genes, ...], Fraction]
    young: Callable[[Genes, Genes], Mapping[tuple[int, Genes], Fraction]]
    look: Callable[[int, Genes], Hashable]
    is_aim: Callable[[Genes], tuple[bool, ...]]
    aims: tuple[Aim, ...]
    sizes: Mapping[int, Fraction]
    grown: tuple[int, int] = (1, 1)
    takes: Fraction = ONE
    rest: int = 0
    rest_after_failure: int = 0
    litters: int | None = None
    keep: int | None = None
    places: int | None = None
    sire_litters: int | None = None
    kinship: tuple[tuple[Fraction, ...], ...] = ()
    relatedness: Fraction | None = None
    off: frozenset[str] = frozenset()


Beast = tuple[int, int, bool]
"""Sex, first season in which it may be paired, and whether the plan may give it up."""
World = tuple[tuple[int, ...], tuple[Genes, ...]]
"""How many of each goal are owned (those that are not counted in the genotypes, at most what is wanted), genotypes."""
Pairs = tuple[tuple[int, int], ...]
"""Pairings by the places of dam and sire in a state."""
Seen = tuple[tuple[Hashable, int], ...] | None
"""Of a litter, how many young of each kind came; None for a pairing that did not take."""


@dataclass(frozen=True)
class State:
    """What a keeper knows before a season; ``worlds`` in whole numbers without a common factor."""

    season: int
    beasts: tuple[Beast, ...]
    worlds: tuple[tuple[World, int], ...]
    kinship: tuple[tuple[Fraction, ...], ...] = ()

    @property
    def mass(self) -> int:
        return sum(weight for _, weight in self.worlds)


Chooser = Callable[[State, Sequence[Pairs]], Pairs]
Keeper = Callable[[State, Pairs, object, int], int]
"""Of so many ways to keep young after these were seen, the number of one."""


class TooLargeError(Exception):
    """More to be gone through than was allowed."""
