"""What is added to records day by day: weights, meals, events, offers, notes and decisions of projects, photographs."""

import datetime as dt
import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from sitegen.content.folder import PHOTO_ENDINGS
from sitegen.content.photo_records import date_in_name
from sitegen.content.prices import STATE_WORDS, OfferState
from sitegen.content.writing import FileChange
from sitegen.findings import ContentError, WrongUse, nearest
from sitegen.keeper.differences import changed_in_both
from sitegen.keeper.lookup import find_animal, find_project, find_record, id_of, numbered, other_record
from sitegen.keeper.record_text import Value, flow
from sitegen.keeper.records import Added, Dropped, Proposal, RecordPlace, Records, changed, new_file
from sitegen.photos.facts import facts_of, read_content
from sitegen.photos.opening import Fault

_QUANTITY = re.compile(r"^(\d+(?:[.,]\d+)?)\s*([a-zA-Z]+)$")
_ENDINGS = {"jpeg": ".jpg", "tiff": ".tif", "heif": ".heic"}
"""Formats of photographs whose files do not end in the format's name."""


def quantity_text(written: str) -> str:
    """A weight or length as records write it, a blank before the unit; anything else as it is, for the record's check.

    >>> quantity_text("402g")
    '402 g'
    """
    match = _QUANTITY.match(written.strip())
    return f"{match[1].replace(',', '.')} {match[2].lower()}" if match else written.strip()


def set_values(records: Records, place: RecordPlace, values: Mapping[tuple[str, ...], Value]) -> Proposal:
    """The change that makes a record say these values: names that lead to each, and None where the name is to go.

    Raises:
        ContentError, CannotEdit: The record cannot be changed.
    """
    wanted = {keys: Dropped() if value is None else value for keys, value in values.items()}
    files = changed_in_both(records, place, wanted)
    said = []
    for keys, value in values.items():
        held = records.held(place, *keys)
        was = f" (was {held})" if isinstance(held, str) and held != value else ""
        said.append(f"{' '.join(keys)} {'taken out' if value is None else flow(value)}{was}")
    told = f"{place.shown}: {', '.join(said)}"
    return Proposal(files, f"{told}.") if files else Proposal((), f"{told}, as it stands there already.")


def state_meant(text: str) -> OfferState:
    """The state of an offer that is meant, written with blanks, hyphens or underscores.

    Raises:
        WrongUse: There is no such state; the nearest is offered.
    """
    plain = " ".join(text.lower().replace("_", " ").replace("-", " ").split())
    by_word = {state.value: state for state in OfferState} | STATE_WORDS
    if plain in by_word:
        return by_word[plain]
    near = nearest(plain, by_word)
    close = f'; nearest: "{by_word[near].value}"' if near else ""
    raise WrongUse(f'"{text}" is not a state of an offer; expected {", ".join(OfferState)}{close}')


def set_offer(
    records: Records,
    named: str,
    state: OfferState | None,
    today: dt.date,
    *,
    on: dt.date | None = None,
    price: str = "",
    ready: dt.date | None = None,
    until: dt.date | None = None,
) -> Proposal:
    """The change that makes the record say where an offer stands; no file when it says so already.

    What is None or empty is left as it is. A state that changes is so since ``on``, or else since ``today``; ``ready``
    is the earliest day to leave, ``until`` the last day of a hold.

    Raises:
        WrongUse: There is no such animal, it is not to be on hold, or it has no offer and no state is said.
        ContentError, CannotEdit: Its record cannot be changed.
    """
    place = where_offered(records, find_animal(records, named))
    held = records.held(place, "offer")
    offer = held if isinstance(held, dict) else {}
    if not (state or offer):
        raise WrongUse(f"{place.shown} has no offer; say where it stands: sitegen set {place.shown} available ...")
    is_said, state = state is not None, state or state_meant(str(offer.get("state") or "available"))
    if until and state is not OfferState.ON_HOLD:
        raise WrongUse("only a hold has a last day: write --until with on-hold alone")
    same_state = bool(offer) and str(offer.get("state") or "available").replace("-", " ").lower() == state.value
    values: dict[tuple[str, ...], str] = price_values(price, offer)
    if is_said and not (same_state and "state" in offer):
        values["offer", "state"] = state.value
    if on or not same_state:  # the day stays where nothing but the price changes
        values["offer", "since"] = (on or today).isoformat()
    if ready:
        values["offer", "ready"] = ready.isoformat()
    if until:
        values["offer", "until"] = until.isoformat()
    files = changed(records, place, values)
    if not files:
        return Proposal((), f"{place.shown} is {state.value} already; nothing to change.")
    was = f", was {offer['state']}" if offer.get("state") and offer["state"] != state.value else ""
    asked = f", price {price}" if price else ""
    day = values.get(("offer", "since")) or offer.get("since")
    since = f" since {day}" if day else ""
    end = f" until {until}" if until else ""
    return Proposal(files, f"{place.shown}: {state.value}{since}{end}{asked}{was}.")


def price_values(price: str, offer: dict[str, object]) -> dict[tuple[str, ...], str]:
    """The lines of a price that are to stand, in the form in which the offer writes its price."""
    amount, _, currency = price.partition(" ")
    in_parts = {("offer", "price", "amount"): amount, ("offer", "price", "currency"): currency}
    lines = in_parts if isinstance(offer.get("price"), dict) else {("offer", "price"): price}
    return {keys: value for keys, value in lines.items() if value}


def where_offered(records: Records, place: RecordPlace) -> RecordPlace:
    """The entry in the litter's record, when a young with a record of its own is offered there and not in its own."""
    young = other_record(records, place) if not place.keys else None
    if young is None or records.held(place, "offer") is not None or records.held(young, "offer") is None:
        return place
    return young


def add_update(records: Records, project_named: str, title: str, text: str, on: dt.date) -> Proposal:
    """A note of a day in the folder of a project.

    Raises:
        WrongUse: No such project, or a note of that name stands there.
    """
    project = find_project(records, project_named)
    heading = " ".join(title.split())
    stem = "-".join(filter(None, (on.isoformat(), id_of(heading))))
    path = f"{project.folder}/updates/{stem}.md"
    if records.exists(path):
        raise WrongUse(f"{path} stands there already and was not changed; give the note another title")
    body = text.strip().replace("\r\n", "\n")
    written = f"# {heading}\n" + (f"\n{body}\n" if body else "")
    return Proposal((new_file(path, written),), f'"{heading}" stands in {path} now.')


def add_decision(records: Records, project_named: str, text: str, stage: str, on: dt.date) -> Proposal:
    """A decision of a day at the end of those of a project; the record itself is asked whether there is such a stage.

    Raises:
        WrongUse: No such project, or nothing was decided.
        ContentError, CannotEdit: Its record cannot be changed.
    """
    project = find_project(records, project_named)
    words = " ".join(text.split())
    if not words:
        raise WrongUse("say what was decided and why")
    about = {"stage": stage} if stage else {}
    entry = {"date": on.isoformat(), **about, "text": words}
    if files := changed(records, project, {("decisions",): Added(entry)}):
        return Proposal(files, f"{project.shown}: decided on {on.isoformat()}.")
    return Proposal((), f"{project.shown}: that decision stands there already.")


def add_photos(records: Records, named: str, files: Sequence[Path], on: dt.date | None, caption: str) -> Proposal:
    """Copies of photographs that stay where they are; else as :func:`keep_photos`."""
    return keep_photos(records, named, [(str(file), _content_of(file)) for file in files], on, caption)


def keep_photos(
    records: Records, named: str, photos: Iterable[tuple[str, bytes]], on: dt.date | None, caption: str
) -> Proposal:
    """Photographs beside the record of an animal, litter or project, named by the day on which they were taken.

    ``photos`` are what each is called, perhaps with its path, and its bytes. ``on`` is the day where they do not say
    it themselves, or say it wrongly; the caption is for all of them.

    Raises:
        WrongUse: No such record, or nothing says when a photo was taken.
        ContentError: A file is no photo, or part of the picture is missing.
        CannotEdit: The caption cannot be written.
    """
    place = find_record(records, named)
    there = list(records.content.photos.get(place.folder, ()))
    names = [path.rpartition("/")[2] for path in there]
    known = {hashlib.sha256(records.raw(path)).digest(): path for path in there}
    copies, told = [], []
    captions: dict[tuple[str, ...], str] = {}
    for path, content in photos:
        called, digest = Path(path).name, hashlib.sha256(content).digest()
        if digest in known:
            told.append(f"{called} stands there already as {known[digest]}.")
            continue
        day, ending = _day_and_ending(Path(path), content, on)
        if not day:
            raise WrongUse(f"nothing says when {called} was taken; add the day (as a command: --date 2026-05-01)")
        # photographs of a young stand beside those of its littermates, so their names begin with its number
        name = numbered(f"{place.keys[-1]} {day}" if place.keys else day, names, ending)
        known[digest] = f"{place.folder}/{name}"
        names.append(name)
        copies.append(FileChange(known[digest], None, content))
        told.append(f"{called} is copied as {known[digest]}.")
        captions["captions", name] = caption.strip()
    lines = changed(records, place, captions) if caption and copies else ()
    return Proposal((*copies, *lines), " ".join(told))


def _content_of(file: Path) -> bytes:
    if not file.exists():
        raise WrongUse(f"there is no file {file}; write where the photo is, such as ~/Pictures/IMG_0412.jpg")
    content = read_content(file)
    if isinstance(content, Fault):
        raise ContentError([content.at(str(file))])
    return content


def _day_and_ending(called: Path, content: bytes, on: dt.date | None) -> tuple[str, str]:
    """The day on which a photograph was taken ('' if nothing says), and its ending; it is read to its end for that."""
    facts = facts_of(content, "")
    if isinstance(facts, Fault):
        raise ContentError([facts.at(str(called))])
    suffix = called.suffix.lower()
    kept = suffix in PHOTO_ENDINGS and suffix != ".heic"
    usual = _ENDINGS.get(facts.format, f".{facts.format}")
    ending = suffix if kept else usual if usual in PHOTO_ENDINGS else ".jpg"
    return str(on or facts.taken or date_in_name(called.name) or ""), ending
