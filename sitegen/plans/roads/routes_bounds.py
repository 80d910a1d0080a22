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

from sitegen.content.species import Species
from sitegen.genetics.counts import litter_sizes
from sitegen.plans.roads.routes_odds import Passed
from sitegen.plans.roads.routes_shapes import Role, Shape
from sitegen.plans.roads.routes_years import Years


@dataclass(frozen=True, slots=True)
class Best:
    """The best that can come of it, and what is likely to.

    Attributes:
        season: The first season by which it is reached in half of all courses at best; one beyond the horizon if not
            by then.
        chance: Chance by the horizon at best.
        likely_season: The same season as it is likely to be; for the order in which ways are looked at.
        likely: The same chance, likewise.
    """

    season: int
    chance: float
    likely_season: int
    likely: float


@dataclass(slots=True)
class Litters:
    """Chances of young of a kind in litters of the species' usual sizes; remembers what it has worked out.

    Attributes:
        sizes: Number of living young to its chance.
        takes: Chance that a pairing gives a litter.
        a_year: Litters of a season that gives any.
        rest: Seasons a dam rests after a litter; after a season without one she does not.
        seasons: So many seasons are worked out.
    """

    sizes: Mapping[int, float]
    takes: float
    a_year: int
    rest: int
    seasons: int
    _by_litters: dict[tuple[float, int, int], tuple[float, ...]] = field(default_factory=dict)
    _curves: dict[tuple[float, int, int], tuple[float, ...]] = field(default_factory=dict)
    _taken: dict[int, tuple[tuple[float, ...], ...]] = field(default_factory=dict)

    def short(self, share: float, count: int = 1, dams: int = 1) -> tuple[float, ...]:
        """Chance of fewer than ``count`` young of a kind with that share in 0, 1, ... seasons of so many dams."""
        key = (share, count, dams)
        found = self._curves.get(key)
        if found is None:
            by_litters = self.short_in(share, count, dams)
            found = self._curves[key] = tuple(
                sum(chance * by_litters[n] for n, chance in enumerate(taken)) for taken in self.taken(dams)
            )
        return found

    def taken(self, dams: int = 1) -> tuple[tuple[float, ...], ...]:
        """For 0, 1, ... seasons the chance of 0, 1, ... seasons of a dam that gave litters, all dams together."""
        found = self._taken.get(dams)
        if found is None and dams > 1:
            one, others = self.taken(1), self.taken(dams - 1)
            found = tuple(_both(first, second) for first, second in zip(one, others, strict=True))
        elif found is None:
            by_season: list[tuple[float, ...]] = [(1.0,)]
            for season in range(1, self.seasons + 1):
                rested = by_season[max(0, season - 1 - self.rest)]
                with_one = tuple(self.takes * chance for chance in rested)
                without = tuple((1 - self.takes) * chance for chance in by_season[-1])
                size = max(len(with_one) + 1, len(without))
                first, second = _padded((0.0, *with_one), size), _padded(without, size)
                by_season.append(tuple(a + b for a, b in zip(first, second, strict=True)))
            found = tuple(by_season)
        assert found is not None
        self._taken[dams] = found
        return found

    def short_in(self, share: float, count: int, dams: int = 1) -> tuple[float, ...]:
        """Chance of fewer than ``count`` young of a kind in 0, 1, ... seasons of a dam that gave litters."""
        key = (share, count, dams)
        found = self._by_litters.get(key)
        if found is None:
            one = [
                sum(p * comb(n, k) * share**k * (1 - share) ** (n - k) for n, p in self.sizes.items() if n >= k)
                for k in range(count)
            ]
            whole = (1.0,) + (0.0,) * (count - 1)
            curve = [1.0]
            for _ in range(self.seasons * dams):
                for _ in range(self.a_year):
                    whole = tuple(sum(whole[a] * one[k - a] for a in range(k + 1)) for k in range(count))
                curve.append(sum(whole))
            found = self._by_litters[key] = tuple(curve)
        return found


def _both(first: Sequence[float], second: Sequence[float]) -> tuple[float, ...]:
    """Chances of the sum of two independent numbers."""
    found = [0.0] * (len(first) + len(second) - 1)
    for a, chance in enumerate(first):
        for b, other in enumerate(second):
            found[a + b] += chance * other
    return tuple(found)


def _padded(chances: tuple[float, ...], size: int) -> tuple[float, ...]:
    return chances + (0.0,) * (size - len(chances))


def litters_of(species: Species, rest: int, seasons: int) -> Litters:
    """The litters of a species, for so many seasons."""
    size = species.litter_size
    sizes = {n: float(chance) for n, chance in litter_sizes(size.low, size.usual, size.high).items()}
    return Litters(sizes, float(species.takes), species.litters_a_year, rest, seasons)


@dataclass(frozen=True, slots=True)
class Timing:
    """What the bounds need of the calendar: the litters, the years, and the last season that counts."""

    litters: Litters
    years: Years
    horizon: int

    @property
    def n_seasons(self) -> int:
        """Seasons from the first open one to the horizon."""
        return self.horizon - self.years.first + 1


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
                    fails[at] *= curve[season - start + 1] ** most
    chances = [1 - fail for fail in fails]
    return _best(chances, chances, timing)


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
    at_best, likely = [0.0] * timing.n_seasons, [0.0] * timing.n_seasons
    for weight, units in parts:
        both = _by_season(shape, ready, units, counts, timing)
        for at in range(timing.n_seasons):
            at_best[at] += weight * both[0][at]
            likely[at] += weight * both[1][at]
    return _best(at_best, likely, timing)


def _best(at_best: Sequence[float], likely: Sequence[float], timing: Timing) -> Best:
    return Best(_half(at_best, timing), min(1.0, at_best[-1]), _half(likely, timing), min(1.0, likely[-1]))


def _half(by_season: Sequence[float], timing: Timing) -> int:
    """The first season by which it comes in half of all courses."""
    reached = (at for at, chance in enumerate(by_season) if chance > 0.5 - 1e-9)
    return timing.years.first + next(reached, timing.n_seasons)


def _by_season(
    shape: Shape, ready: Sequence[int], units: Sequence[Passed], counts: Mapping[Role, int], timing: Timing
) -> tuple[list[float], list[float]]:
    """Chance by the end of each season, from the first open one to the horizon: at best, and likely.

    At best what comes early adds to what comes in the last stage; likely the two are independent.
    """
    starts: list[list[float]] = []
    whole = [0.0] * timing.n_seasons
    fails = [1.0] * timing.n_seasons
    for stage in range(len(shape.crosses)):
        start = _differences(_there_by(shape, stage, ready, starts, units, counts, timing))
        starts.append(start)
        if stage == len(shape.crosses) - 1:
            odds = _goals(units, stage)
            sooner = _after(start, _last(shape, odds, counts, timing))
        elif all(unit.most(stage, 0) or unit.most(stage, 1) for unit in units):
            sooner = _after(start, _early(shape, stage, units, counts, timing))
        else:
            continue
        whole = [min(1.0, chance + more) for chance, more in zip(whole, sooner, strict=True)]
        fails = [fail * (1 - more) for fail, more in zip(fails, sooner, strict=True)]
    return whole, [1 - fail for fail in fails]


def _after(start: Sequence[float], by: Sequence[float]) -> list[float]:
    """Chance by season of what has chance ``by`` in 1, 2, ... seasons after a start of these chances."""
    found = [0.0] * len(start)
    for begun, chance in enumerate(start):
        for at in range(begun, len(start)) if chance else ():
            found[at] += chance * by[at - begun]
    return found


def _share(shape: Shape, role: Role, units: Sequence[Passed]) -> float:
    """The highest share of a stage's young that look right for a role and are of its sex."""
    place = 2 + [each for each in shape.roles if each.stage == role.stage].index(role)
    return round(0.5 * prod(unit.most(role.stage, place) for unit in units), 9)


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
    first, n_seasons = timing.years.first, timing.n_seasons
    both = [1.0] * n_seasons
    roles = [parent for parent in shape.crosses[stage] if isinstance(parent, Role)]
    for parent in shape.crosses[stage]:
        if not isinstance(parent, Role):
            both = [chance if first + at >= ready[parent] else 0.0 for at, chance in enumerate(both)]
    if len(roles) == 2 and roles[0].stage == roles[1].stage and all(counts[role] == 1 for role in roles):
        siblings = _siblings_by(shape, (roles[0], roles[1]), starts, units, counts, timing)
        return [min(pair) for pair in zip(both, siblings, strict=True)]
    for role in roles:
        wait = timing.years.after(role.sex)
        curve = timing.litters.short(_share(shape, role, units), counts[role], _dams(shape, role.stage, counts))
        own = [0.0] * n_seasons
        for begun, chance in enumerate(starts[role.stage]):
            for at in range(begun + wait, n_seasons) if chance else ():
                own[at] += chance * (1 - curve[at - wait - begun + 1])
        both = [min(pair) for pair in zip(both, own, strict=True)]
    return both


def _siblings_by(
    shape: Shape,
    roles: tuple[Role, Role],
    starts: Sequence[Sequence[float]],
    units: Sequence[Passed],
    counts: Mapping[Role, int],
    timing: Timing,
) -> list[float]:
    """The same for a daughter and a son of one stage: neither missing."""
    stage = roles[0].stage
    shares = [_share(shape, role, units) for role in roles]
    dams = _dams(shape, stage, counts)
    waits = [timing.years.after(role.sex) for role in roles]
    own = [timing.litters.short(share, 1, dams) for share in shares]
    either = timing.litters.short(round(sum(shares), 9), 1, dams)
    by = [0.0] * timing.n_seasons
    for begun, chance in enumerate(starts[stage]):
        for at in range(begun + max(waits), timing.n_seasons) if chance else ():
            missing = [curve[at - wait - begun + 1] for curve, wait in zip(own, waits, strict=True)]
            neither = min(either[at - max(waits) - begun + 1], *missing)
            by[at] += chance * (1 - sum(missing) + neither)
    return by


def _together(units: Sequence[Passed], stage: int) -> dict[tuple[float, ...], float]:
    """The odds of a stage's shares, all units together."""
    kinds: dict[tuple[float, ...], float] = {}
    for number, unit in enumerate(units):
        if number == 0:
            kinds = dict(unit.stages[stage])
            continue
        grown: dict[tuple[float, ...], float] = {}
        for shares, chance in kinds.items():
            for other, own in unit.stages[stage]:
                key = tuple(a * b for a, b in zip(shares, other, strict=True))
                grown[key] = grown.get(key, 0.0) + chance * own
        kinds = grown
    return kinds


def _goals(units: Sequence[Passed], stage: int) -> dict[float, float]:
    """The odds of the share of goals among a stage's young."""
    odds: dict[float, float] = {}
    for (daughters, sons, *_), chance in _together(units, stage).items():
        if daughters + sons:
            share = round((daughters + sons) / 2, 9)
            odds[share] = odds.get(share, 0.0) + chance
    return odds


def _early(
    shape: Shape, stage: int, units: Sequence[Passed], counts: Mapping[Role, int], timing: Timing
) -> list[float]:
    """Chance that a stage on the way gives the goal, as long as it is not done, in 1, 2, ... seasons."""
    roles = [role for role in shape.roles if role.stage == stage]
    dams = _dams(shape, stage, counts)
    short = timing.litters.short
    grouped: dict[tuple[float, ...], float] = {}
    for (daughters, sons, *shares), chance in _together(units, stage).items():
        if daughters + sons:
            key = (round((daughters + sons) / 2, 9), *(round(share / 2, 9) for share in shares))
            grouped[key] = grouped.get(key, 0.0) + chance
    found = [0.0] * timing.n_seasons
    for (goal, *shares), chance in grouped.items():
        none = short(goal, 1, dams)
        unfilled = [short(share, counts[role], dams) for share, role in zip(shares, roles, strict=True)]
        so_far = 0.0
        for at in range(timing.n_seasons):
            so_far += min(1.0, sum(curve[at] for curve in unfilled)) * (1 - none[1])
            found[at] += chance * min(so_far, 1 - none[at + 1])
    return found


def _last(shape: Shape, odds: Mapping[float, float], counts: Mapping[Role, int], timing: Timing) -> list[float]:
    """Chance that the last stage gives the goal in 1, 2, ... seasons."""
    parents = shape.crosses[-1]
    n_dams, n_sires = (counts[parent] if isinstance(parent, Role) else 1 for parent in parents)
    lines = prod(count for role, count in counts.items() if role not in parents)
    curves = [(chance, timing.litters.short_in(share, 1)) for share, chance in odds.items()]
    fails = [1 - sum(chance * (1 - curve[n]) for chance, curve in curves) for n in range(timing.n_seasons + 1)]
    spread = [
        prod(fails[n // n_sires + (turn < n % n_sires)] for turn in range(n_sires))  # the sires take turns
        for n in range(timing.n_seasons + 1)
    ]
    by: list[float] = []
    for taken in timing.litters.taken()[1:]:
        fail = sum(chance * spread[n] for n, chance in enumerate(taken))
        by.append(1 - fail ** (n_dams * lines))
    return by
