"""A search for routes to a project's goal: which animals, which order of crosses, what to keep on the way.

It is a search among ways of bringing the genes of several animals together in one, generation by generation, that
weighs generations against the young each of them needs: Servin B, Martin OC, Mezard M & Hospital F (2004) Toward a
theory of marker-assisted gene pyramiding, Genetics 168:513-523 (from memory; the idea, none of its formulas).

What is searched is told by :func:`sitegen.plans.roads.routes_shapes.shapes` (who is crossed with whom),
:func:`sitegen.plans.roads.routes_odds.looks_worth_choosing` (by what young are chosen; daughters and sons of one stage
by the same) and :func:`counts_worth_trying` (how many are kept). Each way is bounded at best
(:mod:`sitegen.plans.roads.routes_bounds`); the most promising is worked out first, and what even at best is no better
than a route that was worked out is left. So the routes that remain are those that would remain if every one had been
worked out, as long as no bound of the search was reached.
"""

import datetime as dt
import heapq
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import product

from sitegen.evidence.answers import members_with_sires, sires_of
from sitegen.evidence.asking import Asked
from sitegen.findings import SitegenError
from sitegen.genetics.cases import cases
from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.kinship import Kinship
from sitegen.genetics.loci import Genome, Sex
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.plans.roads.routes_bounds import Best, Timing, at_best, earliest, estimate, litters_of
from sitegen.plans.roads.routes_cast import Heard, cast, heard
from sitegen.plans.roads.routes_kinds import Bounds, Evaluate, Founder, Found, Route
from sitegen.plans.roads.routes_odds import Law, Passed, Sight, looks_worth_choosing
from sitegen.plans.roads.routes_related import least_related
from sitegen.plans.roads.routes_shapes import Parent, Role, Shape, shapes
from sitegen.plans.roads.routes_stages import NOWHERE, stages_of
from sitegen.plans.roads.routes_years import years_of
from sitegen.plans.roads.wants import Want, want_of
from sitegen.records.projects import Holdback, Project

Report = Callable[[int, int], None]
MOST_OF_A_KIND = 4
MOST_YOUNG = 8
"""So many young a route raises at most beside the goal animal."""
DEFAULT_SEASONS = 10
"""The last season that counts when the project names none: so many after the first that is still open."""

Parts = tuple[tuple[float, tuple[Law, ...]], ...]
"""Joint odds of some founders at each unit, once for each case that ties the units, with its chance."""
Choice = Mapping[Role, Want]


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

    def promise(self, first: int) -> float:
        """For the order in which ways are looked at; the lowest first."""
        return (self.season - first) + self.young / 2 + (100 - self.of_100) / 10


def rank_of(season: int | None, young: int, chance: float | Fraction, horizon: int) -> Rank:
    """A rank from what was found; no season stands for none by the horizon."""
    late = season is None or season > horizon
    return Rank(horizon + 1 if season is None or late else season, young, int(chance * 100 + Fraction(1, 2)))


@dataclass(frozen=True, slots=True)
class Way:
    """A way to the goal, told more or less fully.

    Attributes:
        shape: Who is crossed with whom.
        founders: Which animals.
        choice: By what young are chosen; None as long as that is open.
        counts: How many are kept in each role; empty as long as that is open.
    """

    shape: Shape
    founders: tuple[Founder, ...]
    choice: tuple[Want, ...] | None = None
    counts: tuple[int, ...] = ()


@dataclass(slots=True)
class Tally:
    """What was done so far."""

    shapes: int = 0
    possible: int = 0
    too_related: int = 0
    estimated: int = 0
    worked_out: int = 0


def default_horizon(project: Project, first: int) -> int:
    """The last season that counts, if the command names none."""
    return project.horizon or first + DEFAULT_SEASONS


def search(
    asked: Asked,
    project: Project,
    as_of: dt.date,
    evaluate: Evaluate,
    bounds: Bounds,
    report: Report = lambda done, total: None,
) -> Found:
    """The routes to a project's goal that no other equals or betters on each of season, young to raise and chance.

    Args:
        asked: The evidence of the collection and what heredity answers.
        project: Its goal is what counts, with its rest seasons; not its stages.
        as_of: The day on which the search is made.
        evaluate: Works a route out, up to the horizon in ``bounds``.
        bounds: How far to go; a horizon of 0 takes :func:`default_horizon`.
        report: Told how many routes were worked out, and how many may have to be.

    Raises:
        SitegenError: The goal names nothing.
    """
    if not project.goal.shows and not project.goal.carries:
        raise SitegenError(f"{project.id} has no goal to search routes to; write goal: {{shows: [...]}} in its record")
    years = years_of(asked.evidence.collection, project, as_of)
    bounds = replace(bounds, horizon=bounds.horizon or default_horizon(project, years.first))
    what = heard(asked, project)
    players = cast(asked, project, what, years, bounds, as_of)
    found = Found(
        (), bounds, years.first, players.already, players.founders, players.left_out, nobody_has=players.nobody_has
    )
    if players.nobody_has or not what.units:
        return found
    species = asked.evidence.collection.species[project.species]
    timing = Timing(litters_of(species, MOST_OF_A_KIND * (bounds.horizon - years.first + 1)), years, bounds.horizon)
    return _Search(asked, project, evaluate, bounds, what, timing, species.genome).run(found, report)


@dataclass(slots=True)
class _Search:
    asked: Asked
    project: Project
    evaluate: Evaluate
    bounds: Bounds
    what: Heard
    timing: Timing
    genome: Genome
    tally: Tally = field(default_factory=Tally)
    done: list[tuple[Rank, Route]] = field(default_factory=list)
    heap: list[tuple[float, int, Rank, Way]] = field(default_factory=list)
    _parts: dict[tuple[AnimalId, ...], Parts] = field(default_factory=dict)
    _wants: dict[tuple[str, ...], Want] = field(default_factory=dict)
    _kinship: Kinship | None = None
    _pushed: int = 0

    def run(self, found: Found, report: Report) -> Found:
        """The search, to its end or until it is stopped."""
        stopped = False
        try:
            for way in self._ways(found.founders):
                self._consider(way)
            while self.heap and self.tally.worked_out < self.bounds.worked_out:
                _, _, rank, way = heapq.heappop(self.heap)
                if self._no_better(rank):
                    continue
                if way.choice is None:
                    if self.tally.estimated >= self.bounds.looked_at:
                        heapq.heappush(self.heap, (-1.0, self._pushed, rank, way))
                        break
                    self._open_choices(way)
                elif not way.counts:
                    self._open_counts(way, way.choice)
                else:
                    self._work_out(way, way.choice)
                    report(self.tally.worked_out, min(self.bounds.worked_out, self.tally.worked_out + len(self.heap)))
        except KeyboardInterrupt:
            stopped = True
        tally = self.tally
        left = sum(not self._no_better(rank) for _, _, rank, _ in self.heap)
        return replace(
            found, routes=self._best(), shapes=tally.shapes, possible=tally.possible, too_related=tally.too_related,
            estimated=tally.estimated, worked_out=tally.worked_out, open=left, stopped=stopped,
        )  # fmt: skip

    def _best(self) -> tuple[Route, ...]:
        """Those that no other equals or betters; of equals the one that was worked out first."""
        front: list[tuple[Rank, Route]] = []
        for number, (rank, route) in enumerate(self.done):
            others = [(other, at) for at, (other, _) in enumerate(self.done) if at != number]
            if rank.of_100 and not any(other.no_worse(rank) and (other != rank or at < number) for other, at in others):
                front.append((rank, route))
        front.sort(key=lambda entry: (entry[0].season, entry[0].young, -entry[0].of_100))
        return tuple(route for _, route in front)

    def _no_better(self, rank: Rank) -> bool:
        return rank.of_100 == 0 or any(other.no_worse(rank) for other, _ in self.done)

    def _push(self, rank: Rank, way: Way) -> None:
        if not self._no_better(rank):
            self._pushed += 1
            heapq.heappush(self.heap, (rank.promise(self.timing.years.first), self._pushed, rank, way))

    # Who is crossed with whom.

    def _ways(self, founders: Sequence[Founder]) -> Iterator[Way]:
        needed = frozenset().union(*(unit.wanted for unit in self.what.units))
        has = {founder.id: self._may_bring(founder) for founder in founders}
        by_sex = {sex: [each for each in founders if each.sex is sex] for sex in (Sex.FEMALE, Sex.MALE)}
        for shape in shapes(self.bounds.generations):
            for chosen in product(*(by_sex[sex] for sex in shape.sexes)):
                if any(chosen.count(each) > 1 + len(each.alike) for each in chosen):
                    continue
                self.tally.shapes += 1
                if needed <= frozenset().union(*(has[each.id] for each in chosen)):
                    yield Way(shape, chosen)

    def _may_bring(self, founder: Founder) -> frozenset[str]:
        (_, laws), *more = self._parts_of((founder.id,))
        found: set[str] = set()
        for laws in (laws, *(each for _, each in more)):
            for unit, law in zip(self.what.units, laws, strict=True):
                for (state,), _ in law:
                    found |= {allele for genotype in unit.mode.genotypes[state] for allele in genotype}
        return frozenset(found) & frozenset().union(*(unit.wanted for unit in self.what.units))

    def _consider(self, way: Way) -> None:
        """Look at a way at best, before it is said by what young are chosen."""
        shape = way.shape
        ready = [founder.ready for founder in way.founders]
        if earliest(shape, ready, self.timing.years)[-1] > self.bounds.horizon:
            return
        shares = [0.0] * len(shape.crosses)
        open_ = tuple(((), ()) for _ in shape.roles)
        for _, laws in self._parts_of(_slots(way.founders)):
            passed = [unit.passed(shape, law, open_) for unit, law in zip(self.what.units, laws, strict=True)]
            for stage in range(len(shape.crosses)):
                both = [1.0, 1.0]
                for each in passed:
                    both = [both[0] * each.early[stage][0], both[1] * each.early[stage][1]]
                shares[stage] = max(shares[stage], sum(both) / 2)
        if not shares[-1]:
            return
        if self.bounds.relatedness is not None and self._animals(way) is None:
            self.tally.too_related += 1
            return
        self.tally.possible += 1
        most = MOST_OF_A_KIND ** len(shape.roles) if shape.roles else 1
        best = at_best(shape, ready, shares, most, self.timing)
        self._push(self._rank(best, len(shape.roles)), way)

    def _rank(self, best: Best, young: int) -> Rank:
        return rank_of(best.season, young, best.chance + 1e-9, self.bounds.horizon)

    def _parts_of(self, animals: tuple[AnimalId, ...]) -> Parts:
        found = self._parts.get(animals)
        if found is None:
            found = self._parts[animals] = _parts(self.what, animals)
        return found

    def _animals(self, way: Way) -> tuple[tuple[AnimalId, ...], Fraction] | None:
        if self._kinship is None:
            members = members_with_sires(
                self.asked.evidence.collection, self.project.species, sires_of(self.asked)
            )
            self._kinship = Kinship(members)
        return least_related(way.shape, way.founders, self._kinship, self.bounds.relatedness)

    # By what young are chosen, and how many are kept.

    def _open_choices(self, way: Way) -> None:
        parts = self._parts_of(_slots(way.founders))
        for choice in self._choices(way.shape, parts, {}, 0):
            self.tally.estimated += 1
            passed = self._passed(way.shape, parts, choice)
            counts = {role: max(tries) for role, tries in counts_worth_trying(way.shape, passed).items()}
            best = estimate(way.shape, [each.ready for each in way.founders], passed, counts, self.timing)
            chosen = tuple(choice[role] for role in way.shape.roles)
            self._push(self._rank(best, len(counts)), replace(way, choice=chosen))

    def _choices(self, shape: Shape, parts: Parts, chosen: dict[Role, Want], stage: int) -> Iterator[Choice]:
        """Every way to choose the young of this and the later stages."""
        if stage == len(shape.crosses) - 1:
            yield chosen
            return
        roles = [role for role in shape.roles if role.stage == stage]
        dam, sire = shape.crosses[stage]
        open_ = {role: Want((), (), (), ()) for role in shape.roles} | chosen
        worth: list[tuple[str, ...]] = []
        passed = self._passed(shape, parts, open_)
        for number, unit in enumerate(self.what.units):
            dams, sires = (
                sorted({state for part in range(len(parts)) for state in self._states(parts, passed, part, number, each)})
                for each in (dam, sire)
            )
            worth += looks_worth_choosing(unit, product(dams, sires))
        wants: dict[tuple[str, ...], Want] = {}
        for looks in product(*worth):
            named = tuple(look for look in looks if look)
            if named not in self._wants:
                self._wants[named] = want_of(self.genome, Holdback("", named, (), 1, "", (), NOWHERE))
            wants.setdefault(self._wants[named].seen, self._wants[named])
        for want in wants.values():
            choice = chosen | dict.fromkeys(roles, want)
            if not self._is_goal(roles[0], self._passed(shape, parts, open_ | choice)):
                yield from self._choices(shape, parts, choice, stage + 1)

    def _is_goal(self, role: Role, passed: Sequence[tuple[float, Sequence[Passed]]]) -> bool:
        """True when all young that look right for a role are what the goal asks for: the road ends there."""
        return all(
            unit.fit[state] == 1
            for _, each in passed
            for unit, own in zip(self.what.units, each, strict=True)
            for state in own.states[role]
        )

    def _states(
        self, parts: Parts, passed: Sequence[tuple[float, Sequence[Passed]]], part: int, unit: int, parent: Parent
    ) -> frozenset[StateNumber]:
        if isinstance(parent, Role):
            return passed[part][1][unit].states[parent]
        return frozenset(states[parent] for states, _ in parts[part][1][unit])

    def _passed(self, shape: Shape, parts: Parts, choice: Choice) -> list[tuple[float, list[Passed]]]:
        found = []
        for chance, laws in parts:
            each = []
            for unit, law in zip(self.what.units, laws, strict=True):
                own = {look.id for locus in unit.mode.loci for look in locus.looks}
                sights: tuple[Sight, ...] = tuple(
                    (
                        tuple(look for look in choice[role].seen if look in own),
                        tuple(look for look in choice[role].barred if look in own),
                    )
                    for role in shape.roles
                )
                each.append(unit.passed(shape, law, sights))
            found.append((chance, each))
        return found

    def _open_counts(self, way: Way, chosen: tuple[Want, ...]) -> None:
        parts = self._parts_of(_slots(way.founders))
        passed = self._passed(way.shape, parts, dict(zip(way.shape.roles, chosen, strict=True)))
        tries = counts_worth_trying(way.shape, passed)
        if not tries:
            self._work_out(replace(way, counts=()), chosen)
            return
        for counts in product(*tries.values()):
            if sum(counts) <= MOST_YOUNG:
                self.tally.estimated += 1
                kept = dict(zip(tries, counts, strict=True))
                best = estimate(way.shape, [each.ready for each in way.founders], passed, kept, self.timing)
                self._push(self._rank(best, sum(counts)), replace(way, counts=counts))

    # A whole route.

    def _work_out(self, way: Way, chosen: tuple[Want, ...]) -> None:
        own = self._animals(way)
        if own is None:
            return
        animals, highest = own
        shape = way.shape
        choice = dict(zip(shape.roles, chosen, strict=True))
        passed = self._passed(shape, self._parts_of(_slots(way.founders)), choice)
        stages = stages_of(
            shape,
            animals,
            earliest(shape, [each.ready for each in way.founders], self.timing.years),
            {role: want.seen for role, want in choice.items()},
            {role: self._carried(role, want, passed) for role, want in choice.items()},
            dict(zip(shape.roles, way.counts, strict=True)),
            self.project.goal,
            self.genome,
        )
        self.tally.worked_out += 1
        outlook = self.evaluate(stages)
        alike = {
            animal: tuple(other for other in (founder.id, *founder.alike) if other != animal)
            for animal, founder in zip(animals, way.founders, strict=True)
            if founder.alike
        }
        route = Route(stages, outlook, sum(way.counts), highest, alike)
        self.done.append((rank_of(outlook.median, route.young, route.chance, self.bounds.horizon), route))

    def _carried(
        self, role: Role, want: Want, passed: Sequence[tuple[float, Sequence[Passed]]]
    ) -> tuple[str, ...]:
        """Alleles of the goal that young of a role may carry and that their looks do not tell."""
        found: list[str] = []
        for number, unit in enumerate(self.what.units):
            may = {
                allele
                for _, each in passed
                for state in each[number].states[role]
                for genotype in unit.mode.genotypes[state]
                for allele in genotype
            }
            found += [
                allele.id
                for locus in unit.loci
                for allele in locus.alleles
                if allele.id in unit.wanted and allele.id in may
            ]
        return want_of(self.genome, Holdback("", want.seen, tuple(found), 1, "", (), NOWHERE)).carries


def counts_worth_trying(
    shape: Shape, passed: Sequence[tuple[float, Sequence[Passed]]]
) -> Mapping[Role, tuple[int, ...]]:
    """How many young may be kept in each role.

    Young whose genes of the goal are all alike: one son, or one or two daughters, who give so many litters a season.
    Young that may differ unseen: one, two, or :data:`MOST_OF_A_KIND`.
    """
    found = {}
    for role in shape.roles:
        alike = all(len(each.states[role]) == 1 for _, units in passed for each in units)
        if alike:
            found[role] = (1, 2) if role.sex is Sex.FEMALE else (1,)
        else:
            found[role] = (1, 2, MOST_OF_A_KIND)
    return found


def _slots(founders: Sequence[Founder]) -> tuple[AnimalId, ...]:
    """An animal for each founder of a way; equal ones take turns."""
    found: list[AnimalId] = []
    for founder in founders:
        found.append(next(name for name in (founder.id, *founder.alike) if name not in found))
    return tuple(found)


def _parts(what: Heard, animals: tuple[AnimalId, ...]) -> Parts:
    """Joint odds of some animals.

    Raises:
        SitegenError: They are tied to each other in too many ways.
    """
    mixture = cases(what.heredity, animals)
    if isinstance(mixture, Impossible | TooTangled):
        raise SitegenError(
            f"{', '.join(animals)} cannot be answered together: too many sires are in doubt among their ancestors; "
            "settle one of them in its litter record"
        )
    return tuple(
        (float(case.chance), tuple(tuple(sorted((s, float(p)) for s, p in law.items())) for law in case.states))
        for case in mixture
    )

