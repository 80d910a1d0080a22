"""The answers of earlier days, found by replaying the records in the order in which they began to count.

On each day on which a record began to count, the families that it touches are asked again, with all that was known of
them on that day. After the last day everything is as :func:`sitegen.evidence.answers.answers` has it. Each answer that
differs names the new records that bear on it, see :class:`Bearing`.
"""

import datetime as dt
from collections.abc import Hashable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import product

from sitegen.content.species import Species
from sitegen.evidence.arrivals import Arrivals, evidence_on, family_on
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import Reader, gather, young_of
from sitegen.evidence.gathered import Source, reached
from sitegen.evidence.nearby import Nearby, nearby
from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.loci import Sex
from sitegen.genetics.network import ENTRIES_LIMIT
from sitegen.genetics.questions import (
    AnimalId,
    Member,
    Observation,
    Posterior,
    Tally,
    parents_of,
)

Key = tuple[AnimalId, str]
"""Animal and locus."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """A piece of evidence that began to count: at which locus, and its record."""

    locus: str
    source: Source


Arrived = tuple[Arrival, ...]


@dataclass(frozen=True, slots=True)
class Turn:
    """What one day's records taught of one family.

    Attributes:
        day: From which day on it is known.
        arrived: The records that began to count, in record order.
        answers: (animal, locus) to its answer from that day on, where it is new or differs; empty where there is
            none, because the records contradict each other or are too tangled.
        because: (animal, locus) whose answer differs to the new records that bear on it.
    """

    day: dt.date
    arrived: Arrived
    answers: Mapping[Key, Posterior]
    because: Mapping[Key, Arrived]


def history(arrivals: Arrivals, limit: int = ENTRIES_LIMIT) -> tuple[Turn, ...]:
    """Every turn of a collection, by day, then by species; networks that pass the ``limit`` have no answer."""
    turns = [turn for each in arrivals.collection.species.values() for turn in _Replay(arrivals, each, limit).turns()]
    return tuple(sorted(turns, key=lambda turn: turn.day))


class _Replay:
    """One species, day by day: what was said so far, and the records that were known."""

    def __init__(self, arrivals: Arrivals, species: Species, limit: int) -> None:
        self.arrivals = arrivals
        self.species = species
        self.limit = limit
        self.young = young_of(arrivals.collection)
        self.rank = {name: rank for rank, name in enumerate(arrivals.collection.animals)}
        self.said: dict[Key, Posterior] = {}
        self.known: set[tuple[Arrival, frozenset[object]]] = set()
        self.readers = {locus.id: Reader(species, locus) for locus in species.genome.loci}

    def turns(self) -> Iterator[Turn]:
        """Each day's families, those with the first new record first."""
        for day, touched in sorted(self._touched().items()):
            asked: set[AnimalId] = set()
            for name in touched:
                if name not in asked:
                    family = family_on(self.arrivals, day, [name], self.young)
                    asked |= family
                    yield self._turn(day, family, touched.keys() & family)

    def _touched(self) -> Mapping[dt.date, Mapping[AnimalId, None]]:
        """Day to the animals of which something began to count; for young that are not listed their parents."""
        found: dict[dt.date, dict[AnimalId, None]] = {}
        for animal in self.arrivals.collection.animals.values():
            for day in self.arrivals.days_of_animal(animal) if animal.species == self.species.id else ():
                found.setdefault(day, {})[animal.id] = None
        for litter in self.arrivals.collection.litters.values():
            if litter.species == self.species.id:
                parents = dict.fromkeys(parents_of(litter))
                unsexed = any(self.arrivals.collection.animals[each].sex is Sex.UNKNOWN for each in parents)
                paired = {self.arrivals.litters[litter.id]} if unsexed else set()  # which tells their sex
                for day in paired.union(self.arrivals.counted_on(litter, others) for others in litter.others):
                    found.setdefault(day, {}).update(parents)
        return found

    def _turn(self, day: dt.date, family: set[AnimalId], touched: AbstractSet[AnimalId]) -> Turn:
        told = {name for name in touched if day in self.arrivals.days_of_animal(self.arrivals.collection.animals[name])}
        about = ask(gather(evidence_on(self.arrivals, self.species.id, day, family), readers=self.readers), self.limit)
        arrived = self._arrived(about, touched, told)
        answers: dict[Key, Posterior] = {}
        because: dict[Key, Arrived] = {}
        members = {member.id: member for member in about.evidence.members[self.species.id]}
        for locus in self.readers:
            before = {name: then for name in members if (then := self.said.get((name, locus)))}
            now = {name: about.posterior(name, locus) for name in sorted(members, key=self.rank.__getitem__)}
            differ = {name: answer for name, answer in now.items() if self.said.get((name, locus)) != answer}
            bearing = Bearing(nearby(about, next(iter(members)), locus), members, before)
            here = [each for each in arrived if each.locus == locus and not before.keys().isdisjoint(differ)]
            starts = {each: bearing.starts(each.source) for each in here}
            told_of = {start: bearing.reached(start) for start in set(starts.values())}  # one for all littermates
            surprised = bool(about.heredity[about.by_locus[self.species.id, locus]].opened)
            for name, answer in differ.items():
                self.said[name, locus] = answers[name, locus] = answer
                because[name, locus] = tuple(
                    each
                    for each in here
                    # A surprise overturns what was certain, so that nothing stands between any record and an answer.
                    if name in before and (surprised or name == each.source.animal or name in told_of[starts[each]])
                )
        return Turn(day, arrived, answers, because)

    def _arrived(self, about: Asked, touched: AbstractSet[AnimalId], told: AbstractSet[AnimalId]) -> Arrived:
        """The pieces of evidence that were not known before, in record order, young that are not listed last."""
        found: list[Arrival] = []
        for locus in self.readers:
            at = about.evidence.loci[self.species.id, locus]
            pieces: list[Observation | Tally] = [seen for seen in at.question.observations if seen.member in told]
            pieces += [tally for tally in at.question.tallies if not touched.isdisjoint(parents_of(tally))]
            for piece in pieces:
                arrival = Arrival(locus, at.sources[piece.key])
                said = arrival, frozenset(piece.likelihood.items())
                if said not in self.known:
                    self.known.add(said)
                    found.append(arrival)
        return tuple(sorted(found, key=lambda each: self.rank.get(each.source.animal, len(self.rank))))


@dataclass(frozen=True)
class Bearing:
    """Which new records bear on whose answer, at one locus of the family of one day.

    A record of young tells nothing of their parents where it is as likely whatever they have. What it does tell goes
    from animal to animal, up to those whose genotype is certain: what is known on one side of them tells nothing of the
    other (d-separation; Lauritzen SL, Dawid AP, Larsen BN, Leimer HG (1990), *Networks* 20:491-505). ``before`` has
    each answer until then, but of those who are new or had none.
    """

    near: Nearby
    members: Mapping[AnimalId, Member]
    before: Mapping[AnimalId, Posterior]

    def starts(self, source: Source) -> tuple[AnimalId, ...]:
        """The animals of whose genotype a new record tells something at once, but for the one that it is about."""
        if not source.animal:
            tallies = [each for each in self.near.known.question.tallies if self.near.known.sources[each.key] is source]
            return tuple(parent for each in tallies for parent in self._above(each))
        if self.near.young(source.animal) or self.near.tallies(source.animal):
            return (source.animal, *self._beside(source.animal))
        if source.animal in self.before and len(self.near.own(source.animal)) > 1:
            return self._bred(self.members[source.animal])  # all of it may be as likely now, and was not
        return self._above(self.members[source.animal])

    def reached(self, starts: Sequence[AnimalId]) -> Mapping[AnimalId, None]:
        """All animals of whose genotype something is told by what is told of these."""
        return reached(starts, lambda here: () if self._is_certain(here) else self._beside(here))

    def _beside(self, animal: AnimalId) -> Iterator[AnimalId]:
        """Its parents, its young, and those with whom it has young that tell something."""
        yield from self._above(self.members[animal])
        for young in self.near.young(animal):
            yield young
            yield from self._above(self.members[young])
        for tally in self.near.tallies(animal):
            yield from self._above(tally)

    def _above(self, young: Member | Tally) -> tuple[AnimalId, ...]:
        """Those of whom young tell something."""
        return () if self._tells_nothing(young) else self._bred(young)

    def _bred(self, young: Member | Tally) -> tuple[AnimalId, ...]:
        """The parents; where several may be the sire all that hangs on such a choice, since other loci tie them."""
        if len(young.sires) < 2:
            return parents_of(young)
        all_young: list[Member | Tally] = [*self.members.values(), *self.near.known.question.tallies]
        several = [each for each in all_young if len(each.sires) > 1]
        parents = (parent for each in several if not self._tells_nothing(each) for parent in parents_of(each))
        return (*parents_of(young), *(each.id for each in several if isinstance(each, Member)), *parents)

    def _is_certain(self, animal: AnimalId) -> bool:
        """True when its genotype was certain before, so that it lets nothing pass."""
        locus = self.near.locus
        alone = len(self.near.mode.loci) == 1 and locus.sex_recombination is None
        sexed = not locus.sex_linked or self.members[animal].sex is not Sex.UNKNOWN
        return alone and sexed and len(self.before.get(animal, ())) == 1

    def _tells_nothing(self, young: Member | Tally) -> bool:
        """True when all that is known of young, and of theirs, is as likely whatever their parents have."""
        return self._is_as_likely(young, [young]) if isinstance(young, Tally) else young.id in self._silent

    @cached_property
    def _silent(self) -> frozenset[AnimalId]:
        """The animals that tell nothing of their parents."""
        near = self.near
        ends = (each for each in self.members.values() if not (near.young(each.id) or near.tallies(each.id)))
        found: dict[Hashable, bool] = {}  # once for littermates of which the same was seen
        silent: list[AnimalId] = []
        for each in ends:
            own, sires = near.own(each.id), tuple(sire for sire, _ in each.sires)
            key = each.dam, sires, each.sex, tuple(id(seen.likelihood) for seen in own)
            if key not in found:
                found[key] = self._is_as_likely(each, own)
            if found[key]:
                silent.append(each.id)
        return frozenset(silent)

    def _is_as_likely(self, young: Member | Tally, seen: Sequence[Observation | Tally]) -> bool:
        near = self.near
        if not seen or len(near.mode.loci) > 1:
            return not seen
        states = frozenset(near.mode.of_sex(young.sex))
        dams = self._possible((young.dam,) if young.dam else (), Sex.FEMALE)
        sires = self._possible(tuple(sire for sire, _ in young.sires), Sex.MALE)
        rows = (near.transmission.young(*pair) for pair in product(dams, sires))
        chances = {
            sum((share * near.weight(seen, state) for state, share in row.items() if state in states), Fraction(0))
            for row in rows
        }
        return len(chances) < 2 and chances != {0}  # what nothing that was known allows tells a great deal

    def _possible(self, parents: tuple[AnimalId, ...], sex: Sex) -> set[StateNumber]:
        """The states that one of these parents could have by what was known before."""
        if not parents:
            return set(self.near.unrecorded(sex))
        mode, place = self.near.mode, self.near.place
        return {
            state
            for parent in parents
            for state in mode.of_sex(sex)
            if mode.genotypes[state][place] in self.before.get(parent, (mode.genotypes[state][place],))
        }
