"""What is asked of the day before a litter was born, of a family at some loci, is what all records of that day say."""

import datetime as dt
import random
from dataclasses import replace
from fractions import Fraction
from itertools import product

from helpers.random_histories import grown_collection
from helpers.replayed import as_of_collection
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.content.collection import Collection
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.pairings import crosses_of
from sitegen.findings import SitegenError
from sitegen.genetics.loci import Genotype
from sitegen.plans.roads.reality import asked_on

Pair = tuple[tuple[tuple[str, ...], tuple[Genotype, ...], tuple[Genotype, ...]], ...]


def what_they_are(asked: Asked, dam: str, sire: str, loci: frozenset[str]) -> dict[Pair, Fraction] | None:
    """(loci of a group, the dam's genotypes, the sire's) at every group together, to chance; None without an answer."""
    try:
        sides = crosses_of(asked, dam, sire, loci)
    except SitegenError:
        return None
    found: dict[Pair, Fraction] = {}
    for weight, crosses in sides:
        for combined in product(*([(cross.mode, *each) for each in cross.all_pairs.items()] for cross in crosses)):
            chance, pair = weight, []
            for mode, (female, male), share in combined:
                chance *= share
                pair.append((tuple(locus.id for locus in mode.loci), mode.genotypes[female], mode.genotypes[male]))
            key = tuple(sorted(pair))
            found[key] = found.get(key, Fraction(0)) + chance
    return found


def without_late_genes(collection: Collection) -> Collection:
    """The same records of a species whose genes can all be judged at birth."""
    (species,) = collection.species.values()
    loci = tuple(
        replace(locus, alleles=tuple(replace(allele, visible_from_months=0) for allele in locus.alleles))
        for locus in species.genome.loci
    )
    judged = replace(species, genome=replace(species.genome, loci=loci))
    return replace(collection, species={species.id: judged})


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 1_000_000), st.booleans())
def test_the_family_of_the_day_says_what_everybody_says(seed: int, late: bool) -> None:
    collection = grown_collection(seed)
    if not late:
        collection = without_late_genes(collection)
    dice = random.Random(seed)
    (species,) = collection.species.values()
    asked = ask(gather(collection))
    litters = [each for each in collection.litters.values() if each.born and each.dam and each.sires]
    for litter in dice.sample(litters, min(3, len(litters))):
        assert litter.born
        assert litter.dam
        day = litter.born.earliest - dt.timedelta(days=1)
        plain = ask(gather(as_of_collection(collection, day)))
        loci = frozenset(dice.sample([locus.id for locus in species.genome.loci], dice.randint(1, 3)))
        sires = tuple(sire for sire, _ in litter.sires)
        before = asked_on(asked, species.id, day, (litter.dam, *sires), loci)
        for sire in sires:
            told = what_they_are(before, litter.dam, sire, loci)
            assert told == what_they_are(plain, litter.dam, sire, loci)
            assert told is None or sum(told.values()) == 1
