"""The evidence, and what heredity answers to it: asked once, and kept for everything that asks further."""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import cast

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter
from sitegen.evidence.gathered import Evidence, LocusGroup
from sitegen.genetics.network import ENTRIES_LIMIT, Heredity, answer_all
from sitegen.genetics.questions import AnimalId, Impossible, Member, Posterior, Tally, TooTangled
from sitegen.genetics.transmission import Transmission


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """The evidence and the solved networks.

    Attributes:
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

    def posterior(self, animal: AnimalId, locus: str) -> Posterior:
        """The same; empty where there is none."""
        found = self.of(animal, locus)
        return {} if isinstance(found, Impossible | TooTangled) else found

    def at(self, animal: AnimalId, locus: str) -> Heredity:
        """The solved network of the animal's species that holds the locus.

        Raises:
            KeyError: There is no such animal, or its species has no such locus.
        """
        return self.heredity[self.by_locus[self.evidence.collection.animals[animal].species, locus]]

    def of_species(self, species: str) -> tuple[tuple[LocusGroup, Heredity], ...]:
        """The units of a species with their answers."""
        answered = zip(self.evidence.units, self.heredity, strict=True)
        return tuple((unit, heredity) for unit, heredity in answered if unit.species == species)


def ask(evidence: Evidence, limit: int = ENTRIES_LIMIT, rare: Fraction | None = None) -> Asked:
    """Everything that heredity has to say to the evidence.

    Where a litter has several possible sires, all loci of the species are asked together, since they share which it
    was; elsewhere each locus or linked group is asked by itself. ``limit`` and ``rare`` as of
    :func:`sitegen.genetics.network.answer_all`.
    """
    answered: list[Heredity] = []
    for species in evidence.collection.species:
        questions = [unit.question for unit in evidence.units_of(species)]
        young: list[Member | Tally] = [*evidence.members[species]]
        young += [tally for (own, _), at in evidence.loci.items() if own == species for tally in at.question.tallies]
        shared = any(len(each.sires) > 1 for each in young)
        together = [questions] if shared else [[question] for question in questions]
        answered += [heredity for each in together for heredity in answer_all(each, limit, rare)]
    numbers = {(unit.species, locus): rank for rank, unit in enumerate(evidence.units) for locus in unit.loci}
    transmissions = tuple(Transmission(heredity.mode) for heredity in answered)
    return Asked(evidence, tuple(answered), numbers, transmissions)


def sires_of(asked: Asked) -> dict[str, Mapping[AnimalId, Fraction]]:
    """Litter, or young with a sire of its own, to the chance of each of its possible sires."""
    collection = asked.evidence.collection
    litters = [each for each in collection.litters.values() if not each.each_its_own_sire]
    alone = [each for each in collection.animals.values() if each.each_its_own_sire or not each.litter]
    bred: list[Animal | Litter] = [*litters, *alone]
    return {young.id: odds for young in bred if len(young.sires) > 1 and (odds := _sire_of(asked, young))}


def _sire_of(asked: Asked, young: Animal | Litter) -> Mapping[AnimalId, Fraction]:
    """The answer; what is written where no evidence speaks of it; empty where no answer is sound."""
    odds: Mapping[AnimalId, Fraction] = dict(young.sires)
    for _, heredity in asked.of_species(young.species):
        try:
            found = heredity.sires(young.id)
        except KeyError:  # nothing at this locus hangs on the choice
            continue
        if not isinstance(found, Impossible | TooTangled):
            return found
        odds = {}
    return odds


def members_with_sires(asked: Asked, species: str) -> tuple[Member, ...]:
    """The members of a species, those for unrecorded parents last, each possible sire with its chance; found once."""
    key = (members_with_sires, species)
    if key not in asked.memory:
        sires = sires_of(asked)

        def known(member: Member) -> Member:
            found = sires.get(member.litter if member.litter and not member.each_its_own_sire else member.id)
            return replace(member, sires=tuple(found.items())) if found and len(member.sires) > 1 else member

        unnamed = asked.evidence.unrecorded[species]
        asked.memory[key] = (*map(known, asked.evidence.members[species]), *unnamed)
    return cast("tuple[Member, ...]", asked.memory[key])
