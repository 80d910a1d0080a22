"""The months of a species as its records tell them, and in which years a collection writes its seasons."""

from collections import Counter
from collections.abc import Iterable, Mapping

from sitegen.content.litters import Litter
from sitegen.content.projects import Project
from sitegen.content.report import Report
from sitegen.content.site import FORMAT
from sitegen.content.species import Species
from sitegen.findings import Kind


def recorded_months(species: Species, litters: Iterable[Litter]) -> tuple[int, int]:
    """The months of pairing and of birth: as the species file has them, else the usual ones of its recorded litters.

    0 for what neither tells; of equally frequent months the earliest.
    """
    if species.breeding_season:
        return species.breeding_season.paired, species.breeding_season.born
    own = [litter for litter in litters if litter.species == species.id]
    paired = _usual(litter.paired.month for litter in own if litter.paired)
    return paired, _usual(litter.born.month for litter in own if litter.born)


def _usual(months: Iterable[int]) -> int:
    times = Counter(month for month in months if month)
    return min(times, key=lambda month: (-times[month], month), default=0)


def check_seasons(
    projects: Mapping[str, Project], litters: Mapping[str, Litter], species: Mapping[str, Species], report: Report
) -> None:
    """Tells each project of an older collection whose seasons may mean other years than they did when written.

    In format 1 a season was the year of the pairing. Only where the young come in the year after is that another year
    than the one that is meant now; what was written for such a species is for the breeder to read again.
    """
    for project in projects.values():
        own = species.get(project.species)
        paired, born = recorded_months(own, litters.values()) if own else (0, 0)
        stages = [*project.stages, *(stage for route in project.alternatives for stage in route.stages)]
        if not 0 < born < paired or not (stages or project.horizon):
            continue
        report.error(
            Kind.FORMAT_OLD,
            stages[0].place if stages else project.place,
            f'the seasons of {project.id} may be a year too early: this collection has no line "format: {FORMAT}", so '
            f"they may be years of pairing, and {own.name if own else project.species} is paired in one year and born "
            "in the next",
            expected="years of birth: a season is now the year in which its young are born or hatch",
            remedy="check season of every stage and horizon in every project of such a species, then write this line "
            f"in site.yaml: format: {FORMAT}",
            others=[stage.place for stage in stages[1:]],
        )
