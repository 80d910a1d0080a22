"""How single values are written."""

from fractions import Fraction

import pytest

from sitegen.findings import Place
from sitegen.reading.yaml_tree import Scalar
from sitegen.records.report import Report
from sitegen.records.values import PartialDate
from sitegen.records.written import values


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
        (values.read_amount, "140 €"),
        (values.read_amount, "EUR 140 EUR"),
    ],
)
def test_what_cannot_be_read_is_one_finding_with_what_was_expected(read: object, text: str) -> None:
    report = Report()
    assert callable(read)
    assert read(scalar(text), report) is None
    assert [bool(finding.expected) for finding in report.findings] == [True]
