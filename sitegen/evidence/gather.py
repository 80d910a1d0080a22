"""From records to questions: all evidence of a collection, sorted by locus, each piece with its record.

- A locus that is not under ``shows`` was looked for and not seen, unless it was unsure, hidden by what the
  animal shows, or the animal was too young. A record without ``shows`` judged nothing.
- An animal without any recorded parent is a founder and has odds of its own; see
  :mod:`sitegen.evidence.founders`. An animal with a recorded parent has its odds from the parents, and
  what is stated of it is told as not used: it would count the parents' statements twice.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.evidence.founders import Odds, Own, founder_odds
from sitegen.evidence.gathered import Evidence, LocusEvidence, Source, Unit
from sitegen.evidence.judging import age_when_judged, unjudged_alleles
from sitegen.evidence.known import Ground
from sitegen.evidence.saying import name_of, seen_says, tally_says, tested_says, unseen_says
from sitegen.findings import Finding, Kind, Level
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.observations import all_genotypes, when_not_seen, when_seen, when_tested
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Member, Observation, Question, Tally
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.genes import Chromosome, Judged
from sitegen.records.litters import Litter, Others
from sitegen.records.species import Species


def gather(collection: Collection) -> Evidence:
    """All evidence of the collection, by species and locus, with notices of what is not used."""
    loci: dict[tuple[str, str], LocusEvidence] = {}
    units: list[Unit] = []
    for species in collection.species.values():
        animals = [animal for animal in collection.animals.values() if animal.species == species.id]
        ages = {
            (animal.id, rank): age_when_judged(collection, animal, genes.judged)
            for animal in animals
            for rank, genes in enumerate(animal.genes)
        }
        members = members_of(collection, species.id)
        for locus in species.genome.loci:
            at = _AtLocus(collection, species, locus, ages, {member.id: member.sex for member in members})
            for animal in animals:
                at.add_animal(animal)
            for litter in collection.litters.values():
                if litter.species == species.id:
                    at.add_others(litter)
            loci[species.id, locus.id] = at.evidence(members)
        units += _units(species, loci, animals)
    return Evidence(collection, loci, tuple(units), _young_of(collection), tuple(not_used(collection)))


def _young_of(collection: Collection) -> Mapping[AnimalId, tuple[AnimalId, ...]]:
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


def _units(
    species: Species, loci: Mapping[tuple[str, str], LocusEvidence], animals: Sequence[Animal]
) -> Iterator[Unit]:
    """What is asked together: each linked group, and each locus that is in none."""
    linked = {locus: linkage for linkage in species.genome.linkages for locus in linkage.loci}
    for locus in species.genome.loci:
        linkage = linked.get(locus.id)
        if linkage is None:
            yield Unit(species.id, (locus.id,), loci[species.id, locus.id].question)
        elif linkage.loci[0] == locus.id:
            phases = {
                animal.id: lines[:2]
                for animal in animals
                if (lines := tuple(line.alleles for genes in animal.genes for line in genes.haplotypes))
            }
            questions = tuple(loci[species.id, each].question for each in linkage.loci)
            yield Unit(species.id, linkage.loci, LinkedQuestion(linkage, questions, phases))


def is_founder(animal: Animal) -> bool:
    """True when no parent is recorded."""
    return animal.dam is None and not animal.sires


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


@dataclass(slots=True)
class _AtLocus:
    """Collects the evidence at one locus."""

    collection: Collection
    species: Species
    locus: Locus
    ages: Mapping[tuple[AnimalId, int], int | None]
    sexes: Mapping[AnimalId, Sex]
    sources: dict[str, Source] = field(default_factory=dict)
    observations: list[Observation] = field(default_factory=list)
    tallies: list[Tally] = field(default_factory=list)
    priors: dict[AnimalId, Odds] = field(default_factory=dict)
    founders: dict[AnimalId, Source] = field(default_factory=dict)
    not_seen: dict[frozenset[str], Odds | None] = field(default_factory=dict)

    def evidence(self, members: tuple[Member, ...]) -> LocusEvidence:
        question = Question(self.locus, members, self.priors, tuple(self.observations), tuple(self.tallies))
        own: dict[AnimalId, tuple[Observation, ...]] = {}
        for seen in self.observations:
            own[seen.member] = (*own.get(seen.member, ()), seen)
        return LocusEvidence(self.species.id, question, self.sources, self.founders, own)

    def add_animal(self, animal: Animal) -> None:
        own = list(self._own(animal))
        for rank, (source, likelihood) in enumerate(own):
            key = f"{animal.id} {rank} {source.places[0]}"
            self.sources[key] = source
            self.observations.append(Observation(animal.id, likelihood, key))
        if is_founder(animal):
            odds = founder_odds(animal, self.sexes[animal.id], self.locus, own)
            self.founders[animal.id] = odds.source
            if odds.prior is not None:
                self.priors[animal.id] = odds.prior

    def add_others(self, litter: Litter) -> None:
        for rank, others in enumerate(litter.others):
            likelihood = self._judged(others.judged, 0)
            if others.count and likelihood is not None:
                key = f"{litter.id} others {rank}"
                self.sources[key] = self._tally_source(litter, others)
                self.tallies.append(
                    Tally(litter.dam, litter.sires, others.count, likelihood, key,
                          others.sex, litter.id, litter.each_its_own_sire)
                )  # fmt: skip

    def _own(self, animal: Animal) -> Iterator[Own]:
        for rank, genes in enumerate(animal.genes):
            likelihood = self._judged(genes.judged, self.ages[animal.id, rank])
            if likelihood is not None:
                yield self._look_source(animal, genes.judged), likelihood
            for test in genes.tests:
                if test.locus == self.locus.id:
                    detail = (("laboratory", test.laboratory), ("date", str(test.date or "")))
                    says = tested_says(animal, self.locus, test)
                    source = Source(Ground.DNA_TEST, animal.id, (test.place,), says, detail=detail)
                    yield source, when_tested(test.genotypes)
            lines = [line for line in genes.haplotypes if self.locus.id in line.alleles][:2]
            if lines:
                says = f"the haplotypes of {name_of(animal)} are written down"
                places = tuple(line.place for line in lines)
                yield Source(Ground.STATED, animal.id, places, says), self._on_chromosomes(lines)

    def _judged(self, judged: Judged, age_months: int | None) -> Odds | None:
        """How likely what was seen is under each genotype; None when it tells nothing."""
        looks = [seen.look for seen in judged.seen if seen.locus == self.locus.id]
        if looks:
            return when_seen(self.locus, looks)
        if not judged.written or judged.unsure_all or self.locus.id in judged.unsure:
            return None
        hidden = unjudged_alleles(self.species.genome, self.locus, judged, age_months)
        if hidden not in self.not_seen:
            likelihood = when_not_seen(self.locus, hidden)
            certain = all(likelihood.get(genotype) == Fraction(1) for genotype in all_genotypes(self.locus))
            self.not_seen[hidden] = None if certain else likelihood
        return self.not_seen[hidden]

    def _on_chromosomes(self, lines: Sequence[Chromosome]) -> Odds:
        """One for each genotype that holds the alleles of these chromosomes."""
        named = [line.alleles[self.locus.id] for line in lines]
        return when_tested(
            genotype
            for genotype in all_genotypes(self.locus)
            if (genotype == self.locus.genotype(named[0], named[-1]) if len(named) == 2 else named[0] in genotype)
        )

    def _look_source(self, animal: Animal, judged: Judged) -> Source:
        seen = [seen for seen in judged.seen if seen.locus == self.locus.id]
        if not seen:
            return Source(Ground.SHOWS_NOT, animal.id, (judged.place,), unseen_says(animal, self.locus))
        looks = tuple(("look", each.look) for each in seen)
        places = tuple(each.place for each in seen)
        return Source(Ground.SHOWS_ITSELF, animal.id, places, seen_says(animal, self.locus, seen), detail=looks)

    def _tally_source(self, litter: Litter, others: Others) -> Source:
        looks = tuple(("look", seen.look) for seen in others.judged.seen if seen.locus == self.locus.id)
        says = tally_says(litter, self.locus, others)
        detail = (("count", str(others.count)), *looks)
        return Source(Ground.YOUNG, "", (others.place,), says, litter.id, detail)
