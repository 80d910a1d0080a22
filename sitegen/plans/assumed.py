"""What a plan takes for granted of a species: each figure, and where it comes from. Data, no sentence."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Generic, TypeVar

from sitegen.content.collection import Collection
from sitegen.content.projects import Project
from sitegen.content.species import LitterSize, Species
from sitegen.genetics.loci import Sex
from sitegen.plans.seasons import BreedingYear, breeding_year

T = TypeVar("T")


class Known(StrEnum):
    """How a figure is known: by the species file, by the plan's own record, by litters on record; or taken instead."""

    WRITTEN = "written"
    PROJECT = "project"
    LITTERS = "litters"
    TAKEN = "taken"


@dataclass(frozen=True, slots=True)
class Figure(Generic[T]):
    """A figure as plans use it; ``source`` is that of the species file, empty where it names none."""

    value: T
    known: Known
    source: str = ""


@dataclass(frozen=True, slots=True)
class TakenForGranted:
    """The figures that plans use of a species.

    Attributes:
        months: Of pairing and of birth; where nobody wrote them, those of the keeper's litters, else March and July.
        takes: Share of pairings that give a litter; else 1.
        rest: Seasons in which a dam rests after a litter; else 0.
        rest_after_failure: The same after a pairing of which she was not gravid; else 0.
        litters_a_year: Litters of a dam in a season; else 1.
        litter_size: Living young of a litter; else 4, 10, 20.
        ages: From how many months on a sex is paired; a sex that is missing has no bound.
    """

    months: Figure[BreedingYear]
    takes: Figure[Fraction]
    rest: Figure[int]
    rest_after_failure: Figure[int]
    litters_a_year: Figure[int]
    litter_size: Figure[LitterSize]
    ages: Figure[Mapping[Sex, int]]


def taken_for_granted(species: Species, collection: Collection, project: Project | None = None) -> TakenForGranted:
    """Each figure that plans use of a species of the collection, with where it comes from.

    Args:
        species: The species.
        collection: Its litters tell the months where the species file does not.
        project: A plan, whose record may ask for another rest.
    """

    def figure(key: str, value: T, otherwise: Known = Known.TAKEN) -> Figure[T]:
        source = species.written.get(key)
        return Figure(value, otherwise) if source is None else Figure(value, Known.WRITTEN, source)

    year, asked = breeding_year(collection, species), project.rest if project else None
    return TakenForGranted(
        months=figure("breeding_season", year, Known.TAKEN if year.assumed else Known.LITTERS),
        takes=figure("takes", species.takes),
        rest=figure("rest", species.rest) if asked is None else Figure(asked, Known.PROJECT),
        rest_after_failure=figure("rest_after_failure", species.rest_after_failure),
        litters_a_year=figure("litters_a_year", species.litters_a_year),
        litter_size=figure("litter_size", species.litter_size),
        ages=figure("breeding_age", species.breeding_age_months),
    )
