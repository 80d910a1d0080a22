"""What stands beside a project's road: its written alternatives, and the plan with one parent exchanged.

Roads are compared on the same drawn worlds. Who might take a parent's place is found with few draws; what is told comes
from fresh ones, since the winner's own draws flatter it.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from sitegen.content.animals import Animal
from sitegen.content.off_site import is_off_site
from sitegen.content.projects import Goal, Holdback, Project, Stage
from sitegen.evidence.asking import Asked
from sitegen.evidence.off_site import has_litter_off_site
from sitegen.findings import SitegenError
from sitegen.genetics.crosses import told_by
from sitegen.genetics.loci import Sex
from sitegen.plans.roads.kinds import ProjectRoads, Rival, RoadOutlook
from sitegen.plans.roads.outlook import outlook_of
from sitegen.plans.roads.played import Flags
from sitegen.plans.roads.playing import Course, UnansweredError, chances_of, half_by, play, root, share
from sitegen.plans.roads.related import Relations
from sitegen.plans.roads.setbacks import chance_of_allele

SCREENING = 250
"""Draws with which exchanges are compared at first."""

FRESH = 5_000
"""Draws from which a rival's numbers are told: its gain is then off by at most 0.7 in 100 (one standard error)."""

CANDIDATES = 4
"""Animals that are tried in each place, those that are likeliest to bring what is wanted."""

TRIED = 2
"""Exchanges that are tried on fresh worlds, the best first, until one is better beyond doubt: a page tells one."""

WORTH = Fraction(1, 100)
"""A gain that is smaller is as good as none."""

_OTHER_LUCK = "fresh worlds"


def roads_of(asked: Asked, project: Project, as_of: dt.date) -> ProjectRoads:
    """The roads of one project; its plan may have no answer. Another route without one is left out."""
    try:
        main = play(asked, project, project.stages, as_of)
        told = outlook_of(asked, project, main)
    except SitegenError as without:
        return ProjectRoads(None, {}, {}, unanswered=without.tangled if isinstance(without, UnansweredError) else ())
    alternatives: dict[str, RoadOutlook] = {}
    gains: dict[str, tuple[Fraction, Fraction]] = {}
    over = told.reached is not None or project.state == "given up"
    for each in () if over else project.alternatives:
        try:
            other = play(asked, project, each.stages, as_of)
            alternatives[each.id] = outlook_of(asked, project, other)
        except SitegenError:
            continue
        if main.played and other.played:
            gains[each.id] = _gain(main, other)
    return ProjectRoads(told, alternatives, gains, () if over else _rivals(asked, project, main, as_of))


def _kept(course: Course, season: int) -> Flags:
    """The plans in which a goal animal is kept by the end of a season."""
    assert course.played is not None
    seasons = course.played.seasons
    at = min(season, seasons[-1]) - seasons[0]
    return course.played.kept[at] if at >= 0 else np.zeros_like(course.played.kept[0])


def _gain(one: Course, other: Course) -> tuple[Fraction, Fraction]:
    """By how much more often the other keeps a goal animal by the last season of both, and its standard error."""
    season = min(one.horizon, other.horizon)
    before, after = _kept(one, season), _kept(other, season)
    n = len(before)
    more, fewer = int((after & ~before).sum()), int((before & ~after).sum())
    mean = Fraction(more - fewer, n)
    # Source: variance of a mean of paired differences, each -1, 0 or 1.
    return mean, root((Fraction(more + fewer, n) - mean**2) / n)


@dataclass(frozen=True, slots=True)
class _Exchange:
    """Stages with one parent exchanged."""

    stages: tuple[Stage, ...]
    stage: Stage
    is_dam: bool
    animal: Animal

    @property
    def instead_of(self) -> str:
        """The parent as it is written."""
        return self.stage.dam if self.is_dam else self.stage.sire


def _rivals(asked: Asked, project: Project, main: Course, as_of: dt.date) -> tuple[Rival, ...]:
    """The exchange that is better beyond doubt, if there is one."""
    if main.played is None:
        return ()
    horizon = main.horizon
    few = play(asked, project, project.stages, as_of, SCREENING, horizon)
    screened: list[tuple[Fraction, int, _Exchange]] = []
    for number, each in enumerate(_exchanges(asked, project, main)):
        try:
            other = play(asked, project, each.stages, as_of, SCREENING, horizon)
        except SitegenError:
            continue
        if other.played and few.played and (gain := _gain(few, other)[0]) > WORTH:
            screened.append((-gain, number, each))
    if not screened:
        return ()
    plain = play(asked, project, project.stages, as_of, FRESH, horizon, _OTHER_LUCK)
    for _, _, each in sorted(screened, key=lambda own: own[:2])[:TRIED]:
        other = play(asked, project, each.stages, as_of, FRESH, horizon, _OTHER_LUCK)
        gain, error = _gain(plain, other)
        inbreeding = _inbreeding(asked, project, other)
        limit = project.relatedness_limit
        if other.played and gain > max(2 * error, WORTH) and (limit is None or inbreeding <= limit):
            return (Rival(
                stage=each.stage.id, is_dam=each.is_dam, instead_of=each.instead_of, animal=each.animal.id,
                kept=share(_kept(other, horizon)), gain=gain, error=error,
                half_by=half_by(chances_of(other.played)), inbreeding=inbreeding,
            ),)  # fmt: skip
    return ()


def _inbreeding(asked: Asked, project: Project, course: Course) -> Fraction:
    """The highest inbreeding coefficient of young of any open stage."""
    relations = Relations(asked, project.species, course.plan.stages)
    return max((relations.inbreeding(each.stage.id) for each in course.plan.open), default=Fraction(0))


def _exchanges(asked: Asked, project: Project, main: Course) -> Iterator[_Exchange]:
    """Each parent of an open stage exchanged for animals of the site that may bring what is wanted there."""
    for each in main.plan.open:
        if each.expecting:
            continue
        stage = each.stage
        for is_dam in (True, False):
            other = stage.sire if is_dam else stage.dam
            for animal in _candidates(asked, project, stage, Sex.FEMALE if is_dam else Sex.MALE):
                if animal.id in (*each.dams.animals, *each.sires.animals, other):
                    continue
                own = replace(stage, dam=animal.id) if is_dam else replace(stage, sire=animal.id)
                stages = tuple(own if one is stage else one for one in project.stages)
                yield _Exchange(stages, stage, is_dam, animal)


def _candidates(asked: Asked, project: Project, stage: Stage, sex: Sex) -> list[Animal]:
    """Living animals of that sex that are not on offer, the likeliest first to bring what the stage wants."""
    collection = asked.evidence.collection
    genome = collection.species[project.species].genome
    sought: list[Holdback | Goal] = [*stage.holdbacks, project.goal]
    looks = [genome.look(look) for each in sought for look in each.shows]
    wanted = {allele for each in sought for allele in each.carries}
    wanted |= {allele for look in looks for allele in told_by(genome.locus(look.locus), look.id)}
    found = []
    for animal in collection.animals.values():
        if animal.species != project.species or animal.sex is not sex or animal.died or animal.offer is not None:
            continue
        if is_off_site(animal.id) or has_litter_off_site(animal.id, collection):
            continue  # nothing public may name it, or tell when it can breed again
        brings = sum(
            (chance_of_allele(asked, animal.id, allele) or Fraction(0) for allele in sorted(wanted)), Fraction(0)
        )
        if brings:
            found.append((-brings, animal.id, animal))
    return [animal for _, _, animal in sorted(found, key=lambda each: each[:2])[:CANDIDATES]]
