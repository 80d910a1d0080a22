"""How soon and how surely a way of crossing and keeping can reach the goal at best, without playing it through.

The figures bound from above what the whole process gives: every stage begins as soon as it can, parents that may give
what is wanted are taken to give it at the best rate, and several kept young are taken as so many separate chances.
With parents whose genotypes are certain and one young kept of a kind they come close to it.

The idea of weighing how many young each generation needs against how many generations there are: Servin B, Martin OC,
Mezard M & Hospital F (2004) Toward a theory of marker-assisted gene pyramiding, Genetics 168:513-523 (the idea and
the reference from memory; no formula of it is used).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import comb, prod

from sitegen.genetics.counts import litter_sizes
from sitegen.plans.roads.routes_odds import Passed
from sitegen.plans.roads.routes_shapes import Role, Shape
from sitegen.plans.roads.routes_years import Years
from sitegen.records.species import Species


@dataclass(frozen=True, slots=True)
class Best:
    """The best that can come of it.

    Attributes:
        season: The first season by which it is reached in half of all courses; one beyond the horizon if not by then.
        chance: Chance by the horizon.
    """

    season: int
    chance: float


@dataclass(slots=True)
class Litters:
    """Chances of young of a kind in litters of the species' usual sizes; remembers what it has worked out."""

    sizes: Mapping[int, float]
    takes: float
    a_year: int
    most: int
    _curves: dict[tuple[float, int], tuple[float, ...]] = field(default_factory=dict)

    def short(self, share: float, count: int = 1) -> tuple[float, ...]:
        """Chance of fewer than ``count`` young of a kind with that share in 0, 1, ... ``most`` pairings.

        A pairing is one dam in one season, with all her litters of it.
        """
        found = self._curves.get((share, count))
        if found is None:
            one = self._of_one(share, count)
            whole = (1.0,) + (0.0,) * (count - 1)
            curve = [1.0]
            for _ in range(self.most):
                for _ in range(self.a_year):
                    whole = tuple(sum(whole[a] * one[k - a] for a in range(k + 1)) for k in range(count))
                curve.append(sum(whole))
            found = self._curves[share, count] = tuple(curve)
        return found

    def _of_one(self, share: float, count: int) -> tuple[float, ...]:
        """Chances of 0, 1, ... ``count`` - 1 such young in one litter."""
        chances = [
            self.takes
            * sum(p * comb(n, k) * share**k * (1 - share) ** (n - k) for n, p in self.sizes.items() if n >= k)
            for k in range(count)
        ]
        chances[0] += 1 - self.takes
        return tuple(chances)


def litters_of(species: Species, most: int) -> Litters:
    """The litters of a species, for so many pairings at most."""
    size = species.litter_size
    sizes = {n: float(chance) for n, chance in litter_sizes(size.low, size.usual, size.high).items()}
    return Litters(sizes, float(species.takes), species.litters_a_year, most)


@dataclass(frozen=True, slots=True)
class Timing:
    """What the bounds need of the calendar: the litters, the years, and the last season that counts."""

    litters: Litters
    years: Years
    horizon: int

    def pairings(self, seasons: int) -> int:
        """How often a dam is paired in so many seasons."""
        return (seasons - 1) // (1 + self.years.rest) + 1 if seasons > 0 else 0


def earliest(shape: Shape, ready: Sequence[int], years: Years) -> tuple[int, ...]:
    """The earliest season of each stage."""
    found: list[int] = []
    for cross in shape.crosses:
        found.append(
            max(
                found[parent.stage] + years.after(parent.sex) if isinstance(parent, Role) else ready[parent]
                for parent in cross
            )
        )
    return tuple(found)


def at_best(shape: Shape, ready: Sequence[int], shares: Sequence[float], most: int, timing: Timing) -> Best:
    """The best of a shape when every stage gives at once all it is to give, and goes on to be bred.

    Args:
        shape: Who is crossed with whom.
        ready: The first season of each founder.
        shares: For each stage the highest share of young that are the goal.
        most: How many dams and lines of young a stage has at most.
        timing: The calendar.
    """
    begun = earliest(shape, ready, timing.years)
    seasons = range(timing.years.first, timing.horizon + 1)
    fails = [1.0] * len(seasons)
    for start, share in zip(begun, shares, strict=True):
        if share:
            curve = timing.litters.short(share)
            for at, season in enumerate(seasons):
                if season >= start:
                    fails[at] *= curve[timing.pairings(season - start + 1)] ** most
    return _best([(season, 1 - fail) for season, fail in zip(seasons, fails, strict=True)], timing.horizon)


def estimate(
    shape: Shape,
    ready: Sequence[int],
    parts: Sequence[tuple[float, Sequence[Passed]]],
    counts: Mapping[Role, int],
    timing: Timing,
) -> Best:
    """The best that can come of a way of crossing and keeping.

    Args:
        shape: Who is crossed with whom.
        ready: The first season of each founder.
        parts: What the units say, once for each case that ties them, with its chance.
        counts: How many young are kept in each role.
        timing: The calendar.
    """
    first = timing.years.first
    total = [0.0] * (timing.horizon - first + 1)
    for weight, units in parts:
        for number, chance in enumerate(_by_season(shape, ready, units, counts, timing)):
            total[number] += weight * chance
    return _best([(first + number, chance) for number, chance in enumerate(total)], timing.horizon)


def _best(by_season: Sequence[tuple[int, float]], horizon: int) -> Best:
    median = next((season for season, chance in by_season if chance > 0.5 - 1e-9), horizon + 1)
    return Best(median, min(1.0, by_season[-1][1]) if by_season else 0.0)


def _by_season(
    shape: Shape, ready: Sequence[int], units: Sequence[Passed], counts: Mapping[Role, int], timing: Timing
) -> list[float]:
    """Chance by the end of each season, from the first open one to the horizon."""
    n_seasons = timing.horizon - timing.years.first + 1
    starts: list[list[float]] = []
    early = [0.0] * n_seasons
    for number in range(len(shape.crosses)):
        start = _differences(_there_by(shape, number, ready, starts, units, counts, timing))
        starts.append(start)
        if number < len(shape.crosses) - 1:
            share = _goal_share([unit.early[number] for unit in units])
            if share:
                _add_early(early, shape, number, start, share, units, counts, timing)
    whole = _last(shape, starts[-1], units, counts, timing)
    return [min(1.0, main + sooner) for main, sooner in zip(whole, early, strict=True)]


def _share(role: Role, units: Sequence[Passed], *, lowest: bool = False) -> float:
    """Share of a stage's young that look right for a role and are of its sex."""
    return round(0.5 * prod(unit.fitting.get(role, (0.0, 0.0))[lowest] for unit in units), 9)


def _goal_share(shares: Sequence[tuple[float, float]]) -> float:
    return round(0.5 * (prod(share[0] for share in shares) + prod(share[1] for share in shares)), 9)


def _differences(by: Sequence[float]) -> list[float]:
    return [by[0], *(later - sooner for sooner, later in pairwise(by))] if by else []


def _dams(shape: Shape, stage: int, counts: Mapping[Role, int]) -> int:
    dam = shape.crosses[stage][0]
    return counts[dam] if isinstance(dam, Role) else 1


def _there_by(
    shape: Shape,
    stage: int,
    ready: Sequence[int],
    starts: Sequence[Sequence[float]],
    units: Sequence[Passed],
    counts: Mapping[Role, int],
    timing: Timing,
) -> list[float]:
    """Chance that both parents of a stage can be paired, by season."""
    first, n_seasons = timing.years.first, timing.horizon - timing.years.first + 1
    both = [1.0] * n_seasons
    roles = [parent for parent in shape.crosses[stage] if isinstance(parent, Role)]
    for parent in shape.crosses[stage]:
        if not isinstance(parent, Role):
            both = [chance if first + at >= ready[parent] else 0.0 for at, chance in enumerate(both)]
    if len(roles) == 2 and roles[0].stage == roles[1].stage and all(counts[role] == 1 for role in roles):
        siblings = _siblings_by(shape, (roles[0], roles[1]), starts, units, counts, timing, n_seasons)
        return [min(pair) for pair in zip(both, siblings, strict=True)]
    for role in roles:
        dams, wait = _dams(shape, role.stage, counts), timing.years.after(role.sex)
        curve = timing.litters.short(_share(role, units), counts[role])
        own = [0.0] * n_seasons
        for begun, chance in enumerate(starts[role.stage]):
            if chance:
                for at in range(begun + wait, n_seasons):
                    own[at] += chance * (1 - curve[dams * timing.pairings(at - wait - begun + 1)])
        both = [min(pair) for pair in zip(both, own, strict=True)]
    return both


def _siblings_by(
    shape: Shape,
    roles: tuple[Role, Role],
    starts: Sequence[Sequence[float]],
    units: Sequence[Passed],
    counts: Mapping[Role, int],
    timing: Timing,
    n_seasons: int,
) -> list[float]:
    """The same for a daughter and a son of one stage: neither missing."""
    stage = roles[0].stage
    shares = [_share(role, units) for role in roles]
    dams = _dams(shape, stage, counts)
    waits = [timing.years.after(role.sex) for role in roles]
    own = [timing.litters.short(share) for share in shares]
    either = timing.litters.short(round(sum(shares), 9))
    by = [0.0] * n_seasons
    for begun, chance in enumerate(starts[stage]):
        for at in range(begun + max(waits), n_seasons) if chance else ():
            times = [dams * timing.pairings(at - wait - begun + 1) for wait in waits]
            neither = either[min(times)] * own[times[1] > times[0]][max(times) - min(times)]
            by[at] += chance * (1 - own[0][times[0]] - own[1][times[1]] + neither)
    return by


def _add_early(
    early: list[float],
    shape: Shape,
    stage: int,
    start: Sequence[float],
    share: float,
    units: Sequence[Passed],
    counts: Mapping[Role, int],
    timing: Timing,
) -> None:
    """Add the chance that a stage on the way gives the goal, as long as it is not done."""
    roles = [role for role in shape.roles if role.stage == stage]
    dams = _dams(shape, stage, counts)
    gives = 1 - timing.litters.short(share)[dams]
    unfilled = [timing.litters.short(_share(role, units, lowest=True), counts[role]) for role in roles]
    for begun, chance in enumerate(start):
        so_far = 0.0
        for at in range(begun, len(early)) if chance else ():
            before = dams * timing.pairings(at - begun)
            if timing.pairings(at - begun + 1) * dams > before:
                so_far += min(1.0, sum(curve[before] for curve in unfilled)) * gives
            early[at] += chance * min(1.0, so_far)


def _last(
    shape: Shape, start: Sequence[float], units: Sequence[Passed], counts: Mapping[Role, int], timing: Timing
) -> list[float]:
    """Chance by season that the last stage gives the goal."""
    kinds: dict[tuple[float, float], float] = {(1.0, 1.0): 1.0}
    for unit in units:
        grown: dict[tuple[float, float], float] = {}
        for (daughters, sons), chance in kinds.items():
            for (of_daughters, of_sons), own in unit.last:
                key = daughters * of_daughters, sons * of_sons
                grown[key] = grown.get(key, 0.0) + chance * own
        kinds = grown
    odds: dict[float, float] = {}
    for (daughters, sons), chance in kinds.items():
        if daughters + sons:
            share = round((daughters + sons) / 2, 9)
            odds[share] = odds.get(share, 0.0) + chance
    parents = shape.crosses[-1]
    n_dams, n_sires = (counts[parent] if isinstance(parent, Role) else 1 for parent in parents)
    lines = prod(count for role, count in counts.items() if role not in parents)
    curves = [(chance, timing.litters.short(share)) for share, chance in odds.items()]
    fails = [1 - sum(chance * (1 - curve[own]) for chance, curve in curves) for own in range(len(start) + 1)]
    by: list[float] = []
    for seasons in range(1, len(start) + 1):
        times = timing.pairings(seasons)
        fail = 1.0
        for turn in range(n_sires):  # every dam's seasons are shared out among the sires
            fail *= fails[times // n_sires + (turn < times % n_sires)]
        by.append(1 - fail ** (n_dams * lines))
    found = [0.0] * len(start)
    for begun, chance in enumerate(start):
        for at in range(begun, len(start)) if chance else ():
            found[at] += chance * by[at - begun]
    return found
