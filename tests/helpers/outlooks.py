"""The outlook of one road, as it is told."""

import datetime as dt

from sitegen.content.projects import Project, Stage
from sitegen.evidence.asking import Asked
from sitegen.plans.roads.kinds import RoadOutlook
from sitegen.plans.roads.outlook import outlook_of
from sitegen.plans.roads.playing import DRAWS, play


def outlook(
    asked: Asked, project: Project, as_of: dt.date, *, stages: tuple[Stage, ...] | None = None, draws: int = DRAWS
) -> RoadOutlook:
    """Of a project's stages, or of others to its goal."""
    return outlook_of(asked, project, play(asked, project, stages or project.stages, as_of, draws))
