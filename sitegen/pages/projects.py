"""The pages of projects: what is aimed at, how it is meant to be reached, and what has happened."""

from collections.abc import Iterator

from sitegen.pages.addresses import GENES, project_address
from sitegen.pages.claim_views import look_links
from sitegen.pages.entries import litter_row, newest_first
from sitegen.pages.material import Folio
from sitegen.pages.models import NewsItem, ProjectPage, ProjectRow, ProjectsPage, StageRow, UpdateView
from sitegen.pages.parts import Field, Plate, Span, words
from sitegen.pages.plates import in_time_order, named_plate, project_plate
from sitegen.records.animals import Animal
from sitegen.records.projects import Project, Stage, Update
from sitegen.wording.runs import Link, Sentence, Target
from sitegen.wording.speech import _, capital, listed, said


def newest_updates(project: Project) -> tuple[Update, ...]:
    """The notes on a project, newest first."""
    return tuple(sorted(project.updates, key=lambda update: update.date.latest, reverse=True))


def update_anchor(update: Update) -> str:
    """The anchor of a note: its date, and its title in small letters."""
    title = "-".join("".join(c if c.isalnum() else " " for c in update.title.lower()).split())
    return f"note-{update.date}-{title}"


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


def project_plates(project: Project, folio: Folio) -> tuple[Plate, ...]:
    """Its pictures in time order: its own and those of its notes; without any, those of the animals it is about."""
    photos = [*project.photos, *(photo for update in project.updates for photo in update.photos)]
    own = tuple(project_plate(photo, project.name, folio) for photo in in_time_order(photos, folio))
    return own or tuple(plate for animal in _animals(project, folio) if (plate := named_plate(animal, folio)).picture)


def _animals(project: Project, folio: Folio) -> tuple[Animal, ...]:
    """The animals of its stages, parents before what was kept of their young, each once."""
    names = [name for s in project.stages for name in (s.dam, s.sire, *(a for held in s.keep for a in held.animals))]
    return tuple(folio.collection.animals[name] for name in dict.fromkeys(names) if name in folio.collection.animals)


def projects_page(folio: Folio) -> ProjectsPage:
    """All projects: those under way first, then planned, reached, given up."""
    order = ("under way", "planned", "reached", "given up")
    found = sorted(
        folio.collection.projects.values(), key=lambda p: order.index(p.state) if p.state in order else len(order)
    )
    rows = tuple(_row(project, folio) for project in found)
    return ProjectsPage(rows, drawn=any(row.picture and row.picture.drawing for row in rows))


def _row(project: Project, folio: Folio) -> ProjectRow:
    updates = newest_updates(project)
    latest = _("{date}: {title}").format(date=folio.date(updates[0].date), title=updates[0].title) if updates else ""
    plates = project_plates(project, folio)
    return ProjectRow(
        name=(Span(project.name, folio.linker.to(project_address(project.id))),),
        state=capital(_(project.state)),
        goal=folio.line(goal_sentence(project, folio)),
        species=folio.collection.species[project.species].name,
        latest=latest,
        picture=plates[-1] if plates else None,
    )


def project_page(project: Project, folio: Folio) -> ProjectPage:
    """All that is told of one project."""
    species = folio.collection.species[project.species]
    linked = dict.fromkeys(litter for stage in project.stages for litter in stage.litters)
    litters = newest_first(folio.collection.litters[litter] for litter in linked)
    updates = tuple(_update(update, project, folio) for update in newest_updates(project))
    plates = project_plates(project, folio)
    return ProjectPage(
        name=project.name,
        kicker=(Span(_("A project with ")), Span(species.name, folio.linker.to(f"{GENES}#{species.id}"))),
        label=tuple(_label(project, folio)),
        lead=plates[-1] if plates else None,
        about=folio.prose(project.about),
        stages=tuple(_stage(stage, project, folio) for stage in project.stages),
        litters=tuple(litter_row(litter, folio) for litter in litters),
        updates=updates,
        plates=plates[:-1],
        drawn=any(plate.drawing for plate in plates),
    )


def _label(project: Project, folio: Folio) -> Iterator[Field]:
    yield Field(_("Goal"), folio.line(goal_sentence(project, folio)))
    yield Field(_("State"), words(capital(_(project.state))))
    if project.started:
        yield Field(_("Begun"), words(folio.date(project.started)))


def _parent(name: str, project: Project, folio: Folio) -> Sentence:
    """An animal by name; a young of an earlier stage that does not exist yet, in words."""
    if name in folio.collection.animals:
        return (folio.voice.animal(name),)
    stage_id, _dot, holdback_id = name.partition(".")
    for stage in project.stages:
        kept = [held for held in stage.keep if held.id == holdback_id]
        if stage.id == stage_id and kept:
            animals = [folio.voice.animal(animal) for animal in kept[0].animals if animal in folio.collection.animals]
            if animals:
                return listed(animals, either=True)
            return said(_("a young kept from {season}"), season=str(stage.season))
    return said(name)


def _stage(stage: Stage, project: Project, folio: Folio) -> StageRow:
    pairing = said(
        _("{dam} with {sire}"), dam=_parent(stage.dam, project, folio), sire=_parent(stage.sire, project, folio)
    )
    return StageRow(
        season=str(stage.season),
        pairing=folio.line(pairing),
        litters=tuple(folio.line((folio.voice.litter(litter),)) for litter in stage.litters),
        note=stage.note,
    )


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
