"""From records to evidence: what each record says at each locus of its species, and what is asked of heredity.

- A locus that is not under ``shows`` was looked for and not seen, unless it was unsure, hidden by what the
  animal shows, or the animal was too young. A record without ``shows`` judged nothing.
- An animal without any recorded parent is a founder and has odds of its own; see
  :mod:`sitegen.evidence.founders`. An animal with a recorded parent has its odds from the parents, and
  what is stated of it is told as not used: it would count the parents' statements twice.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace
from fractions import Fraction
from functools import cache, partial

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Chromosome, DnaTest, Judged, SeenLook
from sitegen.content.litters import Litter, Others
from sitegen.content.species import Species
from sitegen.evidence.founders import Own, founder_odds
from sitegen.evidence.gathered import (
    Evidence,
    Ground,
    LocusEvidence,
    LocusGroup,
    Odds,
    Said,
    Source,
    is_founder,
    name_of,
    unrecorded,
)
from sitegen.evidence.judging import age_when_judged, unjudged_alleles
from sitegen.findings import Finding, Kind, Level
from sitegen.genetics.loci import Genotype, Locus, Sex, genotype_text
from sitegen.genetics.observations import all_genotypes, is_wild, when_not_seen, when_seen, when_tested
from sitegen.genetics.pedigree import pedigree_of
from sitegen.genetics.questions import AnimalId, LinkedQuestion, Member, Observation, Question, Tally, parents_of

Ages = Sequence[int | None]
"""Age in months at each of an animal's judgings, see :func:`sitegen.evidence.judging.age_when_judged`."""


def gather(
    collection: Collection, loci: AbstractSet[str] | None = None, readers: Mapping[str, "Reader"] | None = None
) -> Evidence:
    """All evidence of the collection, by species and locus, with notices of what is not used.

    Of ``loci`` alone if they are given, and of those that are linked to one of them. ``readers`` (locus to what reads
    its records) serve where the same records of one species are asked again and again.
    """
    pedigrees = {species: members_of(collection, species) for species in collection.species}
    found: dict[tuple[str, str], LocusEvidence] = {}
    groups: list[LocusGroup] = []
    for species in collection.species.values():
        at = _of_species(collection, species, pedigrees[species.id], loci, readers or {})
        found |= {(species.id, locus): each for locus, each in at.items()}
        groups += _groups(collection, species, at)
    recorded = {species: tuple(each for each in own if each.recorded) for species, own in pedigrees.items()}
    others = {species: tuple(each for each in own if not each.recorded) for species, own in pedigrees.items()}
    young = young_of(collection)
    return Evidence(collection, found, tuple(groups), young, tuple(_not_used(collection)), recorded, others)


def young_of(collection: Collection) -> Mapping[AnimalId, tuple[AnimalId, ...]]:
    """Animal to its listed young, every possible parent counted, in record order."""
    young: dict[AnimalId, list[AnimalId]] = {}
    for animal in collection.animals.values():
        for parent in dict.fromkeys(parents_of(animal)):
            young.setdefault(parent, []).append(animal.id)
    return {parent: tuple(own) for parent, own in young.items()}


def members_of(collection: Collection, species: str) -> tuple[Member, ...]:
    """The animals of a species as members of one pedigree, in record order, and then its unrecorded parents.

    A parent whose sex is not recorded has the sex that it must have had. The parent that a litter record does not
    name is one animal for all its young, unless each of them may have its own sire; an animal that names one parent
    alone has another of its own.
    """
    animals = [animal for animal in collection.animals.values() if animal.species == species]
    sexes = {animal.id: animal.sex for animal in animals}
    bred: list[Animal | Litter] = [*animals, *collection.litters.values()]
    for young in bred:
        used = [(young.dam, Sex.FEMALE), *((sire, Sex.MALE) for sire, _ in young.sires)]
        sexes.update({parent: sex for parent, sex in used if parent and sexes.get(parent) is Sex.UNKNOWN})
    found = [Member(each.id, sexes[each.id], *couple_of(each), each.litter, each.each_its_own_sire) for each in animals]
    counted = (litter for litter in collection.litters.values() if litter.species == species and litter.others)
    bred = [*animals, *counted]
    for young in bred:
        dam, sires = couple_of(young)
        for parent, sex in ((dam, Sex.FEMALE), *((sire, Sex.MALE) for sire, _ in sires)):
            if parent is not None and parent not in sexes:
                sexes[parent] = sex
                found.append(Member(parent, sex, recorded=False))
    return tuple(found)


def with_own_sires(collection: Collection, litter: str) -> Collection:
    """The records as if each young of a litter may have a sire of its own."""
    animals = {
        animal.id: replace(animal, each_its_own_sire=True) if animal.litter == litter else animal
        for animal in collection.animals.values()
    }
    litters = {**collection.litters, litter: replace(collection.litters[litter], each_its_own_sire=True)}
    return replace(collection, animals=animals, litters=litters)


def couple_of(young: Animal | Litter) -> tuple[AnimalId | None, tuple[tuple[AnimalId, Fraction], ...]]:
    """Dam and possible sires; the one of whom there is no record by a name of its own, where the other is recorded."""
    shared = (young.litter if isinstance(young, Animal) else young.id) or young.id
    dam, sires = young.dam, young.sires
    if dam is None and sires:
        dam = unrecorded("dam", shared)
    elif dam is not None and not sires and not young.each_its_own_sire:
        sires = ((unrecorded("sire", shared), Fraction(1)),)
    elif dam is not None and not sires and isinstance(young, Animal):
        sires = ((unrecorded("sire", young.id), Fraction(1)),)
    return dam, sires


def _not_used(collection: Collection) -> Iterator[Finding]:
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


def _groups(collection: Collection, species: Species, at: Mapping[str, LocusEvidence]) -> Iterator[LocusGroup]:
    """What is asked together: each linked group, at the place of its first locus, and each locus that is in none."""
    linkages = {locus: linkage for linkage in species.genome.linkages for locus in linkage.loci}
    for locus, each in at.items():
        linkage = linkages.get(locus)
        if linkage is None:
            yield LocusGroup(species.id, (locus,), each.question)
        elif linkage.loci[0] == locus:
            questions = tuple(at[linked].question for linked in linkage.loci)
            lines = {member.id: _phases(collection.animals[member.id]) for member in each.question.members}
            phases = {animal: own for animal, own in lines.items() if own}
            yield LocusGroup(species.id, linkage.loci, LinkedQuestion(linkage, questions, phases))


def _phases(animal: Animal) -> tuple[Mapping[str, str], ...]:
    """The chromosomes of an animal that are written down, one or two, each locus to allele."""
    return tuple(line.alleles for genes in animal.genes for line in genes.haplotypes)[:2]


def _of_species(
    collection: Collection, species: Species, members: Sequence[Member], wanted: AbstractSet[str] | None,
    readers: Mapping[str, "Reader"],
) -> Mapping[str, LocusEvidence]:  # fmt: skip
    """What is known at each wanted locus of a species, in the order of its loci."""
    animals = {member: collection.animals[member.id] for member in members if member.recorded}
    late = any(allele.visible_from_months for locus in species.genome.loci for allele in locus.alleles)
    ages = {
        animal.id: [age_when_judged(collection, animal, genes.judged) if late else None for genes in animal.genes]
        for animal in animals.values()
    }
    litters = [litter for litter in collection.litters.values() if litter.species == species.id]
    linked = {locus: linkage.loci for linkage in species.genome.linkages for locus in linkage.loci}
    unnamed = [member for member in members if not member.recorded]
    return {
        locus.id: _at(readers.get(locus.id) or Reader(species, locus), animals, unnamed, ages, litters)
        for locus in species.genome.loci
        if wanted is None or not wanted.isdisjoint(linked.get(locus.id, (locus.id,)))
    }


def _at(
    reader: "Reader",
    animals: Mapping[Member, Animal],
    unnamed: Sequence[Member],
    ages: Mapping[AnimalId, Ages],
    litters: Sequence[Litter],
) -> LocusEvidence:
    said = {member.id: reader.said(animal, member.sex, ages[animal.id]) for member, animal in animals.items()}
    tallies = [found for litter in litters for found in reader.tallies(litter)]
    observations: list[Observation] = []
    sources: dict[str, Source] = {}
    for each in said.values():
        observations += each.observations
        sources.update((seen.key, source) for seen, source in zip(each.observations, each.sources, strict=True))
    sources.update((tally.key, source) for tally, source in tallies)
    founders = {animal: each.odds for animal, each in said.items() if each.odds}
    priors = {animal: odds.prior for animal, odds in founders.items() if odds.prior is not None}
    question = Question(
        reader.locus, (*animals, *unnamed), priors, tuple(observations), tuple(tally for tally, _ in tallies),
        {animal: odds.left_open for animal, odds in founders.items() if odds.left_open},
    )  # fmt: skip
    words = {animal for animal, odds in founders.items() if odds.source.ground is Ground.STATED}
    question = replace(question, unnamed=_unnamed(question, sources, words))
    named = {animal: odds.source for animal, odds in founders.items()}
    everyone: list[Animal | Litter] = [*animals.values(), *litters]
    beside = {parent: young for young in everyone for parent in parents_named(young)}
    named |= {each.id: _not_recorded(each, beside[each.id], reader.locus) for each in unnamed}
    return LocusEvidence(reader.species.id, question, sources, named, said)


def _unnamed(
    question: Question, sources: Mapping[str, Source], words: AbstractSet[AnimalId]
) -> Mapping[AnimalId, frozenset[str]]:
    """Founder to the alleles of a series that no look, test, word or count of its family names."""
    locus = question.locus
    if len(locus.alleles) < 2 or locus.background:
        return {}
    pedigree = pedigree_of(question.members, question.tallies)
    family = dict(zip(pedigree.ids, pedigree.family_of, strict=True))
    named: dict[int, set[str]] = {}

    def name(animal: AnimalId, genotypes: Iterable[Genotype], *, every: bool) -> None:
        sets = [set(pair) for pair in genotypes]
        own = (set.union if every else set.intersection)(*sets) if sets else set()
        named.setdefault(family[animal], set()).update(own)

    for seen in question.observations:
        name(seen.member, seen.likelihood, every=sources[seen.key].ground is Ground.DNA_TEST)
    for tally in question.tallies:
        for parent in parents_of(tally)[:1]:
            name(parent, tally.likelihood, every=False)
    for founder, odds in question.priors.items():
        name(founder, odds, every=founder in words)
    ids = {allele.id for allele in locus.alleles}
    founders = (each.id for each in question.members if each.dam is None and not each.sires)
    left = {each: frozenset(ids - named.get(family[each], set())) for each in founders}
    return {each: unnamed for each, unnamed in left.items() if unnamed}


def parents_named(young: Animal | Litter) -> tuple[AnimalId, ...]:
    """The parents of :func:`couple_of`."""
    dam, sires = couple_of(young)
    return tuple(each for each in (dam, *(sire for sire, _ in sires)) if each)


def _not_recorded(parent: Member, young: Animal | Litter, locus: Locus) -> Source:
    which = "dam" if parent.sex is Sex.FEMALE else "sire"
    litter = young.litter if isinstance(young, Animal) else young.id
    whose = litter if parent.id == unrecorded(which, litter) or isinstance(young, Litter) else name_of(young)
    says = f"the {which} of {whose} is not recorded, so it is taken as not carrying {locus.id}"
    return Source(Ground.BACKGROUND, "", (young.place,), says)


class Reader:
    """Reads what records say at one locus.

    What many records say alike (not seen, one look, one result of a test) is one object: inference makes one table
    for each object, see :mod:`sitegen.genetics.evidence_at`.
    """

    def __init__(self, species: Species, locus: Locus) -> None:
        self.species = species
        self.locus = locus
        self.when_seen = cache(partial(when_seen, locus))
        self.when_not_seen = cache(partial(when_not_seen, locus))
        self.when_tested = cache(when_tested)
        self.read: dict[AnimalId, tuple[Animal, tuple[Sex, Ages], Said]] = {}

    def said(self, animal: Animal, sex: Sex, ages: Ages) -> Said:
        """What is said of an animal alone; its sex may be known only from its use.

        The same record is read once: most records are the same on each day of which a replay asks.
        """
        record, read_as, said = self.read.get(animal.id, (None, None, None))
        if said is None or record is not animal or read_as != (sex, ages):
            said = self._said(animal, sex, ages)
            self.read[animal.id] = animal, (sex, ages), said
        return said

    def _said(self, animal: Animal, sex: Sex, ages: Ages) -> Said:
        own = list(self._own(animal, ages))
        seen = tuple(
            Observation(animal.id, likelihood, f"{animal.id} {rank} {source.places[0]}")
            for rank, (source, likelihood) in enumerate(own)
        )
        odds = founder_odds(animal, sex, self.locus, own) if is_founder(animal) else None
        return Said(seen, tuple(source for source, _ in own), odds)

    def tallies(self, litter: Litter) -> Iterator[tuple[Tally, Source]]:
        """What is said of young that are not listed, each with its record."""
        for rank, others in enumerate(litter.others):
            likelihood = self._judged(others.judged, 0) if others.count else None
            if likelihood is not None:
                seen = [seen for seen in others.judged.seen if seen.locus == self.locus.id]
                detail = (("count", str(others.count)), *_looks(seen))
                says = _tally_says(litter, self.locus, others)
                source = Source(Ground.YOUNG, "", (others.place,), says, litter.id, detail)
                key = f"{litter.id} others {rank}"
                yield Tally(
                    *couple_of(litter), others.count, likelihood, key,
                    others.sex, litter.id, bool(litter.each_its_own_sire),
                ), source  # fmt: skip

    def _own(self, animal: Animal, ages: Ages) -> Iterator[Own]:
        for genes, age in zip(animal.genes, ages, strict=True):
            likelihood = self._judged(genes.judged, age)
            if likelihood is not None:
                yield self._look_source(animal, genes.judged), likelihood
            for test in genes.tests:
                if test.locus == self.locus.id:
                    detail = (("laboratory", test.laboratory), ("date", str(test.date or "")))
                    says = _tested_says(animal, self.locus, test)
                    source = Source(Ground.DNA_TEST, animal.id, (test.place,), says, detail=detail)
                    yield source, self.when_tested(test.genotypes)
            lines = [line for line in genes.haplotypes if self.locus.id in line.alleles][:2]
            if lines:
                says = f"the haplotypes of {name_of(animal)} are written down"
                places = tuple(line.place for line in lines)
                yield Source(Ground.STATED, animal.id, places, says), self._on_chromosomes(lines)

    def _judged(self, judged: Judged, age_months: int | None) -> Odds | None:
        """How likely what was seen is under each genotype; None when it tells nothing."""
        looks = tuple(seen.look for seen in judged.seen if seen.locus == self.locus.id)
        if looks:
            return self.when_seen(looks)
        if not judged.written or judged.unsure_all or self.locus.id in judged.unsure:
            return None
        hidden = unjudged_alleles(self.species.genome, self.locus, judged, age_months)
        likelihood = self.when_not_seen(hidden)
        tells_nothing = all(likelihood.get(genotype) == 1 for genotype in all_genotypes(self.locus))
        return None if tells_nothing else likelihood

    def _on_chromosomes(self, lines: Sequence[Chromosome]) -> Odds:
        """One for each genotype that holds the alleles of these chromosomes."""
        named = [line.alleles[self.locus.id] for line in lines]
        whole = self.locus.genotype(named[0], named[-1])
        return self.when_tested(
            tuple(
                genotype
                for genotype in all_genotypes(self.locus)
                if (genotype == whole if len(named) == 2 else named[0] in genotype)
            )
        )

    def _look_source(self, animal: Animal, judged: Judged) -> Source:
        seen = [seen for seen in judged.seen if seen.locus == self.locus.id]
        if not seen:
            says = f"{name_of(animal)} does not show {_any_look(self.locus)}"
            return Source(Ground.SHOWS_NOT, animal.id, (judged.place,), says)
        says = f"{name_of(animal)} shows {' and '.join(self.locus.look(each.look).name for each in seen)}"
        places = tuple(each.place for each in seen)
        return Source(Ground.SHOWS_ITSELF, animal.id, places, says, detail=_looks(seen))


def _looks(seen: Sequence[SeenLook]) -> tuple[tuple[str, str], ...]:
    return tuple(("look", each.look) for each in seen)


def _tested_says(animal: Animal, locus: Locus, test: DnaTest) -> str:
    if all(is_wild(locus, genotype) for genotype in test.genotypes):
        return f"{name_of(animal)} is DNA-tested as not carrying {locus.id}"
    return f"{name_of(animal)} is DNA-tested as {' or '.join(map(genotype_text, test.genotypes))}"


def _tally_says(litter: Litter, locus: Locus, others: Others) -> str:
    """What young show that are not listed one by one."""
    who = f"{others.count} young of {litter.id} that {'is' if others.count == 1 else 'are'} not listed"
    seen = [locus.look(each.look).name for each in others.judged.seen if each.locus == locus.id]
    verb = "shows" if others.count == 1 else "show"
    if seen:
        return f"{who} {verb} {' and '.join(seen)}"
    return f"{who} {'does' if others.count == 1 else 'do'} not show {_any_look(locus)}"


def _any_look(locus: Locus) -> str:
    return " or ".join(look.name for look in locus.looks)
