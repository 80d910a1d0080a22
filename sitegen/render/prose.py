"""The breeder's own words: Markdown to HTML, with nothing in it that could run or leave the site unasked."""

from collections.abc import Callable, Sequence
from posixpath import normpath
from urllib.parse import unquote

from markdown_it.common.utils import escapeHtml
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import EnvType, OptionsDict
from markupsafe import Markup

from sitegen.content.texts import SCHEMES, Markdown
from sitegen.site.addresses import Linker
from sitegen.site.parts import Prose

LONGEST = 200_000
"""Characters of one text that are read; what is longer is cut with a note. A book of 100 pages fits."""

_DEEPEST = 6


def _reader() -> Markdown:
    reader = Markdown()
    reader.add_render_rule("table_open", _table_open)
    reader.add_render_rule("table_close", _table_close)
    return reader


def _table_open(renderer: RendererHTML, tokens: Sequence[Token], at: int, options: OptionsDict, env: EnvType) -> str:
    return '<div class="table-wrap" role="region" aria-label="Table" tabindex="0"><table>\n'


def _table_close(renderer: RendererHTML, tokens: Sequence[Token], at: int, options: OptionsDict, env: EnvType) -> str:
    return "</table></div>\n"


_READER = _reader()


def _each_inline(tokens: Sequence[Token], change: Callable[[Token], None]) -> None:
    for token in tokens:
        change(token)
        if token.children:
            _each_inline(token.children, change)


def _shift_headings(tokens: Sequence[Token], by: int) -> None:
    """Headings keep their order below the page's own: the highest one of the text becomes ``h(by + 1)``."""
    levels = [int(token.tag[1]) for token in tokens if token.type == "heading_open"]
    if not levels:
        return
    top = min(levels)
    for token in tokens:
        if token.type in ("heading_open", "heading_close"):
            token.tag = f"h{min(int(token.tag[1]) - top + by + 1, _DEEPEST)}"


def _unquoted(href: str) -> str:
    """A link of a text as an address from the site's root; one that climbs out of it ends at the root."""
    path, hash_mark, fragment = href.partition("#")
    clean = normpath("/" + unquote(path)).lstrip("/") if path else ""
    return clean + hash_mark + unquote(fragment)


def prose(text: Prose, below: int = 1) -> Markup:
    """The text as HTML.

    Raw HTML is printed as the characters it is; links to other sites get ``rel="noopener"``; links within the
    site are addresses from its root and become relative to the page.

    Args:
        text: Markdown and the page it is printed on.
        below: The level of the heading that the text stands under.
    """
    written = text.text
    cut = len(written) > LONGEST
    tokens = _READER.parse(written[:LONGEST])
    _shift_headings(tokens, below)
    linker = Linker(text.source, {}, text.rooted)

    def mend_link(token: Token) -> None:
        if token.type != "link_open":
            return
        href = str(token.attrGet("href") or "")
        if href.lower().startswith(SCHEMES):
            token.attrSet("rel", "noopener")
        elif not href.startswith("#"):
            address, mark, fragment = _unquoted(href).partition("#")
            token.attrSet("href", linker.to(text.moved.get(address, address) + mark + fragment))

    _each_inline(tokens, mend_link)
    html = _READER.renderer.render(tokens, _READER.options, {})
    note = f"<p>{escapeHtml('The text is longer than this program prints; the rest is left out.')}</p>" if cut else ""
    return Markup(html + note)  # noqa: S704 - made by the reader above with raw HTML off


def links_in(text: str) -> tuple[str, ...]:
    """Addresses within the site that a text links to, from the site's root, without fragments."""
    if "](" not in text and "]:" not in text:  # in CommonMark no other signs make a link within a site
        return ()
    found: list[str] = []

    def collect(token: Token) -> None:
        href = str(token.attrGet("href") or "") if token.type == "link_open" else ""
        address = _unquoted(href.partition("#")[0])
        if address and not href.lower().startswith(SCHEMES):
            found.append(address)

    _each_inline(_READER.parse(text[:LONGEST]), collect)
    return tuple(dict.fromkeys(found))
