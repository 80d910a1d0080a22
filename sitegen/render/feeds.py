"""Feeds as Atom (RFC 4287)."""

import datetime as dt

from markupsafe import escape as escape_html

from sitegen.render.prose import prose
from sitegen.render.xml_text import escape, quoteattr
from sitegen.site.addresses import relative
from sitegen.site.feeds import Feed, FeedEntry
from sitegen.site.parts import Line

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
            f'<p><img src="{escape_html(shown.src)}" width="{shown.src_width}" height="{shown.src_height}" '
            f'alt="{escape_html(shown.alt)}"></p>'
        )
    parts += [f"<p>{_line(line)}</p>" for line in entry.lines]
    if entry.text:
        parts.append(prose(entry.text, 2))
    return "".join(parts)


def _line(line: Line) -> str:
    return "".join(
        f'<a href="{escape_html(span.href)}">{escape_html(span.text)}</a>' if span.href else str(escape_html(span.text))
        for span in line
    )


def _moment(day: dt.date) -> str:
    return f"{day.isoformat()}T12:00:00Z"


def _words(text: str) -> str:
    """Text for XML: escaped, without the control characters that XML 1.0 cannot hold (section 2.2)."""
    held = "".join(sign for sign in text if sign in "\t\n\r" or sign >= " ")
    return escape(held.translate(dict.fromkeys((*range(55296, 57344), 65534, 65535))))
