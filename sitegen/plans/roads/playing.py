"""From a project's record to what the simulator plays, and back to shares of plans."""

import datetime as dt
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import isqrt

import numpy as np

from sitegen.content.projects import Project, Stage
from sitegen.content.species import Species
from sitegen.evidence.asking import Asked
from sitegen.findings import SitegenError
from sitegen.genetics.counts import litter_sizes
from sitegen.genetics.dice import Dice
from sitegen.genetics.drawing import drawn
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.plans.readiness import is_there
from sitegen.plans.roads.kinds import Range, SeasonChance, SeasonLoad
from sitegen.plans.roads.known import Proof
from sitegen.plans.roads.nursery import Ints, Nursery
from sitegen.plans.roads.plan import RoadPlan, StagePlan, road_plan
from sitegen.plans.roads.played import Flags, Played, Terms
from sitegen.plans.roads.script import Script, script_of
from sitegen.plans.roads.setbacks import chance_of_allele
from sitegen.plans.roads.simulator import Simulator
from sitegen.plans.roads.wants import Want, ends_road, loci_of, units_that_matter, want_of

DRAWS = 20_000
"""Plans that are drawn: a chance by season is then off by at most 0.4 in 100 (one standard error)."""

SEASONS_AFTER = 8
"""Seasons that are looked at after the earliest one of the last stage, where the breeder names no last season."""

_WORLDS = 0


class UnansweredError(SitegenError):
    """The animals of a road have no answer together; ``tangled`` are those about which too much is open at once."""

    def __init__(self, failure: Impossible | TooTangled) -> None:
        self.tangled = failure.members if isinstance(failure, TooTangled) else ()
        why = "too much is open at once" if self.tangled else "their records contradict each other"
        super().__init__(f"{', '.join(failure.members)} cannot be answered together: {why}; see the check")


@dataclass(frozen=True, slots=True)
class Course:
    """A road that was played.

    ``played`` is None where nothing can be bred up to the ``horizon``, and of a road that is over; ``reached`` is the
    season in which it reached its goal, if it did, with the animal, if that is named.
    """

    plan: RoadPlan
    script: Script
    horizon: int
    played: Played | None
    reached: tuple[int | None, AnimalId]


def play(
    asked: Asked,
    project: Project,
    stages: Sequence[Stage],
    as_of: dt.date,
    draws: int = DRAWS,
    horizon: int | None = None,
    luck: str = "",
) -> Course:
    """Plays the stages of a project, or others to its goal, from a day on.

    Args:
        asked: The evidence and its answers.
        project: The project.
        stages: The stages.
        as_of: The day.
        draws: How many plans.
        horizon: A last season in place of the project's.
        luck: Another word gives other worlds.

    Raises:
        SitegenError: The parents have no answer at a locus that matters.
    """
    collection = asked.evidence.collection
    species = collection.species[project.species]
    plan = road_plan(collection, project, stages, as_of)
    reached = _reached(asked, project, plan)
    script = script_of(plan, species.genome, project.goal, _hopes(asked, plan, want_of(species.genome, project.goal)))
    first, last = plan.first, horizon or project.horizon or _default_horizon(plan)
    over = reached[0] is not None or project.state == "given up"
    if over or first is None or first > last or not script.legs:
        return Course(plan, script, last, None, reached)
    wants = [script.goal, *script.wants]
    names = list(dict.fromkeys(part.animal for part in script.parts))
    units = units_that_matter(asked, species, wants, loci_of(species.genome, wants), names)
    answers = [asked.heredity[unit] for unit in units]
    places = [names.index(part.animal) for part in script.parts]
    sexes = {part.animal: part.sex for part in script.parts if part.sex is not Sex.UNKNOWN}
    # The same name gives the same luck, also to other roads to the same goal, so that these can be compared.
    dice = Dice(int.from_bytes(hashlib.shake_128(f"{project.id} {luck}".encode()).digest(8), "little"))
    worlds = drawn(answers, names, draws, dice, (_WORLDS,), sexes)
    if isinstance(worlds, Impossible | TooTangled):
        raise UnansweredError(worlds)
    transmissions = [asked.transmissions[unit] for unit in units]
    nursery = Nursery(transmissions, script.goal, script.wants, species.genome)
    possible = [
        [
            tuple(own[place] for place in places)
            for own in answer.possible(names)
            if not answer.mode.has_sex
            or all(
                part.sex in (Sex.UNKNOWN, answer.mode.states[own[at]].sex)
                for at, part in zip(places, script.parts, strict=True)
            )
        ]
        if group.hides_goal
        else []
        for answer, group in zip(answers, nursery.groups, strict=True)
    ]
    proof = Proof(nursery, transmissions, possible, script.n_slots, draws, script.hopes)
    there = [world[places].astype(np.int16) for world in worlds]
    simulator = Simulator(script, _terms(plan, species), nursery, there, draws, proof, dice)
    return Course(plan, script, last, simulator.play(range(first, last + 1)), reached)


def _hopes(asked: Asked, plan: RoadPlan, goal: Want) -> list[AnimalId]:
    """Kept animals that are still there, show all that can be seen of the goal and may have the rest."""
    animals = plan.collection.animals
    kept = (animals[each] for own in plan.stages for held in own.stage.holdbacks for each in held.animals)
    return [
        each.id
        for each in kept
        if is_there(each)
        and set(goal.seen) <= {seen.look for genes in each.genes for seen in genes.judged.seen}
        and all(chance_of_allele(asked, each.id, allele) != 0 for allele in goal.carries)
    ]


def _reached(asked: Asked, project: Project, plan: RoadPlan) -> tuple[int | None, AnimalId]:
    """The season in which the goal was reached, and the animal, if it is named."""
    genome = asked.evidence.collection.species[project.species].genome
    goal = want_of(genome, project.goal)
    for each in plan.stages:
        for holdback in each.stage.holdbacks:
            if not holdback.is_filled or not ends_road(genome, holdback, project.goal):
                continue
            for animal in holdback.animals:
                if all(chance_of_allele(asked, animal, allele) != 0 for allele in goal.carries):
                    return _born(plan, each, animal), animal
    if project.state != "reached" or not plan.stages:
        return None, ""
    seasons = [season for each in plan.stages if (season := _last_litter(plan, each)) is not None]
    return max(seasons, default=plan.stages[-1].stage.season), ""


def _born(plan: RoadPlan, each: StagePlan, animal: AnimalId) -> int:
    """The season of an animal's litter, or of its birth, or of the stage."""
    own = plan.collection.animals[animal]
    litter = plan.collection.litters.get(own.litter)
    season = plan.year.season_of(litter) if litter else None
    if season is not None:
        return season
    return own.born.year if own.born else _last_litter(plan, each) or each.stage.season


def _last_litter(plan: RoadPlan, each: StagePlan) -> int | None:
    litters = [plan.collection.litters[key] for key in each.stage.litters if key in plan.collection.litters]
    return max((season for litter in litters if (season := plan.year.season_of(litter)) is not None), default=None)


def _default_horizon(plan: RoadPlan) -> int:
    """Some seasons after the earliest one of the last stage (of the last that can still be bred)."""
    seasons = [each.earliest for each in plan.stages if each.earliest is not None]
    return (seasons[-1] if seasons else plan.next_open) + SEASONS_AFTER


def _terms(plan: RoadPlan, species: Species) -> Terms:
    size = species.litter_size
    sizes = litter_sizes(size.low, size.usual, size.high)
    return Terms(
        year=plan.year,
        sizes={n: chance for n, chance in sizes.items() if chance},
        a_year=species.litters_a_year,
        takes=species.takes,
        rest=plan.rest,
        rest_after_failure=species.rest_after_failure or 0,
        months=species.breeding_age_months,
    )


def share(flags: Flags) -> Fraction:
    """Of all plans."""
    return Fraction(int(flags.sum()), len(flags))


def chances_of(played: Played) -> tuple[SeasonChance, ...]:
    """The chances by season."""
    return tuple(
        SeasonChance(season, share(played.born[at]), share(played.kept[at]), share(played.known[at]))
        for at, season in enumerate(played.seasons)
    )


def loads_of(played: Played) -> tuple[SeasonLoad, ...]:
    """What each season brings."""
    return tuple(
        SeasonLoad(season, _range(played.young[at]), _range(played.newly[at]), _range(played.held[at]))
        for at, season in enumerate(played.seasons)
    )


def _range(numbers: Ints) -> Range:
    """The mean, and the 10th and the 90th in 100 of the sorted numbers."""
    ordered, last = np.sort(numbers), len(numbers) - 1
    mean = Fraction(int(numbers.sum(dtype=np.int64)), len(numbers))
    return Range(mean, int(ordered[last // 10]), int(ordered[-1 - last // 10]))


def half_by(chances: Sequence[SeasonChance]) -> int | None:
    """The first season by which a goal animal is kept in half of all plans."""
    return next((each.season for each in chances if 2 * each.kept >= 1), None)


def error_of(chances: Sequence[SeasonChance], draws: int) -> Fraction:
    """The largest standard error, rounded up to four decimals: the root of p (1 - p) / n."""
    told = [chance for each in chances for chance in (each.born, each.kept, each.known)]
    most = max((chance * (1 - chance) / draws for chance in told), default=Fraction(0))
    return root(most)


def root(variance: Fraction) -> Fraction:
    """The square root, rounded up to four decimals, in whole numbers."""
    scaled = variance * 10**8
    whole = -(-scaled.numerator // scaled.denominator)
    found = isqrt(whole)
    return Fraction(found + (found * found < whole), 10**4)
