"""Ids made from names: the folder of a new record."""

import re
import unicodedata
from collections.abc import Iterable

from sitegen.content.references import WORDS, same
from sitegen.findings import WrongUse
from sitegen.keeper.desk import Desk

_ID = re.compile(r"^[^\W_][\w-]*$")
_LONGEST = 80


def id_of(name: str) -> str:
    """A folder name made of a name: lower case, letters of any script and digits, hyphens between.

    >>> id_of("Große Jún (2)"), id_of("!!!")
    ('große-jún-2', '')
    """
    words = re.findall(r"[^\W_]+", unicodedata.normalize("NFC", name).lower())
    return "-".join(words)[:_LONGEST].strip("-")


def free_id(desk: Desk, kind: str, name: str, said: str = "") -> str:
    """The id of a new record.

    Args:
        desk: The records as they stand.
        kind: The folder of such records: ``animals`` or ``litters``.
        name: What the id is made of.
        said: An id that was asked for; it is taken as it is.

    Raises:
        WrongUse: The id is taken, or cannot be part of an address.
    """
    found = same(said) or id_of(name)
    if not _ID.match(found):
        raise WrongUse(
            f'"{said or name}" cannot be made a folder name; give one of letters, digits and hyphens with --id'
        )
    if found.casefold() in WORDS:
        raise WrongUse(f'"{found}" is a word of the records themselves; give another folder name with --id')
    if desk.exists(f"{kind}/{found}"):
        raise WrongUse(
            f"{kind}/{found} stands there already and was not changed; give another name, or a folder name with --id"
        )
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
