"""Everything the breeder wrote, bound and cross-checked."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.content.projects import Project
from sitegen.content.site import FreePage, Site
from sitegen.content.species import Species
from sitegen.content.texts import FreeText, Review
from sitegen.content.values import PartialDate
from sitegen.genetics.questions import AnimalId, parents_of


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
