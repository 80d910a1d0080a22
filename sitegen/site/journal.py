"""The journal: everything that the records date, newest first; the pages by year where it is long."""

import datetime as dt
import hashlib
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import groupby

from sitegen.content.animals import Animal
from sitegen.content.litters import Litter, living_young
from sitegen.content.off_site import is_off_site
from sitegen.content.prices import OfferState
from sitegen.content.projects import Decision, Project, Update
from sitegen.content.values import PartialDate
from sitegen.evidence.changes import Change, ChangeKind
from sitegen.site.addresses import JOURNAL, JOURNAL_FEED, journal_address, litter_address, project_address
from sitegen.site.entries import came_word, parents_in_line
from sitegen.site.frame import shortened
from sitegen.site.material import Folio, Material
from sitegen.site.parts import Line, NavItem, Plate, Prose, words
from sitegen.site.plates import in_time_order, litter_plate, project_plate
from sitegen.site.projects import update_anchor
from sitegen.site.views import failed_words
from sitegen.words.changes import change_sentence
from sitegen.words.numbers import small_number
from sitegen.words.speech import Link, Target, Words, _, capital, capitalised, listed, ngettext, said, when_asked


@dataclass(frozen=True, slots=True)
class JournalEntry:
    """One note: its day, what kind it is, and what is told of it. ``text`` is the beginning of a longer text."""

    id: str
    date: str
    kind: str
    title: Line
    lines: tuple[Line, ...]
    text: str
    plate: Plate | None


@dataclass(frozen=True, slots=True)
class JournalMonth:
    """The notes of one month, newest first."""

    title: str
    entries: tuple[JournalEntry, ...]


@dataclass(frozen=True, slots=True)
class JournalWords:
    """Short words of the journal."""

    title: str = field(default_factory=when_asked("Journal"))
    intro: str = field(
        default_factory=when_asked(
            "Everything that our records date: notes on projects, litters, offers, and what we came to know."
        )
    )
    follow: str = field(default_factory=when_asked("Follow by feed"))
    years: str = field(default_factory=when_asked("Other years"))


@dataclass(frozen=True, slots=True)
class JournalPage:
    """The journal, or one year of it. ``years`` is empty when all of it stands on one page.

    ``nothing`` stands where ``months`` is empty, and is empty otherwise.
    """

    words: JournalWords
    months: tuple[JournalMonth, ...]
    nothing: str
    years: tuple[NavItem, ...]
    feed: Line


LONGEST = 24
"""Notes that stand on one page; a longer journal has a page for each year."""
_NAMED = 6
"""Animals that are named of those whose odds moved on one day."""
_TOLD_ONE_BY_ONE = 3
"""Animals whose odds moved on one day that have a note each; more are told together."""


@dataclass(frozen=True, slots=True)
class Told:
    """What is told of one note: sentences, the breeder's own text, a picture."""

    lines: tuple[Line, ...] = ()
    text: Prose | None = None
    plate: Plate | None = None


@dataclass(frozen=True, slots=True)
class JournalNote:
    """Something that happened on a day.

    Attributes:
        key: Names it for good, whatever is written of it: ``litter/2026-x/born``. The names of feed entries are made
            from it, so a changed key looks like news to everybody who follows.
        where: The address that it leads to, from the site's root.
        tell: Tells it on a page; the links of what it tells hang on where that page stands.
    """

    key: str
    date: PartialDate
    kind: str
    title: str
    where: str
    tell: Callable[[Folio], Told]


def all_notes(at: Folio) -> tuple[JournalNote, ...]:
    """Everything that happened, newest first; record order breaks ties."""
    records = at.collection
    notes = [note for project in records.projects.values() for note in project_notes(project)]
    notes += [note for litter in records.litters.values() for note in litter_notes(litter, at.material)]
    notes += [*_offer_notes(at), *_claim_notes(at)]
    return tuple(sorted(notes, key=lambda note: note.date.earliest, reverse=True))


# Projects


def project_notes(project: Project) -> Iterator[JournalNote]:
    """The notes on a project and its decisions."""
    kind, page = _("Note"), project_address(project.id)
    for update in project.updates:
        key = f"project/{project.id}/{update.place.file.rpartition('/')[2]}"  # a title may be mended
        told = partial(_told_update, update, project)
        yield JournalNote(key, update.date, kind, update.title, f"{page}#{update_anchor(update)}", told)
    on_day: Counter[PartialDate] = Counter()
    for decision in project.decisions:
        key = f"project/{project.id}/decision/{decision.date}/{on_day[decision.date]}"
        on_day[decision.date] += 1
        title = _("{project}: a decision").format(project=project.name)
        yield JournalNote(key, decision.date, kind, title, page, partial(_told_decision, decision))


def _told_update(update: Update, project: Project, folio: Folio) -> Told:
    photos = in_time_order(update.photos, folio)
    plate = project_plate(photos[-1], project.name, folio) if photos else None
    return Told((words(project.name, folio.linker.to(project_address(project.id))),), folio.prose(update.text), plate)


def _told_decision(decision: Decision, folio: Folio) -> Told:
    return Told((words(decision.text),))


# Litters


def litter_notes(litter: Litter, material: Material) -> Iterator[JournalNote]:
    """When its young came or none did, and when its eggs were laid; before, when the pair was put together."""
    came = came_word(litter, material.collection.species[litter.species])
    stages = [("born", came, litter.born), ("laid", _("laid"), litter.laid)]
    if litter.failed:
        stages.append(("failed", _("no young came"), litter.failed.date))
    if not litter.born and not litter.laid:
        stages.append(("paired", _("paired"), litter.paired))
    for stage, told, date in stages:
        if date:
            yield JournalNote(
                key=f"litter/{litter.id}/{stage}",
                date=date,
                kind=_("Litter"),
                title=_("{name}: {stage}").format(name=litter.name, stage=told),
                where=litter_address(litter.id),
                tell=partial(_told_litter, litter, stage),
            )


def _told_litter(litter: Litter, stage: str, folio: Folio) -> Told:
    if stage == "failed":
        return Told((folio.line(failed_words(litter, folio)),))
    born = stage == "born"
    photos = in_time_order(litter.photos, folio) if born else ()
    dam, sires = parents_in_line(litter, folio)
    told, count = capitalised(said(_("{dam} with {sires}."), dam=dam, sires=sires)), living_young(litter)
    if born and count:
        counted = ngettext("{count} living young.", "{count} living young.", count).format(count=small_number(count))
        told = said("{told} {counted}", told=told, counted=capital(counted))
    return Told((folio.line(told),), plate=litter_plate(photos[0], litter, folio) if photos else None)


# Offers


def _offers_together(material: Material) -> Mapping[tuple[str, OfferState, PartialDate], list[Animal]]:
    """Offers by the day since when they stand so; young of one litter on one day together."""
    together: dict[tuple[str, OfferState, PartialDate], list[Animal]] = {}
    for animal in material.collection.animals.values():
        offer = animal.offer
        if offer and offer.since and offer.state is not OfferState.NOT_FOR_SALE:
            group = animal.id if is_off_site(animal.litter) else animal.litter or animal.id
            together.setdefault((group, offer.state, offer.since), []).append(animal)
    return together


def _offer_notes(at: Folio) -> Iterator[JournalNote]:
    for (group, state, since), animals in _offers_together(at.material).items():
        key = f"offer/{group}/{state.value.replace(' ', '-')}/{since}"
        if len(animals) == 1:
            title, where = offer_heading(state, at.name(animals[0])), at.addresses.animals[animals[0].id]
        else:
            title = _offers_heading(state, len(animals), at.collection.litters[group].name)
            where = litter_address(group)
        yield JournalNote(key, since, _("Offer"), title, where, partial(_told_offers, tuple(animals)))


_HEADINGS = {
    OfferState.AVAILABLE: when_asked("Available: {name}"),
    OfferState.ON_HOLD: when_asked("On hold: {name}"),
    OfferState.SOLD: when_asked("Sold: {name}"),
    OfferState.NOT_FOR_SALE: when_asked("Not for sale: {name}"),
}


def offer_heading(state: OfferState, name: str) -> str:
    """``Available: Sorrel``."""
    return _HEADINGS[state]().format(name=name)


def _offers_heading(state: OfferState, count: int, litter: str) -> str:
    """``Three available of Juniper and Flint 2026`` for several young of one litter on one day."""
    told = {
        OfferState.AVAILABLE: ngettext("{count} available of {litter}", "{count} available of {litter}", count),
        OfferState.ON_HOLD: ngettext("{count} on hold of {litter}", "{count} on hold of {litter}", count),
        OfferState.SOLD: ngettext("{count} sold of {litter}", "{count} sold of {litter}", count),
        OfferState.NOT_FOR_SALE: ngettext(
            "{count} not for sale of {litter}", "{count} not for sale of {litter}", count
        ),
    }
    return capital(told[state].format(count=small_number(count), litter=litter))


def _told_offers(animals: tuple[Animal, ...], folio: Folio) -> Told:
    if len(animals) == 1:
        return Told((folio.line(folio.material.lines[animals[0].id].whole()),))
    links = [Link(_young_name(animal, folio), Target.ANIMAL, animal.id) for animal in animals]
    return Told((folio.line(said("{animals}.", animals=listed(links))),))


def _young_name(animal: Animal, folio: Folio) -> str:
    """Its name; of a young without one its number, since its litter is named beside it."""
    if animal.number and animal.name in ("", animal.number):
        return _("No. {number}").format(number=animal.number)
    return folio.name(animal)


# What the evidence changed


def _claim_notes(at: Folio) -> Iterator[JournalNote]:
    """What was settled of an animal on a day; and, together, whose odds moved on that day."""
    changes = sorted((c for found in at.material.changes.values() for c in found), key=lambda c: c.day)
    for day, on_day in groupby(changes, key=lambda change: change.day):
        settled: dict[str, list[Change]] = {}
        moved: dict[str, list[Change]] = {}
        for change in on_day:
            (moved if change.kind is ChangeKind.MOVED else settled).setdefault(change.animal, []).append(change)
        date = PartialDate(day.year, day.month, day.day)
        for animal, found in settled.items():
            yield _claim_note(animal, date, (*found, *moved.pop(animal, ())), at)
        if len(moved) <= _TOLD_ONE_BY_ONE:
            for animal, found in moved.items():
                yield _claim_note(animal, date, tuple(found), at)
        else:
            title = ngettext("The odds of {count} animal changed", "The odds of {count} animals changed", len(moved))
            title, kind = title.format(count=small_number(len(moved))), _("What we came to know")
            yield JournalNote(f"claims/{date}", date, kind, title, JOURNAL, partial(_told_moved, tuple(moved)))


def _claim_note(animal: str, date: PartialDate, changes: tuple[Change, ...], at: Folio) -> JournalNote:
    title = _("{name}: what we came to know").format(name=at.voice.animal(animal).text)
    key, where = f"claims/{animal}/{date}", at.addresses.animals[animal]
    return JournalNote(key, date, _("What we came to know"), title, where, partial(_told_changes, changes))


def _told_changes(changes: tuple[Change, ...], folio: Folio) -> Told:
    return Told(folio.lines(change_sentence(change, folio.voice) for change in changes))


def _told_moved(animals: tuple[str, ...], folio: Folio) -> Told:
    """Whose odds changed, where nothing was settled on that day."""
    named: list[Words] = [folio.voice.animal(animal) for animal in animals[:_NAMED]]
    if more := len(animals) - len(named):
        named.append(ngettext("{count} more", "{count} more", more).format(count=more))
    told = said(_("{animals}. Each page says from what to what, and why."), animals=listed(named))
    return Told((folio.line(told),))


# Pages


def journal_addresses(material: Material) -> tuple[tuple[str, int], ...]:
    """The address of every page of the journal and its year, newest first; 0 for a page that holds everything.

    What the evidence changed is not asked for here: a change goes to the page of its year, or, where nothing else
    happened in that year, to the next page after it.
    """
    collection = material.collection
    dates = [note.date for project in collection.projects.values() for note in project_notes(project)]
    dates += [note.date for litter in collection.litters.values() for note in litter_notes(litter, material)]
    dates += [since for _group, _state, since in _offers_together(material)]
    years = sorted({date.year for date in dates}, reverse=True)
    if len(dates) <= LONGEST or len(years) < 2:
        return ((JOURNAL, 0),)
    return ((JOURNAL, years[0]), *((journal_address(year), year) for year in years[1:]))


def page_of(note: JournalNote, pages: Sequence[tuple[str, int]]) -> tuple[str, int]:
    """The page of the journal on which a note stands: that of its year, or the next one after it."""
    # What the evidence changed may be of a year in which nothing else happened, which has no page of its own; of the
    # years after it the earliest is taken, and without one the newest page.
    return next((page for page in reversed(pages) if page[1] >= note.date.year), pages[0])


def notes_of(year: int, notes: Sequence[JournalNote], pages: Sequence[tuple[str, int]]) -> tuple[JournalNote, ...]:
    """Of all notes those on the page of a year; all of them for 0."""
    return tuple(note for note in notes if not year or page_of(note, pages)[1] == year)


def journal_page(notes: Sequence[JournalNote], pages: Sequence[tuple[str, int]], folio: Folio) -> JournalPage:
    """The page of some notes: those of a year, or all; ``pages`` are those of :func:`journal_addresses`."""
    word = JournalWords()
    months = groupby(notes, key=lambda note: (note.date.year, note.date.month))
    shown = tuple(
        JournalMonth(folio.date(PartialDate(*month)), tuple(_entry(note, folio) for note in found))
        for month, found in months
    )
    others = tuple(
        NavItem(str(told), folio.linker.to(address), address == folio.address) for address, told in pages if told
    )
    return JournalPage(
        words=word,
        months=shown,
        nothing="" if shown else _("There are no notes yet."),
        years=others,
        feed=words(word.follow, folio.linker.to(JOURNAL_FEED)) if folio.collection.site.address else (),
    )


def _entry(note: JournalNote, folio: Folio) -> JournalEntry:
    told = note.tell(folio)
    href = "" if note.where == JOURNAL else folio.linker.to(note.where)
    return JournalEntry(
        id=anchor(note),
        date=folio.date(note.date),
        kind=note.kind,
        title=words(note.title, href),
        lines=told.lines,
        text=shortened(_first_paragraph(told.text.text)) if told.text else "",
        plate=replace(told.plate, note="") if told.plate else None,
    )


def anchor(note: JournalNote) -> str:
    """The anchor of a note on its page; it does not tell the names of files that are in its key."""
    return "note-" + hashlib.sha256(note.key.encode("utf-8")).hexdigest()[:10]


def _first_paragraph(text: str) -> str:
    """The first paragraph of a Markdown text without its marks."""
    paragraphs = [part for part in re.split(r"\n\s*\n", text) if part.strip() and not part.lstrip().startswith("#")]
    first = re.sub(r"!?\[([^\]]*)\]\([^)]*\)", r"\1", paragraphs[0] if paragraphs else "")
    return re.sub(r"[*_`]{1,3}(\S.*?\S|\S)[*_`]{1,3}", r"\1", first)


def newest_day(notes: Sequence[JournalNote], material: Material) -> dt.date | None:
    """The day of the newest note that is not ahead of the day of the statement."""
    return max((note.date.earliest for note in notes if note.date.earliest <= material.as_of), default=None)
