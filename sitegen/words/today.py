"""What a day asks of the keeper, in sentences for the terminal and for check; none of it is ever published.

Nothing is diagnosed: where an animal refuses, loses weight or is late, the sentence sends to a veterinarian.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence

from sitegen.content.collection import Collection
from sitegen.content.litters import Litter, living_young
from sitegen.content.prices import OfferState
from sitegen.content.site import Site
from sitegen.content.values import PartialDate, Weighing
from sitegen.findings import Finding, Kind, Level, Place
from sitegen.genetics.questions import AnimalId
from sitegen.plans.today import Asks, Comes, Matter, litters_of_day
from sitegen.plans.waiting import Fit
from sitegen.words.claims import short_phrase
from sitegen.words.numbers import date_text, small_number, weight_text
from sitegen.words.speech import Voice, animal_name, listed, plain
from sitegen.words.year import span_places


def overdue_findings(collection: Collection, day: dt.date) -> Iterator[Finding]:
    """A notice for each litter that is late on a day; no page says anything that hangs on the day it is read."""
    for matter in litters_of_day(collection, day):
        if matter.what is Asks.OVERDUE:
            litter = collection.litters[matter.id]
            came = "--laid DAY" if matter.comes is Comes.EGGS else "--born DAY --young NUMBER"
            dam = animal_name(collection, matter.dams[0]) if matter.dams else ""
            yield Finding(
                Level.NOTICE,
                Kind.LITTER_OVERDUE,
                litter.place,
                f"{litter.id} is late: {_late(matter, str(matter.day))}",
                expected="what came of it",
                remedy=f"write it down: sitegen add outcome {litter.id} {came}, or --failed WHAT"
                + (f"; else ask a veterinarian about {dam}" if dam else ""),
            )


def _late(matter: Matter, day: str) -> str:
    told = f"{matter.comes} were {'likely' if matter.foretold else 'expected'} by {day}"
    return f"{told}; about 10 in 100 come later still" if matter.foretold else told


def english_of(site: Site) -> str:
    """The English of the site, for what its keeper alone reads."""
    return site.language if site.language.startswith("en") else "en-GB"


def litter_line(litter: Litter, site: Site) -> str:
    """What came of a litter, or how far it is, for a list that nobody but the keeper sees."""
    language = english_of(site)
    if litter.failed:
        return f"gave no living young, {date_text(litter.failed.date, language)}"
    if litter.born:
        young = living_young(litter)
        return f"born {date_text(litter.born, language)}" + (f", {young} young" if young else "")
    days = {"laid": litter.laid, "paired": litter.paired}
    begun = next((f"{word} {date_text(day, language)}, " for word, day in days.items() if day), "")
    return f"{begun}still expected"


_OF_SEVERAL = (Asks.WEIGH, Asks.READY)


class DayWords:
    """Says what a day asks."""

    def __init__(self, collection: Collection, day: dt.date) -> None:
        """Speak of these records on that day."""
        self.collection, self.day = collection, day
        self.units, self.language = collection.site.units, english_of(collection.site)

    def lines(self, matters: Sequence[Matter]) -> Iterator[tuple[str, Place | None]]:
        """A sentence each with its record.

        Animals that were last weighed on one day share one, littermates among each other, and so do littermates that
        are ready alike. A sentence of several records has no place.
        """
        if not matters:
            yield self.nothing(), None
        for group in self.groups(matters):
            files = {each.place.file for each in group}
            yield self.sentence(*group), group[0].place if len(files) == 1 else None

    def nothing(self) -> str:
        """Said of a day that asks nothing."""
        return f"Nothing is due on {self._date(self.day)}."

    def none_yet(self) -> str:
        """Said where no animal is recorded."""
        return "No animal is recorded yet: write down the first."

    def groups(self, matters: Sequence[Matter]) -> list[list[Matter]]:
        """The matters of each sentence."""
        together: dict[tuple[object, ...], list[Matter]] = {}
        for matter in matters:
            together.setdefault(self._together(matter), []).append(matter)
        return list(together.values())

    def fits(self, found: Iterable[Fit], voice: Voice) -> Iterator[tuple[str, Place | None]]:
        """Which offers fit, or may fit, what somebody waits for, with the entry in the waiting list.

        Littermates that fit alike share a sentence.
        """
        together: dict[tuple[Place, bool, str, str], list[Fit]] = {}
        for fit in found:
            told = [plain(short_phrase(claim, voice)) for claim in fit.claims]
            told += ["the sex is not known"] if fit.sex_open else []
            animal = fit.animal.litter if fit.animal.is_young else fit.animal.id
            together.setdefault((fit.person.place, fit.is_sure, "; ".join(told), animal), []).append(fit)
        for (place, sure, what, _), group in together.items():
            person, verb = group[0].person, "fits" if len(group) == 1 else "fit"
            since = f" (since {self._date(person.since)})" if person.since else ""
            own = f" In their words: “{person.wants}”." if person.wants else ""
            names = self._names([fit.animal.id for fit in group])
            found_so = f"{names} {verb if sure else 'may fit'} what {person.name} waits for{since}"
            yield f"{found_so}{': ' if what else ''}{what}.{own}", place

    def _together(self, matter: Matter) -> tuple[object, ...]:
        """What is told in one sentence has the same of this."""
        if matter.what not in _OF_SEVERAL:
            return matter.what, matter.place, matter.id
        animal = self.collection.animals[matter.id]
        litter = animal.is_young and animal.litter
        if matter.what is Asks.READY:
            return matter.what, litter or matter.id, matter.day, matter.text
        return matter.what, litter, matter.weights and matter.weights[0].date

    def sentence(self, *matters: Matter) -> str:
        """What is asked; several are animals to be weighed, or ready."""
        first = matters[0]
        if first.what in _OF_SEVERAL:
            return self._weigh(matters) if first.what is Asks.WEIGH else self._ready(matters)
        return {
            Asks.OVERDUE: self._overdue, Asks.DUE: self._due, Asks.REFUSING: self._refusing,
            Asks.LOSING: self._losing, Asks.LIGHT: self._light, Asks.HOLDS: self._hold,
            Asks.PERMITS: self._permit, Asks.QUARANTINE: self._quarantine, Asks.NEXT: self._next,
        }[first.what](first)  # fmt: skip

    def _overdue(self, matter: Matter) -> str:
        litter, what = self.collection.litters[matter.id], "Write down what came"
        if matter.dams:
            what = f"Ask a veterinarian about {self._name(matter.dams[0])}, and write down what came"
        return f"{litter.name} is late: {_late(matter, self._date(matter.day))}. {what}."

    def _due(self, matter: Matter) -> str:
        assert matter.day
        assert matter.until
        days = f"on {self._date(matter.day)}"
        if matter.until > matter.day:
            days = "between {first} and {last}".format(**span_places(matter.day, matter.until, self.language))
        how = "likely" if matter.foretold else "expected"
        return f"{self.collection.litters[matter.id].name}: {matter.comes} are {how} {days}."

    def _refusing(self, matter: Matter) -> str:
        since = self._date(matter.day)
        return (
            f"{self._name(matter.id)} has refused the last {small_number(matter.number)} meals, since {since}. "
            "Ask a veterinarian."
        )

    def _losing(self, matter: Matter) -> str:
        newest, heaviest = map(self._weighing, matter.weights)
        return f"{self._name(matter.id)} has lost weight: {heaviest}, {newest}. Ask a veterinarian."

    def _light(self, matter: Matter) -> str:
        by, asked, last = self._date(matter.day), self._grams(matter.number), self._weighing(matter.weights[0])
        return f"{self._name(matter.id)} is too light to be paired from {by} on: {last}, {asked} asked."

    def _ready(self, matters: Sequence[Matter]) -> str:
        first, (is_, has) = matters[0], ("is", "has") if len(matters) == 1 else ("are", "have")
        held = first.text == OfferState.ON_HOLD
        names = self._names([each.id for each in matters])
        if first.day in (None, self.day):
            return f"{names} {is_} {'on hold and ' if held else ''}ready to go."
        return f"{names} {f'{is_} on hold and ' if held else ''}{has} been ready to go since {self._date(first.day)}."

    def _hold(self, matter: Matter) -> str:
        ended = "ended" if matter.pressing else "ends"
        return f"The hold of {self._name(matter.id)} {ended} on {self._date(matter.day)}."

    def _permit(self, matter: Matter) -> str:
        named = f" ({matter.text})" if matter.text else ""
        until = "ran out" if matter.pressing else "runs out"
        return f"A permit of {self._name(matter.id)}{named} {until} on {self._date(matter.day)}."

    def _quarantine(self, matter: Matter) -> str:
        return f"{self._name(matter.id)} is in quarantine until {self._date(matter.day)}."

    def _weigh(self, matters: Sequence[Matter]) -> str:
        last = matters[0].weights
        if len(matters) == 1:
            told = f": {self._weighing(last[0])}" if last else "; no weight is recorded"
            return f"{self._name(matters[0].id)} is to be weighed{told}."
        told = f", last on {self._date(last[0].date)}" if last else "; no weight is recorded"
        return f"{self._names([each.id for each in matters])} are to be weighed{told}."

    def _next(self, matter: Matter) -> str:
        project, _, stage = matter.id.partition("/")
        record = self.collection.projects[project]
        pair = f"{self._either(matter.dams)} with {self._either(matter.sires)}"
        return f"{record.name}, {stage}: pair {pair} from {self._date(matter.day)} on."

    def _either(self, animals: Sequence[AnimalId]) -> str:
        return plain(listed([self._name(each) for each in animals], either=True))

    def _names(self, animals: Sequence[AnimalId]) -> str:
        """Several names; littermates by their numbers."""
        own = [self.collection.animals[each] for each in animals]
        litter = self.collection.litters.get(own[0].litter)
        if litter and all(each.is_young and each.name in ("", each.number) for each in own):
            return f"No. {plain(listed([each.number for each in own]))} of {litter.name}"
        return plain(listed([self._name(each) for each in animals]))

    def _name(self, animal: AnimalId) -> str:
        return animal_name(self.collection, animal)

    def _date(self, day: dt.date | PartialDate | None) -> str:
        return date_text(day, self.language) if day else "a day nobody wrote down"

    def _grams(self, grams: int) -> str:
        return weight_text(grams, self.units, self.language)

    def _weighing(self, weighing: Weighing) -> str:
        return f"{self._grams(weighing.grams)} on {self._date(weighing.date)}"
