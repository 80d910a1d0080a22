"""The record of a project of several seasons."""

from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.content.animals import PhotoRecord
from sitegen.content.values import PartialDate
from sitegen.findings import Place


@dataclass(frozen=True, slots=True)
class Goal:
    """Look ids to be shown and allele ids to be carried by the goal animal; ``place`` is where they stand."""

    shows: tuple[str, ...]
    carries: tuple[str, ...] = ()
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Holdback:
    """Young to be kept from a stage: what they must show and carry, how many, of which sex."""

    id: str
    shows: tuple[str, ...]
    carries: tuple[str, ...]
    count: int
    sex: str
    animals: tuple[str, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Stage:
    """One pairing of a project. ``dam`` and ``sire`` name an animal or ``STAGE.HOLDBACK``.

    ``tries`` is the number of seasons in which the pairing is tried at most; None for no bound. ``dam_place`` and
    ``sire_place`` are where the parents are named.
    """

    id: str
    season: int
    dam: str
    sire: str
    litters: tuple[str, ...]
    keep: tuple[Holdback, ...]
    place: Place
    note: str = ""
    tries: int | None = None
    dam_place: Place | None = field(default=None, compare=False)
    sire_place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another route to the same goal. Its stages stand alone: they name animals, or what its own stages keep."""

    id: str
    name: str
    stages: tuple[Stage, ...]
    place: Place
    about: str = ""


@dataclass(frozen=True, slots=True)
class Decision:
    """What was decided on a day, and why; ``stage`` names the stage it is about, or is empty."""

    date: PartialDate
    text: str
    place: Place
    stage: str = ""


@dataclass(frozen=True, slots=True)
class Update:
    """A dated note on a project, Markdown."""

    date: PartialDate
    title: str
    text: str
    place: Place
    photos: tuple[PhotoRecord, ...] = ()


@dataclass(frozen=True, slots=True)
class Project:
    """A project: goal, stages, updates. ``state`` is planned, under way, reached or given up.

    Attributes:
        horizon: The last season the breeder plans for.
        rest: Seasons a dam rests after a litter; None takes the species' own.
        relatedness_limit: The highest inbreeding coefficient of young that the breeder accepts; that of the site
            where the project says nothing, None where neither does.
        welfare: The breeder's note on a gene of the project that may harm the animal.
        decisions: What was decided, oldest first.
        alternatives: Other routes to the same goal.
    """

    id: str
    name: str
    species: str
    goal: Goal
    stages: tuple[Stage, ...]
    state: str
    place: Place
    started: PartialDate | None = None
    about: str = ""
    updates: tuple[Update, ...] = ()
    photos: tuple[PhotoRecord, ...] = ()
    horizon: int | None = None
    rest: int | None = None
    relatedness_limit: Fraction | None = None
    welfare: str = ""
    decisions: tuple[Decision, ...] = ()
    alternatives: tuple[Alternative, ...] = ()
