"""What hangs together: two hidden genes of one animal, and one hidden gene of several littermates.

Chances that stand side by side invite to be multiplied. Where that would be wrong, the exact joint is worked out here:
several possible sires, linked loci, two alleles of one locus, parents in doubt.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import combinations

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.evidence.asking import Asked
from sitegen.evidence.kinds import chance_of_allele
from sitegen.exact import written
from sitegen.genetics.carriers import carriers
from sitegen.genetics.counts import all_together
from sitegen.genetics.loci import Locus
from sitegen.genetics.network import cases
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.lazily import Lazily

TOLD_FROM = Fraction(1, 100)
"""A joint chance that differs less from the product is not told in words."""


class Tie(StrEnum):
    """Why two hidden genes of one animal hang together."""

    ALLELES = "they are alleles of one locus"
    LINKED = "their loci are linked"
    SIRE = "it depends on which sire"


@dataclass(frozen=True, slots=True)
class HiddenGene:
    """So many copies of an allele, or more: one, or two where one is certain; ``chance`` is above 0 and below 1."""

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
    tie: Tie

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
    genes: list[tuple[int, int, HiddenGene]] = []
    units = asked.of_species(animal.species)
    for rank, (_, heredity) in enumerate(units):
        for place, locus in enumerate(heredity.mode.loci):
            genes += [(rank, place, gene) for gene in _hidden(asked, animal.id, locus)]
    ranks = [rank for rank, _, _ in genes]
    tied = any(units[rank][1].solved.network.choices for rank in ranks)
    wanted = sorted({rank for rank in ranks if tied or ranks.count(rank) > 1})
    if len(genes) < 2 or not wanted:
        return ()
    found = cases([units[rank][1] for rank in wanted], [animal.id])
    if isinstance(found, Impossible | TooTangled):
        return ()

    def chance(*pair: tuple[int, int, HiddenGene]) -> list[Fraction]:
        """That of having all of one unit, for each case."""
        (rank, _, _), *_rest = pair
        at, genotypes = wanted.index(rank), units[rank][1].mode.genotypes
        return [
            sum(
                (
                    share
                    for (state,), share in case.states[at].items()
                    if all(genotypes[state][place].count(gene.allele) >= gene.copies for _, place, gene in pair)
                ),
                Fraction(0),
            )
            for case in found
        ]

    told: list[Together] = []
    for one, other in combinations(genes, 2):
        if one[0] == other[0]:
            each = chance(one, other)
            tie = Tie.ALLELES if one[1] == other[1] else Tie.LINKED
        elif len(found) > 1:
            each = [first * second for first, second in zip(chance(one), chance(other), strict=True)]
            tie = Tie.SIRE
        else:
            continue
        both = sum((case.chance * share for case, share in zip(found, each, strict=True)), Fraction(0))
        if both != one[2].chance * other[2].chance:
            told.append(Together(one[2], other[2], both, tie))
    return tuple(told)


def _hidden(asked: Asked, animal: AnimalId, locus: Locus) -> list[HiddenGene]:
    """What is in doubt of an animal at a locus."""
    posterior = asked.posterior(animal, locus.id)
    found: list[HiddenGene] = []
    for allele in locus.alleles if len(posterior) > 1 else ():
        one = chance_of_allele(posterior, allele.id)
        two = posterior.get((allele.id, allele.id), Fraction(0))
        copies, chance = (2, two) if one == 1 else (1, one)
        if 0 < chance < 1:
            found.append(HiddenGene(locus, allele.id, copies, chance))
    return found


def littermates(asked: Asked, litter: Litter) -> tuple[Littermates, ...]:
    """For each allele that more than one listed young of a litter may carry, how many of them do."""
    found: list[Littermates] = []
    for _, heredity in asked.of_species(litter.species) if len(litter.young) > 1 else ():
        for place, locus in enumerate(heredity.mode.loci):
            hidden = [(young, gene) for young in litter.young for gene in _hidden(asked, young, locus)]
            for allele in locus.alleles:
                own = {young: gene for young, gene in hidden if gene.allele == allele.id and gene.copies == 1}
                counts = carriers(heredity, tuple(own), place, allele.id) if len(own) > 1 else None
                if counts is None:
                    continue
                apart = all_together([(1 - gene.chance, gene.chance) for gene in own.values()])
                found.append(Littermates(next(iter(own.values())), tuple(own), counts, apart))
    return tuple(found)


Joints = tuple[Mapping[AnimalId, tuple[Together, ...]], Mapping[str, tuple[Littermates, ...]]]
Json = dict[str, object]


def joints_of(asked: Asked) -> Joints:
    """What hangs together of each animal, and among the young of each litter; worked out when it is asked for."""
    animals, litters = asked.evidence.collection.animals, asked.evidence.collection.litters
    return (
        Lazily(animals, lambda animal: together(asked, animals[animal])),
        Lazily(litters, lambda litter: littermates(asked, litters[litter])),
    )


def joint_json(collection: Collection, joints: Joints) -> Json:
    """All of it for machines: ``joint`` and ``littermates``, exact."""
    tied = {animal: together_json(own) for animal, own in joints[0].items()}
    shared = {litter: littermates_json(collection, own) for litter, own in joints[1].items()}
    return {
        "joint": {animal: own for animal, own in tied.items() if own},
        "littermates": {litter: own for litter, own in shared.items() if own},
    }


def together_json(found: Sequence[Together]) -> list[Json]:
    """Each two loci of one animal whose joint chance of carrying differs from the product."""
    carried = [each for each in found if each.first.copies == each.second.copies == 1]
    return [{"carries": [each.first.key, each.second.key], "p": written(each.both)} for each in carried]


def littermates_json(collection: Collection, found: Sequence[Littermates]) -> Json:
    """Each locus with the numbers of the young of one litter in doubt, and how many of them carry."""
    return {
        each.gene.key: {
            "young": [collection.animals[young].number for young in each.young],
            "counts": [written(chance) for chance in each.counts],
        }
        for each in found
    }
