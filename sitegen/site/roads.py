"""What a project's page tells of its whole road: where it stands, chances, other routes, setbacks, assumptions."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.plans.assumed import taken_for_granted
from sitegen.plans.roads.kinds import Chance, RoadOutlook, StageState
from sitegen.site.entries import litter_date
from sitegen.site.parts import IconArray, Line, Prose, words
from sitegen.site.road import Road, next_stage, reached_with
from sitegen.site.road_stages import counted_kind, told_counts
from sitegen.site.views import odds_picture
from sitegen.words.assumed import granted_sentences
from sitegen.words.numbers import about_in_100, average_text, count_text
from sitegen.words.relations import ancestry_text, relatedness_words
from sitegen.words.road_stages import unlucky_sentence
from sitegen.words.roads import (
    cannot_tell,
    chance_by,
    chance_sentence,
    chart_description,
    chart_title,
    coming_sentence,
    effort_sentence,
    ever_sentence,
    first_possible,
    given_up_sentence,
    goal_relatedness,
    late_sentence,
    median_sentence,
    method_sentences,
    missed_sentence,
    most_sentence,
    next_sentence,
    opened,
    reached_sentence,
    setback_sentence,
    standing_assumptions,
    standing_sentence,
    told_by_season,
    unknown_ages_sentence,
)
from sitegen.words.speech import Link, Sentence, Target, _, listed, said


@dataclass(frozen=True, slots=True)
class ChanceBar:
    """A season of the chart. ``by`` and ``before`` are thousandths; 0 and 1000 only if exactly so."""

    season: str
    by: int
    before: int
    count: str


@dataclass(frozen=True, slots=True)
class ChanceChart:
    """Chance by season as bars, for a drawing."""

    title: str
    description: str
    bars: tuple[ChanceBar, ...]


@dataclass(frozen=True, slots=True)
class ChanceRow:
    """A season of the table beside the chart."""

    season: str
    by: str
    then: str


@dataclass(frozen=True, slots=True)
class Chances:
    """The chance of the goal by season."""

    lines: tuple[Line, ...]
    chart: ChanceChart
    rows: tuple[ChanceRow, ...]


@dataclass(frozen=True, slots=True)
class RouteRow:
    """One measure of the routes side by side; ``values`` in the order of their names."""

    label: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RouteView:
    """Another route: its name, the breeder's words on it, its pairings."""

    name: str
    about: Prose
    steps: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Routes:
    """The routes to one goal side by side."""

    names: tuple[str, ...]
    rows: tuple[RouteRow, ...]
    note: Line
    others: tuple[RouteView, ...]


_LIKELY_ENOUGH = Fraction(1, 2)
"""A kind that half of such litters would have none of is no bad luck when none came."""


def now_sentences(road: Road) -> Iterator[Sentence]:
    """Where the project stands: its state, what is next and when at the earliest and why, and the chances."""
    outlook, project = road.outlook, road.project
    if road.given_up:
        yield given_up_sentence()
        return
    if outlook is None:
        yield reached_sentence(None, (), ()) if project.state == "reached" else cannot_tell()
        return
    if outlook.reached is not None:
        animals = [road.folio.voice.animal(animal) for animal in reached_with(road)]
        yield reached_sentence(outlook.reached, animals, listed(animals))
        return
    done = sum(stage.state is StageState.DONE for stage in outlook.stages)
    yield standing_sentence(done, len(outlook.stages), begun=any(road.litters(stage) for stage in project.stages))
    if (coming := next_stage(outlook)) is not None and coming.earliest is not None:
        stage = next(stage for stage in project.stages if stage.id == coming.id)
        words_of, pair = road.stage_words(stage.id), road.pair(stage)
        if litter := road.coming(coming):
            name = road.folio.voice.litter(litter.id)
            yield coming_sentence(words_of, pair, name, litter_date(litter, road.folio))
        else:
            when, again = road.when(coming.earliest), coming.state is StageState.BEGUN
            yield next_sentence(words_of, pair, when, road.why(coming), again=again)
    chance = chance_by(outlook, outlook.horizon)
    yield chance_sentence(outlook.horizon, chance)
    if chance:
        yield median_sentence(outlook.median, outlook.horizon)


def now_odds(road: Road) -> IconArray | None:
    """The chance by the last season as a picture; None where nothing is predicted."""
    return odds_picture(chance_by(road.ahead, road.ahead.horizon)) if road.ahead and road.ahead.by_season else None


def chances(road: Road) -> Chances | None:
    """The chance of the goal by season; None where nothing is predicted."""
    outlook = road.ahead
    if outlook is None or not outlook.by_season:
        return None
    told = told_by_season(outlook)
    lines = [
        chance_sentence(outlook.horizon, told[-1].by),
        median_sentence(outlook.median, outlook.horizon) if told[-1].by else (),
        ever_sentence(outlook.ever),
        effort_sentence(outlook.litters, outlook.kept, road.births.litters, outlook.horizon),
    ]
    chart = ChanceChart(chart_title(road.project.name), chart_description(told), tuple(_bars(told)))
    rows = tuple(
        ChanceRow(str(each.season), count_text(about_in_100(each.by)), count_text(about_in_100(each.then)))
        for each in told
    )
    return Chances(road.folio.lines(lines), chart, rows)


def _bars(told: Sequence[Chance]) -> Iterator[ChanceBar]:
    before = 0
    for each in told:
        by = _thousandths(each.by)
        count = about_in_100(each.by)
        few = "<1" if each.by < _LIKELY_ENOUGH else ">99"
        yield ChanceBar(str(each.season), by, min(before, by), str(count) if isinstance(count, int) else few)
        before = by


def _thousandths(chance: Fraction) -> int:
    """None and all only if exactly so."""
    return int(chance) * 1000 if chance in (0, 1) else min(999, max(1, int(chance * 1000)))


def routes(road: Road, others: Sequence[tuple[Road, str, str]]) -> Routes | None:
    """The routes side by side, by the last season that all of them are looked at; None when there is only one.

    Args:
        road: The main route.
        others: The other routes that could be worked out, each with its name and the breeder's words on it.
    """
    if not others or road.ahead is None:
        return None
    outlooks = [each.outlook for each in (road, *(other for other, _name, _about in others)) if each.outlook]
    horizon = min(each.horizon for each in outlooks)
    rows = (
        RouteRow(_("Half of such plans are there by"), tuple(_median(each) for each in outlooks)),
        RouteRow(
            _("Of 100 such plans, there by the end of {season}, about").format(season=horizon),
            tuple(count_text(about_in_100(chance_by(each, horizon))) for each in outlooks),
        ),
        RouteRow(
            _("{litters} still to come, on average").format(litters=road.births.litters.capitalize()),
            tuple(average_text(each.litters) for each in outlooks),
        ),
        RouteRow(_("Young still to keep, on average"), tuple(average_text(each.kept) for each in outlooks)),
        RouteRow(_("Parents of the goal animal"), tuple(relatedness_words(each.inbreeding) for each in outlooks)),
    )
    views = tuple(
        RouteView(name, other.folio.prose(about), other.folio.lines(list(_steps(other))))
        for other, name, about in others
    )
    note = _(
        "Counted from today, each route by itself. The goal itself counts among the young to keep; the chances go as "
        "far as the end of {season}."
    )
    return Routes(
        (_("This plan"), *(name for _road, name, _about in others)), rows, words(note.format(season=horizon)), views
    )


def _median(outlook: RoadOutlook) -> str:
    if outlook.reached is not None:
        return str(outlook.reached)
    return (
        str(outlook.median) if outlook.median is not None else _("later than {season}").format(season=outlook.horizon)
    )


def _steps(road: Road) -> Iterator[Sentence]:
    """The pairings of another route with their earliest seasons."""
    for stage in road.project.stages:
        looked = road.looked_at(stage)
        pair = road.pair(stage)
        if looked is None or looked.state is StageState.DONE:
            yield opened(said(_("{stage}: {pair}."), stage=road.stage_words(stage.id), pair=pair))
        elif looked.earliest is None:
            told = _("{stage}: {pair}. {never}")
            yield opened(said(told, stage=road.stage_words(stage.id), pair=pair, never=road.never(looked)))
        else:
            told = _("{stage}: {pair}, in {when} at the earliest, because {why}.")
            when, why = road.when(looked.earliest), road.why(looked)
            yield opened(said(told, stage=road.stage_words(stage.id), pair=pair, when=when, why=why))


def wrong_sentences(road: Road) -> Iterator[Sentence]:
    """What went wrong: young that do not carry what they were kept for, seasons lost, litters without luck."""
    if road.outlook is None:
        return
    voice = road.folio.voice
    for setback in road.outlook.setbacks:
        animals = [voice.animal(animal) for animal in setback.animals]
        yield setback_sentence(
            animals, listed(animals), listed(road.names([setback.allele])), road.stage_words(setback.stage),
            setback.again, setback.years,
        )  # fmt: skip
    yield from _missed(road, road.outlook)
    for stage in road.outlook.stages:
        words_of = road.stage_words(stage.id)
        for result in stage.litters:
            for counted in told_counts(result):
                if counted.came == 0 and 0 < counted.as_few < _LIKELY_ENOUGH:
                    kind = counted_kind(counted, road)
                    yield unlucky_sentence(voice.litter(result.litter), kind, counted, road.species)
        done = stage.state is StageState.DONE
        if stage.earliest is None:
            if road.ahead is not None:
                yield opened(said("{stage}: {never}", stage=words_of, never=road.never(stage)))
        elif stage.earliest > stage.planned and (done or (road.ahead and stage.state is not StageState.BEGUN)):
            yield late_sentence(words_of, stage.planned, stage.earliest, () if done else road.why(stage), done=done)


def _missed(road: Road, outlook: RoadOutlook) -> Iterator[Sentence]:
    """The first litter that could have had the goal and had not, with the seasons that it cost."""
    then = outlook.reached if outlook.reached is not None else first_possible(outlook) if road.ahead else None
    litters = [
        road.folio.collection.litters[result.litter]
        for stage in outlook.stages
        for result in stage.litters
        if any(each.kind == "goal" and each.expected and not each.came for each in told_counts(result))
    ]
    first = min(litters, key=road.season_of, default=None)
    if first is not None and then is not None and then > road.season_of(first):
        voice, came = road.folio.voice, outlook.reached is not None
        yield missed_sentence(voice.litter(first.id), road.season_of(first), then, came=came)


def goal_lines(road: Road) -> tuple[Line, ...]:
    """Relatedness and ancestry of the goal animal; empty where no pairing for it is planned."""
    outlook = road.outlook
    if outlook is None or road.given_up or not road.project.stages:
        return ()
    limit = road.project.relatedness_limit
    shares = tuple((each.origin, each.share) for each in outlook.ancestry)
    told = ancestry_text(shares)
    return road.folio.lines(
        [
            goal_relatedness(outlook.inbreeding, limit),
            said(_("Ancestry, as an expected share: {shares}."), shares=told) if told else (),
            said(_("The first animals of a family are taken as not related.")),
        ]
    )


def assumption_lines(road: Road) -> tuple[Line, ...]:
    """What the numbers take for granted; empty where nothing is predicted."""
    outlook, species = road.ahead, road.species
    if outlook is None:
        return ()
    voice, granted = road.folio.voice, taken_for_granted(species, road.folio.collection, road.project)
    unknown = [voice.animal(animal) for animal in outlook.unknown_ages]
    how = Link(_("How a road is worked out"), Target.METHOD, "roads")
    language = road.folio.collection.site.language
    return road.folio.lines(
        [
            *standing_assumptions(),
            *granted_sentences(granted, species, language),
            most_sentence(road.births.litters),
            unknown_ages_sentence(unknown, listed(unknown)),
            *method_sentences(outlook.method, language),
            said("{how}.", how=how),
        ]
    )
