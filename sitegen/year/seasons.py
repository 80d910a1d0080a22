"""A season beside what could be said of it before: pairings that took, young, and days on which they came."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.content.breeding_years import seasons_by_litter
from sitegen.content.collection import Collection
from sitegen.content.learned import ENOUGH, Outcomes, learned, mean_size, outcomes_of
from sitegen.content.litters import Litter, living_young
from sitegen.content.species import Species
from sitegen.content.starts import known_day
from sitegen.genetics.questions import AnimalId
from sitegen.year.due import Window, young_due


@dataclass(frozen=True, slots=True)
class Season:
    """The litters of a species in a season.

    Attributes:
        species: With the figures that litters up to this season teach.
        litters: In record order.
        own: What came of those that ended.
        took, young: How many pairings were to take, and how many young the litters that came were to have, by the
            figures of the species file and the litters of earlier seasons.
        foretold: For each litter that came on a known day the last window before it.
        hatched, eggs: Of the clutches up to this season whose eggs were counted.
        by_dam: What came of the pairings of each dam that has enough of them.
    """

    species: Species
    litters: tuple[Litter, ...]
    own: Outcomes
    took: Fraction
    young: Fraction
    foretold: Mapping[str, Window]
    hatched: int
    eggs: int
    by_dam: Mapping[AnimalId, Outcomes]

    def came_within(self) -> int:
        """How many of the windows held."""
        days = {each.id: known_day(each.born) for each in self.litters}
        return sum(each.first <= day <= each.last for key, each in self.foretold.items() if (day := days[key]))


def season_of(collection: Collection, year: int) -> Iterator[Season]:
    """A season of each species that has a litter in it, in record order."""
    of = seasons_by_litter(collection)
    for species in collection.species.values():
        every = [each for each in collection.litters.values() if each.species == species.id]
        litters = tuple(each for each in every if of[each.id] == year)
        if litters:
            known = {late: [each for each in every if (of[each.id] or year + 1) < year + late] for late in (0, 1)}
            yield _season(collection, species, litters, known[0], known[1])


def _season(
    collection: Collection, species: Species, litters: tuple[Litter, ...], before: list[Litter], so_far: list[Litter]
) -> Season:
    plain = replace(species, learned={}, **{key: each.usual for key, each in species.learned.items()})
    then, own = learned(plain, before), outcomes_of(litters)
    born = ((each, known_day(each.born)) for each in litters)
    windows = ((each.id, young_due(each, collection)) for each, day in born if day)
    counted = [each for each in so_far if each.eggs and each.born]
    dams: dict[AnimalId, list[Litter]] = {}
    for each in so_far:
        dams.setdefault(each.dam or "", []).append(each)
    by_dam = {dam: outcomes_of(hers) for dam, hers in dams.items() if dam}
    return Season(
        learned(plain, so_far), litters, own,
        took=own.pairings * then.takes,
        young=len(own.sizes) * mean_size(then.litter_size),
        foretold={key: window for key, window in windows if window},
        hatched=sum(living_young(each) for each in counted), eggs=sum(each.eggs or 0 for each in counted),
        by_dam={dam: each for dam, each in by_dam.items() if each.pairings >= ENOUGH},
    )  # fmt: skip
