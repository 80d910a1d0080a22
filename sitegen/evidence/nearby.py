"""What an animal and its nearest relatives can tell at one locus: possible states, and what tells them apart."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product
from math import prod

from sitegen.content.animals import Animal
from sitegen.evidence.asking import Asked
from sitegen.evidence.gathered import LocusEvidence, LocusGroup, Source, family_of, reached
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Genotype, Locus, Sex
from sitegen.genetics.network import Heredity
from sitegen.genetics.observations import background
from sitegen.genetics.questions import AnimalId, Impossible, Member, Observation, Tally, TooTangled, parents_of
from sitegen.genetics.transmission import Transmission

Pair = tuple[StateNumber, StateNumber]
States = tuple[StateNumber, ...]
_ONE, _NONE = Fraction(1), Fraction(0)


@dataclass(frozen=True, slots=True, eq=False)
class Nearby:
    """One locus of one species, with everything that was answered there.

    There is one for all its animals. Relatives ask each other over and over, so what is possible for an animal, and
    what its young tell, is remembered.

    Attributes:
        place: Its rank in the linked group.
        counted: Parent to its young that are not listed.
        members: All its animals and unrecorded parents.
        alone: Two parents to what they may be by their own and their ancestors' evidence, one for all littermates.
    """

    asked: Asked
    known: LocusEvidence
    locus: Locus
    place: int
    mode: Mode
    transmission: Transmission
    counted: Mapping[AnimalId, Sequence[Tally]]
    members: Mapping[AnimalId, Member]
    alone: dict[tuple[AnimalId, ...], Mapping[States, Fraction] | Impossible | TooTangled] = field(default_factory=dict)
    _states: dict[AnimalId, States] = field(default_factory=dict)
    _pairs: dict[tuple[AnimalId | None, tuple[AnimalId, ...]], Sequence[Pair]] = field(default_factory=dict)
    _speaking: dict[tuple[AnimalId, ...], tuple[tuple[AnimalId, ...], tuple[Tally, ...]]] = field(default_factory=dict)
    _speaks: dict["_Question", bool] = field(default_factory=dict)

    @property
    def group(self) -> LocusGroup:
        """What is asked at the locus, with its linked group."""
        return self.asked.evidence.units[self.asked.by_locus[self.known.species, self.locus.id]]

    @property
    def heredity(self) -> Heredity:
        """The solved network of the locus."""
        return self.asked.heredity[self.asked.by_locus[self.known.species, self.locus.id]]

    def family(self, animal: AnimalId) -> tuple[AnimalId, ...]:
        """All animals that are connected to this one, in record order."""
        return family_of(self.group.question, animal)

    def animal(self, animal: AnimalId) -> Animal:
        """The record."""
        return self.asked.evidence.collection.animals[animal]

    def of_sex(self, animal: AnimalId) -> States:
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
        found = self.asked.at(animal, self.locus.id).sires(key)
        return tuple(found) if not isinstance(found, Impossible | TooTangled) else tuple(s for s, _ in record.sires)

    def couple(self, animal: AnimalId) -> tuple[AnimalId | None, tuple[AnimalId, ...]]:
        """Dam and sires that are still possible, an unrecorded one as the member that stands for it."""
        member = self.members[animal]
        return member.dam, self.sires(animal) or tuple(sire for sire, _ in member.sires)

    def unrecorded_parents(self, animal: AnimalId) -> tuple[AnimalId, ...]:
        """The members that stand for parents of which there is no record."""
        return tuple(each for each in parents_of(self.members[animal]) if not self.members[each].recorded)

    def parents(self, animal: AnimalId) -> tuple[AnimalId, ...]:
        """Recorded parents, every sire that was named among them."""
        return parents_of(self.animal(animal))

    def ancestors(self, animal: AnimalId) -> Mapping[AnimalId, None]:
        """Everyone it descends from, nearest first."""
        return reached(self.parents(animal), self.parents)

    def descendants(self, animal: AnimalId) -> Mapping[AnimalId, None]:
        """Everyone that descends from it, nearest first."""
        return reached(self.young(animal), self.young)

    def own(self, animal: AnimalId) -> tuple[Observation, ...]:
        """Looks and tests of the animal itself."""
        return self.known.said[animal].observations

    def sources(self, animal: AnimalId) -> tuple[Source, ...]:
        """The record of each of these, in their order."""
        return self.known.said[animal].sources

    def genotypes(self, states: Iterable[StateNumber]) -> tuple[Genotype, ...]:
        """The genotypes at the locus of these states."""
        return tuple(self.mode.genotypes[state][self.place] for state in states)

    def weight(self, observations: Iterable[Observation | Tally], state: StateNumber) -> Fraction:
        """How likely all these observations are under a state."""
        genotype = self.mode.genotypes[state][self.place]
        chances = [seen.likelihood.get(genotype, _NONE) for seen in observations]
        return prod(chances[1:], start=chances[0]) if chances else _ONE

    def bears(self, observations: Iterable[Observation | Tally], state: StateNumber) -> bool:
        """True when all these observations are possible under a state."""
        genotype = self.mode.genotypes[state][self.place]
        return all(seen.likelihood.get(genotype) for seen in observations)

    def likelihood(self, observations: Sequence[Observation | Tally], odds: Mapping[StateNumber, Fraction]) -> Fraction:
        """How likely all these observations are of an animal of which the chance of each state is known."""
        return sum((chance * self.weight(observations, state) for state, chance in odds.items()), _NONE)

    def states(self, animal: AnimalId) -> States:
        """The states that are possible given everything; none when there is no answer."""
        found = self._states.get(animal)
        if found is None:
            possible = self.heredity.possible([animal])
            found = self._states[animal] = tuple(sorted(key[0] for key in possible))
        return found

    def unrecorded(self, sex: Sex) -> States:
        """The states of a parent for which no member stands: a sire of counted young that may have one each."""
        return tuple(
            state
            for state in self.mode.of_sex(sex)
            if all(
                background(locus, self.mode.states[state].sex or sex).get(genotype)
                for locus, genotype in zip(self.mode.loci, self.mode.genotypes[state], strict=True)
            )
        )

    def pairs(self, animal: AnimalId) -> Sequence[Pair]:
        """The states of both parents that are possible together; empty for a founder."""
        parents = self.couple(animal)
        if parents not in self._pairs:
            self._pairs[parents] = self._pairs_of(*parents)
        return self._pairs[parents]

    def _pairs_of(self, dam: AnimalId | None, sires: tuple[AnimalId, ...]) -> Sequence[Pair]:
        if dam is None:
            return ()
        dams, fathers = self.states(dam), self._sire_states(sires)
        if len(sires) == 1 and len(dams) > 1 and len(fathers) > 1:
            found = self.heredity.possible([dam, sires[0]])
            if found:
                return sorted((pair[0], pair[1]) for pair in found)
        return list(product(dams, fathers))

    def _sire_states(self, sires: Sequence[AnimalId]) -> States:
        if not sires:
            return self.unrecorded(Sex.MALE)
        return tuple(sorted({state for sire in sires for state in self.states(sire)}))

    def reach(self, animal: AnimalId) -> States:
        """The states that it could have by its parents, or as a founder by its odds, whatever is seen of it."""
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

    def decides(self, animal: AnimalId, seen: Observation) -> bool:
        """True when an observation tells apart what the animal could be by its parents and its other records."""
        others = [other for other in self.own(animal) if other is not seen]
        left = {self.weight([seen], state) for state in self.reach(animal) if self.bears(others, state)}
        return len(left) > 1

    def tallies(self, animal: AnimalId) -> Sequence[Tally]:
        """Young of the animal that are not listed, every possible parent counted."""
        return self.counted.get(animal, ())

    def speaking(self, parents: tuple[AnimalId, ...]) -> tuple[tuple[AnimalId, ...], tuple[Tally, ...]]:
        """Of these animals: their listed young, and those that are not listed, that tell apart what one may be."""
        if parents not in self._speaking:
            listed: dict[AnimalId, None] = {}
            told: set[str] = set()
            for parent in parents:
                states = self.states(parent)
                listed |= {young: None for young in self.young(parent) if self.young_speaks(young, parent, states)}
                told |= {each.key for each in self.tallies(parent) if self._tally_speaks(each, parent, states)}
            tallies = tuple(each for each in self.known.question.tallies if each.key in told) if told else ()
            self._speaking[parents] = tuple(listed), tallies
        return self._speaking[parents]

    def young_speaks(self, young: AnimalId, parent: AnimalId, states: States) -> bool:
        """True when what is known of a young tells these states of its parent apart.

        A young whose genotype is settled speaks by it; any other by its own evidence, and by that of its young. A line
        may have any number of generations, so they are followed by a list and not by recursion.
        """
        first = young, parent, states
        asked_by: dict[_Question, _Question | None] = {first: None}
        waiting = [first]
        while waiting:
            here: _Question | None = waiting.pop()
            assert here is not None
            speaks, further = (self._speaks[here], ()) if here in self._speaks else self._told_by(*here)
            if speaks:
                while here is not None:  # and so does everybody in the line down to it
                    self._speaks[here] = True
                    here = asked_by[here]
                return True
            waiting += [each for each in further if each not in asked_by]
            asked_by |= {each: here for each in further if each not in asked_by}
        self._speaks.update(dict.fromkeys(asked_by, False))
        return False

    def _told_by(self, young: AnimalId, parent: AnimalId, states: States) -> tuple[bool, Sequence["_Question"]]:
        """Whether a young tells these states apart by itself; else what its own young would have to tell apart."""
        dam, sires = self.couple(young)
        if len(states) < 2 or (dam != parent and parent not in sires):
            return False, ()
        settled, own = self.states(young), self.own(young)
        further: list[_Question] = []
        for rows in self._rows(dam == parent, dam, sires, states, self.of_sex(young)):
            if len(settled) == 1:
                if len({row.get(settled[0], _NONE) for row in rows}) > 1:
                    return True, ()
                continue
            if len({self.likelihood(own, row) for row in rows}) > 1:
                return True, ()
            if any(row != rows[0] for row in rows):
                left = tuple(sorted({state for row in rows for state in row if self.bears(own, state)}))
                if any(self._tally_speaks(tally, young, left) for tally in self.tallies(young)):
                    return True, ()
                further += [(each, young, left) for each in self.young(young)]
        return False, further

    def _tally_speaks(self, tally: Tally, parent: AnimalId, states: States) -> bool:
        """True when young that are not listed tell these states of their parent apart."""
        sires = tuple(sire for sire, _ in tally.sires)
        for rows in self._rows(tally.dam == parent, tally.dam, sires, states, self.mode.of_sex(tally.sex)):
            if len({self.likelihood([tally], row) for row in rows}) > 1:
                return True
        return False

    def _rows(
        self, is_dam: bool, dam: AnimalId | None, sires: tuple[AnimalId, ...], states: States, of_sex: States
    ) -> Iterator[list[dict[StateNumber, Fraction]]]:
        """For each state of the mate: what each of the parent's states gives with it, of the young's own sex alone."""
        mates = self._sire_states(sires) if is_dam or dam is None else self.states(dam)
        for mate in mates:
            pairs = [(state, mate) if is_dam else (mate, state) for state in states]
            yield [
                {state: share for state, share in self.transmission.young(*pair).items() if state in of_sex}
                for pair in pairs
            ]


_Question = tuple[AnimalId, AnimalId, States]
"""A young, a parent of it, and states of the parent: does the young tell them apart?"""


def nearby(asked: Asked, animal: AnimalId, locus: str) -> Nearby:
    """The surroundings of an animal at a locus of its species; the same for all its animals.

    Raises:
        KeyError: There is no such animal, or its species has no such locus.
    """
    species = asked.evidence.collection.animals[animal].species
    number = asked.by_locus[species, locus]
    found = asked.memory.get((Nearby, species, locus))
    if not isinstance(found, Nearby):
        mode = asked.heredity[number].mode
        place = next(rank for rank, each in enumerate(mode.loci) if each.id == locus)
        known = asked.evidence.loci[species, locus]
        counted: dict[AnimalId, list[Tally]] = {}
        members = {member.id: member for member in known.question.members}
        for tally in known.question.tallies:
            for parent in dict.fromkeys(parents_of(tally)):
                counted.setdefault(parent, []).append(tally)
        found = Nearby(asked, known, mode.loci[place], place, mode, asked.transmissions[number], counted, members)
        asked.memory[Nearby, species, locus] = found
    return found
