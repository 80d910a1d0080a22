import doctest
from fractions import Fraction

import pytest
from helpers.small_collections import dominant, recessive

from sitegen.words import measures, numbers
from sitegen.words.numbers import (
    Edge,
    about_in_100,
    both_sides,
    decimal_text,
    in_100,
    simple_fraction,
    small_number,
    trade_percent,
    trade_shorthand,
)


@pytest.mark.parametrize("module", [numbers, measures])
def test_the_examples_in_the_docstrings_hold(module):
    outcome = doctest.testmod(module)
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
    assert ["3.5", "4", "0.3", "0.1"] == [decimal_text(Fraction(*pair)) for pair in ((7, 2), (4, 1), (1, 4), (1, 20))]
