"""What a project's page tells of its whole road: where it stands, chances, other routes, setbacks, assumptions."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from sitegen.content.projects import Holdback, Stage, Until, is_goal
from sitegen.plans.assumed import taken_for_granted
from sitegen.plans.roads.kinds import ProjectRoads, Range, RoadOutlook, StageOutlook, StageState
from sitegen.site.entries import litter_date
from sitegen.site.parts import IconArray, Line, Prose, words
from sitegen.site.road import Road, next_stage, reached_with
from sitegen.site.road_stages import counted_kind, left_open, told_counts
from sitegen.site.views import odds_picture
from sitegen.words import roads as say
from sitegen.words.assumed import granted_sentences
from sitegen.words.numbers import about_in_100, average_text, quoted, whole_text
from sitegen.words.relations import ancestry_text
from sitegen.words.road_stages import unlucky_sentence, wanted_words
from sitegen.words.speech import Link, Run, Sentence, Target, _, capital, joined, listed, said


@dataclass(frozen=True, slots=True)
class SeasonRow:
    """A season: a number for each column, each with the range it stays in, which may be empty."""

    season: str
    cells: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Seasons:
    """What the seasons bring: ``heads`` are the columns of the table, the first that of the season itself.

    ``folded`` are the words under which a long table is folded away; empty for a short one.
    """

    heads: tuple[str, ...]
    rows: tuple[SeasonRow, ...]
    lines: tuple[Line, ...]
    folded: str = ""


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
_LONG = 8
"""A table of seasons with more rows is folded away."""
_LITTLE = Fraction(1, 20)
"""An average below it is told as fewer than a tenth."""
_NAMED = 4
"""Animals that are named at most where a plan has no answer."""
_SURE = 2
"""Standard errors by which another way has to be better before it is told."""


def now_paragraphs(road: Road) -> Iterator[Sentence]:
    """Where the project stands; the chance of its goal; what is next, and what is then decided."""
    outlook, project = road.outlook, road.project
    if road.given_up:
        yield say.given_up_sentence()
    elif outlook is None and project.state == "reached":
        yield say.reached_sentence(None, (), ())
    elif outlook is None:
        worked_out = project.id in road.folio.material.roads
        yield say.cannot_tell(_unanswered(road)) if worked_out else say.hangs_on_hidden()
    elif outlook.reached is not None:
        animals = [road.folio.voice.animal(animal) for animal in reached_with(road)]
        yield say.reached_sentence(outlook.reached, animals, listed(animals))
    else:
        done = sum(stage.state is StageState.DONE for stage in outlook.stages)
        yield say.standing_sentence(
            done, len(outlook.stages), begun=any(road.litters(stage) for stage in project.stages)
        )
        yield say.paragraph(list(_chance(road, outlook)))
        if (coming := next_stage(outlook)) is not None:
            yield say.paragraph(list(_next(coming, road)))


def _unanswered(road: Road) -> list[Run]:
    """Animals about which too much is open for the plan to have an answer; only some of a large family."""
    found = road.folio.material.roads.get(road.project.id)
    shown = [one for one in found.unanswered if one in road.folio.collection.animals] if found else []
    return [road.folio.voice.animal(animal) for animal in shown[:_NAMED]]


def _chance(road: Road, outlook: RoadOutlook) -> Iterator[Sentence]:
    if not outlook.by_season:
        yield say.nothing_left()
        return
    last, draws = say.told_by_season(outlook)[-1], whole_text(outlook.draws, road.folio.collection.site.language)
    yield say.kept_sentence(outlook.horizon, last.kept, draws)
    unseen = dict.fromkeys(u for s in outlook.stages for held in s.holdbacks if held.is_goal for u in held.unseen)
    yield say.beside_sentence(last, listed(road.names(list(unseen))))
    if outlook.half_by is not None:
        yield say.half_sentence(outlook.half_by)


def _next(coming: StageOutlook, road: Road) -> Iterator[Sentence]:
    """What is next and why not before; then what is kept if it comes, and what if not."""
    stage = next(stage for stage in road.project.stages if stage.id == coming.id)
    words_of, pair, season = road.stage_words(stage.id), road.pair(stage), coming.earliest
    assert season is not None
    unborn = road.coming(coming)
    if unborn is not None:
        litter: Sentence = (road.folio.voice.litter(unborn.id),)
        yield say.coming_sentence(words_of, pair, litter[0], litter_date(unborn, road.folio))
    else:
        litter = said(say.litter_of(road.species, season))
        yield say.next_sentence(
            words_of, pair, road.when(season), road.why(coming), again=coming.state is StageState.BEGUN
        )
    missing = [held for held in stage.keep if len(road.kept(held)) < held.count]
    goal = [held for held in missing if is_goal(held, road.project.goal)]
    first = goal or missing
    if first:
        yield say.decision_sentence(
            litter, _listed(first, road), sum(h.count for h in first), _leads_to(stage, first, road)
        )
    elif not stage.keep and stage is road.project.stages[-1]:
        what = wanted_words(1, "", road.names(road.project.goal.shows), ())
        yield say.decision_sentence(litter, what, 1, say.goal_then(listed(road.names(road.project.goal.carries))))
    else:
        return
    tried = len({road.season_of(each) for each in road.litters(stage) if each is not unborn})
    branch = [held for held in stage.otherwise if len(road.kept(held)) < held.count]
    last = (stage.tries is not None and tried + 1 >= stage.tries) or (bool(branch) and stage.until == Until.ELSE)
    yield say.otherwise_sentence(_listed(branch, road), _leads_to(stage, branch, road), last=last)
    beside = [held for held in missing if held not in first]
    yield say.also_sentence(_listed(beside, road), _leads_to(stage, beside, road))


def _listed(kept: Sequence[Holdback], road: Road) -> Sentence:
    """What an eye can choose by."""
    return listed([road.wanted(held, seen=True) for held in kept])


def _leads_to(stage: Stage, kept: Sequence[Holdback], road: Road) -> Sentence:
    """What kept young are for: the goal, or the stages that use them."""
    looked = road.looked_at(stage)
    if any(is_goal(held, road.project.goal) for held in kept):
        told = [each for each in looked.holdbacks if each.is_goal] if looked else []
        return say.goal_then(listed(road.names(list(dict.fromkeys(u for each in told for u in left_open(each))))))
    names = {f"{stage.id}.{held.id}" for held in kept}
    users = [each for each in road.project.stages if {each.dam, each.sire} & names]
    if not users:
        return ()
    earliest = road.looked_at(users[0])
    return say.goes_on(listed([road.stage_words(each.id) for each in users]), earliest.earliest if earliest else None)


def rival_sentences(road: Road, found: ProjectRoads | None) -> Iterator[Sentence]:
    """The other ways that are better beyond doubt: those that are written, and this one with a parent exchanged."""
    main = road.ahead
    if main is None or found is None:
        return
    for each in road.project.alternatives:
        gain, error = found.gains.get(each.id, (Fraction(0), Fraction(0)))
        if each.id in found.alternatives and _is_better(gain, error):
            other = found.alternatives[each.id]
            horizon = min(main.horizon, other.horizon)
            way: Sentence = (Link(quoted(each.name), Target.PROJECT, f"{road.project.id}#routes"),)
            yield say.better_sentence(way, gain, error, horizon, _beside(main, other.half_by, other.inbreeding))
    for rival in found.rivals[:1]:
        if _is_better(rival.gain, rival.error):
            way = say.exchanged(
                road.folio.voice.animal(rival.animal), road.stage_words(rival.stage), is_dam=rival.is_dam
            )
            more = _beside(main, rival.half_by, rival.inbreeding)
            yield say.better_sentence(way, rival.gain, rival.error, main.horizon, more)


def _is_better(gain: Fraction, error: Fraction) -> bool:
    return gain > _SURE * error and isinstance(about_in_100(max(gain, Fraction(0))), int)


def _beside(main: RoadOutlook, half_by: int | None, inbreeding: Fraction) -> Sentence:
    return joined([say.sooner_words(half_by, main.half_by), say.closer_words(inbreeding, main.inbreeding)])


def now_odds(road: Road) -> IconArray | None:
    """The chance by the last season as a picture; None where nothing is predicted."""
    return odds_picture(say.kept_by(road.ahead, road.ahead.horizon)) if road.ahead and road.ahead.by_season else None


def seasons(road: Road) -> Seasons | None:
    """What the seasons bring, one row each; None where nothing is predicted."""
    outlook = road.ahead
    if outlook is None or not outlook.by_season:
        return None
    told, (born, known) = say.told_by_season(outlook), say.differing(outlook)
    loads = {load.season: load for load in outlook.loads}
    heads = [_("Season"), _("kept"), *([_("born")] if born else []), *([_("proved")] if known else [])]
    rows = []
    for each in told:
        chances = [each.kept, *([each.born] if born else []), *([each.known] if known else [])]
        cells = [(_short(chance), "") for chance in chances]
        if (load := loads.get(each.season)) is not None:
            cells += [_ranged(load.young), _ranged(load.kept), _ranged(load.held)]
        rows.append(SeasonRow(str(each.season), tuple(cells)))
    quiet = {str(load.season) for load in outlook.loads if load.young.mean == 0}
    if loads:
        heads += [_("young"), _("to raise"), _("places")]
    language = road.folio.collection.site.language
    lines = [
        say.table_sentence(outlook.litters, road.births),
        say.draws_sentence(outlook.draws, outlook.error, language),
    ]
    merged = tuple(_merged(rows, quiet))
    folded = _("From {first} to {last}").format(first=told[0].season, last=told[-1].season)
    return Seasons(tuple(heads), merged, road.folio.lines(lines), folded if len(merged) > _LONG else "")


def _merged(rows: Sequence[SeasonRow], quiet: Collection[str]) -> Iterator[SeasonRow]:
    """Seasons in which nothing comes, and that are alike in every number, as one row."""
    for (cells, _season), alike in groupby(rows, key=lambda row: (row.cells, row.season not in quiet and row.season)):
        years = [row.season for row in alike]
        yield SeasonRow(years[0] if len(years) == 1 else f"{years[0]}–{years[-1]}", cells)  # noqa: RUF001


def _ranged(load: Range) -> tuple[str, str]:
    mean = average_text(load.mean) if load.mean == 0 or load.mean >= _LITTLE else f"<{average_text(2 * _LITTLE)}"
    return mean, f"{load.low}–{load.high}" if load.low != load.high else ""  # noqa: RUF001


def _short(chance: Fraction) -> str:
    """How many of 100, in signs."""
    count = about_in_100(chance)
    return str(count) if isinstance(count, int) else "<1" if chance < _LIKELY_ENOUGH else ">99"


def routes(road: Road, others: Sequence[tuple[Road, str, str]]) -> Routes | None:
    """The routes side by side, by the last season that all of them are looked at; None when there is only one.

    ``others`` are those that could be worked out, each with its name and the breeder's words on it.
    """
    if not others or road.ahead is None:
        return None
    outlooks = [each.outlook for each in (road, *(other for other, _name, _about in others)) if each.outlook]
    horizon = min(each.horizon for each in outlooks)
    to_raise = [sum((load.kept.mean for load in each.loads), Fraction(0)) for each in outlooks]
    rows = (
        RouteRow(_("Half by"), tuple(_half_by(each) for each in outlooks)),
        RouteRow(
            _("Of 100 by {season}").format(season=horizon), tuple(_short(say.kept_by(o, horizon)) for o in outlooks)
        ),
        RouteRow(capital(road.births.litters), tuple(average_text(each.litters) for each in outlooks)),
        RouteRow(_("Young to raise"), tuple(average_text(each) for each in to_raise)),
        RouteRow(_("Goal’s parents"), tuple(_related(each) for each in outlooks)),
    )
    views = tuple(
        RouteView(name, other.folio.prose(about), other.folio.lines(list(_steps(other))))
        for other, name, about in others
    )
    note = _("Plans that keep a goal animal, {litters} and young on average; each route counted from today.")
    return Routes(
        (_("This plan"), *(name for _road, name, _about in others)),
        rows,
        words(note.format(litters=road.births.litters)),
        views,
    )


def _related(outlook: RoadOutlook) -> str:
    told = _("related, up to {fraction}") if _differ(outlook) else _("related, {fraction}")
    return told.format(fraction=outlook.inbreeding) if outlook.inbreeding else _("not related")


def _differ(outlook: RoadOutlook) -> bool:
    """True when the parents of the goal animal are more closely related in one stage than in another."""
    return len({each.inbreeding for each in outlook.bringing}) > 1


def _half_by(outlook: RoadOutlook) -> str:
    found = outlook.reached if outlook.reached is not None else outlook.half_by
    return str(found) if found is not None else _("later than {season}").format(season=outlook.horizon)


def _steps(road: Road) -> Iterator[Sentence]:
    for stage in road.project.stages:
        looked = road.looked_at(stage)
        pair = road.pair(stage)
        if looked is None or looked.state is StageState.DONE:
            yield say.opened(said(_("{stage}: {pair}."), stage=road.stage_words(stage.id), pair=pair))
        elif looked.earliest is None:
            told = _("{stage}: {pair}. {never}")
            yield say.opened(said(told, stage=road.stage_words(stage.id), pair=pair, never=road.never(looked)))
        else:
            told = _("{stage}: {pair}, in {when} at the earliest, because {why}.")
            when, why = road.when(looked.earliest), road.why(looked)
            yield say.opened(said(told, stage=road.stage_words(stage.id), pair=pair, when=when, why=why))


def wrong_sentences(road: Road) -> Iterator[Sentence]:
    """What went wrong: young that do not carry what they were kept for, seasons lost, litters without luck."""
    if road.outlook is None:
        return
    voice = road.folio.voice
    for setback in road.outlook.setbacks:
        animals = [voice.animal(animal) for animal in setback.animals]
        yield say.setback_sentence(
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
                yield say.opened(said("{stage}: {never}", stage=words_of, never=road.never(stage)))
        elif stage.earliest > stage.planned and (done or (road.ahead and stage.state is not StageState.BEGUN)):
            yield say.late_sentence(words_of, stage.planned, stage.earliest, () if done else road.why(stage), done=done)


def _missed(road: Road, outlook: RoadOutlook) -> Iterator[Sentence]:
    """The first litter that could have had the goal and had not, with the seasons that it cost."""
    then = outlook.reached if outlook.reached is not None else say.first_possible(outlook) if road.ahead else None
    litters = [
        road.folio.collection.litters[result.litter]
        for stage in outlook.stages
        for result in stage.litters
        if any(each.kind == "goal" and each.expected and not each.came for each in told_counts(result))
    ]
    first = min(litters, key=road.season_of, default=None)
    if first is not None and then is not None and then > road.season_of(first):
        voice, came = road.folio.voice, outlook.reached is not None
        yield say.missed_sentence(voice.litter(first.id), road.season_of(first), then, came=came)


def goal_lines(road: Road) -> tuple[Line, ...]:
    """Relatedness and ancestry of the goal animal; empty where no pairing for it is planned."""
    outlook = road.outlook
    if outlook is None or road.given_up or not road.project.stages:
        return ()
    limit = road.project.relatedness_limit
    shares = tuple((each.origin, each.share) for each in outlook.ancestry)
    told = ancestry_text(shares)
    apart = sorted(outlook.bringing, key=lambda each: each.inbreeding)  # the limit stands after the closest
    told_apart = [
        say.goal_relatedness(each.inbreeding, limit if each is apart[-1] else None, road.stage_words(each.id))
        for each in apart
    ]
    related = say.paragraph(
        [
            *(told_apart if _differ(outlook) else [say.goal_relatedness(outlook.inbreeding, limit)]),
            said(_("The first animals of a family are taken as not related.")),
        ]
    )
    return road.folio.lines(
        [related, said(_("Ancestry, as an expected share: {shares}."), shares=told) if told else ()]
    )


def assumption_lines(road: Road) -> tuple[Line, ...]:
    """What the numbers take for granted; empty where nothing is predicted."""
    outlook = road.ahead
    if outlook is None:
        return ()
    species, language = road.species, road.folio.collection.site.language
    voice, granted = road.folio.voice, taken_for_granted(species, road.folio.collection, road.project)
    unknown = [voice.animal(animal) for animal in outlook.unknown_ages]
    how = Link(_("How a road is worked out"), Target.METHOD, "roads")
    return road.folio.lines(
        [
            *say.standing_assumptions(),
            *granted_sentences(granted, species, language),
            say.unknown_ages_sentence(unknown, listed(unknown)),
            said("{how}.", how=how),
        ]
    )
