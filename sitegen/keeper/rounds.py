"""The round: what was seen of each animal on one day, its weight, a meal, a shed, a note, kept as one change."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.check_unusual import GROWTH, GROWTH_DAYS
from sitegen.content.events import EventKind
from sitegen.content.report import Report
from sitegen.content.site import Site
from sitegen.content.values import Weighing, read_grams
from sitegen.content.yaml_tree import Scalar
from sitegen.findings import Place, WrongUse
from sitegen.genetics.questions import AnimalId
from sitegen.keeper.entries import quantity_text
from sitegen.keeper.lookup import find_animal
from sitegen.keeper.record_text import Value
from sitegen.keeper.records import Added, Proposal, RecordPlace, Records, changed
from sitegen.words.rounds import other_question, unusual_question

HALF, TWICE, TWICE_DAYS = 2, 2, 30
"""An animal that weighs half of what it last did, or within so many days twice, is asked about. Common practice, no
source."""
_FEW = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What was seen of one animal; what is empty says nothing.

    Attributes:
        weight: With its unit.
        fed: What was offered.
        note: Never published; it stands with the shed where there is one.
        known: Grams of that day of which whoever entered the weight knew.
        sure: The weight was asked about, and is right.
        before: What was entered a moment ago, and is to be replaced where it still stands.
    """

    animal: AnimalId
    weight: str = ""
    fed: str = ""
    refused: bool = False
    shed: bool = False
    note: str = ""
    known: str = ""
    sure: bool = False
    before: "Seen | None" = None

    def __str__(self) -> str:
        meal = f"{self.fed} {'refused' if self.refused else 'taken'}" if self.fed else ""
        return ", ".join(filter(None, (quantity_text(self.weight), meal, "shed" if self.shed else "", self.note)))

    @property
    def grams(self) -> int | None:
        """The weight; None for none, or for what is no weight, which is told when the record is checked."""
        return read_grams(Scalar(quantity_text(self.weight), Place("")), Report())

    def entries(self, day: str) -> Mapping[str, Value]:
        """What it adds to the meals and to the events of a record."""
        found: dict[str, Value] = {}
        if self.fed:
            found["meals"] = {"date": day, "what": self.fed, **({"taken": False} if self.refused else {})}
        if self.shed or self.note:
            note = {"note": " ".join(self.note.split())} if self.note else {}
            found["events"] = {"date": day, "what": (EventKind.SHED if self.shed else EventKind.NOTE).value, **note}
        return found


def add_seen(records: Records, seen: Sequence[Seen], on: dt.date) -> Proposal:
    """What was seen of some animals on a day; a weight takes the place of another one of that day.

    Raises:
        WrongUse: There is no such animal, or nobody says what it refused.
        ContentError, CannotEdit: A record cannot be changed.
    """
    day, by_file = on.isoformat(), dict[str, dict[tuple[str, ...], Value | Added]]()
    for each in seen:
        place = find_animal(records, each.animal)
        if each.refused and not each.fed:
            raise WrongUse(f"say what {place.shown} refused")
        values = by_file.setdefault(place.file, {})  # young of one litter stand in one file
        if each.weight:
            values[*place.keys, "weights", day] = quantity_text(each.weight)
        before = each.before.entries(day) if each.before else {}
        for key, entry in each.entries(day).items():
            values[*place.keys, key] = Added(entry, before.get(key))
    files = [file for path, values in by_file.items() for file in changed(records, RecordPlace("", path), values)]
    if not seen:
        return Proposal((), "Nothing was entered.")
    told = "; ".join(f"{each.animal} {each}" for each in seen) if len(seen) <= _FEW else f"{len(seen)} animals"
    return Proposal(tuple(files), f"On {day}: {told}." if files else f"On {day}, {told}: that stands there already.")


def question_of(seen: Seen, animal: Animal, on: dt.date, site: Site) -> str:
    """What is asked before a weight is kept; empty where nothing is to be asked."""
    grams, there = seen.grams, weighing_on(animal, on)
    if grams is None or seen.sure:
        return ""
    known = (seen.known, str(seen.before.grams) if seen.before else "")
    if there and there.grams != grams and str(there.grams) not in known:
        return other_question(grams, there, site)
    last = max((each for each in animal.weights if each.date.latest < on), key=lambda each: each.date, default=None)
    if last is None:
        return ""
    days = (on - last.date.latest).days
    too_much = days <= GROWTH_DAYS and grams >= (TWICE if days <= TWICE_DAYS else GROWTH) * last.grams
    return unusual_question(grams, last, site) if too_much or HALF * grams <= last.grams else ""


def weighing_on(animal: Animal, day: dt.date) -> Weighing | None:
    """Its weight of that very day."""
    return next((each for each in animal.weights if each.date.day and each.date.earliest == day), None)
