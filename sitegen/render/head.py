"""What every page says to the browser before anything else. The program says it, whatever theme made the page."""

import html
import re

POLICY = (
    "default-src 'none'; img-src 'self' data:; style-src 'self'; font-src 'self'; script-src 'self'; "
    "base-uri 'none'; form-action 'none'"
)
"""The page loads from its own site alone, runs no script that stands in it, and sends nothing anywhere.

Source: W3C, "Content Security Policy Level 3"."""

REFERRER = "no-referrer"
"""Who follows a link away does not tell the other site which animal was looked at; nothing here needs that told.

Source: W3C, "Referrer Policy", section 3.1."""

_FIRST = (
    f'\n<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n<meta name="referrer" content="{REFERRER}">'
).encode()
_BEGINNING = re.compile(rb"\s*<!doctype html>\s*<html(?:\s[^<>]*)?>\s*<head>", re.IGNORECASE)
_META = re.compile(rb"""<meta(?:"[^"]*"|'[^']*'|[^'">])*>?""", re.IGNORECASE)
_OURS = re.compile(r"http-equiv|name\s*=\s*[\"']?\s*referrer", re.IGNORECASE)


def with_policy(page: bytes) -> bytes:
    """The page, UTF-8, with both said right behind ``<head>``, before anything that could load or run.

    Raises:
        ValueError: Something stands before the head, so that they would come too late; or the theme says either itself.
    """
    begins = _BEGINNING.match(page)
    if not begins:
        raise ValueError(
            "a page begins with <!doctype html>, <html> and <head>, and with nothing else before or between them"
        )
    for found in _META.findall(page, begins.end()):
        tag = found.decode()
        if _OURS.search(html.unescape(tag)):
            raise ValueError(f"{tag} is not for themes; the program says what a page may load and tell others")
    return page[: begins.end()] + _FIRST + page[begins.end() :]
