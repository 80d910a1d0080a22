"""Kept young that turned out not to carry what they were kept for, and what that costs in years."""

from collections.abc import Iterator
from fractions import Fraction

from sitegen.content.projects import Holdback
from sitegen.content.species import Species
from sitegen.evidence.asking import Asked
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.plans.roads.kinds import Setback
from sitegen.plans.roads.plan import RoadPlan, StagePlan


def setbacks_of(asked: Asked, plan: RoadPlan, species: Species) -> tuple[Setback, ...]:
    """Each allele that none of a holdback's animals can hold.

    Its cost is counted from the season for which the stage that uses them was planned (or their own stage, if none
    does) to the first season in which young of the same pairing, bred once more, could stand there.
    """
    found: list[Setback] = []
    for each in plan.stages:
        for holdback in each.stage.holdbacks:
            for allele in holdback.carries if holdback.animals else ():
                if all(chance_of_allele(asked, animal, allele) == 0 for animal in holdback.animals):
                    again = _again(plan, each, holdback, species)
                    meant = min((use.stage.season for use, _ in _uses(plan, each, holdback)), default=each.stage.season)
                    years = None if again is None else max(0, again - meant)
                    found.append(Setback(each.stage.id, holdback.id, allele, holdback.animals, again, years))
    return tuple(found)


def _uses(plan: RoadPlan, each: StagePlan, holdback: Holdback) -> Iterator[tuple[StagePlan, Sex]]:
    """The stages that use a holdback, and as which sex."""
    name = f"{each.stage.id}.{holdback.id}"
    for use in plan.stages:
        for parent, sex in ((use.stage.dam, Sex.FEMALE), (use.stage.sire, Sex.MALE)):
            if parent == name:
                yield use, sex


def _again(plan: RoadPlan, each: StagePlan, holdback: Holdback, species: Species) -> int | None:
    """The first season in which young of the stage, bred once more from the animals it has, could be used."""
    bred = plan.next_open
    for parents, sex in ((each.dams, Sex.FEMALE), (each.sires, Sex.MALE)):
        entries = [plan.entries.get((animal, sex)) for animal in parents.animals]
        seasons = [entry.first for entry in entries if entry]
        if not seasons:
            return None
        bred = max(bred, min(seasons))
    uses = [sex for _, sex in _uses(plan, each, holdback)]
    if not uses:
        return bred
    born = plan.year.birthday(bred)
    return max(plan.year.first_season(born, species.breeding_age_months.get(sex, 0)) for sex in uses)


def chance_of_allele(asked: Asked, animal: AnimalId, allele: str) -> Fraction | None:
    """The chance that an animal holds an allele; None if there is no answer."""
    species = asked.evidence.collection.species[asked.evidence.collection.animals[animal].species]
    for locus in species.genome.loci:
        if any(own.id == allele for own in locus.alleles):
            found = asked.of(animal, locus.id)
            if isinstance(found, Impossible | TooTangled):
                return None
            return sum((chance for genotype, chance in found.items() if allele in genotype), Fraction(0))
    return None
