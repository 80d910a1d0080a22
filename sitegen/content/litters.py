"""A litter or clutch: how it is written, its record, and where its values and those of its young stand."""

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from sitegen.content.animals import SIRES, YOUNG
from sitegen.content.declaration import ByName, ListOf, Written, group_of, key_only, keyed
from sitegen.content.genes import Binder, Judged
from sitegen.content.photo_records import PhotoRecord, Photos
from sitegen.content.references import WORDS, KnownRecords, place_of
from sitegen.content.report import Report
from sitegen.content.values import (
    ANYTHING,
    DAY,
    SEX,
    TEXT,
    TEXT_BY_NAME,
    TEXTS,
    WHOLE,
    YES,
    PartialDate,
)
from sitegen.content.yaml_tree import Entries, Scalar
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Litter:
    """One litter or clutch; a dam or a sire is needed.

    ``young`` holds the animal ids of the listed young in record order (a promoted one under its own
    id). ``eggs``, ``infertile`` and ``stillborn`` carry no genetic evidence. ``born`` None with
    ``paired`` set is a litter that is still expected.
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
    each_its_own_sire: bool = keyed(YES, "true when each young may have a sire of its own.", alias="mixed_sires")
    paired: PartialDate | None = keyed(DAY, "When the parents were put together.")
    laid: PartialDate | None = keyed(DAY, "When the eggs were laid.")
    born: PartialDate | None = keyed(DAY, "When the young were born or hatched.")
    expected: PartialDate | None = keyed(DAY, "When they are expected.")
    eggs: int | None = keyed(WHOLE, "Eggs laid.")
    infertile: int | None = keyed(WHOLE, "Eggs that were not fertile.")
    stillborn: int | None = keyed(WHOLE, "Young that were not alive.")
    young: tuple[AnimalId, ...] = keyed(ByName(YOUNG), "The young by number; an entry may be empty.", usual=())
    others: tuple[Others, ...] = keyed(
        ListOf(group_of(Others, "an entry of others")),
        "Living young that are not listed one by one: {count: 4, shows: []}.",
    )
    confirmed: ClassVar = key_only(YES, "true when unusual counts and dates were checked and are right.")
    captions: ClassVar = key_only(TEXT_BY_NAME, "A line of text by photo file name.", prose=True)
    about: str = keyed(TEXT, "Free text, Markdown.", prose=True)
    reviewed: ClassVar = key_only(
        TEXT_BY_NAME, "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: ClassVar = key_only(ANYTHING, "Anything that is never published.")


LITTER = group_of(Litter, "a litter's record")


MOST_YOUNG = 10_000
"""The largest tally that is read: far more than any litter, few enough to compute with."""


def bind_litter(litter_id: str, form: Written, known: KnownRecords, photos: Photos, report: Report) -> Litter | None:
    """The litter without its young; None when its species cannot be found."""
    if form.species is not None:
        known.find_species(form.species, report)
    if place_of(form.dam) is None and place_of(form.sire) is None:
        report.error(
            Kind.KEY_MISSING,
            form.start,
            "this litter has neither a dam nor a sire",
            expected="a line dam: and a line sire:, or one of them",
            remedy="name the parent that is known",
        )
        return None
    for number, key in young_keys(form).items():
        if number.casefold() in WORDS:
            report.error(
                Kind.ID_WRONG,
                key,
                f'"{number}" is a word of the records themselves, so no young can be called so',
                expected='a number such as "01"',
                remedy="write a number",
            )
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
        others=_others(form, Binder(bound.names, Sex.UNKNOWN, report)) if bound else (),
        photos=photos.records(photos.captions(form.captions, report), own),
        dam_place=place_of(form.dam),
        sire_place=place_of(form.sire),
    )


def young_keys(form: Written) -> dict[str, Scalar]:
    """Number of each listed young to where it stands."""
    tree = form.node("young")
    return {key.text: key for key, _ in tree.entries} if isinstance(tree, Entries) else {}


def _without_species(litter_id: str, form: Written, known: KnownRecords, report: Report) -> None:
    """Told only when no other finding explains it: a parent that is not found, or one that is broken."""
    named = [text for text in (form.dam and form.dam.value, _single(form)) if text]
    if all(text.lower() == "unknown" for text in named):
        report.error(
            Kind.KEY_MISSING,
            form.start,
            f"neither parent of {litter_id} is known, so its species is not known either",
            expected="a line species:, or a parent",
            remedy="add species",
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
