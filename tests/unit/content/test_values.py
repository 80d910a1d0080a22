"""Single values: how they are written, and months counted from one day to another."""

import calendar
import datetime as dt
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.content import prices, values
from sitegen.content.report import Report
from sitegen.content.values import PartialDate, WrittenAge, whole_months
from sitegen.content.yaml_tree import Scalar
from sitegen.findings import Place

DAYS = st.dates(dt.date(1990, 1, 1), dt.date(2100, 1, 1))


def scalar(text: str) -> Scalar:
    return Scalar(text, Place("r.yaml", 1, 1), len(text))


@pytest.mark.parametrize(
    ("text", "date"),
    [
        ("2021-07-14", PartialDate(2021, 7, 14)),
        ("2021-7-4", PartialDate(2021, 7, 4)),
        ("2021-07", PartialDate(2021, 7)),
        ("2021", PartialDate(2021)),
        ("2024-02-29", PartialDate(2024, 2, 29)),
        ("2023-02-29", None),
        ("2021-13", None),
        ("2021-00", None),
        ("0000", None),
        ("21-07-14", None),
        ("14.07.2021", None),
    ],
)
def test_dates(text: str, date: PartialDate | None) -> None:
    assert values.parse_date(text) == date


@pytest.mark.parametrize(
    ("text", "near"), [("14.07.2021", "2021-07-14"), ("07/14/2021", "2021-07-14"), ("07/08/2021", ""), ("soon", "")]
)
def test_a_date_turned_round_is_suggested_only_when_it_can_mean_one_day(text: str, near: str) -> None:
    report = Report()
    assert values.read_date(scalar(text), report) is None
    assert [finding.nearest for finding in report.findings] == [near]


def test_an_unknown_date_is_no_fault() -> None:
    report = Report()
    assert values.read_date(scalar("unknown"), report) is None
    assert report.findings == []


@pytest.mark.parametrize(
    ("text", "months"),
    [
        ("18 months", 18),
        ("1 month", 1),
        ("2 years", 24),
        ("1.5 years", 18),
        ("600 days", 20),
        ("1 day", 1),
        ("52 weeks", 12),
    ],
)
def test_ages_are_rounded_up_to_whole_months(text: str, months: int) -> None:
    assert values.read_months(scalar(text), Report()) == months


@pytest.mark.parametrize(
    ("text", "exact"),
    [
        ("310 g", Fraction(310)),
        ("310g", Fraction(310)),
        ("0.31 kg", Fraction(310)),
        ("0,31 kg", Fraction(310)),
        ("11 oz", 11 * Fraction("28.349523125")),
        ("1 lb", Fraction("453.59237")),
        ("9 lb 4 oz", 148 * Fraction("28.349523125")),
        ("9lb4oz", 148 * Fraction("28.349523125")),
        ("9 lbs, 4.5 oz", Fraction("148.5") * Fraction("28.349523125")),
        ("1 kg 402 g", Fraction(1402)),
        ("0,402 kg", Fraction(402)),
        ("1,402 kg", Fraction(1402)),
        ("402G", Fraction(402)),
    ],
)
def test_weights_are_rounded_once_from_the_exact_value(text: str, exact: Fraction) -> None:
    assert values.read_grams(scalar(text), Report()) == round(exact)


@pytest.mark.parametrize(
    ("read", "text"),
    [
        (values.read_months, "18"),
        (values.read_months, "old"),
        (values.read_grams, "310"),
        (values.read_grams, "1/0 g"),
        (values.read_grams, "-3 g"),
        (values.read_whole, "-1"),
        (values.read_whole, "1.5"),
        (values.read_whole, "٣"),
        (values.read_yes, "maybe"),
        (values.read_chance, "3/2"),
        (values.read_chance, "1/0"),
        (values.read_half, "60%"),
        (prices.read_amount, "about 140"),
        (prices.read_amount, "1,400"),
        (prices.read_amount, "-1,400 EUR"),
        (prices.read_amount, "1.2.3"),
        (values.read_grams, "1,402 g"),
        (values.read_grams, "1.402 oz"),
        (values.read_grams, "9 oz 4 lb"),
        (values.read_grams, "9 lb 20 oz"),
        (prices.read_amount, "EUR 140 EUR"),
    ],
)
def test_what_cannot_be_read_is_one_finding_with_what_was_expected(read: object, text: str) -> None:
    report = Report()
    assert callable(read)
    assert read(scalar(text), report) is None
    assert [bool(finding.expected) for finding in report.findings] == [True]


@pytest.mark.parametrize(
    ("text", "amount", "unit"),
    [
        ("140", "140", ""), ("140 €", "140", "EUR"), ("€140,00", "140.00", "EUR"), ("$140", "140", "$"),
        ("140 euros", "140", "EUR"), ("£ 99.50", "99.50", "GBP"), ("1.400,00 €", "1400.00", "EUR"),
        ("1,400.00 usd", "1400.00", "usd"), ("1 400,50 EUR", "1400.50", "EUR"), ("1'400.- CHF", "1400", "CHF"),
        ("1.400.000", "1400000", ""), ("140,- €", "140", "EUR"), ("EUR 140", "140", "EUR"),
        ("1.400 KWD", "1.400", "KWD"),
    ],
)  # fmt: skip
def test_prices_as_people_write_them(text: str, amount: str, unit: str) -> None:
    report = Report()
    assert prices.read_amount(scalar(text), report) == (Decimal(amount), unit)
    assert report.findings == []


@pytest.mark.parametrize(
    "read", [values.read_months, values.read_grams, prices.read_amount, values.read_chance, values.read_month]
)
@pytest.mark.parametrize("text", ["8", "402", "0", "1,400", "8 mo", "9 monkeys", "€", "about 5", "Mai", "1/1/1"])
def test_no_other_number_and_no_unit_is_ever_offered(read: Callable[[Scalar, Report], object], text: str) -> None:
    report = Report()
    read(scalar(text), report)
    near = [finding.nearest for finding in report.findings if finding.nearest]
    assert near in ([], ["8%"], ["5%"]) or read is values.read_chance, near


def test_a_slip_in_a_unit_keeps_the_number() -> None:
    report = Report()
    assert values.read_months(scalar("8 moths"), report) is None
    assert report.findings[0].nearest == "8 months"


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
