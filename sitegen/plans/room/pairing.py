"""The pairings of a season by the rule, one by one, and what each would add."""

from collections.abc import Sequence

import numpy as np

from sitegen.plans.room.belief import Belief, added
from sitegen.plans.room.facts import Flags, Floats, Ints, rounded
from sitegen.plans.room.sight import FEMALE, JOINT, LEAST, MALE, SHARP, Later, Sight, Stock
from sitegen.plans.room.worth import read

HOPE = 1e-3
"""What may come in more than two generations counts so little that it only decides between what is alike otherwise."""
_BESIDE = 0.5
_FEW_GOALS = 2


class Pairing(Sight):
    """Chooses pairings."""

    def candidates(self, stock: Stock, season: int, off: Flags | None) -> tuple[Ints, Ints, Flags, Flags]:
        """The nearest animals to each goal that may be paired.

        Returns:
            Dams and sires, shape (courses, goals, them), and which of these are any.
        """
        ready = stock.present & (stock.ready <= self.room.seasons[season])
        if off is not None:
            ready &= ~off
        found = []
        for sex in (FEMALE, MALE):
            top = [self._top(goal, stock, ready & (stock.sexes == sex), self.width) for goal in self.goals]
            some = max(1, max(int(are.sum(axis=1).max()) for _, are in top))
            found.append((np.stack([own[:, :some] for own, _ in top], axis=1),
                          np.stack([are[:, :some] for _, are in top], axis=1)))  # fmt: skip
        (dams, are_dams), (sires, are_sires) = found
        return dams, sires, are_dams, are_sires

    def choose(self, belief: Belief, stock: Stock, season: int, off: Flags | None) -> list[tuple[Ints, Ints]]:
        """The pairings of a season, one list of dams and sires for each litter; -1 where there is none."""
        females, males, are_females, are_males = self.candidates(stock, season, off)
        n, _, k = females.shape
        m = males.shape[2]
        dams = np.repeat(females, m, axis=2).reshape(n, -1)
        sires = np.tile(males, (1, 1, k)).reshape(n, -1)
        ok = (np.repeat(are_females, m, axis=2) & np.tile(are_males, (1, 1, k))).reshape(n, -1)
        if not ok.any():
            return []
        if stock.related is not None:
            ok &= stock.related[np.arange(n)[:, None], dams, sires] <= self.room.relatedness
        joint = self._blocks(belief, females, males)
        values = self.values(belief, stock, season, dams, sires, joint, k * m)
        found = []
        for _ in range(self.room.litters):
            gain = np.where(ok, values.gain(), -1.0)
            best = np.argmax(gain, axis=1)
            rows = np.arange(n)
            taken = gain[rows, best] > LEAST
            if not taken.any():
                break
            own_dams = np.where(taken, dams[rows, best], -1)
            found.append((own_dams, np.where(taken, sires[rows, best], -1)))
            ok &= dams != own_dams[:, None]
            values.take(best, taken, own_dams)
        return found

    def value_of(self, belief: Belief, stock: Stock, season: int, dams: Ints, sires: Ints) -> "PairValues":
        """What some pairs bring, however many; shape (courses, pairs)."""
        courses = np.arange(len(dams))
        joint = [rounded(belief.pairs(at, courses, dams, sires), JOINT) for at in range(len(self.room.units))]
        return self.values(belief, stock, season, dams, sires, joint, 0)

    def values(
        self, belief: Belief, stock: Stock, season: int, dams: Ints, sires: Ints, joint: Sequence[Floats], block: int
    ) -> "PairValues":
        """What pairs that are made in a season bring now, and through their young.

        ``joint`` are the pairs' joint chances. ``block`` pairs were chosen for each goal, in its order: where goals are
        many, only these are asked what their young bring to it; 0 asks all.
        """
        mates = self.mates(stock)
        later = self._later(belief, stock, season, mates)
        young = [
            rounded(own.reshape(*own.shape[:2], -1) @ unit.young.reshape(-1, unit.n_types), SHARP)
            for own, unit in zip(joint, self.room.units, strict=True)
        ]
        now, through, hope = [], [], np.zeros(dams.shape)
        for goal in self.goals:
            now.append(read(self.worth.now[goal], *self._shares(goal, dict(enumerate(joint)), dams.shape)))
            if block and len(self.goals) > _FEW_GOALS:
                own = slice(goal * block, (goal + 1) * block)
                part = self._through(
                    goal, stock, season, [a[:, own] for a in joint], [a[:, own] for a in young], mates[goal],
                    (dams[:, own], sires[:, own]),
                )  # fmt: skip
                whole = np.zeros(dams.shape)
                for column in range(part.shape[1]):
                    same = (dams == dams[:, own][:, column, None]) & (sires == sires[:, own][:, column, None])
                    whole = np.where(same, part[:, column, None], whole)
                through.append(whole)
            else:
                through.append(self._through(goal, stock, season, joint, young, mates[goal], (dams, sires)))
            if season + 2 * min(self.room.grown) < self.n_seasons:
                near = np.ones(dams.shape)
                for at in self.room.bearing[goal]:
                    near = near * (0.02 + young[at] @ self.room.units[at].nearness[goal])
                hope = hope + HOPE * self.room.weights[goal] * near
        return PairValues(self, season, dams, self.lacking(stock), now, through, hope, later)

    def _through(
        self, goal: int, stock: Stock, season: int, joint: Sequence[Floats], young: Sequence[Floats],
        mates: tuple[Ints, Ints], parents: tuple[Ints, Ints],
    ) -> Floats:  # fmt: skip
        """What a young of each pair brings when it is paired later."""
        found = np.zeros(young[0].shape[:2])
        grown = [season + own for own in self.room.grown]
        if min(grown) >= self.n_seasons:
            return found
        siblings = self._siblings(stock, parents)
        for chosen in self._selections(goal):
            can, share = np.ones(found.shape), np.full(found.shape, 0.5)
            own = list(young)
            for at in chosen:
                unit = self.room.units[at]
                gives = unit.looks_so[goal]
                flat = joint[at].reshape(*joint[at].shape[:2], -1)
                can = can * (flat @ (gives > 0).astype(float).ravel())
                looks = flat @ gives.ravel()
                share = share * looks
                mask = unit.compatible[unit.best[goal]]
                own[at] = rounded(young[at] * mask / np.where(looks > 0, looks, 1.0)[..., None], SHARP)
            comes = read(self.worth.one, can, share)
            best = self._sibling(goal, own, max(grown), comes)
            if siblings is not None:
                best = np.where(siblings, best, 0.0)
            for sex in (FEMALE, MALE):
                best = np.maximum(best, self._with(goal, stock, own, sex, mates[1 - sex], grown[sex], parents))
            found = np.maximum(found, comes * best)
        return found

    def _selections(self, goal: int) -> list[tuple[int, ...]]:
        """The sets of units at which a young may be chosen by its look."""
        units = [at for at in self.room.bearing[goal] if self.room.units[at].best[goal] >= 0]
        if len(units) <= 2:
            return [tuple(at for place, at in enumerate(units) if bits >> place & 1) for bits in range(1 << len(units))]
        return [(), *((at,) for at in units), tuple(units)]

    def _sibling(self, goal: int, own: Sequence[Floats], start: int, comes: Floats) -> Floats:
        """Two littermates that are alike, paired."""
        can, share = np.ones(comes.shape), np.ones(comes.shape)
        for at in self.room.bearing[goal]:
            unit = self.room.units[at]
            can = can * _dot(own[at] @ unit.can[goal], own[at])
            share = share * _dot(own[at] @ unit.gives[goal], own[at])
        if self.room.keep == 1:
            start += 1
        return comes * read(self.worth.later[goal][min(start, self.n_seasons + 1)], can, share)

    def _siblings(self, stock: Stock, parents: tuple[Ints, Ints]) -> Flags | None:
        """Of which pairs two littermates may be paired; None where all may."""
        if stock.related is None:
            return None
        rows = np.arange(len(parents[0]))[:, None]
        kin = added([stock.related[rows, one, other] for one in parents for other in parents]) / 4
        found: Flags = kin <= self.room.relatedness
        return found


class PairValues:
    """What pairs add, beside those that are taken already."""

    def __init__(
        self, rule: Sight, season: int, dams: Ints, lacking: list[Floats], now: list[Floats], through: list[Floats],
        hope: Floats, later: Later,
    ) -> None:  # fmt: skip
        self.rule, self.season, self.dams = rule, season, dams
        self.lacking, self.now, self.through, self.hope, self.later = lacking, now, through, hope, later
        self.resting = [np.zeros(own.shape, np.bool_) for own in later.dams]
        self.ahead = [np.zeros(len(dams)) for _ in rule.goals]
        """What young of the pairs that are taken bring."""

    def gain(self) -> Floats:
        """What each adds, by course and pair."""
        room, reward = self.rule.room, self.rule.worth.rewards[self.season]
        total = self.hope.copy()
        for goal in self.rule.goals:
            resting = self.resting[goal]
            without = np.maximum(self.later.best(goal, resting), self.ahead[goal])[:, None]
            if room.rest:
                stays = np.maximum(self.later.best_beside(goal, resting, self.dams), self.ahead[goal][:, None])
            else:
                stays = without
            through = self.through[goal]
            with_it = np.maximum(stays, through)
            if room.litters > 1:  # another way to the goal beside the first adds something, though not all of it
                with_it = with_it + _BESIDE * np.minimum(stays, through) * np.maximum(reward - with_it, 0)
            now, left = self.now[goal], self.lacking[goal][:, None]
            total = total + room.weights[goal] * left * (now * reward + (1 - now) * with_it - without)
        return total

    def take(self, best: Ints, taken: Flags, dams: Ints) -> None:
        """Takes one pair in each course."""
        at = np.flatnonzero(taken)
        for goal in self.rule.goals:
            self.resting[goal] |= (self.later.dams[goal] == dams[:, None]) & taken[:, None]
            self.lacking[goal][at] *= 1 - self.now[goal][at, best[at]]
            self.ahead[goal][at] = np.maximum(self.ahead[goal][at], self.through[goal][at, best[at]])


def _dot(left: Floats, right: Floats) -> Floats:
    """The sum of products over the last axis, in its order."""
    total = np.zeros(left.shape[:-1])
    for kind in range(left.shape[-1]):
        total = total + left[..., kind] * right[..., kind]
    return total
