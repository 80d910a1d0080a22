"""What is believed at the start: at each group of loci the ways in which the animals may be together, with weights.

Where that is too much to list, the ways of some animals are listed and each of the others has its chances given these.
Then two of the others that a litter ties are taken as independent given the list, so it holds first those that others
hang on: the doubtful animals of the sex that has fewer of them. Groups of loci are independent of each other, unless a
litter has several possible sires: then all share one list of worlds, drawn by other luck than the course of things.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import prod

import numpy as np

from sitegen.evidence.asking import Asked
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.dice import Dice
from sitegen.genetics.drawing import States, drawn
from sitegen.genetics.network import Heredity
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.plans.roads.playing import UnansweredError
from sitegen.plans.room.facts import FINE, Floats, Ints, Room, Unit

MOST_WORLDS = 32
_MOST_DRAWN = 256
_MOST_WAYS = 4096
_BELIEVED, _TRUE = 1, 2
_COARSE = 2.0**12


@dataclass(frozen=True, slots=True, eq=False)
class Worlds:
    """The ways in which the animals of the start may be.

    Attributes:
        group_of: For each unit the number of its list of worlds.
        weights: For each list the chances of its worlds; each sums to 1 but for rounding.
        chances: For each unit the chances of the types of each animal in each world of its list, shape (animals, types,
            worlds).
        cut: Not all that the animals may be together is in the lists.
    """

    group_of: tuple[int, ...]
    weights: tuple[Floats, ...]
    chances: tuple[Floats, ...]
    cut: bool

    def pair(self, unit: int, dam: int, sire: int) -> Floats:
        """The joint chances of two animals' types."""
        chances = self.chances[unit]
        found: Floats = (chances[dam] * self.weights[self.group_of[unit]]) @ chances[sire].T
        return found

    def alone(self, unit: int) -> Floats:
        """The chances of each animal's types, shape (animals, types)."""
        found: Floats = self.chances[unit] @ self.weights[self.group_of[unit]]
        return found


def worlds_of(asked: Asked, room: Room, dice: Dice) -> Worlds:
    """The worlds that are believed in.

    Raises:
        UnansweredError: The animals have no answer at a locus that matters.
    """
    answers = [asked.heredity[unit.number] for unit in room.units]
    if len({id(each.solved) for each in answers}) < len(answers):
        # Apart, each group would forget what the others tell of the sire: the demo's plan lost 0.013 of its weights.
        states = _drawn(asked, room, room.units, _MOST_DRAWN, dice, (_BELIEVED,))
        _found, first, counts = np.unique(np.vstack(states), axis=1, return_index=True, return_counts=True)
        chances = tuple(
            _certain(unit, unit_types(unit, own[:, first])) for unit, own in zip(room.units, states, strict=True)
        )
        return Worlds((0,) * len(answers), (weighed(counts / _MOST_DRAWN),), chances, cut=True)
    found = [_Listed(asked.heredity[unit.number], room, unit).found() for unit in room.units]
    weights, each, cut = zip(*found, strict=True)
    return Worlds(tuple(range(len(found))), weights, each, any(cut))


def _certain(unit: Unit, types: Ints) -> Floats:
    """1 for the type of each animal in each world, from shape (animals, worlds) to (animals, types, worlds)."""
    found: Floats = (types[:, None, :] == np.arange(unit.n_types)[:, None]).astype(float)
    return found


def true_types(asked: Asked, room: Room, n: int, dice: Dice) -> tuple[Ints, ...]:
    """For each unit the types of the animals in ``n`` courses, drawn from the joint posterior; shape (animals, n)."""
    states = _drawn(asked, room, room.units, n, dice, (_TRUE,))
    return tuple(unit_types(unit, own) for unit, own in zip(room.units, states, strict=True))


def unit_types(unit: Unit, states: States) -> Ints:
    """States to types; of several with one state the first."""
    first = np.full(len(unit.mode.states), -1, np.int64)
    first[unit.states[::-1]] = np.arange(unit.n_types)[::-1]
    return first[states.astype(np.int64)]


class _Listed:
    """The list of worlds of one unit."""

    def __init__(self, answer: Heredity, room: Room, unit: Unit) -> None:
        self.answer, self.room, self.unit = answer, room, unit
        self.single = {name: self._states([name]) for name in room.ids}

    def _states(self, names: Sequence[AnimalId]) -> Mapping[tuple[int, ...], Fraction]:
        found = self.answer.states(names)
        if isinstance(found, Impossible | TooTangled):
            raise UnansweredError(found)
        return found

    def found(self) -> tuple[Floats, Floats, bool]:
        """Weights of the worlds, the chances of types in them, and whether some animals are not in the list."""
        doubtful = [name for name in self.room.ids if len(self.single[name]) > 1]
        listed, joint = doubtful, self._joint(doubtful)
        if joint is None:
            listed, joint = self._some(doubtful)
        keys = sorted(joint)
        n_types, places = self.unit.n_types, {name: at for at, name in enumerate(listed)}
        chances = np.zeros((len(self.room.ids), n_types, len(keys)))
        for row, name in enumerate(self.room.ids):
            if name in places or len(self.single[name]) == 1:
                own = [key[places[name]] if name in places else next(iter(self.single[name]))[0] for key in keys]
                chances[row] = _certain(self.unit, unit_types(self.unit, np.array([own], np.uint16)))[0]
                continue
            beside = self.answer.states([*listed, name])
            kinds = [(state, unit_types(self.unit, np.array([state], np.uint16))[0]) for (state,) in self.single[name]]
            for at, key in enumerate(keys):
                for state, kind in kinds:
                    if isinstance(beside, Impossible | TooTangled):
                        chances[row, kind, at] += float(self.single[name][(state,)])
                    else:
                        chances[row, kind, at] += float(beside.get((*key, state), Fraction(0)) / joint[key])
        weights = weighed(np.array([float(joint[key]) for key in keys]))
        return weights, coarse(chances), len(listed) < len(doubtful)

    def _joint(self, names: Sequence[AnimalId]) -> Mapping[tuple[int, ...], Fraction] | None:
        """What some animals are together; None where it is too much to list."""
        if prod(len(self.single[name]) for name in names) > _MOST_WAYS:
            return None
        if not names:
            return {(): Fraction(1)}
        found = self.answer.states(names)
        return None if isinstance(found, Impossible | TooTangled) or len(found) > MOST_WORLDS else found

    def _some(self, doubtful: Sequence[AnimalId]) -> tuple[list[AnimalId], Mapping[tuple[int, ...], Fraction]]:
        """As many animals as can be listed, the sex first that has fewer doubtful ones."""
        sexes = {each.animal: each.sex for each in self.room.beasts}
        n = [sum(sexes[name] == sex for name in doubtful) for sex in (0, 1)]
        listed: list[AnimalId] = []
        joint: Mapping[tuple[int, ...], Fraction] = {(): Fraction(1)}
        for name in sorted(doubtful, key=lambda each: (n[sexes[each]], sexes[each])):
            more = self._joint([*listed, name])
            if more is not None:
                listed, joint = [*listed, name], more
        return listed, joint


def weighed(chances: Floats) -> Floats:
    """Chances as multiples of 1 / FINE; none that is possible becomes 0."""
    found: Floats = np.where(chances > 0, np.maximum(np.rint(chances * FINE), 1), 0) / FINE
    return found


def coarse(chances: Floats) -> Floats:
    """Chances over the last axis but one that sum to 1, as multiples of 2**-12; none that is possible becomes 0."""
    total = chances[..., 0, :].copy()
    for kind in range(1, chances.shape[-2]):
        total += chances[..., kind, :]
    found = chances * (_COARSE / np.where(total > 0, total, 1))[..., None, :]
    kept: Floats = np.where(found > 0, np.maximum(np.rint(found), 1), 0) / _COARSE
    return kept


def _drawn(
    asked: Asked, room: Room, units: Sequence[Unit], n: int, dice: Dice, stream: tuple[int, ...]
) -> list[States]:
    if not room.ids:
        return [np.zeros((0, n), np.uint16) for _ in units]
    answers = [asked.heredity[unit.number] for unit in units]
    sexes = {each.animal: SEXES[each.sex] for each in room.beasts}
    found = drawn(answers, room.ids, n, dice, stream, sexes)
    if isinstance(found, Impossible | TooTangled):
        raise UnansweredError(found)
    return found
