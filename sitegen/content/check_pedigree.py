"""Cross-checks of parents, in records and in stages of projects: sex, species, and nobody an ancestor of itself."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter, Spots
from sitegen.content.projects import Holdback, Project, Stage
from sitegen.content.report import Report
from sitegen.findings import Kind, Level, Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, parents_of


@dataclass(frozen=True, slots=True)
class Parent:
    """One naming of a parent: by whom, as what, where."""

    parent: AnimalId
    of: str
    species: str
    as_dam: bool
    place: Place

    @property
    def word(self) -> str:
        """Dam or sire."""
        return "dam" if self.as_dam else "sire"


def namings(animals: Mapping[AnimalId, Animal], litters: Mapping[str, Litter]) -> Iterator[Parent]:
    """Every naming of a parent once: in litter records, and in records of animals that are of no litter."""
    records: list[Animal | Litter] = [*litters.values(), *(one for one in animals.values() if not one.litter)]
    for record in records:
        if record.dam is not None:
            yield Parent(record.dam, record.id, record.species, True, record.dam_place or record.place)
        for sire, _ in record.sires:
            yield Parent(sire, record.id, record.species, False, record.sire_place or record.place)


def check_pedigree(
    animals: Mapping[AnimalId, Animal], litters: Mapping[str, Litter], spots: Spots, report: Report
) -> None:
    """Tells parents of the wrong sex or another species, and animals that descend from themselves."""
    used: dict[AnimalId, Parent] = {}
    for naming in namings(animals, litters):
        parent = animals.get(naming.parent)
        if parent is None:
            continue
        _check_sex(naming, parent, spots, report)
        _check_species(naming, parent, report)
        first = used.setdefault(naming.parent, naming)
        if first.as_dam is not naming.as_dam:
            _check_both(first, naming, parent, report)
    _check_cycles(animals, spots, report)


def _check_sex(naming: Parent, parent: Animal, spots: Spots, report: Report) -> None:
    wrong = Sex.MALE if naming.as_dam else Sex.FEMALE
    if parent.sex is wrong:
        report.error(
            Kind.SEX_CLASH,
            naming.place,
            f"{parent.id} is named as the {naming.word} of {naming.of} and is recorded as {wrong.value}",
            expected=f"a {naming.word} that is {'female' if naming.as_dam else 'male'}, or of unknown sex",
            remedy="exchange dam and sire here, or correct the sex in the other record",
            others=[spots.of_animal(parent, "sex")],
        )


def _check_both(first: Parent, second: Parent, parent: Animal, report: Report) -> None:
    """One animal as dam and as sire: impossible in one litter, and to be looked at in two."""
    if parent.sex is not Sex.UNKNOWN:
        return
    report.tell(
        Level.ERROR if first.of == second.of else Level.NOTICE,
        Kind.SEX_CLASH,
        second.place,
        f"{parent.id} is named as the {second.word} of {second.of} and as the {first.word} of {first.of}",
        expected="an animal that is either dam or sire",
        remedy="correct one of the two, and write the sex of the animal",
        others=(first.place,),
    )


def _check_species(naming: Parent, parent: Animal, report: Report) -> None:
    if parent.species and naming.species and parent.species != naming.species:
        report.error(
            Kind.SPECIES_CLASH,
            naming.place,
            f"{parent.id}, the {naming.word} of {naming.of}, is a {parent.species}; {naming.of} is {naming.species}",
            expected=f"a parent that is {naming.species}",
            remedy="correct the parent, or the species of one of the two",
            others=(parent.place,),
        )


def _check_cycles(animals: Mapping[AnimalId, Animal], spots: Spots, report: Report) -> None:
    """Each circle in the pedigree once, named as a chain."""
    done: set[AnimalId] = set()
    for start in animals:
        path: dict[AnimalId, Iterator[AnimalId]] = {}
        if start not in done:
            path[start] = _parents(animals[start], animals)
        while path:
            current = next(reversed(path))
            parent = next(path[current], None)
            if parent is None:
                done.add(current)
                del path[current]
            elif parent in path:
                chain = list(path)[list(path).index(parent) :]
                _tell_cycle([animals[one] for one in chain], spots, report)
            elif parent not in done:
                path[parent] = _parents(animals[parent], animals)


def _parents(animal: Animal, animals: Mapping[AnimalId, Animal]) -> Iterator[AnimalId]:
    return iter([parent for parent in dict.fromkeys(parents_of(animal)) if parent in animals])


def _tell_cycle(chain: list[Animal], spots: Spots, report: Report) -> None:
    """The circle in words, pointing at the parents' names of its first animal."""
    pairs = zip(chain, [*chain[1:], chain[0]], strict=True)
    links = [(child, parent, "dam" if child.dam == parent.id else "sire") for child, parent in pairs]
    words = [f"{child.id} is a young of {parent.id}" for child, parent, _ in links]
    places = [spots.of_animal(child, word) for child, _, word in links]
    report.error(
        Kind.PEDIGREE_CYCLE,
        places[0],
        f"{chain[0].id} is its own ancestor: {', '.join(words)}",
        expected="parents that are older than their young",
        remedy="correct the parents in one of these records",
        others=places[1:],
    )


def check_projects(
    projects: Mapping[str, Project],
    animals: Mapping[AnimalId, Animal],
    litters: Mapping[str, Litter],
    spots: Spots,
    report: Report,
) -> None:
    """Tells parents of a stage that cannot be its parents, and litters and kept young that are not of it."""
    for project in projects.values():
        for stages in (project.stages, *(route.stages for route in project.alternatives)):
            kept = {f"{stage.id}.{holdback.id}": holdback for stage in stages for holdback in stage.holdbacks}
            for stage in stages:
                _check_stage(stage, kept, project, animals, spots, report)
                for holdback in stage.holdbacks:
                    _check_kept(stage, holdback, project, animals, spots, report)
                for litter in stage.litters:
                    if litter in litters:
                        _check_litter(stage, litters[litter], kept, animals, report)


def _stage_parents(stage: Stage) -> Iterator[tuple[str, str, Sex, Place]]:
    """Dam and sire of a stage: the word, the name, the sex, where."""
    yield "dam", stage.dam, Sex.FEMALE, stage.dam_place or stage.place
    yield "sire", stage.sire, Sex.MALE, stage.sire_place or stage.place


def _other(sex: Sex) -> Sex:
    return Sex.MALE if sex is Sex.FEMALE else Sex.FEMALE


def _check_stage(
    stage: Stage,
    kept: Mapping[str, Holdback],
    project: Project,
    animals: Mapping[AnimalId, Animal],
    spots: Spots,
    report: Report,
) -> None:
    for word, name, sex, place in _stage_parents(stage):
        animal = animals.get(name)
        if animal is not None:
            _check_stage_sex(animal, f"the {word} of stage {stage.id}", sex, place, spots, report)
            _check_stage_species(animal, f"the {word} of stage {stage.id}", project, place, report)
        elif name in kept and kept[name].sex == _other(sex).value:
            report.error(
                Kind.SEX_CLASH,
                place,
                f"{name} is named as the {word} of stage {stage.id}, and {kept[name].sex}s are kept there",
                expected=f"young of which {sex.value}s are kept",
                remedy="exchange dam and sire here, or correct the sex where they are kept",
                others=(kept[name].place,),
            )
    if stage.dam == stage.sire and stage.dam in animals:
        report.error(
            Kind.PARENTS_CLASH,
            stage.sire_place or stage.place,
            f"{stage.dam} is named as dam and as sire of stage {stage.id}",
            expected="two animals",
            remedy="correct one of the two",
        )


def _check_kept(
    stage: Stage,
    holdback: Holdback,
    project: Project,
    animals: Mapping[AnimalId, Animal],
    spots: Spots,
    report: Report,
) -> None:
    """Those that were kept are of the species and sex, and were born in a litter of the stage."""
    for name in holdback.animals:
        animal = animals.get(name)
        if animal is None:
            continue
        what = f"kept as {stage.id}.{holdback.id}"
        _check_stage_species(animal, what, project, holdback.place, report)
        if holdback.sex:
            _check_stage_sex(animal, what, Sex(holdback.sex), holdback.place, spots, report)
        descends = bool(animal.litter or animal.dam or animal.sires)
        if descends and animal.litter not in stage.litters:
            report.notice(
                Kind.PARENTS_CLASH,
                holdback.place,
                f"{animal.id} is {what} and was not born in a litter of that stage",
                expected=f"a young of {', '.join(stage.litters)}" if stage.litters else "litters: those of the stage",
                remedy="add its litter under litters, or keep it under the stage it comes from",
                others=(animal.place,),
            )


def _check_stage_sex(animal: Animal, what: str, sex: Sex, place: Place, spots: Spots, report: Report) -> None:
    if animal.sex is _other(sex):
        report.error(
            Kind.SEX_CLASH,
            place,
            f"{animal.id} is {what} and is recorded as {animal.sex.value}",
            expected=f"an animal that is {sex.value}, or of unknown sex",
            remedy="name another animal, or correct the sex in one of the two records",
            others=[spots.of_animal(animal, "sex")],
        )


def _check_stage_species(animal: Animal, what: str, project: Project, place: Place, report: Report) -> None:
    if animal.species != project.species:
        report.error(
            Kind.SPECIES_CLASH,
            place,
            f"{animal.id} is {what} and is a {animal.species}; the project {project.id} is {project.species}",
            expected=f"an animal that is {project.species}",
            remedy="name another animal, or correct the species of one of the two",
            others=(animal.place,),
        )


def _check_litter(
    stage: Stage,
    litter: Litter,
    kept: Mapping[str, Holdback],
    animals: Mapping[AnimalId, Animal],
    report: Report,
) -> None:
    """The parents of a litter are those of its stage."""
    recorded = {"dam": (litter.dam,) if litter.dam else (), "sire": tuple(sire for sire, _ in litter.sires)}
    for word, name, _, place in _stage_parents(stage):
        meant = (name,) if name in animals else kept[name].animals if name in kept else ()
        if recorded[word] and not set(meant) & set(recorded[word]):
            written = " or ".join(recorded[word])
            report.error(
                Kind.PARENTS_CLASH,
                place,
                f"{litter.id} is said to be a litter of stage {stage.id}, and its {word} is {written}, not {name}",
                expected=f"{name} with {written} under its animals" if name in kept else f"{word}: {written}",
                remedy=f"name {written} under animals, where it was kept"
                if name in kept
                else f"correct the {word}, or take the litter out of the stage",
                others=(litter.place,),
            )
