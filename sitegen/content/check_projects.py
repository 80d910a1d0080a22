"""Cross-checks of projects: parents and kept young of every stage, and the litters that are said to be of it."""

from collections.abc import Iterator, Mapping

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.projects import Holdback, Project, Stage
from sitegen.content.report import Report
from sitegen.content.spots import Spots, place_of
from sitegen.findings import Kind, Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId


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
            kept = {f"{stage.id}.{holdback.id}": holdback for stage in stages for holdback in stage.keep}
            for stage in stages:
                _check_stage(stage, kept, project, animals, spots, report)
                for holdback in stage.keep:
                    _check_kept(stage, holdback, project, animals, spots, report)
                for litter in stage.litters:
                    if litter in litters:
                        _check_litter(stage, litters[litter], kept, animals, report)


def _parents(stage: Stage) -> Iterator[tuple[str, str, Sex, Place]]:
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
    for word, name, sex, place in _parents(stage):
        animal = animals.get(name)
        if animal is not None:
            _check_sex(animal, f"the {word} of stage {stage.id}", sex, place, spots, report)
            _check_species(animal, f"the {word} of stage {stage.id}", project, place, report)
        elif name in kept and kept[name].sex == _other(sex).value:
            report.error(
                Kind.SEX_CLASH,
                place,
                f"{name} is named as the {word} of stage {stage.id}, and {kept[name].sex}s are kept there",
                expected=f"young of which {sex.value}s are kept",
                remedy="exchange dam and sire here, or correct the sex under keep",
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
        _check_species(animal, what, project, holdback.place, report)
        if holdback.sex:
            _check_sex(animal, what, Sex(holdback.sex), holdback.place, spots, report)
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


def _check_sex(animal: Animal, what: str, sex: Sex, place: Place, spots: Spots, report: Report) -> None:
    if animal.sex is _other(sex):
        report.error(
            Kind.SEX_CLASH,
            place,
            f"{animal.id} is {what} and is recorded as {animal.sex.value}",
            expected=f"an animal that is {sex.value}, or of unknown sex",
            remedy="name another animal, or correct the sex in one of the two records",
            others=(place_of(spots.of_animal(animal, "sex")),),
        )


def _check_species(animal: Animal, what: str, project: Project, place: Place, report: Report) -> None:
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
    for word, name, _, place in _parents(stage):
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
