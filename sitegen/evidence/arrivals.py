"""When each record began to count: the collection as it stood on an earlier day.

- An animal is there from its birth or, when it was acquired, from that day; a young of a recorded litter from its
  birth. What has no date is there from the beginning, a young of dated parents from when they were there. A parent
  is there as soon as a young of it is, so that no record names an animal that is not there yet.
- What is stated of an animal, and looks without a date, count from when it is there; looks with a date from that
  day; DNA tests from their date. Young that are not listed count from the birth of their litter, or from the day
  when they were judged.
- A look that comes with growth, written down without a date, counts from the first date in the record on which the
  animal was old enough. Where nothing stands there of an earlier day it is what was said first, and no news.
- Of a partial date its first day counts, as in the day of the statement.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.genes import Genes, Judged
from sitegen.content.litters import Litter, Others
from sitegen.content.values import PartialDate, whole_months
from sitegen.evidence.gather import young_of
from sitegen.evidence.gathered import reached
from sitegen.evidence.judging import age_when_judged, dates_of
from sitegen.genetics.loci import Genome
from sitegen.genetics.observations import showing_alleles
from sitegen.genetics.pedigree import parents_first
from sitegen.genetics.questions import AnimalId, Member, parents_of

BEGINNING = dt.date.min
"""The day from which what has no date counts."""


@dataclass(frozen=True, slots=True)
class Arrivals:
    """When the animals and litters of a collection began to be there.

    Attributes:
        animals: Animal to the day from which it is there; a parent never later than its young.
        litters: Litter to the first day of which it speaks (paired, laid, born); its young may be there later.
        late: The species that have a gene that cannot be judged at birth.
    """

    collection: Collection
    animals: Mapping[AnimalId, dt.date]
    litters: Mapping[str, dt.date]
    late: frozenset[str]

    def days_of_animal(self, animal: Animal) -> tuple[dt.date, ...]:
        """The days on which something began to count that is known of the animal itself, in order."""
        there = self.animals[animal.id]
        days = {there}
        for genes in animal.genes:
            days |= {_day(test.date) for test in genes.tests}
            days |= {_day(genes.judged.on)} if genes.judged.on else self._grown(animal)
        return tuple(sorted({max(day, there) for day in days}))

    def _grown(self, animal: Animal) -> set[dt.date]:
        """The days of its record on which the animal had come of an age at which something can be judged."""
        ages = {a.visible_from_months for locus in self._genome(animal).loci for a in locus.alleles} - {0}
        born = self.collection.birth_of(animal)
        if not ages or born is None:
            return set()
        days = sorted(_day(date) for date in dates_of(self.collection, animal))
        firsts = (next((day for day in days if whole_months(born.latest, day) >= age), None) for age in ages)
        return {day for day in firsts if day is not None}

    def first_day_of(self, animal: Animal) -> dt.date:
        """The first day of which its record tells, or that of a litter it bred; where none does, when it was there.

        An animal may be there longer: by its birth, of which a record of a grown animal tells afterwards.
        """
        days = (date.earliest for date in dates_of(self.collection, animal))
        return max(min(days, default=BEGINNING), self.animals[animal.id])

    def counted_on(self, litter: Litter, others: Others) -> dt.date:
        """The day from which young count that are not listed."""
        return max(_day(others.judged.on or litter.born), self.litters[litter.id])

    def animal_on(self, animal: Animal, day: dt.date, litters: Iterable[Litter]) -> Animal:
        """The record of an animal that is there, as it stood on a day; ``litters`` (its own, those it bred) did so too.

        Where every gene of its species can be judged at birth only what is known of its genes is as of that day:
        weights, photographs and the like tell how old it was when it was judged, and nothing else.
        """
        if animal.species not in self.late:
            dated = any(genes.tests or genes.judged.on for genes in animal.genes)
            return replace(animal, genes=tuple(_genes_on(genes, day) for genes in animal.genes)) if dated else animal
        there, acquired = self.animals[animal.id], animal.acquired
        if acquired and not _by(acquired.date, day):  # one that bred for us before was there from then on
            acquired = replace(acquired, date=PartialDate(there.year, there.month, there.day))
        past = replace(
            animal,
            genes=tuple(_genes_on(genes, day) for genes in animal.genes),
            died=animal.died if _by(animal.died, day) else None,
            acquired=acquired,
            weights=tuple(each for each in animal.weights if _by(each.date, day)),
            meals=tuple(each for each in animal.meals if _by(each.date, day)),
            photos=tuple(each for each in animal.photos if _by(each.date, day)),
            offer=animal.offer if animal.offer and _by(animal.offer.since, day) else None,
        )
        then = replace(self.collection, litters={litter.id: litter for litter in litters})
        return replace(past, genes=tuple(self._old_enough(past, genes, animal, then) for genes in past.genes))

    def litter_on(self, litter: Litter, day: dt.date) -> Litter:
        """The record of a litter that is there, as it stood on a day."""
        return replace(
            litter,
            young=tuple(young for young in litter.young if self.animals[young] <= day),
            others=tuple(others for others in litter.others if self.counted_on(litter, others) <= day),
            paired=litter.paired if _by(litter.paired, day) else None,
            laid=litter.laid if _by(litter.laid, day) else None,
            born=litter.born if _by(litter.born, day) else None,
            failed=litter.failed if litter.failed and _by(litter.failed.date, day) else None,
            photos=tuple(each for each in litter.photos if _by(each.date, day)),
        )

    def _old_enough(self, past: Animal, genes: Genes, today: Animal, then: Collection) -> Genes:
        """Without the looks for which the animal was too young by then, and is not by all that is written today."""
        genome = self._genome(past)
        ages = {look.look: _visible_from(genome, look.locus, look.look) for look in genes.judged.seen}
        if genes.judged.on or not any(ages.values()):
            return genes
        age, age_today = (
            age_when_judged(then, past, genes.judged),
            age_when_judged(self.collection, today, genes.judged),
        )
        if age is None or age_today is None:
            return genes
        seen = tuple(look for look in genes.judged.seen if not age < ages[look.look] <= age_today)
        return replace(genes, judged=replace(genes.judged, seen=seen))

    def _genome(self, animal: Animal) -> Genome:
        return self.collection.species[animal.species].genome


def arrivals_of(collection: Collection) -> Arrivals:
    """When everything in the collection began to be there."""
    animals: dict[AnimalId, dt.date] = {}
    members = [Member(each.id, dam=each.dam, sires=each.sires) for each in collection.animals.values()]
    order = [collection.animals[member.id] for member in parents_first(members)]
    for animal in order:
        litter = collection.litters.get(animal.litter)
        parents = [animals[parent] for parent in parents_of(animal)]
        own = _own_day(collection, animal) or (_first_day(litter) if litter else None)
        animals[animal.id] = own or max(parents, default=BEGINNING)
    litters: dict[str, dt.date] = {}
    for litter in collection.litters.values():
        parents = [animals[parent] for parent in parents_of(litter)]
        litters[litter.id] = _first_day(litter) or max(parents, default=BEGINNING)
        animals |= {parent: min(animals[parent], litters[litter.id]) for parent in parents_of(litter)}
    for animal in reversed(order):
        animals |= {parent: min(animals[parent], animals[animal.id]) for parent in parents_of(animal)}
    late = frozenset(
        key
        for key, species in collection.species.items()
        if any(allele.visible_from_months for locus in species.genome.loci for allele in locus.alleles)
    )
    return Arrivals(collection, animals, litters, late)


def collection_on(arrivals: Arrivals, day: dt.date, only: Iterable[AnimalId]) -> Collection:
    """The records of some animals as they stood on a day, as far as their genes go; see the head of this module.

    With the litters that they came from or bred. Animals that were not there yet are left out, and so are projects and
    free pages, which say nothing of genes. A promoted young has the id of today.
    """
    whole = arrivals.collection
    wanted = [whole.animals[animal] for animal in sorted(only) if arrivals.animals[animal] <= day]
    near = {litter.id: litter for animal in wanted for litter in whole.bred_by(animal.id)}
    near |= {animal.litter: whole.litters[animal.litter] for animal in wanted if animal.litter in whole.litters}
    litters = {key: arrivals.litter_on(litter, day) for key, litter in near.items() if arrivals.litters[key] <= day}
    animals = {animal.id: arrivals.animal_on(animal, day, litters.values()) for animal in wanted}
    return replace(whole, animals=animals, litters=litters, projects={}, pages={})


def family_on(
    arrivals: Arrivals,
    day: dt.date,
    animals: Iterable[AnimalId],
    young: Mapping[AnimalId, Sequence[AnimalId]],
) -> set[AnimalId]:
    """All that were there on a day and hang together with some animals by parents, young, or litters that were bred.

    No evidence on that day about anybody else bears on them: they share no factor with these. ``young`` counts every
    possible parent.
    """
    records = arrivals.collection

    def beside(name: AnimalId) -> Iterator[AnimalId]:
        yield from parents_of(records.animals[name])
        yield from (each for each in young.get(name, ()) if arrivals.animals[each] <= day)
        for litter in records.bred_by(name):
            yield from parents_of(litter) if arrivals.litters[litter.id] <= day else ()

    return set(reached((each for each in animals if arrivals.animals[each] <= day), beside))


def families_of(arrivals: Arrivals) -> Iterator[Arrivals]:
    """The records of each family by themselves.

    A family is all that ever hang together by parents, young, or litters that were bred: nothing that is recorded of
    anybody else bears on them, on any day.
    """
    whole, young = arrivals.collection, young_of(arrivals.collection)
    found: set[AnimalId] = set()
    for name in whole.animals:
        if name not in found:
            family = sorted(family_on(arrivals, dt.date.max, [name], young))
            found.update(family)
            near = {litter.id for each in family for litter in whole.bred_by(each)}
            near |= whole.litters.keys() & {whole.animals[each].litter for each in family}
            animals = {each: whole.animals[each] for each in family}
            own = replace(whole, animals=animals, litters={each: whole.litters[each] for each in sorted(near)})
            yield replace(arrivals, collection=own)


def evidence_on(arrivals: Arrivals, species: str, day: dt.date, only: Iterable[AnimalId]) -> Collection:
    """What some animals of one species proved on a day: all that heredity is told, and it alone."""
    records = collection_on(arrivals, day, only)
    return replace(records, species={species: records.species[species]})


def _own_day(collection: Collection, animal: Animal) -> dt.date | None:
    """Birth, or the day an animal without a recorded litter was acquired; None when neither is known."""
    born = collection.birth_of(animal)
    acquired = animal.acquired.date if animal.acquired and not animal.litter else None
    return max((date.earliest for date in (born, acquired) if date), default=None)


def _first_day(litter: Litter) -> dt.date | None:
    """The first day that stands in a litter's record; None for none."""
    return min((date.earliest for date in (litter.paired, litter.laid, litter.born) if date), default=None)


def _day(date: PartialDate | None) -> dt.date:
    return date.earliest if date else BEGINNING


def _by(date: PartialDate | None, day: dt.date) -> bool:
    """True when something of that date had happened; what has no date always had."""
    return _day(date) <= day


def _genes_on(genes: Genes, day: dt.date) -> Genes:
    """Tests and looks of a later date left out."""
    judged = genes.judged
    if not _by(judged.on, day):
        judged = Judged((), (), judged.place, written=False)
    return replace(genes, judged=judged, tests=tuple(each for each in genes.tests if _by(each.date, day)))


def _visible_from(genome: Genome, locus_id: str, look: str) -> int:
    """The age in months from which a look can be seen, at the earliest."""
    locus = genome.locus(locus_id)
    makers = [showing_alleles(locus, genotype) for genotype, shown in locus.shown.items() if shown == look]
    ages = (max((locus.allele(each).visible_from_months for each in alleles), default=0) for alleles in makers)
    return min(ages, default=0)


def rests_on_days(arrivals: Arrivals, animal: AnimalId, locus: str, day: dt.date) -> bool:
    """True when all that is known by a day of an animal, of those it descends from and of their young has its day.

    Ancestors are followed up to those whose genotype a test of an earlier day tells: what else is written of them, and
    whom they descend from, changes nothing. A founder without one rests on what was stated of it, or on nothing.
    """
    collection = arrivals.collection
    until = day - dt.timedelta(1)
    line: set[AnimalId] = set()
    waiting = [animal]
    while waiting:
        here = collection.animals[waiting.pop()]
        if here.id not in line:
            line.add(here.id)
            if not _is_tested(here, locus, until):
                if here.dam is None or not here.sires:
                    return False
                waiting += parents_of(here)
    there = (each for each in collection.animals.values() if arrivals.animals[each.id] <= day)
    near = [each for each in there if each.id in line or not line.isdisjoint(parents_of(each))]
    bred = {litter.id: litter for parent in line for litter in collection.bred_by(parent) if litter.others}
    return all(litter.born for litter in bred.values()) and all(
        _is_tested(each, locus, until) or all(_has_its_day(collection, each, genes, locus) for genes in each.genes)
        for each in near
    )


def _is_tested(animal: Animal, locus: str, day: dt.date) -> bool:
    tests = (test for genes in animal.genes for test in genes.tests if test.locus == locus and test.date)
    return any(len(test.genotypes) == 1 and test.date and test.date.earliest <= day for test in tests)


def _has_its_day(collection: Collection, animal: Animal, genes: Genes, locus: str) -> bool:
    """True when what is recorded of an animal at a locus says of which day it is, or nothing is."""
    judged = genes.judged
    looked = any(seen.locus == locus for seen in judged.seen) or (
        judged.written and not judged.unsure_all and locus not in judged.unsure
    )
    litter = collection.litters.get(animal.litter)
    at_birth = litter is not None and litter.born is not None and judged.place.file == litter.place.file
    tests = (test for test in genes.tests if test.locus == locus)
    return (not looked or judged.on is not None or at_birth) and all(test.date for test in tests)
