"""Cross-checks of dates: nothing before it can have been.

Partial dates are taken at their best: a finding is told only when no reading of them is possible.
"""

import datetime as dt
from collections.abc import Mapping

from sitegen.findings import Kind, Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.records.animals import Animal, OfferState
from sitegen.records.check_pedigree import Parent, namings
from sitegen.records.litters import Litter
from sitegen.records.report import Report
from sitegen.records.species import Births, Species
from sitegen.records.values import PartialDate

EARLY_BREEDING_MONTHS = 16
"""First breeding below this age asks the keeper to confirm. Source: lowest of the published ages at first
breeding of corn snakes, 16 to 18 months, in a nature centre's sheet of 2019."""


def check_dates(
    animals: Mapping[AnimalId, Animal], litters: Mapping[str, Litter], species: Mapping[str, Species], report: Report
) -> None:
    """Tells dates that cannot be right, and parents that were not born or too young."""
    for animal in animals.values():
        _check_life(animal, report)
        _check_offer(animal, report)
    for litter in litters.values():
        _check_litter(litter, animals, species, report)
    for naming in namings(animals, litters):
        parent = animals.get(naming.parent)
        litter_or_young = litters.get(naming.of) or animals.get(naming.of)
        if parent is not None and litter_or_young is not None and litter_or_young.born is not None:
            _check_parent(naming, parent, litter_or_young.born, species.get(parent.species), report)


def before(first: PartialDate | None, second: PartialDate | None) -> bool:
    """True when the first date is certainly earlier than the second one."""
    return first is not None and second is not None and first.latest < second.earliest


def months_later(day: dt.date, months: int) -> dt.date:
    """The same day some months later, or the last day of that month."""
    total = day.year * 12 + day.month - 1 + months
    year, month = divmod(total, 12)
    for last in (day.day, 30, 29, 28):
        try:
            return dt.date(year, month + 1, min(day.day, last))
        except ValueError:
            continue
    raise ValueError(day)


def _impossible(report: Report, place: Place, message: str, expected: str, *others: Place) -> None:
    report.error(
        Kind.DATE_IMPOSSIBLE,
        place,
        message,
        expected=expected,
        remedy="correct one of the two dates",
        others=others,
    )


def _check_life(animal: Animal, report: Report) -> None:
    """What happened to an animal lies between its birth and its death."""
    born = animal.born
    name = animal.id
    if before(animal.died, born):
        _impossible(
            report,
            animal.place,
            f"{name} died on {animal.died}, before it was born on {born}",
            "a death after the birth",
        )
    dated = [(f"a weight of {name}", weighing.date, animal.place) for weighing in animal.weights]
    dated += [(f"a meal of {name}", meal.date, animal.place) for meal in animal.meals]
    tests = [test for genes in animal.genes for test in genes.tests if test.date is not None]
    dated += [(f"a test of {name}", test.date, test.place) for test in tests if test.date]
    if animal.acquired and animal.acquired.date:
        dated.append((f"the day {name} was acquired", animal.acquired.date, animal.place))
    for genes in animal.genes:
        if genes.judged.on:
            dated.append((f"the judging of {name}", genes.judged.on, genes.judged.place))
    for what, date, place in dated:
        if before(date, born):
            _impossible(report, place, f"{what}, {date}, lies before its birth on {born}", "a date after the birth")
    dated_photos = [photo for photo in animal.photos if photo.date is not None]
    for photo in dated_photos:
        if before(photo.date, born):
            report.notice(
                Kind.DATE_UNUSUAL,
                Place(photo.path),
                f"by its name this photo of {name} was taken on {photo.date}, before it was born on {born}",
                expected="a date after the birth",
                remedy="correct the file name, or move the photo to the animal it shows",
                others=(animal.place,),
            )


def _check_offer(animal: Animal, report: Report) -> None:
    offer = animal.offer
    if offer is None:
        return
    for word, date in (("since", offer.since), ("ready", offer.ready)):
        if before(date, animal.born):
            _impossible(
                report,
                offer.place,
                f"the offer of {animal.id} says {word} {date}, before its birth on {animal.born}",
                "a date after the birth",
            )
    open_offer = offer.state in (OfferState.AVAILABLE, OfferState.ON_HOLD)
    if animal.died is not None and open_offer:
        report.error(
            Kind.OFFER_CLASH,
            offer.place,
            f"{animal.id} died on {animal.died} and is offered as {offer.state.value}",
            expected="no offer, or one that was closed before",
            remedy="delete the offer",
        )
    elif animal.kept and open_offer:
        report.notice(
            Kind.OFFER_CLASH,
            offer.place,
            f"{animal.id} is kept and is offered as {offer.state.value} as well",
            expected="kept: true, or an offer",
            remedy="delete one of the two",
        )


def _check_litter(
    litter: Litter, animals: Mapping[AnimalId, Animal], species: Mapping[str, Species], report: Report
) -> None:
    steps = [("paired", litter.paired), ("laid", litter.laid), ("born", litter.born)]
    written = [(word, date) for word, date in steps if date is not None]
    for rank, (word, date) in enumerate(written):
        for later, other in written[rank + 1 :]:
            if before(other, date):
                message = f"{litter.id} has {later} on {other}, before {word} on {date}"
                _impossible(report, litter.place, message, "paired, then laid, then born")
    if before(litter.expected, litter.paired):
        message = f"{litter.id} is expected on {litter.expected}, before it was paired on {litter.paired}"
        _impossible(report, litter.place, message, "a later day")
    dam = animals.get(litter.dam or "")
    kind = species.get(litter.species)
    lived = litter.laid or (litter.born if kind and kind.births is Births.LIVE else None)
    if dam is not None and before(dam.died, lived):
        message = f"{dam.id}, the dam of {litter.id}, died on {dam.died}, before {lived}"
        _impossible(report, litter.dam_place or litter.place, message, "a dam that lived then", dam.place)


def _check_parent(naming: Parent, parent: Animal, born: PartialDate, species: Species | None, report: Report) -> None:
    """A parent was born, and old enough, when its young was born."""
    if parent.born is None:
        return
    if born.latest <= parent.born.earliest:
        _impossible(
            report,
            naming.place,
            f"{naming.of} was born on {born}, and its {naming.word} {parent.id} on {parent.born}",
            "a parent that is older than its young",
            parent.place,
        )
        return
    sex = Sex.FEMALE if naming.as_dam else Sex.MALE
    bound = species.breeding_age_months.get(sex, 0) if species else 0
    if species and born.latest < months_later(parent.born.earliest, bound):
        report.error(
            Kind.DATE_IMPOSSIBLE,
            naming.place,
            f"{naming.of} was born on {born}, before its {naming.word} {parent.id} (born {parent.born}) could breed",
            expected=f"a {naming.word} of at least {bound} months, as {species.name} has it under breeding_age",
            remedy="correct the parent or one of the dates, or breeding_age in the species file",
            others=(parent.place, species.place),
        )
    elif born.latest < months_later(parent.born.earliest, EARLY_BREEDING_MONTHS):
        report.notice(
            Kind.DATE_UNUSUAL,
            naming.place,
            f"{parent.id} was younger than {EARLY_BREEDING_MONTHS} months when {naming.of} was born",
            expected="an older parent",
            remedy="check both dates, or write confirmed: true in the litter's record",
            others=(parent.place,),
        )
