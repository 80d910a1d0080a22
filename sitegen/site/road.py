"""A route to a goal as its pages look at it; and its years as a picture, and as a list that tells it all."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sitegen.content.litters import Litter
from sitegen.content.projects import Holdback, Project, Stage
from sitegen.content.species import Species
from sitegen.evidence.asking import Asked
from sitegen.findings import SitegenError
from sitegen.plans.roads.courses import Roads
from sitegen.plans.roads.kinds import ProjectRoads, RoadOutlook, StageOutlook, StageState, Waits
from sitegen.plans.roads.outlook import outlook
from sitegen.plans.seasons import BreedingYear, breeding_year
from sitegen.site.entries import litter_date, living_young
from sitegen.site.material import Folio
from sitegen.site.parts import Line
from sitegen.words.inheritance import BirthWords, birth_words
from sitegen.words.road_stages import planned_words, stage_link
from sitegen.words.roads import (
    chance_by,
    first_possible,
    horizon_event,
    median_event,
    never_sentence,
    reached_event,
    season_words,
    stage_event,
    timeline_description,
    timeline_title,
    why_words,
)
from sitegen.words.speech import Link, Sentence, Target, Words, _, capital, listed, said


@dataclass(frozen=True, slots=True)
class RoadMark:
    """A mark on the picture of the road, in the middle of its year.

    ``kind``: ``born`` (a litter), ``open`` (the earliest season), ``planned``, ``median``, ``reached``.
    """

    year: int
    kind: str


@dataclass(frozen=True, slots=True)
class RoadLane:
    """One line of the picture: a stage, or the goal. From ``since`` on it may happen, up to the last year; 0: never."""

    label: str
    marks: tuple[RoadMark, ...]
    since: int = 0


@dataclass(frozen=True, slots=True)
class RoadTimeline:
    """The road over the years, for a drawing.

    Attributes:
        title, description: Its text alternatives.
        first, last: The years at its ends.
        today: The day of the statement in thousandths of a year after the beginning of ``first``; before 0 or beyond
            the end it is not drawn.
        today_label: The word at that line.
        lanes: From the top.
        legend: The kinds of marks that are used (and ``today``), each with what it means.
    """

    title: str
    description: str
    first: int
    last: int
    today: int
    today_label: str
    lanes: tuple[RoadLane, ...]
    legend: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class RoadEvent:
    """What happened in a year, or can happen then at the earliest: the road as a list. ``kind`` as in ``RoadMark``."""

    year: str
    kind: str
    words: Line
    notes: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class Road:
    """A plan beside what was computed of it.

    Attributes:
        project: The project; its stages are those of this route.
        folio: The page that is written.
        outlook: What was computed; None where it could not be.
        linked: The stages have their places on the page, so that words may lead there.
    """

    project: Project
    folio: Folio
    outlook: RoadOutlook | None
    linked: bool = True

    @property
    def species(self) -> Species:
        """The species it is about."""
        return self.folio.collection.species[self.project.species]

    @property
    def year(self) -> BreedingYear:
        """The months of pairing and birth."""
        return breeding_year(self.folio.collection, self.species)

    @property
    def births(self) -> BirthWords:
        """Clutch or litter."""
        return birth_words(self.species)

    @property
    def given_up(self) -> bool:
        """True when nothing more is expected."""
        return self.project.state == "given up"

    @property
    def ahead(self) -> RoadOutlook | None:
        """What was computed, where something is still to come."""
        outlook = self.outlook
        return outlook if outlook is not None and outlook.reached is None and not self.given_up else None

    def number(self, stage: str) -> int:
        """Which stage it is, from 1."""
        return next(rank for rank, each in enumerate(self.project.stages, 1) if each.id == stage)

    def stage_words(self, stage: str) -> Words:
        """``stage 2``, leading there if it can."""
        link = stage_link(self.project.id, stage, self.number(stage))
        return link if self.linked else link.text

    def looked_at(self, stage: Stage) -> StageOutlook | None:
        """What was computed of a stage."""
        return next((each for each in self.outlook.stages if each.id == stage.id), None) if self.outlook else None

    def held(self, name: str) -> tuple[Stage, Holdback] | None:
        """The stage and the young that ``STAGE.HOLDBACK`` means; None for an animal."""
        stage_id, _dot, holdback_id = name.partition(".")
        found = ((s, h) for s in self.project.stages if s.id == stage_id for h in s.holdbacks if h.id == holdback_id)
        return next(found, None) if name not in self.folio.collection.animals else None

    def animals(self, name: str) -> tuple[str, ...]:
        """The animals that a parent's name means; none for young that are not kept yet."""
        if name in self.folio.collection.animals:
            return (name,)
        held = self.held(name)
        return tuple(a for a in held[1].animals if a in self.folio.collection.animals) if held else ()

    def parent(self, name: str) -> Sentence:
        """A parent in words: its name, or which young it is to be."""
        if animals := self.animals(name):
            return listed([self.folio.voice.animal(animal) for animal in animals], either=True)
        held = self.held(name)
        if held is None:
            return said(name)
        stage, holdback = held
        return planned_words(holdback.count, holdback.sex, self.stage_words(stage.id))

    def pair(self, stage: Stage) -> Sentence:
        """The pairing of a stage."""
        return said(_("{dam} with {sire}"), dam=self.parent(stage.dam), sire=self.parent(stage.sire))

    def names(self, ids: Sequence[str]) -> tuple[Link, ...]:
        """Alleles and looks by name, each leading to its gene."""
        return tuple(found for each in ids for found in self._named(each))

    def _named(self, name: str) -> tuple[Link, ...]:
        genome = self.species.genome
        for locus in genome.loci:
            where = f"{self.species.id}/{locus.id}"
            for allele in locus.alleles:
                if allele.id == name:
                    return (Link(allele.name, Target.GENE, where),)
            for look in locus.looks:
                if look.id == name:
                    return (Link(look.name, Target.GENE, where),)
        return ()

    def when(self, season: int) -> str:
        """A season to come: with the month of pairing where it is recorded."""
        paired = self.year.pairing_day(season)
        known = self.outlook is not None and not self.outlook.assumed_season
        told = (paired.year, paired.month) if known else (season, 0)
        return season_words(*told, self.folio.collection.site.language)

    def why(self, stage: StageOutlook) -> Sentence:
        """What decides a stage's earliest season, after "because"; empty when it has none."""
        if stage.earliest is None:
            return ()
        rest = self.project.rest if self.project.rest is not None else self.species.rest
        waits = Waits.TODAY if stage.waits is Waits.REST and rest == 0 else stage.waits
        return why_words(waits, self.parent(stage.waits_for) if stage.waits_for else (), stage.earliest)

    def never(self, stage: StageOutlook) -> Sentence:
        """That a stage cannot be bred any more, and because of whom."""
        animal = self.folio.collection.animals.get(stage.waits_for)
        return never_sentence(self.folio.voice.animal(animal.id) if animal and animal.died else "")

    def litters(self, stage: Stage) -> tuple[Litter, ...]:
        """The litters of a stage, oldest first."""
        found = [self.folio.collection.litters[each] for each in stage.litters if each in self.folio.collection.litters]
        return tuple(sorted(found, key=self.season_of))

    def season_of(self, litter: Litter) -> int:
        """The season of a litter; 0 when nothing of it is dated."""
        return self.year.season_of(litter) or 0

    def coming(self, looked: StageOutlook) -> Litter | None:
        """The litter of a stage that its earliest season stands for and that is not born yet."""
        stage = next(each for each in self.project.stages if each.id == looked.id)
        unborn = (each for each in self.litters(stage) if each.born is None)
        return next((each for each in unborn if self.season_of(each) == looked.earliest), None)


def next_stage(outlook: RoadOutlook) -> StageOutlook | None:
    """The open stage that can be bred first; of several at the same time the first in the plan."""
    open_ = [stage for stage in outlook.stages if stage.yielded or stage.state.value != "done"]
    can = [(stage.earliest, rank, stage) for rank, stage in enumerate(open_) if stage.earliest is not None]
    return min(can)[2] if can else None


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
        ("born", _("{litter}, in the year of birth").format(litter=capital(road.births.litter))),
        ("planned", _("planned for then")),
        ("open", _("earliest season")),
        ("median", _("half of such plans are there")),
        ("reached", _("the goal")),
    )


def _stage_lane(stage: Stage, road: Road) -> RoadLane:
    """The litters of a stage, the season it was planned for, and from when on it can be bred."""
    born = dict.fromkeys(year for litter in road.litters(stage) if (year := road.season_of(litter)))
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
        year = road.season_of(litter)
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
    kept = [animal for held in stage.holdbacks for animal in held.animals if animal in litter.young]
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
    held = [h for stage in road.project.stages for h in stage.holdbacks if wanted <= set(h.shows)]
    return tuple(dict.fromkeys(a for h in held for a in h.animals if a in road.folio.collection.animals))
