"""What stands around every page, and what a page says about itself to machines."""

import json
from collections.abc import Sequence

from sitegen.content.animals import Animal
from sitegen.content.projects import Project
from sitegen.site.addresses import (
    AVAILABLE,
    AVAILABLE_FEED,
    COLLECTION,
    DATA,
    GENES,
    JOURNAL,
    JOURNAL_FEED,
    LITTERS,
    ODDS,
    PROJECTS,
    SEARCH,
    START,
    free_address,
    litter_address,
    project_feed,
    relative,
)
from sitegen.site.material import Folio
from sitegen.site.parts import FeedLink, Frame, Head, NavItem, Picture, SocialCard
from sitegen.site.search import search_title
from sitegen.site.views import contact_fields
from sitegen.words.labels import drawings_text, evidence_text
from sitegen.words.speech import _


def availability_title(site: str) -> str:
    """The title of the feed of what is on offer."""
    return _("Available at {site}").format(site=site)


def journal_title(site: str) -> str:
    """The title of the feed of all dated notes."""
    return _("Journal of {site}").format(site=site)


def project_title(project: str, site: str) -> str:
    """The title of a project's feed."""
    return _("{project}, a project of {site}").format(project=project, site=site)


Plain = dict[str, object]
_LONGEST_DESCRIPTION = 300


def frame(folio: Folio) -> Frame:
    """The frame of one page; the section it belongs to is marked in the navigation."""
    site = folio.collection.site
    main, more = _navigation(folio)
    return Frame(
        site_name=site.name,
        tagline=site.tagline,
        language=site.language,
        home=folio.linker.to(START),
        nav=main,
        more=more,
        contact=contact_fields(site.contact),
        contact_note=site.contact.note,
        drawings=drawings_text(site.drawings),
        evidence=evidence_text(),
        method=folio.linker.to(ODDS),
        data=folio.linker.to(DATA),
        root=_root(folio),
        labels=folio.material.labels,
    )


def _navigation(folio: Folio) -> tuple[tuple[NavItem, ...], tuple[NavItem, ...]]:
    """What stands at the head of a page, and what at its foot."""

    def item(text: str, address: str) -> NavItem:
        return NavItem(text, folio.linker.to(address), folio.address == address)

    word, pages = folio.material.labels, sorted(folio.collection.pages.values(), key=lambda page: (page.order, page.id))
    own, odds = [item(page.title, free_address(page.id)) for page in pages], item(word.odds, ODDS)
    main = [item(word.available, AVAILABLE), item(word.collection, COLLECTION), item(word.litters, LITTERS)]
    if folio.collection.projects:
        main.append(item(word.projects, PROJECTS))
    main += [item(word.genes, GENES), odds, *own[:1], item(search_title(), SEARCH)]
    return tuple(main), (odds, item(word.journal, JOURNAL), *own)


def _root(folio: Folio) -> str:
    """What stands before an address below the site's root: ``../`` for each folder; empty on the top level."""
    return folio.linker.to("x").removesuffix("x")


def shortened(text: str) -> str:
    """The text on one line, cut at a word when it is long."""
    line = " ".join(text.split())
    if len(line) <= _LONGEST_DESCRIPTION:
        return line
    return line[:_LONGEST_DESCRIPTION].rsplit(" ", 1)[0].rstrip(",;:") + " …"


def full_title(title: str, folio: Folio) -> str:
    """The title of a page with the name of the site after it."""
    name = folio.collection.site.name
    return f"{title} · {name}" if title != name else title


def head(
    title: str, description: str, folio: Folio, picture: Picture | None = None, nodes: Sequence[Plain] = (), *,
    crumb: str = "", project: Project | None = None,
) -> Head:  # fmt: skip
    """What a page says about itself. Without a public address there is no canonical link, no card and no feed.

    ``nodes`` are what the page is about, as JSON-LD; ``crumb`` is a shorter title, for the way to the page.

    Source:
        ogp.me: title, type, image and url, as absolute addresses; ``og:image:alt`` with every image.
    """
    full, told = full_title(title, folio), shortened(description)
    if not folio.collection.site.address:
        return Head(full, told, structured=json_ld(nodes))
    url, kind = public(folio.address, folio), "website" if folio.address == START else "article"
    card = SocialCard(title, kind, url)
    if picture:
        src = absolute(picture.src, folio)
        card = SocialCard(title, kind, url, src, picture.alt, picture.src_width, picture.src_height)
    structured = json_ld([*nodes, *_trail_nodes(folio, crumb or title)])
    return Head(full, told, url, card, structured, feeds=feed_links(folio, project))


def absolute(link: str, folio: Folio) -> str:
    """A link of the page as an absolute address."""
    return folio.collection.site.address + link.removeprefix(_root(folio))


def fallback_description(folio: Folio) -> str:
    """What stands for a page that has no better description."""
    site = folio.collection.site
    return site.tagline or _("The animals of {name}.").format(name=site.name)


def feed_links(at: Folio, project: Project | None = None) -> tuple[FeedLink, ...]:
    """The feeds that go with a page: a project's own first, then the two of the site."""
    site = at.collection.site
    if not site.address:
        return ()
    to = at.linker.to
    links = [
        FeedLink(availability_title(site.name), to(AVAILABLE_FEED), _("Feed of what is available")),
        FeedLink(journal_title(site.name), to(JOURNAL_FEED), _("Feed of the journal")),
    ]
    if project:
        title = project_title(project.name, site.name)
        links.insert(0, FeedLink(title, to(project_feed(project.id)), _("Feed of this project")))
    return tuple(links)


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


def _trail(folio: Folio, title: str) -> list[tuple[str, str]]:
    """The way to a page from the start: names and addresses, the page itself last; empty for the start page."""
    word, parts = folio.material.labels, folio.address.split("/")
    if folio.address == START:
        return []
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
    return [*way, (title, folio.address)]


def _trail_nodes(folio: Folio, title: str) -> tuple[Plain, ...]:
    """The way to a page of a site with a public address, as a list of crumbs.

    Source:
        schema.org: ``BreadcrumbList`` > ``itemListElement`` > ``ListItem`` with ``position`` from 1, ``name`` and
        ``item``.
    """
    way = _trail(folio, title)
    crumbs = [
        {"@type": "ListItem", "position": rank, "name": name, "item": public(address, folio)}
        for rank, (name, address) in enumerate(way, 1)
    ]
    return ({"@type": "BreadcrumbList", "itemListElement": crumbs},) if crumbs else ()
