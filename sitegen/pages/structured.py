"""JSON-LD: what an offered animal is to a machine. Nothing is offered in it that is not offered on the page."""

import json

from sitegen.pages.frame import absolute
from sitegen.pages.material import Folio
from sitegen.pages.parts import Picture
from sitegen.records.animals import Animal

Plain = dict[str, object]


def animal_data(animal: Animal, description: str, picture: Picture | None, url: str, folio: Folio) -> str:
    """An animal as JSON-LD text: a product with its offer while and after it is offered, else a thing.

    Source:
        schema.org: ``Product`` > ``offers`` > ``Offer`` with ``availability`` as a full IRI, ``price`` and
        ``priceCurrency`` (ISO 4217). A price is told only while it is asked; an animal that cannot go yet has no
        availability, so that it is not taken to be in stock.
    """
    offer = folio.offer(animal)
    offered = offer is not None and offer.offered
    data: Plain = {"@context": "https://schema.org", "@type": "Product" if offered else "Thing"}
    data |= {"name": folio.name(animal), "description": description, "identifier": animal.id}
    if folio.collection.site.address:
        data["url"] = url
        if picture:
            data["image"] = absolute(picture.src, folio)
    if offer is not None and offered:
        terms: Plain = {"@type": "Offer"}
        if offer.availability:
            terms["availability"] = offer.availability
        if offer.price:
            terms |= {"price": str(offer.price.amount), "priceCurrency": offer.price.currency}
        if folio.collection.site.address:
            terms["url"] = url
        terms["seller"] = {"@type": "Organization", "name": folio.collection.site.name}
        data["offers"] = terms
    return json.dumps(data, ensure_ascii=False)
