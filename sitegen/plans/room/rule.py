"""The rule by which later seasons are played. It reads beliefs and looks, never genotypes.

Pairings are chosen one by one. Each time the one is taken that adds most to the weighted chances of the goals: through
goal animals in this season's litter, or through a young of it that is later paired with the best mate that is there or
with a littermate; what pairs that are there could give in later seasons anyway is counted against it. It stops where
nothing is added. Of all litters the young are kept one by one in the same way: goal animals first, then what most
raises a later pairing. Where places are short, a young that was kept makes room for one that adds more; animals of the
start never do.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sitegen.plans.room.belief import Belief, added
from sitegen.plans.room.facts import Flags, Floats, Ints, Room, rounded
from sitegen.plans.room.worth import Worth, read, read_from

_JOINT = 2.0**30
_SHARP = 2.0**24
_LEAST = 1e-7
_HOPE = 1e-3
"""What may come in more than two generations counts so little that it only decides between what is alike otherwise."""
_MATES = 3
_BESIDE = 0.5
_FEW_GOALS = 2
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


class Rule:
    """The rule for a room."""

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
            total = total + rounded(chances[at], _SHARP) @ self.room.units[at].nearness[goal]
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
            some = lacking > _LEAST
            can, share = (rounded(np.where(some, own / np.where(some, lacking, 1), 0), _JOINT) for own in (can, share))
        return can, share

    def _blocks(self, belief: Belief, dams: Ints, sires: Ints) -> list[Floats]:
        return [rounded(belief.blocks(at, dams, sires), _JOINT) for at in range(len(self.room.units))]

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
            own = rounded(belief.blocks(at, females[:, bears], males[:, bears]), _JOINT)
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
            taken = gain[rows, best] > _LEAST
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
        joint = [rounded(belief.pairs(at, courses, dams, sires), _JOINT) for at in range(len(self.room.units))]
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
            rounded(own.reshape(*own.shape[:2], -1) @ unit.young.reshape(-1, unit.n_types), _SHARP)
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
                hope = hope + _HOPE * self.room.weights[goal] * near
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
                own[at] = rounded(young[at] * mask / np.where(looks > 0, looks, 1.0)[..., None], _SHARP)
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
            share = share * (own[at] @ rounded(other @ gives, _SHARP).transpose(0, 2, 1))
            can = can * (own[at] @ rounded(other @ able, _SHARP).transpose(0, 2, 1))
        ok = stock.present[rows, partners] & (stock.sexes[rows, partners] != sex)
        ready = np.maximum(stock.ready[rows, partners].astype(np.int64) - self.room.seasons[0], grown)
        start = np.broadcast_to(np.where(ok, ready, self.n_seasons + 1)[:, None, :], shape)
        if stock.related is not None:
            kin = (
                added([stock.related[rows[:, :, None], each[:, :, None], partners[:, None, :]] for each in parents]) / 2
            )
            start = np.where(kin <= self.room.relatedness, start, self.n_seasons + 1)
        return best_of(read_from(self.worth.later[goal], start, can, share))

    # Young.

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
                hope = hope + _HOPE * room.weights[goal] * near
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
            taken = score[rows, best] > _LEAST
            if free is not None:
                assert spare is not None
                least = np.argmin(spare, axis=1)
                short = free <= 0
                swap = short & (score[rows, best] > spare[rows, least] + _LEAST)
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
                both = rounded(own @ table, _SHARP) @ turned
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


class Later:
    """What the pairs that are nearest to each goal bring from later seasons on.

    Attributes:
        dams: For each goal the dams of its pairs.
    """

    def __init__(
        self, rule: Rule, dams: list[Ints], starts: list[Ints], shares: Sequence[tuple[Floats, Floats]]
    ) -> None:
        self.dams, tables = dams, rule.worth.later
        self._free = [read_from(table, start, *own) for table, start, own in zip(tables, starts, shares, strict=True)]
        self._rested = self._free
        if rest := rule.room.rest:
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


class PairValues:
    """What pairs add, beside those that are taken already."""

    def __init__(
        self, rule: Rule, season: int, dams: Ints, lacking: list[Floats], now: list[Floats], through: list[Floats],
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


def best_of(values: Floats) -> Floats:
    """The highest over the last axis, which is short."""
    found = values[..., 0]
    for place in range(1, values.shape[-1]):
        found = np.maximum(found, values[..., place])
    return found


def _dot(left: Floats, right: Floats) -> Floats:
    """The sum of products over the last axis, in its order."""
    total = np.zeros(left.shape[:-1])
    for kind in range(left.shape[-1]):
        total = total + left[..., kind] * right[..., kind]
    return total
