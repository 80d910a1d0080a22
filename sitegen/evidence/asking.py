"""The evidence, and what heredity answers to it: asked once, and kept for everything that asks further."""

from collections.abc import Collection, Hashable, Mapping
from dataclasses import dataclass, field

from sitegen.evidence.gathered import Evidence, Unit
from sitegen.genetics.network import ENTRIES_LIMIT, answer_all
from sitegen.genetics.network import Answers as Heredity
from sitegen.genetics.questions import AnimalId, Impossible, Posterior, TooTangled
from sitegen.genetics.transmission import Transmission


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """The evidence and the solved networks.

    Attributes:
        evidence: What was asked.
        heredity: For each of ``evidence.units``, in the same order, what came back.
        by_locus: (species, locus) to the number of its unit.
        transmissions: For each unit, what its pairs pass on; made anew for each mode.
        memory: Whatever was worked out from all this and may be asked again.
    """

    evidence: Evidence
    heredity: tuple[Heredity, ...]
    by_locus: Mapping[tuple[str, str], int]
    transmissions: tuple[Transmission, ...]
    memory: dict[Hashable, object] = field(default_factory=dict)

    def of(self, animal: AnimalId, locus: str) -> Posterior | Impossible | TooTangled:
        """The posterior of an animal at a locus of its species, or why there is none.

        Raises:
            KeyError: There is no such animal, or its species has no such locus.
        """
        return self.at(animal, locus).of(animal, locus)

    def at(self, animal: AnimalId, locus: str) -> Heredity:
        """The solved network of the animal's species that holds the locus.

        Raises:
            KeyError: There is no such animal, or its species has no such locus.
        """
        return self.heredity[self.by_locus[self.evidence.collection.animals[animal].species, locus]]

    def of_species(self, species: str) -> tuple[tuple[Unit, Heredity], ...]:
        """The units of a species with their answers."""
        both = zip(self.evidence.units, self.heredity, strict=True)
        return tuple((unit, heredity) for unit, heredity in both if unit.species == species)


def ask(
    evidence: Evidence,
    limit: int = ENTRIES_LIMIT,
    before: Asked | None = None,
    unchanged: Collection[str] = (),
) -> Asked:
    """Everything that heredity has to say to the evidence; loci of one species share their litters' sires.

    Args:
        evidence: What is known.
        limit: Most table entries of one connected piece of a network; beyond it there is no answer.
        before: Answers from before, asked with the same limit.
        unchanged: Species whose evidence is the same as it was then; they are not asked again.
    """
    answered: list[Heredity] = []
    for species in evidence.collection.species:
        if before is not None and species in unchanged:
            answered += [heredity for _, heredity in before.of_species(species)]
        else:
            answered += answer_all([unit.question for unit in evidence.units if unit.species == species], limit)
    numbers = {(unit.species, locus): rank for rank, unit in enumerate(evidence.units) for locus in unit.loci}
    transmissions = tuple(Transmission(heredity.mode) for heredity in answered)
    return Asked(evidence, tuple(answered), numbers, transmissions)
