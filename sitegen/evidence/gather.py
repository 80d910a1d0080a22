"""From records to questions: all evidence of a collection, sorted by locus, each piece with its record.

- A locus that is not under ``shows`` was looked for and not seen, unless it was unsure, hidden by what the
  animal shows, or the animal was too young. A record without ``shows`` judged nothing.
- An animal without any recorded parent is a founder and has odds of its own; see
  :mod:`sitegen.evidence.founders`. An animal with a recorded parent has its odds from the parents, and
  what is stated of it is told as not used: it would count the parents' statements twice.
"""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.content.species import Species
from sitegen.evidence.by_record import Reader, is_founder, phases_of
from sitegen.evidence.gathered import Counted, Evidence, LocusEvidence, Said, Source, Unit
from sitegen.evidence.saying import name_of
from sitegen.findings import Finding, Kind, Level
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Member, Observation, Question

__all__ = ["gather", "is_founder", "members_of", "not_used", "young_of"]


def gather(collection: Collection, loci: AbstractSet[str] | None = None) -> Evidence:
    """All evidence of the collection, by species and locus, with notices of what is not used.

    Args:
        collection: The records.
        loci: Ids of the loci of which somebody asks; others are left out, but for those that are linked to one of
            them. All if not given.
    """
    gathering = [_Gathering(collection, species, loci) for species in collection.species.values()]
    return Evidence(
        collection,
        {(each.species.id, locus): at for each in gathering for locus, at in each.loci.items()},
        tuple(unit for each in gathering for unit in each.units()),
        young_of(collection),
        tuple(not_used(collection)),
        {each.species.id: each.members for each in gathering},
    )


def young_of(collection: Collection) -> Mapping[AnimalId, tuple[AnimalId, ...]]:
    """Animal to its listed young, every possible parent counted, in record order."""
    young: dict[AnimalId, tuple[AnimalId, ...]] = {}
    for animal in collection.animals.values():
        for parent in dict.fromkeys(([animal.dam] if animal.dam else []) + [sire for sire, _ in animal.sires]):
            young[parent] = (*young.get(parent, ()), animal.id)
    return young


def members_of(collection: Collection, species: str) -> tuple[Member, ...]:
    """The animals of a species as members of one pedigree, in record order.

    A parent whose sex is not recorded has the sex that it must have had.
    """
    animals = [animal for animal in collection.animals.values() if animal.species == species]
    sexes = {animal.id: animal.sex for animal in animals}
    bred: list[Animal | Litter] = [*animals, *collection.litters.values()]
    for young in bred:
        used = [(young.dam, Sex.FEMALE), *((sire, Sex.MALE) for sire, _ in young.sires)]
        sexes.update({parent: sex for parent, sex in used if parent and sexes.get(parent) is Sex.UNKNOWN})
    return tuple(
        Member(animal.id, sexes[animal.id], animal.dam, animal.sires, animal.litter, animal.each_its_own_sire)
        for animal in animals
    )


def not_used(collection: Collection) -> Iterator[Finding]:
    """A notice for each statement that is no evidence, because the animal's parents are recorded."""
    for animal in collection.animals.values():
        if is_founder(animal):
            continue
        for genes in animal.genes:
            for entry in genes.stated:
                yield Finding(
                    Level.NOTICE,
                    Kind.VALUE_WRONG,
                    entry.place,
                    f"what is stated of {name_of(animal)} for {entry.locus} is not used: its parents are recorded",
                    remedy="state it of the parents, where it came from, or take their names out of this record",
                )


class _Gathering:
    """Gathers the evidence of one species."""

    def __init__(self, collection: Collection, species: Species, wanted: AbstractSet[str] | None) -> None:
        self.species = species
        self.linked = {locus: linkage for linkage in species.genome.linkages for locus in linkage.loci}
        self.members = members_of(collection, species.id)
        reader = Reader(species)
        animals = {member.id: collection.animals[member.id] for member in self.members}
        self.phases = {name: lines for name, animal in animals.items() if (lines := phases_of(animal))}
        said = {
            member.id: reader.said(animals[member.id], member.sex, reader.ages(collection, animals[member.id]))
            for member in self.members
        }
        counted = [
            reader.counted(litter, rank, others)
            for litter in collection.litters.values()
            if litter.species == species.id
            for rank, others in enumerate(litter.others)
        ]
        self.loci = {
            locus.id: self._at(
                locus,
                {animal: each[rank] for animal, each in said.items()},
                [by_locus[locus.id] for by_locus in counted if locus.id in by_locus],
            )
            for rank, locus in enumerate(species.genome.loci)
            if wanted is None or not wanted.isdisjoint(self._asked_with(locus.id))
        }

    def _asked_with(self, locus: str) -> tuple[str, ...]:
        return self.linked[locus].loci if locus in self.linked else (locus,)

    def _at(self, locus: Locus, said: Mapping[AnimalId, Said], counted: Sequence[Counted]) -> LocusEvidence:
        """What is known at a locus."""
        observations: list[Observation] = []
        sources: dict[str, Source] = {}
        for each in said.values():
            observations += each.observations
            sources.update((seen.key, source) for seen, source in zip(each.observations, each.sources, strict=True))
        sources.update((each.tally.key, each.source) for each in counted)
        founders = {animal: each.odds for animal, each in said.items() if each.odds}
        priors = {animal: odds.prior for animal, odds in founders.items() if odds.prior is not None}
        tallies = tuple(each.tally for each in counted)
        question = Question(locus, self.members, priors, tuple(observations), tallies)
        named = {animal: odds.source for animal, odds in founders.items()}
        return LocusEvidence(self.species.id, question, sources, named, said)

    def units(self) -> Iterator[Unit]:
        """What is asked together: each linked group, and each locus that is in none."""
        for locus, at in self.loci.items():
            linkage = self.linked.get(locus)
            if linkage is None:
                yield Unit(self.species.id, (locus,), at.question)
            elif linkage.loci[0] == locus:
                questions = tuple(self.loci[each].question for each in linkage.loci)
                yield Unit(self.species.id, linkage.loci, LinkedQuestion(linkage, questions, self.phases))
