"""Doubts about what a plan wants or breeds from: looks of which no animal lives, and genes with a known harm."""

from collections.abc import Iterator

from sitegen.content.animals import Animal
from sitegen.content.projects import Goal, Holdback
from sitegen.evidence.asking import Asked
from sitegen.findings import Place
from sitegen.genetics.loci import Genome, Locus
from sitegen.genetics.observations import showing_alleles
from sitegen.genetics.questions import AnimalId
from sitegen.plans.doubts_kinds import Lethal, Unweighed, Where
from sitegen.plans.promises import PromiseRoute, open_stages


def all_wanted(route: PromiseRoute) -> Iterator[tuple[Goal | Holdback, Where]]:
    """The goal, and every holdback that is still to be filled, each with where it stands."""
    project = route.project
    if not route.id:
        yield project.goal, Where(project.id, project.goal.place or project.place)
    for each in open_stages(route):
        for kept in each.to_fill:
            yield kept, Where(project.id, kept.place, each.stage.id, route.id, kept.id)


def makers(locus: Locus, look: str) -> tuple[str, ...]:
    """The alleles that make a look, in any of its genotypes."""
    found = (
        allele
        for genotype, shown in locus.shown.items()
        if shown == look
        for allele in showing_alleles(locus, genotype)
    )
    return tuple(dict.fromkeys(found))


def shown_looks(animal: Animal) -> tuple[str, ...]:
    """The looks that an animal's records say were seen."""
    return tuple(dict.fromkeys(seen.look for genes in animal.genes for seen in genes.judged.seen))


def never_seen(asked: Asked, route: PromiseRoute, genome: Genome) -> Iterator[Lethal]:
    """Looks that only embryos have which do not live."""
    told: set[str] = set()
    for wanted, where in all_wanted(route):
        for look in wanted.shows:
            locus = genome.locus(genome.look(look).locus)
            genotypes = [genotype for genotype, shown in locus.shown.items() if shown == look]
            if look not in told and genotypes and all(genotype in locus.lethal for genotype in genotypes):
                told.add(look)
                yield Lethal(where, look, _gene_place(asked, route, locus))


def unweighed(asked: Asked, route: PromiseRoute, genome: Genome) -> Iterator[Unweighed]:
    """Genes with a known harm of which the project says nothing, each once."""
    told: set[str] = set()
    for wanted, where in () if route.project.welfare else all_wanted(route):
        ids = {allele for look in wanted.shows for allele in makers(genome.locus(genome.look(look).locus), look)}
        for locus in genome.loci:
            for allele in locus.alleles:
                if allele.welfare and allele.id in ids | set(wanted.carries) and allele.id not in told:
                    told.add(allele.id)
                    yield Unweighed(where, allele.id, _gene_place(asked, route, locus))
    for animal, where in () if route.project.welfare else _bred(route):
        for look in shown_looks(asked.evidence.collection.animals[animal]):
            locus = genome.locus(genome.look(look).locus)
            for allele in (locus.allele(maker) for maker in makers(locus, look)):
                if allele.welfare and allele.id not in told:
                    told.add(allele.id)
                    yield Unweighed(where, allele.id, _gene_place(asked, route, locus), animal)


def _bred(route: PromiseRoute) -> Iterator[tuple[AnimalId, Where]]:
    """The animals that open stages breed from, with where they are named."""
    for each in open_stages(route):
        stage = each.stage
        for parents, place in ((each.dams, stage.dam_place), (each.sires, stage.sire_place)):
            for animal in parents.animals:
                yield animal, Where(route.project.id, place or stage.place, stage.id, route.id)


def _gene_place(asked: Asked, route: PromiseRoute, locus: Locus) -> Place:
    species = asked.evidence.collection.species[route.project.species]
    return species.gene_places.get(locus.id, species.place)
