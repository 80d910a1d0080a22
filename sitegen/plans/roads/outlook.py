"""A project's road from a day on: every number that is told of it, and what it has given so far.

Numbers of a stage whose parents are there are exact fractions, as are those of litters that were born. All others are
shares of plans that were played (:mod:`sitegen.plans.roads.simulator`): chances by season, and what stages give whose
parents are not kept yet.
"""

from collections.abc import Sequence
from fractions import Fraction

from sitegen.content.projects import Holdback, Project
from sitegen.content.species import Species
from sitegen.evidence.asking import Asked
from sitegen.evidence.pairings import Side, crosses_of
from sitegen.findings import SitegenError
from sitegen.genetics.by_eye import by_eye
from sitegen.genetics.counts import at_least_in_litter, litter_sizes, per_young
from sitegen.genetics.look_rows import mixed_rows
from sitegen.genetics.questions import AnimalId
from sitegen.plans.readiness import Hindrance
from sitegen.plans.roads.kinds import Ending, HoldbackOutlook, RoadOutlook, StageOutlook
from sitegen.plans.roads.plan import Parents, RoadPlan, StagePlan
from sitegen.plans.roads.played import (
    BY_ELSE,
    BY_GOAL,
    BY_KEEP,
    BY_NOTHING,
    BY_PART,
    BY_PART_OF_ELSE,
    FirstLitter,
    Played,
)
from sitegen.plans.roads.playing import Course, chances_of, error_of, half_by, loads_of, share
from sitegen.plans.roads.reality import litter_results
from sitegen.plans.roads.related import Relations
from sitegen.plans.roads.setbacks import setbacks_of
from sitegen.plans.roads.wants import Want, alone, ends_road, loci_of, shares_of, want_of

_NONE = Fraction(0)
_ENDINGS = {
    Ending.GOAL: (BY_GOAL,), Ending.KEPT: (BY_KEEP,), Ending.PARTLY: (BY_PART, BY_PART_OF_ELSE),
    Ending.ELSE: (BY_ELSE,), Ending.STUCK: (BY_NOTHING,),
}  # fmt: skip


def outlook_of(asked: Asked, project: Project, course: Course) -> RoadOutlook:
    """Everything that is told of a road that was played."""
    return _Outlook(asked, project, course).whole()


class _Outlook:
    """One road."""

    def __init__(self, asked: Asked, project: Project, course: Course) -> None:
        self.asked, self.project, self.course, self.plan = asked, project, course, course.plan
        self.collection = asked.evidence.collection
        self.species: Species = self.collection.species[project.species]
        self.goal = want_of(self.species.genome, project.goal)
        self.wants = {
            (each.stage.id, own.id): want_of(self.species.genome, own, self.plan.sexes[each.stage.id, own.id])
            for each in self.plan.stages
            for own in each.stage.holdbacks
        }
        size = self.species.litter_size
        self.sizes = litter_sizes(size.low, size.usual, size.high)

    def whole(self) -> RoadOutlook:
        plan, (reached, animal), played = self.plan, self.course.reached, self.course.played
        relations = Relations(self.asked, self.project.species, plan.stages)
        stages = tuple(self._stage(each, relations) for each in plan.stages)
        bringing = [] if reached else [each for each in stages if each.ended.get(Ending.GOAL)]
        last = next(iter((*reversed(bringing), *reversed(stages))), None)
        goal = animal or (relations.of_stage(last.id) if last else "")
        inbreeding = relations.inbreeding_of(goal) if goal else _NONE
        chances = chances_of(played) if played else ()
        draws = len(played.litters) if played else 0
        return RoadOutlook(
            stages=stages,
            reached=reached,
            horizon=self.course.horizon,
            by_season=chances,
            half_by=half_by(chances),
            loads=loads_of(played) if played else (),
            litters=Fraction(int(played.litters.sum()), draws) if played else _NONE,
            inbreeding=max((inbreeding, *(each.inbreeding for each in bringing))),
            ancestry=relations.ancestry(goal) if goal and len(bringing) < 2 else (),
            setbacks=setbacks_of(self.asked, plan, self.species),
            draws=draws,
            error=error_of(chances, draws) if played else _NONE,
            assumed_season=plan.year.assumed,
            unknown_ages=_unknown_ages(plan),
        )

    def _ends(self, holdback: Holdback) -> bool:
        return ends_road(self.species.genome, holdback, self.project.goal)

    # A stage.

    def _stage(self, each: StagePlan, relations: Relations) -> StageOutlook:
        stage, played = each.stage, self.course.played
        number = next((at for at, leg in enumerate(self.course.script.legs) if leg.plan is each), None)
        own = [self.wants[stage.id, holdback.id] for holdback in stage.holdbacks]
        sides = self._sides(each)
        first = played.first[number] if played and number is not None else FirstLitter()
        return StageOutlook(
            id=stage.id,
            state=each.state,
            planned=stage.season,
            earliest=each.earliest,
            waits=each.waits,
            waits_for=each.waits_for,
            dams=_names(each.dams),
            sires=_names(each.sires),
            looks=by_eye(mixed_rows(sides)[0], self.species.genome) if sides else (),
            holdbacks=tuple(
                self._exact(each, holdback, want, sides) if sides else self._drawn(each, holdback, want, first)
                for holdback, want in zip(stage.holdbacks, own, strict=True)
            ),
            bred=_bred(played, number) if played and number is not None else (),
            kept_given_bred=_kept_given_bred(played, number) if played and number is not None else None,
            ended=_ended(played, number) if played and number is not None else {},
            litters=litter_results(self.asked, self.species, stage, own, self.goal),
            inbreeding=relations.inbreeding(stage.id),
            can_be_goal=played is not None and number is not None and bool(played.can[number]),
        )

    def _sides(self, each: StagePlan, *more: str) -> tuple[Side, ...]:
        """The parents, where both are there and alone in their part, and their young can live; else nothing.

        At the loci that are wanted, and ``more``.
        """
        if len(each.dams.animals) != 1 or len(each.sires.animals) != 1:
            return ()
        loci = (*loci_of(self.species.genome, [self.goal, *self.wants.values()]), *more)
        try:
            return crosses_of(self.asked, each.dams.animals[0], each.sires.animals[0], loci)
        except SitegenError:
            return ()

    def _exact(self, each: StagePlan, holdback: Holdback, want: Want, sides: Sequence[Side]) -> HoldbackOutlook:
        """What a stage gives of one holdback, from parents that are there."""
        right = shares_of(sides, want)
        share = per_young(right)
        true = Want((), (), want.hidden, want.carries)
        carries = per_young(shares_of(sides, want, true)) / share if share and want.unseen else None
        alone_ = {one: per_young(shares_of(sides, want, alone(want, one))) / share for one in want.unseen if share}
        lethal = [locus.id for locus in self.species.genome.loci if locus.lethal]
        conceived = shares_of(self._sides(each, *lethal) if lethal else sides, want, conceived=True)
        enough = at_least_in_litter(conceived, self.sizes, holdback.count)
        mean = sum((n * chance for n, chance in self.sizes.items()), _NONE)
        return self._told(holdback, want, share, per_young(conceived) * mean, enough, carries, alone_, 0)

    def _drawn(self, each: StagePlan, holdback: Holdback, want: Want, first: FirstLitter) -> HoldbackOutlook:
        """The same from the plans that bred the stage."""
        kept = [own for own in self.course.script.kept if own.holdback is holdback]
        place = self.course.script.kept.index(kept[0]) if kept and each.is_open else -1
        right = first.right.get(place, 0)
        carries = dict(zip(want.unseen, first.each.get(place, ()), strict=False)) if right else {}
        return self._told(
            holdback, want, Fraction(right, first.young or 1), Fraction(right, first.litters or 1),
            Fraction(first.enough.get(place, 0), first.litters or 1),
            Fraction(first.true[place], right) if right and want.unseen else None,
            {unseen: Fraction(count, right) for unseen, count in carries.items()}, first.litters,
        )  # fmt: skip

    def _told(
        self, holdback: Holdback, want: Want, right: Fraction, expected: Fraction, enough: Fraction,
        carries: Fraction | None, each: dict[str, Fraction], drawn: int,
    ) -> HoldbackOutlook:  # fmt: skip
        stage = next(own.stage for own in self.plan.stages if holdback in own.stage.holdbacks)
        return HoldbackOutlook(
            id=holdback.id, is_else=holdback in stage.otherwise, is_goal=self._ends(holdback),
            count=holdback.count, sex=holdback.sex, animals=holdback.animals, right=right, expected=expected,
            in_one_litter=enough, unseen=want.unseen, carries=carries, each=each, drawn=drawn,
        )  # fmt: skip


def _bred(played: Played, number: int) -> tuple[tuple[int, Fraction], ...]:
    bred = played.bred_in[number]
    return tuple((season, share((bred > 0) & (bred <= season))) for season in played.seasons)


def _kept_given_bred(played: Played, number: int) -> Fraction | None:
    bred = played.bred_in[number] > 0
    return Fraction(int(played.kept_of[number][bred].sum()), int(bred.sum())) if bred.any() else None


def _ended(played: Played, number: int) -> dict[Ending, Fraction]:
    own = played.ended[number]
    shares = {ending: sum((share(own == code) for code in codes), _NONE) for ending, codes in _ENDINGS.items()}
    return {ending: found for ending, found in shares.items() if found}


def _unknown_ages(plan: RoadPlan) -> tuple[AnimalId, ...]:
    """Parents of open stages that are taken as old enough."""
    parents = [animal for each in plan.open for animal in (*each.dams.animals, *each.sires.animals)]
    unknown = {animal for (animal, _), entry in plan.entries.items() if entry and Hindrance.NO_BIRTH in entry.reasons}
    return tuple(animal for animal in dict.fromkeys(parents) if animal in unknown)


def _names(parents: Parents) -> tuple[str, ...]:
    return (".".join(parents.holdback),) if parents.holdback else parents.animals
