"""A litter or clutch: how it is written, its record, and where its values and those of its young stand."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Any, ClassVar

from sitegen.content.animals import SIRES, YOUNG, Animal, AnimalBinder
from sitegen.content.declaration import ByName, ListOf, Written, group_of, key_only, keyed
from sitegen.content.events import EVENTS, Event, bind_events, in_day_order
from sitegen.content.genes import Binder, Judged
from sitegen.content.photo_records import PhotoRecord, Photos
from sitegen.content.public import PUBLIC, Public, public_of, shown_diary
from sitegen.content.references import WORDS, KnownRecords, place_of
from sitegen.content.report import Report
from sitegen.content.values import (
    ANYTHING,
    DAY,
    KNOWN_DAY,
    PROSE,
    SEX,
    TEXT,
    TEXT_BY_NAME,
    TEXTS,
    WHOLE,
    YES,
    PartialDate,
    parse_date,
    words_of,
)
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar
from sitegen.findings import Kind, Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId


@dataclass(frozen=True, slots=True, kw_only=True)
class Others:
    """Living young that are not listed one by one and look alike."""

    count: int = keyed(WHOLE, "How many.", needed=True)
    shows: ClassVar = key_only(TEXTS, "The looks that all of them show; [] for none. Left out: not judged.")
    unsure: ClassVar = key_only(TEXTS, "Loci that were not judged, or all.")
    judged: Judged = keyed(DAY, "When they were judged.")
    sex: Sex = keyed(SEX, "The sex of all of them, if known.", usual=Sex.UNKNOWN)
    place: Place


class FailedAs(StrEnum):
    """What became of a pairing that gave no living young."""

    NOT_GRAVID = "not-gravid"
    SLUGS = "slugs"
    REABSORBED = "reabsorbed"
    STILLBORN = "stillborn"


@dataclass(frozen=True, slots=True, kw_only=True)
class Failed:
    """That a pairing gave no living young. It carries no genetic evidence."""

    date: PartialDate = keyed(KNOWN_DAY, "The day on which it was clear.", needed=True)
    what: FailedAs = keyed(words_of(FailedAs), "not-gravid, slugs, reabsorbed, or stillborn: all of them.", needed=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Litter:
    """One litter or clutch; a dam or a sire is needed.

    ``young`` holds the animal ids of the listed young in record order (a promoted one under its own
    id). ``eggs``, ``infertile``, ``stillborn`` and ``failed`` carry no genetic evidence. A litter
    that has neither ``born`` nor ``failed`` is still expected.
    """

    id: str
    place: Place
    sires: tuple[tuple[AnimalId, Fraction], ...]
    photos: tuple[PhotoRecord, ...] = ()
    dam_place: Place | None = None
    sire_place: Place | None = None
    name: str = keyed(TEXT, "What the litter is called; its folder name when left out.", prose=True)
    species: str = keyed(TEXT, "The species; known from the parents when left out.")
    dam: AnimalId | None = keyed(TEXT, "The mother: an animal's folder or LITTER/YOUNG.", usual=None)
    sire: ClassVar = key_only(
        SIRES, "The father: one name, a list of possible ones (equal odds), or their odds: {flint: 2/3, basalt: 1/3}."
    )
    each_its_own_sire: bool | None = keyed(
        YES,
        "true when each young may have a sire of its own, false when they have one sire.",
        alias="mixed_sires",
        usual=None,
    )
    paired: PartialDate | None = keyed(DAY, "When the parents were put together.")
    laid: PartialDate | None = keyed(DAY, "When the eggs were laid.")
    born: PartialDate | None = keyed(DAY, "When the young were born or hatched.")
    expected: PartialDate | None = keyed(DAY, "When they are expected.")
    failed: Failed | None = keyed(
        group_of(Failed, "failed"), "That no living young came: {date: 2026-06-03, what: slugs}.", usual=None
    )
    eggs: int | None = keyed(WHOLE, "Eggs laid.")
    infertile: int | None = keyed(WHOLE, "Eggs that were not fertile.")
    stillborn: int | None = keyed(WHOLE, "Young that were not alive.")
    young: tuple[AnimalId, ...] = keyed(ByName(YOUNG), "The young by number; an entry may be empty.", usual=())
    others: tuple[Others, ...] = keyed(
        ListOf(group_of(Others, "an entry of others")),
        "Living young that are not listed one by one: {count: 4, shows: []}.",
    )
    events: tuple[Event, ...] = keyed(
        EVENTS, "Its diary, from the first introduction: [{date: 2026-03-02, what: introduced}].", usual=()
    )
    public: tuple[Public, ...] | None = keyed(
        PUBLIC,
        f"What the site shows of it and its young: some of {', '.join(Public)}; as in site.yaml when left out.",
        usual=None,
    )
    confirmed: bool = keyed(YES, "true when unusual counts and dates were checked and are right.")
    on_site: bool = keyed(
        YES, "false keeps it and its listed young off the site, though they still count as evidence.", usual=True
    )
    captions: ClassVar = key_only(TEXT_BY_NAME, "A line of text by photo file name.", prose=True)
    off_site: ClassVar = key_only(
        TEXTS, "Photos that are kept off the site, with their videos: [2026-07-20.jpg]; file names, as under captions."
    )
    about: str = keyed(PROSE, "Free text, Markdown.", prose=True)
    reviewed: ClassVar = key_only(
        TEXT_BY_NAME, "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: ClassVar = key_only(ANYTHING, "Anything that is never published.")

    @property
    def published(self) -> "Litter":
        """Its record without what is not shown."""
        return replace(self, events=shown_diary(self.events, self.public))


LITTER = group_of(Litter, "a litter's record")


MOST_YOUNG = 10_000
"""The largest tally that is read: far more than any litter, few enough to compute with."""


def bind_litter(litter_id: str, form: Written, known: KnownRecords, photos: Photos, report: Report) -> Litter | None:
    """The litter without its young; None when its species cannot be found."""
    if form.species is not None:
        known.find_species(form.species, report)
    if place_of(form.dam) is None and place_of(form.sire) is None:
        report.missing(
            form.start,
            "this litter has neither a dam nor a sire",
            "a line dam: and a line sire:, or one of them",
            "name the parent that is known",
        )
        return None
    _check_numbers(form, report)
    dam, sires = known.find_dam(form.dam, report), known.find_sires(form.sire, report)
    species = known.species_of_litter(litter_id)
    if species is None:
        _without_species(litter_id, form, known, report)
        return None
    bound = known.species[species]
    own = photos.by_young(form.young).get("", [])
    return form.record(
        Litter,
        id=litter_id,
        name=form.name.value if form.name else litter_id,
        species=species,
        place=form.start,
        dam=dam,
        sires=sires,
        young=(),
        failed=form.failed.record(Failed) if form.failed else None,
        events=bind_events(form.events, known, report),
        public=public_of(form),
        others=_others(form, Binder(bound.names, Sex.UNKNOWN, report)) if bound else (),
        photos=photos.records(photos.captions(form.captions, report), own, photos.off_site(form.off_site, report)),
        dam_place=place_of(form.dam),
        sire_place=place_of(form.sire),
    )


def _check_numbers(form: Written, report: Report) -> None:
    """Tells young that are called by a word of the records."""
    for number, key in young_keys(form).items():
        if number.casefold() in WORDS:
            report.error(
                Kind.ID_WRONG,
                key,
                f'"{number}" is a word of the records themselves, so no young can be called so',
                expected='a number such as "01"',
                remedy="write a number",
            )


def young_keys(form: Written) -> dict[str, Scalar]:
    """Number of each listed young to where it stands."""
    tree = form.node("young")
    return {key.text: key for key, _ in tree.entries} if isinstance(tree, Entries) else {}


def _without_species(litter_id: str, form: Written, known: KnownRecords, report: Report) -> None:
    """Told only when no other finding explains it: a parent that is not found, or one that is broken."""
    named = [text for text in (form.dam and form.dam.value, _single(form)) if text]
    if all(text.lower() == "unknown" for text in named):
        report.missing(
            form.start,
            f"neither parent of {litter_id} is known, so its species is not known either",
            "a line species:, or a parent",
            "add species",
        )


def _single(form: Written) -> str:
    return form.sire.text if isinstance(form.sire, Scalar) else "several" if form.sire is not None else ""


def _others(form: Written, binder: Binder) -> tuple[Others, ...]:
    _check_tallies(form, binder.report)
    return tuple(
        entry.record(Others, judged=binder.judged(entry, entry.judged), place=entry.start)
        for entry in form.others
        if entry.count.value
    )


def _check_tallies(form: Written, report: Report) -> None:
    """Tells a tally that is larger than any litter."""
    for entry in form.others:
        if entry.count.value > MOST_YOUNG:
            report.error(
                Kind.COUNT_IMPOSSIBLE,
                entry.count,
                f"{entry.count.value} young are more than any litter has",
                expected=f"at most {MOST_YOUNG:,}",
                remedy="check the number",
            )


def living_young(litter: Litter) -> int:
    """Young that were born alive: those listed and those in tallies."""
    return len(litter.young) + sum(others.count for others in litter.others)


def gravid(litter: Litter) -> bool:
    """False for a pairing of which it is recorded that the dam did not become gravid; True also where nobody knows."""
    return litter.failed is None or litter.failed.what is not FailedAs.NOT_GRAVID


@dataclass(frozen=True, slots=True)
class Spots:
    """Finds written values by the names that lead to them; the record's beginning when there is none."""

    animals: Mapping[str, Written | None]
    litters: Mapping[str, Written | None]

    def of_animal(self, animal: Animal, *path: str) -> Node | Place:
        """Where a value of an animal stands: in its own record, its entry in the litter's, or the litter's."""
        return next((found for form in self._forms(animal) if (found := _follow(form.tree, path))), animal.place)

    def of_dated(self, animal: Animal, name: str, date: PartialDate) -> Node | Place:
        """Where a weight or meal of that day stands."""
        for form in self._forms(animal):
            tree = _follow(form.tree, (name,))
            keys = [key for key, _ in tree.entries] if isinstance(tree, Entries) else []
            items = tree.items if isinstance(tree, Items) else ()
            dates = [*keys, *(day for item in items if isinstance(day := _follow(item, ("date",)), Scalar))]
            for written in dates:
                if parse_date(written.text) == date:
                    return written
        return animal.place

    def of_litter(self, litter: Litter, name: str) -> Node | Place:
        """Where a value of a litter stands."""
        form = self.litters.get(litter.id)
        return (_follow(form.tree, (name,)) if form else None) or litter.place

    def _forms(self, animal: Animal) -> Iterator[Written]:
        own = self.animals.get(animal.id)
        if own is not None:
            yield own
        litter = self.litters.get(animal.litter)
        if litter is not None:
            young = litter.young.get(animal.number)
            if young is not None:
                yield young
            yield litter


def _follow(tree: Node, path: tuple[str, ...]) -> Node | None:
    """The value that the names lead to."""
    found: Node | None = tree
    for name in path:
        entries = found.entries if isinstance(found, Entries) else ()
        found = next((node for key, node in entries if key.text == name), None)
    return None if isinstance(found, Scalar) and found.blank else found


def young_of(form: Written, litter: Litter, photos: Photos, binder: AnimalBinder) -> Iterator[Animal]:
    """Each young that is listed in a litter's record, as that record tells it."""
    by_young = photos.by_young(form.young)
    # What is wrong with these is told with the litter's own photos.
    shared, off = photos.captions(form.captions, Report()), photos.off_site(form.off_site, Report())
    keys = young_keys(form)
    for number, entry in form.young.items():
        place = keys[number].place
        written = entry or YOUNG.empty(Entries((), place))
        captions = shared | photos.captions(written.captions, binder.report)
        not_shown = off | photos.off_site(written.off_site, binder.report)
        pictured = photos.records(captions, by_young.get(number, ()), not_shown)
        yield _young(number, written, place, litter, pictured, binder)


def _young(
    number: str, form: Written, place: Place, litter: Litter, photos: tuple[PhotoRecord, ...], binder: AnimalBinder
) -> Animal:
    """A young as its litter's record tells it."""
    own_id = f"{litter.id}/{number}"
    bound = binder.known.species.get(litter.species)
    return form.record(
        Animal,
        id=own_id,
        species=litter.species,
        place=place,
        born=form.born.value if form.born else litter.born,
        dam=litter.dam,
        sires=litter.sires,
        each_its_own_sire=bool(litter.each_its_own_sire),
        litter=litter.id,
        number=number,
        photos=photos,
        dam_place=litter.dam_place,
        sire_place=litter.sire_place,
        **binder.shared(form, number, bound.names if bound else None, (own_id,)),
    )


def merged(own: Animal, young: Animal, litter: Litter, spots: Spots, report: Report) -> Animal:
    """A promoted young: one animal from its own record and its entry in the litter's record.

    Parents come from the litter; evidence of both records is kept; what only one of them says is taken from it.
    """
    _check_merge(own, young, litter, spots, report)
    of_either = ("died", "line", "locality", "offer", "kept", "about", "quarantine")
    of_litter = ("dam", "sires", "each_its_own_sire", "litter", "number", "dam_place", "sire_place")
    told: dict[str, Any] = {each: getattr(own, each) or getattr(young, each) for each in of_either}
    return replace(
        own,
        name=own.name if own.name != own.id or young.name == young.number else young.name,
        sex=own.sex if own.sex is not Sex.UNKNOWN else young.sex,
        genes=own.genes + young.genes,
        born=_finer(own.born, young.born),
        weights=tuple(sorted((*young.weights, *own.weights), key=lambda weighing: weighing.date)),
        lengths=tuple(sorted((*young.lengths, *own.lengths), key=lambda measuring: measuring.date)),
        meals=tuple(sorted((*young.meals, *own.meals), key=lambda meal: meal.date)),
        events=in_day_order(young.events, own.events),
        permits=(*young.permits, *own.permits),
        public=young.public if own.public is None else own.public,
        on_site=young.on_site if own.on_site is None else own.on_site,
        photos=tuple(sorted((*own.photos, *young.photos), key=lambda p: (p.date is None, p.date or PartialDate(1)))),
        **told,
        **{each: getattr(young, each) for each in of_litter},
    )


def _finer(first: PartialDate | None, second: PartialDate | None) -> PartialDate | None:
    """The date that says more; the first one when both say as much."""
    if first is None or second is None:
        return first or second
    known: dict[PartialDate, int] = {date: bool(date.month) + bool(date.day) for date in (first, second)}
    return second if known[second] > known[first] else first


def _check_merge(own: Animal, young: Animal, litter: Litter, spots: Spots, report: Report) -> None:
    """What the two records of a promoted young must agree on."""
    if own.sex is not young.sex and Sex.UNKNOWN not in (own.sex, young.sex):
        report.error(
            Kind.SEX_CLASH,
            spots.of_animal(own, "sex"),
            f"{own.id} is recorded as {own.sex.value} here and as {young.sex.value} in its litter's record",
            expected="the same sex in both records",
            remedy="correct one of the two",
            others=[spots.of_animal(young, "sex")],
        )
    if own.species != young.species and young.species:
        report.error(
            Kind.SPECIES_CLASH,
            spots.of_animal(own, "species"),
            f"{own.id} is recorded as {own.species}, and its litter {litter.id} is {young.species}",
            expected=f"species: {young.species}",
            remedy="correct species, or from_litter",
            others=(litter.place,),
        )
    if own.born and young.born and (own.born.latest < young.born.earliest or young.born.latest < own.born.earliest):
        report.error(
            Kind.DATE_IMPOSSIBLE,
            spots.of_animal(own, "born"),
            f"{own.id} was born on {own.born} by this record and on {young.born} by its litter's record",
            expected="the same date in both records",
            remedy="correct one of the two, or leave born out here",
            others=[spots.of_animal(young, "born")],
        )
    _check_parents(own, young, litter, report)


def _check_parents(own: Animal, young: Animal, litter: Litter, report: Report) -> None:
    pairs: tuple[tuple[str, object, object, Place | None], ...] = (
        ("dam", own.dam, young.dam, own.dam_place),
        ("sire", dict(own.sires) or None, dict(young.sires) or None, own.sire_place),
    )
    for word, here, there, place in pairs:
        if here is not None and here != there:
            report.error(
                Kind.PARENTS_CLASH,
                place or own.place,
                f"the {word} of {own.id} is not the {word} of its litter {litter.id}",
                expected="parents only in the litter's record",
                remedy=f"delete the line {word}, or correct from_litter",
                others=(litter.place,),
            )
