"""The records from which everything public is made, where some of them are kept off the site.

What is kept off is left out by construction and not by care: in its place stands a record under a name that tells
nothing, and that record holds only what heredity is told of, without a day. So the chances of all that is shown are
those of the true records, and no page, file or feed can tell what it was not given.
"""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Genes
from sitegen.content.litters import Litter
from sitegen.content.off_site import is_off_site, stand_in
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.projects import Holdback, Project, Stage
from sitegen.content.values import PartialDate
from sitegen.evidence.judging import age_when_judged
from sitegen.findings import Place
from sitegen.genetics.questions import AnimalId


def for_the_site(records: Collection) -> Collection:
    """The records without what is kept off the site, and without texts and wishes; these very ones where nothing is."""
    if not any(each.on_site is False for each in _pieces(records)):
        return records
    shown = _Shown(*_stand_ins(records))
    animals = {key: shown.animal(each) for key, each in records.animals.items()}
    litters = [shown.litter(each) for each in records.litters.values()]
    found = replace(
        records,
        animals={each.id: each for each in animals.values()},
        litters={each.id: each for each in litters},
        projects={key: shown.project(each) for key, each in records.projects.items() if each.on_site},
        texts=(),
        reviews=(),
        wishes=None,
    )
    aged = [_as_old(each, found, records.animals[key], records) for key, each in animals.items()]
    return replace(found, animals={each.id: each for each in aged})


def _pieces(records: Collection) -> Iterator[Animal | Litter | Project | PhotoRecord]:
    """All that may be kept off the site by itself."""
    yield from records.animals.values()
    yield from records.litters.values()
    yield from records.projects.values()
    yield from photos_of(records)


def photos_of(records: Collection) -> Iterator[PhotoRecord]:
    """Every photograph of the records."""
    yield from (photo for animal in records.animals.values() for photo in animal.photos)
    yield from (photo for litter in records.litters.values() for photo in litter.photos)
    for project in records.projects.values():
        yield from project.photos
        yield from (photo for update in project.updates for photo in update.photos)


def has_whole_road(project: Project, shown: Collection, records: Collection) -> bool:
    """False where what lies ahead of a project hangs on days that are not told: no chance of it is then published.

    It does where a stage names something that is kept off the site, or an animal with a litter that is: then nobody
    could see from the public records when she may breed again.
    """
    true = records.projects[project.id]
    if (project.stages, project.alternatives) != (true.stages, true.alternatives):
        return False
    stages = [*project.stages, *(stage for route in project.alternatives for stage in route.stages)]
    named = {name for each in stages for name in (each.dam, each.sire, *(a for h in each.holdbacks for a in h.animals))}
    return not any(has_litter_off_site(name, shown) for name in named)


def has_litter_off_site(animal: AnimalId, shown: Collection) -> bool:
    """True for a parent of a litter that is kept off the site."""
    return any(is_off_site(litter.id) for litter in shown.bred_by(animal))


def _as_old(animal: Animal, shown: Collection, true: Animal, records: Collection) -> Animal:
    """The animal with its age at each judging, where the days that are left tell another."""

    def aged(genes: Genes, before: Genes) -> Genes:
        age = age_when_judged(records, true, before.judged)
        told = age_when_judged(shown, animal, genes.judged)
        return genes if age == told else replace(genes, judged=replace(genes.judged, age_months=age))

    return replace(animal, genes=tuple(map(aged, animal.genes, true.genes)))


def _stand_ins(records: Collection) -> tuple[Mapping[str, str], Mapping[str, str]]:
    """Animals and litters that are kept off to names for them, numbered in an order that tells nothing."""
    off = [("animal", key) for key, each in records.animals.items() if each.on_site is False]
    off += [("litter", key) for key, each in records.litters.items() if each.on_site is False]
    off.sort(key=lambda each: hashlib.sha256("/".join(each).encode()).digest())
    names = {each: stand_in(number) for number, each in enumerate(off, 1)}
    animals, litters = ({key: name for (kind, key), name in names.items() if kind == of} for of in ("animal", "litter"))
    return animals, litters


@dataclass(frozen=True, slots=True)
class _Shown:
    """Makes the public record of each; ``animals`` and ``litters`` that are kept off have names there."""

    animals: Mapping[str, str]
    litters: Mapping[str, str]

    def animal(self, animal: Animal) -> Animal:
        """Its record as it may be shown; of one that is kept off its evidence alone."""
        family = {**self._parents(animal), "litter": self.litters.get(animal.litter, animal.litter)}
        if name := self.animals.get(animal.id):
            return Animal(
                id=name, place=Place(name), species=animal.species, sex=animal.sex, line=animal.line,
                locality=animal.locality, genes=tuple(_evidence(genes, name) for genes in animal.genes),
                public=(), on_site=False, **family,
            )  # fmt: skip
        number = "" if animal.litter in self.litters else animal.number  # which would be part of an address below it
        return replace(animal, photos=_shown(animal.photos), number=number, **family)

    def litter(self, litter: Litter) -> Litter:
        """Its record as it may be shown; of one that is kept off its parents and its young."""
        family = {**self._parents(litter), "young": tuple(self.animals.get(each, each) for each in litter.young)}
        if name := self.litters.get(litter.id):
            others = _undated(litter.others, name)
            return Litter(
                id=name, place=Place(name), species=litter.species, others=others, public=(), on_site=False, **family
            )
        events = (replace(each, partner=self.animals.get(each.partner or "", each.partner)) for each in litter.events)
        return replace(litter, photos=_shown(litter.photos), events=tuple(events), **family)

    def _parents(self, born: Animal | Litter) -> dict[str, Any]:
        sires = tuple((self.animals.get(sire, sire), chance) for sire, chance in born.sires)
        dam = self.animals.get(born.dam or "", born.dam)
        return {"dam": dam, "sires": sires, "each_its_own_sire": born.each_its_own_sire}

    def project(self, project: Project) -> Project:
        """Its record; litters that are kept off are not told of."""
        routes = (replace(each, stages=tuple(map(self._stage, each.stages))) for each in project.alternatives)
        return replace(
            project,
            photos=_shown(project.photos),
            updates=tuple(replace(each, photos=_shown(each.photos)) for each in project.updates),
            stages=tuple(map(self._stage, project.stages)),
            alternatives=tuple(routes),
        )

    def _stage(self, stage: Stage) -> Stage:
        return replace(
            stage,
            dam=self.animals.get(stage.dam, stage.dam),
            sire=self.animals.get(stage.sire, stage.sire),
            litters=tuple(each for each in stage.litters if each not in self.litters),
            keep=tuple(map(self._kept, stage.keep)),
            otherwise=tuple(map(self._kept, stage.otherwise)),
        )

    def _kept(self, held: Holdback) -> Holdback:
        return replace(held, animals=tuple(self.animals.get(each, each) for each in held.animals))


def _shown(photos: tuple[PhotoRecord, ...]) -> tuple[PhotoRecord, ...]:
    return tuple(photo for photo in photos if photo.on_site)


def _evidence(genes: Genes, name: str) -> Genes:
    """What heredity is told of, without days, laboratories and marks."""
    tests = tuple(replace(each, laboratory="", document="") for each in genes.tests)
    undated: Genes = _undated(replace(genes, tests=tests, markers=()), name)
    return undated


def _undated(value: Any, name: str) -> Any:
    """A piece of a record without its days, in a file that is called by a name; lines keep its pieces apart."""
    match value:
        case Place():
            return replace(value, file=name)
        case PartialDate():
            return None
        case tuple():
            return tuple(_undated(each, name) for each in value)
    if not is_dataclass(value) or isinstance(value, type):
        return value
    return replace(value, **{each.name: _undated(getattr(value, each.name), name) for each in fields(value)})
