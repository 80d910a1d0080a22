"""Days from one event of a breeding year to the next, as a species file has them.

Of egg layers the events before the laying are counted to the laying, and the laying to the hatching; of animals that
bear live young each is counted to the birth.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from enum import StrEnum

from sitegen.content.declaration import Written, group_of, keyed
from sitegen.content.report import Report
from sitegen.content.values import TEXT, WHOLE, above_zero


class Start(StrEnum):
    """From what days are counted, in the order in which it comes."""

    PAIRED = "paired"
    COPULATION = "copulation"
    OVULATED = "ovulated"
    SHED = "shed"
    LAID = "laid"


@dataclass(frozen=True, slots=True)
class Interval:
    """Days from an event to what follows.

    Litters of a keeper spread around a mean of this keeper's own; how far off that mean may be from ``usual`` is told
    by ``worth``.
    """

    usual: int = keyed(WHOLE, "The usual number of days.", needed=True)
    spread: int = keyed(WHOLE, "How far litters lie from it: two of three lie within so many days.", needed=True)
    worth: int = keyed(WHOLE, "As how many of your own litters it counts; 1 when left out.", usual=1)
    source: str = keyed(TEXT, "Where it comes from: author and year, or common practice, no source.")

    @property
    def possible(self) -> range:
        """Days that nobody needs to ask about: within four spreads of a litter of which nothing else is known."""
        off = round(4 * self.spread * (1 + 1 / self.worth) ** 0.5)
        return range(max(1, self.usual - off), self.usual + off + 1)


INTERVAL = group_of(Interval, "an interval")


@dataclass(frozen=True, slots=True)
class DaysFrom:
    """Days from an event to the laying, or to the birth of live young; from the laying to the hatching."""

    paired: Interval | None = keyed(INTERVAL, "From the pairing.", usual=None)
    copulation: Interval | None = keyed(
        INTERVAL, "From the last copulation seen; as from the pairing when left out.", usual=None
    )
    ovulated: Interval | None = keyed(INTERVAL, "From the ovulation.", usual=None)
    shed: Interval | None = keyed(INTERVAL, "From the shed before the laying, or after the ovulation.", usual=None)
    laid: Interval | None = keyed(INTERVAL, "From the laying to the hatching.", usual=None)


DAYS_FROM = group_of(DaysFrom, "days_from")


def bind_intervals(form: Written | None, report: Report) -> Mapping[Start, Interval]:
    """The intervals that a species file writes; a spread or worth of nothing is told and taken as 1."""
    found = {}
    for one in fields(DaysFrom):
        written = form.values[one.name] if form else None
        if written is None:
            continue
        counted = {
            name: above_zero(
                getattr(written, name), 1, report, f"a {name} of nothing is more than anybody can know", "1 or more",
                "write what is known of it, or leave the interval out",
            )
            for name in ("spread", "worth")
        }  # fmt: skip
        found[Start(one.name)] = written.record(Interval, **counted)
    return {Start.COPULATION: found[Start.PAIRED], **found} if Start.PAIRED in found else found
