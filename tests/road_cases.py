"""Small projects made in code, for tests of roads."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from by_hand import SNAKE, collection, species

from sitegen.content.projects import Goal, Holdback, Project, Stage
from sitegen.content.species import BreedingSeason, Species
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.findings import Place
from sitegen.genetics.loci import Locus, Sex, SexSystem

NOWHERE = Place("projects/p/project.yaml", 1, 1)
MONTHS = {1: 8, 2: 20}
"""Seasons until an animal breeds, to months: paired in March, born in July."""


def snake(
    *loci: Locus,
    sizes: tuple[int, int, int] = (1, 1, 2),
    a_year: int = 1,
    takes: Fraction = Fraction(1),
    rest: int = 0,
    grown: Mapping[str, int] | None = None,
    sexes: SexSystem = SexSystem.UNKNOWN,
    **more: object,
) -> Species:
    """A species paired in March and born in July."""
    ages = {Sex(sex): MONTHS[seasons] for sex, seasons in (grown or {"female": 1, "male": 1}).items()}
    return replace(
        species(*loci, sizes=sizes, sexes=sexes, **more),  # type: ignore[arg-type]
        litters_a_year=a_year, takes=takes, rest=rest, breeding_age_months=ages,
        breeding_season=BreedingSeason(3, 7),
    )  # fmt: skip


def keep(
    name: str, shows: str = "", carries: str = "", *, count: int = 1, sex: str = "", animals: tuple[str, ...] = ()
) -> Holdback:
    return Holdback(name, tuple(shows.split()), tuple(carries.split()), count, sex, animals, NOWHERE)


def stage(
    name: str, season: int, dam: str, sire: str, *kept: Holdback, tries: int | None = None, litters: str = ""
) -> Stage:
    return Stage(name, season, dam, sire, tuple(litters.split()), kept, NOWHERE, tries=tries)


def project(*stages: Stage, shows: str = "", carries: str = "", horizon: int | None = None, **more: object) -> Project:
    goal = Goal(tuple(shows.split()), tuple(carries.split()))
    bare = Project("p", "p", SNAKE, goal, stages, "planned", NOWHERE, horizon=horizon)
    return replace(bare, **more)  # type: ignore[arg-type]


def asked_of(*records: object) -> Asked:
    return ask(gather(collection(*records)))  # type: ignore[arg-type]
