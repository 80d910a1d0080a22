"""What stands around every page, and what a page says about itself to machines."""

from collections.abc import Sequence

from sitegen.content.projects import Project
from sitegen.site.addresses import (
    AVAILABLE,
    COLLECTION,
    DATA,
    GENES,
    JOURNAL,
    LITTERS,
    ODDS,
    PROJECTS,
    SEARCH,
    START,
    free_address,
)
from sitegen.site.feed_links import feed_links
from sitegen.site.material import Folio
from sitegen.site.offer_views import contact_fields
from sitegen.site.parts import Frame, Head, NavItem, Picture, SocialCard
from sitegen.site.structured import Plain, json_ld, public, trail_nodes
from sitegen.words.labels import drawings_text, evidence_text, labels
from sitegen.words.search import search_title
from sitegen.words.speech import _

_LONGEST_DESCRIPTION = 300


def frame(folio: Folio) -> Frame:
    """The frame of one page; the section it belongs to is marked in the navigation."""
    site, word = folio.collection.site, labels()
    main, more = _navigation(folio)
    return Frame(
        site_name=site.name,
        tagline=site.tagline,
        language=site.language,
        home=folio.linker.to(START),
        nav=tuple(_item(text, address, folio) for text, address in main),
        more=tuple(_item(text, address, folio) for text, address in more),
        contact=contact_fields(site.contact),
        contact_note=site.contact.note,
        drawings=drawings_text(site.drawings),
        evidence=evidence_text(),
        method=folio.linker.to(ODDS),
        data=folio.linker.to(DATA),
        root=_root(folio),
        labels=word,
    )


def _navigation(folio: Folio) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """What stands at the head of a page, and what at its foot."""
    word = labels()
    pages = sorted(folio.collection.pages.values(), key=lambda page: (page.order, page.id))
    main = [(word.available, AVAILABLE), (word.collection, COLLECTION), (word.litters, LITTERS)]
    main += [(word.projects, PROJECTS)] if folio.collection.projects else []
    main += [(word.genes, GENES)]
    own = [(page.title, free_address(page.id)) for page in pages]
    main += [(word.odds, ODDS), *own[:1], (search_title(), SEARCH)]
    return main, [(word.odds, ODDS), (word.journal, JOURNAL), *own]


def _root(folio: Folio) -> str:
    """What stands before an address below the site's root: ``../`` for each folder; empty on the top level."""
    return folio.linker.to("x").removesuffix("x")


def _item(text: str, address: str, folio: Folio) -> NavItem:
    return NavItem(text, folio.linker.to(address), folio.address == address)


def shortened(text: str) -> str:
    """The text on one line, cut at a word when it is long."""
    line = " ".join(text.split())
    if len(line) <= _LONGEST_DESCRIPTION:
        return line
    return line[:_LONGEST_DESCRIPTION].rsplit(" ", 1)[0].rstrip(",;:") + " …"


def head(
    title: str,
    description: str,
    folio: Folio,
    picture: Picture | None = None,
    nodes: Sequence[Plain] = (),
    *,
    share: Picture | None = None,
    crumb: str = "",
    project: Project | None = None,
    found: bool = True,
) -> Head:
    """What a page says about itself. Without a public address there is no canonical link, no card and no feed.

    Args:
        title: Of the page.
        description: What it tells, in a sentence or two.
        folio: The page.
        picture: A picture of the page, for programs that show one with a link to it.
        nodes: What the page is about, as JSON-LD.
        share: The share picture of the page, which is preferred to ``picture``.
        crumb: A shorter title, for the way to the page.
        project: The project that the page is about.
        found: False for the page "not found".

    Source:
        ogp.me: title, type, image and url, as absolute addresses; ``og:image:alt`` with every image.
    """
    site = folio.collection.site
    full = f"{title} · {site.name}" if title != site.name else title
    if not site.address or not found:
        return Head(full, shortened(description), structured=json_ld(nodes), robots="" if found else "noindex")
    url = public(folio.address, folio)
    card = SocialCard(title=title, type="website" if folio.address == START else "article", url=url)
    if shown := share or picture:
        card = SocialCard(
            title=title, type=card.type, url=url, image=absolute(shown.src, folio), image_alt=shown.alt,
            image_width=shown.src_width, image_height=shown.src_height,
        )  # fmt: skip
    told = json_ld([*nodes, *trail_nodes(folio, crumb or title)])
    return Head(full, shortened(description), url, card, told, feeds=feed_links(folio, project))


def absolute(link: str, folio: Folio) -> str:
    """A link of the page as an absolute address."""
    return folio.collection.site.address + link.removeprefix(_root(folio))


def fallback_description(folio: Folio) -> str:
    """What stands for a page that has no better description."""
    site = folio.collection.site
    return site.tagline or _("The animals of {name}.").format(name=site.name)
