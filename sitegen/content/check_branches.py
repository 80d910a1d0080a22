"""Checks of roads with branches: stages that wait for what can never be kept, or never together.

Of young that are kept `else` it is known only when their stage ends whether they are used. What has been kept already
(`animals`) is a fact, and no longer depends on how a stage ends.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from sitegen.content.projects import Goal, Holdback, Project, Stage, Until, is_goal
from sitegen.content.report import Report
from sitegen.findings import Kind, Place


def check_branches(projects: Mapping[str, Project], report: Report) -> None:
    """Tells stages of every route that can never be bred as it is written, each once."""
    for project in projects.values():
        for stages in (project.stages, *(route.stages for route in project.alternatives)):
            _Branches(project.goal, {stage.id: stage for stage in stages}, report).check()


@dataclass(frozen=True, slots=True)
class _Use:
    """Young that are not kept yet and that a stage breeds from: of which stage, which, where they are named."""

    source: Stage
    kept: Holdback
    place: Place

    @property
    def name(self) -> str:
        return f"{self.source.id}.{self.kept.id}"

    @property
    def is_else(self) -> bool:
        return self.kept in self.source.otherwise


@dataclass(slots=True)
class _Branches:
    """The stages of one route, of which only earlier ones can be used.

    ``needed`` holds for each stage what it uses and what the stages before it need, by name; ``told`` those of which
    it was said that they are never bred; ``endless`` those whose tries have no end.
    """

    goal: Goal
    stages: Mapping[str, Stage]
    report: Report
    needed: dict[str, dict[str, _Use]] = field(default_factory=dict)
    told: set[str] = field(default_factory=set)
    endless: set[str] = field(default_factory=set)

    def check(self) -> None:
        for stage in self.stages.values():
            uses = tuple(self._uses(stage))
            needed = {use.name: use for use in uses}
            for use in uses:
                needed |= self.needed.get(use.source.id, {})
            self.needed[stage.id] = needed
            if any(use.source.id in self.told for use in needed.values()) or self._never_bred(stage, uses, needed):
                self.told.add(stage.id)  # what waits for its young is never bred either: one finding is enough

    def _never_bred(self, stage: Stage, uses: tuple[_Use, ...], needed: Mapping[str, _Use]) -> bool:
        """Tells why a stage is never bred, one reason for each parent or one for both; False when it can be."""
        waits_in_vain = [self._never_ends(use) or self._too_early(stage, use) for use in uses]
        return (
            any(waits_in_vain)
            or self._apart(stage, tuple(needed.values()))
            or any(self._after_goal(stage, use) for use in uses)
        )

    def _uses(self, stage: Stage) -> Iterator[_Use]:
        """Dam and sire, where they are young that are not kept yet."""
        for name, place in ((stage.dam, stage.dam_place), (stage.sire, stage.sire_place)):
            source_id, _, kept_id = name.partition(".")
            source = self.stages.get(source_id)
            kept = next((each for each in source.holdbacks if each.id == kept_id), None) if source else None
            if source and kept and not kept.animals:
                yield _Use(source, kept, place or stage.place)

    def _never_ends(self, use: _Use) -> bool:
        """What is kept else is used although its stage goes on for what it wanted first, without an end."""
        source = use.source
        if not use.is_else or source.tries is not None or source.until == Until.ELSE:
            return False
        if source.id in self.endless:
            return True
        self.endless.add(source.id)
        self.report.error(
            Kind.BRANCH_WRONG,
            use.place,
            f"{use.name} is used only if stage {source.id} ends without what it wanted first, and it goes on for that "
            "without an end",
            expected=f"a bound for stage {source.id}",
            remedy=f"write tries, such as tries: 2, in stage {source.id}; or until: else, if it stops as soon as what "
            "is kept else is there",
            others=(source.place,),
        )
        return True

    def _too_early(self, stage: Stage, use: _Use) -> bool:
        """What is kept else is used in a season in which the tries before cannot be over."""
        source = use.source
        if not use.is_else or source.until == Until.ELSE or source.litters or not source.tries:
            return False
        last = source.season + source.tries - 1
        if not source.season < stage.season <= last:  # the same season is told where the stage is read
            return False
        self.report.error(
            Kind.DATE_IMPOSSIBLE,
            use.place,
            f"{use.name} is used only when all tries of stage {source.id} are over, in {last} at the earliest, and "
            f"stage {stage.id} is planned for {stage.season}",
            expected=f"{last + 1} or later",
            remedy=f"write a later season, fewer tries, or until: else in stage {source.id}",
            others=(source.place,),
        )
        return True

    def _apart(self, stage: Stage, needed: tuple[_Use, ...]) -> bool:
        """Two that are needed, of which one is there only when the other is not."""
        for use in needed:
            for other in needed:
                if other.source is not use.source or use.is_else or not other.is_else:
                    continue
                if reason := self._why_apart(use):
                    source = use.source.id
                    self.report.error(
                        Kind.BRANCH_WRONG,
                        stage.dam_place or stage.place,
                        f"stage {stage.id} needs {use.name} and {other.name}, which are never there together: {reason}",
                        expected=f"young of one branch of stage {source}",
                        remedy="name other parents, or write a stage of its own for each branch",
                        others=(use.kept.place, other.kept.place),
                    )
                    return True
        return False

    def _why_apart(self, use: _Use) -> str:
        """Why what is wanted first cannot be used beside what is kept else of the same stage; empty if it can."""
        if len(use.source.keep) == 1:
            return f"{use.source.id} is left with what was kept else only if {use.kept.id} did not come"
        if is_goal(use.kept, self.goal) and use.kept.at_least == use.kept.count:
            return f"the road ends with {use.kept.id}"
        return ""

    def _after_goal(self, stage: Stage, use: _Use) -> bool:
        """A stage that breeds from the goal itself: the road ends before."""
        kept, wanted = use.kept, use.source.keep
        if kept not in wanted or not is_goal(kept, self.goal) or (len(wanted) > 1 and kept.at_least < kept.count):
            return False
        self.report.notice(
            Kind.BRANCH_WRONG,
            use.place,
            f"stage {stage.id} breeds from {use.name}, and the road ends with the goal: the stage is never bred",
            expected="a stage before the goal",
            remedy="leave the stage out; or, if the goal is still to come, say under goal what more it has",
            others=(kept.place,),
        )
        return True
