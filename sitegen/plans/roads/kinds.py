"""The results that are told of a project's road. Data, no sentence.

A season is the calendar year of birth. Chances are exact fractions where a stage stands alone; chances by
season come from :class:`Method` and are fractions made of floating-point numbers, taken as 1 only if nothing at
all is missing from it.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sitegen.genetics.counts import Needed
from sitegen.genetics.questions import AnimalId
from sitegen.plans.by_eye import Expected


class StageState(StrEnum):
    """How far a stage is."""

    DONE = "done"
    BEGUN = "begun"
    """Litters were born, and something is still to be kept."""
    NEXT = "next"
    """Both parents are there, or will be before any other stage."""
    LATER = "later"


class Waits(StrEnum):
    """What decides the earliest season of a stage."""

    PLAN = "plan"
    TODAY = "today"
    """This season's pairing month has passed, or an earlier season was not used."""
    DAM_AGE = "dam age"
    SIRE_AGE = "sire age"
    REST = "rest"
    NEVER = "never"
    """It cannot be bred any more: ``waits_for`` has died, or every try is used, or an earlier stage cannot."""


@dataclass(frozen=True, slots=True)
class Chance:
    """A season, the chance that it happens in that very season, and that it has happened by then."""

    season: int
    then: Fraction
    by: Fraction


@dataclass(frozen=True, slots=True)
class HoldbackOutlook:
    """Young that a stage is to give.

    Attributes:
        id: The holdback's name in its stage.
        count, sex: How many are wanted, of which sex (empty: either).
        animals: Those that were kept already.
        looks_right: Chance that one young looks as wanted and is of the wanted sex.
        carries: Of young that look right, the chance that one carries all that cannot be seen; None if nothing
            unseen is wanted.
        each: The same for each wanted allele alone.
        unseen: What is wanted and cannot be told by eye: alleles, and looks that another wanted look hides.
        expected: Expected number in one litter that look right.
        in_one_litter: Chance that one litter has ``count`` that look right.
        needed: How many young give 50 and 90 in 100 for ``count`` that look right.
        to_keep: How many that look right to keep so that with 50 and 90 in 100 at least one truly carries
            everything unseen; empty if nothing unseen is wanted.
        between: The fewest and the most that look right in at least 80 in 100 litters: the narrowest such range.
    """

    id: str
    count: int
    sex: str
    animals: tuple[AnimalId, ...]
    looks_right: Fraction
    carries: Fraction | None
    each: Mapping[str, Fraction]
    unseen: tuple[str, ...]
    expected: Fraction
    in_one_litter: Fraction
    needed: tuple[Needed, ...]
    to_keep: tuple[Needed, ...]
    between: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Counted:
    """Young of a wanted kind in a litter that was born, beside what was expected before its birth.

    Attributes:
        kind: The holdback's name, or ``goal``.
        looks: The looks that were wanted; with ``sex`` as in the holdback.
        sex: The wanted sex, or empty.
        n_young: Young that were judged for these looks (and whose sex is known, if one is wanted).
        came: How many of them are so.
        expected: Expected number among as many.
        as_few: Chance of as few or fewer among as many.
        as_many: Chance of as many or more among as many.
    """

    kind: str
    looks: tuple[str, ...]
    sex: str
    n_young: int
    came: int
    expected: Fraction
    as_few: Fraction
    as_many: Fraction


@dataclass(frozen=True, slots=True)
class LitterResult:
    """A litter of a stage beside what was expected of it. ``as_of`` is the day before its birth."""

    litter: str
    as_of: dt.date
    counted: tuple[Counted, ...]


@dataclass(frozen=True, slots=True)
class Setback:
    """Kept young that turned out not to carry what they were kept for, and what that costs.

    ``years`` is the difference between the earliest season in which young of a repeated stage could stand in their
    place and the season for which they were meant; None if the stage cannot be repeated.
    """

    stage: str
    holdback: str
    allele: str
    animals: tuple[AnimalId, ...]
    again: int | None
    years: int | None


@dataclass(frozen=True, slots=True)
class StageOutlook:
    """One stage of the road.

    Attributes:
        id: The stage's name.
        state: How far it is.
        planned: The season it was planned for.
        earliest: The earliest season it can be bred (again); its first litter's season if it is done; None if it
            cannot be bred any more.
        waits: What decides that, with the animal (or ``STAGE.HOLDBACK``) that is waited for, if any.
        dams, sires: The parents: animals, or ``STAGE.HOLDBACK`` for young that are not yet kept.
        looks: How young of the stage can look, by eye, likeliest first; given that the plan gets so far.
        holdbacks: What it is to give.
        yielded: Chance by season that it has given all it is to give, or that the goal itself has come by then;
            empty for a stage that is done.
        litters: What it gave so far.
        inbreeding: Inbreeding coefficient of its young.
        goal_each: Chance that one young of it truly is the goal.
    """

    id: str
    state: StageState
    planned: int
    earliest: int | None
    waits: Waits
    waits_for: str
    dams: tuple[str, ...]
    sires: tuple[str, ...]
    looks: tuple[Expected, ...]
    holdbacks: tuple[HoldbackOutlook, ...]
    yielded: tuple[Chance, ...]
    litters: tuple[LitterResult, ...]
    inbreeding: Fraction
    goal_each: Fraction


@dataclass(frozen=True, slots=True)
class Method:
    """How the chances by season were found.

    ``states`` is the number of steps that were added up. ``runs`` is 0 where that is every possibility; else the number
    of roads drawn by chance from ``seed``, from the season on in which there were too many to add up (from the first,
    if ``states`` is 0), and ``error`` is the largest standard error of a chance by season.
    """

    states: int
    runs: int = 0
    seed: int = 0
    error: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Ancestry:
    """Expected share of the goal animal's ancestry from a line or locality; empty name: unknown origin."""

    origin: str
    share: Fraction


@dataclass(frozen=True, slots=True)
class RoadOutlook:
    """The whole road to a goal.

    Attributes:
        stages: Its stages, in order.
        reached: The season in which the goal was reached, if it was.
        horizon: The last season that is looked at.
        by_season: Chance that the goal is reached, from the first open season to the horizon; empty if reached.
        median: The first season by which it is reached in half of all roads; None if not by the horizon.
        ever: Upper bound of the chance with any number of seasons: the share of roads whose parents can give it.
        litters: Expected number of litters still to come until the goal or the horizon; all of the goal's season count.
        kept: Expected number of young still to be kept in the seasons before the goal's, and the goal animal.
        inbreeding: Inbreeding coefficient of the goal animal.
        ancestry: Shares of lines and localities in the goal animal; empty if nothing is recorded.
        setbacks: What turned out otherwise.
        method: How it was found.
        assumed_season: The months of pairing and birth are assumed, not recorded.
        unknown_ages: Parents whose birth is not recorded and that are taken as old enough.
        paired_month, born_month: The months of pairing and of birth that were used, 1 to 12; pages do not name them
            where they are 0.
    """

    stages: tuple[StageOutlook, ...]
    reached: int | None
    horizon: int
    by_season: tuple[Chance, ...]
    median: int | None
    ever: Fraction
    litters: Fraction
    kept: Fraction
    inbreeding: Fraction
    ancestry: tuple[Ancestry, ...]
    setbacks: tuple[Setback, ...]
    method: Method
    assumed_season: bool = False
    unknown_ages: tuple[AnimalId, ...] = ()
    paired_month: int = 0
    born_month: int = 0


@dataclass(frozen=True, slots=True)
class ProjectRoads:
    """The road of a project as it is planned, and the other routes to its goal by the alternative's id."""

    main: RoadOutlook
    alternatives: Mapping[str, RoadOutlook]
