"""What a judging could tell: how old the animal was, and what hid what."""

from collections.abc import Iterable, Iterator

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Judged
from sitegen.content.litters import Litter
from sitegen.content.values import PartialDate, whole_months
from sitegen.genetics.loci import Genome, Locus
from sitegen.genetics.observations import showing_alleles


def age_when_judged(collection: Collection, animal: Animal, judged: Judged) -> int | None:
    """Age in whole months, at the least, on the day an animal was judged; None when its birth is not known.

    The day is the one written with the judging. Without one, a litter record judged its young at birth,
    and an animal's own record is taken as kept up to the latest date that stands in it or in a litter it
    bred. An animal of its own whose birth is not recorded counts as grown: the caller reads None so.
    """
    litter = collection.litters.get(animal.litter)
    in_litter = litter is not None and judged.place.file == litter.place.file
    if judged.on is None and in_litter:
        return 0
    born = collection.birth_of(animal)
    if born is None:
        return None
    days = (judged.on,) if judged.on else (born, *dates_of(collection, animal))
    return max(0, whole_months(born.latest, max(day.earliest for day in days)))


def dates_of(collection: Collection, animal: Animal) -> Iterator[PartialDate]:
    """The dates that stand in an animal's own record, or in a litter it bred."""
    yield from (weighing.date for weighing in animal.weights)
    yield from (meal.date for meal in animal.meals)
    yield from (photo.date for photo in animal.photos if photo.date)
    yield from (test.date for genes in animal.genes for test in genes.tests if test.date)
    if animal.acquired and animal.acquired.date:
        yield animal.acquired.date
    if animal.offer and animal.offer.since:
        yield animal.offer.since
    for litter in collection.bred_by(animal.id):
        yield from _breeding_dates(litter)


def _breeding_dates(litter: Litter) -> Iterator[PartialDate]:
    yield from (day for day in (litter.paired, litter.laid, litter.born) if day)


def unjudged_alleles(genome: Genome, locus: Locus, judged: Judged, age_months: int | None) -> frozenset[str]:
    """The alleles of a locus that could not be judged: not yet visible at that age, or hidden by what it shows.

    A gene that makes a look alone hides another in all its looks: what is hidden by the one-copy look is
    hidden by the two-copy look too.
    """
    hiding = _hiding(genome, (seen.look for seen in judged.seen))
    return frozenset(
        allele.id
        for allele in locus.alleles
        if (age_months is not None and age_months < allele.visible_from_months) or hiding.intersection(allele.hidden_by)
    )


def _hiding(genome: Genome, looks: Iterable[str]) -> set[str]:
    """The looks, and the gene that makes one alone."""
    found: set[str] = set()
    for look in looks:
        found.add(look)
        locus = genome.locus(genome.look(look).locus)
        makers = [set(showing_alleles(locus, genotype)) for genotype, own in locus.shown.items() if own == look]
        told = set.intersection(*makers) if makers else set()
        found |= told if len(told) == 1 else set()
    return found
