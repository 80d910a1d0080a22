"""What is impossible or doubtful in the plan of a project: plain facts, from the records and the answers alone."""

import datetime as dt
from collections.abc import Iterator
from fractions import Fraction

from sitegen.content.projects import Goal, Project
from sitegen.evidence.answers import related
from sitegen.evidence.asking import Asked
from sitegen.genetics.loci import Genome
from sitegen.genetics.observations import looks_of
from sitegen.genetics.questions import AnimalId, Impossible, Member, TooTangled
from sitegen.plans.doubts_genes import gene_doubts
from sitegen.plans.doubts_kinds import Doubt, NotReached, TooRelated, Where
from sitegen.plans.doubts_when import when_doubts
from sitegen.plans.promises import ACTIVE, Promise, PromiseRoute, all_promises, open_stages, routes_of
from sitegen.plans.roads.related import Relations, written_name

REACHED = "reached"


def doubts_of_all(asked: Asked, as_of: dt.date) -> tuple[Doubt, ...]:
    """The doubts about all projects of a collection, in the order of the records."""
    projects = asked.evidence.collection.projects
    promises = all_promises(asked.evidence.collection, as_of) if projects else ()
    return tuple(doubt for project in projects.values() for doubt in doubts(asked, project, as_of, promises))


def doubts(
    asked: Asked, project: Project, as_of: dt.date, promises: tuple[Promise, ...] | None = None
) -> tuple[Doubt, ...]:
    """The doubts about the plan of a project; a project that was given up has none.

    Args:
        asked: The evidence of the collection and what heredity answers.
        project: One of its projects.
        as_of: The day of the statement.
        promises: What is promised on the main roads of all projects, if it is known already.
    """
    if project.state == REACHED:
        return tuple(_not_reached(asked, project))
    if project.state not in ACTIVE:
        return ()
    known = all_promises(asked.evidence.collection, as_of) if promises is None else promises
    found: list[Doubt] = []
    for route in routes_of(asked.evidence.collection, project, as_of):
        found += gene_doubts(asked, route)
        found += when_doubts(route, known)
        found += _too_related(asked, route)
    return tuple(found)


def _too_related(asked: Asked, route: PromiseRoute) -> Iterator[TooRelated]:
    """Open stages whose young would be more inbred than the breeder accepts; of several parents the closest pair."""
    limit = route.project.relatedness_limit
    stages = open_stages(route)
    if limit is None or not stages:
        return
    relations = Relations(asked, route.project.species, route.plan.stages)
    for each in stages:
        closest, dam, sire = max(relations.pairs(each.stage.id), key=lambda pair: pair[0], default=(limit, "", ""))
        if closest > limit:
            where = Where(route.project.id, each.stage.sire_place or each.stage.place, each.stage.id, route.id)
            young = Member("", dam=dam, sires=((sire, Fraction(1)),))
            ways = related({**relations.members, "": young}, "")
            yield TooRelated(where, written_name(dam), written_name(sire), closest, limit, ways)


def _not_reached(asked: Asked, project: Project) -> Iterator[NotReached]:
    """A project that is called reached although no animal of it is certain to be its goal."""
    collection = asked.evidence.collection
    genome = collection.species[project.species].genome
    stages = (*project.stages, *(stage for route in project.alternatives for stage in route.stages))
    litters = [collection.litters[litter] for stage in stages for litter in stage.litters]
    young = [animal for litter in litters for animal in litter.young]
    kept = [animal for stage in stages for holdback in stage.holdbacks for animal in holdback.animals]
    if any(
        _shown_by(project.goal, {seen.look for seen in other.judged.seen}) for one in litters for other in one.others
    ):
        return
    best: tuple[Fraction, AnimalId | None] = (Fraction(0), None)
    for animal in dict.fromkeys((*kept, *young)):
        chance = _chance_of_goal(asked, animal, project.goal, genome)
        if chance > best[0]:
            best = (chance, animal)
    if best[0] < 1:
        yield NotReached(Where(project.id, project.goal.place or project.place), best[1], best[0])


def _shown_by(goal: Goal, looks: set[str]) -> bool:
    """True when young that show these looks are the goal for certain."""
    return bool(goal.shows) and not goal.carries and set(goal.shows) <= looks


def _chance_of_goal(asked: Asked, animal: AnimalId, goal: Goal, genome: Genome) -> Fraction:
    """Chance that an animal is the goal: each locus by itself, which is exact for what is certain or impossible."""
    record = asked.evidence.collection.animals[animal]
    seen = {one.look for genes in record.genes for one in genes.judged.seen}
    chance = Fraction(1)
    for locus in genome.loci:
        looks = [look for look in goal.shows if look not in seen and any(own.id == look for own in locus.looks)]
        alleles = [allele for allele in goal.carries if any(own.id == allele for own in locus.alleles)]
        if not looks and not alleles:
            continue
        posterior = asked.of(animal, locus.id)
        if isinstance(posterior, Impossible | TooTangled):
            return Fraction(0)
        chance *= sum(
            (
                share * min((looks_of(locus, genotype).get(look, Fraction(0)) for look in looks), default=Fraction(1))
                for genotype, share in posterior.items()
                if all(allele in genotype for allele in alleles)
            ),
            Fraction(0),
        )
    return chance
