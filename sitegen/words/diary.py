"""The keeper's diary: what happened to each animal and litter on its day, a line each; it is never published."""

from collections.abc import Iterator
from typing import NamedTuple

from sitegen.content.animals import Animal, Meal
from sitegen.content.collection import Collection
from sitegen.content.events import OF_TWO, Event, EventKind
from sitegen.content.litters import Failed, Litter, living_young
from sitegen.content.values import Measuring, PartialDate, Weighing
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import length_text, weight_text
from sitegen.words.speech import animal_name
from sitegen.words.today import english_of


class Came(NamedTuple):
    """That a litter was paired, laid or born."""

    date: PartialDate
    what: str


Entry = Weighing | Measuring | Meal | Event | Failed | Came
_WORDS = {
    EventKind.INTRODUCED: "was introduced to", EventKind.COPULATION: "copulated with",
    EventKind.SEPARATED: "was separated from", EventKind.COOLED: "was cooled", EventKind.WARMED: "was warmed",
    EventKind.OVULATED: "ovulated", EventKind.PRELAY_SHED: "shed before laying",
    EventKind.POSTOVULATION_SHED: "shed after ovulation", EventKind.SHED: "shed",
    EventKind.VET: "was seen by a veterinarian", EventKind.QUARANTINED: "went into quarantine",
    EventKind.MOVED: "was moved", EventKind.NOTE: "has a note",
}  # fmt: skip
"""Of an animal; what happened to a litter is told by the name of its kind."""


def happenings(collection: Collection, named: str = "") -> list[tuple[Animal | Litter, Entry]]:
    """All that happened, the latest first; of the animal or litter with an id, where one is given."""
    records: list[Animal | Litter] = [*collection.animals.values(), *collection.litters.values()]
    found = ((record, each) for record in records for each in _entries(record))
    asked = (each for each in found if not named or named in (each[0].id, getattr(each[1], "partner", None)))
    return sorted(asked, key=lambda each: each[1].date, reverse=True)


def _entries(record: Animal | Litter) -> Iterator[Entry]:
    yield from record.events
    if isinstance(record, Animal):
        yield from record.weights
        yield from record.lengths
        yield from record.meals
        return
    days = {"paired": record.paired, "laid": record.laid, "born": record.born}
    yield from (Came(day, what) for what, day in days.items() if day)
    yield from (record.failed,) if record.failed else ()


def diary_line(record: Animal | Litter, entry: Entry, collection: Collection) -> tuple[str, str]:
    """Who, and what follows the name: ``Juniper``, `` weighed 402 g.``."""
    note = f" ({entry.note.rstrip('.')})" if isinstance(entry, Event) and entry.note else ""
    if isinstance(record, Litter):
        return record.name, f": {_of_litter(record, entry, collection)}{note}."
    return animal_name(collection, record.id), f" {_of_animal(entry, collection)}{note}."


def _of_animal(entry: Entry, collection: Collection) -> str:
    units, language = collection.site.units, english_of(collection.site)
    match entry:
        case Weighing():
            return f"weighed {weight_text(entry.grams, units, language)}"
        case Measuring():
            return f"measured {length_text(entry.millimetres, units, language)}"
        case Meal():
            return f"{'took' if entry.taken else 'refused'} {entry.what}"
        case Event() if entry.what in OF_TWO:
            return f"{_WORDS[entry.what]} {animal_name(collection, entry.partner) if entry.partner else 'another'}"
        case Event():
            return _WORDS[entry.what]
    return entry.what


def _of_litter(litter: Litter, entry: Entry, collection: Collection) -> str:
    match entry:
        case Came(what="laid") if litter.eggs:
            return f"{litter.eggs} eggs laid"
        case Came(what="born"):
            return f"{living_young(litter)} {birth_words(collection.species[litter.species]).came} alive"
        case Event() | Failed() | Came():
            return ("failed, " if isinstance(entry, Failed) else "") + entry.what.replace("-", " ")
    return ""
