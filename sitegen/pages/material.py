"""What the pages are made from, and what each page is written with."""

import datetime as dt
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any, TypeVar

from sitegen.claims.changes import Change
from sitegen.claims.kinds import Claim
from sitegen.claims.offers import OfferClaim, offer_of
from sitegen.evidence.known import Answers
from sitegen.genetics.questions import AnimalId, parents_of
from sitegen.lazily import Lazily
from sitegen.noted import Asked, Noted, also, noting
from sitegen.pages.addresses import Linker, animal_address, paper_address, plates_address, root_path
from sitegen.pages.in_play import Gene, comparisons
from sitegen.pages.naming import with_litter_names
from sitegen.pages.parts import Line, Prose, Span
from sitegen.pages.replayed import told_changes
from sitegen.pages.sheets import Sheet, sheets_of, without_sheets
from sitegen.photos.variants import PictureSet
from sitegen.plans.pairings import Pairing
from sitegen.plans.roads.kinds import ProjectRoads
from sitegen.records.animals import Animal
from sitegen.records.collection import Collection
from sitegen.records.latest import latest_until
from sitegen.records.values import PartialDate
from sitegen.wording.measures import date_text
from sitegen.wording.runs import Link, Sentence, Text
from sitegen.wording.voice import Voice, animal_name

_T = TypeVar("_T")
_MOST_LATELY = 256
OF_ALL = ""
"""The one key of what is told of all records together."""


@dataclass(frozen=True, slots=True)
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
        pairings: Litter to what its parents can give (``sitegen.pages.outcomes.litter_pairings``); the page of a
            litter that is not in it tells nothing of that.
        litters_of: Parent to the litters it has, or may have, as dam or sire.
        young_of: Parent to its young that no litter record has.
        papers: Offered animal (also one that is sold) to the address of its buyer's paper.
        comparisons: Species and allele of every gene in play among the animals on offer to the address of the page
            that compares them by it.
        changes: Animal to what changed of what is said of it, oldest first.
        roads: Project to what is told of its road (``sitegen.pages.road_answers.roads_of``); the page of a project that
            is not in it tells no chances.
        plates: Animal with a photo to the address of the page that shows its photographs in full size.
        moved: Addresses that a breeder would write for a promoted young, to where its page stands.
        sheets: Animal to what of its record only its own page and papers tell, which is to be read there.
        offers: Animal that is or was offered to what may be said of its offer, by the site's rules; its price and the
            day when it is ready are to be read there.
        newest: :data:`OF_ALL` to the newest day of any record that is not ahead, if there is one.
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
    sheets: Mapping[AnimalId, Sheet] = field(default_factory=dict)
    offers: Mapping[AnimalId, OfferClaim] = field(default_factory=dict)
    newest: Mapping[str, dt.date] = field(default_factory=dict)

    _remembered: dict[Hashable, tuple[object, set[Asked]]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    _lately: dict[Hashable, tuple[object, set[Asked]]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    voice: Voice = field(init=False, repr=False, compare=False)
    """Who speaks."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "voice", Voice(self.collection, self.answers, self.as_of))

    def remembered(self, key: Hashable, make: Callable[[], _T]) -> _T:
        """What several pages of this very material need, worked out once; the key names it and all it hangs on."""
        found = self._remembered.get(key)
        if found is None:
            found = self._remembered[key] = noting(make)
        also(found[1])
        return found[0]  # type: ignore[return-value]  # made under this key; a cast would be a call each time

    def lately(self, key: Hashable, make: Callable[[], _T]) -> _T:
        """The same for what only a few pages need that are made one after the other; the oldest is forgotten."""
        found = self._lately.get(key)
        if found is None:
            if len(self._lately) >= _MOST_LATELY:
                self._lately.pop(next(iter(self._lately)), None)
            found = self._lately[key] = noting(make)
        also(found[1])
        return found[0]  # type: ignore[return-value]  # as above


def material(
    collection: Collection,
    answers: Answers,
    claims: Mapping[AnimalId, tuple[Claim, ...]],
    pictures: Mapping[str, PictureSet],
    as_of: dt.date,
    pairings: Mapping[str, Pairing] | None = None,
    changes: Mapping[AnimalId, tuple[Change, ...]] | None = None,
    roads: Mapping[str, ProjectRoads] | None = None,
    bare: Mapping[AnimalId, tuple[Claim, ...]] | None = None,
) -> Material:
    """All that the pages are made from, with the address of every animal's page.

    ``changes`` are found by replaying the records when they are not given (``sitegen.pages.replayed``). ``bare`` are
    the claims without what they rest on, for what needs no more, where they are had sooner.
    """
    if changes is None:
        changes = told_changes(collection, claims)
    collection = with_litter_names(collection)
    places = {a.id: animal_address(a.id, a.litter, a.number) for a in collection.animals.values()}
    moved = {animal_address(animal): place for animal, place in places.items() if animal_address(animal) != place}
    rules, animals = collection.site.ready_when, collection.animals
    offers = {each: offer for each, animal in animals.items() if (offer := offer_of(animal, as_of, rules))}
    papers = _papers(offers, places)
    compared = comparisons(collection, claims if bare is None else bare)
    return Material(
        collection, answers, claims, pictures, as_of, places, moved, papers, compared, pairings or {},
        *_offspring(collection), changes, roads or {}, _plates(collection, pictures, places),
        sheets_of(animals.values()), offers, Lazily((OF_ALL,), lambda _all: latest_until(collection, as_of)),
    )  # fmt: skip


_FOR_NO_PAGE = frozenset(("texts", "reviews", "contradictions", "too_tangled", "clashes", "notices"))
_WITH_SHEETS = "animals"
_FOR_EVERY_PAGE = frozenset(("species",))
"""Few, and every page asks for them many times over."""


def noted_material(material: Material) -> tuple[Material, dict[str, Mapping[Any, Any]], list[object]]:
    """The same material, noting what is asked of it; its mappings by name; and all of it that is no mapping.

    What no page tells of (texts for the audit, findings of inference) is taken away, so that nothing hangs on it; and
    from the records of animals what only their own pages tell, which stands in their sheets.
    """
    mappings: dict[str, Mapping[Any, Any]] = {}
    others: list[object] = []

    def noted(part: _T, path: str) -> _T:
        changed: dict[str, object] = {}
        for each in fields(part):  # type: ignore[arg-type]  # a dataclass, see below
            value = getattr(part, each.name)
            if not each.init:
                continue
            if each.name in _FOR_NO_PAGE:
                changed[each.name] = ()
            elif isinstance(value, Mapping) and each.name not in _FOR_EVERY_PAGE:
                told = without_sheets(value) if each.name == _WITH_SHEETS else value
                mappings[path + each.name] = told
                changed[each.name] = Noted(path + each.name, told)
            elif isinstance(value, Collection | Answers):
                changed[each.name] = noted(value, f"{each.name}.")
            else:
                others.append(value)
        return replace(part, **changed)  # type: ignore[type-var]  # a dataclass

    return noted(material, ""), mappings, others


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

    @property
    def folder(self) -> tuple[str, str | None]:
        """What all pages have in common whose links are written alike, but for those that lead to a page itself."""
        return self.address.rpartition("/")[0], self.rooted

    def offer(self, animal: Animal) -> OfferClaim | None:
        """What may be said of an animal's offer, by the site's rules; None when it was never offered."""
        return self.material.offers.get(animal.id)

    def sheet(self, animal: Animal) -> Sheet:
        """What of an animal's record only its own page and papers tell."""
        return self.material.sheets[animal.id]

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
