"""The machine form of a search for routes: what ``routes --json`` prints."""

from typing import Any

from sitegen.content.projects import Project
from sitegen.exact import written
from sitegen.plans.roads.routes_kinds import Found, Route
from sitegen.plans.roads.routes_stages import stages_written

Json = dict[str, Any]


def routes_json(project: Project, found: Found) -> Json:
    """The routes, how far the search went, and who had no part in it; chances by courses are of limited precision."""
    bounds = found.bounds
    return {
        "project": project.id,
        "goal": {"shows": list(project.goal.shows), "carries": list(project.goal.carries)},
        "first_season": found.first_season,
        "horizon": bounds.horizon,
        "generations": bounds.generations,
        "already": list(found.already),
        "routes": [_route(route) for route in found.routes],
        "nobody_has": list(found.nobody_has),
        "cannot_live": found.cannot_live,
        "search": {
            "ways": found.shapes,
            "possible": found.possible,
            "too_related": found.too_related,
            "estimated": found.estimated,
            "worked_out": found.worked_out,
            "left": found.open,
            "stopped": found.stopped,
        },
        "left_out": [
            {"animal": each.animal, "why": each.why.value, **({"beside": each.beside} if each.beside else {})}
            for each in found.left_out
        ],
    }


def _route(route: Route) -> Json:
    worth = route.worth
    found: Json = {
        "median": worth.median,
        "young": route.young,
        "p": written(worth.chance),
        "generations": route.generations,
        "litters": float(round(worth.litters, 4)),
        "kept": float(round(worth.kept, 4)),
        "inbreeding": written(route.inbreeding),
        "stages": stages_written(route.stages),
    }
    if worth.method and worth.method.runs:
        found["drawn"] = {"runs": worth.method.runs, "seed": worth.method.seed, "error": float(worth.method.error)}
    if route.alike:
        found["alike"] = {animal: list(others) for animal, others in route.alike.items()}
    return found
