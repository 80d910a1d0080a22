"""What the pages are made from: records, answers, claims, changes and plans; and what each page is written with."""

import datetime as dt
from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache, wraps
from typing import Any, TypeVar

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection, dates_of_animal, dates_of_litter, latest_until
from sitegen.content.litters import Litter
from sitegen.content.projects import Project
from sitegen.content.values import PartialDate
from sitegen.evidence.answers import Answers
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.changes import Change, changes_of
from sitegen.evidence.history import history
from sitegen.evidence.kinds import Claim
from sitegen.evidence.offers import OfferClaim, offer_of
from sitegen.genetics.questions import AnimalId, parents_of
from sitegen.photos.variants import PictureSet
from sitegen.plans.pairings import Pairing
from sitegen.plans.roads.kinds import ProjectRoads
from sitegen.site.addresses import Gene, Linker, animal_address, comparisons, paper_address, plates_address, root_path
from sitegen.site.parts import Line, Prose, Span
from sitegen.words.changes import is_told_otherwise, is_worth_telling
from sitegen.words.numbers import date_text
from sitegen.words.speech import Link, Sentence, Text, Voice, _, animal_name, listed, plain, tongue

T = TypeVar("T")


@dataclass(frozen=True, slots=True, eq=False)
class Material:
    """All that the pages are made from.

    Attributes:
        collection: The records.
        answers: What inference has to say.
        claims: Animal to its claims, strongest first.
        pictures: Path of a photo, as in its ``PhotoRecord``, to its pictures. A photo that is not in it
            is not shown.
        as_of: The day of the statement.
        places: Animal to the address of its page; made by :func:`material`.
        pairings: Litter to what its parents can give (``sitegen.site.outcomes.litter_pairings``); the page of a
            litter that is not in it tells nothing of that.
        litters_of: Parent to the litters it has, or may have, as dam or sire.
        young_of: Parent to its young that no litter record has.
        papers: Offered animal (also one that is sold) to the address of its buyer's paper.
        comparisons: Species and allele of every gene in play among the animals on offer to the address of the page
            that compares them by it.
        changes: Animal to what changed of what is said of it, oldest first.
        roads: Project to what is told of its road (``sitegen.site.road_answers.roads_of``); the page of a project that
            is not in it tells no chances.
        plates: Animal with a photo to the address of the page that shows its photographs in full size.
        moved: Addresses that a breeder would write for a promoted young, to where its page stands.
        offers: Animal that is or was offered to what may be said of its offer, by the site's rules; its price and the
            day when it is ready are to be read there.
    """

    collection: Collection
    answers: Answers
    claims: Mapping[AnimalId, tuple[Claim, ...]]
    pictures: Mapping[str, PictureSet]
    as_of: dt.date
    places: Mapping[AnimalId, str] = field(default_factory=dict)
    moved: Mapping[str, str] = field(default_factory=dict)
    papers: Mapping[AnimalId, str] = field(default_factory=dict)
    comparisons: Mapping[Gene, str] = field(default_factory=dict)
    pairings: Mapping[str, Pairing] = field(default_factory=dict)
    litters_of: Mapping[AnimalId, tuple[str, ...]] = field(default_factory=dict)
    young_of: Mapping[AnimalId, tuple[AnimalId, ...]] = field(default_factory=dict)
    changes: Mapping[AnimalId, tuple[Change, ...]] = field(default_factory=dict)
    roads: Mapping[str, ProjectRoads] = field(default_factory=dict)
    plates: Mapping[AnimalId, str] = field(default_factory=dict)
    offers: Mapping[AnimalId, OfferClaim] = field(default_factory=dict)

    worked_out: dict[Hashable, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What :func:`once` keeps."""

    voice: Voice = field(init=False, repr=False, compare=False)
    """Who speaks."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "voice", Voice(self.collection, self.answers, self.as_of))


def once(make: Callable[[Material], T]) -> Callable[[Material], T]:
    """What is told of all records together, worked out once for a material and a language: many pages ask for it."""

    @wraps(make)
    def known(material: Material) -> T:
        key = make, tongue()
        if key not in material.worked_out:
            material.worked_out[key] = make(material)
        found: T = material.worked_out[key]
        return found

    return known


def material(
    collection: Collection,
    answers: Answers,
    claims: Mapping[AnimalId, tuple[Claim, ...]],
    pictures: Mapping[str, PictureSet],
    as_of: dt.date,
    pairings: Mapping[str, Pairing] | None = None,
    changes: Mapping[AnimalId, tuple[Change, ...]] | None = None,
    roads: Mapping[str, ProjectRoads] | None = None,
) -> Material:
    """All that the pages are made from, with the address of every animal's page.

    ``changes`` are found by replaying the records when they are not given (``sitegen.site.replayed``).
    """
    if changes is None:
        changes = told_changes(collection, claims)
    collection = with_litter_names(collection)
    places = {a.id: animal_address(a.id, a.litter, a.number) for a in collection.animals.values()}
    moved = {animal_address(animal): place for animal, place in places.items() if animal_address(animal) != place}
    rules, animals = collection.site.ready_when, collection.animals
    offers = {each: offer for each, animal in animals.items() if (offer := offer_of(animal, as_of, rules))}
    papers = _papers(offers, places)
    compared = comparisons(collection, claims)
    return Material(
        collection, answers, claims, pictures, as_of, places, moved, papers, compared, pairings or {},
        *_offspring(collection), changes, roads or {}, _plates(collection, pictures, places),
        offers,
    )  # fmt: skip


def _plates(
    collection: Collection, pictures: Mapping[str, PictureSet], places: Mapping[AnimalId, str]
) -> dict[AnimalId, str]:
    """The addresses of the pages of photographs, of all animals that have a photo that is shown."""
    taken = {place.casefold() for place in places.values()}
    found = {}
    for animal in collection.animals.values():
        if any(photo.path in pictures for photo in animal.photos):
            found[animal.id] = plates_address(places[animal.id], taken)
            taken.add(found[animal.id].casefold())
    return found


def _papers(offers: Mapping[AnimalId, OfferClaim], places: Mapping[AnimalId, str]) -> dict[AnimalId, str]:
    """The addresses of the papers of all animals that are or were offered for sale."""
    taken = {place.casefold() for place in places.values()}
    found = {}
    for animal, offer in offers.items():
        if offer.offered:
            found[animal] = paper_address(places[animal], taken)
            taken.add(found[animal].casefold())
    return found


def _offspring(collection: Collection) -> tuple[dict[AnimalId, tuple[str, ...]], dict[AnimalId, tuple[AnimalId, ...]]]:
    """Parent to its litters, and parent to its young that no litter record has, in record order."""
    litters: dict[AnimalId, tuple[str, ...]] = {}
    young: dict[AnimalId, tuple[AnimalId, ...]] = {}
    for litter in collection.litters.values():
        for parent in dict.fromkeys(parents_of(litter)):
            litters[parent] = (*litters.get(parent, ()), litter.id)
    for animal in collection.animals.values():
        for parent in dict.fromkeys(parents_of(animal)):
            if not animal.litter:
                young[parent] = (*young.get(parent, ()), animal.id)
    return litters, young


@dataclass(frozen=True, slots=True)
class Folio:
    """What one page is written with: the material, and the links from where the page stands."""

    material: Material
    address: str
    linker: Linker
    rooted: str | None = None

    @property
    def collection(self) -> Collection:
        """The records."""
        return self.material.collection

    @property
    def voice(self) -> Voice:
        """Who speaks."""
        return self.material.voice

    def offer(self, animal: Animal) -> OfferClaim | None:
        """What may be said of an animal's offer, by the site's rules; None when it was never offered."""
        return self.material.offers.get(animal.id)

    def claims(self, animal: AnimalId) -> tuple[Claim, ...]:
        """An animal's claims, strongest first."""
        return tuple(self.material.claims.get(animal, ()))

    def line(self, sentence: Sentence) -> Line:
        """A sentence with its links written; a link that leads to this very page is plain words."""
        return tuple([Span(run.text) if isinstance(run, Text) else self._linked(run) for run in sentence])

    def _linked(self, run: Link) -> Span:
        href = self.linker.run(run)
        return Span(run.text, "" if href == self.linker.here else href)

    def lines(self, sentences: Sequence[Sentence]) -> tuple[Line, ...]:
        """Sentences with their links written, without empty ones."""
        return tuple(self.line(sentence) for sentence in sentences if sentence)

    def prose(self, text: str) -> Prose:
        """Text of the breeder's, to be printed on this page."""
        return Prose(text, self.address, self.rooted, self.material.moved)

    def date(self, date: PartialDate | None) -> str:
        """A date in the language of the site; empty when it is not known."""
        return date_text(date, self.collection.site.language) if date else ""

    def name(self, animal: Animal) -> str:
        """An animal's name, or its number and litter."""
        return animal_name(self.collection, animal.id)


def folio(material: Material, address: str, *, rooted: bool = False) -> Folio:
    """What the page at an address is written with; ``rooted`` for the page "not found"."""
    root = root_path(material.collection.site.address) if rooted else None
    return Folio(material, address, Linker(address, material.places, root), root)


def once_an_animal(make: Callable[[Animal, Folio], T]) -> Callable[[Animal, Folio], T]:
    """What page, paper and data of an animal tell alike, worked out once: they are made one after the other.

    It is worked out for the animal's own page, whoever asks, so that it cannot hang on who asked first.
    """

    @lru_cache(maxsize=8)
    def known(animal: AnimalId, material: Material, language: Hashable) -> T:
        return make(material.collection.animals[animal], folio(material, material.places[animal]))

    @wraps(make)
    def told(animal: Animal, at: Folio) -> T:
        return known(animal.id, at.material, tongue())

    return told


def with_litter_names(collection: Collection) -> Collection:
    """The collection, each unnamed litter called by its parents and year: ``Juniper and Flint 2026``.

    A litter keeps its folder's name where a parent is not recorded or has no name of its own, and where two
    litters would be called the same.
    """
    names = {litter.id: litter.name for litter in collection.litters.values()}
    made = {
        litter.id: _litter_name(litter, collection)
        for litter in collection.litters.values()
        if litter.name == litter.id
    }
    how_often = Counter({**names, **made}.values())
    names |= {litter: name for litter, name in made.items() if name and how_often[name] == 1}
    litters = {litter.id: replace(litter, name=names[litter.id]) for litter in collection.litters.values()}
    return replace(collection, litters=litters)


def _litter_name(litter: Litter, collection: Collection) -> str:
    """What the litter would be called; empty when that cannot be said."""
    parents = [collection.animals.get(parent or "") for parent in (litter.dam, *(sire for sire, _s in litter.sires))]
    named = [parent.name for parent in parents if parent and parent.name and parent.name != parent.number]
    if len(parents) < 2 or len(named) < len(parents):
        return ""
    date = litter.born or litter.expected or litter.laid or litter.paired
    sires = plain(listed(named[1:], either=True))
    pair = _("{dam} and {sires}").format(dam=named[0], sires=sires)
    return _("{pair} {year}").format(pair=pair, year=date.year) if date else pair


def told_changes(
    collection: Collection, claims: Mapping[AnimalId, Sequence[Claim]]
) -> Mapping[AnimalId, tuple[Change, ...]]:
    """Animal to its changes that are worth telling, oldest first, found by replaying the records by their dates.

    What is told in the same words before and after is no change to a reader.
    """
    arrivals = arrivals_of(collection)
    found = changes_of(arrivals, history(arrivals), claims, is_worth_telling)
    voice = Voice(collection, Answers({}, {}, {}, (), ()), dt.date.max)  # words for a change name no answer of today
    told = {
        animal: tuple(change for change in changes if is_told_otherwise(change, voice))
        for animal, changes in found.items()
    }
    return {animal: changes for animal, changes in told.items() if changes}


def animal_changed(animal: Animal, material: Material) -> dt.date | None:
    """The newest day of an animal's record, of its litters, and of what changed of what is said of it."""
    days = [change.day for change in material.changes.get(animal.id, ())]
    litters = [material.collection.litters[litter] for litter in material.litters_of.get(animal.id, ())]
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


@once
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
