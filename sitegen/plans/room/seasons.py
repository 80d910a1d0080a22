"""Courses: the seasons of a room, played many times at once, each from its own true genotypes and with its own luck.

The first season's pairings are given, one choice or several beside each other; later ones and what is kept follow the
rule (:mod:`sitegen.plans.room.rule`), which never sees what is true.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sitegen.plans.room.belief import Belief
from sitegen.plans.room.facts import Flags, Floats, Ints, rounded
from sitegen.plans.room.luck import Luck
from sitegen.plans.room.played import Choice, Result
from sitegen.plans.room.rule import Rule
from sitegen.plans.room.sight import Stock, Young


@dataclass(eq=False)
class _Litter:
    """A litter of each course in which its pairing took."""

    number: int
    courses: Ints
    dams: Ints
    sires: Ints
    there: Flags
    sexes: NDArray[np.int8]
    types: list[Ints]
    codes: list[Ints]


class Play:
    """Some choices, played once; courses of one choice stand together.

    Args:
        rule: By which all but the first season's pairings are chosen.
        belief: What is believed in each course; it has room for the young that are kept.
        true: For each unit the true types of the animals of the start, shape (courses, animals).
        luck: What is drawn.
        choices: For the first season; None alone lets the rule choose.
        course: The number of each course, which names its luck.
        width: Courses of each choice.
        with_known: Whether it is worked out what is known of whom.
        blind: The number of a litter of the first season and of a unit at which nobody concludes anything of its
            parents.
    """

    def __init__(
        self, rule: Rule, belief: Belief, true: Sequence[Ints], luck: Luck, choices: Sequence[Choice | None],
        course: Ints, width: int, *, with_known: bool = False, blind: tuple[int, int] | None = None,
    ) -> None:  # fmt: skip
        self.room, self.rule, self.belief, self.luck, self.blind = rule.room, rule, belief, luck, blind
        self.choices, self.course, self.width, self.with_known = choices, course, width, with_known
        room, n = self.room, len(course)
        self.n_start = n_start = len(room.beasts)
        n_slots = n_start + belief.n_young
        self.true: list[Ints] = [np.zeros((n, n_slots), np.int64) for _ in room.units]
        for own, types in zip(self.true, true, strict=True):
            own[:, :n_start] = types
        present = np.zeros((n, n_slots), np.bool_)
        present[:, :n_start] = True
        sexes = np.zeros((n, n_slots), np.int8)
        sexes[:, :n_start] = [each.sex for each in room.beasts]
        ready = np.zeros((n, n_slots), np.int16)
        ready[:, :n_start] = [each.ready for each in room.beasts]
        self.stock = Stock(present, sexes, ready)
        self._looked_over: Stock | None = None
        self.next = np.full(n, n_start)
        self.is_goal = [np.zeros((n, n_slots), np.bool_) for _ in room.goals]
        for goal, flags in enumerate(self.is_goal):
            flags[:, :n_start] = self._goal(goal, [own[:, :n_start] for own in self.true])
        self.related: Floats | None = None
        if room.kinship is not None:
            self.related = np.zeros((n, n_slots, n_slots))
            self.related[:, :n_start, :n_start] = room.kinship

    def _goal(self, goal: int, types: Sequence[Ints]) -> Flags:
        """Which animals truly are a goal."""
        found = np.ones(types[0].shape, np.bool_)
        for at in self.room.bearing[goal]:
            mask = self.room.units[at].good[goal]
            assert mask is not None
            found &= mask[types[at]]
        return found

    def results(self) -> list[Result]:
        """Plays all seasons."""
        room, n, seasons = self.room, len(self.course), len(self.room.seasons)
        born, kept, known = ([np.zeros((seasons, n), np.bool_) for _ in room.goals] for _ in range(3))
        held, taken = (np.zeros((seasons, n), np.int16) for _ in range(2))
        first = [[np.zeros(n, np.bool_) for _ in room.goals] for _ in range(room.litters)]
        for goal, own in enumerate(born):
            own[:] |= self.is_goal[goal].any(axis=1)
        for season in range(seasons):
            broods = self._season(season)
            for brood in broods:
                for goal, own in enumerate(born):
                    came = (self._goal(goal, brood.types) & brood.there).any(axis=1)
                    own[season:, brood.courses[came]] = True
                    if season == 0:
                        first[brood.number][goal][brood.courses[came]] = True
            before = self.next.copy()
            if broods:
                self._looked_over = None
                self._keep(season, broods)
                self._looked_over = None
            taken[season] = self.next - before
            held[season] = self.stock.present.sum(axis=1)
            for goal, count in enumerate(room.counts):
                kept[goal][season] = (self.is_goal[goal] & self.stock.present).sum(axis=1) >= count
                if self.with_known:
                    known[goal][season] = self._known(goal)
        parts = [slice(at * self.width, (at + 1) * self.width) for at in range(len(self.choices))]
        return [
            Result(
                born=[own[:, part] for own in born], kept=[own[:, part] for own in kept],
                known=[own[:, part] for own in known], held=held[:, part], taken=taken[:, part],
                first=[[flags[part] for flags in each] for each in first],
            )
            for part in parts
        ]  # fmt: skip

    # Pairings.

    def chosen(self, season: int) -> list[tuple[Ints, Ints]]:
        """The pairings of a season, by litter: the slots of dams and sires, -1 for none."""
        stock = self.there()
        off = None
        if season == 0:
            off = np.zeros(stock.present.shape, np.bool_)
            off[:, list(self.room.off)] = True
        return self.rule.choose(self.belief, stock, season, off)

    def there(self) -> Stock:
        """The places that any course uses, looked over; anew only where something was seen or kept since."""
        if self._looked_over is None:
            own, n = self.stock, int(self.next.max())
            stock = Stock(own.present[:, :n], own.sexes[:, :n], own.ready[:, :n], self.related)
            self.rule.look_over(self.belief, stock)
            self._looked_over = stock
        return self._looked_over

    def _pairs(self, season: int) -> list[tuple[Ints, Ints]]:
        if season or None in self.choices:
            return self.chosen(season)
        most = max((len(choice) for choice in self.choices if choice is not None), default=0)
        dams, sires = np.full((2, most, len(self.course)), -1)
        for at, choice in enumerate(self.choices):
            for place, (dam, sire) in enumerate(choice or ()):
                own = slice(at * self.width, (at + 1) * self.width)
                dams[place, own], sires[place, own] = dam, sire
        return list(zip(dams, sires, strict=True))

    def _season(self, season: int) -> list[_Litter]:
        """Makes the pairings and has all litters born and seen."""
        room, found = self.room, []
        for number, (dams, sires) in enumerate(self._pairs(season)):
            made = np.flatnonzero(dams >= 0)
            if not len(made):
                continue
            took = self.luck.takes(season, number, self.course[made])
            year = room.seasons[season]
            rested = np.where(took, room.rest, room.rest_after_failure) + year + 1
            self.stock.ready[made, dams[made]] = rested
            own = made[took]
            if len(own):
                found.append(self._litter(season, number, own, dams[own], sires[own]))
        for brood in found:
            self._see(brood, self.blind[1] if season == 0 and self.blind and brood.number == self.blind[0] else -1)
        return found

    def _litter(self, season: int, number: int, courses: Ints, dams: Ints, sires: Ints) -> _Litter:
        most, own = self.room.most, self.course[courses]
        there = np.arange(most)[None, :] < self.luck.sizes(season, number, own)[:, None]
        sexes = self.luck.sexes(season, number, own)
        rows, columns = np.nonzero(there)
        types: list[Ints] = []
        for at, unit in enumerate(self.room.units):
            words = self.luck.genes(at, season, number, own[rows], columns)
            dam, sire = (unit.states[self.true[at][courses, parents]] for parents in (dams, sires))
            drawn = np.zeros(there.shape, np.int64)
            drawn[rows, columns] = unit.drawn(dam, sire, sexes[rows, columns], rows, words)
            types.append(drawn)
        for each in types:
            there &= each > 0
        types = [np.maximum(each - 1, 0) for each in types]
        return _Litter(number, courses, dams, sires, there, sexes, types, self._codes(types))

    def _codes(self, types: Sequence[Ints]) -> list[Ints]:
        """What is seen of young."""
        found = []
        for at, unit in enumerate(self.room.units):
            hidden = np.zeros(types[at].shape, np.int64)
            for (own, other), table in self.room.hidden.items():
                if own == at:
                    hidden |= table[types[other] + 1]
            found.append(unit.group.look[types[at] + 1, hidden])
        return found

    def _see(self, brood: _Litter, blind: int) -> None:
        """What a litter tells of its parents, but at one unit."""
        for at, unit in enumerate(self.room.units):
            if at == blind:
                continue
            likelihood = np.ones((len(brood.courses), unit.n_types, unit.n_types))
            if (unit.looks.min(axis=(0, 1)) == unit.looks.max(axis=(0, 1))).all():
                continue
            for code in range(unit.n_codes):
                count = ((brood.codes[at] == code) & brood.there).sum(axis=1)
                likelihood *= unit.repeated[count, :, :, code]
            self.belief.saw(at, brood.courses, brood.dams, brood.sires, likelihood)

    # Young.

    def _keep(self, season: int, broods: Sequence[_Litter]) -> None:
        room, stock = self.room, self.stock
        pooled, places = self._pool(broods)
        free = None
        if room.places is not None:
            free = room.places - stock.present.sum(axis=1)
        kept, gone = self.rule.keep(self.belief, self.there(), season, pooled, free)
        for column in range(kept.shape[1]):
            courses = np.flatnonzero(kept[:, column])
            if not len(courses):
                continue
            given = gone[courses, column]
            stock.present[courses[given >= 0], given[given >= 0]] = False
            brood = broods[int(pooled.litter[column])]
            row, young = places[int(pooled.litter[column])][courses], pooled.place[courses, column]
            slots = self.next[courses]
            self.next[courses] += 1
            stock.present[courses, slots] = True
            sexes = brood.sexes[row, young]
            stock.sexes[courses, slots] = sexes
            stock.ready[courses, slots] = room.seasons[season] + np.array(room.grown)[sexes]
            dams, sires = brood.dams[row], brood.sires[row]
            types = [own[row, young] for own in brood.types]
            for at, unit in enumerate(room.units):
                self.true[at][courses, slots] = types[at]
                if self.with_known or season + 1 < len(room.seasons):
                    self.belief.keep(at, unit, courses, slots, dams, sires, brood.codes[at][row, young])
            for goal, flags in enumerate(self.is_goal):
                flags[courses, slots] = self._goal(goal, types)
            if self.related is not None:
                own = (self.related[courses, dams] + self.related[courses, sires]) / 2
                self.related[courses, slots] = own
                self.related[courses, :, slots] = own
                self.related[courses, slots, slots] = (1 + self.related[courses, dams, sires]) / 2

    def _pool(self, broods: Sequence[_Litter]) -> tuple[Young, list[Ints]]:
        """The young of all litters that are looked at closely, and for each litter the row of each course."""
        n = len(self.course)
        parts, rows_of = [], []
        for number, brood in enumerate(broods):
            row = np.full(n, 0)
            row[brood.courses] = np.arange(len(brood.courses))
            rows_of.append(row)
            parts.append(self._closely(number, brood))
        litter = np.concatenate([np.full(own.there.shape[1], at) for at, own in enumerate(parts)])
        n_young = len(litter)
        there = np.zeros((n, n_young), np.bool_)
        sexes = np.zeros((n, n_young), np.int8)
        dams, sires, place = (np.zeros((n, n_young), np.int64) for _ in range(3))
        chances = [np.zeros((n, n_young, unit.n_types)) for unit in self.room.units]
        for at, (own, brood) in enumerate(zip(parts, broods, strict=True)):
            columns = np.flatnonzero(litter == at)
            cell = np.ix_(brood.courses, columns)
            there[cell], sexes[cell], place[cell] = own.there, own.sexes, own.place
            dams[cell], sires[cell] = brood.dams[:, None], brood.sires[:, None]
            for whole, some in zip(chances, own.chances, strict=True):
                whole[cell] = some
        return Young(there, litter, sexes, dams, sires, place, [], chances), rows_of

    def _closely(self, number: int, brood: _Litter) -> Young:
        """Of a litter the most promising young of each sex, of those that look alike at most as many as may be kept."""
        room, rule = self.room, self.rule
        closely, by_code = 3 if room.litters <= 2 else 2, []
        for at, unit in enumerate(room.units):
            joint = self._joint(at, brood)
            flat = joint.reshape(len(joint), -1)
            own = np.matmul(flat, unit.code_young.reshape(unit.n_codes, -1, unit.n_types)).transpose(1, 0, 2)
            total = own[..., 0]
            for kind in range(1, unit.n_types):
                total = total + own[..., kind]
            by_code.append(np.rint(own / np.where(total > 0, total, 1)[..., None] * 2**24) / 2**24)
        rows = np.arange(len(brood.courses))[:, None]
        most = brood.there.shape[1]
        if most <= 2 * closely:
            order = np.broadcast_to(np.arange(most), brood.there.shape)
        else:
            promise = np.zeros(brood.there.shape)
            key = brood.sexes.astype(np.int64)
            for goal in rule.goals:
                good, near = np.ones(promise.shape), np.zeros(promise.shape)
                for at in room.bearing[goal]:
                    unit = room.units[at]
                    mask = unit.good[goal]
                    assert mask is not None
                    good = good * (by_code[at] @ mask.astype(float))[rows, brood.codes[at]]
                    near = near + (by_code[at] @ unit.nearness[goal])[rows, brood.codes[at]]
                promise = promise + room.weights[goal] * (good + near / max(len(room.bearing[goal]), 1))
            for at, unit in enumerate(room.units):
                key = key * unit.n_codes + brood.codes[at]
            key = np.where(brood.there, key, -1)
            alike = (key[:, :, None] == key[:, None, :]) & (np.arange(most)[None, :] < np.arange(most)[:, None])[None]
            usable = brood.there & (alike.sum(axis=2) < room.keep)
            orders = []
            for sex in (0, 1):
                own = np.where(usable & (brood.sexes == sex), promise, -1.0)
                orders.append(np.argsort(-own, axis=1, kind="stable")[:, :closely])
                usable_sex = np.take_along_axis(own, orders[-1], axis=1) >= 0
                orders[-1] = np.where(usable_sex, orders[-1], -1)
            order = np.concatenate(orders, axis=1)
        there = np.where(order >= 0, brood.there[rows, order], False)
        order = np.maximum(order, 0)
        codes = [own[rows, order] for own in brood.codes]
        chances = [own[rows, code] for own, code in zip(by_code, codes, strict=True)]
        empty = np.zeros(0, np.int64)
        return Young(there, empty, brood.sexes[rows, order], empty, empty, order, codes, chances)

    def _joint(self, at: int, brood: _Litter) -> Floats:
        """The joint chances of the parents' types."""
        joint = self.belief.pairs(at, brood.courses, brood.dams, brood.sires)
        return rounded(joint, 2.0**30)

    def _known(self, goal: int) -> Flags:
        """Where one and the same animal is a goal in every world that agrees with all that was seen.

        Of several wanted animals as many.
        """
        stock = self.there()
        sure = stock.present.copy()
        for at in self.room.bearing[goal]:
            mask = self.room.units[at].good[goal]
            assert mask is not None
            sure &= ~(stock.alone[at][:, :, ~mask] > 0).any(axis=2)
        found: Flags = sure.sum(axis=1) >= self.room.counts[goal]
        return found
