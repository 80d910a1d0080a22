"""Feeds: what is available, the journal, and each project, for whoever wants to be told.

Days and names come from the records, so that the same records always make the same feed. A site without a public
address has none, since the names of a feed and of its entries start from that address.
"""

import datetime as dt
import uuid
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from sitegen.content.animals import Animal
from sitegen.content.prices import OfferState
from sitegen.content.projects import Project
from sitegen.site import addresses, journal
from sitegen.site.frame import availability_title, fallback_description, journal_title, project_title
from sitegen.site.material import Folio, Material, animal_changed, folio
from sitegen.site.parts import Line, Picture, Prose, words
from sitegen.site.plates import animal_picture, lead_photo
from sitegen.site.projects import goal_sentence
from sitegen.site.views import offer_view
from sitegen.words.speech import plain


@dataclass(frozen=True, slots=True)
class FeedEntry:
    """One entry of a feed. Links in its lines, text and picture are public addresses.

    Attributes:
        id: A name that stays, as an IRI.
        updated, published: Days, from the records.
        href: Address of the page, from the site's root, with its fragment.
    """

    id: str
    title: str
    updated: dt.date
    published: dt.date
    href: str
    lines: tuple[Line, ...]
    text: Prose | None = None
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Feed:
    """A feed.

    Attributes:
        address: Where it stands, from the site's root.
        page: The address of the page that tells the same to people.
    """

    address: str
    id: str
    title: str
    subtitle: str
    author: str
    language: str
    site: str
    page: str
    updated: dt.date
    entries: tuple[FeedEntry, ...]


MOST = 60
"""Entries of one feed, the newest; a reader of feeds keeps what it has seen."""


def every_feed(material: Material) -> Mapping[str, Callable[[], Feed]]:
    """The address of every feed to what makes it; nothing for a site without a public address."""
    site, home = material.collection.site.address, folio(material, addresses.START)
    if not site:
        return {}

    def public(address: str) -> Folio:
        """What a feed is written with: every link is a public address, since a feed is read far from the site."""
        return replace(home, linker=addresses.Linker(address, home.addresses.animals, site))

    made = {
        addresses.AVAILABLE_FEED: partial(_availability_feed, public(addresses.AVAILABLE_FEED)),
        addresses.JOURNAL_FEED: partial(_journal_feed, public(addresses.JOURNAL_FEED)),
    }
    for project in material.collection.projects.values():
        address = addresses.project_feed(project.id)
        made[address] = partial(_a_project_feed, project, public(address))
    return made


def _lasting_name(what: str, at: Folio) -> str:
    """The name of a feed or an entry, as an IRI that stays while the site keeps its address.

    Source:
        RFC 4287, section 4.2.6: an id is an IRI that never changes. RFC 9562, section 5.5: a name-based UUID, here of
        the address without its scheme, so that a site that moves to https keeps its names.
    """
    place = at.collection.site.address.partition("://")[2]
    return uuid.uuid5(uuid.NAMESPACE_URL, f"{place}#{what}").urn


def _availability_feed(at: Folio) -> Feed:
    """Every animal that is or was on offer. An offer without any dated fact beside it is left out."""
    entries = []
    for animal in at.collection.animals.values():
        offer = at.offer(animal)
        if offer is not None and offer.offered and (day := _offered_on(animal, at.material)) is not None:
            entries.append(_offer_entry(animal, offer.state, day, at))
    return _feed(
        addresses.AVAILABLE, availability_title(at.collection.site.name), at.material.labels.available, entries, at
    )


def _offered_on(animal: Animal, material: Material) -> dt.date | None:
    """Since when the offer stands so; where that is not recorded, the newest day of its record."""
    since = animal.offer.since if animal.offer else None
    return min(since.earliest, material.as_of) if since else animal_changed(animal, material)


def _offer_entry(animal: Animal, state: OfferState, day: dt.date, at: Folio) -> FeedEntry:
    view, photo = offer_view(animal, at), lead_photo(animal.photos, at)
    told = ", ".join(part for part in (view.label, view.price, view.ready) if part) if view else ""
    return FeedEntry(
        id=_lasting_name(f"offer/{animal.id}", at),
        title=journal.offer_heading(state, at.name(animal)),
        updated=max([day, *(change.day for change in at.material.changes.get(animal.id, ()))]),
        published=day,
        href=at.addresses.animals[animal.id],
        lines=tuple(line for line in (at.line(at.material.lines[animal.id].whole()), words(told)) if line),
        picture=animal_picture(photo, animal, at) if photo else None,
    )


def _journal_feed(at: Folio) -> Feed:
    entries = _note_entries(journal.all_notes(at)[:MOST], at)
    return _feed(addresses.JOURNAL, journal_title(at.collection.site.name), journal.JournalWords().intro, entries, at)


def _a_project_feed(project: Project, at: Folio) -> Feed:
    """The notes on one project, and the litters of its stages."""
    notes, records = list(journal.project_notes(project)), at.collection.litters
    for litter in dict.fromkeys(litter for stage in project.stages for litter in stage.litters):
        if litter in records:
            notes += journal.litter_notes(records[litter], at.material)
    title, told = project_title(project.name, at.collection.site.name), plain(goal_sentence(project, at))
    return _feed(addresses.project_address(project.id), title, told, _note_entries(notes, at), at)


def _note_entries(notes: Iterable[journal.JournalNote], at: Folio) -> Iterator[FeedEntry]:
    pages = journal.journal_addresses(at.material)
    for note in notes:
        told, day = note.tell(at), min(note.date.earliest, at.material.as_of)
        yield FeedEntry(
            id=_lasting_name(note.key, at),
            title=note.title,
            updated=day,
            published=day,
            # a note without a page of its own leads to its place in the journal
            href=f"{journal.page_of(note, pages)[0]}#{journal.anchor(note)}"
            if note.where == addresses.JOURNAL
            else note.where,
            lines=told.lines,
            text=told.text,
            picture=told.plate.picture if told.plate else None,
        )


def _feed(page: str, title: str, subtitle: str, entries: Iterable[FeedEntry], at: Folio) -> Feed:
    newest = sorted(entries, key=lambda entry: entry.updated, reverse=True)[:MOST]
    site = at.collection.site
    return Feed(
        address=at.address,
        id=_lasting_name(f"feed/{at.address}", at),
        title=title,
        subtitle=subtitle or fallback_description(at),
        author=site.name,
        language=site.language,
        site=site.address,
        page=page,
        updated=newest[0].updated if newest else at.material.as_of,
        entries=tuple(newest),
    )
