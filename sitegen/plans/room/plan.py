"""The plan of a room: the best pairings for the first season, and what is told of them.

Whatever is told comes from courses that chose nothing: after the search the choices that are left are played again with
other luck. What one pairing is worth is the difference to the same choice without it; what learning is worth, the
difference to the same choice where nobody concludes anything from those young.
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import sqrt

import numpy as np

from sitegen.content.wishes import Wishes
from sitegen.evidence.asking import Asked, members_with_sires
from sitegen.genetics.dice import Dice
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import WILD
from sitegen.plans.room.choosing import NOBODY, aligned, leaner, made, told_choice, without
from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import Floats, Room, room_of
from sitegen.plans.room.kinds import (
    AS_GOOD,
    GoalSeason,
    LeftOut,
    Lesson,
    NotTried,
    OtherChoice,
    RoomPairing,
    RoomPlan,
    SeasonPlaces,
    WorthOfTest,
)
from sitegen.plans.room.played import Choice, Result
from sitegen.plans.room.search import FINAL, SECOND, THIRD, Search, difference, mean
from sitegen.plans.room.testing import Worths

FRESH = 4000
"""Courses that are played for what is told."""
OTHERS, BESIDE = 2000, 500
"""Of these, in large rooms: those in which another choice is played, and those in which one pairing, or what it
teaches, is left out; in small rooms all, and three times as many."""
STOPPED = 1000
"""Those that are played after Ctrl-C."""
MOST_LESSONS = 4
SEARCHING, TELLING = 1, 2
"""The luck by which the search chooses, and that from which is told."""
_SMALL = 0.3
"""Share of the usual search where the limit of relatedness does not hold."""

Progress = Callable[[float], None]


def plan_room(
    asked: Asked, species: str, wishes: Wishes, as_of: dt.date, *, effort: float = 1.0, progress: Progress | None = None
) -> RoomPlan:
    """The plan for one species.

    Args:
        asked: The evidence and its answers.
        species: The species.
        wishes: Limits and goals; those of other species are not looked at.
        as_of: The day from which it is planned.
        effort: Share of the usual number of courses.
        progress: Is told which share is done, about; from 0 to 1.

    Raises:
        SitegenError: There is no goal of the species, or its animals have no answer at a locus that matters.
    """
    room = room_of(asked, species, wishes, as_of)
    n = max(50, round(FRESH * effort))
    player = Player(asked, room, max(50, round(FINAL * effort)), Dice(SEARCHING))
    told = _Told(progress)
    search = Search(player, effort)
    search.run(told.step)
    fresh = Player(asked, room, n, Dice(TELLING), player.worlds)
    return _Telling(asked, species, wishes, room, search, fresh, effort, told).plan()


class _Told:
    """About how much is done: most rooms need some 25,000 courses, and it never goes back."""

    _USUAL = 25_000

    def __init__(self, progress: Progress | None) -> None:
        self._progress, self._done = progress, 0

    def step(self, courses: int) -> None:
        """So many courses more."""
        self._done += courses
        if self._progress:
            self._progress(self._done / (self._done + self._USUAL))


class _Telling:
    """Puts together what is told of the choices that are left."""

    def __init__(
        self, asked: Asked, species: str, wishes: Wishes, room: Room, search: Search, fresh: Player, effort: float,
        told: _Told,
    ) -> None:  # fmt: skip
        self.asked, self.species, self.wishes, self.room, self.search = asked, species, wishes, room, search
        self.fresh, self.effort, self.told = fresh, effort, told
        self.total = float(sum(goal.weight for goal in room.goals))
        self.kinship = Kinship(members_with_sires(asked, species))

    def plan(self) -> RoomPlan:
        """The plan; Ctrl-C leaves out what only beautifies it."""
        room, search, n = self.room, self.search, self.fresh.n
        first = told = search.best[0]
        values: dict[Choice, Floats] = {}
        results: dict[Choice, Result] = {}
        try:
            if not search.stopped:
                results = self._meet(first)
                values = {choice: result.values(room) for choice, result in results.items()}
                told = told_choice(room, self.kinship, first, values) if values else first
        except KeyboardInterrupt:
            search.stopped = True
        if search.stopped:
            n = len(next(iter(values.values()))) if values else max(50, min(n, round(STOPPED * self.effort)))
        mine = self.fresh.results([told], n, known=True, step=self.told.step)[0]
        value = mine.values(room)
        others = [self._other(told, each, mine, results[each]) for each in results if each != told]
        pairings = tuple(self._pairing(told, at, mine, None, ()) for at, pair in enumerate(told) if pair != NOBODY)
        closer: OtherChoice | None = None
        tests: tuple[WorthOfTest, ...] = ()
        try:
            if not search.stopped:
                pairings = self._pairings(told, mine, value)
                closer = self._closer(told, mine)
                tests = self._tests(first, values.get(first, value)).found()
        except KeyboardInterrupt:
            search.stopped = True
        return RoomPlan(
            species=self.species, season=room.seasons[0], last=room.seasons[-1], pairings=pairings,
            resting=self._resting(told),
            goals={goal.id: self._goal(at, mine) for at, goal in enumerate(room.goals)},
            value=self.total * mean(value), value_error=self.total * error(value), weights=self.total, draws=n,
            places=tuple(self._places(at, season, mine) for at, season in enumerate(room.seasons)),
            owned=tuple(goal.id for at, goal in enumerate(room.goals) if self._owned(at)),
            unreachable=tuple(goal.id for at, goal in enumerate(room.goals) if not reachable(room, self.fresh, at)),
            short=max(0, len(room.beasts) - room.places) if room.places is not None else 0,
            next_best=tuple(sorted(others, key=lambda each: (-each.value, each.pairings))),
            sure=all(-each.value > 2 * each.value_error for each in others), closer=closer, tests=tests,
            tried=len(search.tried), not_tried=self._not_tried(),
        )  # fmt: skip

    def _n(self, n: int) -> int:
        return max(50, min(self.fresh.n, round(n * self.effort * (1 if self.search.exchanged else 3))))

    def _ids(self, choice: Choice) -> tuple[tuple[str, str], ...]:
        ids = self.room.ids
        return tuple(sorted((ids[dam], ids[sire]) for dam, sire in made(choice)))

    # Choices.

    def _meet(self, best: Choice) -> dict[Choice, Result]:
        """The choices that are left, and the best one without what adds nothing, in the same courses."""
        search = self.search
        few, many = (max(50, min(search.player.n, round(n * self.effort))) for n in (SECOND, THIRD))
        lean = leaner(search.player, best, few, many, self.told.step)[-2:] if best else []
        left = dict.fromkeys([best, *lean, *(aligned(made(other), best) for other in search.best[1:])])
        if len(left) == 1:
            return {}
        n = self._n(OTHERS)
        return dict(zip(left, self.fresh.results(list(left), n, known=True, step=self.told.step), strict=True))

    def _other(self, told: Choice, other: Choice, mine: Result, result: Result) -> OtherChoice:
        own = result.values(self.room)
        n = len(own)
        gain, wrong = difference(own, mine.values(self.room)[:n])
        return OtherChoice(
            self._ids(other), self.total * gain, self.total * wrong,
            {goal.id: share(result, at, n) - share(mine, at, n) for at, goal in enumerate(self.room.goals)},
        )  # fmt: skip

    def _closer(self, told: Choice, mine: Result) -> OtherChoice | None:
        """The best choice if relatedness were not limited, where it is clearly better; a small search of its own."""
        if self.room.kinship is None:
            return None
        free = replace(self.room, kinship=None, relatedness=1.0)
        worlds, effort = self.fresh.worlds, _SMALL * self.effort
        player = Player(self.asked, free, max(50, round(FINAL * effort)), Dice(SEARCHING), worlds)
        search = Search(player, effort)
        search.run(self.told.step)
        if search.stopped:
            raise KeyboardInterrupt
        fresh = Player(self.asked, free, self._n(OTHERS), Dice(TELLING), worlds)
        result = fresh.results([aligned(search.best[0], told)], fresh.n, step=self.told.step)[0]
        found = self._other(told, search.best[0], mine, result)
        return found if found.value > max(AS_GOOD * self.total, 2 * found.value_error) else None

    def _tests(self, best: Choice, values: Floats) -> Worths:
        return Worths(
            self.asked, self.species, self.wishes, self.fresh, best, values, Dice(SEARCHING), self.effort,
            self.told.step,
        )  # fmt: skip

    def _pairings(self, best: Choice, mine: Result, values: Floats) -> tuple[RoomPairing, ...]:
        n = self._n(BESIDE)
        lessons = self._lessons(best, values, n)
        found = []
        for at, pair in enumerate(best):
            if pair != NOBODY:
                less = self.fresh.results([without(best, at)], n, step=self.told.step)[0]
                found.append(self._pairing(best, at, mine, (less, values[:n]), lessons.get(at, ())))
        return tuple(sorted(found, key=lambda each: (-each.alone, each.pair)))

    def _pairing(
        self, best: Choice, at: int, mine: Result, less: tuple[Result, Floats] | None, lessons: Sequence[Lesson]
    ) -> RoomPairing:
        room, (dam, sire) = self.room, best[at]
        alone, wrong, serves = 0.0, 0.0, {}
        if less is not None:
            result, values = less
            alone, wrong = difference(values, result.values(room))
            for place, goal in enumerate(room.goals):
                lost, off = difference(
                    mine.kept[place][-1, : len(values)].astype(float), result.kept[place][-1].astype(float)
                )
                if lost > 2 * off and lost > 0:
                    serves[goal.id] = lost
        born = {goal.id: mean(mine.first[at][place].astype(float)) for place, goal in enumerate(room.goals)}
        first, second = room.ids[dam], room.ids[sire]
        return RoomPairing(
            dam=first, sire=second, serves=serves, alone=self.total * alone, alone_error=self.total * wrong,
            learns=tuple(lessons), born={goal: chance for goal, chance in born.items() if chance},
            young=self._young(dam, sire), kinship=self.kinship.pair(first, second),
        )  # fmt: skip

    def _young(self, dam: int, sire: int) -> float:
        """Living young that a litter has on the average."""
        size = float(sum((n * chance for n, chance in self.room.sizes.items()), Fraction(0)))
        worlds = self.fresh.worlds
        for at, unit in enumerate(self.room.units):
            if all(unit.mode.living):
                continue
            living, joint = self.asked.transmissions[unit.number].living_share, worlds.pair(at, dam, sire)
            states = unit.states.tolist()
            pairs = zip(*map(np.ndarray.tolist, np.nonzero(joint)), strict=True)
            size *= sum(float(joint[a, b]) * float(living(states[a], states[b])) for a, b in pairs)
        return size

    def _lessons(self, best: Choice, values: Floats, n: int) -> dict[int, list[Lesson]]:
        """For each pairing what its young teach: who may carry what, and the value of the conclusion."""
        asking = [
            (doubt, at, place, own)
            for at, pair in enumerate(best)
            if pair != NOBODY
            for place in range(len(self.room.units))
            for doubt, own in [self._doubts(pair, place)]
            if own
        ]
        asking.sort(key=lambda each: (-each[0], each[1], each[2]))
        found: dict[int, list[Lesson]] = {}
        for _, at, place, own in asking[:MOST_LESSONS]:
            result = self.fresh.results([best], n, blind=(at, place), step=self.told.step)[0]
            worth, wrong = difference(values[:n], result.values(self.room))
            found.setdefault(at, []).extend(
                Lesson(animal, allele, self.total * worth, self.total * wrong) for animal, allele in own
            )
        return {at: sorted(each, key=lambda one: (-one.worth, one.animal, one.allele)) for at, each in found.items()}

    def _doubts(self, pair: tuple[int, int], place: int) -> tuple[float, list[tuple[str, str]]]:
        """How much is in doubt of the parents at a unit where their young can tell, and which alleles of whom."""
        worlds, unit = self.fresh.worlds, self.room.units[place]
        chances = worlds.alone(place)
        looks = unit.looks[np.nonzero(worlds.pair(place, *pair))]
        if not (np.ptp(looks, axis=0) > 0).any():
            return 0.0, []
        doubt, found = 0.0, []
        for animal in pair:
            kinds = np.flatnonzero(chances[animal]).tolist()
            if len(kinds) == 1:
                continue
            for number, locus in enumerate(unit.mode.loci):
                for allele in locus.alleles:
                    has = [
                        allele.id in unit.mode.genotypes[int(unit.states[kind])][number] and allele.id != WILD
                        for kind in kinds
                    ]
                    chance = float(sum(chances[animal, kind] for kind, yes in zip(kinds, has, strict=True) if yes))
                    if any(has) and not all(has):
                        found.append((self.room.ids[animal], allele.id))
                        doubt = max(doubt, chance * (1 - chance))
        return doubt, found

    # What is told of the best.

    def _resting(self, best: Choice) -> tuple[str, ...]:
        room, dams = self.room, {dam for dam, _ in best}
        return tuple(sorted(
            each.animal
            for at, each in enumerate(room.beasts)
            if each.sex == 0 and each.ready <= room.seasons[0] and at not in room.off and at not in dams
        ))  # fmt: skip

    def _goal(self, goal: int, mine: Result) -> tuple[GoalSeason, ...]:
        found = []
        for at, season in enumerate(self.room.seasons):
            kept = mine.kept[goal][at].astype(float)
            found.append(GoalSeason(
                season, mean(mine.born[goal][at].astype(float)), mean(kept), mean(mine.known[goal][at].astype(float)),
                error(kept),
            ))  # fmt: skip
        return tuple(found)

    def _places(self, at: int, season: int, mine: Result) -> SeasonPlaces:
        ordered, last = np.sort(mine.held[at]), mine.held.shape[1] - 1
        return SeasonPlaces(
            season, mean(mine.held[at].astype(float)), int(ordered[last // 10]), int(ordered[-1 - last // 10]),
            mean(mine.taken[at].astype(float)),
        )  # fmt: skip

    def _owned(self, goal: int) -> bool:
        """Whether enough animals of the start are the goal whatever they are in truth."""
        worlds, room = self.fresh.worlds, self.room
        sure = np.ones(len(room.beasts), np.bool_)
        for at in room.bearing[goal]:
            mask = room.units[at].good[goal]
            assert mask is not None
            sure &= ~(worlds.alone(at)[:, ~mask] > 0).any(axis=1)
        return int(sure.sum()) >= room.counts[goal]

    def _not_tried(self) -> tuple[NotTried, ...]:
        search, found = self.search, []
        ids = self.room.ids
        if search.related:
            found.append(NotTried(LeftOut.RELATED, pairs=tuple((ids[a], ids[b]) for a, b in search.related)))
        if search.exchanged:
            found.append(NotTried(LeftOut.EXCHANGE))
        if search.left_out:
            found.append(NotTried(LeftOut.CANDIDATES, count=search.left_out))
        if self.fresh.worlds.cut:
            found.append(NotTried(LeftOut.DRAWN))
        if search.stopped:
            found.append(NotTried(LeftOut.INTERRUPTED))
        return tuple(found)


def reachable(room: Room, player: Player, goal: int) -> bool:
    """False where nobody of the room, and no young that they could have by the last season, can be a goal.

    What a female and a male may be is followed through as many generations as the seasons allow, each unit by itself.
    """
    generations = 1 + (len(room.seasons) - 1) // max(1, max(room.grown))
    if min(room.grown) < max(room.grown):
        generations = 1 + (len(room.seasons) - 1) // max(1, min(room.grown))
    for at in room.bearing[goal]:
        unit, chances = room.units[at], player.worlds.alone(at)
        mask = unit.good[goal]
        assert mask is not None
        there: list[set[int]] = [set(), set()]
        for own, beast in zip(chances, room.beasts, strict=True):
            there[beast.sex] |= set(np.flatnonzero(own).tolist())
        for _ in range(generations):
            young = {
                int(kind)
                for dam, sire in product(*map(sorted, there))
                for kind in np.flatnonzero(unit.young[dam, sire])
            }
            there = [there[sex] | {kind for kind in young if _may_be(unit.mode.states[int(unit.states[kind])].sex, sex)}
                     for sex in (0, 1)]  # fmt: skip
        if not any(mask[kind] for kind in there[0] | there[1]):
            return False
    return True


def _may_be(sex: object, wanted: int) -> bool:
    return sex is None or str(sex) == ("female", "male")[wanted]


def share(result: Result, goal: int, n: int) -> float:
    """The chance that a goal is owned at the end, in the first ``n`` courses."""
    return mean(result.kept[goal][-1, :n].astype(float))


def error(values: Floats) -> float:
    """The standard error of a mean."""
    middle = mean(values)
    return sqrt(mean((values - middle) ** 2) / max(len(values) - 1, 1))
