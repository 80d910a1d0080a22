"""What was noted of animals, of one or of many as one change, and the lines in which it is noted."""

import datetime as dt
import re
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

from sitegen.content.events import OF_TWO, EventKind, read_kind
from sitegen.content.references import same
from sitegen.content.report import Report
from sitegen.content.values import read_date, read_grams, read_millimetres
from sitegen.content.writing import FileChange
from sitegen.content.yaml_tree import Scalar
from sitegen.findings import ContentError, Finding, Kind, Level, Place, WrongUse
from sitegen.keeper.entries import quantity_text
from sitegen.keeper.lookup import find_animal, find_animal_or_litter, names_in_use
from sitegen.keeper.record_text import Value
from sitegen.keeper.records import Added, Keys, Proposal, RecordPlace, Records, Written, changed_in_order
from sitegen.keeper.splicing import plain_value

MEASURED = {"weights": read_grams, "lengths": read_millimetres}
"""The keys of what is measured, to how it is read."""

LINES = {
    "weights": "juniper 402 g",
    "lengths": "juniper 102 cm",
    "meals": "juniper adult mouse",
    "events": "juniper shed",
}
"""What can be noted in lines, by its key in a record, to such a line."""

_MEASURED = re.compile(r"(.+?)[\s:;,=]+((?:\d+\s*(?:lbs?|kg)\s*)?\d[\d.,]*\s*[^\W\d]*)")
_DATED = re.compile(r"(\d+([./-])\d+\2\d+)[\s:;,]+(.+)")
_LONGEST_LINE = 200
_PARTED = re.compile(r"(.+?)(?:\s*[\t;]\s*|\s*:\s+)(.+)")


@dataclass(frozen=True, slots=True)
class Noted:
    """What was noted of one animal on a day.

    Attributes:
        named: The animal, as it was said; of an event also a litter.
        what: The weight or length; what was offered, with ``refused`` before it where it was not taken; or what
            happened.
        partner: The other animal, for what happened between two.
        place: The line that says so; None where none does.
        fault: Why this line cannot be read; empty where it can.
    """

    named: str
    what: str
    on: dt.date
    partner: str = ""
    place: Place | None = None
    fault: str = ""


def add_measured(records: Records, key: str, noted: Sequence[Noted]) -> Proposal:
    """Weights or lengths; ``key`` is one of ``MEASURED``.

    Raises:
        WrongUse, ContentError: Some are wrong, and all that are wrong are told: there is no such animal, or another
            weight of that day stands there.
        CannotEdit: A record cannot be changed.
    """

    def read(one: Noted) -> _Change:
        place, day, wanted = find_animal(records, one.named), one.on.isoformat(), quantity_text(one.what)
        report = Report()
        if MEASURED[key](Scalar(wanted, one.place or Place(place.file)), report) is None:
            raise ContentError(report.findings)
        there = records.held(place, key, day)
        if there not in (None, wanted):
            remedy = f"correct it in {place.file}, or give another day"
            raise WrongUse(f"{place.shown} has a {key.removesuffix('s')} of {day} already: {there}; {remedy}")
        return _Change(place, (key, day), wanted, f"{wanted} on {day}", there == wanted)

    return _as_one(records, noted, read)


def add_meals(records: Records, noted: Sequence[Noted]) -> Proposal:
    """Meals taken or refused.

    Raises: As for ``add_measured``.
    """

    def read(one: Noted) -> _Change:
        place, day = find_animal(records, one.named), one.on.isoformat()
        refused = one.what.lower().startswith("refused ")
        what = one.what[8 if refused else 0 :].strip()
        if not what or what.lower() == "refused":
            raise WrongUse(f"say what was offered to {place.shown}: {place.shown} {what or 'refused'} adult mouse")
        entry: dict[str, Value] = {"date": day, "what": what} | ({"taken": False} if refused else {})
        return _entered(records, place, "meals", entry, f"{what} {'refused' if refused else 'taken'} on {day}")

    return _as_one(records, noted, read)


def add_events(records: Records, noted: Sequence[Noted], note: str = "") -> Proposal:
    """Events in the diaries of animals or litters; ``note`` is a line that is never published.

    Raises: As for ``add_measured``; also where the other animal of an event is missing or too much.
    """

    def read(one: Noted) -> _Change:
        place, kind, day = find_animal_or_litter(records, one.named), kind_meant(one.what), one.on.isoformat()
        if kind in OF_TWO:
            if not one.partner and kind is not EventKind.SEPARATED and (place.kind == "animal" or place.keys):
                raise WrongUse(f'"{kind}" is of two: say with which other animal (as a command: --with ANIMAL)')
        elif one.partner:
            raise WrongUse(f'"{kind}" is of one animal; another one is named with {", ".join(sorted(OF_TWO))}')
        entry: dict[str, Value] = {"date": day, "what": kind.value}
        entry |= {"with": find_animal(records, one.partner).shown} if one.partner else {}
        entry |= {"note": " ".join(note.split())} if note.strip() else {}
        return _entered(records, place, "events", entry, f"{kind} on {day}")

    return _as_one(records, noted, read)


def kind_meant(text: str) -> EventKind:
    """The kind of event that is meant.

    Raises:
        WrongUse: There is none such; the nearest is offered, or where it has its place.
    """
    report = Report()
    kind = read_kind(Scalar(text, Place("")), report)
    if kind is None:
        (found,) = report.findings
        raise WrongUse(f"{found.message}; {found.hint}")
    return kind


@dataclass(frozen=True, slots=True)
class _Change:
    """One value that is to stand in a record, what is told of it, and whether it stands there already."""

    place: RecordPlace
    keys: Keys
    value: str | Added
    told: str
    stands: bool


def _entered(records: Records, place: RecordPlace, key: str, entry: Value, told: str) -> _Change:
    held = records.held(place, key)
    stands = isinstance(held, list) and plain_value(entry) in held
    return _Change(place, (key,), Added(entry), told, stands)


def _as_one(records: Records, noted: Sequence[Noted], read: Callable[[Noted], _Change]) -> Proposal:
    """All that was noted as one change; nothing of it where anything is wrong, and then all that is."""
    by_file: dict[str, list[tuple[Keys, Written]]] = {}
    told: dict[str, dict[str, None]] = {}
    faults: list[Finding] = []
    wrong_use: list[str] = []
    for one in noted:
        try:
            if one.fault:
                raise WrongUse(one.fault)
            change = read(one)
            _enter(by_file.setdefault(change.place.file, []), change)
            words = f"{change.told}{', that stands there already' if change.stands else ''}."
            told.setdefault(words, {})[change.place.shown] = None
        except WrongUse as error:
            wrong_use.append(str(error))
            message, _, near = str(error).partition("; nearest: ")
            faults.append(Finding(Level.ERROR, Kind.VALUE_WRONG, one.place, message, nearest=near))
        except ContentError as error:
            faults += error.findings
    if faults and len(wrong_use) == len(faults) and noted[0].place is None:
        raise WrongUse("\n".join(wrong_use))
    if faults:
        raise ContentError(faults)
    files: list[FileChange] = []
    for path, values in by_file.items():  # young of one litter stand in one file
        files += changed_in_order(records, RecordPlace("", path), values)
    return Proposal(tuple(files), " ".join(f"{', '.join(names)}: {words}" for words, names in told.items()))


def _enter(values: list[tuple[Keys, Written]], change: _Change) -> None:
    """Put one more value among those of a file.

    Raises:
        WrongUse: Another one is to stand there.
    """
    new = ((*change.place.keys, *change.keys), change.value)
    for path, other in values:
        if path == new[0] and isinstance(other, str) and other != change.value:
            raise WrongUse(f"{change.place.shown} is told twice: {other}, and {change.told}")
    values += [] if new in values else [new]


def noted_lines(records: Records, key: str, text: str, source: str, on: dt.date) -> list[Noted]:
    """What lines say, one animal a line: ``juniper 402 g``, ``flint refused adult mouse``; a day may stand first.

    Blank lines and those that begin with # are passed over.

    Args:
        records: The records as they stand, which tell where the name of an animal ends.
        key: What is noted, one of ``LINES``.
        text: The lines.
        source: What they are called in messages.
        on: The day where none is said.
    """
    found = []
    called = names_in_use(records) if key not in MEASURED else ()
    for number, line in enumerate(text.splitlines(), 1):
        said, place, report = same(line), Place(source, number, 1), Report()
        if not said or said.startswith("#"):
            continue
        if len(said) > _LONGEST_LINE:
            found.append(Noted("", "", on, place=place, fault="this line is too long; write one animal a line"))
            continue
        dated = _DATED.fullmatch(said)
        day = read_date(Scalar(dated[1], place), report) if dated else None
        rest = dated[3] if dated else said
        named, what, fault = _measured(key, rest) if key in MEASURED else (*_parted(called, rest), "")
        for wrong in report.findings:
            near = f"; nearest: {wrong.nearest}" if wrong.nearest else ""
            fault = f"{wrong.message}; write the year first: 2026-05-01{near}"
        what, _, partner = what.partition(" with ") if key == "events" else (what, "", "")
        found.append(Noted(named, what, day.earliest if day else on, partner, place, fault))
    return found


def noted_words(key: str, words: Sequence[str], on: dt.date) -> list[Noted]:
    """What words say, what was measured behind each animal: ``juniper 402g flint 380g``."""
    found, held = [], ""
    for at, word in enumerate(words, 1):
        held = f"{held} {word}".strip()
        named, what, fault = _measured(key, held)
        whole = not fault and MEASURED[key](Scalar(what, Place("")), Report()) is not None
        if whole or at == len(words):
            found.append(Noted(named, what, on, fault=fault))
            held = ""
    return found


def _measured(key: str, said: str) -> tuple[str, str, str]:
    """The animal, what was measured at the end, and what is wrong."""
    if match := _MEASURED.fullmatch(said):
        return match[1], match[2], ""
    return said, "", f'no {key.removesuffix("s")} stands at the end of "{said}"; write such as: {LINES[key]}'


def _parted(called: Collection[str], said: str) -> tuple[str, str]:
    """What stands before a sign between, or else the longest beginning that names a record, and the rest."""
    if parted := _PARTED.fullmatch(said):
        return parted[1], parted[2]
    words = said.split()
    n = next((n for n in range(len(words), 0, -1) if " ".join(words[:n]).lower() in called), 1)
    return " ".join(words[:n]), " ".join(words[n:])
