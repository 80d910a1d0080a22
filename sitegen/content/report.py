"""Collects findings while records are bound, so that one run tells all of them."""

from dataclasses import dataclass, field, replace
from typing import Generic, Protocol, TypeVar

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


@dataclass(slots=True)
class Report:
    """The findings so far, in the order in which they were met."""

    findings: list[Finding] = field(default_factory=list)

    def error(
        self,
        kind: Kind,
        where: Placed | Place,
        message: str,
        *,
        expected: str = "",
        nearest: str = "",
        remedy: str = "",
        others: tuple[Place, ...] = (),
    ) -> None:
        """Something that must be mended before anything is published."""
        place, width = _spot(where)
        self._add(Finding(Level.ERROR, kind, place, message, expected, nearest, remedy, width, others))

    def notice(
        self,
        kind: Kind,
        where: Placed | Place,
        message: str,
        *,
        expected: str = "",
        nearest: str = "",
        remedy: str = "",
        others: tuple[Place, ...] = (),
    ) -> None:
        """Something to confirm or to know."""
        place, width = _spot(where)
        self._add(Finding(Level.NOTICE, kind, place, message, expected, nearest, remedy, width, others))

    def _add(self, finding: Finding) -> None:
        """Keep it; what a record holds may be long, a message may not."""
        if len(finding.message) > _LONGEST_MESSAGE:
            finding = replace(finding, message=f"{finding.message[:_LONGEST_MESSAGE]} ...")
        self.findings.append(finding)


def _spot(where: Placed | Place) -> tuple[Place, int]:
    return (where, 0) if isinstance(where, Place) else (where.place, where.width)
