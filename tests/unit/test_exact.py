from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.exact import common_denominator, parse_fraction, parse_stated_chance, written


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1/4", Fraction(1, 4)),
        (" 1 / 4 ", Fraction(1, 4)),
        ("0.25", Fraction(1, 4)),
        (".25", Fraction(1, 4)),
        ("25%", Fraction(1, 4)),
        ("12.5 %", Fraction(1, 8)),
        ("66%", Fraction(66, 100)),
        ("1", Fraction(1)),
        ("3/2", Fraction(3, 2)),
        ("1/0", None),
        ("-1/2", None),
        ("half", None),
        ("1e-3", None),
        ("", None),
    ],
)
def test_fractions_are_read_as_people_write_them(text: str, value: Fraction | None) -> None:
    assert value == parse_fraction(text)


def test_trade_roundings_of_thirds_are_thirds() -> None:
    # "66%" for 2/3 and "33%" for 1/3: common practice, no source.
    assert Fraction(2, 3) == parse_stated_chance("66%")
    assert Fraction(1, 3) == parse_stated_chance(" 33 % ")
    assert Fraction(67, 100) == parse_stated_chance("67%")
    assert Fraction(66, 100) == parse_stated_chance("0.66")


@given(st.fractions(min_value=0, max_value=1))
def test_what_is_written_reads_back_as_the_same_number(chance: Fraction) -> None:
    assert chance == parse_fraction(written(chance))


@given(st.lists(st.fractions(min_value=0, max_value=1, max_denominator=50), max_size=6))
def test_every_chance_is_whole_over_the_common_denominator(chances: list[Fraction]) -> None:
    assert all((chance * common_denominator(chances)).denominator == 1 for chance in chances)


@given(st.text(max_size=12))
def test_no_text_whatever_breaks_the_reader(text: str) -> None:
    value = parse_stated_chance(text)
    assert value is None or value >= 0
