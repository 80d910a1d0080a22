"""The stage cards of a project: odds beside results."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sitegen.content.litters import Litter
from sitegen.content.projects import Decision, Holdback, Stage
from sitegen.genetics.counts import Needed
from sitegen.plans.roads.kinds import Counted, HoldbackOutlook, LitterResult, StageOutlook, StageState
from sitegen.site.entries import litter_date, litter_row
from sitegen.site.material import Folio
from sitegen.site.outcomes import MOST_ROWS, RARE, OutcomeRow, outcome_row
from sitegen.site.parts import Line, LitterRow, Plate, words
from sitegen.site.plates import empty_plate, named_plate
from sitegen.site.road import Road
from sitegen.words.claims import short_phrase
from sitegen.words.numbers import average_text
from sitegen.words.road_stages import (
    at_least_in_one,
    carries_sentence,
    folded_looks,
    goal_each_sentence,
    how_unusual,
    keep_sentence,
    kind_words,
    nothing_but,
    on_average,
    one_young,
    result_note,
    stage_anchor,
    stage_title,
    state_words,
    tries_sentence,
    unseen_sentence,
    wanted_words,
    yielded_sentence,
    young_needed,
)
from sitegen.words.roads import on_its_way, opened
from sitegen.words.speech import Sentence, Words, _, capital, said


@dataclass(frozen=True, slots=True)
class WantedView:
    """Young to be kept from a stage: three statements on what can be seen, then what cannot, then who was kept."""

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
        id: Its anchor.
        title, season, state: ``Stage 2 of 3``, when, how far.
        pairing: Who with whom.
        parents: Their photos; a parent that is not kept yet has an empty plate.
        why: Why not before; empty for a stage that is done.
        note: The breeder's note.
        wanted: What is to be kept.
        looks_heading, looks: What the young can look like, by eye, for a stage that is still open.
        looks_note: What the table leaves out.
        looks_folded: The words under which a long table is folded away; empty for a short one.
        further: The goal itself, the chance that the stage gives all, how often it is tried.
        results: Its litters.
        decisions: What was decided about it.
    """

    id: str
    title: str
    season: str
    state: str
    pairing: Line
    parents: tuple[Plate, ...]
    why: Line
    note: str
    wanted: tuple[WantedView, ...]
    looks_heading: str
    looks: tuple[OutcomeRow, ...]
    looks_note: tuple[Line, ...]
    looks_folded: str
    further: tuple[Line, ...]
    results: tuple[ResultView, ...]
    decisions: tuple[DecisionView, ...]


_LONG = 5
"""A table of looks with more rows is folded away."""
_SAID_LEVEL = 90
"""Hundredths: the level that is told of "how many are needed"."""


def stage_view(stage: Stage, road: Road) -> StageView:
    """The card of one stage."""
    looked = road.looked_at(stage)
    is_open = looked is not None and road.ahead is not None and looked.state is not StageState.DONE
    looks = _looks(looked, road) if looked and is_open else ()
    return StageView(
        id=stage_anchor(stage.id),
        title=stage_title(road.number(stage.id), len(road.project.stages)),
        season=_season(stage, looked, road),
        state=capital(state_words(looked.state)) if looked and (is_open or looked.state is StageState.DONE) else "",
        pairing=road.folio.line(opened(road.pair(stage))),
        parents=tuple(plate for name in (stage.dam, stage.sire) for plate in _parents(name, road)),
        why=road.folio.line(_why(looked, road)) if looked and is_open else (),
        note=stage.note,
        wanted=tuple(_wanted(held, stage, looked, is_open, road) for held in stage.holdbacks),
        looks_heading=_("What the young can look like"),
        looks=looks,
        looks_note=_looks_note(looked, len(looks), road) if looked and is_open else (),
        looks_folded=folded_looks(len(looks)) if len(looks) > _LONG else "",
        further=tuple(_further(stage, looked, road)) if looked and is_open else (),
        results=tuple(_result(litter, looked, road) for litter in road.litters(stage)),
        decisions=decision_views([d for d in road.project.decisions if d.stage == stage.id], road.folio),
    )


def _season(stage: Stage, looked: StageOutlook | None, road: Road) -> str:
    """When: the seasons of its litters, or the earliest that can come."""
    seasons = list(dict.fromkeys(str(road.season_of(litter)) for litter in road.litters(stage)))
    if looked is None or road.ahead is None or looked.state is StageState.DONE:
        return ", ".join(seasons) or str(stage.season)
    if looked.earliest is None or road.coming(looked):
        return ", ".join(seasons)
    return ", ".join([*seasons, _("{when} at the earliest").format(when=road.when(looked.earliest))])


def _why(looked: StageOutlook, road: Road) -> Sentence:
    if looked.earliest is None:
        return road.never(looked)
    if litter := road.coming(looked):
        return on_its_way(road.folio.voice.litter(litter.id), litter_date(litter, road.folio))
    return said(_("Not before {when}, because {why}."), when=road.when(looked.earliest), why=road.why(looked))


def _parents(name: str, road: Road) -> Iterator[Plate]:
    """The parents' photos; one empty plate for young that are not kept yet."""
    animals = road.animals(name)
    for animal in animals:
        yield named_plate(road.folio.collection.animals[animal], road.folio)
    if not animals:
        yield empty_plate(road.folio.line(opened(road.parent(name))))


def _wanted(held: Holdback, stage: Stage, looked: StageOutlook | None, is_open: bool, road: Road) -> WantedView:
    """What is to be kept; its odds where it is still to come, and what was kept."""
    folio = road.folio
    told = next((each for each in looked.holdbacks if each.id == held.id), None) if looked else None
    what = wanted_words(held.count, held.sex, _shown(held, held.shows, road), road.names(held.carries))
    open_ = told is not None and is_open and len(held.animals) < held.count
    title = _("To keep if that does not come: {what}") if held in stage.otherwise else _("To keep: {what}")
    return WantedView(
        title=folio.line(said(title, what=what)),
        statements=folio.lines(list(_statements(held, told, road))) if told and open_ else (),
        unseen=folio.lines(list(_unseen(held, told, road))) if told and open_ else (),
        kept=tuple(_kept(animal, held, road) for animal in held.animals if animal in folio.collection.animals),
    )


def _statements(held: Holdback, told: HoldbackOutlook, road: Road) -> Iterator[Sentence]:
    yield one_young(_seen(held, told, road), held.sex, told.looks_right)
    if told.looks_right == 0:
        return
    yield on_average(told.expected, told.between, road.species)
    yield at_least_in_one(held.count, told.in_one_litter, road.species)
    yield from (young_needed(needed) for needed in _at_level(told.needed) if told.looks_right < 1)


def _seen(held: Holdback, told: HoldbackOutlook, road: Road) -> tuple[Words, ...]:
    """The looks that an eye can choose by."""
    return _shown(held, [look for look in held.shows if look not in told.unseen], road)


def _shown(held: Holdback, looks: Sequence[str], road: Road) -> tuple[Words, ...]:
    """Looks by name; that they are all, where nothing else is to be seen."""
    return (nothing_but(road.names(looks)),) if held.only else road.names(looks)


def _unseen(held: Holdback, told: HoldbackOutlook, road: Road) -> Iterator[Sentence]:
    if not told.unseen or told.carries is None or told.looks_right == 0:
        return
    kind = kind_words(_seen(held, told, road), held.sex)
    yield unseen_sentence(road.names(told.unseen), kind, told.carries)
    if told.carries == 1:
        return
    for allele, chance in told.each.items():
        yield from (carries_sentence(name, chance) for name in road.names([allele]))
    if len(told.each) > 1 and told.carries > 0:
        yield carries_sentence(_("all of that"), told.carries)
    yield from (keep_sentence(needed) for needed in _at_level(told.to_keep) if told.carries > 0)


def _at_level(needed: tuple[Needed, ...]) -> tuple[Needed, ...]:
    return tuple(each for each in needed if each.level * 100 == _SAID_LEVEL)


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


def _further(stage: Stage, looked: StageOutlook, road: Road) -> Iterator[Line]:
    goal = road.project.goal
    same = any(set(held.shows) == set(goal.shows) and not held.carries and not goal.carries for held in stage.keep)
    runs = road.outlook.method.runs if road.outlook else 0
    told = [
        () if same else goal_each_sentence(looked.goal_each),
        () if same else yielded_sentence(looked.yielded, runs),
        tries_sentence(stage.tries),
    ]
    yield from road.folio.lines(told)


def _result(litter: Litter, looked: StageOutlook | None, road: Road) -> ResultView:
    found = next((each for each in looked.litters if each.litter == litter.id), None) if looked else None
    rows = tuple(_counted(each, road) for each in told_counts(found)) if found else ()
    language = road.folio.collection.site.language
    note = road.folio.line(result_note(found.as_of, language)) if rows and found else ()
    return ResultView(litter_row(litter, road.folio), rows, note)


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
        luck=road.folio.line(how_unusual(counted, road.species)),
    )


def counted_kind(counted: Counted, road: Road) -> Sentence:
    """Whom a result is about."""
    kind = kind_words(road.names(counted.looks), counted.sex)
    return said(_("the goal: {kind}"), kind=kind) if counted.kind == "goal" else kind


def decision_views(decisions: list[Decision], folio: Folio) -> tuple[DecisionView, ...]:
    """What was decided, oldest first."""
    ordered = sorted(decisions, key=lambda each: each.date.latest)
    return tuple(DecisionView(folio.date(each.date), each.text) for each in ordered)
