"""What machines read: the site map, robots.txt, feeds, JSON-LD blocks, and the published facts with their schemas."""

import datetime as dt
import html
import json
from collections.abc import Callable, Mapping, Sequence
from functools import partial

from markupsafe import Markup
from markupsafe import escape as html_escape

from sitegen.content.animals import Animal
from sitegen.render.prose import PageNote, draw_line, prose
from sitegen.site.addresses import DATA, DATA_SCHEMA, PAPER_SCHEMA, ROBOTS, SITEMAP, START, relative
from sitegen.site.facts import published_facts
from sitegen.site.feeds import Feed, FeedEntry, every_feed
from sitegen.site.material import Folio, Material, folio
from sitegen.site.paper import data_address
from sitegen.site.paper_facts import paper_facts
from sitegen.site.schema import facts_schema, paper_schema

MOST_ADDRESSES = 50_000
"""Entries of one site map. Source: sitemaps.org protocol."""
LONGEST_ADDRESS = 2_048
"""Characters of one ``loc``. Source: sitemaps.org protocol."""


def data_block(text: str) -> Markup:
    """JSON text for inside a ``<script type="application/ld+json">``: no character that could end it is left bare."""
    safe = text.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e")
    return Markup(safe.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029"))  # noqa: S704 - escaped just now


def sitemap(pages: Sequence[PageNote], address: str) -> bytes:
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


def machine_files(material: Material, pages: Callable[[], Sequence[PageNote]]) -> Mapping[str, Callable[[], bytes]]:
    """The address of every file for machines to what makes it; until it is called nothing has been worked out.

    Without a public address there is no site map and no feed.
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
    return json_file(paper_facts(animal, at))


def _feed_file(make: Callable[[], Feed]) -> bytes:
    return atom(make())


MEDIA_TYPE = "application/atom+xml"


def atom(feed: Feed) -> bytes:
    """The feed as XML.

    Source:
        RFC 4287, section 4.1.1 (a feed has exactly one id, title and updated; an author; a link to itself), 4.1.2 (so
        has an entry, with a link to its page where its content is not all), 3.1.1.2 (HTML as escaped text), 3.3 (dates
        of RFC 3339). Of a day the records know no hour: noon UTC, which is the same day nearly everywhere.
    """
    home = feed.site
    lines = [
        '<?xml version="1.0" encoding="utf-8"?>',
        f'<feed xmlns="http://www.w3.org/2005/Atom" xml:lang={quoteattr(feed.language)}>',
        f"  <id>{escape(feed.id)}</id>",
        f"  <title>{_words(feed.title)}</title>",
        f"  <subtitle>{_words(feed.subtitle)}</subtitle>",
        f"  <updated>{_moment(feed.updated)}</updated>",
        f"  <author><name>{_words(feed.author)}</name><uri>{escape(home)}</uri></author>",
        f'  <link rel="self" type="{MEDIA_TYPE}" href={quoteattr(home + relative("", feed.address))}/>',
        f'  <link rel="alternate" type="text/html" href={quoteattr(home + relative("", feed.page))}/>',
    ]
    for entry in feed.entries:
        lines += _entry(entry, feed)
    return ("\n".join([*lines, "</feed>"]) + "\n").encode("utf-8")


def _entry(entry: FeedEntry, feed: Feed) -> list[str]:
    return [
        "  <entry>",
        f"    <id>{escape(entry.id)}</id>",
        f"    <title>{_words(entry.title)}</title>",
        f"    <updated>{_moment(entry.updated)}</updated>",
        f"    <published>{_moment(entry.published)}</published>",
        f'    <link rel="alternate" type="text/html" href={quoteattr(feed.site + relative("", entry.href))}/>',
        f'    <content type="html">{_words(_html(entry))}</content>',
        "  </entry>",
    ]


def _html(entry: FeedEntry) -> str:
    """Picture, sentences and text."""
    parts = []
    if entry.picture:
        shown = entry.picture
        parts.append(
            f'<p><img src="{html_escape(shown.src)}" width="{shown.src_width}" height="{shown.src_height}" '
            f'alt="{html_escape(shown.alt)}"></p>'
        )
    parts += [f"<p>{draw_line(line)}</p>" for line in entry.lines]
    if entry.text:
        parts.append(prose(entry.text, 2))
    return "".join(parts)


def _moment(day: dt.date) -> str:
    return f"{day.isoformat()}T12:00:00Z"


def _words(text: str) -> str:
    """Text for XML: escaped, without the control characters that XML 1.0 cannot hold (section 2.2)."""
    held = "".join(sign for sign in text if sign in "\t\n\r" or sign >= " ")
    return escape(held.translate(dict.fromkeys((*range(55296, 57344), 65534, 65535))))


def escape(text: str) -> str:
    """Text between tags of XML. The standard library's module for it imports everything about networks."""
    return html.escape(text, quote=False)


def quoteattr(text: str) -> str:
    """A value with its quotes."""
    inside = escape(text).replace('"', "&quot;")
    return f'"{inside}"'
