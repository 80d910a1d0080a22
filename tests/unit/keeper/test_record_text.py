"""Every name that a record may hold has its usual place."""

from sitegen.content import animals, litters, prices
from sitegen.keeper.record_text import ANIMAL, LITTER, OFFER


def test_every_name_of_a_record_has_its_usual_place() -> None:
    assert sorted(ANIMAL) == sorted({*animals.ANIMAL.names, *animals.YOUNG.names})
    assert sorted(LITTER) == sorted(litters.LITTER.names)
    assert sorted(OFFER) == sorted(prices.OFFER.names)
