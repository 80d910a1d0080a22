"""The results that are told of a project's road. Data, no sentence.

A season is the calendar year in which its young are born. What rests on drawn worlds is a fraction of counts: so many
of so many plans. None and all of them say only that the rest is rare.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sitegen.genetics.by_eye import Expected
from sitegen.genetics.questions import AnimalId


class StageState(StrEnum):
    """How far a stage is."""

    DONE = "done"
    BEGUN = "begun"
    """Litters were born or failed, and something is still to be kept."""
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
    READY = "ready"
    """An animal must gain weight before it is bred."""
    NEVER = "never"
    """It cannot be bred any more: ``waits_for`` has died, or every try is used, or an earlier stage cannot."""


class Ending(StrEnum):
    """How a stage ends."""

    GOAL = "goal"
    """What was kept meets the goal by its looks; the road ends."""
    KEPT = "kept"
    """All that it was to give was kept."""
    PARTLY = "partly"
    """After its last try enough was kept to go on, but less than was wanted."""
    ELSE = "else"
    """The other branch: what is kept if the first does not come."""
    STUCK = "stuck"
    """After its last try there is not enough to go on."""


@dataclass(frozen=True, slots=True)
class SeasonChance:
    """Shares of all plans, by the end of a season.

    Attributes:
        season: The season.
        born: Some young that was born truly is the goal.
        kept: Some young that was kept truly is it.
        known: Of one kept young everything that was seen leaves no doubt that it is it.
    """

    season: int
    born: Fraction
    kept: Fraction
    known: Fraction


@dataclass(frozen=True, slots=True)
class Range:
    """A number of animals: its mean, and the fewest and most in 80 of 100 plans (the 10th and the 90th in 100)."""

    mean: Fraction
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class SeasonLoad:
    """What a season brings, over all plans: young born, young newly kept, and young held at its end.

    ``held`` are the places that the road needs for its own young: all that were kept so far and not let go. Animals
    that are there already are not counted.
    """

    season: int
    young: Range
    kept: Range
    held: Range


@dataclass(frozen=True, slots=True)
class HoldbackOutlook:
    """Young that a stage is to give.

    Where ``drawn`` is 0, the parents are there and the chances are exact; else they are shares among so many drawn
    plans in which the stage had a litter, of the first one.

    Attributes:
        id: The holdback's name in its stage.
        is_else: It is kept only if what comes first is not there.
        is_goal: It ends the road when it is filled.
        count, sex: How many are wanted, of which sex (empty: either).
        animals: Those that were kept already.
        right: Chance that one young looks as wanted and is of the wanted sex.
        expected: Expected number in one litter that look right.
        in_one_litter: Chance that one litter has ``count`` that look right.
        unseen: What is wanted and cannot be told by eye: alleles, and looks that another wanted look hides.
        carries: Of young that look right, the chance that one has all that is unseen; None if nothing is, or none
            looked right.
        each: The same for each unseen thing alone.
        drawn: See above.
    """

    id: str
    is_else: bool
    is_goal: bool
    count: int
    sex: str
    animals: tuple[AnimalId, ...]
    right: Fraction
    expected: Fraction
    in_one_litter: Fraction
    unseen: tuple[str, ...]
    carries: Fraction | None
    each: Mapping[str, Fraction]
    drawn: int


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
    """A litter of a stage beside what was expected of it; exact. ``as_of`` is the day before its birth."""

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
        looks: How young of the stage can look, by eye, likeliest first; empty where a parent is not kept yet.
        holdbacks: What it is to give, in both branches.
        bred: (season, share of all plans in which it was paired by then); empty for a stage that is done.
        kept_given_bred: Of plans in which it was bred, the share in which a goal animal from it was kept; None if
            none did.
        ended: How it ended by the last season, as shares of all plans. What is missing from 1 was never bred, or is
            still open.
        litters: What it gave so far.
        inbreeding: Inbreeding coefficient of its young.
        can_be_goal: True if some young of it was the goal in some plan, or can be by exact odds.
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
    bred: tuple[tuple[int, Fraction], ...]
    kept_given_bred: Fraction | None
    ended: Mapping[Ending, Fraction]
    litters: tuple[LitterResult, ...]
    inbreeding: Fraction
    can_be_goal: bool


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
        by_season: From the first open season to the horizon; empty if reached, or if nothing can be bred.
        half_by: The first season by which a goal animal is kept in half of all plans; None if not by the horizon.
        loads: What each of these seasons brings.
        litters: Mean number of litters still to come until the road ends or the horizon.
        inbreeding: Inbreeding coefficient of the goal animal; the highest where it may come of several stages.
        ancestry: Shares of lines and localities in the goal animal; empty if nothing is recorded, or if it may come of
            several stages.
        setbacks: What turned out otherwise.
        draws: How many plans were drawn; 0 where none was.
        error: The largest standard error of a chance by season.
        assumed_season: The months of pairing and birth are assumed, not recorded.
        unknown_ages: Parents whose birth is not recorded and that are taken as old enough.
    """

    stages: tuple[StageOutlook, ...]
    reached: int | None
    horizon: int
    by_season: tuple[SeasonChance, ...]
    half_by: int | None
    loads: tuple[SeasonLoad, ...]
    litters: Fraction
    inbreeding: Fraction
    ancestry: tuple[Ancestry, ...]
    setbacks: tuple[Setback, ...]
    draws: int
    error: Fraction
    assumed_season: bool = False
    unknown_ages: tuple[AnimalId, ...] = ()

    @property
    def bringing(self) -> tuple[StageOutlook, ...]:
        """The stages with whose young some plans end at the goal."""
        return tuple(each for each in self.stages if each.ended.get(Ending.GOAL))


@dataclass(frozen=True, slots=True)
class Rival:
    """The same plan with one parent exchanged for another animal of the site, on the same drawn worlds.

    Attributes:
        stage: Where.
        is_dam: Whether the dam is exchanged, or the sire.
        instead_of: The parent as it is written.
        animal: Who takes the place.
        kept: Share of plans in which a goal animal is kept by the last season.
        gain: By how much that is more than with the plan as it stands.
        error: Standard error of ``gain``, from the paired draws.
        half_by: As in :class:`RoadOutlook`.
        inbreeding: Inbreeding coefficient of the goal animal.
    """

    stage: str
    is_dam: bool
    instead_of: str
    animal: AnimalId
    kept: Fraction
    gain: Fraction
    error: Fraction
    half_by: int | None
    inbreeding: Fraction


@dataclass(frozen=True, slots=True)
class ProjectRoads:
    """The road of a project as it is planned, and what stands beside it.

    Attributes:
        main: As it is planned; None where it has no answer.
        alternatives: The other routes to its goal, by the alternative's id.
        gains: For each of these by how much more often a goal animal is kept by the last season that both look at,
            and the standard error of that, from the same drawn worlds.
        rivals: One parent exchanged, where that is better beyond doubt; at most one.
        unanswered: Animals about which too much is open at once, if that leaves the plan without an answer.
    """

    main: RoadOutlook | None
    alternatives: Mapping[str, RoadOutlook]
    gains: Mapping[str, tuple[Fraction, Fraction]]
    rivals: tuple[Rival, ...] = ()
    unanswered: tuple[AnimalId, ...] = ()
