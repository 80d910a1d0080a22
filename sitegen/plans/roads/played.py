"""What the simulator is told of a species, the young of one litter in many plans, and what it gives back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from sitegen.content.breeding_years import BreedingYear
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.nursery import Ints

Flags = NDArray[np.bool_]

OPEN, BY_GOAL, BY_KEEP, BY_PART, BY_ELSE, BY_PART_OF_ELSE, BY_NOTHING = range(7)
"""How a stage ended."""


@dataclass(frozen=True, slots=True)
class Terms:
    """What the simulator knows of a species and a project.

    Attributes:
        year: Its months.
        sizes: Number of young conceived that would live but for lethal genotypes, to its chance.
        a_year: Litters that a pairing gives in a season in which it takes.
        takes: Chance that it takes.
        rest, rest_after_failure: Seasons in which a dam rests after a litter, and after a pairing that did not take.
        months: Breeding age by sex.
    """

    year: BreedingYear
    sizes: Mapping[int, Fraction]
    a_year: int
    takes: Fraction
    rest: int
    rest_after_failure: int
    months: Mapping[Sex, int]


@dataclass(slots=True)
class FirstLitter:
    """What the first litters of a stage gave, added up over the plans in which it had one.

    ``right``, ``enough`` and ``true`` are by holdback: young that look right, litters with as many as are wanted, and
    of the young that look right those with all that is unseen; ``each`` the last one by one.
    """

    litters: int = 0
    young: int = 0
    right: dict[int, int] = field(default_factory=dict)
    enough: dict[int, int] = field(default_factory=dict)
    true: dict[int, int] = field(default_factory=dict)
    each: dict[int, list[int]] = field(default_factory=dict)

    def add(self, own: int, right: int, enough: int, true: int, each: Sequence[int]) -> None:
        """More litters, for one holdback."""
        for found, more in ((self.right, right), (self.enough, enough), (self.true, true)):
            found[own] = found.get(own, 0) + more
        before = self.each.setdefault(own, [0] * len(each))
        self.each[own] = [one + more for one, more in zip(before, each, strict=True)]


@dataclass(frozen=True, slots=True)
class Played:
    """What came of it.

    Attributes:
        seasons: The seasons.
        born, kept, known: For each season and plan what :class:`sitegen.plans.roads.kinds.SeasonChance` counts.
        young, newly, held: For each season and plan the numbers of :class:`sitegen.plans.roads.kinds.SeasonLoad`.
        bred_in: For each stage and plan the season in which it was paired first; 0 for none.
        kept_of: For each stage and plan whether a goal animal from it is kept at the end.
        ended: For each stage and plan how it ended (:data:`OPEN` and the like).
        can: For each stage whether some young of it was the goal in some plan.
        litters: For each plan the number of litters.
        first: For each stage its first litters.
    """

    seasons: range
    born: Flags
    kept: Flags
    known: Flags
    young: Ints
    newly: Ints
    held: Ints
    bred_in: Ints
    kept_of: Flags
    ended: Ints
    can: Flags
    litters: Ints
    first: tuple[FirstLitter, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Brood:
    """The young of one litter in each of some plans, plan by plan and in order of birth.

    Attributes:
        plans: The plans.
        sizes: How many were conceived in each.
        of_plan: For each young the place of its plan in ``plans``.
        types: At each group of loci the type of each young.
        alive: Whether it was born alive.
        marks: Its marks, 0 if it was not.
        sexes: 0 or 1, see :data:`sitegen.genetics.crosses.SEXES`.
    """

    plans: Ints
    sizes: Ints
    of_plan: Ints
    types: list[Ints]
    alive: Flags
    marks: NDArray[np.uint64]
    sexes: Ints

    def marked(self, bit: int) -> Flags:
        """Which young have that bit."""
        found: Flags = (self.marks & np.uint64(1 << bit)) != 0
        return found

    def of_sex(self, sex: Sex | None) -> Flags:
        """Which living young are of that sex; all if none is wanted."""
        return self.alive if sex is None else self.alive & (self.sexes == SEXES.index(sex))

    def counted(self, flags: Flags) -> Ints:
        """How many of these young there are in each plan."""
        return np.bincount(self.of_plan[flags], minlength=len(self.plans))

    def ranked(self, flags: Flags) -> Ints:
        """For each young how many of these were born in its plan up to it, itself counted."""
        so_far = np.cumsum(flags)
        ends = np.cumsum(self.sizes)
        before = np.concatenate(([0], so_far))[ends - self.sizes]
        found: Ints = so_far - before[self.of_plan]
        return found
