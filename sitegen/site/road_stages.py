"""The stage cards of a project: odds beside results."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.content.litters import Litter
from sitegen.content.projects import Decision, Holdback, Stage, Until
from sitegen.plans.roads.kinds import Counted, HoldbackOutlook, LitterResult, StageOutlook, StageState
from sitegen.site.entries import litter_date, litter_row
from sitegen.site.material import Folio
from sitegen.site.outcomes import MOST_ROWS, RARE, OutcomeRow, outcome_row
from sitegen.site.parts import Line, LitterRow, words
from sitegen.site.road import Road
from sitegen.words import road_stages as say
from sitegen.words.claims import short_phrase
from sitegen.words.numbers import Edge, about_in_100, average_text
from sitegen.words.roads import on_its_way, opened, paragraph
from sitegen.words.speech import Sentence, Words, _, capital, plain, said


@dataclass(frozen=True, slots=True)
class WantedView:
    """Young to be kept from a stage: statements on what can be seen, then what cannot, then who was kept."""

    title: Line
    statements: tuple[Line, ...]
    unseen: tuple[Line, ...]
    kept: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class ResultRow:
    """A wanted kind in a litter: how many were expected of how many judged young, how many came, how usual that is."""

    kind: Line
    expected: str
    came: str
    luck: Line


@dataclass(frozen=True, slots=True)
class ResultView:
    """A litter of a stage beside what was expected of it."""

    litter: LitterRow
    rows: tuple[ResultRow, ...]
    note: Line


@dataclass(frozen=True, slots=True)
class DecisionView:
    """What was decided on a day, in the breeder's words; ``stage`` names the stage it is about."""

    date: str
    text: str
    stage: Line = ()


@dataclass(frozen=True, slots=True)
class StageView:
    """One stage.

    Attributes:
        title, season, state: ``Stage 2 of 3``, when, how far.
        harm: That its young can have a gene with a known harm; stands first.
        over: The words under which a stage is folded away of which nothing more is to come, or that is bred only if
            another does not bring what was wanted; empty for any other.
        why: Why not before; empty for a stage that is done.
        course: How it goes: how often it is bred and tried, and how it ends.
        wanted: What is to be kept, then what if that does not come.
        odds: The words under which the numbers of one litter are folded away; empty without any.
        looks_heading, looks: What the young can look like, by eye, for a stage that is still open.
        looks_note: What the table leaves out.
    """

    id: str
    title: str
    season: str
    state: str
    harm: Line
    pairing: Line
    over: str
    why: Line
    course: tuple[Line, ...]
    note: str
    results: tuple[ResultView, ...]
    wanted: tuple[WantedView, ...]
    odds: str
    looks_heading: str
    looks: tuple[OutcomeRow, ...]
    looks_note: tuple[Line, ...]
    decisions: tuple[DecisionView, ...]


def stage_view(stage: Stage, road: Road) -> StageView:
    """The card of one stage."""
    looked, ahead = road.looked_at(stage), road.still_open(stage)
    looks, pair = _looks(ahead, road) if ahead else (), opened(road.pair(stage))
    wanted = tuple(_wanted(held, stage, ahead, road) for held in stage.holdbacks)
    done = looked is not None and looked.state is StageState.DONE
    over = _("{pair}: what came of it") if ahead is None and road.litters(stage) else ""
    if ahead and not road.litters(stage) and road.is_second_way(stage):
        over = _("{pair}: what we plan if it comes to that")
    has_odds = looks or any(each.statements for each in wanted)
    return StageView(
        id=say.stage_anchor(stage.id),
        title=_("Stage {number} of {total}").format(number=road.number(stage.id), total=len(road.project.stages)),
        season=road.seasons(stage),
        state=capital(say.state_words(looked.state)) if looked and (ahead or done) else "",
        harm=road.harm(stage),
        pairing=road.folio.line(pair),
        over=over.format(pair=plain(pair)),
        why=road.folio.line(_why(ahead, road)) if ahead else (),
        course=road.folio.lines(list(_course(stage, ahead, road))) if ahead else (),
        note=stage.note,
        results=tuple(_result(litter, looked, road) for litter in road.litters(stage)),
        wanted=wanted,
        odds=_("What one {litter} can give").format(litter=road.births.litter) if has_odds else "",
        looks_heading=_("What the young can look like"),
        looks=looks,
        looks_note=_looks_note(ahead, len(looks), road) if ahead and looks else (),
        decisions=decision_views([d for d in road.project.decisions if d.stage == stage.id], road.folio),
    )


def _why(looked: StageOutlook, road: Road) -> Sentence:
    if looked.earliest is None:
        return road.never(looked)
    if litter := road.coming(looked):
        return on_its_way(road.folio.voice.litter(litter.id), litter_date(litter, road.folio))
    return said(_("Not before {when}, because {why}."), when=road.when(looked.earliest), why=road.why(looked))


def _course(stage: Stage, looked: StageOutlook, road: Road) -> Iterator[Sentence]:
    """How often it is tried, how many plans come so far, and how it ends there."""
    outlook, branches = road.outlook, bool(stage.otherwise)
    yield say.tries_sentence(stage.tries, branches=branches, until_else=stage.until == Until.ELSE)
    if outlook is None:
        return
    draws = outlook.draws
    if looked.bred and about_in_100(looked.bred[-1][1]) not in (100, Edge.MORE_THAN_99):  # else ``ended`` says it all
        given = say.given_bred_sentence(looked.kept_given_bred or Fraction(0), draws)
        yield paragraph([say.bred_sentence(looked.bred, draws), given])
    is_last, by_looks = stage is road.project.stages[-1], any(h.is_goal and left_open(h) for h in looked.holdbacks)
    yield say.ended_sentence(looked.ended, outlook.horizon, draws, is_last=is_last, by_looks=by_looks)


def left_open(told: HoldbackOutlook) -> tuple[str, ...]:
    """What nobody can see, unless every young that looks right has it."""
    return () if told.carries == 1 and not told.drawn else told.unseen


def _wanted(held: Holdback, stage: Stage, ahead: StageOutlook | None, road: Road) -> WantedView:
    """What is to be kept; its odds where it is still to come, and what was kept."""
    folio, open_ = road.folio, not held.is_filled
    told = next((each for each in ahead.holdbacks if each.id == held.id), None) if ahead and open_ else None
    title = _("To keep if that does not come: {what}") if held in stage.otherwise else _("To keep: {what}")
    return WantedView(
        title=folio.line(said(title, what=road.wanted(held))),
        statements=folio.lines(list(_statements(held, told, road))) if told else (),
        unseen=folio.lines(list(_unseen(held, told, road))) if told else (),
        kept=tuple(_kept(animal, held, road) for animal in road.kept(held)),
    )


def _statements(held: Holdback, told: HoldbackOutlook, road: Road) -> Iterator[Sentence]:
    yield say.one_young(_seen(held, told, road), held.sex, told.right, told.drawn)
    if told.right:
        yield say.on_average(told.expected, road.species)
        yield say.at_least_in_one(held.count, told.in_one_litter, road.species, told.drawn)
        if told.drawn:
            yield say.drawn_note(road.births.litter)


def _seen(held: Holdback, told: HoldbackOutlook, road: Road) -> tuple[Words, ...]:
    """The looks that an eye can choose by."""
    return road.shown(held, [look for look in held.shows if look not in told.unseen])


def _unseen(held: Holdback, told: HoldbackOutlook, road: Road) -> Iterator[Sentence]:
    if not told.unseen or told.carries is None:
        return
    kind = say.kind_words(_seen(held, told, road), held.sex)
    yield say.unseen_sentence(road.names(told.unseen), kind, told.carries, told.drawn)
    if told.carries == 1 and not told.drawn:
        return
    for allele, chance in told.each.items():
        yield from (say.carries_sentence(name, chance, told.drawn) for name in road.names([allele]))
    if len(told.each) > 1 and told.carries > 0:
        yield say.carries_sentence(_("all of that"), told.carries, told.drawn)


def _kept(animal: str, held: Holdback, road: Road) -> Line:
    """Who was kept, with what is known today of what it was kept for."""
    folio = road.folio
    claims = [claim for claim in folio.claims(animal) if claim.allele in held.carries]
    told: Sentence = said(_("Kept: {animal}"), animal=folio.voice.animal(animal))
    for claim in claims:
        told = said(_("{told}, {what}"), told=told, what=short_phrase(claim, folio.voice))
    return folio.line(said("{told}.", told=told))


def _looks(looked: StageOutlook, road: Road) -> tuple[OutcomeRow, ...]:
    rows = [row for row in looked.looks if row.chance >= RARE][:MOST_ROWS]
    usual = road.species.litter_size.usual
    return tuple(outcome_row(row, road.project.species, usual, 0, road.folio) for row in rows)


def _looks_note(looked: StageOutlook, shown: int, road: Road) -> tuple[Line, ...]:
    size = _("On average, of a {litter} of {count} young.").format(
        litter=road.births.litter, count=road.species.litter_size.usual
    )
    return (words(size), *((words(_("Rarer looks are left out.")),) if shown < len(looked.looks) else ()))


def _result(litter: Litter, looked: StageOutlook | None, road: Road) -> ResultView:
    found = next((each for each in looked.litters if each.litter == litter.id), None) if looked else None
    rows = tuple(_counted(each, road) for each in told_counts(found)) if found else ()
    language = road.folio.collection.site.language
    note = road.folio.line(say.result_note(found.as_of, language)) if rows and found else ()
    row = litter_row(litter, road.folio)
    # Its line goes on after the date.
    told = replace(row, state=plain(say.came_to_nothing(litter.id, litter.failed.what))) if litter.failed else row
    return ResultView(told, rows, note)


def told_counts(found: LitterResult) -> tuple[Counted, ...]:
    """The counts that say something of looks, and not the goal in a litter in which it could not come and did not."""
    told = [each for each in found.counted if each.looks and each.n_young]
    return tuple(each for each in told if not (each.kind == "goal" and each.expected == 0 and each.came == 0))


def _counted(counted: Counted, road: Road) -> ResultRow:
    kind = counted_kind(counted, road)
    return ResultRow(
        kind=road.folio.line(opened(kind)),
        expected=_("{expected} of {n_young}").format(expected=average_text(counted.expected), n_young=counted.n_young),
        came=str(counted.came),
        luck=road.folio.line(say.how_unusual(counted, road.species)),
    )


def counted_kind(counted: Counted, road: Road) -> Sentence:
    """Whom a result is about."""
    kind = say.kind_words(road.names(counted.looks), counted.sex)
    return said(_("the goal: {kind}"), kind=kind) if counted.kind == "goal" else kind


def decision_views(decisions: list[Decision], folio: Folio) -> tuple[DecisionView, ...]:
    """What was decided, oldest first."""
    ordered = sorted(decisions, key=lambda each: each.date.latest)
    return tuple(DecisionView(folio.date(each.date), each.text) for each in ordered)
