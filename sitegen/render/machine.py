"""What machines read: the site map, robots.txt, feeds, JSON-LD blocks, and the published facts with their schemas."""

import json
from collections.abc import Callable, Mapping, Sequence
from functools import partial

from markupsafe import Markup

from sitegen.content.animals import Animal
from sitegen.render.feeds import atom
from sitegen.render.links import PageNote
from sitegen.render.xml_text import escape
from sitegen.site.addresses import DATA, DATA_SCHEMA, PAPER_SCHEMA, ROBOTS, SITEMAP, START, relative
from sitegen.site.facts import facts_schema, published_facts
from sitegen.site.feeds import Feed, every_feed
from sitegen.site.material import Folio, Material, folio
from sitegen.site.paper import data_address
from sitegen.site.paper_facts import paper_facts, paper_schema
from sitegen.site.parts import Page
from sitegen.site.views import worded

MOST_ADDRESSES = 50_000
"""Entries of one site map. Source: sitemaps.org protocol."""
LONGEST_ADDRESS = 2_048
"""Characters of one ``loc``. Source: sitemaps.org protocol."""


def data_block(text: str) -> Markup:
    """JSON text for inside a ``<script type="application/ld+json">``: no character that could end it is left bare."""
    safe = text.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e")
    return Markup(safe.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029"))  # noqa: S704 - escaped just now


def sitemap(pages: Sequence[Page | PageNote], address: str) -> bytes:
    """The site map of a site with a public address.

    Source:
        sitemaps.org protocol: ``urlset`` > ``url`` > ``loc``, entity-escaped UTF-8; ``lastmod`` is the page's own
        date, so it is left out when that is not known. An address is the canonical one of its page.
    """
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">']
    for page in [page for page in pages if page.listed][:MOST_ADDRESSES]:
        location = address + (relative("", page.address) if page.address != START else "")
        if len(location) >= LONGEST_ADDRESS:
            continue
        changed = f"<lastmod>{page.changed}</lastmod>" if page.changed else ""
        lines.append(f"  <url><loc>{escape(location)}</loc>{changed}</url>")
    return ("\n".join([*lines, "</urlset>"]) + "\n").encode("utf-8")


def robots(address: str) -> bytes:
    """Everyone may read everything; names the site map when there is one."""
    text = "User-agent: *\nAllow: /\n"
    return (text + (f"\nSitemap: {address}{SITEMAP}\n" if address else "")).encode("utf-8")


def machine_files(
    material: Material, pages: Callable[[], Sequence[Page | PageNote]]
) -> Mapping[str, Callable[[], bytes]]:
    """The address of every file for machines to what makes it; until it is called nothing has been worked out.

    Args:
        material: All that the site is made from. Without a public address there is no site map and no feed.
        pages: Every page of the site.
    """
    address = material.collection.site.address
    made: dict[str, Callable[[], bytes]] = {
        DATA: lambda: json_file(published_facts(material)),
        DATA_SCHEMA: lambda: json_file(facts_schema()),
        ROBOTS: lambda: robots(address),
    }
    if address:
        made[SITEMAP] = lambda: sitemap(pages(), address)
    home = folio(material, START)
    for animal, paper in home.addresses.papers.items():
        made[PAPER_SCHEMA] = lambda: json_file(paper_schema())
        made[data_address(paper)] = partial(_paper_file, material.collection.animals[animal], home.at(paper))
    return made | {place: partial(_feed_file, make) for place, make in every_feed(material).items()}


def json_file(value: object) -> bytes:
    """JSON as it is published: two spaces deep, keys in the order given, not escaped beyond need.

    Raises:
        TypeError: There is something in it that JSON does not know.
    """
    return (json.dumps(value, indent=2, ensure_ascii=False) + "\n").encode("utf-8")


def _paper_file(animal: Animal, at: Folio) -> bytes:
    return json_file(paper_facts(animal, worded(animal, at), at))


def _feed_file(make: Callable[[], Feed]) -> bytes:
    return atom(make())
