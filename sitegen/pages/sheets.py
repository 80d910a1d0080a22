"""What of an animal's record few pages tell, and is kept apart from the records that all pages ask for.

A breeder's most frequent changes are a weight, a meal and a price. No other animal's page tells of them; weights and
meals stand on no list either. So a build takes them away from the records: pages that tell of none are not made again
for one.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from sitegen.frozen import dataclass
from sitegen.genetics.questions import AnimalId
from sitegen.records.animals import Animal, Meal
from sitegen.records.values import PartialDate, Weighing


@dataclass(frozen=True, slots=True)
class Sheet:
    """The part of one animal's record that only its own page and papers tell, as there."""

    weights: tuple[Weighing, ...]
    meals: tuple[Meal, ...]
    about: str

    def dates(self) -> Iterator[PartialDate]:
        """Every day of which it speaks."""
        yield from (weighing.date for weighing in self.weights)
        yield from (meal.date for meal in self.meals)


def sheets_of(animals: Iterable[Animal]) -> dict[AnimalId, Sheet]:
    """Animal to its sheet."""
    return {animal.id: Sheet(animal.weights, animal.meals, animal.about) for animal in animals}


def without_sheets(animals: Mapping[AnimalId, Animal]) -> dict[AnimalId, Animal]:
    """The records without what stands on sheets and in offers: a page that looks for it there finds nothing."""
    bare: dict[AnimalId, Animal] = {}
    for each, animal in animals.items():
        offer = replace(animal.offer, price=None, ready=None) if animal.offer else None
        bare[each] = replace(animal, weights=(), meals=(), about="", offer=offer)
    return bare
