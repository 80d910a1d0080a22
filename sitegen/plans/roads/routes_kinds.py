"""What a search for routes is asked and what it found. Data, no sentence."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sitegen.content.projects import Stage
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.plans.roads.kinds import Method


@dataclass(frozen=True, slots=True)
class Worth:
    """What a route is expected to give.

    Attributes:
        median: The first season by which the goal is reached in half of all courses; None if not by the horizon.
        chance: Chance that it is reached by the horizon.
        litters, kept: Expected numbers of litters and of kept young until then, the goal animal counted.
        method: How it was found.
    """

    median: int | None
    chance: Fraction
    litters: Fraction = Fraction(0)
    kept: Fraction = Fraction(0)
    method: Method | None = None


Evaluate = Callable[[tuple[Stage, ...]], Worth]
"""What a road of these stages is worth by the search's horizon."""


class Why(StrEnum):
    """Why an animal has no part in the search."""

    DEAD = "dead"
    SOLD = "sold"
    ON_HOLD = "on hold"
    UNSAID = "nothing says that it is still here"
    NO_SEX = "no sex"
    UNANSWERED = "unanswered"
    CARRIES_NOTHING = "carries nothing of the goal"
    TOO_YOUNG = "too young"
    BEHIND = "behind another"
    BEYOND = "beyond the number that is looked at"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """An animal that has no part in the search; ``beside`` is the one it stands behind, if that is why."""

    animal: AnimalId
    why: Why
    beside: AnimalId = ""


@dataclass(frozen=True, slots=True)
class Founder:
    """An animal that routes may begin with or turn to.

    Attributes:
        id: The animal.
        sex: Female or male.
        ready: The first season in which it can be paired.
        alike: Animals that give exactly the same in every route and come after it; those on offer come last. The
            least related of all of them are taken.
    """

    id: AnimalId
    sex: Sex
    ready: int
    alike: tuple[AnimalId, ...] = ()


@dataclass(frozen=True, slots=True)
class Bounds:
    """How far the search goes.

    Attributes:
        generations: Most generations from the animals of today to the goal.
        horizon: The last season that counts.
        animals: Most animals of today in one route.
        ways: Most ways to cross them that are looked at; where there are more, fewer animals of each sex are.
        looked_at: About the most ways of choosing young that are estimated.
        worked_out: Most routes that are worked out in full.
        relatedness: Highest inbreeding coefficient of young of any stage; None for no limit.
    """

    generations: int = 3
    horizon: int = 0
    animals: int = 4
    ways: int = 15_000
    looked_at: int = 6_000
    worked_out: int = 40
    relatedness: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Route:
    """One way to the goal, worked out in full.

    Attributes:
        stages: As a project's record would hold them.
        worth: What is expected of it.
        young: How many young it raises beside the goal animal itself, if all goes to plan.
        inbreeding: The highest inbreeding coefficient among the young of its stages.
        alike: Animal of the route to those that would serve as well.
    """

    stages: tuple[Stage, ...]
    worth: Worth
    young: int
    inbreeding: Fraction
    alike: Mapping[AnimalId, tuple[AnimalId, ...]]

    @property
    def generations(self) -> int:
        """Generations from the animals of today to the goal."""
        depth: dict[str, int] = {}
        for stage in self.stages:
            depth[stage.id] = 1 + max(depth.get(parent.split(".")[0], 0) for parent in (stage.dam, stage.sire))
        return max(depth.values(), default=0)


@dataclass(frozen=True, slots=True)
class Found:
    """What the search gives.

    Attributes:
        routes: Those that no other equals or betters on season, young to raise and chance at once; soonest first.
        bounds: How far it went.
        first_season: The first season that is still open.
        already: Animals of the collection that are what the goal asks for, for certain or perhaps.
        founders: Those that took part.
        left_out: Those that did not, and why.
        shapes: Ways to cross the founders that were looked at.
        possible: Of these, the ones that can give the goal in time and keep to the limit of relatedness.
        too_related: Ways left out for the limit of relatedness.
        estimated: Ways of crossing and keeping that were estimated.
        worked_out: Routes worked out in full.
        open: Ways that were set aside unlooked-at because a bound of the search was reached, and that might have
            been as good.
        nobody_has: Wanted alleles that no animal of the search may carry.
        cannot_live: No living young can be what the goal asks for.
        stopped: The search was ended before its end.
    """

    routes: tuple[Route, ...]
    bounds: Bounds
    first_season: int
    already: tuple[AnimalId, ...]
    founders: tuple[Founder, ...]
    left_out: tuple[LeftOut, ...]
    shapes: int = 0
    possible: int = 0
    too_related: int = 0
    estimated: int = 0
    worked_out: int = 0
    open: int = 0
    nobody_has: tuple[str, ...] = ()
    cannot_live: bool = False
    stopped: bool = False
