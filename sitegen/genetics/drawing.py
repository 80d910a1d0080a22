"""Worlds drawn from the joint posterior of some members: what all of them are together, given all evidence.

Each piece of a network was solved by eliminating one variable after the other. Gone through backwards, the same tables
give every variable's chances given those that are drawn already, so that each world has exactly its chance and no table
of all members together is ever made. Loci that share who the sires were are drawn in one piece.

Source: forward filtering and backward sampling on a junction tree, Dawid AP (1992) Stat Comput 2:25-36 (from memory).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import prod

import numpy as np
from numpy.typing import NDArray

from sitegen.genetics.dice import CERTAIN, Dice, Values, Words, pick, thresholds
from sitegen.genetics.gametes import Mode, StateNumber
from sitegen.genetics.loci import Sex
from sitegen.genetics.lowest import leading
from sitegen.genetics.network import Failure, Heredity
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.genetics.solving import Hanging, Piece, Solved
from sitegen.genetics.tables import Table, spread
from sitegen.genetics.transmission import states_in
from sitegen.genetics.tree import Single, Tree

_MOST_ROWS = 4096
"""Tables with more rows have thresholds for those alone that come up."""

States = NDArray[np.uint8] | NDArray[np.uint16]
_Place = tuple[int | None, tuple[StateNumber, ...]]


@dataclass(frozen=True, eq=False)
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

    def _thresholds(self, numbers: Sequence[int]) -> NDArray[np.uint32]:
        never = (CERTAIN,) * self.sizes[0]
        rows = (thresholds(row) if any(row := self.row(number)) else never for number in numbers)
        return np.array([*rows], dtype=np.uint32)

    @cached_property
    def _all(self) -> NDArray[np.uint32]:
        return self._thresholds(range(self.n_rows))

    def drawn(self, before: Sequence[Values], words: Words) -> Values:
        """Its value in each world, from those of all steps before it."""
        if not self.given:
            return pick(self._all, None, words)
        rows = np.zeros(len(words), dtype=np.intp)
        for position, size in zip(self.given, self.sizes[1:], strict=True):
            rows *= size
            rows += before[position]
        if self.n_rows <= _MOST_ROWS:
            return pick(self._all, rows, words)
        found, rows = np.unique(rows, return_inverse=True)
        return pick(self._thresholds(found.tolist()), rows, words)


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """All that is to be drawn, made ready.

    Attributes:
        steps: In the order in which they are drawn.
        places: For each answer and each member the position of its step, None where it is settled, and the state that
            each value stands for.
        modes: Of the answers.
    """

    steps: tuple[Step, ...]
    places: tuple[tuple[_Place, ...], ...]
    modes: tuple[Mode, ...]

    def drawn(self, n: int, dice: Dice, stream: tuple[int, ...]) -> list[States]:
        """``n`` worlds; of more, these are still the first.

        Returns:
            One array for each answer, of shape (members, n): numbers of states of its mode.
        """
        values: list[Values] = []
        for lane, step in enumerate(self.steps):
            values.append(step.drawn(values, dice.words(stream, n, lane)))
        found: list[States] = []
        for places, mode in zip(self.places, self.modes, strict=True):
            shape = (len(places), n)
            own: States = np.empty(shape, np.uint8) if len(mode.states) <= 2**8 else np.empty(shape, np.uint16)
            for row, (position, states) in enumerate(places):
                own[row] = states[0] if position is None else np.array(states, own.dtype)[values[position]]
            found.append(own)
        return found


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
    """The joint posterior of some members at all loci of several answers, ready to be drawn from.

    Args:
        answers: From one call of :func:`sitegen.genetics.network.answer_all`, or of any where no sire is in doubt.
        members: Different members. More of them at the end leave what is drawn of the others as it is.
        sexes: The sex that members are to have where it is part of heredity. Worlds are drawn given that; what other
            members have is left open.

    Returns:
        The drawing; or why there is none, if a member has no answer at one of the loci, cannot be of its sex, or loci
        that were solved apart would have to be drawn together.

    Raises:
        KeyError: There is no such member.
        ValueError: The answers were not asked together, and choices of sire may tie them.
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
        self._masks: dict[_Key, list[int]] = {}
        self._trees: dict[Piece, Tree | Single] = {}
        for failure in (one.contradicted(member) for one in answers for member in members):
            if failure:
                raise _NotDrawn(failure)
        if len([one for one in answers if self._apart(one)]) > 1:
            raise _NotDrawn(TooTangled(tuple(members), 0))
        for one in answers:
            if one.mode.has_sex:
                self._condition(one, sexes)

    def drawing(self) -> Drawing:
        """All steps; those that an earlier member needs stand before those of a later one."""
        places: list[list[_Place]] = [[] for _ in self._answers]
        for member in self._members:
            for own, one in zip(places, self._answers, strict=True):
                variable, states = self._place(one, member)
                own.append((None if variable is None else self._reach(self._key(one.solved, variable)), states))
        return Drawing(tuple(self._steps), tuple(map(tuple, places)), tuple(one.mode for one in self._answers))

    @staticmethod
    def _place(one: Heredity, member: AnimalId) -> _Place:
        """The member's variable, if it is not settled, and the states that its values stand for."""
        part = one.solved.parts[one.number]
        number = part.pedigree.position[member]
        return one.solved.network.of_member.get((one.number, number)), states_in(part.possible[number])

    def _apart(self, one: Heredity) -> bool:
        """True when the members hang on choices of sire whose loci were solved apart: what ties these was not kept."""
        if not one.solved.apart:
            return False
        places = [self._place(one, member)[0] for member in self._members]
        variables = [variable for variable in places if variable is not None]
        return not one.solved.apart.isdisjoint(one.solved.choices_beside(variables, one.number))

    def _key(self, solved: Solved, variable: int) -> _Key:
        match outcome := solved.outcomes[variable]:
            case Piece():
                return outcome, outcome.local[variable]
            case Hanging():
                return solved, variable
            case TooTangled():
                raise _NotDrawn(outcome)
            case _:  # which of several young that are counted together it is: what ties it to the others was not kept
                raise _NotDrawn(TooTangled(tuple(self._members), 0))

    def _condition(self, one: Heredity, sexes: Mapping[AnimalId, Sex]) -> None:
        """Take each member as being of the sex that it is to have."""
        evidence: dict[Piece, dict[int, list[int]]] = {}
        for member in self._members:
            if (sex := sexes.get(member, Sex.UNKNOWN)) is Sex.UNKNOWN:
                continue
            variable, states = self._place(one, member)
            mask = [int(one.mode.states[state].sex is sex) for state in states]
            if not any(mask):
                raise _NotDrawn(Impossible((member,)))
            if variable is None or all(mask):
                continue
            place, number = key = self._key(one.solved, variable)
            if isinstance(place, Piece):
                evidence.setdefault(place, {})[number] = mask
            else:
                self._masks[key] = mask
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
        if key in self._masks:
            values = self._of_sex(values, self._masks[key])
        return values, [self._key(place, other) for other in scope[1:]]

    def _of_sex(self, values: Sequence[int], mask: Sequence[int]) -> Sequence[int]:
        """Weights of one that hangs on its parents, with those of the other sex taken out."""
        n_rows = len(values) // len(mask)
        kept = [value if mask[at // n_rows] else 0 for at, value in enumerate(values)]
        rows = ((sum(leading(values[at::n_rows])), sum(leading(kept[at::n_rows]))) for at in range(n_rows))
        # Its sex would tell something of its parents, if not all of them had as many young of that sex.
        if len({Fraction(part, whole) for whole, part in rows if whole}) > 1:
            raise _NotDrawn(TooTangled(tuple(self._members), 0))
        return kept
