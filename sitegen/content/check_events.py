"""Cross-checks of diaries: of whom an event can be and when, litters of a dam that overlap, offers that should wait.

Partial dates are taken at their best, as in :mod:`sitegen.content.check_dates`.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations

from sitegen.content.animals import Animal
from sitegen.content.check_dates import LONGEST_WITHOUT_PAIRING_DAYS, before, happened, tell_impossible
from sitegen.content.events import OF_BREEDING, OF_TWO, Event, EventKind
from sitegen.content.litters import Litter, Spots, gravid
from sitegen.content.prices import OfferState
from sitegen.content.report import Report
from sitegen.content.species import Births, Species
from sitegen.content.values import PartialDate
from sitegen.findings import Kind
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId, parents_of

_GRAVID = frozenset({EventKind.OVULATED, EventKind.PRELAY_SHED, EventKind.POSTOVULATION_SHED})
"""Events by which a dam is known to be gravid."""
_OF_THE_DEAD = ("a test", "its test", "its judging", "the beginning of its offer", "its death")


def check_events(
    animals: Mapping[AnimalId, Animal],
    litters: Mapping[str, Litter],
    species: Mapping[str, Species],
    spots: Spots,
    report: Report,
) -> None:
    """Tells events that cannot be right, and litters of one dam that overlap."""
    checks = _Checks(animals, spots, report)
    for animal in animals.values():
        for event in animal.events:
            checks.with_another(event, animal)
        checks.lived(animal)
    for litter in litters.values():
        for event in litter.events:
            checks.of_parents(event, litter)
            checks.in_order(event, litter)
    by_dam: dict[AnimalId, list[Litter]] = {}
    for litter in litters.values():
        if litter.dam is not None:
            by_dam.setdefault(litter.dam, []).append(litter)
    for dam, own in by_dam.items():
        terms = [term for litter in own if (term := _term(litter, species.get(litter.species)))]
        for one, other in combinations(sorted(terms, key=lambda term: term.first), 2):
            _check_overlap(dam, one, other, report)


@dataclass(frozen=True, slots=True)
class _Checks:
    animals: Mapping[AnimalId, Animal]
    spots: Spots
    report: Report

    def with_another(self, event: Event, animal: Animal) -> None:
        """An event of two has another animal, of the other sex and the same species; an event of one has none."""
        if event.what not in OF_TWO:
            self._check_alone(event)
        elif event.partner is not None:
            self._check_pair(event, animal, event.partner)
        elif event.what is not EventKind.SEPARATED:
            expected, remedy = f"{{date: {event.date}, what: {event.what}, with: ANIMAL}}", "name it under with"
            self.report.missing(event.place, f"the other animal of {event.what} is not named", expected, remedy)

    def _check_alone(self, event: Event) -> None:
        if event.partner is not None:
            self.report.wrong(
                event.place,
                f'"{event.what}" is of one animal, and names another',
                f"with, beside {', '.join(sorted(OF_TWO))} alone",
                "delete with, and write the event in the record of each animal that it is of",
            )

    def _check_pair(self, event: Event, animal: Animal, partner: AnimalId) -> None:
        other = self.animals.get(partner)
        if other is None:
            return
        if other.id == animal.id:
            self.report.wrong(
                event.place, f"{animal.id} is named as its own partner", "another animal", "correct the name under with"
            )
        elif animal.sex is other.sex and animal.sex is not Sex.UNKNOWN:
            sex = animal.sex.value
            self.report.error(
                Kind.SEX_CLASH,
                event.place,
                f'{animal.id} and {other.id} are both recorded as {sex}, and "{event.what}" is of a pair',
                expected="a female and a male",
                remedy="correct the name under with, or the sex in one of the two records",
                others=[self.spots.of_animal(each, "sex") for each in (animal, other)],
            )
        elif animal.species != other.species:
            self.report.error(
                Kind.SPECIES_CLASH,
                event.place,
                f"{animal.id} is a {animal.species}, and {other.id} a {other.species}",
                expected="two animals of one species",
                remedy="correct the name under with, or one of the two species",
                others=(animal.place, other.place),
            )
        else:
            self._check_there(event, other)

    def lived(self, animal: Animal) -> None:
        """Nothing but what is judged or tested of it is dated after an animal's death."""
        told = animal.died is None or before(animal.died, animal.born)
        for what, date, where in () if told else happened(animal, self.spots):
            if before(animal.died, date) and not what.startswith(_OF_THE_DEAD):
                message = f"{animal.id} died on {animal.died}, and {what} is dated {date}"
                death = self.spots.of_animal(animal, "died")
                tell_impossible(self.report, where(), message, "a date before the death", death)

    def of_parents(self, event: Event, litter: Litter) -> None:
        """An event of a litter is of its parents, which lived then."""
        parents = parents_of(litter)
        if event.what not in OF_TWO:
            self._check_alone(event)
        elif event.partner is not None and event.partner not in parents:
            self.report.wrong(
                event.place,
                f"{event.partner} is no parent of {litter.id} as its record has it",
                f"one of {', '.join(parents)}",
                "correct the name under with, or write the event in the record of the animal that it is of",
            )
        if event.what in OF_BREEDING:
            of_two = event.what in OF_TWO
            sires = [event.partner] if event.partner else [sire for sire, _ in litter.sires if len(litter.sires) == 1]
            for name in dict.fromkeys([litter.dam, *(sires if of_two else ())]):
                if name in self.animals:
                    self._check_there(event, self.animals[name])

    def _check_there(self, event: Event, animal: Animal) -> None:
        for word, gone in (("born", before(event.date, animal.born)), ("died", before(animal.died, event.date))):
            if gone:
                told = f'{animal.id} says "{word}" {getattr(animal, word)}, and its "{event.what}" is {event.date}'
                where = self.spots.of_animal(animal, word)
                tell_impossible(self.report, event.place, told, "a day on which it lived", where)

    def in_order(self, event: Event, litter: Litter) -> None:
        """What young are waited for by comes before them and their eggs; nothing but a note comes after a failure."""
        over = [("laid", litter.laid), ("born", litter.born)] if event.what in OF_BREEDING else []
        if litter.failed and event.what is not EventKind.NOTE:
            over.append(("failed", litter.failed.date))
        for word, date in over:
            if before(date, event.date):
                tell_impossible(
                    self.report,
                    event.place,
                    f'{litter.id} says "{word}" {date}, and its event "{event.what}" is dated {event.date}',
                    f"a day before it was {word}; what came later belongs into the dam's record or the next litter's",
                    self.spots.of_litter(litter, word),
                )
                return


@dataclass(frozen=True, slots=True)
class _Term:
    """From when to when a dam waits for a litter.

    Attributes:
        begun: When she was paired, or the first event of it; None when not recorded.
        sure: From when she is known to be gravid, at the latest when it was over.
        over: When the litter was born or the clutch laid, or failed; None while it is waited for.
        until: That day, or else the last day for which it is reasonable to wait.
    """

    litter: Litter
    begun: PartialDate | None
    sure: PartialDate | None
    over: PartialDate | None
    until: PartialDate | None

    @property
    def first(self) -> tuple[PartialDate, str]:
        """By what litters stand in order."""
        return self.begun or self.sure or PartialDate(dt.MAXYEAR), self.litter.id


def _term(litter: Litter, kind: Species | None) -> _Term | None:
    """None for a litter that nobody waited for, or of which nobody knows when it was over."""
    if not gravid(litter):
        return None
    failed = litter.failed.date if litter.failed else None
    over = (litter.born if kind is None or kind.births is Births.LIVE else litter.laid) or failed
    if over is None and litter.born:
        return None
    bred = [event.date for event in litter.events if event.what in OF_BREEDING]
    known = [event.date for event in litter.events if event.what in _GRAVID]
    begun = min([*([litter.paired] if litter.paired else []), *bred], default=None)
    sure = min(known, default=over)
    until = over or litter.expected or _year_after(begun)
    return _Term(litter, begun, sure, over, until) if begun or sure else None


def _year_after(begun: PartialDate | None) -> PartialDate | None:
    last = begun.latest + dt.timedelta(days=LONGEST_WITHOUT_PAIRING_DAYS) if begun else None
    return PartialDate(last.year, last.month, last.day) if last else None


def _check_overlap(dam: AnimalId, first: _Term, second: _Term, report: Report) -> None:
    """No pregnancy begins within another. A second clutch of one pairing is none that began within the first."""
    one, other = first.litter, second.litter
    if _within(first.sure, second.sure, first.over) or _within(second.sure, first.sure, second.over):
        tell_impossible(
            report,
            other.place,
            f"{dam} is known to be gravid with {one.id} and with {other.id} at one time",
            "one pregnancy after the other",
            one.place,
        )
    elif first.begun != second.begun and _within(first.begun, second.begun, first.until):
        waited = "is still waited for" if first.over is None else f"was over on {first.over}"
        report.notice(
            Kind.DATE_UNUSUAL,
            other.place,
            f"{other.id} began on {second.begun}, and {one.id} of the same dam, begun on {first.begun}, {waited}",
            expected="one litter of a dam after the other",
            remedy=f"write what came of {one.id} (sitegen add outcome), or one record for both if they are one litter; "
            "confirmed: true if it was so",
            others=(one.place,),
        )


def _within(start: PartialDate | None, date: PartialDate | None, end: PartialDate | None) -> bool:
    """True when a date certainly lies between two others."""
    return before(start, date) and before(date, end)


def check_offered(animals: Mapping[AnimalId, Animal], today: dt.date, report: Report) -> None:
    """Tells offers of animals that are in quarantine, or of which a permit has run out."""
    for animal in animals.values():
        if animal.offer and animal.offer.state in (OfferState.AVAILABLE, OfferState.ON_HOLD) and not animal.died:
            for why, remedy in _why_not(animal, today):
                report.notice(
                    Kind.OFFER_CLASH,
                    animal.offer.place,
                    f"{animal.id} is offered as {animal.offer.state.value}, and {why}",
                    expected="an offer that begins when nothing stands against it",
                    remedy=remedy,
                )


def _why_not(animal: Animal, today: dt.date) -> Iterator[tuple[str, str]]:
    if animal.quarantine and animal.quarantine.until.latest >= today:
        yield (
            f"is in quarantine until {animal.quarantine.until}",
            f"wait with the offer (sitegen set {animal.id} not-for-sale), or correct until if it is over",
        )
    for permit in animal.permits:
        if permit.valid_until and permit.valid_until.latest < today:
            what = f"its permit ({permit.kind})" if permit.kind else "a permit of it"
            yield f"{what} ran out on {permit.valid_until}", "renew the permit and write the new day under valid_until"
