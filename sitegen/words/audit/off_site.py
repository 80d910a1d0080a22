"""Where the breeder's own words, or the names of folders, name what is kept off the site."""

import re
from collections.abc import Iterable, Iterator

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.content.projects import Project
from sitegen.content.texts import FreeText, Of
from sitegen.findings import Finding, Kind, Level, Place


def patterns_of(collection: Collection) -> tuple[re.Pattern[str], re.Pattern[str]] | None:
    """What names something that is kept off: in a text, and in a folder's or file's name; None where nothing is.

    A name counts as it is written, so that "flint" as a colour is not taken for Flint; an id where it is an address.
    """
    animals, litters, projects = collection.animals.values(), collection.litters.values(), collection.projects.values()
    records: list[tuple[str, Animal | Litter | Project]] = [("animals", each) for each in animals]
    records += [*(("litters", each) for each in litters), *(("projects", each) for each in projects)]
    off = [(kind, each) for kind, each in records if each.on_site is False]
    if not off:
        return None
    numbers = {each.name for each in animals if each.name == each.number}
    names = {each.name for _, each in off} - {each.name for _, each in records if each.on_site} - numbers
    in_texts = "|".join([*_longest_first(names), *(f"{kind}/{re.escape(each.id)}" for kind, each in off)])
    in_ids = "|".join(_longest_first(each.id for _, each in off if "/" not in each.id)) or r"(?!)"
    return re.compile(rf"(?<!\w)(?:{in_texts})(?!\w)"), re.compile(rf"(?<![a-z0-9])(?:{in_ids})(?![a-z0-9])", re.I)


def _longest_first(names: Iterable[str]) -> list[str]:
    return [re.escape(name) for name in sorted(names, key=lambda name: (-len(name), name))]


def is_published(free: FreeText, collection: Collection) -> bool:
    """True for a text of a record that is shown."""
    if free.of is Of.ANIMAL:
        return free.id in collection.animals and bool(collection.animals[free.id].on_site)
    if free.of is Of.LITTER:
        return free.id in collection.litters and collection.litters[free.id].on_site
    return free.of is Of.SITE or (free.id in collection.projects and collection.projects[free.id].on_site)


def named_in_text(words: str, place: Place, width: int) -> Finding:
    """That a text names what is kept off the site."""
    return Finding(
        Level.NOTICE,
        Kind.OFF_SITE,
        place,
        f'"{words}" is named here and is kept off the site',
        expected="words that name nothing that is kept off",
        remedy="leave the name out, or delete on_site: false where it stands",
        width=width,
    )


def named_in_ids(collection: Collection, in_ids: re.Pattern[str]) -> Iterator[Finding]:
    """Folders and files whose names become addresses on the site."""
    shown = [(each.id, each.place) for each in collection.litters.values() if each.on_site]
    shown += [(each.id, each.place) for each in collection.animals.values() if each.on_site and not each.is_young]
    shown += [(each.id, each.place) for each in collection.pages.values()]
    for project in (each for each in collection.projects.values() if each.on_site):
        shown.append((project.id, project.place))
        shown += [(stage.id, stage.place) for stage in project.stages]
        shown += [(update.place.file.rpartition("/")[2], update.place) for update in project.updates]
    for name, place in shown:
        if found := in_ids.search(name):
            yield Finding(
                Level.NOTICE,
                Kind.OFF_SITE,
                place,
                f'the name "{name}" becomes an address on the site, and {found[0]} is kept off it',
                expected="a name without it",
                remedy="rename it, and write the new name where other records refer to it",
            )
