"""Which records can stand when faulty ones are left out, so that nothing is claimed that the whole would not bear.

A record that is left out is evidence that is missing: a litter that is not counted may make a parent look more likely
to carry something. Evidence bears on everybody who is related, and on nobody else, so a faulty record is left out with
its whole family: all animals and litters that descent connects with it. Where a fault may hide whose family that is (a
file that cannot be read, a parent's name that nobody has), every animal of its species is left out. Text that names
an animal that is left out cannot be held against the evidence, so whatever holds such text is left out too.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from sitegen.content.folder import Content
from sitegen.content.references import same
from sitegen.content.wishes import WISHES_FILE
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar, parse_tree
from sitegen.findings import Finding, Kind, Level

_LINKS = ("dam", "sire", "from_litter")
_HIDES_A_PARENT = (Kind.ANIMAL_UNKNOWN, Kind.LITTER_UNKNOWN)
_CAUSED = (Kind.ANIMAL_UNKNOWN, Kind.LITTER_UNKNOWN, Kind.SPECIES_UNKNOWN, Kind.STAGE_UNKNOWN, Kind.GOAL_UNKNOWN)
_TOKEN = re.compile(r"[^\W_][\w-]*")
_LINE = r"^\s*[\"']?{}[\"']?\s*:\s*[\"']?(.*?)[\"']?\s*(?:#.*)?$"


@dataclass(frozen=True, slots=True)
class SoundPart:
    """What can stand without the faulty records.

    Attributes:
        content: The content without them and all that hangs on them.
        left_out: Folders and files that are left out, in order.
        why_not: Why no part can stand; the content is then the whole.
    """

    content: Content
    left_out: tuple[str, ...] = ()
    why_not: str = ""


def sound_part(content: Content, findings: Iterable[Finding]) -> SoundPart:
    """The content without what has errors and without all that hangs on it.

    What remains may have errors that were not seen before; ask again with those.
    """
    errors = [finding for finding in findings if finding.level is Level.ERROR]
    units = _Units(content)
    out: set[str] = set()
    for error in errors:
        for place in (error.place, *error.others):
            unit = _unit(place.file if place else "")
            if unit is None:
                where = place.file if place and place.file else "the content folder"
                return SoundPart(content, why_not=f"{where} concerns the whole site, so nothing can be left out for it")
            out.add(unit)
    hidden = {
        unit
        for error in errors
        if error.place and (unit := _unit(error.place.file)) and units.may_hide_a_family(unit, error)
    }
    before: set[str] = set()
    while out != before:
        before = set(out)
        species = {unit.partition("/")[2] for unit in out if unit.startswith("species/")}
        for unit in sorted(hidden & out):
            own = units.species_of_family(unit)
            if not own:
                message = f"{unit} cannot be read, and nobody can tell whose evidence is missing with it"
                return SoundPart(content, why_not=message)
            species |= own
        out |= units.family(out) | units.of_species(species)
        out |= units.that_name(out)
        if "site.yaml" in out:
            return SoundPart(content, why_not="site.yaml names an animal or a litter that would have to be left out")
    if not any(unit.startswith("animals/") for unit in units.files.keys() - out):
        return SoundPart(content, why_not="no animal would remain that has nothing to do with what is wrong")
    return SoundPart(units.without(out), tuple(sorted(out)))


def first_told(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Of findings that turned up after records were left out, those that are not caused by that."""
    return tuple(each for each in findings if each.level is Level.ERROR and each.kind not in _CAUSED)


@dataclass
class _Units:
    """What can be left out by itself: a record's folder, a species, a page, a note of a project."""

    content: Content
    trees: dict[str, Node | None] = field(default_factory=dict)

    @cached_property
    def files(self) -> Mapping[str, Sequence[str]]:
        """Each unit with its files."""
        found: dict[str, list[str]] = {}
        for path in (*self.content.texts, *self.content.unreadable):
            found.setdefault(_unit(path) or path, []).append(path)
        return found

    @cached_property
    def by_id(self) -> Mapping[str, str]:
        """Animals' and litters' ids to their units."""
        records = [unit for unit in self.files if unit.startswith(("animals/", "litters/"))]
        return {f"{unit[:7]}/{same(unit.partition('/')[2])}": unit for unit in records}

    def tree(self, unit: str) -> Node | None:
        """The record of a unit as a tree; None when it cannot be read."""
        if unit not in self.trees:
            text = self._record(unit)
            tree, faults = parse_tree(text, unit) if text is not None else (None, ())
            self.trees[unit] = None if any(fault.level is Level.ERROR for fault in faults) else tree
        return self.trees[unit]

    def _record(self, unit: str) -> str | None:
        texts = [
            self.content.texts[path]
            for path in self.files.get(unit, ())
            if path in self.content.texts and not path.lower().endswith(".vtt")
        ]
        return texts[0] if texts else None

    def may_hide_a_family(self, unit: str, error: Finding) -> bool:
        """True when the record may belong to a family that it cannot be seen to belong to."""
        if not unit.startswith(("animals/", "litters/")):
            return False
        if error.kind is Kind.RECORD_MISSING:
            return False
        return self.tree(unit) is None or error.kind in _HIDES_A_PARENT or error.nearest in _LINKS

    @cached_property
    def bonds(self) -> Mapping[str, frozenset[str]]:
        """Each animal and litter with those it is related to in one step."""
        found: dict[str, set[str]] = {unit: set() for unit in self.by_id.values()}
        for unit in found:
            for other in self._named_as_kin(unit):
                if other != unit:
                    found[unit].add(other)
                    found[other].add(unit)
        return {unit: frozenset(others) for unit, others in found.items()}

    def _named_as_kin(self, unit: str) -> Iterator[str]:
        tree = self.tree(unit)
        if isinstance(tree, Entries):
            words = [word for key, node in tree.entries if key.text in _LINKS for word in _words(node, keys=True)]
            others = [word for key, node in tree.entries if key.text not in _LINKS for word in _words(node)]
            # a parent under a misspelt key is a parent all the same
            words += [word for word in others if same(word).partition("/")[0] in self._ids]
        else:
            words = _TOKEN.findall(self._record(unit) or "")
        for word in words:
            first = same(word).partition("/")[0]
            yield from (self.by_id[key] for key in (f"animals/{first}", f"litters/{first}") if key in self.by_id)

    @cached_property
    def _ids(self) -> frozenset[str]:
        return frozenset(key.partition("/")[2] for key in self.by_id)

    def family(self, units: Collection[str]) -> set[str]:
        """All that descent connects with these."""
        found: set[str] = set()
        waiting = [unit for unit in units if unit in self.bonds]
        while waiting:
            unit = waiting.pop()
            if unit not in found:
                found.add(unit)
                waiting += self.bonds[unit]
        return found

    @cached_property
    def _species_by_name(self) -> Mapping[str, str]:
        found = {}
        for unit in self.files:
            if unit.startswith("species/"):
                species = unit.partition("/")[2]
                found[same(species).casefold()] = species
                for name in self._values(unit, "name"):
                    found.setdefault(same(name).casefold(), species)
        return found

    def _values(self, unit: str, key: str) -> list[str]:
        """What stands at a key of a record, wherever in it; from the bare text where it is no tree."""
        tree = self.tree(unit)
        if tree is not None:
            return list(_at(tree, key))
        return re.findall(_LINE.format(key), self._record(unit) or "", re.MULTILINE)

    def _species(self, unit: str) -> set[str]:
        spelled = {same(word).casefold() for word in self._values(unit, "species")}
        return {self._species_by_name.get(word, word) for word in spelled if word}

    def species_of_family(self, unit: str) -> set[str]:
        """The species that a record or its family is said to be of; none where nobody says it."""
        return {species for each in self.family([unit]) for species in self._species(each)}

    def of_species(self, species: Collection[str]) -> set[str]:
        """The species files, and every animal, litter and project of these species."""
        if not species:
            return set()
        kinds = ("animals/", "litters/", "projects/")
        return {unit for unit in self.files if unit.startswith(kinds) and self._species(unit) & {*species}}

    def that_name(self, units: Collection[str]) -> set[str]:
        """Whatever has a word that is the id or the name of one of these animals and litters."""
        names: set[str] = set()
        for unit in units:
            if unit.startswith(("animals/", "litters/")):
                names |= {unit.partition("/")[2], *self._values(unit, "name")}
        plain = {same(name).casefold() for name in names if len(same(name)) > 1}
        if not plain:
            return set()
        either = re.compile(r"(?<![\w-])(?:" + "|".join(map(re.escape, sorted(plain))) + r")(?![\w-])")
        return {unit for unit in self.files.keys() - {*units} if either.search(same(self._said(unit)).casefold())}

    def _said(self, unit: str) -> str:
        """What is written in a unit, in which an animal may be named: of records only what is a text."""
        tree = self.tree(unit) if not unit.endswith(".md") else None
        if tree is None:
            return "\n".join(self.content.texts.get(path, "") for path in self.files[unit])
        least = (
            1 if unit.startswith(("projects/", WISHES_FILE)) else 2 if unit.startswith(("animals/", "litters/")) else 4
        )
        return "\n".join(word for word in _words(tree, keys=True, but=_LINKS) if len(word.split()) >= least)

    def without(self, out: Collection[str]) -> Content:
        """The content without these units and without what lies below them."""

        def stays(path: str) -> bool:
            unit = _unit(path) or path
            return unit not in out and not any(path.startswith(f"{each}/") for each in out)

        return replace(
            self.content,
            texts={path: text for path, text in self.content.texts.items() if stays(path)},
            photos={folder: paths for folder, paths in self.content.photos.items() if stays(folder)},
            videos={folder: paths for folder, paths in self.content.videos.items() if stays(folder)},
            unreadable=tuple(path for path in self.content.unreadable if stays(path)),
        )


def _unit(path: str) -> str | None:
    """What is left out with this path; None for what belongs to the whole."""
    parts = path.split("/")
    if parts[0] in ("animals", "litters", "projects") and len(parts) > 1:
        return path if path.endswith(".md") else "/".join(parts[:2])
    if parts[0] == "species" and len(parts) == 2:
        return path.removesuffix(".yaml")
    return path if path == WISHES_FILE or (parts[0] == "pages" and path.endswith(".md")) else None


def _words(node: Node, *, keys: bool = False, but: Sequence[str] = ()) -> Iterator[str]:
    """The values below a node; with ``keys`` the names that values have too, apart from some."""
    waiting = [node]
    while waiting:
        each = waiting.pop()
        if isinstance(each, Scalar):
            yield each.text
        elif isinstance(each, Items):
            waiting += each.items
        else:
            yield from (key.text for key, _ in each.entries if keys and key.text not in but)
            waiting += [value for _, value in each.entries]


def _at(node: Node, key: str) -> Iterator[str]:
    """The values that stand at a key, at whatever depth."""
    if isinstance(node, Items):
        for each in node.items:
            yield from _at(each, key)
    elif isinstance(node, Entries):
        for name, value in node.entries:
            if name.text == key and isinstance(value, Scalar):
                yield value.text
            else:
                yield from _at(value, key)
