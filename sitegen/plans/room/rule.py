"""The rule by which later seasons are played. It reads beliefs and looks, never genotypes.

Pairings are chosen one by one. Each time the one is taken that adds most to the weighted chances of the goals: through
goal animals in this season's litter, or through a young of it that is later paired with the best mate that is there or
with a littermate; what pairs that are there could give in later seasons anyway is counted against it. It stops where
nothing is added. Of all litters the young are kept one by one in the same way: goal animals first, then what most
raises a later pairing. Where places are short, a young that was kept makes room for one that adds more; animals of the
start never do.
"""

from collections.abc import Sequence

import numpy as np

from sitegen.plans.room.belief import Belief, added
from sitegen.plans.room.facts import Flags, Floats, Ints, rounded
from sitegen.plans.room.pairing import HOPE, Pairing
from sitegen.plans.room.sight import FEMALE, LEAST, MALE, SHARP, Stock, Young
from sitegen.plans.room.worth import read


class Rule(Pairing):
    """The rule for a room: which pairings, and which of their young are kept."""

    def keep(self, belief: Belief, stock: Stock, season: int, young: Young, free: Ints | None) -> tuple[Flags, Ints]:
        """Which young are kept, and which kept ones make room for each; -1 for none.

        Returns:
            Kept, shape (courses, young); the slots that are given up for them, likewise.
        """
        room, n = self.room, len(young.there)
        rows = np.arange(n)
        mates = self.mates(stock)
        lacking = self.lacking(stock)
        later = self._later(belief, stock, season, mates)
        ahead = [later.best(goal) for goal in self.goals]
        good, best_there, matched = [], [], []
        grown = [season + own for own in room.grown]
        breeds = min(grown) < self.n_seasons
        hope = np.zeros(young.there.shape)
        for goal in self.goals:
            own = np.ones(young.there.shape)
            for at in room.bearing[goal]:
                mask = room.units[at].good[goal]
                assert mask is not None
                own = own * (young.chances[at] @ mask.astype(float))
            good.append(own)
            if breeds:
                there = [self._with(
                    goal, stock, young.chances, sex, mates[goal][1 - sex], grown[sex], (young.dams, young.sires)
                )
                         for sex in (FEMALE, MALE)]  # fmt: skip
                best_there.append(np.where(young.sexes == FEMALE, there[FEMALE], there[MALE]))
                matched.append(self._matched(goal, stock, young, max(grown)))
                near = np.ones(young.there.shape)
                for at in room.bearing[goal]:
                    near = near * (0.02 + young.chances[at] @ room.units[at].nearness[goal])
                hope = hope + HOPE * room.weights[goal] * near
        kept = np.zeros(young.there.shape, np.bool_)
        gone = np.full(young.there.shape, -1)
        spare = self._spare_values(stock, mates, breeds) if free is not None else None
        apart = (young.litter[:, None] != young.litter[None, :]) | (room.keep > 1)
        maybe = [np.where(apart[None], own, 0.0).max(axis=1) for own in matched]
        reward = self.worth.rewards[season]
        n_litters = int(young.litter.max(initial=-1)) + 1
        for _ in range(n_litters * room.keep):
            full = np.zeros(young.there.shape, np.bool_)
            for litter in range(n_litters):
                columns = np.flatnonzero(young.litter == litter)
                full[:, columns] = (kept[:, columns].sum(axis=1) >= room.keep)[:, None]
            open_ = young.there & ~kept & ~full
            if not open_.any():
                break
            score = hope.copy() if free is None else np.zeros(young.there.shape)
            raised = []
            for goal in self.goals:
                through = np.zeros(young.there.shape)
                sure = np.zeros(young.there.shape)
                if breeds:
                    sure = best_there[goal]
                    through = np.maximum(sure, maybe[goal])
                raised.append(sure)
                more = np.maximum(through - ahead[goal][:, None], 0.0)
                part = good[goal] / room.counts[goal]
                own = part * (reward - ahead[goal][:, None]) + (1 - part) * more
                score = score + room.weights[goal] * lacking[goal][:, None] * own
            score = np.where(open_, score, -1.0)
            best = np.argmax(score, axis=1)
            taken = score[rows, best] > LEAST
            if free is not None:
                assert spare is not None
                least = np.argmin(spare, axis=1)
                short = free <= 0
                swap = short & (score[rows, best] > spare[rows, least] + LEAST)
                taken &= ~short | swap
                swapped = np.flatnonzero(taken & swap)
                gone[swapped, best[swapped]] = least[swapped]
                spare[swapped, least[swapped]] = np.inf
                free = free - (taken & ~swap)
            if not taken.any():
                break
            won = np.flatnonzero(taken)
            kept[won, best[won]] = True
            for goal in self.goals:
                own = good[goal][won, best[won]]
                left = lacking[goal][won]
                lacking[goal][won] = left * (1 - own) if room.counts[goal] == 1 else np.maximum(
                    left - own / room.counts[goal], 0
                )  # fmt: skip
                ahead[goal][won] = np.maximum(ahead[goal][won], raised[goal][won, best[won]])
                if breeds:
                    best_there[goal][won] = np.maximum(best_there[goal][won], matched[goal][won, best[won]])
        return kept, gone

    def _matched(self, goal: int, stock: Stock, young: Young, start: int) -> Floats:
        """What two young bring when they are paired, shape (courses, young, young); 0 for two of one sex."""
        shape = (*young.there.shape, young.there.shape[1])
        can, share = np.ones(shape), np.ones(shape)
        is_dam = (young.sexes == FEMALE)[:, :, None]
        for at in self.room.bearing[goal]:
            unit, own = self.room.units[at], young.chances[at]
            turned = own.transpose(0, 2, 1)
            for table, total in ((unit.can[goal], can), (unit.gives[goal], share)):
                both = rounded(own @ table, SHARP) @ turned
                total *= np.where(is_dam, both, both.transpose(0, 2, 1))
        ok = young.there[:, :, None] & young.there[:, None, :] & (young.sexes[:, :, None] != young.sexes[:, None, :])
        if stock.related is not None:
            rows, parents = np.arange(len(young.there))[:, None, None], (young.dams, young.sires)
            kin = (
                added([stock.related[rows, one[:, :, None], two[:, None, :]] for one in parents for two in parents]) / 4
            )
            ok &= kin <= self.room.relatedness
        return np.where(ok, read(self.worth.later[goal][min(start, self.n_seasons + 1)], can, share), 0.0)

    def _spare_values(self, stock: Stock, mates: Sequence[tuple[Ints, Ints]], breeds: bool) -> Floats:
        """About what is lost without each kept young; infinite for animals of the start and who is not there."""
        room, rows = self.room, np.arange(len(stock.present))[:, None]
        total = np.zeros(stock.present.shape)
        for goal in self.goals:
            good = stock.good[goal]
            order = np.argsort(-good, axis=1, kind="stable")[:, : room.counts[goal]]
            best = np.zeros(good.shape)
            best[rows, order] = good[rows, order]
            total = total + room.weights[goal] * best
            if breeds:
                near = self._near(goal, stock.alone) / max(len(room.bearing[goal]), 1)
                listed = np.zeros(good.shape, np.bool_)
                for own in mates[goal]:
                    listed[rows, own[:, :2]] = True
                total = total + 0.3 * room.weights[goal] * np.where(listed, near, 0.0)
        total = np.where(stock.present, total, np.inf)
        total[:, : len(room.beasts) - room.spare] = np.inf
        return total
