"""The road of a project over the years: as a picture, and as a list that tells it all."""

from collections.abc import Iterator

from sitegen.content.litters import Litter
from sitegen.content.projects import Stage
from sitegen.plans.roads.kinds import StageState
from sitegen.site.entries import litter_date, living_young
from sitegen.site.parts import Line
from sitegen.site.project_models import RoadEvent, RoadLane, RoadMark, RoadTimeline
from sitegen.site.road import Road, litter_season
from sitegen.words.roads import (
    chance_by,
    first_possible,
    horizon_event,
    median_event,
    reached_event,
    stage_event,
    timeline_description,
    timeline_title,
)
from sitegen.words.speech import _, capital, listed, said

_LONGEST = 40
"""Years that the picture shows at most."""


def timeline(road: Road) -> RoadTimeline | None:
    """The picture; None when nothing in it has a year."""
    lanes = (*(_stage_lane(stage, road) for stage in road.project.stages), _goal_lane(road))
    years = [mark.year for lane in lanes for mark in lane.marks]
    if road.project.started:
        years.append(road.project.started.year)
    if not years:
        return None
    as_of, first = road.folio.material.as_of, min(years)
    last = min(max([*years, *([road.ahead.horizon] if road.ahead else [])]), first + _LONGEST)
    kinds = {mark.kind for lane in lanes for mark in lane.marks}
    return RoadTimeline(
        title=timeline_title(road.project.name),
        description=timeline_description(first, last),
        first=first,
        last=last,
        today=(as_of.year - first) * 1000 + (as_of.timetuple().tm_yday - 1) * 1000 // 366,
        today_label=_("today"),
        lanes=lanes,
        legend=tuple((kind, words) for kind, words in _legend(road) if kind in kinds),
    )


def _legend(road: Road) -> tuple[tuple[str, str], ...]:
    return (
        ("born", _("{litter}, in the year of its pairing").format(litter=capital(road.births.litter))),
        ("planned", _("planned for then")),
        ("open", _("earliest season")),
        ("median", _("half of such plans are there")),
        ("reached", _("the goal")),
    )


def _stage_lane(stage: Stage, road: Road) -> RoadLane:
    """The litters of a stage, the season it was planned for, and from when on it can be bred."""
    born = dict.fromkeys(year for litter in road.litters(stage) if (year := litter_season(litter)))
    marks = [RoadMark(year, "born") for year in born]
    looked = road.looked_at(stage)
    is_open = road.ahead is not None and looked is not None and looked.state is not StageState.DONE
    earliest = looked.earliest if looked and is_open else None
    if earliest is not None and earliest not in born:
        marks.append(RoadMark(earliest, "open"))
    if stage.season not in (*born, earliest):
        marks.append(RoadMark(stage.season, "planned"))
    label = _("Stage {number}").format(number=road.number(stage.id))
    return RoadLane(label, tuple(sorted(marks, key=lambda mark: mark.year)), earliest or 0)


def _goal_lane(road: Road) -> RoadLane:
    if road.outlook and road.outlook.reached is not None:
        return RoadLane(_("Goal"), (RoadMark(road.outlook.reached, "reached"),))
    if road.ahead is None or (first := first_possible(road.ahead)) is None:
        return RoadLane(_("Goal"), ())
    median = road.ahead.median
    marks = [RoadMark(first, "open")] if median != first else []
    return RoadLane(_("Goal"), (*marks, *([RoadMark(median, "median")] if median is not None else ())), first)


def events(road: Road) -> tuple[RoadEvent, ...]:
    """The road as a list, in the order of the years."""
    found = [event for stage in road.project.stages for event in _stage_events(stage, road)]
    found += _goal_events(road)
    return tuple(event for _year, event in sorted(found, key=lambda each: each[0]))


def _stage_events(stage: Stage, road: Road) -> Iterator[tuple[int, RoadEvent]]:
    pair, words = road.pair(stage), road.stage_words(stage.id)
    litters, looked = road.litters(stage), road.looked_at(stage)
    for litter in litters:
        year = litter_season(litter)
        young, date = (living_young(litter), "") if litter.born else (None, litter_date(litter, road.folio))
        told = stage_event(words, pair, road.folio.voice.litter(litter.id), young, date)
        yield year, RoadEvent(str(year or ""), "born", road.folio.line(told), _kept(stage, litter, road))
    if looked is None or road.ahead is None:
        if not litters and road.outlook is None and not road.given_up:
            yield stage.season, RoadEvent(str(stage.season), "planned", road.folio.line(stage_event(words, pair)))
    elif looked.state is not StageState.DONE and looked.earliest is not None and not road.coming(looked):
        year = looked.earliest
        told = stage_event(words, pair)
        yield year, RoadEvent(_("from {year}").format(year=year), "open", road.folio.line(told))


def _kept(stage: Stage, litter: Litter, road: Road) -> tuple[Line, ...]:
    """Which of a litter's young were kept for the plan."""
    kept = [animal for held in stage.keep for animal in held.animals if animal in litter.young]
    names = listed([road.folio.voice.animal(animal) for animal in dict.fromkeys(kept)])
    return (road.folio.line(said(_("Kept: {animals}."), animals=names)),) if kept else ()


def _goal_events(road: Road) -> Iterator[tuple[int, RoadEvent]]:
    outlook, folio = road.outlook, road.folio
    if outlook is None or road.given_up:
        return
    if outlook.reached is not None:
        animals = reached_with(road)
        told = reached_event(listed([folio.voice.animal(animal) for animal in animals]))
        yield outlook.reached, RoadEvent(str(outlook.reached), "reached", folio.line(told))
        return
    if outlook.median is not None:
        yield outlook.median, RoadEvent(str(outlook.median), "median", folio.line(median_event()))
    if outlook.by_season:
        told = horizon_event(chance_by(outlook, outlook.horizon))
        yield outlook.horizon, RoadEvent(str(outlook.horizon), "", folio.line(told))


def reached_with(road: Road) -> tuple[str, ...]:
    """The animals that were kept as the goal."""
    wanted = set(road.project.goal.shows)
    held = [h for stage in road.project.stages for h in stage.keep if wanted <= set(h.shows)]
    return tuple(dict.fromkeys(a for h in held for a in h.animals if a in road.folio.collection.animals))
