"""Cross-checks of counts: eggs, young, incubation; and words that do not fit the kind of birth."""

from collections.abc import Mapping

from sitegen.content.animals import Animal
from sitegen.content.bind_species import BoundSpecies
from sitegen.content.litters import Litter
from sitegen.content.report import Report
from sitegen.content.species import Births
from sitegen.content.written.litters import LitterForm
from sitegen.findings import Kind, Level
from sitegen.genetics.questions import AnimalId

INCUBATION_DAYS = range(35, 91)
"""Usual days from laying to hatching. Source: 35 to 68 days in a zoo's sheet on corn snakes, "two to three
months" in a nature centre's sheet of 2019; 77 days for the ball python in AnAge."""


def check_counts(
    litters: Mapping[str, Litter],
    animals: Mapping[AnimalId, Animal],
    forms: Mapping[str, LitterForm | None],
    species: Mapping[str, BoundSpecies | None],
    report: Report,
) -> None:
    """Tells counts that cannot be right, asks about unusual ones unless the record says they are confirmed."""
    for litter_id, litter in litters.items():
        form, bound = forms.get(litter_id), species.get(litter.species)
        if form is None or bound is None:
            continue
        _check_sum(litter, form, report)
        if bound.species.births is Births.LIVE:
            _check_words(litter, form, bound, report)
        else:
            _check_incubation(litter, form, report)
        _check_size(litter, form, bound, report)
    _drop_confirmed(forms, report)


def _drop_confirmed(forms: Mapping[str, LitterForm | None], report: Report) -> None:
    """Takes back notices about unusual counts and dates in records that say they are right."""
    sure = {form.start.file for form in forms.values() if form is not None and form.confirmed and form.confirmed.value}
    unusual = (Kind.COUNT_UNUSUAL, Kind.DATE_UNUSUAL, Kind.PARENT_DEAD)
    report.findings[:] = [
        finding
        for finding in report.findings
        if finding.level is Level.ERROR
        or finding.kind not in unusual
        or finding.place is None
        or finding.place.file not in sure
    ]


def n_living(litter: Litter) -> int:
    """Young that were born alive: those listed and those in tallies."""
    return len(litter.young) + sum(others.count for others in litter.others)


def _check_sum(litter: Litter, form: LitterForm, report: Report) -> None:
    if litter.eggs is None:
        return
    parts = (litter.infertile or 0, litter.stillborn or 0, n_living(litter))
    if sum(parts) > litter.eggs:
        report.error(
            Kind.COUNT_IMPOSSIBLE,
            form.eggs or form.start,
            f"{litter.eggs} eggs cannot give {parts[0]} infertile, {parts[1]} stillborn and {parts[2]} living young",
            expected=f"at least {sum(parts)} eggs",
            remedy="a young that is listed must not be counted again under others",
        )


def _check_words(litter: Litter, form: LitterForm, bound: BoundSpecies, report: Report) -> None:
    for word, instead in (("eggs", "young and others"), ("laid", "paired and born")):
        key = form.key(word)
        if key is not None and getattr(litter, word) is not None:
            report.error(
                Kind.BIRTH_WORD,
                key,
                f"{bound.species.name} bears live young, so the record of {litter.id} cannot say {word}",
                expected=instead,
                remedy=f"delete the line {word}, or write births: eggs in the species file",
            )


def _check_incubation(litter: Litter, form: LitterForm, report: Report) -> None:
    if litter.laid is None or litter.born is None or not (litter.laid.day and litter.born.day):
        return
    days = (litter.born.earliest - litter.laid.earliest).days
    if days >= 0 and days not in INCUBATION_DAYS:
        report.notice(
            Kind.DATE_UNUSUAL,
            form.at("born"),
            f"{litter.id} hatched {days} days after it was laid",
            expected=f"{INCUBATION_DAYS.start} to {INCUBATION_DAYS.stop - 1} days",
            remedy="check both dates, or write confirmed: true",
        )


def _check_size(litter: Litter, form: LitterForm, bound: BoundSpecies, report: Report) -> None:
    """The size of the litter against the usual one of the species, when its file says what is usual."""
    if not bound.litter_size_written or litter.born is None:
        return
    usual = bound.species.litter_size
    living = n_living(litter)
    n_young = max(living + (litter.stillborn or 0), litter.eggs or 0)
    if n_young and not usual.low <= n_young <= usual.high:
        report.notice(
            Kind.COUNT_UNUSUAL,
            form.start,
            f"{litter.id} has {n_young} {'eggs' if litter.eggs else 'young'}",
            expected=f"{usual.low} to {usual.high}, as {bound.species.name} has it under litter_size",
            remedy="check the counts, or write confirmed: true",
        )
