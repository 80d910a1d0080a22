import datetime as dt
from decimal import Decimal

import pytest
from helpers.small_collections import NOWHERE, TODAY, animal_of

from sitegen.content.animals import Offer
from sitegen.content.prices import Money, OfferState
from sitegen.content.values import PartialDate
from sitegen.evidence.offers import AVAILABILITY, offer_of

PRICE = Money(Decimal(140), "EUR")


def claim_of(state: OfferState, **more):
    died = more.pop("died", None)
    return offer_of(animal_of("sage", offer=Offer(state=state, place=NOWHERE, price=PRICE, **more), died=died), TODAY)


def test_an_animal_that_was_never_offered_has_no_offer():
    assert offer_of(animal_of("sage"), TODAY) is None


@pytest.mark.parametrize(("state", "iri", "price"), [
    (OfferState.AVAILABLE, "https://schema.org/InStock", PRICE),
    (OfferState.ON_HOLD, "https://schema.org/Reserved", PRICE),
    (OfferState.SOLD, "https://schema.org/SoldOut", None),
    (OfferState.NOT_FOR_SALE, "", None),
])  # fmt: skip
def test_each_state_maps_to_the_open_vocabulary(state, iri, price):
    """Source: schema.org ItemAvailability, members InStock, Reserved, SoldOut."""
    offer = claim_of(state)
    assert offer is not None
    assert (iri, price) == (offer.availability, offer.price)
    assert iri == AVAILABILITY[state]


@pytest.mark.parametrize(("ready", "told"), [
    (PartialDate(2026, 10, 2), True), (PartialDate(2026, 10, 1), False), (PartialDate(2026, 11), True),
    (PartialDate(2026, 10), False)])  # fmt: skip
def test_a_day_of_leaving_is_told_while_it_lies_ahead(ready, told):
    assert dt.date(2026, 10, 1) == TODAY
    offer = claim_of(OfferState.AVAILABLE, ready=ready)
    assert offer is not None
    assert (ready if told else None) == offer.ready


def test_an_animal_that_died_is_offered_to_nobody_but_a_sold_one_stays_sold():
    assert claim_of(OfferState.AVAILABLE, died=PartialDate(2026, 9)) is None
    assert claim_of(OfferState.SOLD, died=PartialDate(2026, 9)) is not None


def test_what_was_never_for_sale_is_not_offered():
    offered = {state: claim.offered for state in OfferState if (claim := claim_of(state))}
    assert offered == {state: state is not OfferState.NOT_FOR_SALE for state in OfferState}
