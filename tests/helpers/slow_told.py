"""What the slow truth tells of a road."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from helpers.road_rules import NONE


@dataclass(frozen=True)
class Number:
    """Mean and variance of a number of animals, and the chance of each number, where that is told."""

    mean: Fraction
    variance: Fraction
    chances: Mapping[int, Fraction] = field(default_factory=dict)


@dataclass
class First:
    """What the first litters of a stage give of one holdback, summed over the plans in which there is one.

    Attributes:
        litters: The chance of a first litter.
        young: Expected number of living young.
        right: Expected number that look right and are of the wanted sex, and of its square.
        enough: Chance of as many as are wanted.
        has: Expected number of those that look right and have what cannot be seen: by allele or hidden look, and all of
            it together (under an empty name).
    """

    litters: Fraction = NONE
    young: Fraction = NONE
    right: Fraction = NONE
    squared: Fraction = NONE
    enough: Fraction = NONE
    has: dict[str, Fraction] = field(default_factory=dict)

    @property
    def expected(self) -> Number:
        """How many of a first litter look right."""
        mean = self.right / self.litters
        return Number(mean, self.squared / self.litters - mean**2)


@dataclass
class Told:
    """What comes of a road: by season, and of its stages by their ids. Chances are of all plans."""

    born: dict[int, Fraction] = field(default_factory=dict)
    kept: dict[int, Fraction] = field(default_factory=dict)
    known: dict[int, Fraction] = field(default_factory=dict)
    bred: dict[str, dict[int, Fraction]] = field(default_factory=dict)
    kept_of: dict[str, Fraction] = field(default_factory=dict)
    """A goal young of that stage was kept by the horizon."""
    ended: dict[str, dict[str, Fraction]] = field(default_factory=dict)
    young: dict[int, Number] = field(default_factory=dict)
    new: dict[int, Number] = field(default_factory=dict)
    held: dict[int, Number] = field(default_factory=dict)
    first: dict[tuple[str, str], First] = field(default_factory=dict)
    """By stage and holdback."""

    def kept_given_bred(self, stage: str) -> Fraction | None:
        """Of plans in which a stage was bred, the share in which a goal young of it was kept; None if none was."""
        bred = max(self.bred[stage].values(), default=NONE)
        return self.kept_of[stage] / bred if bred else None
