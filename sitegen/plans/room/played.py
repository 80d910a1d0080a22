"""What came of courses that were played."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sitegen.plans.room.facts import Flags, Floats, Room

Choice = tuple[tuple[int, int], ...]
"""Pairings: places of dam and sire among the animals of the start; the place of a pairing names its luck."""


@dataclass(eq=False)
class Result:
    """What came of ``n`` courses of one choice, by season and course.

    Attributes:
        born, kept, known: For each goal, shape (seasons, n); ``known`` is False where it was not asked for.
        held: Animals at the end of each season.
        taken: Young kept in each season.
        first: For each pairing of the first season, in their order, whether it brings each goal in that season.
    """

    born: list[Flags]
    kept: list[Flags]
    known: list[Flags]
    held: NDArray[np.int16]
    taken: NDArray[np.int16]
    first: list[list[Flags]]

    @property
    def n(self) -> int:
        """How many courses."""
        return int(self.held.shape[1])

    def first_courses(self, n: int) -> "Result":
        """The first ``n`` of them."""
        if n == self.n:
            return self
        born, kept, known = ([own[:, :n] for own in each] for each in (self.born, self.kept, self.known))
        first = [[own[:n] for own in each] for each in self.first]
        return Result(born, kept, known, self.held[:, :n], self.taken[:, :n], first)

    def values(self, room: Room) -> Floats:
        """The value of each course."""
        total = np.zeros(self.held.shape[1])
        for goal, weight in enumerate(room.weights):
            for at, share in enumerate(room.shares):
                if share:
                    total = total + weight * share * self.kept[goal][at]
        return total


def joined(parts: Sequence[Result]) -> Result:
    """The same courses in one."""
    if len(parts) == 1:
        return parts[0]

    def of_goals(lists: Sequence[list[Flags]]) -> list[Flags]:
        return [np.concatenate(own, axis=-1) for own in zip(*lists, strict=True)]

    return Result(
        born=of_goals([part.born for part in parts]),
        kept=of_goals([part.kept for part in parts]),
        known=of_goals([part.known for part in parts]),
        held=np.concatenate([part.held for part in parts], axis=1),
        taken=np.concatenate([part.taken for part in parts], axis=1),
        first=[of_goals([part.first[number] for part in parts]) for number in range(len(parts[0].first))],
    )
