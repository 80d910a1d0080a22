"""What commands that ask about animals do first."""

import datetime as dt
from pathlib import Path

from sitegen.app.console import Console
from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection
from sitegen.content.folder import read_content
from sitegen.evidence.answers import Known, read_known
from sitegen.findings import Level, WrongUse, has_errors, in_order, nearest
from sitegen.genetics.questions import AnimalId


def known_or_told(content: Path, console: Console, today: dt.date) -> tuple[Known | None, int]:
    """The sound records with their answers, and the exit status so far; errors are told on standard error."""
    known, findings = read_known(content, today)
    errors = [finding for finding in findings if finding.level is Level.ERROR]
    console.show_findings(errors, content)
    return known, 1 if has_errors(findings) else 0


def records_or_told(content: Path, console: Console, today: dt.date) -> tuple[Collection | None, int]:
    """The sound records alone, nothing inferred, and the exit status so far; errors are told on standard error."""
    read, reading = read_content(content)
    collection, binding = bind_content(read, today=today) if not has_errors(reading) or read.texts else (None, ())
    errors = [finding for finding in in_order([*reading, *binding]) if finding.level is Level.ERROR]
    console.show_findings(errors, content)
    return (None if errors else collection), 1 if errors else 0


def nearest_animal(collection: Collection, named: str) -> AnimalId:
    """The id of the animal that is meant: its folder, LITTER/YOUNG, or its name where only one has it.

    Raises:
        WrongUse: There is no such animal; the nearest is offered.
    """
    wanted = named.strip().removesuffix("/")
    if wanted in collection.animals:
        return wanted
    by_name = [animal.id for animal in collection.animals.values() if animal.name.lower() == wanted.lower()]
    if len(by_name) == 1:
        return by_name[0]
    promoted = [a.id for a in collection.animals.values() if a.litter and f"{a.litter}/{a.number}" == wanted]
    if promoted:
        return promoted[0]
    known = [*collection.animals, *(animal.name for animal in collection.animals.values())]
    close = nearest(wanted, known)
    raise WrongUse(f'there is no animal "{named}" in the records' + (f"; nearest: {close}" if close else ""))
