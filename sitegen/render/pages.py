"""A page as bytes of HTML: its model put through the templates of a theme, and the policy that the program gives it.

Whatever a theme does wrong is told with template, line, page and record.
"""

import html
import re
from collections.abc import Iterator
from contextlib import contextmanager
from traceback import walk_tb
from types import TracebackType

from jinja2 import TemplateNotFound, TemplateSyntaxError

from sitegen.findings import ThemeError
from sitegen.render.sandbox import allowance
from sitegen.render.themes import Theme
from sitegen.site.parts import Page

POLICY = (
    "default-src 'none'; img-src 'self' data:; style-src 'self'; font-src 'self'; script-src 'self'; "
    "media-src 'self'; base-uri 'none'; form-action 'none'"
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


def _template_line(trace: TracebackType | None, theme: Theme) -> str:
    """Template and line of the last frame that lies in a template; empty when none does."""
    places = {template.place for template in theme.templates.values()}
    lines = [(frame.f_code.co_filename, line) for frame, line in walk_tb(trace)]
    return next((f"{file}:{line}" for file, line in reversed(lines) if file in places), "")


def render_page(page: Page, theme: Theme) -> bytes:
    """The page as bytes of HTML, with the policy that the program gives every page.

    Raises:
        ThemeError: A template is missing, broken, asks for what the page has not, or does what it may not;
            the message names template, line, page and record.
    """
    with _told_of(page, theme):
        return with_policy(_rendered(page, theme).encode("utf-8"))


def render_part(page: Page, theme: Theme) -> str:
    """What the page's template gives, which need not be a whole page. Raises as :func:`render_page`."""
    with _told_of(page, theme):
        return _rendered(page, theme)


def _rendered(page: Page, theme: Theme) -> str:
    assets = {"style": page.frame.root + theme.style, "script": page.frame.root + theme.script if theme.script else ""}
    template = theme.environment.get_template(page.template)
    with allowance():
        return template.render(page=page.content, frame=page.frame, head=page.head, assets=assets)


@contextmanager
def _told_of(page: Page, theme: Theme) -> Iterator[None]:
    """Whatever goes wrong in a template is told with its place. Only a template's own mistakes can end here.

    Raises:
        ThemeError: Something did.
    """
    about = f"while making {page.address}" + (f" from {page.record}" if page.record else "")
    try:
        yield
    except TemplateSyntaxError as error:
        raise ThemeError(f"{error.filename or page.template}:{error.lineno}: {error.message} ({about})") from error
    except TemplateNotFound as error:
        where = _template_line(error.__traceback__, theme) or f"{theme.name}/templates"
        raise ThemeError(f'{where}: there is no template "{error.name}" ({about})') from error
    except Exception as error:  # what the library makes of a template may fail in any way, a SyntaxError for one
        where = _template_line(error.__traceback__, theme) or f"{theme.name}/templates/{page.template}"
        raise ThemeError(f"{where}: {error or type(error).__name__} ({about})") from error
