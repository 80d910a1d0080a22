"""Whom a statement is about: the animal of the record, a parent, young of a litter, or an animal that is named."""

import re
from bisect import bisect_left
from dataclasses import dataclass, replace
from enum import Enum

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.texts import FreeText, Of
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.words.audit.expressions import expressions
from sitegen.words.audit.seen import Seen, folded
from sitegen.words.audit.shorthand import Statement
from sitegen.words.written import written


@dataclass(frozen=True, slots=True)
class Whose:
    """Of whom a statement must be true.

    Attributes:
        animals: Those it may be about; none when that cannot be told.
        every: It must be true of all of them; otherwise of one.
        litter: The litter whose young they are, or empty.
    """

    animals: tuple[AnimalId, ...] = ()
    every: bool = False
    litter: str = ""


_NOBODY = Whose()


class _Role(Enum):
    """What a word that names somebody stands for."""

    OTHERS = "others"
    PARENTS = "parents"
    DAM = "dam"
    SIRE = "sire"
    SHE = "she"
    HE = "he"
    SELF = "self"
    NUMBER = "number"
    NAME = "name"


@dataclass(frozen=True, slots=True)
class _Mark:
    """A word that names somebody; ``animals`` where it names some of the collection."""

    start: int
    end: int
    role: _Role
    animals: tuple[AnimalId, ...] = ()


_WORDS = {name: re.compile(words, re.IGNORECASE) for name, words in expressions(written("audit/subjects"), {}).items()}
_CAPITAL_WORD = re.compile(r"(?<![\w/.-])[^\W\d_a-z][\w’'-]*")
_FIRST_WORD = re.compile(r"[^\W\d_][\w’'-]*")
_ANIMAL_LINK = re.compile(r"(?:animals/|litters/[^/]+/)[^/]+\.html\Z")


NamedThere = tuple[int, int, tuple[AnimalId, ...]]
"""Begin and end of a name in a text, and the animals that have it."""


@dataclass(frozen=True, slots=True)
class ReadSentence:
    """A sentence of a text as it is read, and where it stands in the whole text as it is seen.

    ``free`` is the text as it was written; ``names`` are the animals that the sentence names, in order.
    """

    free: FreeText
    text: Seen
    start: int
    end: int
    names: list[NamedThere]

    @property
    def span(self) -> tuple[int, int]:
        """Begin and end."""
        return self.start, self.end


_PARENTAL = (_Role.NAME, _Role.DAM, _Role.SIRE)


class Subjects:
    """Finds whom statements are about; knows the names of the collection."""

    def __init__(self, collection: Collection) -> None:
        """Gather every animal's name."""
        self.collection = collection
        self._by_first_word: dict[str, dict[str, list[AnimalId]]] = {}
        self._by_address: dict[str, AnimalId] = {}
        for animal in collection.animals.values():
            self._by_address[f"animals/{animal.id}.html"] = animal.id
            if animal.litter:
                self._by_address[f"litters/{animal.litter}/{animal.number}.html"] = animal.id
            name = folded(animal.name).strip()
            if first := _FIRST_WORD.match(name):
                key = first[0].casefold()
                self._by_first_word.setdefault(key, {}).setdefault(name.casefold(), []).append(animal.id)

    def names(self, text: Seen, start: int, end: int) -> list[NamedThere]:
        """Begin, end and animals of every name, written with a capital, and of every link to an animal's page."""
        found: list[NamedThere] = []
        for first, last, address in text.links[bisect_left(text.links, (start,)) : bisect_left(text.links, (end,))]:
            match = _ANIMAL_LINK.search(address.partition("#")[0])
            animal = self._by_address.get(match[0]) if match else None
            if animal:
                found.append((first, last, (animal,)))
        for match in _CAPITAL_WORD.finditer(text.text, start, end):
            bare = re.sub(r"['’]s?\Z", "", match[0])
            longer = self._by_first_word.get(bare.casefold(), {}) if bare[0].isupper() else {}
            for name in sorted(longer, key=len, reverse=True):
                if text.text[match.start() :][: len(name)].casefold() == name:
                    found.append((match.start(), match.start() + len(name), tuple(longer[name])))
                    break
        return sorted(found)

    def whose(self, read: ReadSentence, statement: Statement) -> Whose:
        """Of whom a statement must be true."""
        free, plain, names = read.free, read.text.text, read.names
        before = plain[read.start : statement.start]
        usual = self._usual(free, before)
        if statement.of_young and free.of is Of.LITTER:  # what comes of a litter, its parents hand on
            return replace(self._parents_of_litter(free.id), every=statement.of_both)
        if free.of is Of.LITTER and free.key == "name" and re.search(r"\bx\b|\u00d7", plain, re.IGNORECASE):
            return self._parents_of_litter(free.id)
        followed = _WORDS["followed"].match(plain[statement.end : read.end])
        if followed and followed.lastgroup:
            return self._role(_Role[followed.lastgroup], free, usual, ())
        if _WORDS["paired"].search(before):
            return _NOBODY
        marks = self._marks(read, statement.start)
        if not marks:
            return usual if usual.animals else self._named_behind(plain, statement, names)
        mark = marks[-1]
        if mark.role in (_Role.SHE, _Role.HE, _Role.SELF) and not usual.animals:
            mark = next((earlier for earlier in reversed(marks) if earlier.role is _Role.NAME), mark)
        whose = self._role(mark.role, free, usual, mark.animals, self._owner(plain, mark, names))
        between = plain[mark.end : statement.start]
        if between.strip() != "(" and self._is_origin(read, mark, statement):
            several = sum(each.role in _PARENTAL for each in marks) > 1
            later = any(start >= statement.end for start, _, _ in names)
            others = () if several and not later else whose.animals
            together = tuple(dict.fromkeys((*usual.animals, *others)))
            return Whose(together if usual.animals else (), litter=usual.litter)
        return whose

    def _named_behind(self, plain: str, statement: Statement, names: list[NamedThere]) -> Whose:
        """The animal that is named just after a statement: "our het hypo female Juniper"."""
        for start, _, animals in names:
            if statement.end <= start <= statement.end + 40:
                apart = re.search(r"[,;:—\u2013()]", plain[statement.end : start])
                return _NOBODY if apart else Whose(animals)
        return _NOBODY

    def _is_origin(self, read: ReadSentence, mark: _Mark, statement: Statement) -> bool:
        """True when somebody is named only as where the animal came from: "from Juniper and Flint, 66% het"."""
        plain = read.text.text
        between = plain[mark.end : statement.start]
        apart = mark.role is _Role.OTHERS or re.search(r"[,;:)(—\u2013]|\s-\s", between)
        counted = _WORDS["counted"].search(plain[read.start : statement.start])
        from_there = _WORDS["origin"].search(plain[read.start : mark.start])
        return bool(from_there and apart and not counted and not _WORDS["relative"].search(between))

    def _usual(self, free: FreeText, before: str) -> Whose:
        """Whom a text is about when it names nobody."""
        if free.of is Of.ANIMAL:
            return Whose((free.id,))
        if free.of is Of.LITTER:
            return Whose(self.collection.litters[free.id].young, bool(_WORDS["all"].search(before)), free.id)
        return _NOBODY

    def _marks(self, read: ReadSentence, end: int) -> list[_Mark]:
        """Everybody who is named in a sentence before a statement, in order."""
        plain, start, names = read.text.text, read.start, read.names
        marks = [
            _Mark(first, last, _Role.OTHERS if _WORDS["of_name"].search(plain[start:first]) else _Role.NAME, animals)
            for first, last, animals in names
            if last <= end
        ]
        for match in _WORDS["marks"].finditer(plain, start, end):
            if any(first <= match.start() < last for first, last, _ in names):
                continue
            group = next(name for name, value in match.groupdict().items() if value is not None and name != "n")
            role = _Role[group]
            parent = role in (_Role.DAM, _Role.SIRE, _Role.PARENTS)
            if parent and not (_WORDS["owned"].search(plain[start : match.start()]) or role is _Role.PARENTS):
                continue
            marks.append(_Mark(match.start(), match.end(), role, (match["n"],) if role is _Role.NUMBER else ()))
        named = (
            mark
            for mark in marks
            if not ("," in plain[mark.end : end] and _WORDS["if"].search(plain[start : mark.start]))
        )
        return sorted(named, key=lambda mark: mark.start)

    def _owner(self, plain: str, mark: _Mark, names: list[NamedThere]) -> tuple[AnimalId, ...]:
        """The animals named just before a parent: "Juniper's dam"."""
        return next((a for _, end, a in names if re.fullmatch(r"['’]s?\s+", plain[end : mark.start])), ())

    def _role(
        self,
        role: _Role,
        free: FreeText,
        usual: Whose,
        animals: tuple[str, ...],
        owner: tuple[AnimalId, ...] = (),
    ) -> Whose:
        """The animals that a word stands for in this text."""
        match role:
            case _Role.NAME:
                return Whose(animals)
            case _Role.SELF:
                return usual
            case _Role.SHE | _Role.HE:
                return self._pronoun(Sex.FEMALE if role is _Role.SHE else Sex.MALE, free, usual)
            case _Role.NUMBER:
                return self._numbered(free, animals[0])
            case _Role.OTHERS:
                return usual if free.of is Of.LITTER else _NOBODY
        if free.of is Of.LITTER and not owner:
            return self._parents_of_litter(free.id, role)
        children = owner or (usual.animals if free.of is Of.ANIMAL else ())
        records = [self.collection.animals[child] for child in children]
        found = [parent for record in records for parent in _parents(record, role)]
        single = role is not _Role.PARENTS or all(len(record.sires) <= 1 for record in records)
        return Whose(tuple(dict.fromkeys(found)), every=role is _Role.PARENTS and single)

    def _pronoun(self, sex: Sex, free: FreeText, usual: Whose) -> Whose:
        """She or he: the animal of the record when its sex fits, a parent of the litter or a young of that sex."""
        fits = tuple(i for i in usual.animals if self.collection.animals[i].sex in (sex, Sex.UNKNOWN))
        if free.of is not Of.LITTER:
            return Whose(fits)
        parents = self._parents_of_litter(free.id, _Role.DAM if sex is Sex.FEMALE else _Role.SIRE)
        return Whose((*parents.animals, *fits))

    def _numbered(self, free: FreeText, number: str) -> Whose:
        """A young of the litter by its number."""
        litter = self.collection.litters.get(free.id) if free.of is Of.LITTER else None
        for young in litter.young if litter else ():
            written = self.collection.animals[young].number
            if written == number or (written.isdigit() and number.isdigit() and int(written) == int(number)):
                return Whose((young,))
        return _NOBODY

    def _parents_of_litter(self, litter_id: str, role: _Role = _Role.PARENTS) -> Whose:
        litter = self.collection.litters[litter_id]
        dam = (litter.dam,) if litter.dam and role is not _Role.SIRE else ()
        sires = tuple(sire for sire, _ in litter.sires) if role is not _Role.DAM else ()
        return Whose((*dam, *sires))


def _parents(record: Animal, role: _Role) -> tuple[AnimalId, ...]:
    dam = (record.dam,) if record.dam and role is not _Role.SIRE else ()
    return (*dam, *(sire for sire, _ in record.sires if role is not _Role.DAM))
