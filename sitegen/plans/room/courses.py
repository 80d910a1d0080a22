"""Plays a room: choices for its first season, beside each other, in as many courses as wanted."""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from copy import copy

import numpy as np

from sitegen.evidence.asking import Asked
from sitegen.genetics.dice import Dice
from sitegen.plans.room.belief import Belief
from sitegen.plans.room.facts import Ints, Room
from sitegen.plans.room.luck import Luck
from sitegen.plans.room.played import Choice, Result, joined
from sitegen.plans.room.rule import Rule
from sitegen.plans.room.seasons import Play
from sitegen.plans.room.worlds import Worlds, true_types, worlds_of

_THREADS = 2
"""Parts that are played at the same time: numpy works beside the interpreter."""
_CELLS = 12_000_000
"""Numbers that the beliefs of all courses that are played at once may take."""


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
        self.room, self.n = room, n
        self.worlds = worlds or worlds_of(asked, room, dice)
        self.true = true_types(asked, room, n, dice)
        self.rule = Rule(room)
        self.luck = Luck(room, n, dice)

    def given(self, worlds: Worlds, courses: Ints) -> "Player":
        """Some courses by themselves, with what is believed where it is known that they are among these."""
        found = copy(self)
        found.n, found.worlds, found.luck = len(courses), worlds, self.luck.of(courses)
        found.true = tuple(own[:, courses] for own in self.true)
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
        return Play(self.rule, belief, [own.T[course] for own in self.true], self.luck, choices, course, width,
                    with_known=known, blind=blind)  # fmt: skip

    def results(
        self, choices: Sequence[Choice], n: int, *, known: bool = False, step: Callable[[int], None] = lambda _: None,
        blind: tuple[int, int] | None = None,
    ) -> list[Result]:  # fmt: skip
        """The same in parts that do not need much memory; ``step`` is told how many courses were played."""
        found: list[list[Result]] = [[] for _ in choices]
        most = self.at_once()
        per = max(1, most // n)
        if n <= most:
            parts = [(list(range(at, min(at + per, len(choices)))), 0, n) for at in range(0, len(choices), per)]
        else:
            ends = [*range(most, n, most), n]
            parts = [([at], end - most if end % most == 0 else end - end % most, end)
                     for at in range(len(choices)) for end in ends]  # fmt: skip

        def played(part: tuple[list[int], int, int]) -> list[Result]:
            return self.play([choices[at] for at in part[0]], part[2], known=known, start=part[1], blind=blind)

        with ThreadPoolExecutor(_THREADS) as pool:
            waiting = [pool.submit(played, part) for part in parts]
            try:
                for (places, start, end), future in zip(parts, waiting, strict=True):
                    for place, result in zip(places, future.result(), strict=True):
                        found[place].append(result)
                    step((end - start) * len(places))
            except BaseException:
                pool.shutdown(wait=False, cancel_futures=True)
                raise
        return [joined(own) for own in found]

    def at_once(self) -> int:
        """Courses that are played at once."""
        cells = 1
        for own in self.worlds.chances:
            cells += own.shape[1] * own.shape[2] * (self.slots() + len(own) + 60)
        return max(50, min(2000, _CELLS // cells))

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
        order = np.argsort(-gain, kind="stable")[:most]
        return [pairs[at] for at in order], related, len(pairs) - most

    def rule_alone(self, n: int) -> Result:
        """What comes where the rule chooses the first season's pairings too."""
        return self.results([self.own_choice()], n)[0]

    def own_choice(self) -> Choice:
        """The rule's own choice for the first season."""
        play = self._play([None], np.zeros(1, np.int64), 1)
        pairs = play.chosen(0)
        return tuple((int(dams[0]), int(sires[0])) for dams, sires in pairs if dams[0] >= 0)
