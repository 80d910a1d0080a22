"""When the goal is reached: every road of the process added up, as far as they are not too many.

The chance that the goal is *not yet* reached is a sum of positive terms, and so is the chance that it is: the smaller
of the two is told, and the other is what it leaves of 1. So neither 0 nor 1 comes from rounding.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.plans.roads.graph import Graph, Kept, Node
from sitegen.plans.roads.kinds import Chance
from sitegen.plans.roads.process import Process
from sitegen.plans.roads.schedule import Matrix, Schedule
from sitegen.plans.roads.steps import Mating
from sitegen.plans.roads.young import TINY, Brood

Masses = dict[Node, float]

Ends = dict[tuple[Node, Matrix], float]
"""Roads of which only the goal can still come: their pattern and their odds, to their chance."""


class TooMany(Exception):  # noqa: N818 - no fault: the roads are drawn from there on
    """There are more roads than are added up.

    Attributes:
        season: The season that was too much.
        now: The nodes before it, with their chances.
        found: What was added up before it.
    """

    def __init__(self, season: int, now: Masses, found: "Sums") -> None:
        super().__init__()
        self.season = season
        self.now = now
        self.found = found


class _Over(Exception):  # noqa: N818 - becomes TooMany
    """The bound is passed."""


@dataclass(slots=True)
class Sums:
    """What was added up over all roads.

    Attributes:
        first: The first season.
        then: For each season the chance that the goal comes in it.
        not_yet: For each season the chance that it has not come by its end.
        done: For each stage and season the chance that the goal has not come, and the stage has given all.
        pending: The same, and the stage has not.
        litters: Expected number of litters up to the season of the goal, all of that season counted.
        kept: Expected number of young kept in the seasons before that of the goal, and the goal itself.
        open: Of what is left after the last season, the part that may still reach the goal.
        squares: For each season the sum of squared differences, from one drawn road to the next, of what was added to
            ``not_yet``.
    """

    first: int
    then: list[float] = field(default_factory=list)
    not_yet: list[float] = field(default_factory=list)
    done: list[list[float]] = field(default_factory=list)
    pending: list[list[float]] = field(default_factory=list)
    litters: float = 0.0
    kept: float = 0.0
    open: float = 0.0
    dead: float = 0.0
    squares: list[float] = field(default_factory=list)


def blank(process: Process, first: int, last: int) -> Sums:
    """Nothing added up yet, from a season to another."""
    n_seasons, n_legs = max(0, last - first + 1), len(process.legs)
    return Sums(
        first, [0.0] * n_seasons, [0.0] * n_seasons,
        [[0.0] * n_seasons for _ in range(n_legs)], [[0.0] * n_seasons for _ in range(n_legs)],
        squares=[0.0] * n_seasons,
    )  # fmt: skip


class Passage:
    """Adds up all roads of a process.

    Attributes:
        transitions: How many steps were added up so far.
    """

    def __init__(self, graph: Graph, bound: int) -> None:
        self.graph = graph
        self.process = graph.process
        self.bound = bound
        self.transitions = 0
        self._schedule = Schedule(graph)

    def sums(self, starts: Mapping[Node, float], first: int, last: int) -> Sums:
        """All roads from these states.

        Args:
            starts: Nodes before the first season, with their chances.
            first: The first season.
            last: The last season.

        Raises:
            TooMany: There are more steps than the bound; it holds all seasons that were within it.
        """
        found = blank(self.process, first, last)
        now: Masses = dict(starts)
        ends: Ends = {}
        for place, season in enumerate(range(first, last + 1)):
            litters, kept, transitions = found.litters, found.kept, self.transitions
            try:
                self._set_apart(now, ends)
                now, ends = self._season(now, season, place, found), self._ending(ends, season, place, found)
            except _Over:
                found.litters, found.kept, found.then[place] = litters, kept, 0.0
                self.transitions = transitions
                for (pattern, matrix), mass in ends.items():
                    node = self._schedule.node(pattern, matrix)
                    now[node] = now.get(node, 0.0) + mass
                raise TooMany(season, now, found) from None
            found.not_yet[place] = sum(now.values()) + sum(ends.values())
            for node, mass in (*now.items(), *((pattern, mass) for (pattern, _), mass in ends.items())):
                for at, done in enumerate(node.done):
                    (found.done if done else found.pending)[at][place] += mass
        reach = [(self.graph.can_reach(node), mass) for node, mass in now.items()]
        reach += [(self._schedule.can_reach(*end), mass) for end, mass in ends.items()]
        for can_reach, mass in reach:
            if can_reach:
                found.open += mass
            else:
                found.dead += mass
        return found

    def _set_apart(self, now: Masses, ends: Ends) -> None:
        """Move the roads of which only the goal can still come to the ends."""
        for node in [node for node in now if node.settled and self._schedule.fits(node)]:
            key = (self._schedule.pattern(node), self._schedule.matrix(node))
            ends[key] = ends.get(key, 0.0) + now.pop(node)

    def _ending(self, ends: Ends, season: int, place: int, found: Sums) -> Ends:
        later: Ends = {}
        for (pattern, matrix), mass in ends.items():
            chances = self._schedule.chances(matrix)
            branches = self._schedule.branches(pattern, season)
            self._count(len(branches))
            for branch in branches:
                weight = mass * branch.chance or TINY
                found.litters += weight * len(branch.took)
                for dam, sire in branch.took:
                    goal, missing = chances[dam][sire]
                    found.then[place] += weight * goal
                    found.kept += weight * goal
                    if not missing:
                        weight = 0.0
                        break
                    weight = weight * missing or TINY
                if weight:
                    key = (branch.after, matrix)
                    later[key] = later.get(key, 0.0) + weight
        return later

    def _season(self, now: Masses, season: int, place: int, found: Sums) -> Masses:
        later: Masses = {}
        for node, mass in now.items():
            self._count(1)
            roads: Masses = {node: mass}
            found.litters += mass * self.graph.litters(node, season)
            for mating in self.graph.matings(node, season):
                roads = self._mated(roads, mating, season, place, found)
            for end, chance in roads.items():
                found.kept += chance * (end.n_kept - node.n_kept)
                after = self.graph.after_season(node, end, season)
                later[after] = later.get(after, 0.0) + chance
        return later

    def _mated(self, roads: Masses, mating: Mating, season: int, place: int, found: Sums) -> Masses:
        terms = self.process.terms
        takes = 1.0 if mating.sure else terms.takes
        later: Masses = {}
        for node, mass in roads.items():
            if takes < 1:
                later[node] = later.get(node, 0.0) + (mass * (1 - takes) or TINY)
            own: Masses = {node: mass * takes or TINY} if takes else {}
            for _ in range(terms.a_year):
                own = self._born(own, mating, place, found)
            for end, chance in own.items():
                after = self.graph.after_litter(end, mating, season)
                later[after] = later.get(after, 0.0) + chance
        return later

    def _born(self, roads: Masses, mating: Mating, place: int, found: Sums) -> Masses:
        later: Masses = {}
        for node, mass in roads.items():
            brood, litter = self.graph.litter(node, mating)
            found.then[place] += mass * litter.goal
            found.kept += mass * litter.goal
            for chance, gain in litter.kept:
                weight = mass * chance or TINY
                for share, young in self._young(mating, brood, litter.care, gain):
                    after = self.graph.with_young(node, mating.leg, young) if young else node
                    later[after] = later.get(after, 0.0) + (weight * share or TINY)
        return later

    def _young(
        self, mating: Mating, brood: Brood | None, care: int, gain: Sequence[tuple[int, int]]
    ) -> Iterable[tuple[float, Kept]]:
        """Every way in which kept young may be, with its chance."""
        found: list[tuple[float, Kept]] = [(1.0, ())]
        for place, mark in gain:
            if brood is None or not self.process.is_tracked(mating.leg, place):
                found = [(chance, (*young, (place, None))) for chance, young in found]
                continue
            states = brood.states(care, mark)
            self._count(len(found) * len(states))
            found = [
                (chance * share or TINY, (*young, (place, composite)))
                for chance, young in found
                for composite, share in states
            ]
        self._count(len(found))
        return found

    def _count(self, more: int) -> None:
        self.transitions += more
        if self.transitions > self.bound:
            raise _Over


def joined(before: Sums, after: Sums) -> Sums:
    """Sums of all seasons, of which the first were added up and the others found elsewhere."""
    at = after.first - before.first

    def both(one: list[float], other: list[float]) -> list[float]:
        return [*one[:at], *other]

    return Sums(
        first=before.first,
        then=both(before.then, after.then),
        not_yet=both(before.not_yet, after.not_yet),
        done=[both(*pair) for pair in zip(before.done, after.done, strict=True)],
        pending=[both(*pair) for pair in zip(before.pending, after.pending, strict=True)],
        litters=before.litters + after.litters,
        kept=before.kept + after.kept,
        open=after.open,
        dead=after.dead,
        squares=both(before.squares, after.squares),
    )


def told(
    first: int, reached: Sequence[float], missing: Sequence[float], least: Sequence[Chance] = ()
) -> tuple[Chance, ...]:
    """Chances by season from the chance of each very season, and what is missing after it.

    Args:
        first: The first season.
        reached: Chance by the end of each season, as a sum of positive terms.
        missing: What is missing of 1 then, as another.
        least: Chances that these cannot be below but by rounding.
    """
    found: list[Chance] = []
    before = Fraction(0)
    for place, (has, lacks) in enumerate(zip(reached, missing, strict=True)):
        by = Fraction(has) if has < lacks else 1 - Fraction(lacks)
        by = min(max(by, before, least[place].by if least else before), Fraction(1))
        found.append(Chance(first + place, by - before, by))
        before = by
    return tuple(found)


def by_season(sums: Sums) -> tuple[Chance, ...]:
    """The chance that the goal is reached by each season."""
    return told(sums.first, _running(sums.then), sums.not_yet)


def yielded(sums: Sums, leg: int) -> tuple[Chance, ...]:
    """The chance that a stage has given all it is to give, or the goal has come, by each season."""
    done = [goal + own for goal, own in zip(_running(sums.then), sums.done[leg], strict=True)]
    return told(sums.first, done, sums.pending[leg], by_season(sums))


def _running(values: Iterable[float]) -> list[float]:
    found: list[float] = []
    total = 0.0
    for value in values:
        total += value
        found.append(total)
    return found
