"""Which animal is promised to which stage in which season, over all projects that are not finished."""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from sitegen.content.branches import Needs, apart, needs
from sitegen.content.collection import Collection
from sitegen.content.projects import Goal, Project, Stage
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.kinds import StageState
from sitegen.plans.roads.plan import Parents, RoadPlan, StagePlan, road_plan

ACTIVE = ("planned", "under way")
"""States of a project whose stages are still to be bred."""


@dataclass(frozen=True, slots=True)
class Promise:
    """A parent of an open stage.

    Attributes:
        project, route, stage: Which stage; ``route`` is empty on the main road.
        name: The animal, or ``STAGE.HOLDBACK`` as written.
        sex: As what it is bred.
        season: That of the plan; where it has passed, the first one in which the stage can be bred.
        parents: The animals that are there, or the holdback.
        place: Where it is named.
        count: How many young of the holdback are to be kept; 1 for animals.
        as_planned: The season is that of the plan.
        needs: What has to be kept before; ``goal`` is that of the project.
    """

    project: str
    route: str
    stage: str
    name: str
    sex: Sex
    season: int
    parents: Parents
    place: Place
    count: int = 1
    as_planned: bool = True
    needs: Needs = field(default_factory=dict, compare=False)
    goal: Goal = field(default=Goal(()), compare=False)

    def may_meet(self, other: "Promise") -> bool:
        """False for stages on two branches of a road, of which only one comes true."""
        if (self.project, self.route) != (other.project, other.route):
            return True
        return apart({**self.needs, **other.needs}, self.goal) is None

    @property
    def subjects(self) -> tuple[str, ...]:
        """Whom it binds: animals, which are the same in all projects, or a holdback of this route."""
        return self.parents.animals or (f"{self.project}/{self.route}/{self.name}",)


@dataclass(frozen=True, slots=True)
class PromiseRoute:
    """One road of a project as it stands; ``id`` is empty for the main one."""

    project: Project
    id: str
    stages: tuple[Stage, ...]
    plan: RoadPlan


def routes_of(collection: Collection, project: Project, as_of: dt.date) -> tuple[PromiseRoute, ...]:
    """The main road and the alternatives; none of a species without a record."""
    written = [("", project.stages), *((each.id, each.stages) for each in project.alternatives)]
    return tuple(
        PromiseRoute(project, name, stages, road_plan(collection, project, stages, as_of)) for name, stages in written
    )


def open_stages(route: PromiseRoute) -> tuple[StagePlan, ...]:
    """The stages that are still to be bred."""
    return tuple(each for each in route.plan.stages if each.state is not StageState.DONE)


def at_once(promises: Iterable[Promise]) -> tuple[Promise, ...]:
    """The first of them, and of the others those that can all come true together with it, each once."""
    found: list[Promise] = []
    for each in promises:
        if each not in found and all(each.may_meet(other) for other in found):
            found.append(each)
    return tuple(found)


def promises_of(route: PromiseRoute) -> Iterator[Promise]:
    """The parents of all open stages; a litter on the way keeps the promise of its season."""
    needed = needs(route.stages)
    counts = {f"{stage.id}.{kept.id}": kept.count for stage in route.stages for kept in stage.holdbacks}
    for each in open_stages(route):
        stage = each.stage
        season = each.start if each.start == stage.season else each.earliest
        if season is None or any(litter.season >= each.start for litter in each.expecting):
            continue
        for name, sex, parents, place in (
            (stage.dam, Sex.FEMALE, each.dams, stage.dam_place),
            (stage.sire, Sex.MALE, each.sires, stage.sire_place),
        ):
            yield Promise(
                project=route.project.id,
                route=route.id,
                stage=stage.id,
                name=name,
                sex=sex,
                season=season,
                parents=parents,
                place=place or stage.place,
                count=1 if parents.animals else counts.get(name, 1),
                as_planned=each.start == stage.season,
                needs=needed[stage.id],
                goal=route.project.goal,
            )


def all_promises(collection: Collection, as_of: dt.date) -> tuple[Promise, ...]:
    """The promises of the main roads of all projects that are not finished, in the order of the records."""
    return tuple(
        promise
        for project in collection.projects.values()
        if project.state in ACTIVE
        for promise in promises_of(routes_of(collection, project, as_of)[0])
    )
