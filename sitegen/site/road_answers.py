"""What the plan of a project and its other routes come to, worked out when a page asks for it."""

import datetime as dt

from sitegen.content.projects import Project
from sitegen.evidence.asking import Asked
from sitegen.findings import SitegenError
from sitegen.plans.roads.courses import Roads
from sitegen.plans.roads.kinds import ProjectRoads
from sitegen.plans.roads.outlook import outlook


def roads_of(asked: Asked, project: Project, as_of: dt.date) -> ProjectRoads | None:
    """The roads of one project; None where its plan has no answer. Another route without one is left out."""
    roads = Roads(asked, project.species)
    try:
        main = outlook(asked, project, as_of, roads=roads)
    except SitegenError:
        return None
    others = {}
    for each in project.alternatives:
        try:
            others[each.id] = outlook(asked, project, as_of, stages=each.stages, roads=roads)
        except SitegenError:
            continue
    return ProjectRoads(main, others)
