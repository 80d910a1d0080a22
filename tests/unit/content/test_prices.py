"""Prices and their currencies."""

from decimal import Decimal

import pytest
from helpers.from_text import CORN, bound, told

from sitegen.content.prices import Money, OfferState


def test_the_currency_of_the_site_stands_for_prices_without_one() -> None:
    text = "=== site.yaml\ncurrency: gbp\n=== animals/a/animal.yaml\nspecies: corn-snake\noffer: {price: 65}\n"
    offer = bound(CORN + text).animals["a"].offer
    assert offer is not None
    assert str(offer.price and offer.price.currency) == "GBP"
    assert offer.state is OfferState.AVAILABLE


@pytest.mark.parametrize(
    ("site", "price", "money"),
    [
        ("currency: CAD", "$140", ("140", "CAD")),
        ("currency: EUR", "$140", ("140", "USD")),
        ("name: Mine", "$140", ("140", "USD")),
        ("currency: GBP", "140,00 €", ("140.00", "EUR")),
        ("currency: €", "1.400,00", ("1400.00", "EUR")),
        ("currency: EUR", "{amount: €140, currency: EUR}", ("140", "EUR")),
    ],
)
def test_prices_with_signs(site: str, price: str, money: tuple[str, str]) -> None:
    text = f"=== site.yaml\n{site}\n=== animals/a/animal.yaml\nspecies: corn-snake\noffer: {{price: {price}}}\n"
    offer = bound(CORN + text).animals["a"].offer
    assert offer is not None
    assert offer.price == Money(Decimal(money[0]), money[1])


def test_two_currencies_in_one_price_are_told() -> None:
    text = "=== animals/a/animal.yaml\nspecies: corn-snake\noffer: {price: {amount: €140, currency: GBP}}\n"
    assert [f.message for f in told(CORN + text)] == ["the amount is in EUR, and the currency is GBP"]
