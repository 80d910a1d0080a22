"""Collects findings while records are bound, so that one run tells all of them."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Generic, Protocol, TypedDict, TypeVar, Unpack

from sitegen.findings import Finding, Kind, Level, Place

T = TypeVar("T")
_LONGEST_MESSAGE = 300


@dataclass(frozen=True, slots=True)
class At(Generic[T]):
    """A value that was read, and where it stands."""

    value: T
    place: Place
    width: int = 0


class Placed(Protocol):
    """What stands somewhere in a record, so many characters wide (0 for several lines)."""

    @property
    def place(self) -> Place: ...  # noqa: D102 - said above

    @property
    def width(self) -> int: ...  # noqa: D102 - said above


def place_at(where: Placed | Place) -> Place:
    """The place alone."""
    return where if isinstance(where, Place) else where.place


class FindingHints(TypedDict, total=False):
    """What a finding may advise beside its message."""

    expected: str
    nearest: str
    remedy: str


class FindingDetails(FindingHints, total=False):
    """What a finding may say beside its message."""

    others: Sequence[Placed | Place]


@dataclass(slots=True)
class Report:
    """The findings so far, in the order in which they were met."""

    findings: list[Finding] = field(default_factory=list)

    def error(self, kind: Kind, where: Placed | Place, message: str, **said: Unpack[FindingDetails]) -> None:
        """Something that must be mended before anything is published."""
        self.tell(Level.ERROR, kind, where, message, **said)

    def notice(self, kind: Kind, where: Placed | Place, message: str, **said: Unpack[FindingDetails]) -> None:
        """Something to confirm or to know."""
        self.tell(Level.NOTICE, kind, where, message, **said)

    def tell(
        self,
        level: Level,
        kind: Kind,
        where: Placed | Place,
        message: str,
        *,
        others: Sequence[Placed | Place] = (),
        **said: Unpack[FindingHints],
    ) -> None:
        """A finding of either level; what a record holds may be long, a message may not."""
        width = 0 if isinstance(where, Place) else where.width
        if len(message) > _LONGEST_MESSAGE:
            message = f"{message[:_LONGEST_MESSAGE]} ..."
        places = tuple(place_at(each) for each in others)
        self.findings.append(Finding(level, kind, place_at(where), message, width=width, others=places, **said))

    def wrong(self, where: Placed | Place, message: str, expected: str, remedy: str, *, near: str = "") -> None:
        """A value that cannot stand where it stands."""
        self.error(Kind.VALUE_WRONG, where, message, expected=expected, nearest=near, remedy=remedy)

    def missing(self, where: Placed | Place, message: str, expected: str, remedy: str) -> None:
        """A key that a record cannot do without."""
        self.error(Kind.KEY_MISSING, where, message, expected=expected, remedy=remedy)

    def unknown(
        self, kind: Kind, where: Placed | Place, message: str, expected: str, near: str, otherwise: str
    ) -> None:
        """A name that nothing has; ``otherwise`` is what to do where no spelling is ``near`` to it."""
        remedy = f'write "{near}"' if near else otherwise
        self.error(kind, where, message, expected=expected, nearest=near, remedy=remedy)
