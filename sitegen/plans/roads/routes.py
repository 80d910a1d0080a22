"""A search for routes to a project's goal: which animals, which order of crosses, what to keep on the way.

It is a search among ways of bringing the genes of several animals together in one, generation by generation, that
weighs generations against the young each of them needs: Servin B, Martin OC, Mezard M & Hospital F (2004) Toward a
theory of marker-assisted gene pyramiding, Genetics 168:513-523 (from memory; the idea, none of its formulas).

What is searched is told by :func:`sitegen.plans.roads.routes_shapes.shapes` (who is crossed with whom),
:meth:`sitegen.plans.roads.routes_ways.Heritage.choices` (by what young are chosen) and
:func:`sitegen.plans.roads.routes_ways.counts_worth_trying` (how many are kept). Each way is bounded at best
(:mod:`sitegen.plans.roads.routes_bounds`); the most promising is worked out first, and what even at best is no better
than a route that was worked out is left. So the routes that remain are those that would remain if every one had been
worked out, as long as no bound of the search was reached.
"""

import datetime as dt
import heapq
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import product
from math import prod

from sitegen.content.projects import Project, Stage
from sitegen.evidence.asking import Asked, members_with_sires
from sitegen.findings import SitegenError
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.courses import RUNS, STATES, Roads
from sitegen.plans.roads.routes_bounds import Best, Timing, at_best, earliest, estimate, litters_of
from sitegen.plans.roads.routes_cast import cast, heard
from sitegen.plans.roads.routes_kinds import Bounds, Evaluate, Found, Founder, Route, Worth
from sitegen.plans.roads.routes_related import least_related
from sitegen.plans.roads.routes_shapes import shapes
from sitegen.plans.roads.routes_stages import stages_of
from sitegen.plans.roads.routes_ways import MOST_OF_A_KIND, Heritage, Way, counts_worth_trying
from sitegen.plans.roads.routes_years import years_of
from sitegen.plans.roads.wants import Want

Report = Callable[[int, int], None]
MOST_YOUNG = 8
"""So many young a route raises at most beside the goal animal."""
DEFAULT_SEASONS = 10
"""The last season that counts when the project names none: so many after the first that is still open."""

QUICK_RUNS = 1_000
QUICK_STATES = 15_000


@dataclass(frozen=True, slots=True)
class Rank:
    """What routes are compared by, as a breeder reads it: whole seasons, whole young, whole hundredths.

    Attributes:
        season: The first season by which it is reached in half of all courses; one beyond the horizon if never.
        young: Young to raise beside the goal animal.
        of_100: Chance by the horizon.
    """

    season: int
    young: int
    of_100: int

    def no_worse(self, other: "Rank") -> bool:
        """True when it is no worse on each."""
        return self.season <= other.season and self.young <= other.young and self.of_100 >= other.of_100


def rank_of(season: int | None, young: int, chance: float | Fraction, horizon: int) -> Rank:
    """A rank from what was found; no season stands for none by the horizon."""
    return Rank(horizon + 1 if season is None else min(season, horizon + 1), young, int(chance * 100 + Fraction(1, 2)))


def worked_out_by(
    roads: Roads, project: Project, as_of: dt.date, horizon: int, *, runs: int = RUNS, states: int = STATES
) -> Evaluate:
    """Works routes out as the roads of projects are.

    Args:
        roads: The workshop; what it remembers serves all routes.
        project: Its goal and rest seasons count.
        as_of: The day of the search.
        horizon: The last season that counts.
        runs: Courses to draw where there are too many to add up.
        states: Steps to add up at most.
    """

    def evaluate(stages: tuple[Stage, ...]) -> Worth:
        course = roads.course(project, as_of, stages=stages, horizon=horizon, runs=runs, states=states)
        chance = course.by_season[-1].by if course.by_season else Fraction(0)
        return Worth(course.median, chance, course.litters, course.kept, course.method)

    return evaluate


def quickly(roads: Roads, project: Project, as_of: dt.date, horizon: int) -> Evaluate:
    """Like :func:`worked_out_by`, with bounds that suit a search: of routes with many courses fewer are drawn."""
    return worked_out_by(roads, project, as_of, horizon, runs=QUICK_RUNS, states=QUICK_STATES)


def horizon_of(asked: Asked, project: Project, as_of: dt.date) -> int:
    """The last season that counts if none is asked for: the project's, else some after the first open one."""
    return project.horizon or years_of(asked.evidence.collection, project, as_of).first + DEFAULT_SEASONS


def search(
    asked: Asked,
    project: Project,
    as_of: dt.date,
    evaluate: Evaluate,
    bounds: Bounds,
    report: Report = lambda done, total: None,
    finally_by: Evaluate | None = None,
) -> Found:
    """The routes to a project's goal that no other equals or betters on each of season, young to raise and chance.

    Args:
        asked: The evidence of the collection and what heredity answers.
        project: Its goal is what counts, with its rest seasons; not its stages.
        as_of: The day on which the search is made.
        evaluate: Works a route out, up to the horizon in ``bounds``.
        bounds: How far to go.
        report: Told how many routes were worked out, and how many may have to be.
        finally_by: Works the routes that remain out once more, more exactly; None leaves them as they are.

    Raises:
        SitegenError: The goal names nothing; or animals are tied in too many ways to be answered together.
    """
    if not project.goal.shows and not project.goal.carries:
        raise SitegenError(f"{project.id} has no goal to search routes to; write goal: {{shows: [...]}} in its record")
    collection = asked.evidence.collection
    years = years_of(collection, project, as_of)
    what = heard(asked, project)
    kinship = Kinship(members_with_sires(asked, project.species))
    players = cast(asked, project, what, years, bounds, as_of, kinship)
    found = Found(
        (), bounds, years.first, players.already, players.founders, players.left_out,
        nobody_has=players.nobody_has, cannot_live=any(not unit.can_be() for unit in what.units),
    )  # fmt: skip
    if found.cannot_live or players.nobody_has or not what.units or bounds.horizon < years.first:
        return found
    species = collection.species[project.species]
    litters = litters_of(species, years.rest, bounds.horizon - years.first + 1)
    heritage = Heritage(what, species.genome)
    timing = Timing(litters, years, bounds.horizon)
    return _Search(project, evaluate, bounds, heritage, timing, kinship).run(found, report, finally_by)


Heap = list[tuple[float, int, Rank, Way]]


@dataclass(slots=True)
class _Search:
    project: Project
    evaluate: Evaluate
    bounds: Bounds
    heritage: Heritage
    timing: Timing
    kinship: Kinship
    prune: bool = True
    done: list[tuple[Rank, Route]] = field(default_factory=list)
    unchosen: Heap = field(default_factory=list)
    """Ways of which it is open by what young are chosen."""
    uncounted: Heap = field(default_factory=list)
    """Ways of which it is open how many young are kept."""
    whole: tuple[Heap, ...] = field(default_factory=lambda: tuple([] for _ in range(MOST_YOUNG + 1)))
    """Whole routes by the number of young they raise; they are worked out in turn, so that no number goes short."""
    shapes: int = 0
    possible: int = 0
    too_related: int = 0
    estimated: int = 0
    _pushed: int = 0
    _turn: int = 0

    def run(self, found: Found, report: Report, finally_by: Evaluate | None) -> Found:
        """The search, to its end or until it is stopped."""
        stopped = False
        try:
            for way in self._ways(found.founders):
                self._consider(way)
            while len(self.done) < self.bounds.worked_out:
                self._tell_more(self.unchosen, report)
                self._tell_more(self.uncounted, report)
                if not self._work_one_out(report) and not self._goes_on():
                    break
            report(100, 100)
        except KeyboardInterrupt:
            stopped = True
        routes = self._best()
        worked_out, left = (
            len(self.done),
            sum(not self._no_better(rank) for heap in self._heaps for *_, rank, _way in heap),
        )
        if finally_by is not None:
            self.done = [self._ranked(replace(route, worth=finally_by(route.stages))) for route in routes]
            routes = self._best()
        return replace(
            found, routes=routes, shapes=self.shapes, possible=self.possible, too_related=self.too_related,
            estimated=self.estimated, worked_out=worked_out, open=left, stopped=stopped,
        )  # fmt: skip

    def _goes_on(self) -> bool:
        """True while ways may still be told more fully."""
        return self.estimated < self.bounds.looked_at and bool(self.unchosen or self.uncounted)

    @property
    def _heaps(self) -> tuple[Heap, ...]:
        return (self.unchosen, self.uncounted, *self.whole)

    def _tell_more(self, heap: Heap, report: Report) -> None:
        """Tell the most promising ways of a heap more fully, as many as are due before the next is worked out."""
        until = self.estimated + max(1, self.bounds.looked_at // max(1, self.bounds.worked_out) // 2)
        while heap and self.estimated < min(until, self.bounds.looked_at):
            *_, rank, way = heapq.heappop(heap)
            if self._no_better(rank):
                continue
            if way.choice is None:
                self._open_choices(way)
            else:
                self._open_counts(way, way.choice)
        self._tell(report)

    def _work_one_out(self, report: Report) -> bool:
        """Work the most promising whole route out of those that raise so many young; False when there are none."""
        for _ in range(len(self.whole)):
            heap = self.whole[self._turn % len(self.whole)]
            self._turn += 1
            while heap:
                *_, rank, way = heapq.heappop(heap)
                if way.choice is not None and not self._no_better(rank) and self._work_out(way, way.choice):
                    self._tell(report)
                    return True
        return False

    def _tell(self, report: Report) -> None:
        """How far the search is, in hundredths of the bound that it is nearest to; all of them at its end."""
        looked = self.estimated / max(1, self.bounds.looked_at)
        report(int(100 * min(1.0, max(looked, len(self.done) / max(1, self.bounds.worked_out)))), 100)

    def _best(self) -> tuple[Route, ...]:
        """Those that no other equals or betters; of equals the one that was worked out first."""
        front: list[tuple[Rank, Route]] = []
        for at, (rank, route) in enumerate(self.done):
            beaten = any(
                other.no_worse(rank) and (other != rank or number < at)
                for number, (other, _) in enumerate(self.done)
                if number != at
            )
            if rank.of_100 and not beaten:
                front.append((rank, route))
        front.sort(key=lambda entry: (entry[0].season, entry[0].young, -entry[0].of_100))
        return tuple(route for _, route in front)

    def _no_better(self, rank: Rank) -> bool:
        return rank.of_100 == 0 or (self.prune and any(other.no_worse(rank) for other, _ in self.done))

    def _push(self, best: Best, young: int, way: Way) -> None:
        rank = rank_of(best.season, young, min(1.0, best.chance + 1e-9), self.bounds.horizon)
        if not self._no_better(rank):
            promise = best.likely_season - self.timing.years.first + young + 6 * (1 - best.likely)
            self._pushed += 1
            if way.counts or (way.choice is not None and not way.shape.roles):
                heap = self.whole[young]
            else:
                heap = self.unchosen if way.choice is None else self.uncounted
                promise -= 1000 if len(way.shape.roles) < 2 else 0  # the plainest first, for they are few
            heapq.heappush(heap, (promise, self._pushed, rank, way))

    def _ways(self, founders: Sequence[Founder]) -> Iterator[Way]:
        """Who is crossed with whom: every shape with every choice of animals that may hold the whole goal together."""
        has = {founder.id: self.heritage.may_bring(founder) for founder in founders}
        by_sex = {sex: [each for each in founders if each.sex is sex] for sex in (Sex.FEMALE, Sex.MALE)}
        needed = self.heritage.needed
        for shape in shapes(self.bounds.generations, self.bounds.animals):
            for chosen in product(*(by_sex[sex] for sex in shape.sexes)):
                if any(chosen.count(each) > 1 + len(each.alike) for each in chosen):
                    continue
                self.shapes += 1
                if needed <= frozenset().union(*(has[each.id] for each in chosen)):
                    yield Way(shape, chosen)

    def _consider(self, way: Way) -> None:
        """Look at a way at best, before it is said by what young are chosen."""
        if earliest(way.shape, way.ready, self.timing.years)[-1] > self.bounds.horizon:
            return
        shares = [0.0] * len(way.shape.crosses)
        passed = self.heritage.passed(way, {})
        for _, units in passed:
            for stage in range(len(shares)):
                among = [prod(unit.most(stage, sex) for unit in units) for sex in (0, 1)]
                shares[stage] = max(shares[stage], round(sum(among) / 2, 9))
        if not shares[-1]:
            return
        if self.bounds.relatedness is not None and self._animals(way) is None:
            self.too_related += 1
            return
        self.possible += 1
        n_roles = len(way.shape.roles)
        best = at_best(way.shape, way.ready, shares, MOST_OF_A_KIND**n_roles, self.timing)
        likely = estimate(way.shape, way.ready, passed, dict.fromkeys(way.shape.roles, 1), self.timing)
        self._push(replace(best, likely_season=likely.likely_season, likely=likely.likely), n_roles, way)

    def _animals(self, way: Way) -> tuple[tuple[AnimalId, ...], Fraction] | None:
        return least_related(way.shape, way.founders, self.kinship, self.bounds.relatedness)

    def _open_choices(self, way: Way) -> None:
        for choice in self.heritage.choices(way):
            self.estimated += 1
            passed = self.heritage.passed(way, choice)
            most = {role: max(tries) for role, tries in counts_worth_trying(way.shape, passed).items()}
            best = estimate(way.shape, way.ready, passed, most, self.timing)
            self._push(best, len(most), replace(way, choice=tuple(choice[role] for role in way.shape.roles)))

    def _open_counts(self, way: Way, chosen: tuple[Want, ...]) -> None:
        passed = self.heritage.passed(way, dict(zip(way.shape.roles, chosen, strict=True)))
        tries = counts_worth_trying(way.shape, passed)
        for counts in product(*tries.values()):
            if sum(counts) <= MOST_YOUNG:
                self.estimated += 1
                kept = dict(zip(tries, counts, strict=True))
                best = estimate(way.shape, way.ready, passed, kept, self.timing)
                self._push(best, sum(counts), replace(way, counts=counts))

    def _work_out(self, way: Way, chosen: tuple[Want, ...]) -> bool:
        own = self._animals(way)
        if own is None:
            return False
        animals, highest = own
        roles = way.shape.roles
        choice = dict(zip(roles, chosen, strict=True))
        passed = self.heritage.passed(way, choice)
        stages = stages_of(
            way.shape,
            animals,
            earliest(way.shape, way.ready, self.timing.years),
            {role: want.seen for role, want in choice.items()},
            {role: self.heritage.carried(role, want, passed) for role, want in choice.items()},
            dict(zip(roles, way.counts, strict=True)),
            self.project.goal,
            self.heritage.genome,
        )
        worth = self.evaluate(stages)
        alike = {
            animal: tuple(other for other in (founder.id, *founder.alike) if other != animal)
            for animal, founder in zip(animals, way.founders, strict=True)
            if founder.alike
        }
        self.done.append(self._ranked(Route(stages, worth, sum(way.counts), highest, alike)))
        return True

    def _ranked(self, route: Route) -> tuple[Rank, Route]:
        return rank_of(route.worth.median, route.young, route.worth.chance, self.bounds.horizon), route
