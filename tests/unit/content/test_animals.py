"""Animals with a folder of their own."""

from decimal import Decimal
from fractions import Fraction

import pytest
from helpers.from_text import CORN, LITTER, PAIR, PROMOTED, bound

from sitegen.content.prices import Money, OfferState
from sitegen.genetics.loci import Sex


def test_only_the_species_of_an_animal_is_required() -> None:
    animal = bound(CORN + "=== animals/a/animal.yaml\nspecies: corn-snake\n").animals["a"]
    assert (animal.name, animal.sex, animal.born, animal.dam, animal.sires) == ("a", Sex.UNKNOWN, None, None, ())


def test_weights_and_money_are_read_exactly() -> None:
    tansy = bound(CORN + PAIR + LITTER + PROMOTED).animals["tansy"]
    assert [weighing.grams for weighing in tansy.weights] == [round(11 * Fraction("28.349523125"))]
    assert tansy.offer is not None
    assert tansy.offer.price == Money(Decimal("99.50"), "USD")


@pytest.mark.parametrize(
    ("lines", "grams"),
    [("weights: {2024-05-01: 0,402 kg}", 402), ("weights: {2024-05-01: 9 lb 4 oz, 2023: 402g}", 402)],
)
def test_weights_with_commas_and_two_units(lines: str, grams: int) -> None:
    animal = bound(CORN + f"=== animals/a/animal.yaml\nspecies: corn-snake\n{lines}\n").animals["a"]
    assert animal.weights[0].grams == grams


@pytest.mark.parametrize(
    ("lines", "sex", "state"),
    [
        ("sex: F\noffer: {state: for sale, price: 5 EUR}", Sex.FEMALE, OfferState.AVAILABLE),
        ("sex: M\noffer: {state: reserved, price: 5 EUR}", Sex.MALE, OfferState.ON_HOLD),
        ("sex: m/f\noffer: {state: “not for sale”}", Sex.UNKNOWN, OfferState.NOT_FOR_SALE),
        ("sex: 0.1\noffer: {state: nfs}", Sex.FEMALE, OfferState.NOT_FOR_SALE),
    ],
)
def test_sexes_and_states_in_the_words_of_the_trade(lines: str, sex: Sex, state: OfferState) -> None:
    animal = bound(CORN + f"=== animals/a/animal.yaml\nspecies: corn-snake\n{lines}\n").animals["a"]
    assert animal.offer is not None
    assert (animal.sex, animal.offer.state) == (sex, state)
