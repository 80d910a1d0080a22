"""Links in the breeder's own texts that lead nowhere."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import fields, is_dataclass

from sitegen.findings import Finding, Kind, Level, Place, in_order, nearest
from sitegen.pages.parts import Page, Prose
from sitegen.rendering.prose import links_in


def broken_links(pages: Sequence[Page], files: Iterable[str] = ()) -> tuple[Finding, ...]:
    """A notice for each link within the site that a text has and the site has not.

    Args:
        pages: Every page.
        files: Addresses of other files that may be linked to: assets, data, pictures.
    """
    known = {page.address for page in pages} | set(files)
    found = []
    for page in pages:
        for prose in _texts(page.content):
            for address in links_in(prose.text):
                if prose.moved.get(address, address) not in known:
                    found.append(_finding(address, page, known))
    return in_order(found)


def _finding(address: str, page: Page, known: set[str]) -> Finding:
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
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from _texts(getattr(value, field.name))
