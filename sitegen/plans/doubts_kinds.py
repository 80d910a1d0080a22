"""What may be wrong with a plan, as data: each doubt with all that a sentence about it needs."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sitegen.evidence.answers import Related
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId


@dataclass(frozen=True, slots=True)
class Where:
    """What part of a plan is meant.

    Attributes:
        project: Its id.
        place: Where it stands in the record.
        stage: The stage, or empty for the project as a whole.
        route: The alternative, or empty for the main road.
        holdback: The holdback of the stage, or empty.
    """

    project: str
    place: Place
    stage: str = ""
    route: str = ""
    holdback: str = ""


@dataclass(frozen=True, slots=True)
class TooYoung:
    """A parent that has not the breeding age in the season of its stage.

    Attributes:
        parent: An animal, or ``STAGE.HOLDBACK``.
        sex: As what it is bred.
        season: That of the stage.
        born: The earliest it is born, as far as the records or the plan tell: a date as written, or a season.
        months: The breeding age.
        first: The first season in which it can breed.
    """

    where: Where
    parent: str
    sex: Sex
    season: int
    born: str
    months: int
    first: int


class Left(StrEnum):
    """Why an animal is not there to be bred."""

    DIED = "died"
    SOLD = "sold"
    OFFERED = "offered"


@dataclass(frozen=True, slots=True)
class Gone:
    """A parent of an open stage that has died, was sold, or is on offer.

    ``only`` tells that no other animal can stand in its place in this stage; ``record`` is its record.
    """

    where: Where
    animal: AnimalId
    sex: Sex
    why: Left
    since: str
    only: bool
    record: Place


@dataclass(frozen=True, slots=True)
class Rushed:
    """A dam that is to be bred again before she has rested.

    ``before`` names the litter, or the stage (``PROJECT: STAGE``), after which she should rest; ``place`` is where it
    stands.
    """

    where: Where
    dam: str
    season: int
    earlier: int
    rest: int
    before: str
    place: Place


@dataclass(frozen=True, slots=True)
class Overbooked:
    """A dam that is promised to more litters in a season than she can have; ``others`` are what else she has then."""

    where: Where
    dam: str
    season: int
    litters_a_year: int
    others: tuple[str, ...]
    places: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Unlisted:
    """A litter of a stage's own pair that no stage lists, so that the road knows nothing of it."""

    where: Where
    litter: str
    place: Place


@dataclass(frozen=True, slots=True)
class TooRelated:
    """A pairing whose young would be more inbred than the breeder's limit."""

    where: Where
    dam: str
    sire: str
    inbreeding: Fraction
    limit: Fraction
    related: Related


@dataclass(frozen=True, slots=True)
class NotCarried:
    """Something is wanted that needs an allele which none of those that it must come from can carry.

    Attributes:
        wanted: The look or allele as it is wanted.
        allele: The allele that it needs.
        parents: The animals that cannot carry it: the parents of the stage, or all animals of the road.
        nearest: Animals of the collection that may carry it, the surest first, with the chance.
    """

    where: Where
    wanted: str
    allele: str
    parents: tuple[str, ...]
    nearest: tuple[tuple[AnimalId, Fraction], ...]


@dataclass(frozen=True, slots=True)
class LookAlike:
    """A look is wanted to which one parent can only give another gene that looks alike.

    Attributes:
        wanted: The look.
        allele: The allele that it needs.
        animal: The parent that has the other allele and cannot carry this one.
        other: The other allele.
        nearest: As in :class:`NotCarried`.
    """

    where: Where
    wanted: str
    allele: str
    animal: str
    other: str
    nearest: tuple[tuple[AnimalId, Fraction], ...]


@dataclass(frozen=True, slots=True)
class TooShort:
    """Everything that is wanted is carried on the road, and yet no young of the stage can be so.

    ``missing`` holds each look or allele that cannot come together there, with those parents that cannot give it.
    """

    where: Where
    missing: Mapping[str, tuple[str, ...]]
    stages: int


@dataclass(frozen=True, slots=True)
class AlwaysSeen:
    """Young that a stage is to keep may come and never look right: these looks are seen on them, which must not be."""

    where: Where
    looks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Lethal:
    """A look is wanted that only embryos have which do not live; ``gene`` is where its harm stands."""

    where: Where
    look: str
    gene: Place


@dataclass(frozen=True, slots=True)
class Unweighed:
    """A gene with a known harm is wanted or bred from, and the project has no note on it.

    ``gene`` is where the harm stands; ``animal`` is the parent that shows it, empty where it is wanted.
    """

    where: Where
    allele: str
    gene: Place
    animal: str = ""


@dataclass(frozen=True, slots=True)
class NotReached:
    """A project is called reached, and no animal of it is certain to be the goal; ``best`` comes nearest to it."""

    where: Where
    best: AnimalId | None
    chance: Fraction


Doubt = (
    TooYoung
    | Gone
    | Rushed
    | Overbooked
    | Unlisted
    | TooRelated
    | NotCarried
    | LookAlike
    | TooShort
    | AlwaysSeen
    | Lethal
    | Unweighed
    | NotReached
)
