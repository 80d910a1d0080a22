"""What was made of single records, kept from one binding to the next.

A record is read with a few things that concern all records (which there are, who is whose young, the site): the
frame. While the frame is the same, what a record becomes depends on nothing but its own written form and what is named
with it. When the frame differs, everything is made anew.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from operator import is_
from typing import Any, TypeVar

from sitegen.findings import Finding
from sitegen.records.report import Report

T = TypeVar("T")


@dataclass(slots=True)
class Kept:
    """Things made of records, with what was wrong while they were made. One that is not asked for again is forgotten.

    Attributes:
        frame: What all of them were made with.
    """

    frame: object = None
    _before: dict[tuple[str, str], tuple[tuple[object, ...], object, Any, tuple[Finding, ...]]] = field(
        default_factory=dict
    )
    _now: dict[tuple[str, str], tuple[tuple[object, ...], object, Any, tuple[Finding, ...]]] = field(
        default_factory=dict
    )

    def begin(self) -> None:
        """A new binding begins."""
        self._before, self._now = self._now, {}

    def within(self, frame: object) -> None:
        """What is asked from now on is made with this frame; what was made with another one is forgotten."""
        if frame != self.frame:
            self.frame, self._before = frame, {}

    def of(
        self,
        what: str,
        key: str,
        reads: tuple[object, ...],
        make: Callable[[Report], T],
        report: Report,
        plain: object = None,
    ) -> T:
        """What ``make`` gives, or gave when it read the very same things; its findings are told in either case.

        Args:
            what: What kind of thing it is.
            key: Of which record.
            reads: All that ``make`` reads beside the frame: the very objects, not equal ones.
            make: Makes it, and tells what is wrong.
            report: Takes the findings.
            plain: What ``make`` reads besides and is compared by value.
        """
        name = what, key
        known = self._before.get(name)
        if known is None or len(known[0]) != len(reads) or not all(map(is_, known[0], reads)) or known[1] != plain:
            own = Report()
            known = (reads, plain, make(own), tuple(own.findings))
        self._now[name] = known
        if known[3]:
            report.findings += known[3]
        made: T = known[2]
        return made
