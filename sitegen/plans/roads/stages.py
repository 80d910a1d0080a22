"""The numbers of one stage, exact: how its young can look, what a litter of it gives, how many young to keep."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from sitegen.content.projects import Holdback
from sitegen.content.species import Species
from sitegen.evidence.asking import Asked
from sitegen.genetics.counts import (
    at_least_in_litter,
    counts_in_litter,
    litter_sizes,
    narrowest,
    needed,
    per_young,
)
from sitegen.genetics.crosses import Cross
from sitegen.genetics.transmission import Transmission
from sitegen.plans.by_eye import Expected, by_eye
from sitegen.plans.looks import mixed_rows
from sitegen.plans.roads.couples import Couple
from sitegen.plans.roads.kinds import HoldbackOutlook
from sitegen.plans.roads.shares import being_true, carrying, kinds_of, looking_right, only, truly
from sitegen.plans.roads.wants import Want

LEVELS = (Fraction(50, 100), Fraction(90, 100))
"""Chances for which numbers of young are told."""

MOST = Fraction(80, 100)
"""What "most litters" means here, at least."""


def sizes_of(species: Species) -> Mapping[int, Fraction]:
    """Number of living young in a litter to its chance."""
    return litter_sizes(species.litter_size.low, species.litter_size.usual, species.litter_size.high)


def expected_looks(
    transmissions: Sequence[Transmission], couples: Sequence[Couple], species: Species
) -> tuple[Expected, ...]:
    """How young of these couples can look by eye, likeliest first."""
    cases = [
        (couple.chance, [Cross(each.mode, own) for each, own in zip(transmissions, couple.pairs, strict=True)])
        for couple in couples
    ]
    if not cases:
        return ()
    rows, _left_out = mixed_rows(cases)
    return by_eye(rows, species.genome)


def holdback_outlook(
    transmissions: Sequence[Transmission], couples: Sequence[Couple], holdback: Holdback, want: Want, species: Species
) -> HoldbackOutlook:
    """What a stage gives of one holdback."""
    kinds = kinds_of(transmissions, couples, want)
    right = looking_right(kinds) or {Fraction(0): Fraction(1)}
    share = per_young(right)
    sizes = sizes_of(species)
    keeping = carrying(kinds) if want.unseen else {}
    each = {unseen: per_young(carrying(kinds_of(transmissions, couples, only(want, unseen)))) for unseen in want.unseen}
    return HoldbackOutlook(
        id=holdback.id,
        count=holdback.count,
        sex=holdback.sex,
        animals=holdback.animals,
        looks_right=share,
        carries=per_young(keeping) if want.unseen else None,
        each=each,
        unseen=want.unseen,
        expected=share * sum((n * chance for n, chance in sizes.items()), Fraction(0)),
        in_one_litter=at_least_in_litter(right, sizes, holdback.count),
        needed=tuple(needed(right, level, holdback.count) for level in LEVELS),
        to_keep=tuple(needed(keeping or {Fraction(0): Fraction(1)}, level) for level in LEVELS) if want.unseen else (),
        between=narrowest(counts_in_litter(right, sizes), MOST),
    )


def goal_share(transmissions: Sequence[Transmission], couples: Sequence[Couple], goal: Want) -> Fraction:
    """Chance that one young truly is the goal."""
    return per_young(being_true(kinds_of(transmissions, couples, truly(goal))))


def transmissions_of(asked: Asked, units: Sequence[int]) -> tuple[Transmission, ...]:
    """What pairs pass on at some groups of loci."""
    return tuple(asked.transmissions[unit] for unit in units)
