"""What the rule sees of a room: who is there, how near to each goal, and what the nearest pairs could bring later."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sitegen.plans.room.belief import Belief, added
from sitegen.plans.room.facts import Flags, Floats, Ints, Room, rounded
from sitegen.plans.room.worth import Worth, read_from

JOINT, SHARP = 2.0**30, 2.0**24
"""Joint chances of pairs, and chances of one animal, are multiples of their inverses."""
LEAST = 1e-7
_MATES = 3
_NEITHER = ((1, 1, 1), (0, 1, -1), (1, 0, -1), (0, 0, 1))
"""For either parent 0 where it is to be the goal, and a sign: that neither is it, by inclusion and exclusion."""
FEMALE, MALE = 0, 1


@dataclass(eq=False)
class Stock:
    """The animals of many courses: those of the start first, then places for young that are kept.

    Attributes:
        present, sexes, ready: Of each, shape (courses, animals).
        related: Kinship, shape (courses, animals, animals); None where it does not matter.
        alone: For each unit the chances of types of each, shape (courses, animals, types).
        good: For each goal the chance of each that it is it; 0 for who is not there.
    """

    present: Flags
    sexes: NDArray[np.int8]
    ready: NDArray[np.int16]
    related: Floats | None = None
    alone: list[Floats] = field(default_factory=list)
    good: list[Floats] = field(default_factory=list)


@dataclass(eq=False)
class Young:
    """Young that may be kept, pooled over all litters of a season.

    Attributes:
        there: Shape (courses, young).
        litter: Of which litter each is, by column.
        sexes: Of each.
        dams, sires: Slots of their parents.
        codes: For each unit how each looks.
        chances: For each unit the chances of its types, shape (courses, young, types).
    """

    there: Flags
    litter: Ints
    sexes: NDArray[np.int8]
    dams: Ints
    sires: Ints
    place: Ints
    codes: list[Ints]
    chances: list[Floats]


class Sight:
    """What the rule for a room sees."""

    def __init__(self, room: Room) -> None:
        self.room = room
        self.worth = Worth(room)
        self.goals = range(len(room.goals))
        self.n_seasons = len(room.seasons)
        self.unseen = [
            count == 1 and any(room.units[at].unseen[goal] for at in own)
            for goal, (count, own) in enumerate(zip(room.counts, room.bearing, strict=True))
        ]
        self.width = {1: 6, 2: 5, 3: 4}.get(len(room.goals), 3)

    # What is there.

    def look_over(self, belief: Belief, stock: Stock) -> None:
        """Works out what is believed of every single animal."""
        room = self.room
        stock.alone = [belief.alone(at, stock.present.shape[1]) for at in range(len(room.units))]
        stock.good = []
        for goal in self.goals:
            good = stock.present.astype(float)
            for at in room.bearing[goal]:
                mask = room.units[at].good[goal]
                assert mask is not None
                good = good * (stock.alone[at] @ mask.astype(float))
            stock.good.append(good)

    def lacking(self, stock: Stock) -> list[Floats]:
        """For each goal the share of its animals that is missing on the average; of one the chance that it is."""
        found = []
        for goal, count in zip(self.goals, self.room.counts, strict=True):
            good = stock.good[goal]
            had = [np.ones(len(good)), *(np.zeros(len(good)) for _ in range(count - 1))]
            for column in range(good.shape[1]):
                own = good[:, column]
                for n in reversed(range(1, count)):
                    had[n] = had[n] * (1 - own) + had[n - 1] * own
                had[0] = had[0] * (1 - own)
            found.append(added([own * ((count - n) / count) for n, own in enumerate(had)]))
        return found

    def _near(self, goal: int, chances: Sequence[Floats]) -> Floats:
        """How near animals are to a goal, summed over its units, from the chances of their types."""
        total = np.zeros(chances[0].shape[:-1])
        for at in self.room.bearing[goal]:
            total = total + rounded(chances[at], SHARP) @ self.room.units[at].nearness[goal]
        return total

    def _top(self, goal: int, stock: Stock, who: Flags, n: int) -> tuple[Ints, Flags]:
        """The nearest animals to a goal of some: their slots, and which of these are any."""
        near = np.where(who, self._near(goal, stock.alone), -1.0)
        order = np.argsort(-near, axis=1, kind="stable")[:, :n]
        return order, np.take_along_axis(who, order, axis=1)

    # Pairs.

    def _shares(self, goal: int, joint: Mapping[int, Floats], shape: tuple[int, ...]) -> tuple[Floats, Floats]:
        """Whether pairs can give a goal, and the mean share of their young that are it; from the joint types.

        A goal that nobody sees on an animal may be there already, and where it is, the pair adds nothing. So both are
        asked of pairs of which neither is it.
        """
        total = np.zeros((*shape, 3))
        for no_dam, no_sire, sign in _NEITHER if self.unseen[goal] else _NEITHER[:1]:
            part = np.full((*shape, 3), float(sign))
            for at in self.room.bearing[goal]:
                unit, good = self.room.units[at], self.room.units[at].good[goal]
                assert good is not None
                who = np.outer(np.maximum(good, no_dam), np.maximum(good, no_sire))
                tables = np.stack([unit.can[goal] * who, unit.gives[goal] * who, who])
                part *= joint[at].reshape(*joint[at].shape[:2], -1) @ tables.reshape(3, -1).T
            total += part
        can, share, lacking = np.moveaxis(total, -1, 0)
        if self.unseen[goal]:
            some = lacking > LEAST
            can, share = (rounded(np.where(some, own / np.where(some, lacking, 1), 0), JOINT) for own in (can, share))
        return can, share

    def _blocks(self, belief: Belief, dams: Ints, sires: Ints) -> list[Floats]:
        return [rounded(belief.blocks(at, dams, sires), JOINT) for at in range(len(self.room.units))]

    def mates(self, stock: Stock) -> list[tuple[Ints, Ints]]:
        """For each goal the nearest females and males that are there, of any age."""
        females, males = (stock.present & (stock.sexes == sex) for sex in (FEMALE, MALE))
        return [
            (self._top(goal, stock, females, _MATES)[0], self._top(goal, stock, males, _MATES)[0])
            for goal in self.goals
        ]

    def _later(self, belief: Belief, stock: Stock, season: int, mates: Sequence[tuple[Ints, Ints]]) -> "Later":
        """What the nearest pairs that are there could bring from the next season on, one litter a season."""
        females = np.stack([own[FEMALE] for own in mates], axis=1)
        males = np.stack([own[MALE] for own in mates], axis=1)
        n, _, k = females.shape
        m = males.shape[2]
        joint: list[dict[int, Floats]] = [{} for _ in self.goals]
        ahead = season + 1 < self.n_seasons
        for at in range(len(self.room.units) if ahead else 0):
            bears = [goal for goal in self.goals if at in self.room.bearing[goal]]
            own = rounded(belief.blocks(at, females[:, bears], males[:, bears]), JOINT)
            for place, goal in enumerate(bears):
                joint[goal][at] = own[:, place * k * m : (place + 1) * k * m]
        rows = np.arange(n)[:, None]
        all_dams, all_starts, shares = [], [], []
        for goal in self.goals:
            dams, sires = np.repeat(females[:, goal], m, axis=1), np.tile(males[:, goal], (1, k))
            ok = stock.present[rows, dams] & stock.present[rows, sires]
            ok &= (stock.sexes[rows, dams] == FEMALE) & (stock.sexes[rows, sires] == MALE)
            if stock.related is not None:
                ok &= stock.related[rows, dams, sires] <= self.room.relatedness
            ready = np.maximum(stock.ready[rows, dams], stock.ready[rows, sires]).astype(np.int64)
            start = np.maximum(ready - self.room.seasons[0], season + 1)
            all_dams.append(dams)
            all_starts.append(np.where(ok, start, self.n_seasons + 1))
            none = np.zeros((n, k * m)), np.zeros((n, k * m))
            shares.append(self._shares(goal, joint[goal], (n, k * m)) if ahead else none)
        return Later(self, all_dams, all_starts, shares)

    def _with(
        self, goal: int, stock: Stock, own: Sequence[Floats], sex: int, partners: Ints, grown: int,
        parents: tuple[Ints, Ints],
    ) -> Floats:  # fmt: skip
        """Young of a sex paired with animals that are there, from when both are ready; the best by course and young."""
        rows = np.arange(len(partners))[:, None]
        shape = (*own[0].shape[:2], partners.shape[1])
        can, share = np.ones(shape), np.ones(shape)
        for at in self.room.bearing[goal]:
            unit = self.room.units[at]
            other = rounded(stock.alone[at][rows, partners])
            gives, able = unit.gives[goal], unit.can[goal]
            if sex == FEMALE:
                gives, able = gives.T, able.T
            share = share * (own[at] @ rounded(other @ gives, SHARP).transpose(0, 2, 1))
            can = can * (own[at] @ rounded(other @ able, SHARP).transpose(0, 2, 1))
        ok = stock.present[rows, partners] & (stock.sexes[rows, partners] != sex)
        ready = np.maximum(stock.ready[rows, partners].astype(np.int64) - self.room.seasons[0], grown)
        start = np.broadcast_to(np.where(ok, ready, self.n_seasons + 1)[:, None, :], shape)
        if stock.related is not None:
            kin = (
                added([stock.related[rows[:, :, None], each[:, :, None], partners[:, None, :]] for each in parents]) / 2
            )
            start = np.where(kin <= self.room.relatedness, start, self.n_seasons + 1)
        return best_of(read_from(self.worth.later[goal], start, can, share))


class Later:
    """What the pairs that are nearest to each goal bring from later seasons on.

    Attributes:
        dams: For each goal the dams of its pairs.
    """

    def __init__(
        self, sight: Sight, dams: list[Ints], starts: list[Ints], shares: Sequence[tuple[Floats, Floats]]
    ) -> None:
        self.dams, tables = dams, sight.worth.later
        self._free = [read_from(table, start, *own) for table, start, own in zip(tables, starts, shares, strict=True)]
        self._rested = self._free
        if rest := sight.room.rest:
            self._rested = [
                read_from(table, start + rest, *own) for table, start, own in zip(tables, starts, shares, strict=True)
            ]

    def best(self, goal: int, resting: Flags | None = None) -> Floats:
        """The best for a goal, where the dams of some of its pairs rest first; by course."""
        own = self._free[goal] if resting is None else np.where(resting, self._rested[goal], self._free[goal])
        found: Floats = own.max(axis=1)
        return found

    def best_beside(self, goal: int, resting: Flags, dams: Ints) -> Floats:
        """The same if each of some dams rested too; shape (courses, them)."""
        also = resting[:, None, :] | (self.dams[goal][:, None, :] == dams[:, :, None])
        found: Floats = np.where(also, self._rested[goal][:, None, :], self._free[goal][:, None, :]).max(axis=2)
        return found


def best_of(values: Floats) -> Floats:
    """The highest over the last axis, which is short."""
    found = values[..., 0]
    for place in range(1, values.shape[-1]):
        found = np.maximum(found, values[..., place])
    return found
