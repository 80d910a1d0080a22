"""The answers of earlier days, found by replaying the records in the order in which they began to count.

On each day on which a record began to count, the families that it touches are asked again, with all that was known of
them on that day. After the last day everything is as :func:`sitegen.evidence.answers.answers` has it.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import dataclass, replace

from sitegen.evidence.arrivals import Arrivals, arrivals_of, evidence_on, family_on
from sitegen.evidence.asking import Asked, ask, shares_sires
from sitegen.evidence.gather import gather, young_of
from sitegen.evidence.gathered import Source
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
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.genes import Judged
from sitegen.records.litters import Litter
from sitegen.records.species import Species

Key = tuple[AnimalId, str]
"""Animal and locus."""
News = tuple[str, AnimalId]
"""A litter, of whose young something is new, or else an animal; the other is empty."""


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
        because: (animal, locus) whose answer differs to those of the new records that made it differ.
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
                    yield self._turn(day, family)

    def _touched(self) -> Mapping[dt.date, Mapping[AnimalId, None]]:
        """Day to the animals of which something began to count; for young that are not listed their parents."""
        found: dict[dt.date, dict[AnimalId, None]] = {}
        for animal in self.arrivals.collection.animals.values():
            for day in self.arrivals.days_of_animal(animal) if animal.species == self.species.id else ():
                found.setdefault(day, {})[animal.id] = None
        for litter in self.arrivals.collection.litters.values():
            for day in self.arrivals.days_of_litter(litter) if litter.species == self.species.id else ():
                found.setdefault(day, {}).update(dict.fromkeys(parents_of(litter)))
        return found

    def _turn(self, day: dt.date, family: set[AnimalId]) -> Turn:
        records = evidence_on(self.arrivals, self.species.id, day, family)
        asked = ask(gather(records), self.limit)
        arrived = self._arrived(asked)
        before: dict[Key, Posterior] = {}
        answers: dict[Key, Posterior] = {}
        for name in sorted(family, key=self.rank.__getitem__):
            for locus in self.species.genome.loci:
                key, answer = (name, locus.id), _answer(asked, (name, locus.id))
                if self.said.get(key) != answer:
                    before |= {key: self.said[key]} if key in self.said else {}
                    self.said[key] = answers[key] = answer
        because = self._because(day, asked, arrived, before) if before else {}
        return Turn(day, self.species.id, arrived, answers, because)

    def _arrived(self, asked: Asked) -> Arrived:
        """The pieces of evidence that were not known before, in record order, young that are not listed last."""
        found: list[Arrival] = []
        for locus in self.species.genome.loci:
            at = asked.evidence.loci[self.species.id, locus.id]
            pieces: list[Observation | Tally] = [*at.question.observations, *at.question.tallies]
            for piece in pieces:
                arrival = Arrival(locus.id, at.sources[piece.key])
                told = arrival, frozenset(piece.likelihood.items())
                if told not in self.known:
                    self.known.add(told)
                    found.append(arrival)
        return tuple(sorted(found, key=lambda each: self.rank.get(each.source.animal, len(self.rank))))

    def _because(
        self, day: dt.date, asked: Asked, arrived: Arrived, before: Mapping[Key, Posterior]
    ) -> Mapping[Key, Arrived]:
        """Which of a day's news made an answer differ: what by itself changes it, or without which it is another.

        Where that is true of none, because each could stand for another, it was all of them.
        """
        news: dict[News, list[Arrival]] = {}
        for each in arrived:
            news.setdefault(self._news(each.source, day), []).append(each)
        tied = shares_sires(asked.evidence, self.species.id)
        loci = None if tied else {locus for _, locus in before}
        with_some: dict[frozenset[News], Asked] = {frozenset(news): asked}

        def answer(some: frozenset[News], key: Key) -> Posterior:
            if some not in with_some:
                records = self._without(day, asked.evidence.collection, news.keys() - some)
                with_some[some] = ask(gather(records, loci=loci), self.limit)
            return _answer(with_some[some], key)

        def made(each: News, key: Key) -> bool:
            alone, others = frozenset([each]), frozenset(news) - {each}
            return answer(alone, key) != before[key] or answer(others, key) != self.said[key]

        found: dict[Key, Arrived] = {}
        for key in before:
            names = [each for each, own in news.items() if tied or any(arrival.locus == key[1] for arrival in own)]
            if len(names) > 1:
                names = [each for each in names if made(each, key)] or names
            found[key] = tuple(arrival for each in names for arrival in news[each])
        return found

    def _news(self, source: Source, day: dt.date) -> News:
        """What is one piece of news: all of a litter's young that are new, or all of an animal that was there."""
        if not source.animal:
            return source.litter, ""
        is_new = self.arrivals.animals[source.animal] == day
        litter = self.arrivals.collection.animals[source.animal].litter
        return (litter, "") if litter and is_new else ("", source.animal)

    def _without(self, day: dt.date, records: Collection, news: Set[News]) -> Collection:
        """The records of a day without some of its news; whoever is new stays, so that no young lacks a parent."""
        there = [name for name in records.animals if self.arrivals.animals[name] < day]
        past = evidence_on(self.arrivals, self.species.id, day - dt.timedelta(1), there)

        def of_animal(animal: Animal) -> Animal:
            is_new = animal.id not in past.animals
            if ((animal.litter, "") if animal.litter and is_new else ("", animal.id)) not in news:
                return animal
            return _nothing_seen(animal) if is_new else past.animals[animal.id]

        def of_litter(litter: Litter) -> Litter:
            return past.litters.get(litter.id, replace(litter, others=())) if (litter.id, "") in news else litter

        return replace(
            records,
            animals={name: of_animal(animal) for name, animal in records.animals.items()},
            litters={name: of_litter(litter) for name, litter in records.litters.items()},
        )


def _nothing_seen(animal: Animal) -> Animal:
    """An animal of which nothing was seen or tested yet."""
    unjudged = [Judged((), (), genes.judged.place, written=False) for genes in animal.genes]
    genes = zip(animal.genes, unjudged, strict=True)
    return replace(animal, genes=tuple(replace(own, judged=judged, tests=(), haplotypes=()) for own, judged in genes))


def _answer(asked: Asked, key: Key) -> Posterior:
    """The answer; empty where there is none."""
    found = asked.of(*key)
    return {} if isinstance(found, Impossible | TooTangled) else found


def answers_on(turns: Iterable[Turn], day: dt.date) -> Mapping[AnimalId, Mapping[str, Posterior]]:
    """Animal to locus to posterior as they stood at the end of a day; a locus without an answer is left out."""
    found: dict[AnimalId, dict[str, Posterior]] = {}
    for turn in turns:
        if turn.day <= day:
            for (animal, locus), posterior in turn.answers.items():
                found.setdefault(animal, {})[locus] = posterior
    return {animal: {locus: own[locus] for locus in own if own[locus]} for animal, own in found.items()}
