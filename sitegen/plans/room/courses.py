"""Plays a room: choices for its first season, beside each other, in as many courses as wanted."""

from collections import Counter
from collections.abc import Callable, Sequence
from copy import copy
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sitegen.evidence.asking import Asked
from sitegen.genetics.dice import Dice
from sitegen.plans.room.belief import Belief
from sitegen.plans.room.facts import Ints, Room
from sitegen.plans.room.luck import Luck
from sitegen.plans.room.played import Choice, Result, joined
from sitegen.plans.room.rule import Rule
from sitegen.plans.room.seasons import Play
from sitegen.plans.room.worlds import Worlds, true_types, worlds_of
from sitegen.workers import Crashed, in_workers, number_of_workers

_CELLS = 12_000_000
"""Numbers that the beliefs of all courses that are played at once may take."""
_WORTH_PROCESSES = 20_000_000
"""From so many numbers on other processes are worth their start."""
_OF_A_DAM = 2
"""So many of the promising pairs of one dam go before others."""
_MOST_WORKERS = 4
"""Each takes some 100 MB."""


@dataclass(frozen=True, slots=True, eq=False)
class _Job:
    """Some choices in some courses, with all that playing them needs."""

    player: "Player"
    choices: tuple[Choice, ...]
    start: int
    end: int
    known: bool
    blind: tuple[int, int] | None

    @property
    def n(self) -> int:
        """How many courses."""
        return (self.end - self.start) * len(self.choices)

    def played(self) -> list[Result]:
        """Plays them."""
        return self.player.play(self.choices, self.end, known=self.known, start=self.start, blind=self.blind)


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
        self.room, self.n, self.numbers = room, n, np.arange(n)
        self.worlds = worlds or worlds_of(asked, room, dice)
        self.true: list[NDArray[np.uint16]] = [own.astype(np.uint16) for own in true_types(asked, room, n, dice)]
        self.rule = Rule(room)
        self.luck = Luck(room, dice)
        self._before: dict[tuple[bool, tuple[int, int] | None], dict[Choice, Result]] = {}

    def given(self, worlds: Worlds, courses: Ints) -> "Player":
        """Some courses by themselves, with what is believed where it is known that they are among these."""
        found = copy(self)
        found.n, found.worlds, found.numbers = len(courses), worlds, self.numbers[courses]
        found.true, found._before = [own[:, courses] for own in self.true], {}
        return found

    def slots(self) -> int:
        """How many young can be kept in a course."""
        room = self.room
        return room.litters * room.keep * len(room.seasons)

    def play(
        self, choices: Sequence[Choice | None], n: int, *, known: bool = False, start: int = 0,
        blind: tuple[int, int] | None = None,
    ) -> list[Result]:  # fmt: skip
        """Plays choices for the first season, each in the courses ``start`` to ``n``; None lets the rule choose.

        With ``blind`` nobody concludes anything about the parents from the young of one of the first season's litters
        at one unit.
        """
        width = n - start
        course = np.tile(np.arange(start, n), len(choices))
        return self._play(choices, course, width, known, blind).results()

    def _play(
        self, choices: Sequence[Choice | None], course: Ints, width: int, known: bool = False,
        blind: tuple[int, int] | None = None,
    ) -> Play:  # fmt: skip
        belief = Belief(self.room, self.worlds, len(course), self.slots())
        true = [own.T[course].astype(np.int64) for own in self.true]
        numbers = self.numbers[course]
        return Play(self.rule, belief, true, self.luck, choices, numbers, width, with_known=known, blind=blind)

    def results(
        self, choices: Sequence[Choice], n: int, *, known: bool = False, step: Callable[[int], None] = lambda _: None,
        blind: tuple[int, int] | None = None,
    ) -> list[Result]:  # fmt: skip
        """The same from the first course on, in parts that do not need much memory; no course is played twice.

        ``step`` is told how many courses were played.
        """
        before = self._before.setdefault((known, blind), {})
        lacking: dict[int, list[Choice]] = {}
        for choice in dict.fromkeys(choices):
            start = before[choice].n if choice in before else 0
            if start < n:
                lacking.setdefault(start, []).append(choice)
        for start, own in sorted(lacking.items()):
            for choice, results in zip(own, self._in_parts(own, start, n, known, blind, step), strict=True):
                before[choice] = joined([before[choice], *results] if choice in before else results)
        return [before[choice].first_courses(n) for choice in choices]

    def _in_parts(
        self, choices: Sequence[Choice], start: int, n: int, known: bool, blind: tuple[int, int] | None,
        step: Callable[[int], None],
    ) -> list[list[Result]]:  # fmt: skip
        most, bare = self.at_once(), copy(self)
        per, bare._before = max(1, most // (n - start)), {}
        jobs = [
            _Job(bare, tuple(choices[at : at + per]), begin, min(begin + most, n), known, blind)
            for at in range(0, len(choices), per)
            for begin in range(start, n, most)
        ]
        found: dict[Choice, list[Result]] = {choice: [] for choice in choices}
        for job, results in zip(jobs, self._played(jobs, step), strict=True):
            for choice, result in zip(job.choices, results, strict=True):
                found[choice].append(result)
        return list(found.values())

    def _played(self, jobs: Sequence[_Job], step: Callable[[int], None]) -> list[list[Result]]:
        """All of them, in processes where that saves time; without, where one dies."""
        if len(jobs) < 2 or sum(job.n for job in jobs) * self.cells() < _WORTH_PROCESSES:
            found = []
            for job in jobs:
                found.append(job.played())
                step(job.n)
            return found
        told = iter(jobs)
        all_ = in_workers(_Job.played, jobs, min(_MOST_WORKERS, number_of_workers()),
                          lambda done, _: step(next(told).n) if done else None)  # fmt: skip
        return [job.played() if isinstance(own, Crashed) else own for job, own in zip(jobs, all_, strict=True)]

    def cells(self) -> int:
        """Numbers that the beliefs of one course take, about."""
        return sum(own.shape[1] * own.shape[2] * (self.slots() + len(own) + 60) for own in self.worlds.chances)

    def at_once(self) -> int:
        """Courses that are played at once."""
        return max(50, min(2000, _CELLS // self.cells()))

    def first_pairs(self, most: int) -> tuple[list[tuple[int, int]], list[tuple[int, int]], int]:
        """The most promising pairs of the first season.

        Returns:
            The pairs, the best first; those above the relatedness limit; and how many others are left out.
        """
        play = self._play([None], np.zeros(1, np.int64), 1)
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
            return pairs, related, 0
        stock = play.there()
        dams, sires = (np.array([own]) for own in zip(*pairs, strict=True))
        gain = self.rule.value_of(play.belief, stock, 0, dams, sires).gain()[0]
        ranked = [pairs[at] for at in np.argsort(-gain, kind="stable")]
        some, of_dam = list[tuple[int, int]](), Counter[int]()  # else the best dam alone would fill the list
        for pair in ranked:
            if of_dam[pair[0]] < _OF_A_DAM and len(some) < most:
                some.append(pair)
            of_dam[pair[0]] += 1
        found = [*some, *(pair for pair in ranked if pair not in some)][:most]
        return found, related, len(pairs) - most

    def rule_alone(self, n: int) -> Result:
        """What comes where the rule chooses the first season's pairings too."""
        return self.results([self.own_choice()], n)[0]

    def own_choice(self) -> Choice:
        """The rule's own choice for the first season."""
        play = self._play([None], np.zeros(1, np.int64), 1)
        pairs = play.chosen(0)
        return tuple((int(dams[0]), int(sires[0])) for dams, sires in pairs if dams[0] >= 0)
