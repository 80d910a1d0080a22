"""Exact posteriors over the whole pedigree: questions in, an answer for each member out.

Several loci are tied to each other where it is not known who a litter's sire was: unlinked loci are independent only
once that is settled. What several loci say together is therefore a mixture (:func:`cases`): for each way to choose the
sires that matter to more than one of them, the loci stand side by side.

Conventions that change numbers:

- Young are recorded as born alive: what a pair gives is taken among its living young, for each pair of
  parental genotypes.
- A parent that is not a member is a separate founder for each young, with the odds of the species.
- A founder of which nothing is known has the wild type, unless the evidence needs more; see :func:`answer_all`.
- A litter of several possible sires has one of them, the same at all loci that are asked together; with
  ``each_its_own_sire`` every young has its own.
- Where sex is part of heredity, a member's sex is evidence like any other; unknown sexes are equally likely.
"""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product as combinations_of
from typing import TypeVar

from sitegen.genetics.evidence_at import part_of
from sitegen.genetics.factors import network_of
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Genotype, Sex
from sitegen.genetics.lowest import LIMIT, leading
from sitegen.genetics.questions import AnimalId, Choice, Impossible, LinkedQuestion, Posterior, Question, TooTangled
from sitegen.genetics.solving import Contradicted, Piece, Solved, agreement
from sitegen.genetics.transmission import states_in

ENTRIES_LIMIT = 3_000_000
"""Most table entries of one connected piece; measured: about 90 MB and one second a million."""

MOST_CASES = 20_000
"""Most ways to choose the sires that several loci share, before a pair is too tangled."""

_Key = TypeVar("_Key")
States = Mapping[tuple[StateNumber, ...], Fraction]
Failure = Impossible | TooTangled
Weighted = dict[tuple[tuple[StateNumber, ...], tuple[int, ...]], int]
"""(states of members, values of other variables) to weight."""


def answer(question: Question | LinkedQuestion, limit: int = ENTRIES_LIMIT) -> "Heredity":
    """The exact posteriors of all members at one locus or linked group, given all evidence in the question."""
    return answer_all([question], limit)[0]


def answer_all(
    questions: Sequence[Question | LinkedQuestion], limit: int = ENTRIES_LIMIT, rare: Fraction | None = None
) -> tuple["Heredity", ...]:
    """Answers to questions about the same animals, one each; they share who the sire of each litter was.

    What nobody wrote is taken as wild type. Families whose evidence cannot be true so are asked again in the limit in
    which unwritten copies become ever rarer: they are answered with as few of them as their evidence needs.

    Args:
        questions: All loci and linked groups of one species.
        limit: Most table entries of one connected piece of the network; beyond it the piece is too tangled.
        rare: The chance of an unwritten copy on one chromosome, where that is to be a number.

    Raises:
        ValueError: A question is not sound: unknown parents, cycles, repeated parents.
    """
    if rare is not None:
        return _answered(questions, limit, rare, None)
    taken_as_wild = _answered(questions, limit, Fraction(0), None)
    failures = [failure for each in taken_as_wild for failure in each.failures if isinstance(failure, Impossible)]
    surprised = {member for failure in failures for member in failure.members}
    return _answered(questions, limit, LIMIT, surprised) if surprised else taken_as_wild


def _answered(
    questions: Sequence[Question | LinkedQuestion], limit: int, rare: Fraction, opened: Collection[AnimalId] | None
) -> tuple["Heredity", ...]:
    parts = [part_of(question, rare, opened) for question in questions]
    solved = Solved(network_of(parts), parts, limit)
    return tuple(Heredity(solved, number) for number in range(len(parts)))


def agree(questions: Sequence[Question | LinkedQuestion], rare: Fraction) -> bool | TooTangled:
    """True when all evidence can be true at once, over all questions together; cheaper than an answer.

    Arguments as of :func:`answer_all`; ``rare`` 0 takes what nobody wrote as wild type.

    Raises:
        ValueError: A question is not sound.
    """
    parts = [part_of(question, rare) for question in questions]
    if any(part.impossible for part in parts):
        return False
    return agreement(network_of(parts), parts, ENTRIES_LIMIT)


class Heredity:
    """What is known of every member at a locus or linked group: question ``number`` of all that was asked together."""

    def __init__(self, solved: Solved, number: int) -> None:
        self.solved = solved
        self.number = number
        self._part = solved.parts[number]
        self._places = {locus.id: place for place, locus in enumerate(self._part.mode.loci)}
        self._told: dict[tuple[object, ...], Posterior] = {}
        self._impossible = set(self._part.impossible)
        for variable, outcome in enumerate(solved.outcomes):
            owner = solved.network.owner[variable]
            if isinstance(outcome, Contradicted) and number in outcome.parts and owner and owner[0] == number:
                self._impossible.add(self._part.pedigree.family_of[owner[1]])
        for variable, sires in solved.network.choices.values():
            if (number, variable) in solved.spoilt and sires:
                self._impossible.add(self._family_of(sires[0]))

    @property
    def opened(self) -> tuple[tuple[AnimalId, ...], ...]:
        """The families in which unwritten copies were thought of."""
        pedigree = self._part.pedigree
        families = (pedigree.families[family] for family in sorted(self._part.opened))
        return tuple(tuple(pedigree.ids[number] for number in family) for family in families)

    @property
    def mode(self) -> Mode:
        """What runs in this locus or group; its states number those of :meth:`states`."""
        return self._part.mode

    @property
    def failures(self) -> tuple[Failure, ...]:
        """What could not be answered: each contradicted family, each piece that is too tangled."""
        found: list[Failure] = [self._family(number) for number in sorted(self._impossible)]
        for variable, outcome in enumerate(self.solved.outcomes):
            owner = self.solved.network.owner[variable]
            if owner and owner[0] == self.number and isinstance(outcome, TooTangled) and outcome not in found:
                found.append(outcome)
        return tuple(found)

    def contradicted(self, member: AnimalId) -> Impossible | None:
        """The member's family, if its evidence contradicts itself.

        Raises:
            KeyError: There is no such member.
        """
        family = self._family_of(member)
        return self._family(family) if family in self._impossible else None

    def sex_of(self, member: AnimalId) -> Sex:
        """The recorded sex; of a parent whose sex is not recorded the one that it must have.

        Raises:
            KeyError: There is no such member.
        """
        return self._part.pedigree.sexes[self._part.pedigree.position[member]]

    def of(self, member: AnimalId, locus: str = "") -> Posterior | Impossible | TooTangled:
        """The member's posterior at a locus of a linked group (the first when left out), or why there is none.

        Raises:
            KeyError: There is no such member or locus.
        """
        at = self._places[locus] if locus else 0
        weights = self._weights([member])
        if isinstance(weights, Impossible | TooTangled):
            return weights
        key = (at, *weights, *weights.values())
        if key not in self._told:
            sums: dict[Genotype, int] = {}
            for (state,), weight in weights.items():
                genotype = self.mode.genotypes[state][at]
                sums[genotype] = sums.get(genotype, 0) + weight
            self._told[key] = _chances(sums)
        return self._told[key]

    def states(self, members: Sequence[AnimalId]) -> States | Impossible | TooTangled:
        """Chance of each combination of states of some members, in their order; sums to 1, none is 0.

        States are those of :attr:`mode`: they know phase and sex.

        Raises:
            KeyError: There is no such member.
        """
        weights = self._weights(members)
        return weights if isinstance(weights, Impossible | TooTangled) else _chances(weights)

    def possible(self, members: Sequence[AnimalId]) -> list[tuple[StateNumber, ...]]:
        """The combinations of states in :meth:`states`; none where there is no answer."""
        weights = self._weights(members)
        return [] if isinstance(weights, Impossible | TooTangled) else [key for key in weights if weights[key]]

    def pairs(self, dam: AnimalId, sire: AnimalId) -> States | Impossible | TooTangled:
        """Chances of two members' states as dam and sire of planned young; an unknown sex is taken as the one needed.

        Raises:
            KeyError: There is no such member.
        """
        weights = self._weights([dam, sire])
        if isinstance(weights, Impossible | TooTangled):
            return weights
        sexes = [state.sex for state in self.mode.states]
        return _chances(
            {
                pair: weight
                for pair, weight in weights.items()
                if not self.mode.has_sex or [sexes[number] for number in pair] == [Sex.FEMALE, Sex.MALE]
            }
        )

    def sires(self, litter: str) -> Mapping[AnimalId, Fraction] | Impossible | TooTangled:
        """Which of several possible sires it was: of a litter, or of one young (its id) that has its own.

        Given the evidence of all questions that were asked together.

        Raises:
            KeyError: No such litter or young has several possible sires.
        """
        network = self.solved.network
        choice: Choice = ("litter", litter) if ("litter", litter) in network.choices else ("young", litter)
        if choice not in network.choices:
            return self._no_choice(litter)
        variable, sires = network.choices[choice]
        outcome = self.solved.outcomes[variable]
        match outcome:
            case Piece():
                weights = leading(outcome.tree.marginal(outcome.local[variable]))
                total = sum(weights)
                return {sire: Fraction(weight, total) for sire, weight in zip(sires, weights, strict=True) if weight}
            case TooTangled():
                return outcome
            case _:
                return self._family(self._family_of(sires[0]))

    def _no_choice(self, litter: str) -> Impossible:
        for member in self._part.members:
            if litter in (member.litter, member.id) and len(member.sires) > 1:
                return self._family(self._family_of(member.id))
        raise KeyError(litter)

    def _family_of(self, member: AnimalId) -> int:
        return self._part.pedigree.family_of[self._part.pedigree.position[member]]

    def _family(self, family: int) -> Impossible:
        pedigree = self._part.pedigree
        return Impossible(tuple(pedigree.ids[number] for number in pedigree.families[family]))

    def _weights(self, members: Sequence[AnimalId]) -> dict[tuple[StateNumber, ...], int] | Failure:
        if len(members) == 1 and (alone := self._weights_of(members[0])) is not None:
            return alone
        found = self.weights_with(members, ())
        return (
            found
            if isinstance(found, Impossible | TooTangled)
            else {states: weight for (states, _), weight in found.items()}
        )

    def _weights_of(self, member: AnimalId) -> dict[tuple[StateNumber, ...], int] | None:
        """Weights of one member's states, as the tree of its piece has them; None where there is no such tree."""
        number = self._part.pedigree.position[member]
        if self._part.pedigree.family_of[number] in self._impossible:
            return None
        states = states_in(self._part.possible[number])
        variable = self.solved.network.of_member.get((self.number, number))
        if variable is None:
            return {states[:1]: 1}
        outcome = self.solved.outcomes[variable]
        if not isinstance(outcome, Piece):
            return None
        weights = leading(outcome.tree.marginal(outcome.local[variable]))
        return {(state,): weight for state, weight in zip(states, weights, strict=True)}

    def weights_with(self, members: Sequence[AnimalId], others: Sequence[int]) -> Weighted | Failure:
        """Weights of combinations of the members' states and of the values of other variables of the network.

        Raises:
            KeyError: There is no such member.
        """
        numbers = [self._part.pedigree.position[member] for member in members]
        for member in members:
            if failure := self.contradicted(member):
                return failure
        of_member = self.solved.network.of_member
        open_ = [number for number in dict.fromkeys(numbers) if (self.number, number) in of_member]
        values: Sequence[int] | TooTangled = [1]
        if open_ or others:
            values = self.solved.joint([*(of_member[self.number, number] for number in open_), *others])
        if isinstance(values, TooTangled):
            return values
        states = {number: states_in(self._part.possible[number]) for number in numbers}
        settled = {number: found[0] for number, found in states.items()}
        other_values = list(combinations_of(*(range(self.solved.network.sizes[other]) for other in others)))
        weights: dict[tuple[tuple[StateNumber, ...], tuple[int, ...]], int] = {}
        keys = combinations_of(combinations_of(*(states[number] for number in open_)), other_values)
        for (open_states, other), weight in zip(keys, leading(values), strict=True):
            known = settled | dict(zip(open_, open_states, strict=True))
            weights[tuple(known[number] for number in numbers), other] = weight
        return weights


def _chances(weights: Mapping[_Key, int]) -> dict[_Key, Fraction]:
    """The one division: weights over their sum, without those of 0."""
    total = sum(weights.values())
    return {key: Fraction(weight, total) for key, weight in weights.items() if weight}


@dataclass(frozen=True, slots=True)
class Case:
    """One way in which the sires may have been chosen, with its chance (all cases together have 1).

    ``states`` has for each of the answers the joint of the members' states; within a case they are independent.
    """

    chance: Fraction
    states: tuple[States, ...]


def cases(answers: Sequence[Heredity], members: Sequence[AnimalId]) -> tuple[Case, ...] | Failure:
    """Joint of some members, such as a dam and a sire, at all loci of several answers; or the first failure of these.

    It is a mixture of cases, a single one if no doubtful sire ties the answers, of which there is at least one.

    Raises:
        KeyError: There is no such member.
        ValueError: The answers are not from one call of :func:`answer_all`, and choices of sire may tie them.
    """
    together = all(one.solved is answers[0].solved for one in answers)
    if not together and any(one.solved.network.choices for one in answers):
        raise ValueError("cases need answers that were asked together")
    shared = _shared_choices(answers, members) if together else ()
    sizes = answers[0].solved.network.sizes
    if math.prod(sizes[choice] for choice in shared) > MOST_CASES:
        return TooTangled(tuple(members), math.prod(sizes[choice] for choice in shared))
    by_answer: list[dict[tuple[int, ...], dict[tuple[StateNumber, ...], int]]] = []
    for one in answers:
        weights = one.weights_with(members, shared)
        if isinstance(weights, Impossible | TooTangled):
            return weights
        split: dict[tuple[int, ...], dict[tuple[StateNumber, ...], int]] = {}
        for (states, chosen), weight in weights.items():
            if weight:
                split.setdefault(chosen, {})[states] = weight
        by_answer.append(split)
    whole = {chosen: sum(found.values()) for chosen, found in by_answer[0].items()}
    total = sum(whole.values())
    return tuple(
        Case(Fraction(weight, total), tuple(_chances(split[chosen]) for split in by_answer))
        for chosen, weight in sorted(whole.items())
    )


def _shared_choices(answers: Sequence[Heredity], members: Sequence[AnimalId]) -> tuple[int, ...]:
    """Choices of sire, not settled, given which no answer says anything of the members at the loci of another."""
    solved = answers[0].solved
    tied: dict[object, list[set[int]]] = {}
    for one in answers:
        position = solved.parts[one.number].pedigree.position
        keys = [(one.number, position[member]) for member in members]
        variables = [solved.network.of_member[key] for key in keys if key in solved.network.of_member]
        own: dict[object, set[int]] = {}
        for choice in solved.choices_beside(variables, one.number):
            if _is_open(answers[0], choice):
                own.setdefault(solved.outcomes[choice], set()).add(choice)
        for where, choices in own.items():
            tied.setdefault(where, []).append(choices)
    # Choices of one piece may hang together through loci that nobody asked for. Given all of its own, an answer is
    # independent of all others: so those of one answer in each piece, here of most, may stay open.
    return tuple(sorted({choice for each in tied.values() for own in sorted(each, key=len)[:-1] for choice in own}))


def _is_open(answers: Heredity, choice: int) -> bool:
    outcome = answers.solved.outcomes[choice]
    return isinstance(outcome, Piece) and sum(map(bool, outcome.tree.marginal(outcome.local[choice]))) > 1
