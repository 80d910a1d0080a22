"""What machines read: the site map, robots.txt, JSON-LD blocks, and the published facts as one data file."""

import json
from collections.abc import Mapping, Sequence
from xml.sax.saxutils import escape

from markupsafe import Markup

from sitegen.pages.addresses import DATA, ROBOTS, SITEMAP, relative
from sitegen.pages.parts import Page

MOST_ADDRESSES = 50_000
"""Entries of one site map. Source: sitemaps.org protocol."""
LONGEST_ADDRESS = 2_048
"""Characters of one ``loc``. Source: sitemaps.org protocol."""


def json_text(value: object) -> str:
    """JSON with keys in the order given, two spaces deep, not escaped beyond need."""
    return json.dumps(value, ensure_ascii=False, indent=2)


def data_block(text: str) -> Markup:
    """JSON text for inside a ``<script type="application/ld+json">``: no character that could end it is left bare."""
    safe = text.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e")
    return Markup(safe.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029"))  # noqa: S704 - escaped just now


def sitemap(pages: Sequence[Page], address: str) -> bytes:
    """The site map of a site with a public address.

    Source:
        sitemaps.org protocol: ``urlset`` > ``url`` > ``loc``, entity-escaped UTF-8; ``lastmod`` is the page's own
        date, so it is left out when that is not known.
    """
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">']
    for page in [page for page in pages if page.listed][:MOST_ADDRESSES]:
        location = address + relative("", page.address)
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
    pages: Sequence[Page],
    address: str,
    facts: Mapping[str, object],
    papers: Mapping[str, Mapping[str, object]] | None = None,
) -> dict[str, bytes]:
    """Address to bytes of all files for machines.

    Args:
        pages: Every page of the site.
        address: Public address of the site, ending in a slash; without one there is no site map.
        facts: The published facts, see :func:`sitegen.pages.facts.published_facts`.
        papers: Address and facts of the file beside each buyer's paper, see :mod:`sitegen.pages.paper_facts`.
    """
    files = {DATA: (json_text(facts) + "\n").encode("utf-8"), ROBOTS: robots(address)}
    files |= {place: (json_text(stated) + "\n").encode("utf-8") for place, stated in (papers or {}).items()}
    if address:
        files[SITEMAP] = sitemap(pages, address)
    return files
