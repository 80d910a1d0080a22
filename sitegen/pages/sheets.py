"""What of an animal's record few pages tell, and is kept apart from the records that all pages ask for.

A breeder's most frequent changes are a weight, a meal and a price. No other animal's page tells of them; weights and
meals stand on no list either. So a build takes them away from the records: pages that tell of none are not made again
for one.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

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


_EMPTY = Sheet((), (), "")


def sheets_of(animals: Iterable[Animal]) -> dict[AnimalId, Sheet]:
    """Animal to its sheet; all that have nothing on theirs share one."""
    return {
        animal.id: Sheet(animal.weights, animal.meals, animal.about) if _has_sheet(animal) else _EMPTY
        for animal in animals
    }


def _has_sheet(animal: Animal) -> bool:
    return bool(animal.weights or animal.meals or animal.about)


def without_sheets(animals: Mapping[AnimalId, Animal]) -> dict[AnimalId, Animal]:
    """The records without what stands on sheets and in offers: a page that looks for it there finds nothing."""
    return {each: _bare(animal) for each, animal in animals.items()}


def _bare(animal: Animal) -> Animal:
    offer = animal.offer
    if offer is not None and (offer.price is not None or offer.ready is not None):
        offer = replace(offer, price=None, ready=None)
    elif not _has_sheet(animal):
        return animal
    return replace(animal, weights=(), meals=(), about="", offer=offer)
