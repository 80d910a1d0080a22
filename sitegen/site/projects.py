"""The pages of projects: what is aimed at, how it is meant to be reached, and what has happened."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.projects import Project, Update
from sitegen.evidence.offers import Caution, allele_cautions
from sitegen.site import roads
from sitegen.site.addresses import GENES, project_address
from sitegen.site.material import Folio
from sitegen.site.parts import CautionView, IconArray, Line, Plate, Prose, Span, words
from sitegen.site.plates import in_time_order, named_plate, project_plate
from sitegen.site.road import Road, RoadStep, road_steps
from sitegen.site.road_stages import DecisionView, StageView, decision_views, stage_view
from sitegen.site.views import caution_views, look_links
from sitegen.words.labels import project_state_text
from sitegen.words.road_stages import harm_sentence, name_in_anchor
from sitegen.words.speech import Link, Sentence, Target, _, capital, listed, said


@dataclass(frozen=True, slots=True)
class NewsItem:
    """A dated note on a project."""

    date: str
    title: str
    project: Line
    href: str


@dataclass(frozen=True, slots=True)
class ProjectRow:
    """A project in the list of projects: ``now`` says where it stands, ``odds`` draws the chance that ``now`` tells."""

    name: Line
    state: str
    goal: Line
    species: str
    latest: str
    picture: Plate | None
    now: tuple[Line, ...] = ()
    odds: IconArray | None = None


@dataclass(frozen=True, slots=True)
class ProjectsPage:
    """All projects."""

    rows: tuple[ProjectRow, ...]


@dataclass(frozen=True, slots=True)
class UpdateView:
    """A dated note on a project."""

    id: str
    date: str
    title: str
    text: Prose
    plates: tuple[Plate, ...]


@dataclass(frozen=True, slots=True)
class ProjectPage:
    """One project.

    Attributes:
        harm: That the goal has a gene with a known harm; the first line of the page.
        road: The road in pictures, a step a stage.
        now, odds: Where it stands, the chance of its goal with a picture, what is decided next; a paragraph each.
        rivals: Ways that are better, a sentence each.
        seasons: What the seasons bring; None where nothing is predicted.
        routes: Beside the other routes; None without any.
        wrong: What went wrong, and what it cost.
        decisions: Those that are not about one stage.
        lead: The newest photograph of the project itself.
        welfare, harms: The breeder's note on genes that may harm, and those genes' own cautions.
        goal_lines: Relatedness and ancestry of the goal animal.
        assumptions: What the numbers take for granted.
        updates: Its notes, newest first.
    """

    name: str
    kicker: Line
    state: str
    goal: Line
    harm: Line
    road: tuple[RoadStep, ...]
    now: tuple[Line, ...]
    odds: IconArray | None
    rivals: tuple[Line, ...]
    stages: tuple[StageView, ...]
    seasons: roads.Seasons | None
    routes: roads.Routes | None
    wrong: tuple[Line, ...]
    decisions: tuple[DecisionView, ...]
    lead: Plate | None
    about: Prose
    updates: tuple[UpdateView, ...]
    plates: tuple[Plate, ...]
    welfare: Prose
    harms: tuple[CautionView, ...]
    goal_lines: tuple[Line, ...]
    assumptions: tuple[Line, ...]


_IN_LIST = 2
"""Paragraphs of where a project stands that its row in the list has: its state, and the chance of its goal."""


def newest_updates(project: Project) -> tuple[Update, ...]:
    """The notes on a project, newest first."""
    return tuple(sorted(project.updates, key=lambda update: update.date.latest, reverse=True))


def update_anchor(update: Update) -> str:
    """The anchor of a note, by the name of its file: no two are the same, and it stays when the title is mended."""
    name = update.place.file.rpartition("/")[2].removesuffix(".md")
    return "note-" + name_in_anchor(name)


def allele_links(alleles: tuple[str, ...], species: str, folio: Folio) -> tuple[Link, ...]:
    """Alleles by name, each leading to its gene."""
    genome = folio.collection.species[species].genome
    found = [
        (locus, allele)
        for wanted in alleles
        for locus in genome.loci
        for allele in locus.alleles
        if allele.id == wanted
    ]
    return tuple(Link(allele.name, Target.GENE, f"{species}/{locus.id}") for locus, allele in found)


def goal_sentence(project: Project, folio: Folio) -> Sentence:
    """What the goal animal shows and carries."""
    shows = look_links(project.goal.shows, project.species, folio)
    carries = allele_links(project.goal.carries, project.species, folio)
    if shows and carries:
        return said(
            _("An animal that shows {shows} and carries {carries}."), shows=listed(shows), carries=listed(carries)
        )
    if shows:
        return said(_("An animal that shows {shows}."), shows=listed(shows))
    return said(_("An animal that carries {carries}."), carries=listed(carries)) if carries else ()


def own_plates(project: Project, folio: Folio) -> tuple[Plate, ...]:
    """Its own pictures and those of its notes that are shown, in time order."""
    photos = [*project.photos, *(photo for update in project.updates for photo in update.photos)]
    return tuple(project_plate(photo, project.name, folio) for photo in in_time_order(photos, folio))


def _animals(project: Project, folio: Folio) -> tuple[Animal, ...]:
    """The animals of its stages, parents before what was kept of their young, each once."""
    names = [
        name for s in project.stages for name in (s.dam, s.sire, *(a for held in s.holdbacks for a in held.animals))
    ]
    return tuple(folio.collection.animals[name] for name in dict.fromkeys(names) if name in folio.collection.animals)


def projects_page(folio: Folio) -> ProjectsPage:
    """All projects: those under way first, then planned, reached, given up."""
    order = ("under way", "planned", "reached", "given up")
    found = sorted(
        folio.collection.projects.values(), key=lambda p: order.index(p.state) if p.state in order else len(order)
    )
    rows = tuple(_row(project, folio) for project in found)
    return ProjectsPage(rows)


def _row(project: Project, folio: Folio) -> ProjectRow:
    updates = newest_updates(project)
    latest = _("{date}: {title}").format(date=folio.date(updates[0].date), title=updates[0].title) if updates else ""
    road, own = _road(project, folio), own_plates(project, folio)
    plates = own or [p for animal in _animals(project, folio) if (p := named_plate(animal, folio)).picture]
    return ProjectRow(
        name=(Span(project.name, folio.linker.to(project_address(project.id))),),
        state=state_words(project, road),
        goal=folio.line(goal_sentence(project, folio)),
        species=folio.collection.species[project.species].name,
        latest=latest,
        picture=plates[-1] if plates else None,
        now=folio.lines(list(roads.now_paragraphs(road))[:_IN_LIST]),
        odds=roads.now_odds(road),
    )


def _road(project: Project, folio: Folio) -> Road:
    found = folio.material.roads.get(project.id)
    return Road(project, folio, found.main if found else None)


def _others(project: Project, folio: Folio) -> Iterator[tuple[Road, str, str]]:
    found = folio.material.roads.get(project.id)
    for each in project.alternatives:
        if found and each.id in found.alternatives:
            route = replace(project, stages=each.stages)
            yield Road(route, folio, found.alternatives[each.id], linked=False), each.name, each.about


def project_page(project: Project, folio: Folio) -> ProjectPage:
    """All that is told of one project."""
    species, found = folio.collection.species[project.species], folio.material.roads.get(project.id)
    road = _road(project, folio)
    plates, begun = own_plates(project, folio), folio.date(project.started) if project.started else ""
    state, harmful = state_words(project, road), _harmful(project, folio)
    return ProjectPage(
        name=project.name,
        kicker=(Span(_("A project with ")), Span(species.name, folio.linker.to(f"{GENES}#{species.id}"))),
        state=_("{state}, begun {date}").format(state=state, date=begun) if begun else state,
        goal=folio.line(goal_sentence(project, folio)),
        harm=folio.line(harm_sentence([folio.voice.gene_of(c.species, c.locus, c.allele) for c in harmful], goal=True)),
        road=road_steps(road),
        now=folio.lines(roads.now_paragraphs(road)),
        odds=roads.now_odds(road),
        rivals=folio.lines(roads.rival_sentences(road, found)),
        stages=tuple(stage_view(stage, road) for stage in project.stages),
        seasons=roads.seasons(road),
        routes=roads.routes(road, tuple(_others(project, folio))),
        wrong=folio.lines(roads.wrong_sentences(road)),
        decisions=decision_views([each for each in project.decisions if not each.stage], folio),
        lead=plates[-1] if plates else None,
        about=folio.prose(project.about),
        updates=tuple(_update(update, project, folio) for update in newest_updates(project)),
        plates=plates[:-1],
        welfare=folio.prose(project.welfare),
        harms=caution_views(harmful, folio),
        goal_lines=roads.goal_lines(road),
        assumptions=roads.assumption_lines(road),
    )


def state_words(project: Project, road: Road) -> str:
    """The state that the breeder recorded; reached also when a kept young meets the goal."""
    is_reached = road.outlook is not None and road.outlook.reached is not None
    return capital(project_state_text("reached" if is_reached else project.state))


def parts_played(animal: str, road: Road) -> Iterator[Sentence]:
    """What an animal is in a project: dam or sire of stages, kept from one."""
    stages = road.project.stages
    for parent, told in (("dam", _("dam of {stages}")), ("sire", _("sire of {stages}"))):
        own = [road.stage_words(s.id) for s in stages if animal in road.animals(getattr(s, parent))]
        if own:
            yield said(told, stages=listed(own))
    kept = [road.stage_words(s.id) for s in stages if any(animal in held.animals for held in s.holdbacks)]
    if kept:
        yield said(_("kept from {stages}"), stages=listed(kept))


def served_lines(animal: Animal, folio: Folio) -> tuple[Line, ...]:
    """The projects that an animal serves, each with what it is there."""
    found: list[Sentence] = []
    for project in folio.collection.projects.values():
        if parts := tuple(parts_played(animal.id, Road(project, folio, None))):
            name = Link(project.name, Target.PROJECT, project.id)
            found.append(said(_("{project}: {parts}."), project=name, parts=listed(parts)))
    return folio.lines(found)


def stages_of(litter: Litter, folio: Folio) -> Line:
    """The stages of projects that a litter belongs to: ``Snow ladder, stage 1``."""
    found: list[Sentence] = []
    for project in folio.collection.projects.values():
        road, name = Road(project, folio, None), Link(project.name, Target.PROJECT, project.id)
        for stage in project.stages:
            if litter.id in stage.litters:
                found.append(said(_("{project}, {stage}"), project=name, stage=road.stage_words(stage.id)))
    return folio.line(listed(found))


def _harmful(project: Project, folio: Folio) -> tuple[Caution, ...]:
    genome, goal = folio.collection.species[project.species].genome, project.goal
    looked = {look.id: locus for locus in genome.loci for look in locus.looks if look.id in goal.shows}
    named = [
        (locus, allele.id)
        for locus in genome.loci
        for allele in locus.alleles
        if allele.id in (*goal.shows, *goal.carries) or (locus in looked.values() and len(locus.alleles) == 1)
    ]
    return tuple(caution for locus, allele in named for caution in allele_cautions(project.species, locus, allele))


def _update(update: Update, project: Project, folio: Folio) -> UpdateView:
    photos = in_time_order(update.photos, folio)
    return UpdateView(
        id=update_anchor(update),
        date=folio.date(update.date),
        title=update.title,
        text=folio.prose(update.text),
        plates=tuple(project_plate(photo, project.name, folio) for photo in photos),
    )


def news(folio: Folio, most: int) -> tuple[NewsItem, ...]:
    """The newest notes on all projects, newest first."""
    found = [(update, project) for project in folio.collection.projects.values() for update in project.updates]
    found.sort(key=lambda pair: pair[0].date.latest, reverse=True)
    return tuple(
        NewsItem(
            date=folio.date(update.date),
            title=update.title,
            project=words(project.name),
            href=folio.linker.to(f"{project_address(project.id)}#{update_anchor(update)}"),
        )
        for update, project in found[:most]
    )
