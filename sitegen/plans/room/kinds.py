"""The results that are told of a plan for the whole room. Data, no sentence.

A season is the calendar year in which its young are born. Chances and values are floating point numbers of drawn
worlds, each with its standard error. A value is the sum over goals of weight x chance that enough kept animals truly
are the goal, as the wishes weigh it by season; so it lies between 0 and :attr:`RoomPlan.weights`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from sitegen.content.wishes import WishedAnimal
from sitegen.genetics.questions import AnimalId

AS_GOOD = 0.01
"""Differences below this share of all weights are as good as none."""
Pair = tuple[AnimalId, AnimalId]
"""Dam and sire."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """What the young of a pairing teach about a parent.

    Attributes:
        animal: The parent, or another animal of which they tell.
        allele: The allele that it may carry.
        worth: The value that is lost when nobody looks at these young for this allele; 0 if later choices gain
            nothing by it.
        error: Of the worth.
    """

    animal: AnimalId
    allele: str
    worth: float = 0.0
    error: float = 0.0


@dataclass(frozen=True, slots=True)
class RoomPairing:
    """A pairing of the first season.

    Attributes:
        dam, sire: Who.
        serves: Goal to what of its chance (kept, at the end) is lost when this pairing is left out and nothing is put
            in its place; goals that lose nothing are left out.
        alone: The same of the value.
        alone_error: The standard error of that paired difference.
        learns: What it teaches, the most worth first.
        born: Goal to the chance that this pairing brings a young that truly is the goal in its first season, counted
            from today (it may not take); goals it cannot bring are left out.
        young: Expected number of living young of a litter.
        kinship: Inbreeding coefficient of its young.
    """

    dam: AnimalId
    sire: AnimalId
    serves: Mapping[str, float] = field(default_factory=dict)
    alone: float = 0.0
    alone_error: float = 0.0
    learns: tuple[Lesson, ...] = ()
    born: Mapping[str, float] = field(default_factory=dict)
    young: float = 0.0
    kinship: Fraction = Fraction(0)

    @property
    def pair(self) -> Pair:
        """Dam and sire."""
        return self.dam, self.sire


@dataclass(frozen=True, slots=True)
class GoalSeason:
    """Of one goal by the end of a season: chances that enough animals of it were born, are kept, are known to be it.

    ``error`` is the standard error of ``kept``.
    """

    season: int
    born: float
    kept: float
    known: float
    error: float


@dataclass(frozen=True, slots=True)
class SeasonPlaces:
    """Animals in the room at the end of a season: mean, and fewest and most in 80 of 100 plans; ``keep`` of them new.

    ``keep`` is the mean number of young that are newly kept in the season.
    """

    season: int
    mean: float
    low: int
    high: int
    keep: float


@dataclass(frozen=True, slots=True)
class OtherChoice:
    """Another choice of pairings for the first season, as differences from the one that is told.

    Attributes:
        pairings: All its pairings.
        value: Its value minus that of the plan.
        value_error: The standard error of this paired difference.
        goals: Goal to the difference of its chance (kept, at the end).
    """

    pairings: tuple[Pair, ...]
    value: float
    value_error: float
    goals: Mapping[str, float] = field(default_factory=dict)


class LeftOut(StrEnum):
    """Why something was not tried."""

    RELATED = "related"
    """Pairs above the relatedness limit: ``pairs``."""
    EXCHANGE = "exchange"
    """Choices that differ in more than one pairing from every one that was looked at."""
    DRAWN = "drawn"
    """The animals may be so many ways together that some were drawn."""
    TANGLED = "tangled"
    """Animals whose genes could not be worked out: ``animals``."""
    CANDIDATES = "candidates"
    """Only the most promising pairs were put into choices; so many were not: ``count``."""
    INTERRUPTED = "interrupted"
    """The search was stopped before it was done."""


@dataclass(frozen=True, slots=True)
class NotTried:
    """Something that was not tried, and why."""

    why: LeftOut
    animals: tuple[AnimalId, ...] = ()
    pairs: tuple[Pair, ...] = ()
    count: int = 0


@dataclass(frozen=True, slots=True)
class WorthOfTest:
    """What a DNA test of one animal at one locus is worth before the first season, in value; its price."""

    animal: AnimalId
    locus: str
    worth: float
    error: float
    price: Fraction


@dataclass(frozen=True, slots=True)
class RoomPlan:
    """The plan for one species.

    Attributes:
        species: Its id.
        season, last: First and last season.
        pairings: What is to be paired in the first season, the most valuable first; empty: everybody rests.
        resting: Dams that could be paired and are not, by id.
        goals: Goal id to its chances, season by season.
        owned: Goals that are there already.
        unreachable: Goals that nobody of the room can reach by the last season whatever is paired.
        value, value_error: From worlds that chose nothing.
        weights: The sum of the weights of the goals.
        draws: Number of those worlds.
        places: Season by season.
        short: By how many animals the places are too few at the start.
        next_best: Other choices, the best first.
        sure: The choice is better than each of them by more than two errors; else they are within 0.01 of the weights.
        closer: The best choice if the relatedness limit did not hold, where it is better; else None.
        tests: What tests are worth, where a price is written, the most worth first.
        tried: How many choices were looked at.
        not_tried: What was not.
    """

    species: str
    season: int
    last: int
    pairings: tuple[RoomPairing, ...]
    resting: tuple[AnimalId, ...]
    goals: Mapping[str, tuple[GoalSeason, ...]]
    value: float
    value_error: float
    weights: float
    draws: int
    places: tuple[SeasonPlaces, ...] = ()
    owned: tuple[str, ...] = ()
    unreachable: tuple[str, ...] = ()
    short: int = 0
    next_best: tuple[OtherChoice, ...] = ()
    sure: bool = True
    closer: OtherChoice | None = None
    tests: tuple[WorthOfTest, ...] = ()
    tried: int = 0
    not_tried: tuple[NotTried, ...] = ()

    @property
    def stopped(self) -> bool:
        """True when the search was stopped, and this is the best that it had found."""
        return any(each.why is LeftOut.INTERRUPTED for each in self.not_tried)


@dataclass(frozen=True, slots=True)
class RankedYoung:
    """A young of a litter as it may be kept back.

    Attributes:
        animal: ``LITTER/YOUNG``, or its own id.
        keep: It is among those to keep.
        gain: The value that is lost when it is let go and nothing is kept in its place (for those to keep), or gained
            by keeping it beside them (for the others).
        error: Of the gain.
        serves: Goal to the same for its chance; goals at which the two do not clearly differ are left out.
        carries: Allele that cannot be seen on it and that bears on a goal to the chance that it carries it.
        kinship: Mean kinship to the animals of the other sex that it could be paired with; None without any.
    """

    animal: AnimalId
    keep: bool
    gain: float
    error: float
    serves: Mapping[str, float] = field(default_factory=dict)
    carries: Mapping[str, float] = field(default_factory=dict)
    kinship: Fraction | None = None


@dataclass(frozen=True, slots=True)
class HoldbackPlan:
    """Which young of a born litter to keep.

    Attributes:
        young: Those to keep first, each group by its gain.
        as_good: Young that could be kept in the place of one of those at a cost below 0.01 of the weights, to that one.
        unsexed: Young of unknown sex, with which nothing can be planned.
        stays: Young that are recorded as kept.
        undecided: Other litters to how many of their young count as staying, since nothing is recorded of that.
        free: Places before any of the young is kept; None without a limit.
    """

    species: str
    litter: str
    young: tuple[RankedYoung, ...]
    as_good: Mapping[AnimalId, AnimalId] = field(default_factory=dict)
    draws: int = 0
    weights: float = 1.0
    unsexed: tuple[AnimalId, ...] = ()
    stays: tuple[AnimalId, ...] = ()
    undecided: Mapping[str, int] = field(default_factory=dict)
    free: int | None = None


@dataclass(frozen=True, slots=True)
class Purchase:
    """A hypothetical animal put into the room: what it adds to the value and to each goal; it takes one place.

    Attributes:
        animal: What it would be; its price is None where none is written.
        gain, error: The value that it adds, on common worlds, and the standard error.
        goals: Goal to what it adds to its chance (kept, at the end).
    """

    animal: WishedAnimal
    gain: float
    error: float
    goals: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class BuyingPlan:
    """At most twelve animals that might be bought, the most gain first; ``left_out`` is what the budget shuts out."""

    species: str
    purchases: tuple[Purchase, ...]
    left_out: tuple[WishedAnimal, ...] = ()
    draws: int = 0
    weights: float = 1.0
