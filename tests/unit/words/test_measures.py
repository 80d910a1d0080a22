import datetime as dt
from decimal import Decimal

import pytest

from sitegen.content.values import Money, PartialDate
from sitegen.words.measures import Locales, age_text, date_text, money_text, months_text, weight_text, written_date


@pytest.mark.parametrize(("amount", "currency", "language", "text"), [
    ("140", "EUR", "en", "€140"), ("140.00", "GBP", "en-GB", "£140"), ("99.5", "USD", "en-US", "$99.50"),
    ("1200", "EUR", "de", "1.200\xa0€"), ("9000", "JPY", "en", "¥9,000"),
])  # fmt: skip
def test_money_by_currency_and_language(amount, currency, language, text):
    assert text == money_text(Money(Decimal(amount), currency), language)


@pytest.mark.parametrize(("date", "language", "text"), [
    (PartialDate(2026, 7, 18), "en-GB", "18 July 2026"), (PartialDate(2026, 7, 18), "en-US", "July 18, 2026"),
    (PartialDate(2026, 7), "en-GB", "July 2026"), (PartialDate(2026), "en-GB", "2026"),
    (PartialDate(2026, 7, 18), "de", "18. Juli 2026"),
])  # fmt: skip
def test_dates_are_told_as_far_as_they_are_known(date, language, text):
    assert text == date_text(date, language)


def test_an_unknown_language_is_told_in_english():
    assert "July 2026" == date_text(PartialDate(2026, 7), "xx-nowhere")


def test_a_date_inside_a_record_is_told_in_words_and_other_text_as_it_stands():
    assert "1 February 2024" == written_date("2024-02-01", Locales("en-GB"))
    assert "February 2024" == written_date("2024-02", Locales("en-GB"))
    assert "last spring" == written_date("last spring", Locales())


@pytest.mark.parametrize(("born", "day", "text"), [
    (PartialDate(2026, 7, 18), dt.date(2026, 7, 19), "1 day"),
    (PartialDate(2026, 7, 18), dt.date(2026, 8, 18), "4 weeks"),
    (PartialDate(2026, 7, 18), dt.date(2026, 10, 16), "12 weeks"),
    (PartialDate(2026, 7, 18), dt.date(2026, 10, 18), "3 months"),
    (PartialDate(2024, 7, 18), dt.date(2026, 7, 17), "23 months"),
    (PartialDate(2024, 7, 18), dt.date(2026, 7, 18), "2 years"),
    (PartialDate(2021), dt.date(2026, 1, 1), "about 5 years"),
    (PartialDate(2026), dt.date(2026, 5, 1), "under a year"),
    (PartialDate(2026, 5), dt.date(2026, 5, 3), "under a month"),
    (PartialDate(2026, 3), dt.date(2026, 5, 3), "about 2 months"),
    (PartialDate(2027), dt.date(2026, 5, 1), ""),
])  # fmt: skip
def test_ages_in_words(born, day, text):
    assert text == age_text(born, day)


def test_months_up_to_two_years_then_years_where_they_come_out_even():
    assert ["1 month", "18 months", "2 years", "30 months", "3 years"] == [months_text(n) for n in (1, 18, 24, 30, 36)]


def test_weights_in_grams_or_ounces():
    assert ["402 g", "1,250 g"] == [weight_text(402), weight_text(1250)]
    assert ["14.2 oz", "1.0 oz"] == [weight_text(402, "imperial"), weight_text(28, "imperial")]
    assert "1.250 g" == weight_text(1250, language="de")
