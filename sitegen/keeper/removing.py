"""Takes a record out of the collection, with the files beside it; the undo record is where it lies from then on."""

import re
from collections.abc import Iterator, Sequence

from sitegen.below import entries_below
from sitegen.content.declaration import Written
from sitegen.content.folder import PHOTO_ENDINGS, RECORDS, VIDEO_ENDINGS, ending
from sitegen.content.photo_records import young_in_name
from sitegen.content.prices import OfferState
from sitegen.content.references import same
from sitegen.content.writing import FileChange
from sitegen.content.yaml_tree import Entries
from sitegen.findings import ContentError, Finding, Kind, Level, Place, WrongUse, in_order, nearest
from sitegen.keeper.lookup import find_animal, find_litter, find_project
from sitegen.keeper.records import Dropped, Proposal, RecordPlace, Records, as_they_stand, changed, think_through
from sitegen.keeper.waiting import remove_person

_BUYER = re.compile(r"buyer|sold", re.IGNORECASE)
_FINDERS = {"animals": find_animal, "litters": find_litter, "projects": find_project}


def remove_record(records: Records, named: str) -> Proposal:
    """The change that takes out an animal, litter, young, project or photograph, with the files beside it.

    It is named by its folder or name, ``LITTER/NUMBER``, the path of a photograph, or ``waiting/NAME`` of who waits.

    Raises:
        WrongUse: There is no such record, or several are meant.
        ContentError: Something names it, a buyer may hold a paper of it, or other records are in error.
        CannotEdit: The record that it is a part of cannot be changed safely.
    """
    wanted = same(named).removesuffix("/").removeprefix("content/")
    if wanted.startswith("waiting/"):
        return remove_person(records, wanted.removeprefix("waiting/"))
    photo = wanted if ending(wanted) in PHOTO_ENDINGS else ""
    place = _beside(records, photo) if photo else _meant(records, wanted)
    address = photo or f"{place.kind}s/{place.shown}"
    gone = [path for path in _below(records, place.folder) if _goes(records, place, photo, path)]
    files = [FileChange(path, records.raw(path), None) for path in gone]
    if photo or place.keys:
        names = {path.rpartition("/")[2].lower() for path in gone}
        whole = RecordPlace("", place.file)
        files += changed(records, whole, dict.fromkeys(_keys(records.held(whole), place.keys, names), Dropped()))
    if not photo:
        _check_sold(records, place)
    _check_named(records, place.shown, address, files)
    n_beside = len(gone) - (not place.keys)
    beside = f", with {n_beside} file{'' if n_beside == 1 else 's'} beside it" if n_beside else ""
    return Proposal(tuple(files), f"{place.shown}: taken out of the records{beside}.")


def _meant(records: Records, wanted: str) -> RecordPlace:
    """The animal, young, litter or project of this folder or name."""
    kind, _, rest = wanted.partition("/")
    if kind in _FINDERS and rest:
        return (find_animal if "/" in rest else _FINDERS[kind])(records, rest)
    found, missing = [], []
    for find in _FINDERS.values():
        try:
            found.append(find(records, wanted))
        except WrongUse as none:
            missing.append(none)
    if len(found) == 1:
        return found[0]
    if found:
        raise WrongUse(f'"{wanted}" may be {" or ".join(f"{each.kind}s/{each.shown}" for each in found)}; write which')
    close = nearest(wanted, [*records.forms.litters, *records.forms.projects])
    told = str(missing[0]).replace("there is no animal", "there is no animal, litter or project")
    raise WrongUse(f'there is no "{wanted}" in the records; nearest: {close}' if close else told)


def _beside(records: Records, photo: str) -> RecordPlace:
    """The record beside a photograph."""
    photos = [path for paths in records.content.photos.values() for path in paths]
    if photo not in photos:
        close = nearest(photo, photos)
        raise WrongUse(f"there is no photograph {photo}" + (f"; nearest: {close}" if close else ""))
    return RecordPlace(photo, f"{photo.rpartition('/')[0]}/{RECORDS[photo.partition('/')[0]]}")


def _below(records: Records, folder: str) -> list[str]:
    """Every file below a folder, its record last."""
    found = []
    for entry in sorted(entries_below(records.root, folder), key=lambda entry: entry.name):
        path = f"{folder}/{entry.name}"
        found += _below(records, path) if entry.is_folder else [path]
    return sorted(found, key=lambda path: path.rpartition("/")[2] in RECORDS.values())


def _goes(records: Records, place: RecordPlace, photo: str, path: str) -> bool:
    """True for a file that goes along: with a photograph its video, with a young what begins with its number."""
    if photo:
        film = ending(path) in {*VIDEO_ENDINGS, ".vtt"} and path.rpartition(".")[0] == photo.rpartition(".")[0]
        return path == photo or film
    if place.keys:
        form = records.forms.litters[place.shown.partition("/")[0]]
        number = young_in_name(path.rpartition("/")[2], form.young if form else ())
        return number == place.keys[-1] and path != place.file
    return True


def _keys(held: object, young: tuple[str, ...], photos: set[str]) -> Iterator[tuple[str, ...]]:
    """What goes from a record: the entry of a young, and captions, by the names of photographs in small letters."""
    found = held if isinstance(held, dict) else {}
    groups = [((), found), *((("young", number), own) for number, own in (found.get("young") or {}).items())]
    for above, group in groups:
        if above and above == young:
            yield young
        elif isinstance(group, dict):
            yield from ((*above, "captions", name) for name in group.get("captions") or {} if name.lower() in photos)


def _check_sold(records: Records, place: RecordPlace) -> None:
    """Refuse what a buyer may hold a paper of. Nothing records which papers were given away, so a sale counts."""
    found = []
    for form in filter(None, _forms(records, place)):
        offer = form.values.get("offer")
        state = offer.state if offer else None
        private = form.private.entries if isinstance(form.private, Entries) else ()
        if state and state.value in (OfferState.SOLD, OfferState.ON_HOLD):
            free = f"set it first: sitegen set {place.shown} not-for-sale"
            found.append((state.place, f"it is {state.value}", free))
        found += [
            (k.place, f'"{k.text}" stands there', "take this line out") for k, _ in private if _BUYER.search(k.text)
        ]
    if found:
        message = "{}, so a buyer may hold a paper that rests on this record"
        remedy = "keep the record; if no paper was given away, {}"
        raise ContentError(
            [_error(Kind.OFFER_CLASH, at, message.format(what), remedy.format(free)) for at, what, free in found]
        )


def _forms(records: Records, place: RecordPlace) -> list[Written | None]:
    """The record, and what a litter's record says of the young that it is, or has."""
    own = None if place.keys else getattr(records.forms, f"{place.kind}s")[place.shown]
    listed = place.shown
    if place.kind == "animal":
        listed = same(own.from_litter.value) if own and own.from_litter else ""
    litter, _, number = listed.partition("/")
    form = records.forms.litters.get(litter) if place.kind != "project" else None
    young = form.young if form else {}
    return [own, *(each for name, each in young.items() if number in ("", name))]


def _check_named(records: Records, shown: str, address: str, files: Sequence[FileChange]) -> None:
    """Refuse while anything names what is to go; of a record that is in error, any line in which it stands counts."""
    touched = {file.path for file in files}
    before = as_they_stand(records)
    standing = (*records.reading, *before.findings)
    faulty = {each.place.file for each in standing if each.level is Level.ERROR and each.place}
    found = []
    for each in think_through(records, files, before).findings:
        if each.kind.value.endswith("-unknown"):
            found.append(_naming(each.kind, each.place, shown))
        elif each.level is Level.ERROR:
            found.append(each)
    for path in set(records.content.unreadable) - touched - set(records.content.texts):
        why = f"this cannot be read, so nobody can tell whether it names {shown}"
        found.append(_error(Kind.FILE_UNREADABLE, Place(path), why, "mend it first"))
    for path, text in records.content.texts.items():
        words = "|".join(re.escape(word) for word in ((address, shown) if path in faulty else (address,)))
        lines = enumerate(text.split("\n"), 1) if path not in touched else ()
        spots = (at for at, line in lines if re.search(rf"(?<![\w-])(?:{words})(?![\w-])", line))
        found += [_naming(Kind.LINK_BROKEN, Place(path, at, 1), shown) for at in spots]
    if found:
        raise ContentError(in_order(found))


def _naming(kind: Kind, place: Place | None, shown: str) -> Finding:
    return _error(kind, place, f"this names {shown}", "change this line first, or take it out")


def _error(kind: Kind, place: Place | None, message: str, remedy: str) -> Finding:
    return Finding(Level.ERROR, kind, place, message, remedy=remedy)
