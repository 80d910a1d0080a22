"""Where the breeder's own words, or the names of folders, name what is kept off the site."""

import re
from collections.abc import Iterable, Iterator

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.content.projects import Project
from sitegen.content.texts import FreeText
from sitegen.findings import Finding, Kind, Level, Place


def _records(collection: Collection) -> list[tuple[str, Animal | Litter | Project]]:
    """All that may be kept off the site and has a page there otherwise."""
    animals: list[tuple[str, Animal | Litter | Project]] = [("animals", each) for each in collection.animals.values()]
    litters = [("litters", each) for each in collection.litters.values()]
    return [*animals, *litters, *(("projects", each) for each in collection.projects.values())]


def patterns_of(collection: Collection) -> tuple[re.Pattern[str], re.Pattern[str]] | None:
    """What names something that is kept off: in a text, and in a folder's or file's name; None where nothing is.

    A name counts as it is written, so that "flint" as a colour is not taken for Flint; an id where it is an address.
    """
    records = _records(collection)
    off = [(kind, each) for kind, each in records if each.on_site is False]
    if not off:
        return None
    numbers = {each.name for each in collection.animals.values() if each.name == each.number}
    names = {each.name for _, each in off} - {each.name for _, each in records if each.on_site} - numbers
    in_texts = "|".join([*_longest_first(names), *(f"{kind}/{re.escape(each.id)}" for kind, each in off)])
    in_ids = "|".join(_longest_first(each.id for _, each in off if "/" not in each.id)) or r"(?!)"
    return re.compile(rf"(?<!\w)(?:{in_texts})(?!\w)"), re.compile(rf"(?<![a-z0-9])(?:{in_ids})(?![a-z0-9])", re.I)


def _longest_first(names: Iterable[str]) -> list[str]:
    return [re.escape(name) for name in sorted(names, key=lambda name: (-len(name), name))]


def shown_texts(collection: Collection) -> Iterator[FreeText]:
    """The texts of what is shown, and of the site."""
    off = {(kind, each.id) for kind, each in _records(collection) if each.on_site is False}
    return (free for free in collection.texts if (f"{free.of}s", free.id) not in off)


def named_in_text(words: str, place: Place, width: int) -> Finding:
    """That a text names what is kept off the site."""
    message = f'"{words}" is named here and is kept off the site'
    remedy = "leave it out, or delete on_site: false of its record"
    expected = "words that name nothing that is kept off"
    return Finding(Level.NOTICE, Kind.OFF_SITE, place, message, expected, "", remedy, width)


def named_in_ids(collection: Collection, in_ids: re.Pattern[str]) -> Iterator[Finding]:
    """Folders and files whose names become addresses on the site."""
    shown = [(each.id, each.place) for _, each in _records(collection) if each.on_site and "/" not in each.id]
    shown += [(page.id, page.place) for page in collection.pages.values()]
    for project in (each for each in collection.projects.values() if each.on_site):
        shown += [(stage.id, stage.place) for stage in project.stages]
        shown += [(note.place.file.rpartition("/")[2], note.place) for note in project.updates]
    for name, place in shown:
        if found := in_ids.search(name):
            message = f'the name "{name}" becomes an address on the site, and {found[0]} is kept off it'
            remedy = "rename it, and write the new name where other records refer to it"
            yield Finding(Level.NOTICE, Kind.OFF_SITE, place, message, "a name without it", "", remedy)
