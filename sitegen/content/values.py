"""Small values that records are made of: dates that may be partial, ages, weights, money."""

import calendar
import datetime as dt
from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True, order=True)
class PartialDate:
    """A date of which only the year, or only year and month, may be known. A month or day of 0 is not known."""

    year: int
    month: int = 0
    day: int = 0

    @property
    def earliest(self) -> dt.date:
        """The first day it can mean."""
        return dt.date(self.year, self.month or 1, self.day or 1)

    @property
    def latest(self) -> dt.date:
        """The last day it can mean."""
        month = self.month or 12
        return dt.date(self.year, month, self.day or calendar.monthrange(self.year, month)[1])

    def __str__(self) -> str:
        parts = [f"{self.year:04d}"]
        parts += [f"{self.month:02d}"] if self.month else []
        parts += [f"{self.day:02d}"] if self.day else []
        return "-".join(parts)


def whole_months(first: dt.date, day: dt.date) -> int:
    """Whole months from one day to another; negative when the other is the earlier one."""
    return (day.year - first.year) * 12 + day.month - first.month - (day.day < first.day)


@dataclass(frozen=True, slots=True)
class WrittenAge:
    """An age as it was written: whole months, or whole days."""

    months: int = 0
    days: int = 0

    def reached(self, born: dt.date) -> dt.date:
        """The day on which one born on a day reaches the age; the last day of a month that is too short."""
        total = born.year * 12 + born.month - 1 + self.months
        year, month = divmod(total, 12)
        if year > dt.MAXYEAR:
            return dt.date.max
        last = calendar.monthrange(year, month + 1)[1]
        return dt.date(year, month + 1, min(born.day, last)) + dt.timedelta(days=self.days)


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in a currency (ISO 4217 code)."""

    amount: Decimal
    currency: str


@dataclass(frozen=True, slots=True)
class Weighing:
    """A weight in grams on a day."""

    date: PartialDate
    grams: int
