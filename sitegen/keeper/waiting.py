"""Adds to the waiting list, finds an entry in it, and takes one out; an entry is changed as any record is."""

from collections.abc import Mapping

from sitegen.content.waiting import PERSON, WAITING_FILE
from sitegen.findings import WrongUse, nearest
from sitegen.keeper.record_text import Value, new_record
from sitegen.keeper.records import Dropped, Proposal, RecordPlace, Records, changed, new_file

_HEAD = (
    "Who waits for an animal. Nothing of this file is ever published. It holds personal data: keep it few,",
    "delete an entry once it is done, and put the file into no public place.",
)


def add_person(records: Records, name: str, values: Mapping[str, Value]) -> Proposal:
    """An entry of the waiting list, which is begun where there is none; ``values`` by key, empty ones are left out.

    Raises:
        WrongUse: No name was said, or an entry of that name stands there.
        ContentError, CannotEdit: The file cannot be changed.
    """
    called = " ".join(name.split())
    entry = {key: value for key in PERSON.names if (value := values.get(key))}
    told = f"{called} stands in {WAITING_FILE} now, which is never published."
    if not called:
        raise WrongUse("say who waits, by a name that you will know them by")
    if not records.exists(WAITING_FILE):
        text = new_record(records.root, WAITING_FILE, "waiting", {"people": {called: entry}}, _HEAD)
        return Proposal((new_file(WAITING_FILE, text),), told)
    if called in _people(records):
        raise WrongUse(f"{called} stands in {WAITING_FILE} already and was not changed; add a word to the name")
    return Proposal(changed(records, RecordPlace(called, WAITING_FILE), {("people", called): entry}), told)


def find_person(records: Records, named: str) -> RecordPlace:
    """The entry of the waiting list that is meant.

    Raises:
        WrongUse: There is none such; the nearest is offered.
        ContentError: The file cannot be read.
    """
    people = _people(records) if records.exists(WAITING_FILE) else {}
    found = next((each for each in people if each.casefold() == named.strip().casefold()), None)
    if found is None:
        close = nearest(named, people)
        raise WrongUse(f'nobody called "{named}" waits' + (f"; nearest: {close}" if close else ""))
    return RecordPlace(found, WAITING_FILE, ("people", found))


def remove_person(records: Records, named: str) -> Proposal:
    """The waiting list without an entry.

    Raises: As for :func:`find_person`, and CannotEdit.
    """
    place = find_person(records, named)
    told = f"{place.shown} is gone from {WAITING_FILE}. sitegen undo could bring the entry back; sitegen undo --forget"
    return Proposal(changed(records, place, {(): Dropped()}), f"{told} empties what it keeps, for good.")


def _people(records: Records) -> Mapping[str, object]:
    held = records.held(RecordPlace("", WAITING_FILE), "people")
    return held if isinstance(held, dict) else {}
