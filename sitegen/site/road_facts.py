"""The roads of projects for machines: chances by season, and how each stage goes, as decimals with four places."""

from collections.abc import Iterable
from fractions import Fraction

from sitegen.exact import decimals
from sitegen.plans.roads.kinds import Ending, RoadOutlook, StageOutlook, StageState
from sitegen.site.material import Material
from sitegen.site.schema import Plain, Schema, an_array, an_object, by_name, described, maybe, one_of

SHARE: Schema = {"type": "string", "pattern": r"^(0\.\d{4}|1\.0000)$"}
_YEAR: Schema = {"type": "integer"}
_MEAN: Schema = {"type": "string", "pattern": r"^\d+\.\d{4}$"}
_WHOLE: Schema = {"type": "integer", "minimum": 0}
_RANGE = an_object({"mean": _MEAN, "low": _WHOLE, "high": _WHOLE}, "The average, and what 80 of 100 plans stay within.")
_SEASON = an_object(
    {
        "season": described(_YEAR, "The year in which its young are born."),
        "born": described(SHARE, "Share of plans in which a goal animal was born by its end."),
        "kept": described(SHARE, "Share of plans in which one was kept."),
        "known": described(SHARE, "Share of plans in which one that is kept is proved to be it."),
        "young": described(_RANGE, "Young born in this season."),
        "to_raise": described(_RANGE, "Those of them that are kept."),
        "places": described(_RANGE, "All young of the road that are held at its end."),
    },
    optional=("young", "to_raise", "places"),
)
_STAGE = an_object(
    {
        "id": {"type": "string"},
        "state": one_of(StageState),
        "planned": _YEAR,
        "earliest": maybe(_YEAR),
        "bred": described(by_name(SHARE), "Season to the share of plans that bred it by then."),
        "kept_given_bred": described(maybe(SHARE), "Of plans that bred it, the share that keep a goal animal from it."),
        "ended": described(
            {**by_name(SHARE), "propertyNames": one_of(Ending)}, "How it ended by the last season, in shares of plans."
        ),
    }
)
ROAD = an_object(
    {
        "seasons": an_array(_SEASON),
        "half_by": described(maybe(_YEAR), "The first season by which half of all plans keep a goal animal."),
        "reached": described(maybe(_YEAR), "The season in which the goal was reached."),
        "draws": described(_WHOLE, "How many plans were drawn."),
        "error": described(SHARE, "The largest standard error of a share by season."),
        "stages": an_array(_STAGE),
    },
    "Shares of plans are drawn: none and all of them say only that the rest is rare.",
)
ROADS = described(by_name(ROAD), "Project to its road, where one can be worked out; those given up have none.")


def road_facts(material: Material) -> Plain:
    """Project to its road."""
    projects = material.collection.projects.values()
    found = {each.id: material.roads.get(each.id) for each in projects if each.state != "given up"}
    return {project: _road(roads.main) for project, roads in found.items() if roads and roads.main}


def _road(outlook: RoadOutlook) -> Plain:
    loads = {load.season: load for load in outlook.loads}
    seasons: list[Plain] = []
    for each in outlook.by_season:
        row: Plain = {"season": each.season}
        row |= _shares((("born", each.born), ("kept", each.kept), ("known", each.known)))
        if (load := loads.get(each.season)) is not None:
            for key, of in (("young", load.young), ("to_raise", load.kept), ("places", load.held)):
                row[key] = {"mean": decimals(of.mean, 4), "low": of.low, "high": of.high}
        seasons.append(row)
    return {
        "seasons": seasons,
        "half_by": outlook.half_by,
        "reached": outlook.reached,
        "draws": outlook.draws,
        "error": decimals(outlook.error, 4),
        "stages": [_stage(stage) for stage in outlook.stages],
    }


def _stage(stage: StageOutlook) -> Plain:
    given = stage.kept_given_bred
    return {
        "id": stage.id,
        "state": stage.state.value,
        "planned": stage.planned,
        "earliest": stage.earliest,
        "bred": _shares((str(season), share) for season, share in stage.bred),
        "kept_given_bred": None if given is None else decimals(given, 4),
        "ended": _shares((way.value, share) for way, share in stage.ended.items() if share),
    }


def _shares(named: Iterable[tuple[str, Fraction]]) -> Plain:
    return {name: decimals(share, 4) for name, share in named}
