"""Cross-checks of dates: nothing before it can have been, and nothing but what is planned after today.

Partial dates are taken at their best: a finding is told only when no reading of them is possible. Of what lies ahead,
one day more than today is let pass: it is tomorrow already elsewhere in the world.
"""

import datetime as dt
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial

from sitegen.content.animals import Animal
from sitegen.content.check_pedigree import Parent, namings
from sitegen.content.declaration import Written
from sitegen.content.litters import Litter, Spots
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.prices import OfferState
from sitegen.content.projects import Project
from sitegen.content.report import Report
from sitegen.content.species import Births, Species
from sitegen.content.values import PartialDate, WrittenAge
from sitegen.content.yaml_tree import Node
from sitegen.findings import Kind, Level, Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId

Dated = tuple[str, PartialDate | None, Callable[[], Node | Place]]
"""Something dated: in words, when, and what finds where it is written."""

LITTER_DAYS = 31
"""Young of one clutch hatch, or of one litter are born, within so many days. Common practice, no source: days, not
weeks."""

LONGEST_WITHOUT_PAIRING_DAYS = 366
"""From a pairing to the young without sperm being kept over a season. Common practice, no source: three to nine
months."""

EARLY_BREEDING_MONTHS = 16
"""First breeding below this age asks the keeper to confirm. Source: lowest of the published ages at first
breeding of corn snakes, 16 to 18 months, in a nature centre's sheet of 2019."""


def check_dates(
    animals: Mapping[AnimalId, Animal],
    litters: Mapping[str, Litter],
    species: Mapping[str, Species],
    spots: Spots,
    report: Report,
) -> None:
    """Tells dates that cannot be right, and parents that were not born or too young."""
    for animal in animals.values():
        litter = litters.get(animal.litter)
        _check_animal(animal, litter, spots, report)
    for litter in litters.values():
        _check_litter(litter, animals.get(litter.dam or ""), species.get(litter.species), spots, report)
    for naming in namings(animals, litters):
        parent = animals.get(naming.parent)
        if parent is None:
            continue
        first = next(_first_event(naming.of, animals, litters), None)
        if parent.born is not None and first is not None:
            _check_parent(naming, parent, first, species.get(parent.species), spots, report)
        litter = litters.get(naming.of)
        is_told = naming.as_dam and litter is not None and before(parent.died, _lived(litter, species))
        if parent.died is not None and not is_told:
            _check_lived(naming, parent, litter.paired if litter else None, first, spots, report)


def _check_animal(animal: Animal, litter: Litter | None, spots: Spots, report: Report) -> None:
    _check_life(animal, spots, report)
    if litter is not None:
        _check_born_with(animal, litter, spots, report)
    _check_offer(animal, spots, report)


def _first_event(
    record_id: str, animals: Mapping[AnimalId, Animal], litters: Mapping[str, Litter]
) -> Iterator[tuple[str, PartialDate]]:
    """When a litter or an animal came into the world, or else when its clutch was laid; nothing when not known."""
    record = litters.get(record_id) or animals.get(record_id)
    if record is not None and record.born is not None:
        yield "born", record.born
    elif isinstance(record, Litter) and record.laid is not None:
        yield "laid", record.laid


def before(first: PartialDate | None, second: PartialDate | None) -> bool:
    """True when the first date is certainly earlier than the second one."""
    return first is not None and second is not None and first.latest < second.earliest


def tell_impossible(report: Report, where: Node | Place, message: str, expected: str, *others: Node | Place) -> None:
    """Tell a date that cannot be, beside others."""
    report.error(
        Kind.DATE_IMPOSSIBLE, where, message, expected=expected, remedy="correct one of the two dates", others=others
    )


def happened(animal: Animal, spots: Spots) -> Iterator[Dated]:
    """What is dated in an animal's life after its birth."""
    yield "its death", animal.died, partial(spots.of_animal, animal, "died")
    if animal.acquired:
        yield "the day it was acquired", animal.acquired.date, partial(spots.of_animal, animal, "acquired", "date")
    for weighing in animal.weights:
        yield "a weight", weighing.date, partial(spots.of_dated, animal, "weights", weighing.date)
    for measuring in animal.lengths:
        yield "a length", measuring.date, partial(spots.of_dated, animal, "lengths", measuring.date)
    for event in animal.events:
        yield f'its event "{event.what}"', event.date, partial(_here, event.place)
    for meal in animal.meals:
        yield "a meal", meal.date, partial(spots.of_dated, animal, "meals", meal.date)
    for genes in animal.genes:
        yield "its judging", genes.judged.on, partial(_here, genes.judged.place)
        for test in genes.tests:
            yield f"its test for {test.locus}", test.date, partial(_here, test.place)
    if animal.offer:
        yield "the beginning of its offer", animal.offer.since, partial(spots.of_animal, animal, "offer", "since")


def _check_life(animal: Animal, spots: Spots, report: Report) -> None:
    """Nothing of an animal's life is dated before its birth."""
    born = animal.born
    if born is None:
        return
    ready = animal.offer.ready if animal.offer else None
    to_come: Dated = "the day it is ready", ready, partial(spots.of_animal, animal, "offer", "ready")
    for what, date, where in (*happened(animal, spots), to_come):
        if before(date, born):
            message = f"{animal.id} was born on {born}, and {what} is dated {date}"
            tell_impossible(report, where(), message, "a date after the birth", spots.of_animal(animal, "born"))
    for photo in animal.photos:
        if before(photo.date, born):
            report.notice(
                Kind.DATE_UNUSUAL,
                Place(photo.path),
                f"by its name this photo of {animal.id} was taken on {photo.date}, before the birth on {born}",
                expected="a date after the birth",
                remedy="correct the file name, or move the photo to the animal it shows",
                others=[spots.of_animal(animal, "born")],
            )


def _here(place: Place) -> Place:
    return place


def _check_offer(animal: Animal, spots: Spots, report: Report) -> None:
    """A dead or kept animal is not on offer, and a hold ends after it began."""
    offer = animal.offer
    if offer is None or offer.state not in (OfferState.AVAILABLE, OfferState.ON_HOLD):
        return
    if animal.died is not None:
        report.error(
            Kind.OFFER_CLASH,
            offer.place,
            f"{animal.id} died on {animal.died} and is offered as {offer.state.value}",
            expected="no offer, or one that was closed before",
            remedy="delete the offer",
        )
    elif animal.kept:
        report.notice(
            Kind.OFFER_CLASH,
            offer.place,
            f"{animal.id} is kept and is offered as {offer.state.value} as well",
            expected="kept: true, or an offer",
            remedy="delete one of the two",
        )
    if offer.state is OfferState.ON_HOLD and before(offer.until, offer.since):
        tell_impossible(
            report,
            spots.of_animal(animal, "offer", "until"),
            f"{animal.id} is on hold since {offer.since}, and until {offer.until}",
            "a last day that comes after the first one",
            spots.of_animal(animal, "offer", "since"),
        )


def _check_litter(litter: Litter, dam: Animal | None, kind: Species | None, spots: Spots, report: Report) -> None:
    """Paired, laid and born follow each other, and the dam lived."""
    steps: list[tuple[str, PartialDate | None]] = [("paired", litter.paired), ("laid", litter.laid)]
    if litter.failed:  # before or after the day that was expected
        steps.append(("failed", litter.failed.date))
    else:
        steps += [("born", litter.born), ("expected", litter.expected)]
    for rank, (word, date) in enumerate(steps):
        for later, other in steps[rank + 1 :]:
            if before(other, date) and (word, later) != ("born", "expected"):
                message = f'{litter.id} says "{later}" {other}, which is before "{word}" {date}'
                expected = f"paired, then laid, then {'failed' if litter.failed else 'born'}"
                where = spots.of_litter(litter, later)
                tell_impossible(report, where, message, expected, spots.of_litter(litter, word))
    lived = _lived(litter, {litter.species: kind} if kind else {})
    if dam is not None and before(dam.died, lived):
        message = f"{dam.id}, the dam of {litter.id}, died on {dam.died}, before {lived}"
        where = litter.dam_place or litter.place
        tell_impossible(report, where, message, "a dam that lived then", spots.of_animal(dam, "died"))


def _lived(litter: Litter, species: Mapping[str, Species]) -> PartialDate | None:
    """A day on which the dam certainly lived."""
    kind = species.get(litter.species)
    return litter.laid or (litter.born if kind and kind.births is Births.LIVE else None)


def _check_born_with(animal: Animal, litter: Litter, spots: Spots, report: Report) -> None:
    """Littermates are born or hatch within a month of each other."""
    if animal.born is None or litter.born is None:
        return
    early, late = sorted((animal.born, litter.born))
    if (late.earliest - early.latest).days > LITTER_DAYS:
        report.error(
            Kind.BORN_APART,
            spots.of_animal(animal, "born"),
            f"{animal.id} was born on {animal.born}, and its litter {litter.id} on {litter.born}",
            expected=f"at most {LITTER_DAYS} days between them",
            remedy="correct one of the two dates; a second litter of the same pairing has a record of its own",
            others=[spots.of_litter(litter, "born")],
        )


def _check_lived(
    naming: Parent,
    parent: Animal,
    paired: PartialDate | None,
    first: tuple[str, PartialDate] | None,
    spots: Spots,
    report: Report,
) -> None:
    """A parent lived when it was paired; where that day is not written, a year before the young came.

    Of a dam that is impossible. A dam may bear the young of a sire that died, by sperm that she kept; then the pairing
    was an earlier one than is written.
    """
    assert parent.died is not None
    if paired is not None:
        gone, then = before(parent.died, paired), f"before the pairing on {paired}"
    elif first is not None:
        gone = (first[1].earliest - parent.died.latest).days > LONGEST_WITHOUT_PAIRING_DAYS
        then = f"more than a year before {naming.of} was {first[0]} on {first[1]}"
    else:
        return
    if gone:
        kept = "; if the dam kept sperm, write the day of that earlier pairing under paired in the litter's record"
        report.tell(
            Level.ERROR if naming.as_dam else Level.NOTICE,
            Kind.PARENT_DEAD,
            naming.place,
            f"{parent.id}, the {naming.word} of {naming.of}, died on {parent.died}, {then}",
            expected=f"a {naming.word} that lived then",
            remedy=f"correct the {naming.word} or one of the dates{'' if naming.as_dam else kept}",
            others=[spots.of_animal(parent, "died")],
        )


def _check_parent(
    naming: Parent,
    parent: Animal,
    first: tuple[str, PartialDate],
    species: Species | None,
    spots: Spots,
    report: Report,
) -> None:
    """A parent was born, and old enough, when its young was born."""
    event, born = first
    assert parent.born is not None
    if born.latest <= parent.born.earliest:
        tell_impossible(
            report,
            naming.place,
            f"{naming.of} was {event} on {born}, and its {naming.word} {parent.id} on {parent.born}",
            "a parent that is older than its young",
            spots.of_animal(parent, "born"),
        )
        return
    sex = Sex.FEMALE if naming.as_dam else Sex.MALE
    bound = species.breeding_age_months.get(sex, 0) if species else 0
    if species and born.latest < WrittenAge(months=bound).reached(parent.born.earliest):
        report.error(
            Kind.DATE_IMPOSSIBLE,
            naming.place,
            f"{naming.of} was {event} on {born}, before its {naming.word} {parent.id} (born {parent.born}) could breed",
            expected=f"a {naming.word} of at least {bound} months, as {species.name} has it under breeding_age",
            remedy="correct the parent or one of the dates, or breeding_age in the species file",
            others=[spots.of_animal(parent, "born"), species.place],
        )
    elif born.latest < WrittenAge(months=EARLY_BREEDING_MONTHS).reached(parent.born.earliest):
        report.notice(
            Kind.DATE_UNUSUAL,
            naming.place,
            f"{parent.id} was younger than {EARLY_BREEDING_MONTHS} months when {naming.of} was {event}",
            expected="an older parent",
            remedy="check both dates, or write confirmed: true in the litter's record",
            others=[spots.of_animal(parent, "born")],
        )


def check_ahead(
    animals: Mapping[AnimalId, Animal],
    litters: Mapping[str, Litter],
    projects: Iterable[tuple[Project, Written]],
    spots: Spots,
    today: dt.date,
    report: Report,
) -> None:
    """Tells what is said to have happened on a day that has not come."""
    for animal in animals.values():
        litter = litters.get(animal.litter)
        _tell(animal.id, partial(_of_animal, animal, litter, spots), today, report)
    for litter in litters.values():
        _tell(litter.id, partial(_of_litter, litter, spots), today, report)
    for project, form in projects:
        _tell(project.id, partial(_of_project, project, form), today, report)


def _tell(record_id: str, events: Callable[[], Iterator[Dated]], today: dt.date, report: Report) -> None:
    for what, date, where in events():
        if date is not None and (date.earliest - today).days > 1:
            report.error(
                Kind.DATE_AHEAD,
                where(),
                f"{record_id}: {what} is dated {date}, and today is {today}",
                expected="a day that has come; only what is planned may lie ahead",
                remedy="correct the date. Is the clock of this computer right? Another day is said with --date",
            )


def _of_animal(animal: Animal, litter: Litter | None, spots: Spots) -> Iterator[Dated]:
    if litter is None or animal.born != litter.born:  # told once, at the litter
        yield "its birth", animal.born, partial(spots.of_animal, animal, "born")
    yield from happened(animal, spots)
    yield from _of_photos(animal.photos)


def _of_litter(litter: Litter, spots: Spots) -> Iterator[Dated]:
    failed = litter.failed.date if litter.failed else None
    over = litter.laid or litter.born or failed
    dates = (("paired", litter.paired if over else None), ("laid", litter.laid), ("born", litter.born))
    for word, date in (*dates, ("failed", failed)):
        yield f'"{word}"', date, partial(spots.of_litter, litter, word)
    for event in litter.events:
        yield f'its event "{event.what}"', event.date, partial(_here, event.place)
    for others in litter.others:
        yield "the judging of its others", others.judged.on, partial(_here, others.place)
    yield from _of_photos(litter.photos)


def _of_project(project: Project, form: Written) -> Iterator[Dated]:
    yield "its start", project.started, partial(form.at, "started")
    for decision in project.decisions:
        yield "a decision", decision.date, partial(_here, decision.place)
    for update in project.updates:
        yield "a note", update.date, partial(_here, update.place)
        yield from _of_photos(update.photos)
    yield from _of_photos(project.photos)


def _of_photos(photos: Iterable[PhotoRecord]) -> Iterator[Dated]:
    for photo in photos:
        yield "by its name a photo", photo.date, partial(_here, Place(photo.path))
