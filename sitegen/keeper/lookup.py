"""What is meant by a name that was said: an animal, a litter, a project, a species; and folders for new records."""

import contextlib
import re
import unicodedata
from collections.abc import Iterable, Mapping

from sitegen.content.declaration import Written
from sitegen.content.references import WORDS, same
from sitegen.findings import ContentError, WrongUse, nearest
from sitegen.keeper.records import RecordPlace, Records

ID = re.compile(r"[^\W_][\w-]*")
"""What may be part of an address."""
LONGEST_ID = 80


def find_animal(records: Records, named: str) -> RecordPlace:
    """The animal meant by its folder, ``LITTER/NUMBER``, or its name where only one has it.

    A young that has a record of its own is meant by that record.

    Raises:
        WrongUse: There is no such animal; the nearest is offered.
        ContentError: Its record cannot be read.
    """
    wanted = same(named).removesuffix("/").removeprefix("animals/").removeprefix("litters/")
    animals = records.forms.animals
    if wanted in animals:
        return record_of(records, "animals", wanted)
    if "/" in wanted:
        return _young(records, wanted)
    names = _names(animals)
    called_so = [i for i, name in names.items() if name.lower() == wanted.lower()]
    if len(called_so) == 1:
        return record_of(records, "animals", called_so[0])
    if called_so:
        which = f"write the folder of the one you mean: {', '.join(called_so)}"
        raise WrongUse(f'several animals are called "{named}"; {which}')
    close = nearest(wanted, [*animals, *names.values(), *(name.lower() for name in names.values())])
    few = f"; there are {', '.join(list(animals)[:8])}{' ...' if len(animals) > 8 else ''}" if animals else ""
    raise WrongUse(f'there is no animal "{named}" in the records' + (f"; nearest: {close}" if close else few))


def _names(forms: Mapping[str, Written | None]) -> dict[str, str]:
    """Ids of records to what they are called, where a record says it."""
    return {i: form.name.value for i, form in forms.items() if form and form.name}


def names_in_use(records: Records) -> set[str]:
    """The folders and names of all animals and litters, in lower case."""
    both = (records.forms.animals, records.forms.litters)
    return {same(each).lower() for forms in both for each in (*forms, *_names(forms).values())}


def record_of(records: Records, folder: str, record_id: str) -> RecordPlace:
    """The record with a folder of its own within ``folder``: animals, litters or projects."""
    return RecordPlace(record_id, f"{records.forms.folders[folder, record_id]}/{folder.removesuffix('s')}.yaml")


def find_litter(records: Records, named: str) -> RecordPlace:
    """The record of the litter meant by its folder, or its name where only one has it.

    Raises:
        WrongUse: There is no such litter; the nearest is offered.
    """
    litters = records.forms.litters
    wanted = same(named).removesuffix("/").removeprefix("litters/")
    called_so = [i for i, name in _names(litters).items() if name.lower() == wanted.lower()]
    if wanted in litters or len(called_so) == 1:
        return record_of(records, "litters", wanted if wanted in litters else called_so[0])
    close = nearest(wanted, litters) or ", ".join(list(litters)[:6])
    raise WrongUse(f'there is no litter "{named}" in the records' + (f"; nearest: {close}" if close else ""))


def find_animal_or_litter(records: Records, named: str) -> RecordPlace:
    """The record of the animal meant, or of the litter where no animal is.

    Raises: As for ``find_animal``.
    """
    wanted = same(named).removesuffix("/")
    if wanted in records.forms.litters and wanted not in records.forms.animals:
        return record_of(records, "litters", wanted)
    if "/" not in wanted:
        for find in (find_animal, find_litter):
            with contextlib.suppress(WrongUse):
                return find(records, named)
    return find_animal(records, named)


def find_number(records: Records, litter: str, wanted: str) -> str:
    """The number of a listed young as it is written in the record; empty when it is not listed."""
    form = records.forms.litters[litter]
    numbers = tuple(form.young or ()) if form else ()
    if wanted in numbers:
        return wanted
    alike = [n for n in numbers if n.isdigit() and wanted.isdigit() and int(n) == int(wanted)]
    return alike[0] if len(alike) == 1 else ""


def _young(records: Records, wanted: str) -> RecordPlace:
    litter_named, _, number_named = wanted.partition("/")
    place = find_litter(records, litter_named)
    litter = place.shown
    form = records.forms.litters[litter]
    if form is None:
        records.text(place.file)
        raise ContentError(records.reading)
    number = find_number(records, litter, number_named)
    if not number:
        known = ", ".join(form.young or ()) or "none"
        raise WrongUse(f'litter {litter} lists no young "{number_named}"; there are {known}')
    for animal, own in records.forms.animals.items():
        if own and own.from_litter and same(own.from_litter.value) == f"{litter}/{number}":
            return record_of(records, "animals", animal)
    return RecordPlace(f"{litter}/{number}", place.file, ("young", number))


def other_record(records: Records, place: RecordPlace) -> RecordPlace | None:
    """Of a young that has a record of its own: its entry in the litter's record for that record, and the other way."""
    if place.keys[:1] == ("young",):
        own = find_animal(records, f"{place.shown.partition('/')[0]}/{place.keys[1]}") if "/" in place.shown else None
        return own if own and own.file != place.file else None
    form = records.forms.animals.get(place.shown) if not place.keys else None
    if form is None or form.from_litter is None:
        return None
    litter, _, number = same(form.from_litter.value).partition("/")
    young = records.forms.litters.get(litter)
    if young is None or number not in (young.young or {}):
        return None
    return RecordPlace(place.shown, record_of(records, "litters", litter).file, ("young", number))


def find_project(records: Records, named: str) -> RecordPlace:
    """The record of the project meant by its folder or name.

    Raises:
        WrongUse: There is no such project; the nearest is offered.
    """
    projects = records.forms.projects
    wanted = same(named).removesuffix("/").removeprefix("projects/")
    by_name = {name.lower(): i for i, name in _names(projects).items()}
    found = wanted if wanted in projects else by_name.get(wanted.lower())
    if found is None:
        close = nearest(wanted, (*projects, *by_name)) or ", ".join(projects)
        raise WrongUse(f'there is no project "{named}" in the records' + (f"; nearest: {close}" if close else ""))
    return record_of(records, "projects", found)


def find_record(records: Records, named: str) -> RecordPlace:
    """The record of the animal meant, or of the litter or project where no animal is.

    Raises: As for ``find_animal``.
    """
    for find in (find_animal_or_litter, find_project):
        with contextlib.suppress(WrongUse):
            return find(records, named)
    return find_animal_or_litter(records, named)


def find_species(records: Records, named: str) -> str:
    """The id of the species meant; without a word, the only one there is.

    Raises:
        WrongUse: There is none, or several and none was named, or no such one.
    """
    known = records.forms.species
    if not known:
        raise WrongUse("there is no species file yet; sitegen start puts one into a new collection")
    if not named:
        if len(known) == 1:
            return next(iter(known))
        raise WrongUse(f"several species are kept here; name one with --species: {', '.join(known)}")
    wanted = same(named)
    by_name = {name.lower(): i for i, name in _names(known).items()}
    found = next((i for i in known if i.lower() == wanted.lower()), "") or by_name.get(wanted.lower(), "")
    if not found:
        close = nearest(wanted, (*known, *by_name)) or ", ".join(known)
        raise WrongUse(f'there is no species "{named}" in the folder species; nearest: {close}')
    return found


def id_of(name: str) -> str:
    """A folder name made of a name: lower case, letters of any script and digits, hyphens between.

    >>> id_of("Große Jún (2)"), id_of("!!!")
    ('große-jún-2', '')
    """
    words = re.findall(r"[^\W_]+", unicodedata.normalize("NFC", name).lower())
    return "-".join(words)[:LONGEST_ID].strip("-")


def free_id(records: Records, folder: str, name: str, said: str) -> str:
    """The id of a new record in a folder such as ``animals``: the one that is asked for, or made of its name.

    Raises:
        WrongUse: The id is taken, or cannot be part of an address.
    """
    found = same(said) or id_of(name)
    if not ID.fullmatch(found):
        wanted = "give one of letters, digits and hyphens with --id"
        raise WrongUse(f'"{said or name}" cannot be made a folder name; {wanted}')
    if found.casefold() in WORDS:
        raise WrongUse(f'"{found}" is a word of the records themselves; give another folder name with --id')
    if records.exists(f"{folder}/{found}"):
        other = "give another name, or a folder name with --id"
        raise WrongUse(f"{folder}/{found} stands there already and was not changed; {other}")
    return found


def numbered(base: str, taken: Iterable[str], ending: str = "") -> str:
    """The name with its ending, with a number from 2 on behind it when it is taken (in whatever capitals).

    >>> numbered("2024-05-01", ["2024-05-01.JPG"], ".jpg")
    '2024-05-01 2.jpg'
    """
    known = {name.casefold() for name in taken}
    name, number = f"{base}{ending}", 2
    while name.casefold() in known:
        name, number = f"{base} {number}{ending}", number + 1
    return name
