"""The search over the first season's pairings.

It begins with the rule's own choice and exchanges one pairing at a time: another one in its place, none, or one more.
All run a race over the same courses, in rounds of more courses and fewer choices: whoever lies clearly behind is out. A
change is accepted only where its gain is above two of its errors. Where there are few choices at all, each is in the
race. The last ones meet again in courses that chose nothing; only those are told.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from math import sqrt

import numpy as np

from sitegen.plans.room.courses import Player
from sitegen.plans.room.facts import Floats, Room
from sitegen.plans.room.played import Choice, Result

SECOND, THIRD, FINAL, N_LAST = 300, 1000, 1500, 3
NEAR, EVERYTHING = ((50, 10), (150, 5), (SECOND, 3), (THIRD, 3)), ((150, 16), (400, 8), (THIRD, 3), (FINAL, 3))
"""Rounds of a race, for what differs in one pairing and for everything: courses, and how many choices are left."""
_BEHIND = 3.0
"""So many of its errors behind the best a choice is out."""
FEW = 40
"""So many choices are all looked at."""
PAIRS = 16
"""The most promising pairs, out of which choices are made in large rooms."""
_ROUNDS = 4


@dataclass(eq=False)
class Search:
    """The search in one room.

    Attributes:
        best: The choices that are left, the best first.
        tried: All choices that were looked at.
        related: Pairs that are too related.
        left_out: How many pairs were in no choice.
        exchanged: Not all choices were looked at.
        stopped: It was stopped before it was done.
    """

    player: Player
    scale: float = 1.0
    best: list[Choice] = field(default_factory=list)
    tried: set[frozenset[tuple[int, int]]] = field(default_factory=set)
    related: list[tuple[int, int]] = field(default_factory=list)
    left_out: int = 0
    exchanged: bool = False
    stopped: bool = False

    @property
    def room(self) -> Room:
        """The room."""
        return self.player.room

    def run(self, step: Callable[[int], None]) -> None:
        """Looks for the best choices; Ctrl-C ends it with what there is."""
        own = self.player.own_choice()
        self.best = [own]
        try:
            pairs, self.related, self.left_out = self.player.first_pairs(PAIRS)
            everything = list(self._everything(pairs, FEW))
            if len(everything) <= FEW:
                self.best = self._race(everything, EVERYTHING, step)[:N_LAST]
            else:
                self.exchanged = True
                self._exchange(own, pairs, step)
        except KeyboardInterrupt:
            self.stopped = True

    # Choices.

    def _everything(self, pairs: Sequence[tuple[int, int]], most: int) -> Iterable[Choice]:
        """All choices, as long as there are not too many."""
        n = 0
        for size in range(self.room.litters + 1):
            for chosen in combinations(pairs, size):
                if len({dam for dam, _ in chosen}) == size:
                    yield chosen
                    n += 1
                    if n > most:
                        return

    def _near(self, choice: Choice, pairs: Sequence[tuple[int, int]]) -> list[Choice]:
        """Choices that differ in one pairing; what stays keeps its place, and so its luck."""
        found: list[Choice] = []
        for at in range(len(choice)):
            found.append((*choice[:at], *choice[at + 1 :]))
        for pair in pairs:
            for at in range(len(choice)):
                others = {dam for place, (dam, _) in enumerate(choice) if place != at}
                if pair[0] not in others and pair != choice[at]:
                    found.append((*choice[:at], pair, *choice[at + 1 :]))
            if len(choice) < self.room.litters and pair[0] not in {dam for dam, _ in choice}:
                found.append((*choice, pair))
        return [each for each in dict.fromkeys(found) if frozenset(each) not in self.tried]

    # Ranking.

    def _n(self, n: int) -> int:
        return max(20, min(round(n * self.scale), self.player.n))

    def _values(self, choices: Sequence[Choice], n: int, step: Callable[[int], None]) -> dict[Choice, Floats]:
        """The value of each choice in each course."""
        results = self.player.results(choices, n, step=step)
        return {choice: result.values(self.room) for choice, result in zip(choices, results, strict=True)}

    def _race(
        self, choices: Sequence[Choice], rounds: Sequence[tuple[int, int]], step: Callable[[int], None],
        now: Choice | None = None,
    ) -> list[Choice]:  # fmt: skip
        """Some choices, the best first; ``now`` stays to the end."""
        left, out = list(choices), list[Choice]()
        for courses, keep in rounds:
            n = self._n(courses)
            self.tried.update(map(frozenset, left))
            values = self._values(left, n, step)
            left.sort(key=lambda each: (-mean(values[each]), len(each), each))
            behind = {each: difference(values[left[0]], values[each]) for each in left}
            stays = [each for at, each in enumerate(left)
                     if each == now or (at < keep and behind[each][0] <= _BEHIND * behind[each][1])]  # fmt: skip
            left, out = stays, [*(each for each in left if each not in stays), *out]
            if now is None:
                self.best = [*left, *out][:N_LAST]
            if len(left) == 1:
                break
        return [*left, *out]

    def _exchange(self, own: Choice, pairs: Sequence[tuple[int, int]], step: Callable[[int], None]) -> None:
        now = own
        for _ in range(_ROUNDS):
            near = self._near(now, pairs)
            if not near:
                break
            ranked = self._race([now, *near], NEAR, step, now)
            better = ranked[0]
            values = self._values([better, now], self._n(THIRD), step)
            gain, error = difference(values[better], values[now])
            if better == now or gain <= 2 * error:
                self.best = [now, *(each for each in ranked if each != now)][:N_LAST]
                break
            now = better
            self.best = ranked[:N_LAST]


def mean(values: Floats) -> float:
    """The mean, from sums that are the same on every machine: by halves."""
    return halved(values) / len(values)


def halved(values: Floats) -> float:
    """The sum of numbers, by adding the halves of the list to each other."""
    found = np.asarray(values, float)
    while len(found) > 1:
        if len(found) % 2:
            found = np.append(found, 0.0)
        found = found[: len(found) // 2] + found[len(found) // 2 :]
    return float(found[0]) if len(found) else 0.0


def difference(left: Floats, right: Floats) -> tuple[float, float]:
    """The mean of paired differences, and its standard error."""
    own = left - right
    middle = mean(own)
    return middle, sqrt(mean((own - middle) ** 2) / max(len(own) - 1, 1))


def first_unless_better(values: Sequence[Floats], errors: float = 2.0) -> int:
    """The place of the best choice in common courses; the first, unless the gain is above so many of its errors."""
    best = max(range(len(values)), key=lambda at: mean(values[at]))
    gain, wrong = difference(values[best], values[0])
    return best if gain > errors * wrong else 0


def by_goal(room: Room, result: Result, against: Result, n: int) -> dict[str, float]:
    """Of each goal how much likelier it is at the end than elsewhere, in the first ``n`` courses; only clear ones."""
    found = {}
    for at, goal in enumerate(room.goals):
        gain, wrong = difference(result.kept[at][-1, :n].astype(float), against.kept[at][-1, :n].astype(float))
        if abs(gain) > 2 * wrong:
            found[goal.id] = gain
    return found
