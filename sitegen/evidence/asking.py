"""The evidence, and what heredity answers to it: asked once, and kept for everything that asks further."""

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass, field

from sitegen.evidence.gathered import Evidence, Unit
from sitegen.genetics.network import ENTRIES_LIMIT, answer_all
from sitegen.genetics.network import Answers as Heredity
from sitegen.genetics.questions import AnimalId, Impossible, Member, Posterior, Tally, TooTangled
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
        return tuple((unit, heredity) for unit, heredity in self.units() if unit.species == species)

    def units(self) -> Iterator[tuple[Unit, Heredity]]:
        """All units with their answers."""
        return zip(self.evidence.units, self.heredity, strict=True)


def ask(evidence: Evidence, limit: int = ENTRIES_LIMIT) -> Asked:
    """Everything that heredity has to say to the evidence.

    Where a litter has several possible sires, all loci of the species are asked together, since they share which it
    was; elsewhere each locus or linked group is asked by itself.

    Args:
        evidence: What is known.
        limit: Most table entries of one connected piece of a network; beyond it there is no answer.
    """
    answered: list[Heredity] = []
    for species in evidence.collection.species:
        questions = [unit.question for unit in evidence.units_of(species)]
        together = [questions] if shares_sires(evidence, species) else [[question] for question in questions]
        answered += [heredity for each in together for heredity in answer_all(each, limit)]
    numbers = {(unit.species, locus): rank for rank, unit in enumerate(evidence.units) for locus in unit.loci}
    transmissions = tuple(Transmission(heredity.mode) for heredity in answered)
    return Asked(evidence, tuple(answered), numbers, transmissions)


def shares_sires(evidence: Evidence, species: str) -> bool:
    """True when young of a species have several possible sires."""
    young: list[Member | Tally] = [*evidence.members.get(species, ())]
    young += [tally for (own, _), at in evidence.loci.items() if own == species for tally in at.question.tallies]
    return any(len(each.sires) > 1 for each in young)
