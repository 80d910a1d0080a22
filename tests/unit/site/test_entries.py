"""What lists can be narrowed by."""

from helpers.small_site import small_material

from sitegen.content.animals import Animal
from sitegen.site.entries import sieve_of, sieve_values
from sitegen.site.material import folio

PAGE = folio(small_material(), "collection.html")
ANIMALS = tuple(PAGE.collection.animals.values())


def facts_of(animal: Animal) -> dict[str, str]:
    return dict(sieve_values(animal, PAGE))


def test_chances_are_exact_and_genes_go_by_name() -> None:
    facts = facts_of(PAGE.collection.animals["juniper"])
    assert facts["shows"] == "amelanistic"
    assert facts["carries"] == "amelanistic:1 hypo:2/3"
    assert (facts["sex"], facts["born"], facts["state"], facts["price"]) == ("female", "2021-07-14", "", "")


def test_an_offer_has_its_state_and_price() -> None:
    facts = facts_of(PAGE.collection.animals["2026-x/01"])
    assert (facts["state"], facts["price"]) == ("available", "140")


def test_every_choice_is_found_in_some_animal() -> None:
    sieve = sieve_of(ANIMALS, PAGE, offers=True)
    assert sieve is not None
    facts = [facts_of(animal) for animal in ANIMALS]
    assert {choice.value for choice in sieve.shows} == {word for f in facts for word in f["shows"].split()}
    assert {c.value for c in sieve.carries} == {word.split(":")[0] for f in facts for word in f["carries"].split()}
    assert {choice.value for choice in sieve.sexes} == {f["sex"] for f in facts}
    assert {choice.value for choice in sieve.states} == {f["state"] for f in facts if f["state"]}


def test_a_short_list_has_no_sieve_and_price_is_for_offers() -> None:
    assert sieve_of(ANIMALS[:3], PAGE, offers=True) is None
    collection = sieve_of(ANIMALS, PAGE, offers=False)
    assert collection is not None
    assert collection.states == ()
    assert "price" not in [choice.value for choice in collection.orders]


def test_what_a_sold_animal_cost_is_not_told() -> None:
    sold = PAGE.collection.animals["2026-x/04"]
    assert sold.offer is not None
    assert sold.offer.price is not None
    facts = facts_of(sold)
    assert (facts["state"], facts["price"]) == ("sold", "")
