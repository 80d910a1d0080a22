"""What a keeper saw of an animal at one locus, and why nothing was seen where it was not judged."""

import datetime as dt
from dataclasses import replace

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.values import whole_months
from sitegen.evidence.judging import age_when_judged, unjudged_alleles
from sitegen.evidence.kinds import Judging, Unjudged
from sitegen.genetics.loci import Genome, Locus


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
