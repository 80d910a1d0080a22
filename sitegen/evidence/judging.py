"""What a judging by eye could tell: how old the animal was, what hid what, and why something was not judged."""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import replace

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Judged
from sitegen.content.values import PartialDate, whole_months
from sitegen.evidence.kinds import Judging, Unjudged
from sitegen.genetics.crosses import told_by
from sitegen.genetics.loci import Genome, Locus
from sitegen.genetics.observations import showing_alleles


def age_when_judged(collection: Collection, animal: Animal, judged: Judged) -> int | None:
    """Age in whole months, at the least, on the day an animal was judged; None when its birth is not known.

    The day is the one written with the judging. Without one, a litter record judged its young at birth,
    and an animal's own record is taken as kept up to the latest date that stands in it or in a litter it
    bred. An animal of its own whose birth is not recorded counts as grown: the caller reads None so.
    """
    if judged.age_months is not None:
        return judged.age_months
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
    """The dates that stand in an animal's own record, or in a litter it bred.

    Days of weights and meals that are not published count for nothing: a day on which a look began to count is told.
    """
    animal = animal.published
    yield from (weighing.date for weighing in animal.weights)
    yield from (meal.date for meal in animal.meals)
    yield from (photo.date for photo in animal.photos if photo.date)
    yield from (test.date for genes in animal.genes for test in genes.tests if test.date)
    if animal.acquired and animal.acquired.date:
        yield animal.acquired.date
    if animal.offer and animal.offer.since:
        yield animal.offer.since
    for litter in collection.bred_by(animal.id):
        yield from (day for day in (litter.paired, litter.laid, litter.born) if day)


def unjudged_alleles(genome: Genome, locus: Locus, judged: Judged, age_months: int | None) -> frozenset[str]:
    """The alleles of a locus that could not be judged: not yet visible at that age, or hidden by what it shows.

    A gene that makes a look alone hides another in all its looks: what is hidden by the one-copy look is
    hidden by the two-copy look too.
    """
    if not any(allele.visible_from_months or allele.hidden_by for allele in locus.alleles):
        return frozenset()
    hiding = hiding_looks(genome, (seen.look for seen in judged.seen))
    return frozenset(
        allele.id
        for allele in locus.alleles
        if (age_months is not None and age_months < allele.visible_from_months) or hiding.intersection(allele.hidden_by)
    )


def hiding_looks(genome: Genome, looks: Iterable[str]) -> set[str]:
    """The looks, and the gene that makes one alone."""
    found: set[str] = set()
    for look in looks:
        found.add(look)
        told = told_by(genome.locus(genome.look(look).locus), look)
        found |= told if len(told) == 1 else set()
    return found


def look_seen(animal: Animal, locus: Locus) -> str:
    """The look of the locus that the records name for the animal; empty when none does. The last record counts."""
    seen = [look.look for genes in animal.genes for look in genes.judged.seen if look.locus == locus.id]
    return seen[-1] if seen else ""


def why_unjudged(
    collection: Collection, animal: Animal, locus: Locus, allele: str, as_of: dt.date
) -> tuple[Unjudged | None, str]:
    """Why an allele was not judged by eye, and the look that hides it; None when it was judged.

    One record that judged it is enough. An animal without a date of birth is not called too young.
    """
    genome = collection.species[animal.species].genome
    grows = locus.allele(allele).visible_from_months
    too_young = False
    for genes in animal.genes:
        judged = genes.judged
        if any(look.locus == locus.id for look in judged.seen):
            return None, ""
        if not judged.written or judged.unsure_all or locus.id in judged.unsure:
            continue
        age = age_when_judged(collection, animal, judged)
        if allele not in unjudged_alleles(genome, locus, judged, age):
            return None, ""
        too_young = True  # or hidden, which is told first
    born = collection.birth_of(animal)
    if born and whole_months(born.latest, as_of) < grows:
        return Unjudged.TOO_YOUNG, ""
    if hidden_by := _hiding_look(genome, animal, locus, allele):
        return Unjudged.HIDDEN, hidden_by
    if too_young:
        return Unjudged.WAS_TOO_YOUNG, ""
    written = any(genes.judged.written for genes in animal.genes)
    return (Unjudged.UNSURE if written else Unjudged.NOT_RECORDED), ""


def how_judged(collection: Collection, animal: Animal, as_of: dt.date) -> Judging:
    """How far an animal was judged by eye, whose records name no look."""
    if not any(genes.judged.written for genes in animal.genes):
        return Judging.NOT_DESCRIBED
    why = {
        why_unjudged(collection, animal, locus, allele.id, as_of)[0]
        for locus in collection.species[animal.species].genome.loci
        for allele in locus.alleles
    }
    if not why - {None}:
        return Judging.WHOLE
    if None in why:
        return Judging.IN_PART
    young = why <= {Unjudged.TOO_YOUNG, Unjudged.WAS_TOO_YOUNG}
    return Judging.TOO_YOUNG if young else Judging.NOT_JUDGED


def _hiding_look(genome: Genome, animal: Animal, locus: Locus, allele: str) -> str:
    """The look of the animal under which an allele cannot be judged; empty when there is none."""
    for genes in animal.genes:
        for seen in genes.judged.seen:
            if allele in unjudged_alleles(genome, locus, replace(genes.judged, seen=(seen,)), None):
                return seen.look
    return ""


def saw_all(
    genome: Genome, judged: Judged, age_months: int | None, wanted: Iterable[str], barred: Iterable[str]
) -> bool | None:
    """Whether one judging saw all wanted looks and none that is barred; None if it could not tell."""
    if not judged.written:
        return None
    seen = _looks_seen(genome, judged)
    if seen.intersection(barred):
        return False
    doubtful = False
    for look in wanted:
        locus = genome.locus(genome.look(look).locus)
        if look in seen:
            continue
        if seen.intersection(each.id for each in locus.looks):
            return False
        makers = {
            allele
            for genotype, own in locus.shown.items()
            if own == look
            for allele in showing_alleles(locus, genotype)
        }
        hidden = unjudged_alleles(genome, locus, judged, age_months)
        if not (judged.unsure_all or locus.id in judged.unsure or makers & hidden):
            return False
        doubtful = True
    return None if doubtful else True


def _looks_seen(genome: Genome, judged: Judged) -> set[str]:
    """The looks that were seen; two of one locus that were named together are the look of both."""
    by_locus: dict[str, list[str]] = {}
    for each in judged.seen:
        by_locus.setdefault(each.locus, []).append(each.look)
    found: set[str] = set()
    for locus, looks in by_locus.items():
        together = [look for pair, look in genome.locus(locus).shown.items() if set(pair) == set(looks)]
        found |= set(together) if len(looks) > 1 and together else set(looks)
    return found
