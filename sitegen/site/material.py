"""What the pages are made from: records, answers, claims, changes and plans; and what each page is written with.

Where pages stand is worked out apart (``addresses.py``); a :class:`Folio` joins the two for one page.
"""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from typing import TypeVar

from sitegen.content.animals import Animal
from sitegen.content.breeding_years import seasons_by_litter
from sitegen.content.collection import Collection, dates_of_animal, dates_of_litter, latest_until
from sitegen.content.litters import Litter
from sitegen.content.off_site import is_off_site
from sitegen.content.projects import Project
from sitegen.content.values import PartialDate
from sitegen.evidence.answers import Answers
from sitegen.evidence.changes import Change, changes_of
from sitegen.evidence.joint import Littermates, Together
from sitegen.evidence.kinds import Claim
from sitegen.evidence.offers import OfferClaim, offer_of
from sitegen.evidence.pairings import Pairing
from sitegen.evidence.staircase import Replay, replays_of
from sitegen.genetics.questions import AnimalId, parents_of
from sitegen.lazily import Lazily
from sitegen.photos.variants import PictureSet
from sitegen.photos.videos import Video
from sitegen.plans.roads.kinds import ProjectRoads
from sitegen.site.addresses import Addresses, Linker, addresses_of
from sitegen.site.parts import Line, Prose, Span
from sitegen.words.changes import is_told_otherwise, is_worth_telling
from sitegen.words.label_line import LabelLine, label_line
from sitegen.words.labels import Labels
from sitegen.words.numbers import date_text
from sitegen.words.reasons import Worded, worded
from sitegen.words.speech import Link, Sentence, Text, Voice, _, animal_name, listed, plain

B = TypeVar("B", bound=Animal | Litter)


@dataclass(frozen=True, eq=False)
class Material:
    """What is known, and what the pages are made from.

    Attributes:
        collection: The records, each litter with a name (:func:`with_litter_names`).
        claims: Animal to its claims, strongest first.
        pictures, videos: By the path in the ``PhotoRecord``. A photo that is not in it is not shown.
        changes: Animal to what changed of what is said of it, oldest first (:func:`told_changes`).
        pairings: Litter to what its parents can give (``sitegen.site.outcomes.litter_pairing``); the page of a litter
            that is not in it tells nothing of that.
        roads: Project to what is told of its road (``plans.roads.beside.roads_of``); the page of a project that is not
            in it tells no chances.
        together: Animal to its hidden genes that hang together.
        littermates: Litter to how many of its young in doubt carry each gene.
        replays: Animal to the history of its family; the page of one that is not in it has no staircase.
        whole: Animal to its record with what is not public, against which the site's rules for offers are held.
    """

    collection: Collection
    answers: Answers
    claims: Mapping[AnimalId, tuple[Claim, ...]]
    pictures: Mapping[str, PictureSet]
    as_of: dt.date
    changes: Mapping[AnimalId, tuple[Change, ...]] = field(default_factory=dict)
    pairings: Mapping[str, Pairing] = field(default_factory=dict)
    roads: Mapping[str, ProjectRoads] = field(default_factory=dict)
    together: Mapping[AnimalId, tuple[Together, ...]] = field(default_factory=dict)
    littermates: Mapping[str, tuple[Littermates, ...]] = field(default_factory=dict)
    videos: Mapping[str, Video] = field(default_factory=dict)
    replays: Mapping[AnimalId, Replay] = field(default_factory=dict)
    whole: Mapping[AnimalId, Animal] = field(default_factory=dict)

    @cached_property
    def voice(self) -> Voice:
        """Who speaks."""
        return Voice(self.collection, self.answers, self.as_of)

    @cached_property
    def labels(self) -> Labels:
        """The short words of every page; the pages of one material are all in one language."""
        return Labels()

    @cached_property
    def lines(self) -> Mapping[AnimalId, LabelLine]:
        """Animal to its label line; the same wherever it stands."""
        animals = self.collection.animals
        return Lazily(animals, lambda each: label_line(animals[each], self.claims.get(each, ()), self.voice))

    @cached_property
    def worded(self) -> Mapping[AnimalId, tuple[Worded, ...]]:
        """Animal to its claims in words, strongest first; said once for its page, its paper and its file of facts."""
        voice = self.voice
        return Lazily(self.collection.animals, lambda each: tuple(worded(c, voice) for c in self.claims.get(each, ())))

    # Every page of an animal asks for its litters and young: looking through all records each time would make the
    # whole site cost the square of its animals.

    @cached_property
    def litters_of(self) -> Mapping[AnimalId, tuple[Litter, ...]]:
        """Parent to the litters it has, or may have, as dam or sire; in record order."""
        return _by_parent(self.collection.litters.values())

    @cached_property
    def young_of(self) -> Mapping[AnimalId, tuple[Animal, ...]]:
        """Parent to its young that no litter record has that is shown, in record order."""
        animals = self.collection.animals.values()
        return _by_parent(animal for animal in animals if not animal.litter or is_off_site(animal.litter))


def _by_parent(born: Iterable[B]) -> dict[AnimalId, tuple[B, ...]]:
    found: dict[AnimalId, tuple[B, ...]] = {}
    for each in born:
        for parent in dict.fromkeys(parents_of(each)):
            found[parent] = (*found.get(parent, ()), each)
    return found


@dataclass(frozen=True, slots=True)
class Folio:
    """The context of one page: what is known, where every page stands, and the links as seen from this page.

    Every function that writes a part of a page takes one, as ``folio`` or, where another page is made from it, ``at``.
    """

    material: Material
    addresses: Addresses
    linker: Linker

    def at(self, address: str) -> "Folio":
        """What the page at another address is written with."""
        return Folio(self.material, self.addresses, Linker(address, self.addresses.animals))

    @property
    def address(self) -> str:
        """Where the page stands."""
        return self.linker.source

    @property
    def collection(self) -> Collection:
        """The records."""
        return self.material.collection

    @property
    def voice(self) -> Voice:
        """Who speaks."""
        return self.material.voice

    def offer(self, animal: Animal) -> OfferClaim | None:
        """What may be said of an animal's offer, by the site's rules; None when it was never offered.

        Its price and the day when it is ready are to be read here, not in the record.
        """
        whole = self.material.whole.get(animal.id)
        return offer_of(animal, self.material.as_of, self.collection.site.ready_when, whole)

    def young(self, litter: Litter) -> tuple[Animal, ...]:
        """The young that a litter's record lists, without those that are not shown."""
        return tuple(self.collection.animals[young] for young in litter.young if not is_off_site(young))

    def claims(self, animal: AnimalId) -> tuple[Claim, ...]:
        """An animal's claims, strongest first."""
        return tuple(self.material.claims.get(animal, ()))

    def line(self, sentence: Sentence) -> Line:
        """A sentence with its links written; a link that leads to this very page is plain words."""
        return tuple([Span(run.text) if isinstance(run, Text) else self._linked(run) for run in sentence])

    def _linked(self, run: Link) -> Span:
        href = self.linker.run(run)
        return Span(run.text, "" if href == self.linker.here else href)

    def lines(self, sentences: Iterable[Sentence]) -> tuple[Line, ...]:
        """Sentences with their links written, without empty ones."""
        return tuple(self.line(sentence) for sentence in sentences if sentence)

    def prose(self, text: str) -> Prose:
        """Text of the breeder's, to be printed on this page."""
        return Prose(text, self.address, self.linker.rooted, self.addresses.moved)

    def date(self, date: PartialDate | None) -> str:
        """A date in the language of the site; empty when it is not known."""
        return date_text(date, self.collection.site.language) if date else ""

    def name(self, animal: Animal) -> str:
        """An animal's name, or its number and litter."""
        return animal_name(self.collection, animal.id)


def folio(material: Material, address: str) -> Folio:
    """What the page at an address is written with; :meth:`Folio.at` leads on to other pages."""
    addresses = addresses_of(material.collection, material.claims, material.pictures)
    return Folio(material, addresses, Linker(address, addresses.animals))


def with_litter_names(collection: Collection) -> Collection:
    """The collection, each unnamed litter called by its parents and year: ``Juniper and Flint 2026``.

    A litter keeps its folder's name where a parent is not recorded or has no name of its own, and where two
    litters would be called the same.
    """
    seasons = seasons_by_litter(collection)
    names = {litter.id: litter.name for litter in collection.litters.values()}
    made = {
        litter.id: _litter_name(litter, seasons[litter.id], collection)
        for litter in collection.litters.values()
        if litter.name == litter.id
    }
    how_often = Counter({**names, **made}.values())
    names |= {litter: name for litter, name in made.items() if name and how_often[name] == 1}
    litters = {litter.id: replace(litter, name=names[litter.id]) for litter in collection.litters.values()}
    return replace(collection, litters=litters)


def _litter_name(litter: Litter, season: int | None, collection: Collection) -> str:
    """What the litter would be called; empty when that cannot be said."""
    parents = [collection.animals.get(parent or "") for parent in (litter.dam, *(sire for sire, _s in litter.sires))]
    named = [parent.name for parent in parents if parent and parent.name and parent.name != parent.number]
    if len(parents) < 2 or len(named) < len(parents):
        return ""
    sires = plain(listed(named[1:], either=True))
    pair = _("{dam} and {sires}").format(dam=named[0], sires=sires)
    return _("{pair} {year}").format(pair=pair, year=season) if season else pair


def told_changes(
    collection: Collection, claims: Mapping[AnimalId, Sequence[Claim]], replays: Mapping[AnimalId, Replay] | None = None
) -> Mapping[AnimalId, tuple[Change, ...]]:
    """Animal to its changes that are worth telling, oldest first, found by replaying the records by their dates.

    What is told in the same words before and after is no change to a reader. Who shows one animal's page asks for the
    history of its family alone.
    """
    replays = replays_of(collection) if replays is None else replays
    changes_in = cache(lambda replay: changes_of(replay.arrivals, replay.turns, claims, is_worth_telling))
    voice = Voice(collection, Answers({}, {}, {}, (), ()), dt.date.max)  # words for a change name no answer of today

    def told(animal: AnimalId) -> tuple[Change, ...] | None:
        changes = changes_in(replays[animal]).get(animal, ())
        return tuple(change for change in changes if is_told_otherwise(change, voice)) or None

    return Lazily(collection.listed.animals, told)


def animal_changed(animal: Animal, material: Material) -> dt.date | None:
    """The newest day of an animal's record, of its litters, and of what changed of what is said of it."""
    days = [change.day for change in material.changes.get(animal.id, ())]
    litters = material.litters_of.get(animal.id, ())
    dates = [*dates_of_animal(animal), *(date for litter in litters for date in dates_of_litter(litter))]
    return _newest(dates, days, material)


def litter_changed(litter: Litter, material: Material) -> dt.date | None:
    """The newest day of a litter's record and of those of its young."""
    young = [material.collection.animals[animal] for animal in litter.young]
    days = [change.day for animal in young for change in material.changes.get(animal.id, ())]
    dates = [*dates_of_litter(litter), *(date for animal in young for date in dates_of_animal(animal))]
    return _newest(dates, days, material)


def project_changed(project: Project, material: Material) -> dt.date | None:
    """The newest day of a project's notes and decisions, and of its litters."""
    litters = [
        material.collection.litters[litter]
        for stage in project.stages
        for litter in stage.litters
        if litter in material.collection.litters
    ]
    days = [day for litter in litters if (day := litter_changed(litter, material))]
    dates = [project.started, *(update.date for update in project.updates)]
    dates += [decision.date for decision in project.decisions]
    return _newest(dates, days, material)


def offers_changed(material: Material) -> dt.date | None:
    """The newest day since when an offer stands as it does."""
    animals = material.collection.animals.values()
    return _newest([animal.offer.since for animal in animals if animal.offer], (), material)


def anything_changed(material: Material) -> dt.date | None:
    """The newest day of any record: of the pages that tell a little of everything.

    What evidence changed of what is said happened on the day of some record, so it need not be asked for.
    """
    return latest_until(material.collection, material.as_of)


def litters_changed(material: Material) -> dt.date | None:
    """The newest day of any litter's record, and of any offer, since the ledger tells how many are available."""
    litters = material.collection.litters.values()
    dates = [date for litter in litters for date in dates_of_litter(litter)]
    dates += [animal.offer.since for animal in material.collection.animals.values() if animal.offer]
    return _newest(dates, (), material)


def _newest(dates: Iterable[PartialDate | None], days: Iterable[dt.date], material: Material) -> dt.date | None:
    """The newest day that is not ahead of the day of the statement; of a partial date its first day counts."""
    known = [*days, *(date.earliest for date in dates if date)]
    return max((day for day in known if day <= material.as_of), default=None)
