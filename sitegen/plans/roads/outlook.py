"""A project's road from a day on: every number that is told of it, and what it has given so far.

The process is defined at the head of :mod:`sitegen.plans.roads.process`. In short: each open stage is bred every season
in which its parents can, until its holdbacks have their young; what cannot be seen is not selected; the goal is reached
in the season in which the first young that truly is the goal is born, in any litter of the road.

- The numbers of one stage are exact fractions. A planned parent is taken as a young of its stage that looks right, as
  inference would take one that is there (:mod:`sitegen.plans.roads.couples`).
- The chances by season are those of the process itself (:mod:`sitegen.plans.roads.passage`), where several seasons can
  be tried and a dam that cannot give what is wanted never does. So they are not made of the numbers of the stages.
"""

import datetime as dt
from fractions import Fraction

from sitegen.content.projects import Holdback, Project, Stage
from sitegen.evidence.asking import Asked
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.couples import couples_of, parts_of
from sitegen.plans.roads.courses import RUNS, STATES, Course, Roads
from sitegen.plans.roads.kinds import RoadOutlook, StageOutlook
from sitegen.plans.roads.plan import Parents, RoadPlan, StagePlan
from sitegen.plans.roads.reality import litter_results
from sitegen.plans.roads.related import Relations
from sitegen.plans.roads.setbacks import chance_of_allele, setbacks_of
from sitegen.plans.roads.stages import expected_looks, goal_share, holdback_outlook, transmissions_of
from sitegen.plans.roads.wants import Want, loci_of, want_of


def outlook(
    asked: Asked,
    project: Project,
    as_of: dt.date,
    *,
    stages: tuple[Stage, ...] | None = None,
    runs: int = RUNS,
    states: int = STATES,
    roads: Roads | None = None,
) -> RoadOutlook:
    """Everything that is told of a road.

    Args:
        asked: The evidence and its answers.
        project: The project.
        as_of: The day from which it is looked at.
        stages: Another route to the project's goal, in place of its own stages.
        runs: Roads to draw at most where there are too many to add up; fewer if the standard error is 1/100 sooner.
        states: Steps to add up at most; 0 always draws.
        roads: A workshop made earlier for the same answers and species.

    Raises:
        SitegenError: The parents have no answer at a locus that matters.
    """
    return _Outlook(asked, project, as_of, stages or project.stages, roads or Roads(asked, project.species)).whole(
        runs, states
    )


class _Outlook:
    """One road."""

    def __init__(self, asked: Asked, project: Project, as_of: dt.date, stages: tuple[Stage, ...], roads: Roads) -> None:
        self.asked = asked
        self.project = project
        self.as_of = as_of
        self.records = stages
        self.roads = roads
        self.collection = asked.evidence.collection
        self.species = self.collection.species[project.species]
        self.goal = want_of(self.species.genome, project.goal)

    def whole(self, runs: int, states: int) -> RoadOutlook:
        course = self.roads.course(self.project, self.as_of, stages=self.records, runs=runs, states=states)
        plan = course.plan
        wants = {
            (each.stage.id, own.id): want_of(self.species.genome, own, plan.sexes[each.stage.id, own.id])
            for each in plan.stages
            for own in each.stage.holdbacks
        }
        reached, animal = self._reached(plan)
        relations = Relations(self.asked, self.project.species, plan.stages)
        told = tuple(self._stage(plan, at, wants, course, relations) for at in range(len(plan.stages)))
        last = plan.stages[-1].stage.id if plan.stages else ""
        goal = animal or (relations.of_stage(last) if last else "")
        open_ = reached is None
        return RoadOutlook(
            stages=told,
            reached=reached,
            horizon=course.horizon,
            by_season=course.by_season if open_ else (),
            median=course.median if open_ else None,
            ever=course.ever if open_ else Fraction(1),
            litters=course.litters if open_ else Fraction(0),
            kept=course.kept if open_ else Fraction(0),
            inbreeding=relations.inbreeding_of(goal) if goal else Fraction(0),
            ancestry=relations.ancestry(goal) if goal else (),
            setbacks=setbacks_of(self.asked, plan, self.species),
            method=course.method,
            assumed_season=plan.year.assumed,
            unknown_ages=_unknown_ages(plan),
            paired_month=plan.year.paired,
            born_month=plan.year.born,
        )  # fmt: skip

    # Reached.

    def _reached(self, plan: RoadPlan) -> tuple[int | None, AnimalId]:
        """The season in which the goal was reached, and the animal, if it is named."""
        for each in plan.stages:
            for holdback in each.stage.holdbacks:
                if not (self._meets(holdback) and holdback.animals):
                    continue
                for animal in holdback.animals:
                    if self._may_be_goal(animal):
                        return self._born(plan, each, animal), animal
        if self.project.state != "reached" or not plan.stages:
            return None, ""
        seasons = [season for each in plan.stages if (season := self._last_litter(plan, each)) is not None]
        return max(seasons, default=plan.stages[-1].stage.season), ""

    def _meets(self, holdback: Holdback) -> bool:
        goal = self.project.goal
        return (
            bool(goal.shows or goal.carries)
            and set(goal.shows) <= set(holdback.shows)
            and set(self.goal.carries) <= set(holdback.carries)
        )

    def _may_be_goal(self, animal: AnimalId) -> bool:
        return all(chance_of_allele(self.asked, animal, allele) != 0 for allele in self.goal.carries)

    def _born(self, plan: RoadPlan, each: StagePlan, animal: AnimalId) -> int:
        """The season of an animal's litter, or of its birth, or of the stage."""
        own = self.collection.animals[animal]
        litter = self.collection.litters.get(own.litter)
        season = plan.year.season_of(litter) if litter else None
        if season is not None:
            return season
        if own.born:
            return own.born.year
        return self._last_litter(plan, each) or each.stage.season

    def _last_litter(self, plan: RoadPlan, each: StagePlan) -> int | None:
        litters = [self.collection.litters[key] for key in each.stage.litters if key in self.collection.litters]
        seasons = [season for litter in litters if (season := plan.year.season_of(litter)) is not None]
        return max(seasons, default=None)

    # A stage.

    def _stage(
        self, plan: RoadPlan, at: int, wants: dict[tuple[str, str], Want], course: Course, relations: Relations
    ) -> StageOutlook:
        each = plan.stages[at]
        own = [wants[each.stage.id, holdback.id] for holdback in each.stage.holdbacks]
        units = self.roads.units_of(loci_of(self.species.genome, [self.goal, *wants.values()]))
        transmissions = transmissions_of(self.asked, units)
        worlds = self.roads.worlds(units, parts_of(plan.stages, at))
        couples = couples_of(transmissions, worlds, plan.stages, at, wants)
        return StageOutlook(
            id=each.stage.id,
            state=each.state,
            planned=each.stage.season,
            earliest=each.earliest,
            waits=each.waits,
            waits_for=each.waits_for,
            dams=_names(each.dams),
            sires=_names(each.sires),
            looks=expected_looks(transmissions, couples, self.species),
            holdbacks=tuple(
                holdback_outlook(transmissions, couples, holdback, want, self.species)
                for holdback, want in zip(each.stage.holdbacks, own, strict=True)
            ),
            yielded=course.yielded.get(each.stage.id, ()),
            litters=litter_results(self.asked, self.species, each.stage, own, self.goal),
            inbreeding=relations.inbreeding(each.stage.id),
            goal_each=goal_share(transmissions, couples, self.goal),
        )


def _unknown_ages(plan: RoadPlan) -> tuple[AnimalId, ...]:
    """Parents of open stages that are taken as old enough."""
    parents = [animal for each in plan.open for animal in (*each.dams.animals, *each.sires.animals)]
    unknown = {animal for (animal, _), entry in plan.entries.items() if entry.unknown}
    return tuple(animal for animal in dict.fromkeys(parents) if animal in unknown)


def _names(parents: Parents) -> tuple[str, ...]:
    return (".".join(parents.holdback),) if parents.holdback else parents.animals
