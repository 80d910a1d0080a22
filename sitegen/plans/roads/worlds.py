"""What the animals at the start of a road may be, all together: their joint posterior at the loci that matter.

Loci stand side by side within a case (:mod:`sitegen.genetics.cases`); animals are never taken as independent. An
animal of unknown sex is taken to have the sex that its part needs.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import prod

from sitegen.evidence.asking import Asked
from sitegen.findings import SitegenError
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Sex
from sitegen.genetics.network import cases
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled

States = tuple[StateNumber, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """An animal and the sex that it has in the road."""

    animal: AnimalId
    sex: Sex


@dataclass(frozen=True, slots=True)
class World:
    """One way in which unknown sires may have been chosen.

    Attributes:
        chance: Its chance; all together have 1.
        states: For each group of loci the joint of the animals' states there, in their order; each sums to 1.
    """

    chance: Fraction
    states: tuple[Mapping[States, Fraction], ...]


def worlds_of(asked: Asked, species: str, units: Sequence[int], parts: Sequence[Part]) -> tuple[World, ...]:
    """The joint posterior of some animals.

    Args:
        asked: The evidence and its answers.
        species: The species of all the animals.
        units: Places of the groups of loci in ``asked.heredity``.
        parts: The animals.

    Raises:
        SitegenError: Their records contradict each other, or they are too closely tangled to be told exactly.
    """
    if not units:
        return (World(Fraction(1), ()),)
    if not parts:
        return (World(Fraction(1), tuple({(): Fraction(1)} for _ in units)),)
    names = [part.animal for part in parts]
    found = cases([asked.heredity[unit] for unit in units], names)
    if isinstance(found, Impossible | TooTangled):
        why = "their records contradict each other" if isinstance(found, Impossible) else "too much is in doubt"
        raise SitegenError(f"{', '.join(names)} cannot be answered together: {why}; see {species} in the check")
    fitting: list[tuple[Fraction, tuple[Mapping[States, Fraction], ...]]] = []
    for case in found:
        modes = [asked.heredity[unit].mode for unit in units]
        own = [_fitting(mode, states, parts) for mode, states in zip(modes, case.states, strict=True)]
        chance = case.chance * prod((total for total, _ in own), start=Fraction(1))
        if chance:
            fitting.append((chance, tuple(states for _, states in own)))
    total = sum((chance for chance, _ in fitting), Fraction(0))
    return tuple(World(chance / total, states) for chance, states in fitting)


def _fitting(
    mode: Mode, joint: Mapping[States, Fraction], parts: Sequence[Part]
) -> tuple[Fraction, Mapping[States, Fraction]]:
    """The joint among states of the needed sexes, and the chance of those."""
    if not mode.has_sex:
        return Fraction(1), joint
    kept = {
        states: chance
        for states, chance in joint.items()
        if all(mode.states[state].sex is part.sex for state, part in zip(states, parts, strict=True))
    }
    total = sum(kept.values(), Fraction(0))
    return total, {states: chance / total for states, chance in kept.items()} if total else {}
