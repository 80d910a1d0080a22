"""What may be said of an offer: where it stands, since when, at what price, and from when it can go."""

import datetime as dt
from dataclasses import dataclass

from sitegen.content.animals import Animal, OfferState
from sitegen.content.site import ReadyRules
from sitegen.content.values import Money, PartialDate
from sitegen.evidence.readiness import Missing, missing
from sitegen.genetics.questions import AnimalId

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
        ready: The day from which it can go, when that day lies ahead; None when it does not.
        missing: What it lacks by the site's own rules before it can go; nothing for one that cannot be had.
        availability: IRI of schema.org, or empty for none: an animal that cannot go yet is not in stock.
    """

    animal: AnimalId
    state: OfferState
    since: PartialDate | None
    price: Money | None
    ready: PartialDate | None
    availability: str
    missing: tuple[Missing, ...] = ()

    @property
    def offered(self) -> bool:
        """True for an animal that is or was for sale."""
        return self.state is not OfferState.NOT_FOR_SALE


def standing(animal: Animal) -> OfferState | None:
    """Where an animal's offer stands; None when it was never offered, or has died without being sold."""
    offer = animal.offer
    if offer is None or (animal.died is not None and offer.state is not OfferState.SOLD):
        return None
    return offer.state


def offer_of(animal: Animal, as_of: dt.date, rules: ReadyRules | None = None) -> OfferClaim | None:
    """What may be said of an animal's offer on a day; None when it was never offered.

    An animal that has died is offered to nobody. One that lacks something by the site's rules is not ready, also
    when the day that was set for it is past; its state stays as recorded.
    """
    offer = animal.offer
    if offer is None or standing(animal) is None:
        return None
    asked = offer.state in (OfferState.AVAILABLE, OfferState.ON_HOLD)
    ahead = offer.ready is not None and offer.ready.earliest > as_of
    lacks = missing(animal, rules, as_of) if asked and rules else ()
    waits = offer.state is OfferState.AVAILABLE and (ahead or bool(lacks))
    return OfferClaim(
        animal=animal.id,
        state=offer.state,
        since=offer.since,
        price=offer.price if asked else None,
        ready=offer.ready if asked and ahead else None,
        availability="" if waits else AVAILABILITY[offer.state],
        missing=lacks,
    )
