"""Roads of one species: a workshop that keeps what many roads to many goals have in common.

Make one :class:`Roads` and ask it often.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.projects import Project, Stage
from sitegen.evidence.asking import Asked
from sitegen.genetics.counts import litter_sizes
from sitegen.plans.roads.dice import Dice, seed_of
from sitegen.plans.roads.graph import Graph
from sitegen.plans.roads.kinds import Chance, Method
from sitegen.plans.roads.litter_yields import Yield
from sitegen.plans.roads.passage import Passage, Sums, TooMany, by_season, joined, yielded
from sitegen.plans.roads.plan import RoadPlan, road_plan
from sitegen.plans.roads.process import Process
from sitegen.plans.roads.simulation import Simulation
from sitegen.plans.roads.starts import Listed, all_starts, number_of, starts_of
from sitegen.plans.roads.steps import Terms
from sitegen.plans.roads.wants import Want, loci_of, want_of
from sitegen.plans.roads.worlds import Part, World, worlds_of
from sitegen.plans.roads.young import Nursery

RUNS = 10_000
"""Roads that are drawn at most where there are too many to add up."""

STATES = 30_000
"""Steps that are added up at most."""

STEPS_A_START = 8
"""Steps that are taken to follow from each state at the start; more states than that allows are not begun with."""

SEASONS_AFTER = 8
"""Seasons that are looked at after the earliest one of the last stage, where the breeder names no last season."""

Units = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Course:
    """What is expected of one road, season by season.

    Attributes:
        plan: The stages as they stand.
        horizon: The last season that is looked at.
        by_season: Chance that the goal is reached, from the first season in which anything can be born.
        median: The first season by which it is reached in half of all roads.
        ever: Upper bound of the chance with any number of seasons.
        litters: Expected number of litters until the goal or the horizon, all of the goal's season counted.
        kept: Expected number of young kept in the seasons before the goal's, and the goal itself.
        yielded: Stage to the chance that it has given all it is to give, or the goal has come.
        method: How it was found.
    """

    plan: RoadPlan
    horizon: int
    by_season: tuple[Chance, ...]
    median: int | None
    ever: Fraction
    litters: Fraction
    kept: Fraction
    yielded: Mapping[str, tuple[Chance, ...]]
    method: Method


@dataclass(frozen=True, slots=True)
class _Shop:
    """What roads at the same loci share."""

    nursery: Nursery
    yields: dict[tuple[int, tuple[int, ...]], Yield]


class Roads:
    """Answers for roads of one species; remembers what it has made.

    Attributes:
        asked: The evidence and what heredity answers.
        species: The species' id.
    """

    def __init__(self, asked: Asked, species: str) -> None:
        self.asked = asked
        self.species = species
        self.genome = asked.evidence.collection.species[species].genome
        own = asked.evidence.collection.species[species]
        sizes = litter_sizes(own.litter_size.low, own.litter_size.usual, own.litter_size.high)
        self._terms = Terms(
            {n: float(chance) for n, chance in sizes.items() if chance},
            own.litters_a_year,
            float(own.takes),
            own.breeding_age_months,
        )
        self._shops: dict[Units, _Shop] = {}
        self._worlds: dict[tuple[Units, tuple[Part, ...]], tuple[World, ...]] = {}

    def units_of(self, loci: Sequence[str]) -> Units:
        """Places of the groups of loci in ``asked.heredity``, in their order."""
        return tuple(sorted({self.asked.by_locus[self.species, locus] for locus in loci}))

    def worlds(self, units: Units, parts: tuple[Part, ...]) -> tuple[World, ...]:
        """The joint posterior of some animals at some groups of loci.

        Raises:
            SitegenError: It has no answer.
        """
        key = (units, parts)
        if key not in self._worlds:
            self._worlds[key] = worlds_of(self.asked, self.species, units, parts)
        return self._worlds[key]

    def wants_of(self, plan: RoadPlan) -> dict[tuple[str, str], Want]:
        """What each open holdback of a plan asks for."""
        return {
            (each.stage.id, own.id): want_of(self.genome, own, plan.sexes[each.stage.id, own.id])
            for each in plan.stages
            for own in each.keep
        }

    def course(
        self,
        project: Project,
        as_of: dt.date,
        *,
        stages: tuple[Stage, ...] | None = None,
        horizon: int | None = None,
        runs: int = RUNS,
        states: int = STATES,
    ) -> Course:
        """What is expected of a project's road from a day on; nothing is said of goals that are reached already.

        Args:
            project: The project; its goal, rest and horizon count.
            as_of: The day.
            stages: Stages in place of the project's.
            horizon: A last season in place of the project's.
            runs: Roads to draw at most where there are too many to add up; at least 1.
            states: Steps to add up at most; 0 always draws.

        Raises:
            SitegenError: The parents have no answer at a locus that matters.
        """
        plan = road_plan(self.asked.evidence.collection, project, stages or project.stages, as_of)
        first = plan.first
        last = horizon or project.horizon or default_horizon(plan)
        if first is None or first > last:
            return Course(plan, last, (), None, Fraction(0), Fraction(0), Fraction(0), {}, Method(0))
        goal, wants = want_of(self.genome, project.goal), self.wants_of(plan)
        seen = [Want(want.seen, want.barred, (), ()) for want in wants.values()]
        units = self.units_of(loci_of(self.genome, [goal, *seen]))
        shop = self._shop(units)
        process = Process(plan, goal, wants, shop.nursery, self._terms, shop.yields)
        graph = Graph(process)
        worlds = self.worlds(units, tuple(process.parts))
        sums, method = _sums(graph, worlds, (first, last), states, runs, seed_of(project.id))
        return _course(plan, last, process, sums, method)

    def _shop(self, units: Units) -> _Shop:
        if units not in self._shops:
            self._shops[units] = _Shop(Nursery([self.asked.transmissions[unit] for unit in units]), {})
        return self._shops[units]


def default_horizon(plan: RoadPlan) -> int:
    """Some seasons after the earliest one of the last stage (of the last that can still be bred)."""
    seasons = [each.earliest for each in plan.stages if each.earliest is not None]
    return (seasons[-1] if seasons else plan.next_open) + SEASONS_AFTER


def _sums(
    graph: Graph, worlds: Sequence[World], seasons: tuple[int, int], states: int, runs: int, seed: int
) -> tuple[Sums, Method]:
    """All roads added up; from the season on in which that is too much, some drawn."""
    first, last = seasons
    passage, dice = Passage(graph, states), Dice(seed)
    if STEPS_A_START * number_of(worlds) > states:
        drawn = Simulation(graph, dice, first, last).sums(starts_of(graph, worlds), runs)
        return drawn.sums, Method(0, drawn.runs, seed, Fraction(drawn.error))
    try:
        return passage.sums(all_starts(graph, worlds), first, last), Method(passage.transitions)
    except TooMany as many:
        mass = sum(many.now.values())
        drawn = Simulation(graph, dice, many.season, last).sums(Listed(many.now), runs, mass)
        method = Method(passage.transitions, drawn.runs, seed, Fraction(drawn.error))
        return joined(many.found, drawn.sums), method


def _course(plan: RoadPlan, last: int, process: Process, sums: Sums, method: Method) -> Course:
    chances = by_season(sums)
    median = next((each.season for each in chances if 2 * each.by >= 1), None)
    share = Fraction(sums.open) / (Fraction(sums.open) + Fraction(sums.dead)) if sums.open or sums.dead else Fraction(1)
    reached = chances[-1].by if chances else Fraction(0)
    return Course(
        plan=plan,
        horizon=last,
        by_season=chances,
        median=median,
        ever=reached + (1 - reached) * share,
        litters=Fraction(sums.litters),
        kept=Fraction(sums.kept),
        yielded={leg.plan.stage.id: yielded(sums, at) for at, leg in enumerate(process.legs)},
        method=method,
    )
