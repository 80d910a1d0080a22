"""A dam and a sire that are there, as a mixture of pairs of genotypes, exact: for numbers that need no drawing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.evidence.asking import Asked
from sitegen.findings import SitegenError
from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.loci import Sex
from sitegen.genetics.network import cases
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled

Pairs = Mapping[tuple[StateNumber, StateNumber], Fraction]


@dataclass(frozen=True, slots=True)
class Couple:
    """One way in which the parents may be, in which loci are independent.

    Attributes:
        chance: Its chance; all together have 1.
        pairs: For each group of loci (dam's state, sire's state) to chance; each sums to 1.
    """

    chance: Fraction
    pairs: tuple[Pairs, ...]


def couples_of(asked: Asked, units: Sequence[int], dam: AnimalId, sire: AnimalId) -> tuple[Couple, ...]:
    """The two, whose young can live; an unknown sex is taken as the one that is needed. Empty if no young can.

    Args:
        asked: The evidence and its answers.
        units: Places of the groups of loci in ``asked.heredity``.
        dam: The dam.
        sire: The sire.

    Raises:
        SitegenError: Their records contradict each other, or they are too closely tangled to be told exactly.
    """
    if not units:
        return (Couple(Fraction(1), ()),)
    answers = [asked.heredity[unit] for unit in units]
    transmissions = [asked.transmissions[unit] for unit in units]
    cases_found = cases(answers, [dam, sire])
    if isinstance(cases_found, Impossible | TooTangled):
        raise no_answer([dam, sire], cases_found)
    found: list[tuple[Fraction, tuple[Pairs, ...]]] = []
    for case in cases_found:
        chance, pairs = case.chance, []
        for answer, transmission, states in zip(answers, transmissions, case.states, strict=True):
            sexes = [state.sex for state in answer.mode.states]
            own = {
                (pair[0], pair[1]): share
                for pair, share in states.items()
                if transmission.young(pair[0], pair[1])
                and (not answer.mode.has_sex or [sexes[each] for each in pair] == [Sex.FEMALE, Sex.MALE])
            }
            total = sum(own.values(), Fraction(0))
            chance *= total
            pairs.append({pair: share / total for pair, share in own.items()} if total else {})
        if chance:
            found.append((chance, tuple(pairs)))
    whole = sum((chance for chance, _ in found), Fraction(0))
    return tuple(Couple(chance / whole, pairs) for chance, pairs in found)


def no_answer(animals: Sequence[AnimalId], failure: Impossible | TooTangled) -> SitegenError:
    """That some animals cannot be answered together."""
    why = "their records contradict each other" if isinstance(failure, Impossible) else "too much is in doubt"
    return SitegenError(f"{', '.join(animals)} cannot be answered together: {why}; see the check")
