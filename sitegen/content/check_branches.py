"""Checks of roads with branches: stages that wait for what is never kept, or never together."""

from collections.abc import Mapping

from sitegen.content.branches import Use, apart, ends_the_road, needs, uses
from sitegen.content.projects import Goal, Project, Stage, Until
from sitegen.content.report import Report
from sitegen.findings import Kind


def check_branches(projects: Mapping[str, Project], report: Report) -> None:
    """Tells stages of every route that can never be bred as it is written, each for one reason.

    What waits for the young of such a stage is not told again.
    """
    for project in projects.values():
        for stages in (project.stages, *(route.stages for route in project.alternatives)):
            own, known, told = uses(stages), needs(stages), set[str]()
            for stage in stages:
                needed = known[stage.id]
                if (
                    any(use.source.id in told for use in needed.values())
                    or _parted(stage, needed, project.goal, report)
                    or any(_waits_in_vain(stage, use, project.goal, report) for use in own[stage.id])
                ):
                    told.add(stage.id)


def _waits_in_vain(stage: Stage, use: Use, goal: Goal, report: Report) -> bool:
    """Tells what is used before its time, or has none; False when it can be there."""
    source = use.source
    if ends_the_road(use, goal):
        report.notice(
            Kind.BRANCH_WRONG,
            use.place,
            f"stage {stage.id} breeds from {use.name}, and the road ends with the goal: the stage is never bred",
            expected="a stage before the goal",
            remedy="leave the stage out; or, if the goal is still to come, say under goal what more it has",
            others=(use.kept.place,),
        )
        return True
    if not use.is_else or source.until == Until.ELSE:
        return False
    if source.tries is None:
        report.error(
            Kind.BRANCH_WRONG,
            use.place,
            f"{use.name} is used only if stage {source.id} ends without what it wanted first, and it goes on for that "
            "without an end",
            expected=f"a bound for stage {source.id}",
            remedy=f"write tries, such as tries: 2, in stage {source.id}; or until: else, if it stops as soon as what "
            "is kept else is there",
            others=(source.place,),
        )
        return True
    last = source.season + source.tries - 1
    if source.litters or not source.season < stage.season <= last:  # the same season is told where the stage is read
        return False
    report.error(
        Kind.DATE_IMPOSSIBLE,
        use.place,
        f"{use.name} is used only when all tries of stage {source.id} are over, in {last} at the earliest, and stage "
        f"{stage.id} is planned for {stage.season}",
        expected=f"{last + 1} or later",
        remedy=f"write a later season, fewer tries, or until: else in stage {source.id}",
        others=(source.place,),
    )
    return True


def _parted(stage: Stage, needed: Mapping[str, Use], goal: Goal, report: Report) -> bool:
    """Tells two that are needed and never there together; False when there are none."""
    found = apart(needed, goal)
    if found is None:
        return False
    first, other = found
    source = first.source.id
    reason = f"{source} goes on with what was kept else only if {first.kept.id} did not come"
    report.error(
        Kind.BRANCH_WRONG,
        stage.dam_place or stage.place,
        f"stage {stage.id} needs {first.name} and {other.name}, which are never there together: "
        + (reason if len(first.source.keep) == 1 else f"the road ends with {first.kept.id}"),
        expected=f"young of one branch of stage {source}",
        remedy="name other parents, or write a stage of its own for each branch",
        others=(first.kept.place, other.kept.place),
    )
    return True
