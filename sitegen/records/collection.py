"""Everything the breeder wrote, bound and cross-checked."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from sitegen.genetics.questions import AnimalId, parents_of
from sitegen.records.animals import Animal
from sitegen.records.litters import Litter
from sitegen.records.projects import Project
from sitegen.records.site import FreePage, Site
from sitegen.records.species import Species
from sitegen.records.texts import FreeText, Review
from sitegen.records.values import PartialDate


@dataclass(frozen=True, slots=True)
class Collection:
    """The bound records; every reference in them is known to exist. All maps are in record order (sorted by id).

    ``animals`` holds the animals with a folder of their own and every listed young; a promoted young
    stands once, under the animal's id. ``texts`` is everything that is published in the breeder's own words, and
    ``reviews`` what is marked there as right although the audit asks about it.
    """

    site: Site
    species: Mapping[str, Species]
    animals: Mapping[AnimalId, Animal]
    litters: Mapping[str, Litter]
    projects: Mapping[str, Project]
    pages: Mapping[str, FreePage]
    texts: tuple[FreeText, ...] = ()
    reviews: tuple[Review, ...] = ()
    _bred: dict[AnimalId, tuple[Litter, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)

    def birth_of(self, animal: Animal) -> PartialDate | None:
        """The date of birth, the litter's where the animal's own record has none."""
        litter = self.litters.get(animal.litter)
        return animal.born or (litter.born if litter else None)

    def bred_by(self, animal: AnimalId) -> tuple[Litter, ...]:
        """The litters of which an animal is, or may be, a parent, in record order."""
        if not self._bred and self.litters:
            self._bred[""] = ()  # looked through once, also where no litter names a parent
            for litter in self.litters.values():
                for parent in dict.fromkeys(parents_of(litter)):
                    self._bred[parent] = (*self._bred.get(parent, ()), litter)
        return self._bred.get(animal, ())
