import datetime as dt
import doctest
from decimal import Decimal
from fractions import Fraction

import pytest
from helpers.small_collections import dominant, recessive

from sitegen.content.prices import Money
from sitegen.content.values import PartialDate
from sitegen.words import numbers
from sitegen.words.numbers import (
    Edge,
    about_in_100,
    age_text,
    average_text,
    both_sides,
    date_text,
    in_100,
    money_text,
    months_text,
    simple_fraction,
    small_number,
    trade_percent,
    trade_shorthand,
    weight_text,
    written_date,
)


def test_the_examples_in_the_docstrings_hold():
    outcome = doctest.testmod(numbers)
    assert outcome.attempted > 0
    assert outcome.failed == 0


@pytest.mark.parametrize(("chance", "count"), [
    (Fraction(2, 3), 67), (Fraction(1, 3), 33), (Fraction(1, 2), 50), (Fraction(1, 8), 13), (Fraction(7, 8), 88),
    (Fraction(1, 200) * 3, 2), (Fraction(1, 100), 1), (Fraction(99, 100), 99), (Fraction(0), 0), (Fraction(1), 100),
    (Fraction(1, 101), Edge.FEWER_THAN_1), (Fraction(100, 101), Edge.MORE_THAN_99),
    (Fraction(1, 2**750 + 1), Edge.FEWER_THAN_1), (1 - Fraction(1, 2**750 + 1), Edge.MORE_THAN_99),
])  # fmt: skip
def test_how_many_of_100(chance, count):
    assert count == about_in_100(chance)


@pytest.mark.parametrize("chance", [Fraction(-1, 2), Fraction(3, 2)])
def test_what_is_no_chance_is_our_own_mistake(chance):
    with pytest.raises(ValueError, match="not a chance"):
        about_in_100(chance)


def test_an_eighth_is_rounded_half_up_and_the_other_side_fills_the_hundred():
    assert (13, 87) == both_sides(Fraction(1, 8))


def test_both_sides_of_an_edge_are_edges():
    assert (Edge.FEWER_THAN_1, Edge.MORE_THAN_99) == both_sides(Fraction(1, 129))
    assert (Edge.MORE_THAN_99, Edge.FEWER_THAN_1) == both_sides(Fraction(128, 129))


def test_the_words_name_one_denominator():
    assert "about 67 in 100" == in_100(Fraction(2, 3))
    assert "about 50 in 100" == in_100(Fraction(1, 2))
    assert "fewer than 1 in 100" == in_100(Fraction(1, 129))


@pytest.mark.parametrize(("chance", "text"), [
    (Fraction(2, 3), "2/3"), (Fraction(63, 64), "63/64"), (Fraction(27, 91), ""), (Fraction(1, 129), "1/129"),
    (Fraction(128, 129), "128/129"), (Fraction(1, 1001), ""), (Fraction(1), ""), (Fraction(0), ""),
    (Fraction(1, 65), ""),
])  # fmt: skip
def test_a_fraction_is_written_when_it_is_simple(chance, text):
    assert text == simple_fraction(chance)


@pytest.mark.parametrize(("chance", "text"), [
    (Fraction(2, 3), "66%"), (Fraction(1, 3), "33%"), (Fraction(1, 2), "50%"), (Fraction(4, 7), ""),
    (Fraction(13, 25), ""), (Fraction(1, 4), ""), (Fraction(1, 1000), ""), (Fraction(999, 1000), ""),
])  # fmt: skip
def test_the_trade_has_a_word_for_three_chances_alone(chance, text):
    assert text == trade_percent(chance)


def test_shorthand_is_for_hidden_recessives_alone():
    assert "66% het" == trade_shorthand(Fraction(2, 3), recessive("hypo"))
    assert "het" == trade_shorthand(Fraction(1), recessive("hypo"))
    assert "" == trade_shorthand(Fraction(2, 3), dominant("tessera"))


def test_counts_in_words_and_figures():
    assert ["one", "twelve", "13"] == [small_number(count) for count in (1, 12, 13)]
    assert ["3.5", "4", "0.3", "0.1"] == [average_text(Fraction(*pair)) for pair in ((7, 2), (4, 1), (1, 4), (1, 20))]


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
    assert "1 February 2024" == written_date("2024-02-01", "en-GB")
    assert "February 2024" == written_date("2024-02", "en-GB")
    assert "last spring" == written_date("last spring", "en")


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
