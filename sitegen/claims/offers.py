"""What may be said of an offer: where it stands, since when, at what price, and from when it can go."""

import datetime as dt
from dataclasses import dataclass

from sitegen.genetics.questions import AnimalId
from sitegen.records.animals import Animal, OfferState
from sitegen.records.values import Money, PartialDate

AVAILABILITY = {
    OfferState.AVAILABLE: "https://schema.org/InStock",
    OfferState.ON_HOLD: "https://schema.org/Reserved",
    OfferState.SOLD: "https://schema.org/SoldOut",
    OfferState.NOT_FOR_SALE: "",
}
"""State of an offer to the member of schema.org ItemAvailability; empty: no offer is published at all."""


@dataclass(frozen=True, slots=True)
class OfferClaim:
    """What is said of one offer.

    Attributes:
        animal: Who is offered.
        state: Where the offer stands.
        since: From when it stands there; None when not recorded.
        price: What is asked; None when not stated. A sold animal has none: the price is no longer asked.
        ready: The day from which it can go, when that day lies ahead; None when it can go now.
        availability: IRI of schema.org, or empty for none.
    """

    animal: AnimalId
    state: OfferState
    since: PartialDate | None
    price: Money | None
    ready: PartialDate | None
    availability: str


def offer_of(animal: Animal, as_of: dt.date) -> OfferClaim | None:
    """What may be said of an animal's offer on a day; None when it was never offered.

    An animal that has died is offered to nobody.
    """
    offer = animal.offer
    if offer is None or (animal.died is not None and offer.state is not OfferState.SOLD):
        return None
    asked = offer.state in (OfferState.AVAILABLE, OfferState.ON_HOLD)
    ahead = offer.ready is not None and offer.ready.earliest > as_of
    return OfferClaim(
        animal=animal.id,
        state=offer.state,
        since=offer.since,
        price=offer.price if asked else None,
        ready=offer.ready if asked and ahead else None,
        availability=AVAILABILITY[offer.state],
    )
