"""On which day what a page tells of was last changed, by the records and not by a clock."""

import datetime as dt
from collections.abc import Iterable

from sitegen.content.animals import Animal
from sitegen.content.collection import dates_of_animal, dates_of_litter, latest_until
from sitegen.content.litters import Litter
from sitegen.content.projects import Project
from sitegen.content.values import PartialDate
from sitegen.site.material import Folio, Material, once
from sitegen.site.plates import in_time_order


def animal_changed(animal: Animal, material: Material) -> dt.date | None:
    """The newest day of an animal's record, of its litters, and of what changed of what is said of it."""
    days = [change.day for change in material.changes.get(animal.id, ())]
    litters = [material.collection.litters[litter] for litter in material.litters_of.get(animal.id, ())]
    dates = [*dates_of_animal(animal), *(date for litter in litters for date in dates_of_litter(litter))]
    return _newest(dates, days, material)


def litter_changed(litter: Litter, material: Material) -> dt.date | None:
    """The newest day of a litter's record and of those of its young."""
    young = [material.collection.animals[animal] for animal in litter.young]
    days = [change.day for animal in young for change in material.changes.get(animal.id, ())]
    dates = [*dates_of_litter(litter), *(date for animal in young for date in dates_of_animal(animal))]
    return _newest(dates, days, material)


def project_changed(project: Project, material: Material) -> dt.date | None:
    """The newest day of a project's notes and decisions, and of its litters."""
    litters = [
        material.collection.litters[litter]
        for stage in project.stages
        for litter in stage.litters
        if litter in material.collection.litters
    ]
    days = [day for litter in litters if (day := litter_changed(litter, material))]
    dates = [project.started, *(update.date for update in project.updates)]
    dates += [decision.date for decision in project.decisions]
    return _newest(dates, days, material)


def offers_changed(material: Material) -> dt.date | None:
    """The newest day since when an offer stands as it does."""
    animals = material.collection.animals.values()
    return _newest([animal.offer.since for animal in animals if animal.offer], (), material)


def pictures_changed(animal: Animal, at: Folio) -> dt.date | None:
    """The day of the newest photo of an animal that is shown."""
    return _newest([photo.date for photo in in_time_order(animal.photos, at)], (), at.material)


@once
def anything_changed(material: Material) -> dt.date | None:
    """The newest day of any record: of the pages that tell a little of everything.

    What evidence changed of what is said happened on the day of some record, so it need not be asked for.
    """
    return latest_until(material.collection, material.as_of)


def litters_changed(material: Material) -> dt.date | None:
    """The newest day of any litter's record, and of any offer, since the ledger tells how many are available."""
    litters = material.collection.litters.values()
    dates = [date for litter in litters for date in dates_of_litter(litter)]
    dates += [animal.offer.since for animal in material.collection.animals.values() if animal.offer]
    return _newest(dates, (), material)


def _newest(dates: Iterable[PartialDate | None], days: Iterable[dt.date], material: Material) -> dt.date | None:
    """The newest day that is not ahead of the day of the statement; of a partial date its first day counts."""
    known = [*days, *(date.earliest for date in dates if date)]
    return max((day for day in known if day <= material.as_of), default=None)
