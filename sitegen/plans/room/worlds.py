"""What is believed at the start: at each group of loci the ways in which the animals may be together, with weights.

Groups of loci are independent of each other, unless a litter has several possible sires: then all share one list of
worlds, drawn. An exact list that is too long is drawn too, by other luck than the course of things.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sitegen.evidence.asking import Asked
from sitegen.findings import SitegenError
from sitegen.genetics.crosses import SEXES
from sitegen.genetics.dice import Dice
from sitegen.genetics.drawing import States, drawn
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.plans.room.facts import FINE, Floats, Ints, Room, Unit

MOST_WORLDS = 256
_MOST_WAYS = 4096
_BELIEVED, _TRUE = 1, 2


@dataclass(frozen=True, slots=True, eq=False)
class Worlds:
    """The ways in which the animals of the start may be.

    Attributes:
        group_of: For each unit the number of its list of worlds.
        weights: For each list the chances of its worlds; each sums to 1 but for rounding.
        types: For each unit the type of each animal in each world of its list, shape (animals, worlds).
    """

    group_of: tuple[int, ...]
    weights: tuple[Floats, ...]
    types: tuple[Ints, ...]


def worlds_of(asked: Asked, room: Room, dice: Dice) -> Worlds:
    """The worlds that are believed in.

    Raises:
        SitegenError: The animals have no answer at a locus that matters.
    """
    answers = [asked.heredity[unit.number] for unit in room.units]
    if len({id(each.solved) for each in answers}) < len(answers):
        states = _drawn(asked, room, room.units, MOST_WORLDS, dice, (_BELIEVED,))
        weights, columns = _merged(np.vstack(states))
        types = tuple(unit_types(unit, own[:, columns]) for unit, own in zip(room.units, states, strict=True))
        return Worlds((0,) * len(answers), (weights,), types)
    found = [_of_unit(asked, room, unit, dice) for unit in room.units]
    return Worlds(tuple(range(len(found))), tuple(own for own, _ in found), tuple(types for _, types in found))


def true_types(asked: Asked, room: Room, n: int, dice: Dice) -> tuple[Ints, ...]:
    """For each unit the types of the animals in ``n`` courses, drawn from the joint posterior; shape (animals, n)."""
    states = _drawn(asked, room, room.units, n, dice, (_TRUE,))
    return tuple(unit_types(unit, own) for unit, own in zip(room.units, states, strict=True))


def unit_types(unit: Unit, states: States) -> Ints:
    """States to types; of several with one state the first."""
    first = np.full(len(unit.mode.states), -1, np.int64)
    first[unit.states[::-1]] = np.arange(unit.n_types)[::-1]
    return first[states.astype(np.int64)]


def _of_unit(asked: Asked, room: Room, unit: Unit, dice: Dice) -> tuple[Floats, Ints]:
    answer = asked.heredity[unit.number]
    single: dict[AnimalId, int] = {}
    ways = 1
    for name in room.ids:
        own = answer.states([name])
        if isinstance(own, Impossible | TooTangled):
            raise _unanswered([name], own)
        if len(own) == 1:
            single[name] = next(iter(own))[0]
        ways *= len(own)
    doubtful = [name for name in room.ids if name not in single]
    together: Mapping[tuple[int, ...], Fraction] | TooTangled | Impossible = {(): Fraction(1)}
    if ways > _MOST_WAYS:
        together = TooTangled(tuple(doubtful), ways)
    elif doubtful:
        together = answer.states(doubtful)
    if isinstance(together, Impossible):
        raise _unanswered(doubtful, together)
    if isinstance(together, TooTangled) or len(together) > MOST_WORLDS:
        states = _drawn(asked, room, [unit], MOST_WORLDS, dice, (_BELIEVED, unit.number))[0]
        weights, columns = _merged(states)
        return weights, unit_types(unit, states[:, columns])
    keys = sorted(together)
    places = {name: at for at, name in enumerate(doubtful)}
    rows = [[key[places[name]] if name in places else single[name] for key in keys] for name in room.ids]
    chances = np.array([float(together[key]) for key in keys])
    return weighed(chances), unit_types(unit, np.array(rows, np.int64).astype(np.uint16))


def weighed(chances: Floats) -> Floats:
    """Chances as multiples of 1 / FINE; none that is possible becomes 0."""
    found: Floats = np.where(chances > 0, np.maximum(np.rint(chances * FINE), 1), 0) / FINE
    return found


def _merged(states: NDArray[Any]) -> tuple[Floats, Ints]:
    """The different columns: their shares, and where each first stands."""
    _found, first, counts = np.unique(states, axis=1, return_index=True, return_counts=True)
    return weighed(counts / states.shape[1]), first


def _drawn(
    asked: Asked, room: Room, units: Sequence[Unit], n: int, dice: Dice, stream: tuple[int, ...]
) -> list[States]:
    answers = [asked.heredity[unit.number] for unit in units]
    sexes = {each.animal: SEXES[each.sex] for each in room.beasts}
    found = drawn(answers, room.ids, n, dice, stream, sexes)
    if isinstance(found, Impossible | TooTangled):
        raise _unanswered(room.ids, found)
    return found


def _unanswered(names: Sequence[AnimalId], failure: Impossible | TooTangled) -> SitegenError:
    why = "their records contradict each other" if isinstance(failure, Impossible) else "too much is in doubt"
    return SitegenError(f"{', '.join(names)} cannot be answered together: {why}; see the check")
