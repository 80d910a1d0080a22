"""What a pairing is worth to a goal, by the share of its young that are as wanted.

A belief about a pair comes down to two numbers for each goal: the chance that the two can give it at all, and the share
of the young that are it on the average. Their litters are looked at as those of a pair that can, with the share that it
then has. Worth is read from tables over that share, made once.
"""

from math import comb

import numpy as np

from sitegen.plans.room.facts import Floats, Ints, Room, powers

_STEPS = 1024


class Worth:
    """Tables over the share of young.

    Attributes:
        rewards: For each season (by its place) what a goal that is owned from then on brings; 0 after the last.
        now: For each goal the chance that a litter brings it; of several wanted animals the share that it brings.
        later: For each goal and place of a season what one litter a season from then on brings, shape (seasons + 2,
            steps + 1).
        one: The chance of at least one such young in a litter.
    """

    def __init__(self, room: Room) -> None:
        n = len(room.seasons)
        self.rewards = np.array([*(sum(room.shares[t:]) for t in range(n)), 0.0])
        grid = np.arange(_STEPS + 1) / _STEPS
        takes = float(room.takes)
        self.one = takes * _expected(room, grid, 1)
        self.now, self.later = [], []
        for count in room.counts:
            own = takes * _expected(room, grid, count)
            later = np.zeros((n + 2, _STEPS + 1))
            for start in reversed(range(n)):
                later[start] = own * self.rewards[start] + (1 - own) * later[start + 1]
            self.now.append(own)
            self.later.append(later)


def _expected(room: Room, grid: Floats, count: int) -> Floats:
    """How much of ``count`` a litter brings that takes: the expected number, at most that and at most what is kept."""
    most = min(count, room.keep)
    total = np.zeros(len(grid))
    for n, chance in room.sizes.items():
        own = np.zeros(len(grid))
        lacking = np.zeros(len(grid))
        for k in range(min(most, n + 1)):
            lacking = lacking + comb(n, k) * powers(grid, k) * powers(1 - grid, n - k)
            own = own + (1 - lacking)
        total = total + float(chance) * own
    return total / count


def read(table: Floats, can: Floats, share: Floats) -> Floats:
    """A table's value for pairs that can give a share with some chance."""
    at, part = _place(can, share)
    low = table[at]
    return can * (low + (table[at + 1] - low) * part)


def read_from(table: Floats, start: Ints, can: Floats, share: Floats) -> Floats:
    """The same where each pair has a season of its own from which on it is bred."""
    at, part = _place(can, share)
    row = np.minimum(start, len(table) - 1)
    low = table[row, at]
    return can * (low + (table[row, at + 1] - low) * part)


def _place(can: Floats, share: Floats) -> tuple[Ints, Floats]:
    then = np.minimum(share / np.where(can > 0, can, 1.0), 1.0) * _STEPS
    at = np.minimum(then.astype(np.int64), _STEPS - 1)
    return at, then - at
