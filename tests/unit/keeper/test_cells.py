from fractions import Fraction

import pytest

from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate
from sitegen.genetics.loci import Sex
from sitegen.keeper.cells import (
    Unread,
    read_day,
    read_price,
    read_sex,
    read_sires,
    read_state,
    read_weight,
    read_yes,
)

DAY = PartialDate(2021, 7, 14)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2021-07-14", DAY), ("2021/07/14", DAY), ("14.07.2021", DAY), ("07/14/2021", DAY), ("14 Jul 2021", DAY),
        ("July 14, 2021", DAY), ("14th July 2021", DAY), ("2021-07-14T00:00:00", DAY), ("2021-07-14 00:00:00", DAY),
        ("2021", PartialDate(2021)), ("2021-07", PartialDate(2021, 7)), ("07/2021", PartialDate(2021, 7)),
        ("Jul 2021", PartialDate(2021, 7)), ("CB21", PartialDate(2021)), ("cbb 2021", PartialDate(2021)),
        ("05/05/2021", PartialDate(2021, 5, 5)), ("?", None), ("", None), ("unknown", None),
    ],
)  # fmt: skip
def test_days(text: str, day: PartialDate | None) -> None:
    assert day == read_day(text)


@pytest.mark.parametrize(
    "text", ["soon", "2021-13-01", "30.02.2021", "21-07-14", "14 Foo 2021", "1 Jul 2 2021", "99999", "3021"]
)
def test_what_is_no_day(text: str) -> None:
    assert isinstance(read_day(text), Unread)


def test_a_day_that_can_be_read_in_two_ways_is_read_only_when_the_order_is_said() -> None:
    assert isinstance(read_day("05/07/2021"), Unread)
    assert PartialDate(2021, 7, 5) == read_day("05/07/2021", "day first")
    assert PartialDate(2021, 5, 7) == read_day("05/07/2021", "month first")


@pytest.mark.parametrize(
    ("text", "sex"),
    [
        ("F", Sex.FEMALE),
        ("0.1", Sex.FEMALE),
        ("1.0", Sex.MALE),
        ("male", Sex.MALE),
        ("?", Sex.UNKNOWN),
        ("0.0.1", Sex.UNKNOWN),
        ("m/f", Sex.UNKNOWN),
        ("“female”", Sex.FEMALE),
    ],
)
def test_sexes(text: str, sex: Sex) -> None:
    assert sex == read_sex(text)


@pytest.mark.parametrize("text", ["1", "2.1", "femal", "x"])
def test_what_is_no_sex(text: str) -> None:
    assert isinstance(read_sex(text), Unread)


def test_weights_need_their_unit() -> None:
    assert "310 g" == read_weight("310 g", in_grams=False)
    assert "310 g" == read_weight("310", in_grams=True)
    assert "1000 g" == read_weight("1 kg", in_grams=True)
    assert isinstance(read_weight("310", in_grams=False), Unread)
    assert isinstance(read_weight("heavy", in_grams=True), Unread)


def test_prices() -> None:
    assert "140" == read_price("140", "")
    assert "140 EUR" == read_price("140", "EUR")
    assert "140.50 GBP" == read_price("£140.50", "")
    assert "140.00 EUR" == read_price("€140,00", "")
    assert "140 USD" == read_price("$140", "USD")
    assert "140 $" == read_price("$140", "")
    assert isinstance(read_price("about 140", ""), Unread)
    assert isinstance(read_price("1,400", "EUR"), Unread)
    assert isinstance(read_price("-3", ""), Unread)


def test_states_and_yes() -> None:
    assert OfferState.ON_HOLD is read_state("Reserved")
    assert OfferState.NOT_FOR_SALE is read_state("not-for-sale")
    assert OfferState.AVAILABLE is read_state("for sale")
    assert isinstance(read_state("maybe"), Unread)
    assert (True, False) == (read_yes("Yes"), read_yes("n"))
    assert isinstance(read_yes("perhaps"), Unread)


def test_several_sires() -> None:
    assert (("Flint", None), ("Old Basalt", None)) == read_sires("Flint or Old Basalt")
    assert (("flint", Fraction(2, 3)), ("basalt", Fraction(1, 3))) == read_sires("flint 2/3 or basalt 1/3")
