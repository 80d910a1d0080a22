"""On which days the events of a litter were from which days are counted, and what followed each."""

import datetime as dt
from collections.abc import Mapping

from sitegen.content.intervals import Start
from sitegen.content.litters import Litter
from sitegen.content.species import Births, Species
from sitegen.content.values import PartialDate


def starts_of(litter: Litter) -> Mapping[Start, dt.date]:
    """The events of a litter whose day is known, in their order."""
    dated = {Start.PAIRED: litter.paired, Start.LAID: litter.laid}
    return {start: day for start in Start if (day := known_day(dated.get(start)))}


def known_day(date: PartialDate | None) -> dt.date | None:
    """The day of a date; None where only its month or year is known."""
    return date.earliest if date and date.day else None


def what_follows(start: Start, litter: Litter, species: Species) -> PartialDate | None:
    """To what days from an event are counted: the laying of eggs, else the birth."""
    return litter.laid if species.births is Births.EGGS and start is not Start.LAID else litter.born
