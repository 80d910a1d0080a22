"""From records to questions: all evidence of a collection, sorted by locus, each piece with its record.

- A locus that is not under ``shows`` was looked for and not seen, unless it was unsure, hidden by what the
  animal shows, or the animal was too young. A record without ``shows`` judged nothing.
- An animal without any recorded parent is a founder and has odds of its own; see
  :mod:`sitegen.evidence.founders`. An animal with a recorded parent has its odds from the parents, and
  what is stated of it is told as not used: it would count the parents' statements twice.
"""

from collections.abc import Iterator, Mapping
from collections.abc import Set as AbstractSet
from operator import is_

from sitegen.evidence.by_record import Reader, is_founder, phases_of, without_lines
from sitegen.evidence.gathered import Counted, Evidence, LocusEvidence, OfAnimal, OfLitter, Said, Source, Unit
from sitegen.evidence.saying import name_of
from sitegen.findings import Finding, Kind, Level
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Member, Observation, Question
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.litters import Litter
from sitegen.records.species import Species

__all__ = ["gather", "is_founder", "members_of", "not_used", "young_of"]


def gather(collection: Collection, before: Evidence | None = None, loci: AbstractSet[str] | None = None) -> Evidence:
    """All evidence of the collection, by species and locus, with notices of what is not used.

    Args:
        collection: The records.
        before: The evidence of an earlier state of them. Where a locus or a linked group has the same evidence now,
            its :class:`Unit` is the very one from before; places in it are those of then.
        loci: Ids of the loci of which somebody asks; others are left out, but for those that are linked to one of
            them. All if not given.
    """
    gathering = [_Gathering.of(collection, species, before, loci) for species in collection.species.values()]
    return Evidence(
        collection,
        {(each.species.id, locus): at for each in gathering for locus, at in each.loci().items()},
        tuple(unit for each in gathering for unit in each.units()),
        young_of(collection),
        tuple(not_used(collection)),
        {each.species.id: each.members for each in gathering},
        {animal: said for each in gathering for animal, said in each.said.items()},
        {litter: counted for each in gathering for litter, counted in each.counted.items()},
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
    """Gathers the evidence of one species; what is as it was before is the very object from before."""

    def __init__(
        self, species: Species, members: tuple[Member, ...], before: Evidence | None, wanted: AbstractSet[str] | None
    ) -> None:
        self.species = species
        self.linked = {locus: linkage for linkage in species.genome.linkages for locus in linkage.loci}
        self.wanted = wanted
        self.members = members
        self.before = before
        self.said: dict[AnimalId, OfAnimal] = {}
        self.counted: dict[str, OfLitter] = {}
        self._loci: dict[str, LocusEvidence] | None = None

    @classmethod
    def of(
        cls, collection: Collection, species: Species, before: Evidence | None, wanted: AbstractSet[str] | None
    ) -> "_Gathering":
        """Reads the records of a species."""
        members = members_of(collection, species.id)
        if before is not None and before.members.get(species.id) == members:
            members = before.members[species.id]
        self, reader = cls(species, members, before, wanted), Reader(species)
        for member in members:
            self.said[member.id] = self._of_animal(collection, reader, collection.animals[member.id], member.sex)
        for litter in collection.litters.values():
            if litter.species == species.id and litter.others:
                self.counted[litter.id] = self._of_litter(reader, litter)
        return self

    def _of_animal(self, collection: Collection, reader: Reader, animal: Animal, sex: Sex) -> OfAnimal:
        known = self.before.said.get(animal.id) if self.before else None
        ages = reader.ages(collection, animal)
        if (
            known
            and known.animal is animal
            and known.species is self.species
            and (known.sex, known.ages) == (sex, ages)
        ):
            return known
        said = reader.said(animal, sex, ages)
        if known and known.species is self.species:
            said = tuple(map(_as_before, known.said, said))
        return OfAnimal(self.species, animal, sex, ages, said)

    def _of_litter(self, reader: Reader, litter: Litter) -> OfLitter:
        known = self.before.counted.get(litter.id) if self.before else None
        if known and known.litter is litter and known.species is self.species:
            return known
        counted: tuple[Mapping[str, Counted], ...] = tuple(
            reader.counted(litter, rank, others) for rank, others in enumerate(litter.others)
        )
        if known and without_lines(known.counted) == without_lines(counted):
            counted = known.counted
        return OfLitter(self.species, litter, counted)

    def loci(self) -> Mapping[str, LocusEvidence]:
        """What is known at each locus."""
        if self._loci is None:
            loci = enumerate(self.species.genome.loci)
            self._loci = {locus.id: self._at(rank, locus) for rank, locus in loci if self._is_wanted(locus.id)}
        return self._loci

    def _is_wanted(self, locus: str) -> bool:
        if self.wanted is None:
            return True
        linkage = self.linked.get(locus)
        return any(each in self.wanted for each in (linkage.loci if linkage else (locus,)))

    def _at(self, rank: int, locus: Locus) -> LocusEvidence:
        said = {animal: each.said[rank] for animal, each in self.said.items()}
        counted = [
            by_locus[locus.id] for each in self.counted.values() for by_locus in each.counted if locus.id in by_locus
        ]
        known = self.before.loci.get((self.species.id, locus.id)) if self.before else None
        if (
            known is not None
            and known.question.members is self.members
            and known.question.locus is locus
            and len(known.said) == len(said)
            and all(map(is_, known.said.values(), said.values()))
            and len(known.question.tallies) == len(counted)
            and all(map(is_, known.question.tallies, (each.tally for each in counted)))
        ):
            return known
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
        before = {unit.loci: unit for unit in self.before.units_of(self.species.id)} if self.before else {}
        for locus in self.loci():
            linkage = self.linked.get(locus)
            question: Question | LinkedQuestion
            if linkage is None:
                loci: tuple[str, ...] = (locus,)
                question = self.loci()[locus].question
            elif linkage.loci[0] == locus:
                loci = linkage.loci
                phases = {name: lines for name, each in self.said.items() if (lines := phases_of(each.animal))}
                question = LinkedQuestion(linkage, tuple(self.loci()[each].question for each in loci), phases)
            else:
                continue
            known = before.get(loci)
            yield known if known and _same(known.question, question) else Unit(self.species.id, loci, question)


def _as_before(known: Said, said: Said) -> Said:
    """The one from before where only the lines differ on which it stands."""
    both = [
        (
            without_lines(each.sources),
            [seen.likelihood for seen in each.observations],
            without_lines(each.odds),
            each.has_word,
        )
        for each in (known, said)
    ]
    return known if both[0] == both[1] else said


def _same(before: Question | LinkedQuestion, now: Question | LinkedQuestion) -> bool:
    if isinstance(before, LinkedQuestion) and isinstance(now, LinkedQuestion):
        same = len(before.questions) == len(now.questions) and all(map(is_, before.questions, now.questions))
        return same and before.linkage == now.linkage and before.phases == now.phases
    return before is now
