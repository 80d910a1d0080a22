"""What a keeper's own litters teach of a species: how often a pairing gives young, and how many.

The figure of the species file counts as some pairings or litters of its own (:data:`WORTH`); those on record count
beside it. Of fewer than :data:`ENOUGH` nothing is learned.

Source: the conjugate rules, beta for a share and gamma for the mean of a Poisson number, as in Gelman and others,
Bayesian Data Analysis, chapter 2 (from memory): prior and records are weighed by how many each of them is worth.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.content.litters import Litter, living_young
from sitegen.content.species import Learned, LitterSize, Species
from sitegen.genetics.counts import litter_sizes

WORTH = 5
"""As how many pairings or litters a figure of the species file counts. Our own choice, no source."""
ENOUGH = 3
"""So many pairings or litters teach something. Our own choice, no source."""


def weighed(usual: Fraction, seen: Iterable[int | Fraction]) -> Fraction:
    """The mean of a share or a number after what was seen, by the conjugate rule."""
    found = list(seen)
    return (WORTH * usual + sum(found, Fraction(0))) / (WORTH + len(found))


def ended(litters: Iterable[Litter]) -> tuple[Litter, ...]:
    """Those of which it is known whether young came."""
    return tuple(each for each in litters if each.failed or each.born or living_young(each))


@dataclass(frozen=True, slots=True)
class Outcomes:
    """What came of some pairings: how many ended, how many gave living young, and the numbers of these."""

    pairings: int
    took: int
    sizes: tuple[int, ...]


def outcomes_of(litters: Iterable[Litter]) -> Outcomes:
    """What came of litters; one of which no young is counted has no size."""
    known = ended(litters)
    sizes = tuple(number for each in known if (number := living_young(each)))
    return Outcomes(len(known), sum(not each.failed for each in known), sizes)


def learned(species: Species, litters: Iterable[Litter]) -> Species:
    """The species with the figures that own litters change, and what they were; as it is where these are too few."""
    own = outcomes_of(each for each in litters if each.species == species.id)
    found: dict[str, Learned] = {}
    takes, size = species.takes, species.litter_size
    if own.pairings >= ENOUGH:
        found["takes"] = Learned(own.pairings, own.took, takes)
        takes = weighed(takes, [1] * own.took + [0] * (own.pairings - own.took))
    if len(own.sizes) >= ENOUGH:
        found["litter_size"] = Learned(len(own.sizes), sum(own.sizes), size)
        size = shifted(size, own.sizes)
    return replace(species, takes=takes, litter_size=size, learned=found) if found else species


def shifted(size: LitterSize, seen: Iterable[int]) -> LitterSize:
    """The size with few, usual and many in the proportion in which the conjugate rule moves the mean, as whole numbers.

    A litter outside few and many, about which the check asks, counts as the nearest of the two.
    """
    mean = mean_size(size)
    moved = weighed(mean, [min(max(number, size.low), size.high) for number in seen]) / mean
    return LitterSize(*(max(min(1, each), round(each * moved)) for each in (size.low, size.usual, size.high)))


def mean_size(size: LitterSize) -> Fraction:
    """The mean number of young that plans take of such a size."""
    shares: Mapping[int, Fraction] = litter_sizes(size.low, size.usual, size.high)
    return sum((number * share for number, share in shares.items()), Fraction(0))
