"""Whether what was said on a day rests on records that carry their day, or on some that may be written later.

A DNA test with its date, a litter with the day of its birth and a judging with its day were so on that day. What stands
in a record without a date (what a previous keeper stated, a look, that nothing is stated) is as it is written today.
"""

import datetime as dt

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Genes
from sitegen.evidence.arrivals import Arrivals
from sitegen.genetics.questions import AnimalId, parents_of


def rests_on_days(arrivals: Arrivals, animal: AnimalId, locus: str, day: dt.date) -> bool:
    """True when all that is known by a day of an animal, of those it descends from and of their young has its day.

    Ancestors are followed up to those whose genotype a test of an earlier day tells: what else is written of them, and
    whom they descend from, changes nothing. A founder without one rests on what was stated of it, or on nothing.
    """
    collection = arrivals.collection
    until = day - dt.timedelta(1)
    line: set[AnimalId] = set()
    waiting = [animal]
    while waiting:
        here = collection.animals[waiting.pop()]
        if here.id not in line:
            line.add(here.id)
            if not _is_tested(here, locus, until):
                if here.dam is None or not here.sires:
                    return False
                waiting += parents_of(here)
    there = (each for each in collection.animals.values() if arrivals.animals[each.id] <= day)
    near = [each for each in there if each.id in line or not line.isdisjoint(parents_of(each))]
    bred = {litter.id: litter for parent in line for litter in collection.bred_by(parent) if litter.others}
    return all(litter.born for litter in bred.values()) and all(
        _is_tested(each, locus, until) or all(_has_its_day(collection, each, genes, locus) for genes in each.genes)
        for each in near
    )


def _is_tested(animal: Animal, locus: str, day: dt.date) -> bool:
    tests = (test for genes in animal.genes for test in genes.tests if test.locus == locus and test.date)
    return any(len(test.genotypes) == 1 and test.date and test.date.earliest <= day for test in tests)


def _has_its_day(collection: Collection, animal: Animal, genes: Genes, locus: str) -> bool:
    """True when what is recorded of an animal at a locus says of which day it is, or nothing is."""
    judged = genes.judged
    looked = any(seen.locus == locus for seen in judged.seen) or (
        judged.written and not judged.unsure_all and locus not in judged.unsure
    )
    litter = collection.litters.get(animal.litter)
    at_birth = litter is not None and litter.born is not None and judged.place.file == litter.place.file
    tests = (test for test in genes.tests if test.locus == locus)
    return (not looked or judged.on is not None or at_birth) and all(test.date for test in tests)
