"""What a plan takes for granted of a species: each figure, and where it comes from. Data, no sentence."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from sitegen.content.breeding_years import breeding_year
from sitegen.content.collection import Collection
from sitegen.content.projects import Project
from sitegen.content.species import Learned, Species


class Known(StrEnum):
    """How a figure is known: by the species file, by the plan's own record, by litters on record; or taken instead."""

    WRITTEN = "written"
    PROJECT = "project"
    LITTERS = "litters"
    TAKEN = "taken"


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure as plans use it; ``source`` is that of the species file, empty where it names none.

    ``learned`` is what own litters have changed of it, None where they have not.
    """

    value: Any
    known: Known
    source: str = ""
    learned: Learned | None = None


Granted = Mapping[str, Figure]
"""The figures that plans use, by their keys in a species file, with values as a :class:`Species` holds them.

``breeding_season`` is a :class:`BreedingYear`: where nobody wrote it that of the keeper's litters, else March and July.
What else nobody wrote is taken as takes 1, litters_a_year 1, litter_size 4, 10, 20, no rest and no bound of age.
"""


def taken_for_granted(species: Species, collection: Collection, project: Project | None = None) -> Granted:
    """Each figure that plans use of a species of the collection, with where it comes from.

    Args:
        species: The species.
        collection: Its litters tell the months where the species file does not.
        project: A plan, whose record may ask for another rest.
    """
    year = breeding_year(collection, species)
    values = {
        "takes": species.takes,
        "litters_a_year": species.litters_a_year,
        "litter_size": species.litter_size,
        "breeding_season": year,
        "rest": species.rest,
        "rest_after_failure": species.rest_after_failure,
        "breeding_age": species.breeding_age_months,
    }
    unwritten = {"breeding_season": Known.TAKEN if year.assumed else Known.LITTERS}
    found = {
        key: Figure(value, Known.WRITTEN, species.written[key], species.learned.get(key))
        if key in species.written
        else Figure(value, unwritten.get(key, Known.TAKEN), learned=species.learned.get(key))
        for key, value in values.items()
    }
    if project and project.rest is not None:
        found["rest"] = Figure(project.rest, Known.PROJECT)
    return found
