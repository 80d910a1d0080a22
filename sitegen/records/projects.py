"""The record of a project of several seasons."""

from dataclasses import dataclass

from sitegen.findings import Place
from sitegen.records.animals import PhotoRecord
from sitegen.records.values import PartialDate


@dataclass(frozen=True, slots=True)
class Goal:
    """Look ids to be shown and allele ids to be carried by the goal animal."""

    shows: tuple[str, ...]
    carries: tuple[str, ...] = ()


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
    """One pairing of a project. ``dam`` and ``sire`` name an animal or ``STAGE.HOLDBACK``."""

    id: str
    season: int
    dam: str
    sire: str
    litters: tuple[str, ...]
    keep: tuple[Holdback, ...]
    place: Place
    note: str = ""


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
    """A project: goal, stages, updates. ``state`` is planned, under way, reached or given up."""

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
