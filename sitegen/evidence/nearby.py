"""What an animal and its nearest relatives can tell at one locus: possible states, and what tells them apart."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextvars import ContextVar
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from itertools import product
from math import prod
from typing import TypeVar

from sitegen.content.animals import Animal
from sitegen.evidence.asking import Asked
from sitegen.evidence.gathered import LocusEvidence, Source
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Locus, Sex
from sitegen.genetics.observations import background
from sitegen.genetics.questions import AnimalId, Impossible, Observation, Tally, TooTangled, parents_of
from sitegen.genetics.transmission import Transmission

Pair = tuple[StateNumber, StateNumber]
_T = TypeVar("_T")
_ONE, _NONE = Fraction(1), Fraction(0)
_DEEPEST = 40
"""Generations that are followed down in one go; a pedigree may have any number of them."""
_depth: ContextVar[int] = ContextVar("depth", default=0)


class _TooDeep(Exception):  # noqa: N818 - ends one descent; never leaves this module
    """A question that is to be answered before the one that led to it."""

    def __init__(self, question: "tuple[AnimalId, AnimalId, tuple[StateNumber, ...]]") -> None:
        self.question = question
        super().__init__(question)


@dataclass(frozen=True, slots=True, eq=False)
class Nearby:
    """One locus of one species, with everything that was answered there; what is worked out is remembered.

    There is one for all animals as long as the answers stand, so what it remembers may name places too.
    """

    asked: Asked
    known: LocusEvidence
    locus: Locus
    place: int
    mode: Mode
    transmission: Transmission
    _memory: dict[tuple[str, object], object] = field(default_factory=dict)
    _states: dict[AnimalId, tuple[StateNumber, ...]] = field(default_factory=dict)

    def remembered(self, what: str, key: object, make: Callable[[], _T]) -> _T:
        """What was made under this name and key, or is made now."""
        full = what, key
        found: _T | None = self._memory.get(full)  # type: ignore[assignment]  # what was made under that name
        if found is None:
            self._memory[full] = found = make()
        return found

    def animal(self, animal: AnimalId) -> Animal:
        """The record."""
        return self.asked.evidence.collection.animals[animal]

    def of_sex(self, animal: AnimalId) -> tuple[StateNumber, ...]:
        """The states of animals of its sex: where sex is part of heredity, it is evidence like any other."""
        return self.mode.of_sex(self.asked.at(animal, self.locus.id).sex_of(animal))

    def young(self, animal: AnimalId) -> tuple[AnimalId, ...]:
        """Listed young, every possible parent counted."""
        return self.asked.evidence.young.get(animal, ())

    def sires(self, animal: AnimalId) -> tuple[AnimalId, ...]:
        """The sires that are still possible."""
        record = self.animal(animal)
        if len(record.sires) < 2:
            return tuple(sire for sire, _ in record.sires)
        key = record.litter if record.litter and not record.each_its_own_sire else animal
        found = self.asked.heredity[self.asked.by_locus[record.species, self.locus.id]].sires(key)
        return tuple(found) if not isinstance(found, Impossible | TooTangled) else tuple(s for s, _ in record.sires)

    def parents(self, animal: AnimalId) -> tuple[AnimalId, ...]:
        """Recorded parents, every sire that was named among them."""
        return parents_of(self.animal(animal))

    def ancestors(self, animal: AnimalId) -> Mapping[AnimalId, None]:
        """Everyone it descends from, nearest first."""
        parents = self.parents(animal)
        return self.remembered("ancestors", parents, lambda: _reached(animal, self.parents))

    def descendants(self, animal: AnimalId) -> Mapping[AnimalId, None]:
        """Everyone that descends from it, nearest first."""
        return _reached(animal, self.young)

    def own(self, animal: AnimalId) -> tuple[Observation, ...]:
        """Looks and tests of the animal itself."""
        said = self.known.said.get(animal)
        return said.observations if said else ()

    def sources(self, animal: AnimalId) -> tuple[Source, ...]:
        """The record of each of these, in their order."""
        said = self.known.said.get(animal)
        return said.sources if said else ()

    def weight(self, observations: Iterable[Observation | Tally], state: StateNumber) -> Fraction:
        """How likely all these observations are under a state."""
        genotype = self.mode.genotypes[state][self.place]
        chances = [seen.likelihood.get(genotype, _NONE) for seen in observations]
        return prod(chances[1:], start=chances[0]) if chances else _ONE

    def bears(self, observations: Iterable[Observation | Tally], state: StateNumber) -> bool:
        """True when all these observations are possible under a state."""
        genotype = self.mode.genotypes[state][self.place]
        return all(seen.likelihood.get(genotype) for seen in observations)

    def states(self, animal: AnimalId) -> tuple[StateNumber, ...]:
        """The states that are possible given everything; none when there is no answer."""
        found = self._states.get(animal)
        if found is None:
            possible = self.asked.at(animal, self.locus.id).possible([animal])
            found = self._states[animal] = tuple(sorted(key[0] for key in possible))
        return found

    def unrecorded(self, sex: Sex) -> tuple[StateNumber, ...]:
        """The states of a parent that is not recorded."""

        def make() -> tuple[StateNumber, ...]:
            return tuple(
                state
                for state in self.mode.of_sex(sex)
                if all(
                    background(locus, self.mode.states[state].sex or sex).get(genotype)
                    for locus, genotype in zip(self.mode.loci, self.mode.genotypes[state], strict=True)
                )
            )

        return self.remembered("unrecorded", sex, make)

    def pairs(self, animal: AnimalId) -> tuple[Pair, ...]:
        """The states of both parents that are possible together; empty for a founder."""
        dam, sires = self.animal(animal).dam, self.sires(animal)
        return self.remembered("pairs", (dam, sires), lambda: tuple(self._pairs(animal, dam, sires)))

    def _pairs(self, animal: AnimalId, dam: AnimalId | None, sires: tuple[AnimalId, ...]) -> Iterator[Pair]:
        if dam is None and not sires:
            return
        dams = self.unrecorded(Sex.FEMALE) if dam is None else self.states(dam)
        fathers = self._sire_states(sires)
        if dam is not None and len(sires) == 1 and len(dams) > 1 and len(fathers) > 1:
            found = self.asked.at(animal, self.locus.id).possible([dam, sires[0]])
            if found:
                yield from sorted((pair[0], pair[1]) for pair in found)
                return
        yield from product(dams, fathers)

    def _sire_states(self, sires: Sequence[AnimalId]) -> tuple[StateNumber, ...]:
        if not sires:
            return self.unrecorded(Sex.MALE)
        return tuple(sorted({state for sire in sires for state in self.states(sire)}))

    def reach(self, animal: AnimalId) -> tuple[StateNumber, ...]:
        """The states that it could have by its parents, or as a founder by its odds, whatever is seen of it."""

        def make() -> tuple[StateNumber, ...]:
            sex = self.animal(animal).sex
            if pairs := self.pairs(animal):
                found = {state for pair in pairs for state in self.transmission.young(*pair)}
                return tuple(sorted(found.intersection(self.of_sex(animal))))
            stated = self.known.question.priors.get(animal)
            return tuple(
                state
                for state in self.of_sex(animal)
                if (stated or background(self.locus, self.mode.states[state].sex or sex)).get(
                    self.mode.genotypes[state][self.place]
                )
            )

        return self.remembered("reach", animal, make)

    def decides(self, animal: AnimalId, seen: Observation) -> bool:
        """True when an observation tells apart what the animal could be by its parents and its other records."""
        others = [other for other in self.own(animal) if other is not seen]
        left = {self.weight([seen], state) for state in self.reach(animal) if self.bears(others, state)}
        return len(left) > 1

    def tallies(self, animal: AnimalId) -> tuple[Tally, ...]:
        """Young of the animal that are not listed, every possible parent counted."""

        def make() -> dict[AnimalId, list[Tally]]:
            found: dict[AnimalId, list[Tally]] = {}
            for tally in self.known.question.tallies:
                for parent in dict.fromkeys(parents_of(tally)):
                    found.setdefault(parent, []).append(tally)
            return found

        return tuple(self.remembered("tallies", None, make).get(animal, ()))

    def told(self, keys: Sequence[str]) -> list[Tally]:
        """The tallies of these keys, in record order."""
        if not keys:
            return []
        by_key = self.remembered(
            "rank of tally", None, lambda: {each.key: rank for rank, each in enumerate(self.known.question.tallies)}
        )
        return [self.known.question.tallies[rank] for rank in sorted(by_key[key] for key in keys)]

    def speaking(self, parents: tuple[AnimalId, ...]) -> tuple[tuple[AnimalId, ...], tuple[str, ...]]:
        """Of these animals: their listed young, and their tallies by key, that tell apart what one of them may be."""

        def make() -> tuple[tuple[AnimalId, ...], tuple[str, ...]]:
            listed: dict[AnimalId, None] = {}
            tallies: dict[str, None] = {}
            for parent in parents:
                states = self.states(parent)
                listed |= {young: None for young in self.young(parent) if self.young_speaks(young, parent, states)}
                tallies |= {each.key: None for each in self.tallies(parent) if self.tally_speaks(each, parent, states)}
            return tuple(listed), tuple(tallies)

        return self.remembered("speaking", parents, make)

    def young_speaks(self, young: AnimalId, parent: AnimalId, states: tuple[StateNumber, ...]) -> bool:
        """True when what is known of a young tells these states of its parent apart.

        A young whose genotype is settled speaks by it; any other by its own evidence, and by that of its young.
        """
        depth, waiting = _depth.get(), [(young, parent, states)]
        if depth >= _DEEPEST and ("young speaks", waiting[0]) not in self._memory:
            raise _TooDeep(waiting[0])
        token = _depth.set(depth + 1)
        try:
            while True:
                try:
                    found = self.remembered("young speaks", waiting[-1], partial(self._speaks, *waiting[-1]))
                except _TooDeep as deeper:
                    if depth:
                        raise
                    waiting.append(deeper.question)  # what lies many generations down is worked out first
                    continue
                waiting.pop()
                if not waiting:
                    return found
        finally:
            _depth.reset(token)

    def _speaks(self, young: AnimalId, parent: AnimalId, states: tuple[StateNumber, ...]) -> bool:
        record = self.animal(young)
        if len(states) < 2 or (record.dam != parent and parent not in self.sires(young)):
            return False
        settled = self.states(young)
        own = self.own(young)
        for rows in self._rows(record.dam == parent, record.dam, self.sires(young), states, self.of_sex(young)):
            if len(settled) == 1:
                if len({row.get(settled[0], _NONE) for row in rows}) > 1:
                    return True
                continue
            chances = {sum((share * self.weight(own, s) for s, share in row.items()), _NONE) for row in rows}
            reached = tuple(sorted({state for row in rows for state in row if self.bears(own, state)}))
            differs = any(row != rows[0] for row in rows)
            if len(chances) > 1 or (differs and self._descendants_speak(young, reached)):
                return True
        return False

    def _descendants_speak(self, animal: AnimalId, states: tuple[StateNumber, ...]) -> bool:
        return any(self.young_speaks(young, animal, states) for young in self.young(animal)) or any(
            self.tally_speaks(tally, animal, states) for tally in self.tallies(animal)
        )

    def tally_speaks(self, tally: Tally, parent: AnimalId, states: tuple[StateNumber, ...]) -> bool:
        """True when young that are not listed tell these states of their parent apart."""

        def make() -> bool:
            sires = tuple(sire for sire, _ in tally.sires)
            for rows in self._rows(tally.dam == parent, tally.dam, sires, states, self.mode.of_sex(tally.sex)):
                if len({sum((share * self.weight([tally], s) for s, share in row.items()), _NONE) for row in rows}) > 1:
                    return True
            return False

        return self.remembered("tally speaks", (tally.key, parent, states), make)

    def _rows(
        self,
        is_dam: bool,
        dam: AnimalId | None,
        sires: tuple[AnimalId, ...],
        states: tuple[StateNumber, ...],
        of_sex: tuple[StateNumber, ...],
    ) -> Iterator[list[dict[StateNumber, Fraction]]]:
        """For each state of the mate: what each of the parent's states gives with it, of the young's own sex alone."""
        dams = self.unrecorded(Sex.FEMALE) if dam is None else self.states(dam)
        mates = self._sire_states(sires) if is_dam else dams
        for mate in mates:
            pairs = [(state, mate) if is_dam else (mate, state) for state in states]
            yield [
                {state: share for state, share in self.transmission.young(*pair).items() if state in of_sex}
                for pair in pairs
            ]


def _reached(animal: AnimalId, further: Callable[[AnimalId], Sequence[AnimalId]]) -> dict[AnimalId, None]:
    found: dict[AnimalId, None] = {}
    waiting = list(further(animal))
    for one in waiting:
        if one not in found:
            found[one] = None
            waiting += further(one)
    return found


def nearby(asked: Asked, animal: AnimalId, locus: str) -> Nearby:
    """The surroundings of an animal at a locus of its species; the same for all its animals.

    Raises:
        KeyError: There is no such animal, or its species has no such locus.
    """
    species = asked.evidence.collection.animals[animal].species
    number = asked.by_locus[species, locus]
    found = asked.memory.get((Nearby, species, locus))
    if not isinstance(found, Nearby) or found.asked is not asked:
        mode = asked.heredity[number].mode
        place = next(rank for rank, each in enumerate(mode.loci) if each.id == locus)
        known = asked.evidence.loci[species, locus]
        found = Nearby(asked, known, mode.loci[place], place, mode, asked.transmissions[number])
        asked.memory[Nearby, species, locus] = found
    return found
