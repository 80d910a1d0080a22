"""Worlds drawn from the joint posterior of some members: what all of them are together, given all evidence.

Each piece of a network was solved by eliminating one variable after the other. Gone through backwards, the same tables
give every variable's chances given those that are drawn already, so that each world has exactly its chance and no table
of all members together is ever made. Loci that share who the sires were are drawn in one piece.

Source: forward filtering and backward sampling on a junction tree, Dawid AP (1992) Stat Comput 2:25-36 (from memory).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import prod

import numpy as np
from numpy.typing import NDArray

from sitegen.genetics.dice import CERTAIN, Dice, Values, Words, pick, thresholds
from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.loci import Sex
from sitegen.genetics.lowest import leading
from sitegen.genetics.network import Failure, Heredity
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.genetics.solving import Hanging, Piece, Solved
from sitegen.genetics.tables import Table, spread
from sitegen.genetics.transmission import states_in
from sitegen.genetics.tree import Single, Tree

States = NDArray[np.uint8] | NDArray[np.uint16]
_Place = tuple[int, States]
"""The position of a member's step, -1 where it is settled, and the state that each value stands for."""


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """One variable, given some that are drawn before it.

    Attributes:
        given: Positions of their steps.
        sizes: Number of values: its own, then those of ``given``.
        weights: Over (its own value, theirs), the last fastest.
    """

    given: tuple[int, ...]
    sizes: tuple[int, ...]
    weights: Sequence[int]

    @property
    def n_rows(self) -> int:
        """How many combinations of values the variables before it have."""
        return prod(self.sizes[1:])

    def row(self, number: int) -> Sequence[int]:
        """Weights of its values under one combination of theirs; all 0 where that never comes up."""
        return leading(self.weights[number :: self.n_rows])

    def drawn(self, before: Sequence[Values], words: Words) -> Values:
        """Its value in each world, from those of all steps before it."""
        rows = np.zeros(len(words), dtype=np.intp)
        for position, size in zip(self.given, self.sizes[1:], strict=True):
            rows *= size
            rows += before[position]
        used: Sequence[int] = range(self.n_rows)
        if self.n_rows > len(words):  # most of them do not come up
            found, rows = np.unique(rows, return_inverse=True)
            used = found.tolist()
        never = (CERTAIN,) * self.sizes[0]
        table = [thresholds(row) if any(row := self.row(number)) else never for number in used]
        return pick(np.array(table, dtype=np.uint32), rows if self.given else None, words)


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """All that is to be drawn in its order, made ready; ``places`` has for each answer where to read each member."""

    steps: tuple[Step, ...]
    places: tuple[tuple[_Place, ...], ...]

    def drawn(self, n: int, dice: Dice, stream: tuple[int, ...]) -> list[States]:
        """``n`` worlds; of more, these are still the first.

        Returns:
            One array for each answer, of shape (members, n): numbers of states of its mode.
        """
        values: list[Values] = []
        for lane, step in enumerate(self.steps):
            values.append(step.drawn(values, dice.words(stream, n, lane)))
        values.append(np.zeros(n, np.uint8))  # of whoever is settled
        return [np.array([states[values[at]] for at, states in places]) for places in self.places]


def drawn(
    answers: Sequence[Heredity],
    members: Sequence[AnimalId],
    n: int,
    dice: Dice,
    stream: tuple[int, ...],
    sexes: Mapping[AnimalId, Sex] | None = None,
) -> list[States] | Failure:
    """What some members are together in each of ``n`` worlds; see :func:`drawing` and :meth:`Drawing.drawn`."""
    found = drawing(answers, members, sexes)
    return found.drawn(n, dice, stream) if isinstance(found, Drawing) else found


def drawing(
    answers: Sequence[Heredity], members: Sequence[AnimalId], sexes: Mapping[AnimalId, Sex] | None = None
) -> Drawing | Failure:
    """The joint posterior of some members at all loci of several answers, ready to be drawn; or why there is none.

    There is none if a member has no answer at one of the loci or cannot be of its sex. Members that are added at the
    end leave what is drawn of the others as it is. Worlds are drawn given the ``sexes`` that are part of heredity; what
    other members have is left open.

    Raises:
        KeyError: There is no such member.
        ValueError: The answers are not from one call of ``answer_all``, and choices of sire may tie them.
    """
    solved = {id(one.solved) for one in answers}
    if len(solved) > 1 and any(one.solved.network.choices for one in answers):
        raise ValueError("worlds need answers that were asked together")
    try:
        return _Backwards(answers, members, sexes or {}).drawing()
    except _NotDrawn as reason:
        return reason.failure


class _NotDrawn(Exception):  # noqa: N818
    """Something cannot be drawn."""

    def __init__(self, failure: Failure) -> None:
        self.failure = failure


_Key = tuple[Piece | Solved, int]
"""A variable: of a piece by its number there, or left out of all pieces by its number in the network."""


class _Backwards:
    """Goes from each member's variable to those that are to be drawn before it."""

    def __init__(self, answers: Sequence[Heredity], members: Sequence[AnimalId], sexes: Mapping[AnimalId, Sex]) -> None:
        self._answers = answers
        self._members = members
        self._positions: dict[_Key, int] = {}
        self._steps: list[Step] = []
        self._trees: dict[Piece, Tree | Single] = {}
        for failure in (one.contradicted(member) for one in answers for member in members):
            if failure:
                raise _NotDrawn(failure)
        for one in answers:
            if one.mode.has_sex:
                self._condition(one, sexes)

    def drawing(self) -> Drawing:
        """All steps; those that an earlier member needs stand before those of a later one."""
        places: list[list[_Place]] = [[] for _ in self._answers]
        for member in self._members:
            for own, one in zip(places, self._answers, strict=True):
                variable, states = self._variable(one, member)
                small = len(one.mode.states) <= 2**8
                numbers: States = np.array(states, np.uint8) if small else np.array(states, np.uint16)
                own.append((-1 if variable is None else self._reach(self._key(one.solved, variable)), numbers))
        return Drawing(tuple(self._steps), tuple(map(tuple, places)))

    @staticmethod
    def _variable(one: Heredity, member: AnimalId) -> tuple[int | None, tuple[StateNumber, ...]]:
        """The member's variable, if it is not settled, and the states that its values stand for."""
        part = one.solved.parts[one.number]
        number = part.pedigree.position[member]
        return one.solved.network.of_member.get((one.number, number)), states_in(part.possible[number])

    def _key(self, solved: Solved, variable: int) -> _Key:
        match outcome := solved.outcomes[variable]:
            case Piece():
                return outcome, outcome.local[variable]
            case Hanging():
                return solved, variable
            case _:
                assert isinstance(outcome, TooTangled)  # contradicted families were refused before
                raise _NotDrawn(outcome)

    def _condition(self, one: Heredity, sexes: Mapping[AnimalId, Sex]) -> None:
        """Take each member as being of the sex that it is to have."""
        evidence: dict[Piece, dict[int, list[int]]] = {}
        for member in self._members:
            if (sex := sexes.get(member, Sex.UNKNOWN)) is Sex.UNKNOWN:
                continue
            variable, states = self._variable(one, member)
            mask = [int(one.mode.states[state].sex is sex) for state in states]
            if not any(mask):
                raise _NotDrawn(Impossible((member,)))
            if variable is None or all(mask):
                continue
            place, number = self._key(one.solved, variable)
            if not isinstance(place, Piece):  # left out of its piece, which its sex might say something of
                raise _NotDrawn(TooTangled((member,), 0))
            evidence.setdefault(place, {})[number] = mask
        for piece, own in evidence.items():
            tree = self._trees[piece] = self._trees.get(piece, piece.tree).given(own)
            if not tree.total:
                raise _NotDrawn(Impossible(tuple(member for member in self._members if member in sexes)))

    def _reach(self, wanted: _Key) -> int:
        """The position of a variable's step, which is made after those of all variables that it hangs on."""
        made: dict[_Key, tuple[Sequence[int], list[_Key]]] = {}
        waiting = [wanted]
        while waiting:
            key = waiting[-1]
            if key in self._positions:
                waiting.pop()
                continue
            weights, others = made[key] = made.get(key) or self._weights(key)
            if missing := [other for other in others if other not in self._positions]:
                waiting += missing
                continue
            given = tuple(self._positions[other] for other in others)
            sizes = [self._steps[position].sizes[0] for position in given]
            self._positions[key] = len(self._steps)
            self._steps.append(Step(given, (len(weights) // prod(sizes), *sizes), weights))
        return self._positions[wanted]

    def _weights(self, key: _Key) -> tuple[Sequence[int], list[_Key]]:
        """Weights of a variable given others, the last of these fastest, and the others."""
        place, number = key
        if isinstance(place, Piece):
            table = self._trees.get(place, place.tree).conditional(number)
            return table.values, [(place, other) for other in table.scope[1:]]
        outcome = place.outcomes[number]
        assert isinstance(outcome, Hanging)
        own = Table(outcome.factor.scope, outcome.factor.values())
        scope = (number, *(other for other in own.scope if other != number))
        values = spread(own, scope, tuple(place.network.sizes[other] for other in scope))
        return values, [self._key(place, other) for other in scope[1:]]
