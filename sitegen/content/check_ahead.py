"""Cross-checks with the day it is: only what is planned may lie ahead.

A partial date is told only when even its first day lies ahead. One day more than today is let pass: it is tomorrow
already elsewhere in the world.
"""

import datetime as dt
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial

from sitegen.content.animals import Animal, PhotoRecord
from sitegen.content.check_dates import Event, happened
from sitegen.content.litters import Litter
from sitegen.content.projects import Project
from sitegen.content.report import Report
from sitegen.content.spots import Spots
from sitegen.content.written.projects import ProjectForm
from sitegen.content.yaml_tree import Node
from sitegen.findings import Kind, Place
from sitegen.genetics.questions import AnimalId


def check_ahead(
    animals: Mapping[AnimalId, Animal],
    litters: Mapping[str, Litter],
    projects: Iterable[tuple[Project, ProjectForm]],
    spots: Spots,
    today: dt.date,
    report: Report,
) -> None:
    """Tells what is said to have happened on a day that has not come."""
    for animal in animals.values():
        litter = litters.get(animal.litter)
        _tell(animal.id, partial(_of_animal, animal, litter, spots), today, report)
    for litter in litters.values():
        _tell(litter.id, partial(_of_litter, litter, spots), today, report)
    for project, form in projects:
        _tell(project.id, partial(_of_project, project, form), today, report)


def _tell(record_id: str, events: Callable[[], Iterator[Event]], today: dt.date, report: Report) -> None:
    for what, date, where in events():
        if date is not None and (date.earliest - today).days > 1:
            report.error(
                Kind.DATE_AHEAD,
                where(),
                f"{record_id}: {what} is dated {date}, and today is {today}",
                expected="a day that has come; only what is planned may lie ahead",
                remedy="correct the date. Is the clock of this computer right? Another day is said with --date",
            )


def _of_animal(animal: Animal, litter: Litter | None, spots: Spots) -> Iterator[Event]:
    if litter is None or animal.born != litter.born:  # told once, at the litter
        yield "its birth", animal.born, partial(spots.of_animal, animal, "born")
    yield from happened(animal, spots)
    yield from _of_photos(animal.photos)


def _of_litter(litter: Litter, spots: Spots) -> Iterator[Event]:
    for word in ("laid", "born") if litter.laid is None and litter.born is None else ("paired", "laid", "born"):
        yield f'"{word}"', getattr(litter, word), partial(spots.of_litter, litter, word)
    for others in litter.others:
        yield "the judging of its others", others.judged.on, partial(_here, others.place)
    yield from _of_photos(litter.photos)


def _of_project(project: Project, form: ProjectForm) -> Iterator[Event]:
    yield "its start", project.started, partial(form.at, "started")
    for decision in project.decisions:
        yield "a decision", decision.date, partial(_here, decision.place)
    for update in project.updates:
        yield "a note", update.date, partial(_here, update.place)
        yield from _of_photos(update.photos)
    yield from _of_photos(project.photos)


def _of_photos(photos: Iterable[PhotoRecord]) -> Iterator[Event]:
    for photo in photos:
        yield "by its name a photo", photo.date, partial(_here, Place(photo.path))


def _here(place: Place) -> Node | Place:
    return place
