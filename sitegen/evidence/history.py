"""The answers of earlier days, found by replaying the records in the order in which they began to count.

On each day on which a record began to count, the families that it touches are asked again, with all that was known of
them on that day. After the last day everything is as :func:`sitegen.evidence.answers.answers` has it.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from sitegen.evidence.arrivals import Arrivals, arrivals_of, evidence_on, family_on
from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.bearing import Bearing
from sitegen.evidence.gather import gather, young_of
from sitegen.evidence.gathered import Source
from sitegen.evidence.nearby import nearby
from sitegen.genetics.loci import Sex
from sitegen.genetics.network import ENTRIES_LIMIT
from sitegen.genetics.questions import (
    AnimalId,
    Impossible,
    Observation,
    Posterior,
    Tally,
    TooTangled,
    parents_of,
)
from sitegen.records.collection import Collection
from sitegen.records.species import Species

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
        species: Id of the species.
        arrived: The records that began to count, in record order.
        answers: (animal, locus) to its answer from that day on, where it is new or differs; empty where there is
            none, because the records contradict each other or are too tangled.
        because: (animal, locus) whose answer differs to the new records that bear on it.
    """

    day: dt.date
    species: str
    arrived: Arrived
    answers: Mapping[Key, Posterior]
    because: Mapping[Key, Arrived]


def replay(collection: Collection) -> tuple[Turn, ...]:
    """Every turn of a collection."""
    return history(arrivals_of(collection))


def history(arrivals: Arrivals, limit: int = ENTRIES_LIMIT) -> tuple[Turn, ...]:
    """Every turn of a collection, by day, then by species.

    Args:
        arrivals: The records, and when they began to count.
        limit: Most table entries of one connected piece of a network; beyond it there is no answer.
    """
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

    def turns(self) -> Iterator[Turn]:
        """Each day's families, those with the first new record first."""
        for day, touched in sorted(self._touched().items()):
            reached: set[AnimalId] = set()
            for name in touched:
                if name not in reached:
                    family = family_on(self.arrivals, day, [name], self.young)
                    reached |= family
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
                for day in paired.union(self.arrivals.days_of_litter(litter)):
                    found.setdefault(day, {}).update(parents)
        return found

    def _turn(self, day: dt.date, family: set[AnimalId], touched: AbstractSet[AnimalId]) -> Turn:
        asked = ask(gather(evidence_on(self.arrivals, self.species.id, day, family)), self.limit)
        arrived = self._arrived(asked, touched)
        members = {member.id: member for member in asked.evidence.members[self.species.id]}
        answers: dict[Key, Posterior] = {}
        because: dict[Key, Arrived] = {}
        for locus in (each.id for each in self.species.genome.loci):
            before = {name: then for name in family if (then := self.said.get((name, locus)))}
            here = [each for each in arrived if each.locus == locus]
            bearing = Bearing(nearby(asked, next(iter(family)), locus), members, before)
            for name in sorted(family, key=self.rank.__getitem__):
                answer = _answer(asked, name, locus)
                if self.said.get((name, locus)) != answer:
                    self.said[name, locus] = answers[name, locus] = answer
                    own_or_bearing = (e for e in here if e.source.animal == name or name in bearing.on(e.source))
                    because[name, locus] = tuple(own_or_bearing) if name in before else ()
        return Turn(day, self.species.id, arrived, answers, because)

    def _arrived(self, asked: Asked, touched: AbstractSet[AnimalId]) -> Arrived:
        """The pieces of evidence that were not known before, in record order, young that are not listed last."""
        found: list[Arrival] = []
        for locus in self.species.genome.loci:
            at = asked.evidence.loci[self.species.id, locus.id]
            pieces: list[Observation | Tally] = [seen for seen in at.question.observations if seen.member in touched]
            pieces += [tally for tally in at.question.tallies if not touched.isdisjoint(parents_of(tally))]
            for piece in pieces:
                arrival = Arrival(locus.id, at.sources[piece.key])
                told = arrival, frozenset(piece.likelihood.items())
                if told not in self.known:
                    self.known.add(told)
                    found.append(arrival)
        return tuple(sorted(found, key=lambda each: self.rank.get(each.source.animal, len(self.rank))))


def _answer(asked: Asked, animal: AnimalId, locus: str) -> Posterior:
    """The answer; empty where there is none."""
    found = asked.of(animal, locus)
    return {} if isinstance(found, Impossible | TooTangled) else found


def answers_on(turns: Iterable[Turn], day: dt.date) -> Mapping[AnimalId, Mapping[str, Posterior]]:
    """Animal to locus to posterior as they stood at the end of a day; a locus without an answer is left out."""
    found: dict[AnimalId, dict[str, Posterior]] = {}
    for turn in turns:
        if turn.day <= day:
            for (animal, locus), posterior in turn.answers.items():
                found.setdefault(animal, {})[locus] = posterior
    return {animal: {locus: own[locus] for locus in own if own[locus]} for animal, own in found.items()}
