"""What became known on which day, of each animal alone and of young that are not listed, before anybody infers.

A day on which nothing new is known at some loci says nothing there; :meth:`Day.at` leaves it out. So the same evidence
gives the same days, whatever else the records say.
"""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from sitegen.evidence.arrivals import Arrivals
from sitegen.evidence.by_record import Phases, Reader, phases_of, without_lines
from sitegen.evidence.gathered import Counted, Said, Source
from sitegen.evidence.standing import NOTHING, OwnEvidence, own_evidence
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, Member, Observation
from sitegen.records.animals import Animal
from sitegen.records.litters import Litter
from sitegen.records.species import Species


@dataclass(frozen=True, slots=True)
class Known:
    """What is known on a day of an animal.

    Attributes:
        member: The animal, with its sex as far as it is known.
        before: What was known of it until then; None if it was not there.
        own: What is known of it alone, at each locus of the species in their order.
        phases: Its known chromosomes.
    """

    member: Member
    before: "Known | None"
    own: tuple[OwnEvidence, ...]
    phases: Phases

    def is_new_at(self, ranks: Sequence[int]) -> bool:
        """True when it is new, or something new is known of it at some of these loci."""
        if self.before is None:
            return True
        return (
            self.member != self.before.member
            or self.phases != self.before.phases
            or any(self.own[rank] is not self.before.own[rank] for rank in ranks)
        )


@dataclass(frozen=True, slots=True)
class Told:
    """Young that are not listed, counted on a day: under a key of their own, what is said of them by locus."""

    key: str
    by_locus: Mapping[str, Counted]


@dataclass(frozen=True, slots=True)
class Day:
    """One day's records of a species, in record order."""

    day: dt.date
    animals: tuple[Known, ...]
    told: tuple[Told, ...]

    def at(self, ranks: Sequence[int], loci: Sequence[str]) -> "Day | None":
        """The same as far as it tells something at some loci; None if it tells nothing."""
        animals = tuple(known for known in self.animals if known.is_new_at(ranks))
        told = tuple(told for told in self.told if any(locus in told.by_locus for locus in loci))
        return Day(self.day, animals, told) if animals or told else None

    def is_at(self, ranks: Sequence[int], loci: Sequence[str], other: "Day") -> bool:
        """True when another day tells the same at these loci, see :meth:`at`."""
        return (
            self.day == other.day
            and len(self.animals) == len(other.animals)
            and len(self.told) == len(other.told)
            and all(_alike(own, its, ranks) for own, its in zip(self.animals, other.animals, strict=True))
            and all(
                own.key == its.key and all(own.by_locus.get(locus) is its.by_locus.get(locus) for locus in loci)
                for own, its in zip(self.told, other.told, strict=True)
            )
        )


def _alike(one: Known, other: Known, ranks: Sequence[int]) -> bool:
    return (
        one.member == other.member
        and (one.before is None) == (other.before is None)
        and one.phases == other.phases
        and all(one.own[rank] is other.own[rank] for rank in ranks)
    )


@dataclass(frozen=True, slots=True)
class _Read:
    """What was made of the records of an animal on a day, and all that it was made of."""

    records: tuple[object, ...]
    plain: object
    own: tuple[OwnEvidence, ...]
    phases: Phases


@dataclass(slots=True)
class Remembered:
    """What was made of single records when earlier states of them were told; it is the very same while they are."""

    animals: dict[tuple[AnimalId, dt.date], _Read] = field(default_factory=dict)
    told: dict[tuple[str, int], tuple[tuple[object, ...], Mapping[str, Counted]]] = field(default_factory=dict)


def timeline(arrivals: Arrivals, species: Species, before: Remembered, after: Remembered) -> tuple[Day, ...]:
    """The days of one species, in order.

    Args:
        arrivals: The records, and when they began to count.
        species: The species.
        before: What was remembered of an earlier state.
        after: Takes what is to be remembered of this one.
    """
    return tuple(_Timeline(arrivals, species, before, after).days())


class _Timeline:
    def __init__(self, arrivals: Arrivals, species: Species, before: Remembered, after: Remembered) -> None:
        self.arrivals = arrivals
        self.species = species
        self.before = before
        self.after = after
        self.reader = Reader(species)
        self.known: dict[AnimalId, Known] = {}
        own = (animal.id for animal in arrivals.collection.animals.values() if animal.species == species.id)
        self.rank = {animal: rank for rank, animal in enumerate(own)}

    def days(self) -> Iterator[Day]:
        animals: dict[dt.date, list[Animal]] = {}
        litters: dict[dt.date, list[Litter]] = {}
        for animal in self.arrivals.collection.animals.values():
            if animal.species == self.species.id:
                for day in self.arrivals.days_of_animal(animal):
                    animals.setdefault(day, []).append(animal)
        for litter in self.arrivals.collection.litters.values():
            if litter.species == self.species.id:
                for day in {self.arrivals.litters[litter.id], *self.arrivals.days_of_litter(litter)}:
                    litters.setdefault(day, []).append(litter)
        for day in sorted({*animals, *litters}):
            yield self._day(day, animals.get(day, []), litters.get(day, []))

    def _day(self, day: dt.date, animals: Sequence[Animal], litters: Sequence[Litter]) -> Day:
        sexes = self._sexes(animals, litters)
        everyone = self.arrivals.collection.animals
        changed = {animal.id: animal for animal in animals}
        changed.update({name: everyone[name] for name in sexes if name in self.known})
        found: list[Known] = []
        for name in sorted(changed, key=self.rank.__getitem__):
            before = self.known.get(name)
            sex = sexes.get(name) or (before.member.sex if before else changed[name].sex)
            self.known[name] = self._known(changed[name], sex, day, before)
            found.append(self.known[name])
        return Day(day, tuple(found), tuple(told for litter in litters for told in self._told(litter, day)))

    def _sexes(self, animals: Sequence[Animal], litters: Sequence[Litter]) -> dict[AnimalId, Sex]:
        """The parents of unknown sex whose sex is known by these young."""
        found: dict[AnimalId, Sex] = {}
        bred: list[Animal | Litter] = [*animals, *litters]
        for young in bred:
            used = [(young.dam, Sex.FEMALE), *((sire, Sex.MALE) for sire, _ in young.sires)]
            for parent, sex in used:
                if parent and self.arrivals.collection.animals[parent].sex is Sex.UNKNOWN:
                    known = self.known.get(parent)
                    if known is None or known.member.sex is Sex.UNKNOWN:
                        found.setdefault(parent, sex)
        return found

    def _known(self, animal: Animal, sex: Sex, day: dt.date, before: Known | None) -> Known:
        member = Member(animal.id, sex, animal.dam, animal.sires, animal.litter, animal.each_its_own_sire)
        collection = self.arrivals.collection
        litters = {litter.id: litter for litter in collection.bred_by(animal.id)}
        if animal.litter in collection.litters:
            litters[animal.litter] = collection.litters[animal.litter]
        records = (self.species, animal, *litters.values())
        plain = sex, self.arrivals.animals[animal.id], *(self.arrivals.litters[litter] for litter in litters)
        read = self.before.animals.get((animal.id, day))
        if read is None or read.plain != plain or not _the_very(read.records, records):
            earlier, read = read, self._read(animal, sex, day, litters, records, plain)
            if earlier is not None and earlier.records[0] is self.species:
                read = replace(read, own=tuple(map(_as_before, earlier.own, read.own)))
        self.after.animals[animal.id, day] = read
        own = read.own
        if before is not None:
            own = tuple(map(_as_before, before.own, own))
        return Known(member, before, own, read.phases)

    def _read(
        self,
        animal: Animal,
        sex: Sex,
        day: dt.date,
        known: Mapping[str, Litter],
        records: tuple[object, ...],
        plain: object,
    ) -> _Read:
        """What is known on a day from the record of the animal and those of its own litter and those it bred."""
        if not self.reader.comes_late:
            past = self.arrivals.known_genes(animal, day)
            return _Read(records, plain, tuple(map(_lasting, self.reader.said(past, sex, ()))), phases_of(past))
        litters = {
            litter.id: replace(self.arrivals.litter_on(litter, day), young=(), others=())
            for litter in known.values()
            if self.arrivals.litters[litter.id] <= day
        }
        past = self.arrivals.animal_on(animal, day, litters.values())
        then = replace(self.arrivals.collection, animals={animal.id: past}, litters=litters)
        said = self.reader.said(past, sex, self.reader.ages(then, past))
        return _Read(records, plain, tuple(map(_lasting, said)), phases_of(past))

    def _told(self, litter: Litter, day: dt.date) -> Iterator[Told]:
        """Young of a litter that are not listed and begin to count on this day."""
        for rank, others in enumerate(litter.others):
            if self.arrivals.counted_on(litter, others) != day:
                continue
            records = self.species, litter
            read = self.before.told.get((litter.id, rank))
            if read is None or not _the_very(read[0], records):
                earlier, read = read, (records, self.reader.counted(litter, rank, others))
                if earlier is not None and without_lines(earlier[1]) == without_lines(read[1]):
                    read = records, earlier[1]
            self.after.told[litter.id, rank] = read
            if read[1]:
                yield Told(f"{litter.id} others {rank}", read[1])


def _the_very(some: tuple[object, ...], others: tuple[object, ...]) -> bool:
    return len(some) == len(others) and all(one is other for one, other in zip(some, others, strict=True))


def _as_before(before: OwnEvidence, now: OwnEvidence) -> OwnEvidence:
    """The one from before where only the lines differ on which it stands."""
    if before is now or before.prior != now.prior or len(before.observations) != len(now.observations):
        return before if before is now else now
    one, other = (
        [(seen.likelihood, without_lines(each.sources[seen.key])) for seen in each.observations]
        for each in (before, now)
    )
    return before if one == other else now


def _lasting(said: Said) -> OwnEvidence:
    """The observations under names that do not change when another record joins them, or when lines are put in."""
    prior = said.odds.prior if said.odds else None
    if not said.observations:
        return OwnEvidence((), prior) if prior is not None else NOTHING
    kept: list[Observation] = []
    named: dict[str, Source] = {}
    for seen, source in zip(said.observations, said.sources, strict=True):
        key = f"{seen.member} {source.ground.value} {source.places[0].file} {source.detail}"
        while key in named:
            key += "'"
        named[key] = source
        kept.append(Observation(seen.member, seen.likelihood, key))
    return own_evidence(tuple(kept), named, prior)
