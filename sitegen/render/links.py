"""Links in the breeder's own texts that lead nowhere."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Any, get_args, get_type_hints

from sitegen.findings import Finding, Kind, Level, Place, in_order, nearest
from sitegen.render.prose import links_in
from sitegen.site.parts import Page, Prose


@dataclass(frozen=True, slots=True)
class PageNote:
    """What of a page others ask for: the site map, and the search for links that lead nowhere.

    Attributes:
        address, record, changed, listed: As in :class:`sitegen.site.parts.Page`.
        links: Every link within the site of the breeder's texts: as it is written, and where it leads.
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


def broken_links(pages: Iterable[Page | PageNote], files: Iterable[str] = ()) -> tuple[Finding, ...]:
    """A notice for each link within the site that a text has and the site has not.

    Args:
        pages: Every page, or its note.
        files: Addresses of other files that may be linked to: assets, data, pictures.
    """
    notes = [page if isinstance(page, PageNote) else note_of(page) for page in pages]
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
