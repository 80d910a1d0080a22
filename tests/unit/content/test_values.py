"""Months counted from one day to another."""

import calendar
import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.content.values import WrittenAge, whole_months

DAYS = st.dates(dt.date(1990, 1, 1), dt.date(2100, 1, 1))


@pytest.mark.parametrize(("first", "day", "months"), [
    ("2025-12-31", "2025-12-31", 0), ("2025-12-31", "2025-12-30", -1), ("2025-12-31", "2025-12-01", -1),
    ("2025-12-31", "2026-01-30", 0), ("2025-12-31", "2027-02-28", 13), ("2024-02-29", "2025-02-28", 11),
    ("2024-02-29", "2025-03-01", 12),
])  # fmt: skip
def test_months_are_whole_ones(first: str, day: str, months: int) -> None:
    assert whole_months(dt.date.fromisoformat(first), dt.date.fromisoformat(day)) == months


@pytest.mark.parametrize(("born", "months", "day"), [
    ("2025-01-31", 1, "2025-02-28"), ("2024-01-31", 1, "2024-02-29"), ("2025-01-31", 3, "2025-04-30"),
    ("2025-01-15", 18, "2026-07-15"), ("2024-02-29", 12, "2025-02-28"), ("2025-01-31", 100_000, "9999-12-31"),
])  # fmt: skip
def test_an_age_is_reached_on_the_last_day_of_a_month_that_is_too_short(born: str, months: int, day: str) -> None:
    assert WrittenAge(months=months).reached(dt.date.fromisoformat(born)) == dt.date.fromisoformat(day)


@given(DAYS, st.integers(0, 600))
def test_an_age_that_is_reached_is_so_many_whole_months(born: dt.date, months: int) -> None:
    day = WrittenAge(months=months).reached(born)
    short = day.day < born.day
    assert short == (born.day > calendar.monthrange(day.year, day.month)[1])
    assert whole_months(born, day) == months - short
    assert whole_months(born, day - dt.timedelta(days=1)) == months - 1
