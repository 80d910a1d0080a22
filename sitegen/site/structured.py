"""JSON-LD: what a page is about, for machines. Nothing is offered in it that is not offered on the page."""

import json
from collections.abc import Sequence

from sitegen.content.animals import Animal
from sitegen.site.addresses import (
    AVAILABLE,
    COLLECTION,
    GENES,
    JOURNAL,
    LITTERS,
    PROJECTS,
    START,
    litter_address,
    relative,
)
from sitegen.site.material import Folio
from sitegen.words.labels import labels

Plain = dict[str, object]


def json_ld(nodes: Sequence[Plain]) -> str:
    """The nodes of a page as one JSON-LD text; empty for none. Source: JSON-LD 1.1, section 4.1 (``@graph``)."""
    if not nodes:
        return ""
    context: Plain = {"@context": "https://schema.org"}
    stated = {**context, **nodes[0]} if len(nodes) == 1 else {**context, "@graph": list(nodes)}
    return json.dumps(stated, ensure_ascii=False)


def public(address: str, folio: Folio) -> str:
    """An address of the site as a public one; the start page is the site's own address."""
    path, mark, fragment = address.partition("#")
    return folio.collection.site.address + ("" if path == START else relative("", path)) + mark + fragment


def breeder_name(folio: Folio) -> str:
    """The name of the breeder's node, by which others refer to it."""
    return public(f"{START}#breeder", folio)


def animal_node(animal: Animal, description: str, image: str, folio: Folio) -> Plain:
    """An animal, with the address of its picture: a product with its offer while and after it is offered, else a thing.

    Source:
        schema.org: ``Product`` > ``offers`` > ``Offer`` with ``availability`` as a full IRI, ``price`` and
        ``priceCurrency`` (ISO 4217). A price is told only while it is asked; an animal that cannot go yet has no
        availability, so that it is not taken to be in stock, but the day from which it can go where that is set.
    """
    offer, site = folio.offer(animal), folio.collection.site
    offered = offer is not None and offer.offered
    data: Plain = {"@type": "Product" if offered else "Thing", "name": folio.name(animal), "description": description}
    data["identifier"] = animal.id
    url = public(folio.address, folio) if site.address else ""
    if url:
        data["url"] = url
        data |= {"image": image} if image else {}
    if offer is not None and offered:
        terms: Plain = {"@type": "Offer"}
        if offer.availability:
            terms["availability"] = offer.availability
        if offer.price:
            terms |= {"price": str(offer.price.amount), "priceCurrency": offer.price.currency}
        if offer.ready and offer.ready.day:
            terms["availabilityStarts"] = str(offer.ready)
        if url:
            terms["url"] = url
        terms["seller"] = {"@type": "Organization", **({"@id": breeder_name(folio)} if url else {}), "name": site.name}
        data["category"] = folio.collection.species[animal.species].name
        data["offers"] = terms
    return data


def breeder_nodes(folio: Folio) -> tuple[Plain, ...]:
    """The breeder and the site, for the start page. Only what the page itself says of how to reach the breeder."""
    site = folio.collection.site
    if not site.address:
        return ()
    breeder: Plain = {"@type": "Organization", "@id": breeder_name(folio), "name": site.name, "url": site.address}
    if site.tagline:
        breeder["description"] = site.tagline
    if site.contact.email:
        breeder["email"] = site.contact.email
    if site.contact.phone:
        breeder["telephone"] = site.contact.phone
    if site.contact.place:
        breeder["address"] = {"@type": "PostalAddress", "addressLocality": site.contact.place}
    whole: Plain = {"@type": "WebSite", "@id": public(f"{START}#site", folio), "name": site.name, "url": site.address}
    whole |= {"inLanguage": site.language, "publisher": {"@id": breeder_name(folio)}}
    return breeder, whole


def trail(folio: Folio, title: str) -> tuple[tuple[str, str], ...]:
    """The way to a page from the start: names and addresses, the page itself last; empty for the start page."""
    word, parts = labels(), folio.address.split("/")
    if folio.address == START:
        return ()
    sections = {
        "animals": (word.collection, COLLECTION), "litters": (word.litters, LITTERS), "genes": (word.genes, GENES),
        "projects": (word.projects, PROJECTS), "available": (word.available, AVAILABLE),
        "journal": (word.journal, JOURNAL),
    }  # fmt: skip
    way = [(word.start, START)]
    if len(parts) > 1 and parts[0] in sections:
        way.append(sections[parts[0]])
        if parts[0] == "litters" and len(parts) > 2 and parts[1] in folio.collection.litters:
            way.append((folio.collection.litters[parts[1]].name, litter_address(parts[1])))
    return (*way, (title, folio.address))


def trail_nodes(folio: Folio, title: str) -> tuple[Plain, ...]:
    """The way to a page as a list of crumbs; nothing without a public address.

    Source:
        schema.org: ``BreadcrumbList`` > ``itemListElement`` > ``ListItem`` with ``position`` from 1, ``name`` and
        ``item``.
    """
    way = trail(folio, title) if folio.collection.site.address else ()
    crumbs = [
        {"@type": "ListItem", "position": rank, "name": name, "item": public(address, folio)}
        for rank, (name, address) in enumerate(way, 1)
    ]
    return ({"@type": "BreadcrumbList", "itemListElement": crumbs},) if crumbs else ()
