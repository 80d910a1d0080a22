"""Models of what pairings at one gene give, for the page of a gene."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GivenView:
    """Of 100 young so many: the count, the exact fraction where the count is rounded, and what they have and show."""

    count: str
    exact: str
    what: str


@dataclass(frozen=True, slots=True)
class GivenGroup:
    """What the young of one sex are, or all of them; ``heading`` is empty where sex makes no difference."""

    heading: str
    given: tuple[GivenView, ...]


@dataclass(frozen=True, slots=True)
class PairingRow:
    """One pairing: the parents, what they give, and a note."""

    parents: str
    groups: tuple[GivenGroup, ...]
    note: str


@dataclass(frozen=True, slots=True)
class PairingTable:
    """Pairings with one gene in play; ``title`` is empty where there is one table only."""

    title: str
    rows: tuple[PairingRow, ...]
