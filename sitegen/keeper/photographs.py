"""Photographs copied in beside the record, named by the day on which they were taken."""

import datetime as dt
import hashlib
from dataclasses import dataclass
from pathlib import Path

from sitegen.content.bind_photos import date_in_name
from sitegen.content.folder import PHOTO_ENDINGS
from sitegen.content.references import same
from sitegen.content.writing import FileChange
from sitegen.findings import ContentError, WrongUse
from sitegen.keeper import editing
from sitegen.keeper.desk import Change, Desk
from sitegen.keeper.naming import numbered
from sitegen.keeper.targets import Target, find_litter, find_target, litter_file
from sitegen.keeper.usual import orders
from sitegen.photos.facts import facts_of, read_content
from sitegen.photos.opening import Fault

_ENDINGS = {
    "jpeg": ".jpg",
    "png": ".png",
    "webp": ".webp",
    "avif": ".avif",
    "tiff": ".tif",
    "gif": ".gif",
    "bmp": ".bmp",
    "heif": ".heic",
}


@dataclass(frozen=True, slots=True)
class _Read:
    """A photograph that was read to its end: its bytes, the day it was taken ('' if nothing says), its ending."""

    content: bytes
    day: str
    ending: str


def add_photos(desk: Desk, named: str, files: list[Path], on: dt.date | None, caption: str) -> Change:
    """Copies of photographs beside a record.

    Args:
        desk: The records as they stand.
        named: An animal, ``LITTER/NUMBER``, or a litter.
        files: The photographs, anywhere; they stay where they are.
        on: The day they were taken, where they do not say so themselves or say it wrongly.
        caption: A line of text for all of them.

    Raises:
        WrongUse: No such record, or nothing says when a photo was taken.
        ContentError: A file is no photo, or part of the picture is missing.
        CannotEdit: The caption cannot be written.
    """
    target = _place(desk, named)
    there = list(desk.content.photos.get(target.folder, ()))
    names = [path.rpartition("/")[2] for path in there]
    known = {hashlib.sha256(desk.raw(path)).digest(): path for path in there}
    changes, told = [], []
    text = desk.text(target.file) if caption else ""
    for file in files:
        photo = _read(file, on)
        digest = hashlib.sha256(photo.content).digest()
        if digest in known:
            told.append(f"{file.name} stands there already as {known[digest]}.")
            continue
        name = numbered(_base(target, photo, file), names, photo.ending)
        known[digest] = f"{target.folder}/{name}"
        names.append(name)
        changes.append(FileChange(known[digest], None, photo.content))
        told.append(f"{file.name} is copied as {known[digest]}.")
        if caption:
            text = editing.put(text, (*target.keys, "captions", name), caption.strip(), orders(target.keys))
    if caption and changes:
        changes.append(desk.changed(target.file, text))
    return Change(tuple(changes), " ".join(told))


def _place(desk: Desk, named: str) -> Target:
    """The animal's place, or the litter's."""
    wanted = same(named).removesuffix("/")
    if wanted in desk.forms.litters and wanted not in desk.forms.animals:
        return Target(wanted, litter_file(desk, wanted))
    try:
        return find_target(desk, named)
    except WrongUse as missing:
        if "/" in wanted:
            raise
        try:
            litter = find_litter(desk, named)
        except WrongUse:
            raise missing from None
        return Target(litter, litter_file(desk, litter))


def _base(target: Target, photo: _Read, file: Path) -> str:
    if not photo.day:
        raise WrongUse(f"nothing says when {file.name} was taken; add the day: --date 2026-05-01")
    return f"{target.keys[-1]} {photo.day}" if target.keys else photo.day


def _read(file: Path, on: dt.date | None) -> _Read:
    if not file.exists():
        raise WrongUse(f"there is no file {file}; write where the photo is, such as ~/Pictures/IMG_0412.jpg")
    content = read_content(file)
    if isinstance(content, Fault):
        raise ContentError([content.at(str(file))])
    facts = facts_of(content, "")
    if isinstance(facts, Fault):
        raise ContentError([facts.at(str(file))])
    by_name = date_in_name(file.name)
    day = on or facts.taken
    suffix = file.suffix.lower()
    ending = suffix if suffix in PHOTO_ENDINGS and suffix != ".heic" else _ENDINGS.get(facts.format, ".jpg")
    return _Read(content, day.isoformat() if day else str(by_name or ""), ending)
