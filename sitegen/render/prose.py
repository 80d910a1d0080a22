"""Texts as HTML: the breeder's Markdown, with nothing in it that could run; and the program's sentences and claims.

Sentences and claims are made here and not by themes, so that no theme can alter their words. Links within the site
that the breeder's texts have and the site has not are found here too.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from posixpath import normpath
from typing import Any, get_args, get_type_hints
from urllib.parse import unquote

from markdown_it.token import Token
from markupsafe import Markup

from sitegen.content.texts import SCHEMES, Markdown
from sitegen.findings import Finding, Kind, Level, Place, in_order, nearest
from sitegen.render.drawings import draw_dots, draw_icon_array, escaped, ready
from sitegen.site.addresses import Linker
from sitegen.site.parts import ClaimView, Line, Page, Prose

LONGEST = 200_000
"""Characters of one text that are read; what is longer is cut with a note. A book of 100 pages fits."""

_DEEPEST = 6


_TABLE = '<div class="table-wrap" role="region" aria-label="Table" tabindex="0"><table>\n'
_READER = Markdown()
_READER.add_render_rule("table_open", lambda *_: _TABLE)
_READER.add_render_rule("table_close", lambda *_: "</table></div>\n")


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
    """The text as HTML, under a heading of level ``below``.

    Raw HTML is printed as the characters it is; links to other sites get ``rel="noopener"``; links within the
    site are addresses from its root and become relative to the page.
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
    note = "<p>The text is longer than this program prints; the rest is left out.</p>" if cut else ""
    return ready(html + note)  # made by the reader above with raw HTML off


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


LEVELS = (2, 3, 4)
"""Levels that a claim's heading may have."""
ROOM = 120
"""Letters of a claim's reasons that stand there unfolded: with what it rests on, two lines of a wide window."""


def draw_line(line: Line) -> Markup:
    """A sentence with its links."""
    return ready(_html(line))


def _html(line: Line) -> str:
    return "".join(
        f'<a href="{escaped(span.href)}">{escaped(span.text)}</a>' if span.href else escaped(span.text) for span in line
    )


def draw_claim(claim: ClaimView, level: int = 3, more: str = "") -> Markup:
    """One claim, whole: what is claimed, why, what it rests on, and the picture of the odds.

    Its heading has ``level`` 2 to 4. Under the label ``more`` reasons fold that have no room on a line: all but the
    first one, which decides, and the last one, which says what is not proven. Nothing folds without it.

    Raises:
        ValueError: The level is none of these.
    """
    if level not in LEVELS:
        raise ValueError(f"a claim's heading is of level 2, 3 or 4, not {level}")
    reasons = claim.explanation
    folds = more and len(reasons) > 2 and sum(len(span.text) for line in reasons for span in line) > ROOM
    stays, folded = ((reasons[0], reasons[-1]), reasons[1:-1]) if folds else (reasons, ())
    said = [f"<p>{_html(line)}</p>\n" for line in stays]
    if claim.basis:
        said.append(f'<p class="claim-basis">{_html(claim.basis)}</p>\n')
    if folded:
        lines = "".join(f"<p>{_html(line)}</p>\n" for line in folded)
        said.append(f'<details class="folded">\n<summary>{escaped(more)}</summary>\n{lines}</details>\n')
    picture = f'<div class="claim-odds">{draw_icon_array(claim.odds)}</div>\n' if claim.odds else ""
    return ready(
        f'<article class="claim">\n<div class="claim-words">\n<h{level}>{_html(claim.headline)}</h{level}>\n'
        f"{''.join(said)}</div>\n{picture}</article>"
    )


def draw_statement(claim: ClaimView) -> Markup:
    """A claim's own sentence with its odds drawn small, for the head of a page on which the whole claim stands."""
    dots = draw_dots(claim.odds) if claim.odds else ""
    return ready(f'<p class="statement">{dots}<span>{_html(claim.headline)}</span></p>')


@dataclass(frozen=True, slots=True)
class PageNote:
    """What of a page others ask for: the site map, and the search for links that lead nowhere.

    ``links`` are those within the site of the breeder's texts: as each is written, and where it leads.
    """

    address: str
    record: str = ""
    changed: str = ""
    listed: bool = True
    links: tuple[tuple[str, str], ...] = ()


def note_of(page: Page) -> PageNote:
    """A page's note."""
    links = tuple(
        (address, prose.moved.get(address, address))
        for prose in _texts(page.content)
        for address in links_in(prose.text)
    )
    return PageNote(page.address, page.record, page.changed, page.listed, links)


def broken_links(notes: Sequence[PageNote], files: Iterable[str] = ()) -> tuple[Finding, ...]:
    """A notice for each link within the site that a text has and the site, with its other ``files``, has not."""
    known = {note.address for note in notes} | set(files)
    return in_order(
        [_finding(written, note, known) for note in notes for written, leads in note.links if leads not in known]
    )


def _finding(address: str, page: PageNote, known: set[str]) -> Finding:
    close = nearest(address, sorted(known))
    return Finding(
        level=Level.NOTICE,
        kind=Kind.LINK_BROKEN,
        place=Place(page.record) if page.record else None,
        message=f'a text links to "{address}", and the site has no such page',
        expected="the address of a page, written from the site's root, such as litters.html",
        nearest=close,
        remedy=f'write "{close}", or take the link out' if close else "mend the link, or take it out",
    )


def _texts(value: object) -> Iterator[Prose]:
    """Every text of the breeder's in a page model."""
    if isinstance(value, Prose):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _texts(item)
    else:
        model: Any = type(value)
        for name in _with_texts(model):
            yield from _texts(getattr(value, name))


@cache
def _with_texts(model: type[Any]) -> tuple[str, ...]:
    """The fields of a page model whose declared type lets a text stand in them, at any depth."""
    if not is_dataclass(model):
        return ()
    declared = get_type_hints(model)
    return tuple(field.name for field in fields(model) if _may_hold_text(declared[field.name], (model,)))


def _may_hold_text(declared: object, within: tuple[type, ...]) -> bool:
    """False when no value of a declared type can be or hold a text."""
    if parts := get_args(declared):
        return any(_may_hold_text(part, within) for part in parts)
    if not isinstance(declared, type) or declared in (Prose, object):
        return declared is not Ellipsis
    if not is_dataclass(declared) or declared in within:
        return False
    inner = get_type_hints(declared)
    return any(_may_hold_text(inner[field.name], (*within, declared)) for field in fields(declared))
