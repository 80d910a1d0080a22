"""Feeds: what is available, the journal, and each project, for whoever wants to be told.

Days and names come from the records, so that the same records always make the same feed. A site without a public
address has none, since the names of a feed and of its entries start from that address.
"""

import datetime as dt
import uuid
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial

from sitegen.content.animals import Animal, OfferState
from sitegen.content.projects import Project
from sitegen.site.addresses import (
    AVAILABLE,
    AVAILABLE_FEED,
    JOURNAL,
    JOURNAL_FEED,
    Linker,
    project_address,
    project_feed,
)
from sitegen.site.frame import availability_title, fallback_description, journal_title, project_title
from sitegen.site.journal import (
    JournalNote,
    all_notes,
    anchor,
    journal_addresses,
    journal_words,
    journal_years,
    litter_notes,
    offer_heading,
    project_notes,
)
from sitegen.site.material import Folio, Material, animal_changed
from sitegen.site.parts import Line, Picture, Prose, words
from sitegen.site.plates import animal_picture, lead_photo
from sitegen.site.projects import goal_sentence
from sitegen.site.views import hidden_lines, offer_view, shows_sentence
from sitegen.words.labels import labels
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
        site: The public address of the site.
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
_SHOWN = (OfferState.AVAILABLE, OfferState.ON_HOLD, OfferState.SOLD)


def every_feed(material: Material) -> Mapping[str, Callable[[], Feed]]:
    """The address of every feed to what makes it; nothing for a site without a public address."""
    if not material.collection.site.address:
        return {}
    made: dict[str, Callable[[], Feed]] = {
        AVAILABLE_FEED: partial(availability_feed, material),
        JOURNAL_FEED: partial(journal_feed, material),
    }
    projects = material.collection.projects.values()
    return made | {project_feed(project.id): partial(a_project_feed, project, material) for project in projects}


def _public(address: str, material: Material) -> Folio:
    """What a feed is written with: every link in it is a public address, since a feed is read far from the site."""
    site = material.collection.site.address
    return Folio(material, address, Linker(address, material.places, site), site)


def lasting_name(what: str, material: Material) -> str:
    """The name of a feed or an entry, as an IRI that stays while the site keeps its address.

    Source:
        RFC 4287, section 4.2.6: an id is an IRI that never changes. RFC 9562, section 5.5: a name-based UUID, here of
        the address without its scheme, so that a site that moves to https keeps its names.
    """
    place = material.collection.site.address.partition("://")[2]
    return uuid.uuid5(uuid.NAMESPACE_URL, f"{place}#{what}").urn


def availability_feed(material: Material) -> Feed:
    """Every animal that is or was on offer. An offer without any dated fact beside it is left out."""
    at = _public(AVAILABLE_FEED, material)
    entries = [
        _offer_entry(animal, day, at)
        for animal in material.collection.animals.values()
        if (offer := at.offer(animal)) is not None
        and offer.state in _SHOWN
        and (day := _offered_on(animal, material)) is not None
    ]
    title = availability_title(material.collection.site.name)
    return _feed(AVAILABLE_FEED, AVAILABLE, title, labels().available, entries, at)


def _offered_on(animal: Animal, material: Material) -> dt.date | None:
    """Since when the offer stands so; where that is not recorded, the newest day of its record."""
    since = animal.offer.since if animal.offer else None
    return min(since.earliest, material.as_of) if since else animal_changed(animal, material)


def _offer_entry(animal: Animal, day: dt.date, at: Folio) -> FeedEntry:
    material, view, name = at.material, offer_view(animal, at), at.name(animal)
    assert view is not None
    photo = lead_photo(animal.photos, at)
    told = ", ".join(part for part in (view.label, view.price, view.ready) if part)
    shown = at.line(shows_sentence(animal, at))
    changed = max((change.day for change in material.changes.get(animal.id, ())), default=day)
    return FeedEntry(
        id=lasting_name(f"offer/{animal.id}", material),
        title=offer_heading(OfferState(view.state), name),
        updated=max(day, changed),
        published=day,
        href=material.places[animal.id],
        lines=tuple(line for line in (words(told), shown, *hidden_lines(animal, at)) if line),
        picture=animal_picture(photo, animal, at) if photo else None,
    )


def journal_feed(material: Material) -> Feed:
    """The newest notes of the journal."""
    at = _public(JOURNAL_FEED, material)
    entries = [_note_entry(note, at) for note in all_notes(material)[:MOST]]
    title = journal_title(material.collection.site.name)
    return _feed(JOURNAL_FEED, JOURNAL, title, journal_words().intro, entries, at)


def a_project_feed(project: Project, material: Material) -> Feed:
    """The notes on one project, and the litters of its stages."""
    at = _public(project_feed(project.id), material)
    litters = dict.fromkeys(litter for stage in project.stages for litter in stage.litters)
    notes = [*project_notes(project)]
    notes += [
        note
        for litter in litters
        if litter in material.collection.litters
        for note in litter_notes(material.collection.litters[litter], material)
    ]
    entries = [_note_entry(note, at) for note in notes]
    title = project_title(project.name, material.collection.site.name)
    told = plain(goal_sentence(project, at))
    return _feed(project_feed(project.id), project_address(project.id), title, told, entries, at)


def _note_entry(note: JournalNote, at: Folio) -> FeedEntry:
    told, day = note.tell(at), min(note.date.earliest, at.material.as_of)
    return FeedEntry(
        id=lasting_name(note.key, at.material),
        title=note.title,
        updated=day,
        published=day,
        href=_page_of(note, at.material) if note.where == JOURNAL else note.where,
        lines=told.lines,
        text=told.text,
        picture=told.plate.picture if told.plate else None,
    )


def _page_of(note: JournalNote, material: Material) -> str:
    """Where a note that has no page of its own stands in the journal."""
    years = sorted(journal_years(material))
    year = next((y for y in years if y >= note.date.year), years[-1]) if years else 0
    address = next(address for address, of_year in journal_addresses(material) if of_year == year)
    return f"{address}#{anchor(note)}"


def _feed(address: str, page: str, title: str, subtitle: str, entries: Iterable[FeedEntry], at: Folio) -> Feed:
    material = at.material
    newest = sorted(entries, key=lambda entry: entry.updated, reverse=True)[:MOST]
    site = material.collection.site
    return Feed(
        address=address,
        id=lasting_name(f"feed/{address}", material),
        title=title,
        subtitle=subtitle or fallback_description(at),
        author=site.name,
        language=site.language,
        site=site.address,
        page=page,
        updated=newest[0].updated if newest else material.as_of,
        entries=tuple(newest),
    )
