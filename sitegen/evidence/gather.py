"""From records to questions: all evidence of a collection, sorted by locus, each piece with its record.

- A locus that is not under ``shows`` was looked for and not seen, unless it was unsure, hidden by what the
  animal shows, or the animal was too young. A record without ``shows`` judged nothing.
- An animal without any recorded parent is a founder and has odds of its own; see
  :mod:`sitegen.evidence.founders`. An animal with a recorded parent has its odds from the parents, and
  what is stated of it is told as not used: it would count the parents' statements twice.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.evidence.founders import Odds, Own, founder_odds
from sitegen.evidence.gathered import Evidence, LocusEvidence, Source
from sitegen.evidence.judging import age_when_judged, unjudged_alleles
from sitegen.evidence.known import Ground
from sitegen.evidence.saying import name_of, seen_says, tally_says, tested_says, unseen_says
from sitegen.findings import Finding, Kind, Level
from sitegen.genetics.loci import Locus
from sitegen.genetics.observations import all_genotypes, when_not_seen, when_seen, when_tested
from sitegen.genetics.questions import AnimalId, Member, Observation, Question, Tally
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.genes import Judged
from sitegen.records.litters import Litter, Others
from sitegen.records.species import Species


def gather(collection: Collection) -> Evidence:
    """All evidence of the collection, by species and locus, with notices of what is not used."""
    loci: dict[tuple[str, str], LocusEvidence] = {}
    for species in collection.species.values():
        animals = [animal for animal in collection.animals.values() if animal.species == species.id]
        ages = {
            (animal.id, rank): age_when_judged(collection, animal, genes.judged)
            for animal in animals
            for rank, genes in enumerate(animal.genes)
        }
        members = tuple(member_of(animal) for animal in animals)
        for locus in species.genome.loci:
            at = _AtLocus(collection, species, locus, ages)
            for animal in animals:
                at.add_animal(animal)
            for litter in collection.litters.values():
                if litter.species == species.id:
                    at.add_others(litter)
            loci[species.id, locus.id] = at.evidence(members)
    return Evidence(collection, loci, tuple(_not_used(collection)))


def member_of(animal: Animal) -> Member:
    """The animal as a member of the pedigree."""
    return Member(animal.id, animal.sex, animal.dam, animal.sires, animal.litter, animal.each_its_own_sire)


def is_founder(animal: Animal) -> bool:
    """True when no parent is recorded."""
    return animal.dam is None and not animal.sires


def _not_used(collection: Collection) -> Iterator[Finding]:
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
    sources: dict[str, Source] = field(default_factory=dict)
    observations: list[Observation] = field(default_factory=list)
    tallies: list[Tally] = field(default_factory=list)
    priors: dict[AnimalId, Odds] = field(default_factory=dict)
    founders: dict[AnimalId, Source] = field(default_factory=dict)

    def evidence(self, members: tuple[Member, ...]) -> LocusEvidence:
        question = Question(self.locus, members, self.priors, tuple(self.observations), tuple(self.tallies))
        return LocusEvidence(self.species.id, question, self.sources, self.founders)

    def add_animal(self, animal: Animal) -> None:
        own = list(self._own(animal))
        for rank, (source, likelihood) in enumerate(own):
            key = f"{animal.id} {rank} {source.places[0]}"
            self.sources[key] = source
            self.observations.append(Observation(animal.id, likelihood, key))
        if is_founder(animal):
            odds = founder_odds(animal, name_of(animal), self.locus, own)
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
                    yield (
                        Source(Ground.DNA_TEST, animal.id, (test.place,), says, detail=detail),
                        when_tested(test.genotypes),
                    )

    def _judged(self, judged: Judged, age_months: int | None) -> Odds | None:
        """How likely what was seen is under each genotype; None when it tells nothing."""
        looks = [seen.look for seen in judged.seen if seen.locus == self.locus.id]
        if looks:
            return when_seen(self.locus, looks)
        if not judged.written or judged.unsure_all or self.locus.id in judged.unsure:
            return None
        hidden = unjudged_alleles(self.species.genome, self.locus, judged, age_months)
        likelihood = when_not_seen(self.locus, hidden)
        certain = all(likelihood.get(genotype) == Fraction(1) for genotype in all_genotypes(self.locus))
        return None if certain else likelihood

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
