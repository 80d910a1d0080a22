"""Courses: the seasons of a room, played many times at once, each from its own true genotypes and with its own luck.

The first season's pairings are given, one choice or several beside each other; later ones and what is kept follow the
rule (:mod:`sitegen.plans.room.rule`), which never sees what is true. Luck is named by season, litter and young, so that
choices that are compared meet the same.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sitegen.evidence.asking import Asked
from sitegen.exact import common_denominator
from sitegen.genetics.dice import Dice, Words, pick, thresholds
from sitegen.plans.room.belief import Belief
from sitegen.plans.room.facts import Floats, Ints, Room
from sitegen.plans.room.rule import Flags, Rule, Stock, Young
from sitegen.plans.room.worlds import Worlds, true_types, worlds_of
from sitegen.plans.room.worth import powers

Choice = tuple[tuple[int, int], ...]
"""Pairings: places of dam and sire among the animals of the start; the place of a pairing names its luck."""

_TAKES, _SIZE, _SEXES, _GENES = 3, 4, 5, 6
_CELLS = 12_000_000
"""Numbers that the beliefs of all courses that are played at once may take."""
_CANDIDATES = 3
"""Young of a litter and a sex that are looked at closely; the others look like one of these, or promise less."""


@dataclass(eq=False)
class Result:
    """What came of ``n`` courses of one choice, by season and course.

    Attributes:
        born, kept, known: For each goal, shape (seasons, n); ``known`` is False where it was not asked for.
        held: Animals at the end of each season.
        taken: Young kept in each season.
        litters: Litters born in each season.
    """

    born: list[Flags]
    kept: list[Flags]
    known: list[Flags]
    held: NDArray[np.int16]
    taken: NDArray[np.int16]
    litters: NDArray[np.int16]

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
    n_goals = range(len(parts[0].kept))
    return Result(
        *(
            [np.concatenate([getattr(part, name)[goal] for part in parts], axis=1) for goal in n_goals]
            for name in ("born", "kept", "known")
        ),
        *(np.concatenate([getattr(part, name) for part in parts], axis=1) for name in ("held", "taken", "litters")),
    )


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


class Player:
    """Plays a room.

    Args:
        asked: The evidence and its answers.
        room: The room.
        n: Courses that can be played at most.
        dice: The luck.
        worlds: What is believed at the start.
    """

    def __init__(self, asked: Asked, room: Room, n: int, dice: Dice, worlds: Worlds | None = None) -> None:
        self.room, self.n, self.dice = room, n, dice
        self.worlds = worlds or worlds_of(asked, room, dice)
        self.true = true_types(asked, room, n, dice)
        self.rule = Rule(room)
        self._words: dict[tuple[int, ...], NDArray[np.uint32]] = {}
        chances = list(room.sizes.values())
        whole = common_denominator(chances)
        self._sizes = np.array(list(room.sizes))
        self._size_table = np.array([thresholds([int(each * whole) for each in chances])], np.uint32)
        takes = [room.takes, 1 - room.takes]
        whole = common_denominator(takes)
        self._takes_table = np.array([thresholds([int(each * whole) for each in takes])], np.uint32)
        self._powers = [
            np.stack([powers(unit.looks, k) for k in range(room.most + 1)]) for unit in room.units
        ]

    def words(self, purpose: int, season: int, litter: int, lane: int = 0) -> Words:
        """Words for all courses, one each."""
        key = purpose, season, litter, lane
        if key not in self._words:
            self._words[key] = self.dice.words((purpose, season, litter), self.n, lane)
        return self._words[key]

    def slots(self) -> int:
        """How many young can be kept in a course."""
        room = self.room
        return min(room.litters, 8) * room.keep * len(room.seasons)

    def play(self, choices: Sequence[Choice | None], n: int, *, known: bool = False, start: int = 0) -> list[Result]:
        """Plays choices for the first season, each in the courses ``start`` to ``n``; None lets the rule choose."""
        width = n - start
        course = np.tile(np.arange(start, n), len(choices))
        return _Play(self, choices, course, width, known).results()

    def results(
        self, choices: Sequence[Choice], n: int, *, known: bool = False, step: Callable[[int], None] = lambda _: None
    ) -> list[Result]:
        """The same in parts that do not need much memory; ``step`` is told how many courses were played."""
        found: list[list[Result]] = [[] for _ in choices]
        most = self.at_once()
        if n <= most:
            per = max(1, most // n)
            for at in range(0, len(choices), per):
                for place, result in enumerate(self.play(choices[at : at + per], n, known=known)):
                    found[at + place].append(result)
                step(n * len(choices[at : at + per]))
        else:
            for place, choice in enumerate(choices):
                for start in range(0, n, most):
                    end = min(n, start + most)
                    found[place] += self.play([choice], end, known=known, start=start)
                    step(end - start)
        return [joined(parts) for parts in found]

    def at_once(self) -> int:
        """Courses that are played at once."""
        cells = sum(
            types.shape[1] * unit.n_types * (self.slots() + 60) for unit, types in zip(self.room.units, self.worlds.types)
        )
        return max(50, min(2000, _CELLS // max(cells, 1)))

    def first_pairs(self, most: int) -> tuple[list[tuple[int, int]], list[tuple[int, int]]]:
        """The most promising pairs of the first season, the best first; and those above the relatedness limit."""
        play = _Play(self, [None], np.zeros(1, np.int64), 1, False)
        room = self.room
        first = room.seasons[0]
        ready = [at for at, each in enumerate(room.beasts) if each.ready <= first and at not in room.off]
        pairs = [
            (dam, sire) for dam in ready for sire in ready
            if room.beasts[dam].sex == 0 and room.beasts[sire].sex == 1
        ]  # fmt: skip
        related = []
        if room.kinship is not None:
            related = [pair for pair in pairs if room.kinship[pair] > room.relatedness]
            pairs = [pair for pair in pairs if room.kinship[pair] <= room.relatedness]
        if len(pairs) <= most:
            return pairs, related
        stock = play._there()
        dams, sires = (np.array([own]) for own in zip(*pairs, strict=True))
        gain = self.rule.value_of(play.belief, stock, 0, dams, sires).gain()[0]
        order = np.argsort(-gain, kind="stable")[:most]
        return [pairs[at] for at in order], related

    def own_choice(self) -> Choice:
        """The rule's own choice for the first season."""
        play = _Play(self, [None], np.zeros(1, np.int64), 1, False)
        pairs = play.chosen(0)
        return tuple((int(dams[0]), int(sires[0])) for dams, sires in pairs if dams[0] >= 0)


class _Play:
    """Some choices, played once; courses of one choice stand together."""

    def __init__(
        self, player: Player, choices: Sequence[Choice | None], course: Ints, width: int, known: bool
    ) -> None:
        self.player, self.room, self.rule = player, player.room, player.rule
        self.choices, self.course, self.width, self.with_known = choices, course, width, known
        room, n = self.room, len(course)
        self.n_start = n_start = len(room.beasts)
        n_slots = n_start + player.slots()
        self.belief = Belief(room, player.worlds, n, player.slots())
        self.true = [np.zeros((n, n_slots), np.int16) for _ in room.units]
        for own, types in zip(self.true, player.true, strict=True):
            own[:, :n_start] = types.T[course]
        present = np.zeros((n, n_slots), np.bool_)
        present[:, :n_start] = True
        sexes = np.zeros((n, n_slots), np.int8)
        sexes[:, :n_start] = [each.sex for each in room.beasts]
        ready = np.zeros((n, n_slots), np.int16)
        ready[:, :n_start] = [each.ready for each in room.beasts]
        self.stock = Stock(present, sexes, ready)
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
        held, taken, litters = (np.zeros((seasons, n), np.int16) for _ in range(3))
        for goal, own in enumerate(born):
            own[:] |= self.is_goal[goal].any(axis=1)
        for season in range(seasons):
            broods = self._season(season)
            for brood in broods:
                litters[season, brood.courses] += 1
                for goal, own in enumerate(born):
                    came = (self._goal(goal, brood.types) & brood.there).any(axis=1)
                    own[season:, brood.courses[came]] = True
            before = self.next.copy()
            if broods:
                self._keep(season, broods)
            taken[season] = self.next - before
            held[season] = self.stock.present.sum(axis=1)
            for goal, count in enumerate(room.counts):
                kept[goal][season] = (self.is_goal[goal] & self.stock.present).sum(axis=1) >= count
                if self.with_known:
                    known[goal][season] = self._known(goal)
        parts = [slice(at * self.width, (at + 1) * self.width) for at in range(len(self.choices))]
        return [
            Result(
                *([own[:, part] for own in each] for each in (born, kept, known)),
                held[:, part], taken[:, part], litters[:, part],
            )
            for part in parts
        ]  # fmt: skip

    # Pairings.

    def chosen(self, season: int) -> list[tuple[Ints, Ints]]:
        """The pairings of a season, by litter: the slots of dams and sires, -1 for none."""
        stock = self._there()
        off = None
        if season == 0:
            off = np.zeros(stock.present.shape, np.bool_)
            off[:, list(self.room.off)] = True
        return self.rule.choose(self.belief, stock, season, self.related, off)

    def _there(self) -> Stock:
        """The places that any course uses, looked over."""
        own, n = self.stock, int(self.next.max())
        stock = Stock(own.present[:, :n], own.sexes[:, :n], own.ready[:, :n])
        self.rule.look_over(self.belief, stock)
        return stock

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
            words = self.player.words(_TAKES, season, number)[self.course[made]]
            took = pick(self.player._takes_table, None, words) == 0
            year = room.seasons[season]
            rested = np.where(took, room.rest, room.rest_after_failure) + year + 1
            self.stock.ready[made, dams[made]] = rested
            own = made[took]
            if len(own):
                found.append(self._litter(season, number, own, dams[own], sires[own]))
        for brood in found:
            self._see(brood)
        return found

    def _litter(self, season: int, number: int, courses: Ints, dams: Ints, sires: Ints) -> _Litter:
        player, most = self.player, self.room.most
        luck = self.course[courses]
        sizes = player._sizes[pick(player._size_table, None, player.words(_SIZE, season, number)[luck])]
        there = np.arange(most)[None, :] < sizes[:, None]
        lanes = [player.words(_SEXES, season, number, lane)[luck] for lane in range((most + 31) // 32)]
        sexes = np.stack(
            [(lanes[at // 32] >> np.uint32(at % 32)) & np.uint32(1) for at in range(most)], axis=1
        ).astype(np.int8)
        rows, columns = np.nonzero(there)
        types: list[Ints] = []
        for at, unit in enumerate(self.room.units):
            states = unit.states
            words = np.empty(len(rows), np.uint32)
            for column in range(most):
                own = columns == column
                words[own] = player.words(_GENES + at, season, number, column)[luck[rows[own]]]
            drawn = unit.group.draw(
                states[self.true[at][courses, dams]], states[self.true[at][courses, sires]],
                sexes[rows, columns], rows, lambda words=words: words,
            )  # fmt: skip
            all_types = np.zeros(there.shape, np.int64)
            all_types[rows, columns] = drawn
            types.append(all_types)
        for own in types:
            there &= own > 0
        types = [np.maximum(own - 1, 0) for own in types]
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

    def _see(self, brood: _Litter) -> None:
        """What a litter tells of its parents."""
        for at, unit in enumerate(self.room.units):
            likelihood = np.ones((len(brood.courses), unit.n_types, unit.n_types))
            if (unit.looks.min(axis=(0, 1)) == unit.looks.max(axis=(0, 1))).all():
                continue
            for code in range(unit.n_codes):
                count = ((brood.codes[at] == code) & brood.there).sum(axis=1)
                likelihood *= self.player._powers[at][count, :, :, code]
            self.belief.saw(at, brood.courses, brood.dams, brood.sires, likelihood)

    # Young.

    def _keep(self, season: int, broods: Sequence[_Litter]) -> None:
        room, stock = self.room, self.stock
        pooled, places = self._pool(broods)
        free = None
        if room.places is not None:
            free = room.places - stock.present.sum(axis=1)
        kept, gone = self.rule.keep(self.belief, self._there(), season, pooled, free)
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
        by_code = []
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
        if most <= 2 * _CANDIDATES:
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
                orders.append(np.argsort(-own, axis=1, kind="stable")[:, :_CANDIDATES])
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
        belief = self.belief
        weight = belief.weight(at)[brood.courses]
        left = belief.of(at, brood.courses, brood.dams) * weight[:, :, None]
        right = belief.of(at, brood.courses, brood.sires)
        joint: Floats = np.rint(np.matmul(left.transpose(0, 2, 1), right) * 2**30) / 2**30
        return joint

    def _known(self, goal: int) -> Flags:
        """Where one and the same animal is a goal in every world that agrees with all that was seen; of several wanted
        animals as many."""
        sure = self.stock.present.copy()
        for at in self.room.bearing[goal]:
            mask = self.room.units[at].good[goal]
            assert mask is not None
            open_ = self.belief.weight(at) > 0
            bad = (self.belief.start[at][:, :, ~mask] > 0).any(axis=2)
            sure[:, : self.n_start] &= ~((open_[:, None, :] & bad[None]).any(axis=2))
            young = (self.belief.young[at][..., ~mask] > 0).any(axis=3)
            sure[:, self.n_start :] &= ~((young & open_[:, None, :]).any(axis=2))
        return sure.sum(axis=1) >= self.room.counts[goal]
