"""From the written form of a litter to :class:`~sitegen.content.litters.Litter`."""

from sitegen.content.bind_genes import Binder
from sitegen.content.bind_photos import Photos
from sitegen.content.litters import Litter, Others
from sitegen.content.references import WORDS, KnownRecords, place_of
from sitegen.content.report import At, Report
from sitegen.content.values import PartialDate
from sitegen.content.written.litters import LitterForm
from sitegen.content.yaml_tree import Scalar
from sitegen.findings import Kind
from sitegen.genetics.loci import Sex

MOST_YOUNG = 10_000
"""The largest tally that is read: far more than any litter, few enough to compute with."""


def bind_litter(litter_id: str, form: LitterForm, known: KnownRecords, photos: Photos, report: Report) -> Litter | None:
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
    for number, key in form.young_keys.items():
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
    own = photos.by_young(form.young or ()).get("", [])
    return Litter(
        id=litter_id,
        name=form.name.value if form.name else litter_id,
        species=species,
        place=form.start,
        dam=dam,
        sires=sires,
        others=_others(form, Binder(bound.names, Sex.UNKNOWN, report)) if bound else (),
        each_its_own_sire=bool(form.mixed_sires and form.mixed_sires.value),
        paired=_date(form.paired),
        laid=_date(form.laid),
        born=_date(form.born),
        expected=_date(form.expected),
        eggs=_count(form.eggs),
        infertile=_count(form.infertile),
        stillborn=_count(form.stillborn),
        photos=photos.records(photos.captions(form.captions, report), own),
        about=form.about.value if form.about else "",
        dam_place=place_of(form.dam),
        sire_place=place_of(form.sire),
    )


def _without_species(litter_id: str, form: LitterForm, known: KnownRecords, report: Report) -> None:
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


def _single(form: LitterForm) -> str:
    return form.sire.text if isinstance(form.sire, Scalar) else "several" if form.sire is not None else ""


def _others(form: LitterForm, binder: Binder) -> tuple[Others, ...]:
    _check_tallies(form, binder.report)
    return tuple(
        Others(
            entry.count.value,
            binder.judged(entry, entry.judged),
            entry.sex.value if entry.sex else Sex.UNKNOWN,
            entry.start,
        )
        for entry in form.others or ()
        if entry is not None and entry.count.value
    )


def _check_tallies(form: LitterForm, report: Report) -> None:
    """Tells a tally that is larger than any litter."""
    for entry in form.others or ():
        if entry is not None and entry.count.value > MOST_YOUNG:
            report.error(
                Kind.COUNT_IMPOSSIBLE,
                entry.count,
                f"{entry.count.value} young are more than any litter has",
                expected=f"at most {MOST_YOUNG:,}",
                remedy="check the number",
            )


def _date(written: At[PartialDate] | None) -> PartialDate | None:
    return written.value if written else None


def _count(written: At[int] | None) -> int | None:
    return written.value if written else None
