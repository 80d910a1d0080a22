"""What hangs together: two hidden genes of one animal, and one hidden gene of several littermates.

Chances that stand side by side invite to be multiplied. Where that would be wrong, the exact joint is worked out here:
several possible sires, linked loci, two alleles of one locus, parents in doubt.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import combinations
from math import prod

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.content.off_site import is_off_site
from sitegen.evidence.asking import Asked
from sitegen.evidence.kinds import chance_of_allele
from sitegen.exact import written
from sitegen.genetics.carriers import carriers
from sitegen.genetics.counts import all_together
from sitegen.genetics.loci import Locus
from sitegen.genetics.network import Case, Heredity, cases
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.lazily import Lazily

TOLD_FROM = Fraction(1, 100)
"""A joint chance that differs less from the product is not told in words."""
_NONE = Fraction(0)


class Tie(StrEnum):
    """Why two hidden genes of one animal hang together."""

    ALLELES = "they are alleles of one locus"
    LINKED = "their loci are linked"
    SIRE = "it depends on which sire"


@dataclass(frozen=True, slots=True)
class HiddenGene:
    """So many copies of an allele, or more: one, or two where one is certain; with its chance, which is in doubt.

    ``unit`` and ``place`` are the number of what was asked together of the species, and of the locus in it.
    """

    unit: int
    place: int
    locus: Locus
    allele: str
    copies: int
    chance: Fraction

    @property
    def key(self) -> str:
        """What machines call it: the locus, or the allele where the locus has several."""
        return self.locus.id if len(self.locus.alleles) == 1 else self.allele


@dataclass(frozen=True, slots=True)
class Together:
    """Two hidden genes of one animal whose joint chance is not the product; ``both`` is that of having both."""

    first: HiddenGene
    second: HiddenGene
    both: Fraction

    @property
    def tie(self) -> Tie:
        """Why they hang together."""
        if self.first.unit != self.second.unit:
            return Tie.SIRE
        return Tie.LINKED if self.first.place != self.second.place else Tie.ALLELES

    @property
    def matters(self) -> bool:
        """True when it is to be told: far from the product, impossible together, or one implies the other."""
        first, second = self.first.chance, self.second.chance
        return abs(self.both - first * second) > TOLD_FROM or self.both in (0, first, second)


@dataclass(frozen=True, slots=True)
class Littermates:
    """How many of the young of one litter carry an allele, among those of whom that is in doubt.

    Attributes:
        gene: The allele; its chance is that of the first young.
        young: Those in doubt, at least two, in record order.
        counts: Chance that exactly 0, 1, ... of them carry it; sums to 1.
        apart: The same if their chances could be multiplied.
    """

    gene: HiddenGene
    young: tuple[AnimalId, ...]
    counts: tuple[Fraction, ...]
    apart: tuple[Fraction, ...]

    @property
    def end(self) -> int:
        """None of them (0) or all (-1): of which multiplying tells less truly."""
        return max((0, -1), key=lambda end: abs(self.counts[end] - self.apart[end]))

    @property
    def matters(self) -> bool:
        """True when it is to be told: the chance of none, or of all, is far from the product."""
        return abs(self.counts[self.end] - self.apart[self.end]) > TOLD_FROM


def together(asked: Asked, animal: Animal) -> tuple[Together, ...]:
    """Every two hidden genes of an animal that hang together; nothing where that is too tangled to be told."""
    answers = [heredity for _, heredity in asked.of_species(animal.species)]
    genes = [gene for unit in range(len(answers)) for gene in _hidden(asked, animal.id, unit, answers[unit])]
    units = [gene.unit for gene in genes]
    tied = any(answers[unit].solved.network.choices for unit in units)
    wanted = sorted({unit for unit in units if units.count(unit) > 1 or (tied and len(genes) > 1)})
    found = cases([answers[unit] for unit in wanted], [animal.id]) if wanted else ()
    if isinstance(found, Impossible | TooTangled):
        return ()

    def chance(case: Case, unit: int, pair: Sequence[HiddenGene]) -> Fraction:
        """That of having those of the pair that belong to the unit."""
        genotypes, own = answers[unit].mode.genotypes, [gene for gene in pair if gene.unit == unit]
        shares = (
            share
            for (state,), share in case.states[wanted.index(unit)].items()
            if all(genotypes[state][gene.place].count(gene.allele) >= gene.copies for gene in own)
        )
        return sum(shares, _NONE)

    told: list[Together] = []
    for first, second in combinations(genes, 2):
        both_units = dict.fromkeys((first.unit, second.unit))
        if len(both_units) > 1 and len(found) < 2:
            continue  # nothing ties them
        each = (prod((chance(case, unit, (first, second)) for unit in both_units), start=case.chance) for case in found)
        both = sum(each, _NONE)
        if both != first.chance * second.chance:
            told.append(Together(first, second, both))
    return tuple(told)


def _hidden(asked: Asked, animal: AnimalId, unit: int, heredity: Heredity) -> Iterator[HiddenGene]:
    """What is in doubt of an animal at the loci of a unit."""
    for place, locus in enumerate(heredity.mode.loci):
        posterior = asked.posterior(animal, locus.id)
        for allele in locus.alleles if len(posterior) > 1 else ():
            one = chance_of_allele(posterior, allele.id)
            copies, chance = (2, posterior.get((allele.id, allele.id), _NONE)) if one == 1 else (1, one)
            if 0 < chance < 1:
                yield HiddenGene(unit, place, locus, allele.id, copies, chance)


def littermates(asked: Asked, litter: Litter) -> tuple[Littermates, ...]:
    """For each allele that more than one listed young of a litter may carry, how many of them do."""
    found: list[Littermates] = []
    for unit, (_, heredity) in enumerate(asked.of_species(litter.species)):
        doubts: dict[tuple[int, str], dict[AnimalId, HiddenGene]] = {}
        for young in litter.young:
            for gene in _hidden(asked, young, unit, heredity):
                if gene.copies == 1:
                    doubts.setdefault((gene.place, gene.allele), {})[young] = gene
        for (place, allele), own in sorted(doubts.items()):
            counts = carriers(heredity, tuple(own), place, allele) if len(own) > 1 else None
            if counts is not None:
                apart = all_together([(1 - gene.chance, gene.chance) for gene in own.values()])
                found.append(Littermates(next(iter(own.values())), tuple(own), counts, apart))
    return tuple(found)


Joints = tuple[Mapping[AnimalId, tuple[Together, ...]], Mapping[str, tuple[Littermates, ...]]]


def joints_of(asked: Asked) -> Joints:
    """What hangs together of each animal, and among the young of each litter; worked out when it is asked for."""
    animals, litters = asked.evidence.collection.animals, asked.evidence.collection.litters
    return (
        Lazily(animals, lambda animal: together(asked, animals[animal])),
        Lazily(litters, lambda litter: littermates(asked, litters[litter])),
    )


def joint_json(collection: Collection, joints: Joints) -> dict[str, object]:
    """All of it for machines, exact.

    ``joint``: of each animal every two loci whose joint chance of carrying is not the product. ``littermates``: of each
    litter the loci at which several young are in doubt, with their numbers, and how many of them carry.
    """
    joint = {
        animal: [
            {"carries": [each.first.key, each.second.key], "p": written(each.both)}
            for each in own
            if each.first.copies == each.second.copies == 1
        ]
        for animal, own in joints[0].items()
        if not is_off_site(animal)
    }
    shared = {
        litter: {
            each.gene.key: {
                "young": [collection.animals[young].number for young in each.young],
                "counts": [written(chance) for chance in each.counts],
            }
            for each in own
            if not any(map(is_off_site, each.young))  # their numbers would not fit the counts without these
        }
        for litter, own in joints[1].items()
        if not is_off_site(litter)
    }
    return {
        "joint": {animal: own for animal, own in joint.items() if own},
        "littermates": {litter: own for litter, own in shared.items() if own},
    }
