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


class Brood:
    """The young of one litter in each of some plans; 2-D arrays have a row for each young in order of birth.

    Attributes:
        plans: The plans.
        flat: Places in the grid of those that were conceived, with ``types`` (at each group of loci) and ``marks``.
        there: Where a young was born alive.
        sexes: 0 or 1, see :data:`sitegen.genetics.crosses.SEXES`.
    """

    def __init__(
        self,
        plans: Ints,
        most: int,
        flat: Ints,
        types: list[Ints],
        alive: Flags,
        marks: NDArray[np.uint64],
        sexes: Ints,
    ) -> None:
        self.plans, self.types, self.marks, self.sexes = plans, types, marks, sexes
        shape = (most, len(plans))
        self._flat = flat
        self._grid = np.zeros(shape, np.uint64)
        self._grid.ravel()[flat] = marks
        self.there = np.zeros(shape, np.bool_)
        self.there.ravel()[flat] = alive

    def marked(self, bit: int) -> Flags:
        """Where a young has that bit."""
        return (self._grid >> np.uint64(bit) & np.uint64(1)).astype(np.bool_)

    def of_sex(self, sex: Sex | None) -> Flags:
        """Where a young is of that sex; everywhere if none is wanted."""
        return self.there if sex is None else self.there & (self.sexes == SEXES.index(sex))

    def places(self, rows: Ints, columns: Ints) -> Ints:
        """Where the young at these places of the grid stand in ``types`` and ``marks``."""
        return np.searchsorted(self._flat, rows * len(self.plans) + columns)
