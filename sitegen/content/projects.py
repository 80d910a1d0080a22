"""A project of several seasons: how it is written, and its record."""

from collections.abc import Collection
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from typing import ClassVar

from sitegen.content.declaration import AsWritten, ListOf, group_of, key_only, keyed
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.values import (
    ANYTHING,
    CHANCE,
    DAY,
    KNOWN_DAY,
    NAME,
    PROSE,
    SEX,
    TEXT,
    TEXT_BY_NAME,
    TEXTS,
    WHOLE,
    YES,
    PartialDate,
    words_of,
)
from sitegen.findings import Place


class ProjectState(StrEnum):
    """How far a project is."""

    PLANNED = "planned"
    UNDER_WAY = "under way"
    REACHED = "reached"
    GIVEN_UP = "given up"


class Until(StrEnum):
    """How long a stage goes on that has something to keep in case ``keep`` is not filled."""

    TRIES = "tries"
    ELSE = "else"


@dataclass(frozen=True, slots=True)
class Goal:
    """What the goal animal shows and carries.

    Ids of looks and of alleles; ``place`` is where they stand.
    """

    shows: tuple[str, ...] = keyed(TEXTS, "Looks to be shown.")
    carries: tuple[str, ...] = keyed(TEXTS, "Genes to be carried.")
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Holdback:
    """Young to be kept from a stage.

    Ids of looks that they must show and of alleles that they must carry; ``sex`` is empty for either. ``only`` asks
    for young that show nothing else, so that without ``shows`` nothing may be seen on them.
    """

    id: str = keyed(TEXT, "A short name for the kept young; needed in a list.")
    shows: tuple[str, ...] = keyed(TEXTS, "Looks they must show.")
    only: bool = keyed(YES, "true: they show nothing else that can be seen.")
    carries: tuple[str, ...] = keyed(TEXTS, "Genes they must carry; nobody chooses by them, since they cannot be seen.")
    count: int = keyed(WHOLE, "How many are to be kept; 1 when left out.", usual=1)
    at_least: int = keyed(WHOLE, "How many are enough to go on after the last try; 1 when left out.", usual=1)
    sex: str = keyed(SEX, "Of which sex; either when left out.", usual="")
    animals: tuple[str, ...] = keyed(TEXTS, "Those that were kept: an animal's folder or LITTER/YOUNG.")
    place: Place

    @property
    def is_filled(self) -> bool:
        """True when as many were kept as are wanted."""
        return len(self.animals) >= self.count

    @property
    def is_enough(self) -> bool:
        """True when enough were kept to go on after the last try."""
        return len(self.animals) >= self.at_least


HOLDBACK = group_of(Holdback, "an entry of keep or else")
_UNTIL = words_of(Until)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One pairing of a project.

    ``dam`` and ``sire`` name an animal or ``STAGE.HOLDBACK``. ``tries`` is the number of seasons in which the pairing
    is tried at most; None for no bound. From a litter that did not fill ``keep``, ``otherwise`` is kept; ``until``
    says whether the stage then goes on for what it wanted first. ``dam_place`` and ``sire_place`` are where the
    parents are named.
    """

    id: str = keyed(TEXT, "A short name for the stage; needed when stages is a list.")
    season: int = keyed(WHOLE, "The year in which its young are to be born.", needed=True)
    dam: str = keyed(NAME, "The mother: an animal, LITTER/YOUNG, or STAGE.HOLDBACK of an earlier stage.", needed=True)
    sire: str = keyed(NAME, "The father, likewise.", needed=True)
    litters: tuple[str, ...] = keyed(TEXTS, "Litters that came of it.")
    tries: int | None = keyed(WHOLE, "Seasons in which it is tried at most; as many as it takes when left out.")
    keep: tuple[Holdback, ...] = keyed(AsWritten(each=HOLDBACK), "What is kept back, as a list or by name.", usual=())
    otherwise: tuple[Holdback, ...] = keyed(
        AsWritten(each=HOLDBACK),
        "What is kept of a litter that did not fill keep, for another way on; as a list or by name.",
        alias="else",
        usual=(),
    )
    until: str = keyed(
        _UNTIL,
        "tries: goes on for what keep asks until the tries are used up; else: ends when else is filled. tries when left"
        " out.",
        usual=Until.TRIES.value,
    )
    note: str = keyed(TEXT, "A line of text.", prose=True)
    place: Place
    dam_place: Place | None = field(default=None, compare=False)
    sire_place: Place | None = field(default=None, compare=False)

    @property
    def holdbacks(self) -> tuple[Holdback, ...]:
        """All that may be kept of it, what is wanted first before what is kept otherwise."""
        return (*self.keep, *self.otherwise)


STAGE = group_of(Stage, "a stage")


def is_goal(holdback: Holdback, goal: Goal, told: Collection[str] = ()) -> bool:
    """True for young with which the road ends: by their name, or since they are to have all that the goal has.

    ``told`` are further alleles that they hold by their looks.
    """
    asks = bool(goal.shows or goal.carries)
    has = {*holdback.carries, *holdback.shows, *told}
    has_all = set(goal.shows) <= set(holdback.shows) and set(goal.carries) <= has
    return holdback.id == "goal" or (asks and has_all)


_STAGES = AsWritten(each=STAGE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What was decided, and why.

    ``stage`` names the stage it is about, or is empty.
    """

    date: PartialDate = keyed(KNOWN_DAY, "The day.", needed=True)
    stage: str = keyed(TEXT, "The stage it is about.")
    text: str = keyed(PROSE, "What was decided and why.", needed=True, prose=True)
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """Another route to the same goal.

    Its stages stand alone: they name animals, or what its own stages keep.
    """

    id: str = keyed(TEXT, "A short name for the route; needed when alternatives is a list.")
    name: str = keyed(TEXT, "What the route is called; its short name when left out.", prose=True)
    about: str = keyed(PROSE, "What speaks for it and against it, Markdown.", prose=True)
    stages: tuple[Stage, ...] = keyed(_STAGES, "Its pairings, all of them, as a list or by name.", usual=())
    place: Place


ALTERNATIVE = group_of(Alternative, "an alternative")


@dataclass(frozen=True, slots=True)
class Update:
    """A dated note on a project, Markdown."""

    date: PartialDate
    title: str
    text: str
    place: Place
    photos: tuple[PhotoRecord, ...] = ()


_STATE = words_of(ProjectState, meant={"finished": "reached", "done": "reached", "running": "under way"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """A project of several seasons.

    Attributes:
        state: planned, under way, reached or given up.
        horizon: The last season the breeder plans for.
        rest: Seasons a dam rests after a litter; None takes the species' own.
        relatedness_limit: The highest inbreeding coefficient of young that the breeder accepts; that of the site
            where the project says nothing, None where neither does.
        welfare: The breeder's note on a gene of the project that may harm the animal.
        decisions: What was decided, oldest first.
        alternatives: Other routes to the same goal.
    """

    id: str
    place: Place
    updates: tuple[Update, ...] = ()
    photos: tuple[PhotoRecord, ...] = ()
    name: str = keyed(TEXT, "What the project is called; its folder name when left out.", prose=True)
    species: str = keyed(NAME, "The species: the name of its file in species.", needed=True)
    state: str = keyed(
        _STATE, "planned, under way, reached or given up; planned when left out.", usual=ProjectState.PLANNED.value
    )
    started: PartialDate | None = keyed(DAY, "When it began.")
    goal: Goal = keyed(group_of(Goal, "a goal"), "What the goal animal shows and carries.")
    stages: tuple[Stage, ...] = keyed(_STAGES, "The pairings, as a list or by name.", usual=())
    alternatives: tuple[Alternative, ...] = keyed(
        AsWritten(each=ALTERNATIVE),
        "Other routes to the same goal, as a list or by name; told beside the main one.",
        usual=(),
    )
    horizon: int | None = keyed(WHOLE, "The last season you plan for.")
    rest: int | None = keyed(WHOLE, "Seasons in which a dam rests after a litter; that of the species when left out.")
    relatedness_limit: Fraction | None = keyed(
        CHANCE,
        "The highest inbreeding coefficient of young that you accept, such as 1/8; that of site.yaml when left out.",
    )
    welfare: str = keyed(PROSE, "Your note on a gene of the project that has a welfare note.", prose=True)
    decisions: tuple[Decision, ...] = keyed(
        ListOf(group_of(Decision, "an entry of decisions")), "What was decided and why, each with its date."
    )
    on_site: bool = keyed(YES, "false keeps it off the site.", usual=True)
    captions: ClassVar = key_only(TEXT_BY_NAME, "A line of text by photo file name.", prose=True)
    off_site: ClassVar = key_only(
        TEXTS,
        "Photos that are kept off the site, those of its notes too: [2026-07-20.jpg]; file names, as under captions.",
    )
    about: str = keyed(PROSE, "Free text, Markdown.", prose=True)
    reviewed: ClassVar = key_only(
        TEXT_BY_NAME, "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: ClassVar = key_only(ANYTHING, "Anything that is never published.")


PROJECT = group_of(Project, "a project's record")
