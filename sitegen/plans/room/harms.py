"""Looks with a welfare note that pairings can give, that goals ask for, and that bought animals may have."""

from collections.abc import Iterable, Iterator

from sitegen.content.animals import Animal
from sitegen.content.projects import Goal
from sitegen.evidence.asking import Asked
from sitegen.evidence.pairings import pairing
from sitegen.genetics.loci import Genome, Locus
from sitegen.genetics.observations import looks_of
from sitegen.plans.doubts_harms import makers, shown_looks
from sitegen.plans.room.kinds import Pair


def harms_of_pairing(asked: Asked, pair: Pair) -> tuple[str, ...]:
    """Looks with a welfare note that a living young of two animals on record can show, by what the evidence allows."""
    found = pairing(asked, *pair, teach=False)
    looks = (
        look
        for at in found.loci
        for odds in at.young.values()
        for genotype, chance in odds.items()
        if chance
        for look in looks_of(at.locus, genotype)
    )
    return _noted(asked.evidence.collection.species[found.species].genome, looks)


def harms_of_goal(genome: Genome, goal: Goal) -> tuple[str, ...]:
    """Looks that a goal asks for, and alleles to be carried, that have a welfare note."""
    return (*_noted(genome, goal.shows), *_carried(genome, goal.carries))


def harms_of_founder(genome: Genome, animal: Animal) -> tuple[str, ...]:
    """The same of an animal that is not there: by what it shows and what is stated of it."""
    stated = (
        allele for genes in animal.genes for each in genes.stated for genotype in each.odds for allele in genotype
    )
    return (*_noted(genome, shown_looks(animal)), *_carried(genome, stated))


def _noted(genome: Genome, looks: Iterable[str]) -> tuple[str, ...]:
    def harmful(look: str) -> bool:
        locus: Locus = genome.locus(genome.look(look).locus)
        return any(locus.allele(allele).welfare for allele in makers(locus, look))

    return tuple(look for look in dict.fromkeys(looks) if look and harmful(look))


def _carried(genome: Genome, alleles: Iterable[str]) -> Iterator[str]:
    wanted = set(alleles)
    return (own.id for locus in genome.loci for own in locus.alleles if own.id in wanted and own.welfare)
