"""Rows beside the records: which record each row stands for, who its parents are, and where the two differ."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.references import WORDS
from sitegen.content.written_records import plain_id
from sitegen.evidence.answers import Known
from sitegen.evidence.kinds import chance_of_allele, chance_of_copies
from sitegen.findings import Kind, nearest
from sitegen.genetics.loci import WILD, Sex
from sitegen.genetics.questions import AnimalId
from sitegen.keeper.cells import NOTHING, Unread, read_sires
from sitegen.keeper.labels import Carried
from sitegen.keeper.lookup import ID, LONGEST_ID
from sitegen.keeper.rows import Draft
from sitegen.words.numbers import in_100

_TOLD_ROWS = 5
_ROUNDED = Fraction(1, 100)
"""A percentage that differs by less says the same: 67% and 2/3."""


@dataclass(slots=True)
class RowPlanner:
    """Brings the rows of a sheet together with the records that stand.

    Attributes:
        collection: The sound records.
        with_parents: Parents that have neither a record nor a row get a bare record.
        possible: The chance that "possible het" stands for, if the keeper says so.
        by_name: A name or id as it may be written, to the ids it may stand for.
        drafts: Every draft by its id.
    """

    collection: Collection
    with_parents: bool = False
    possible: Fraction | None = None
    by_name: dict[str, dict[AnimalId, None]] = field(default_factory=dict)
    drafts: dict[AnimalId, Draft] = field(default_factory=dict)

    def plan(self, drafts: list[Draft]) -> list[Draft]:
        """The drafts with ids and parents, and those of parents that get a record of their own."""
        for animal in self.collection.animals.values():
            own_number = animal.is_young and animal.name == animal.number
            spellings = [animal.id, *([] if own_number else [animal.name])]
            spellings += [f"{animal.litter}/{animal.number}"] if animal.litter else []
            for spelling in spellings:
                self.by_name.setdefault(spelling.casefold(), {})[animal.id] = None
        for draft in drafts:
            self._recognise(draft)
        _check_twice(drafts)
        for draft in drafts:
            for spelling in (draft.named, draft.name, draft.id):
                if spelling and draft.id:
                    self.by_name.setdefault(spelling.casefold(), {})[draft.id] = None
            if draft.id:
                self.drafts.setdefault(draft.id, draft)
        parents: list[Draft] = []
        for draft in drafts:
            parents += self._find_parents(draft)
            self._check_litter(draft)
            self._check_possible(draft)
        return [*parents, *drafts]

    def _recognise(self, draft: Draft) -> None:
        """The record that a row stands for, or the id of a new one."""
        named = self.by_name.get(draft.named.casefold(), {}) if draft.named else {}
        called = self.by_name.get(draft.name.casefold(), {}) if draft.name else {}
        if draft.named and not named and not ID.fullmatch(draft.named):  # its folder may have been made by an import
            named = self.by_name.get(plain_id(draft.named), {})
        found, held = (list(named), "id") if draft.named else (list(called), "name")
        if len(found) == 1:
            draft.id, draft.known = found[0], True
        elif found:
            message, expected = f"several animals are called so: {', '.join(found[:6])}", "an id that one animal has"
            remedy = "write its folder name in a column id"
            draft.tell(held, Kind.ID_TWICE, Unread(message, expected, remedy=remedy))
        elif draft.named:
            if called:
                other = next(iter(called))
                message = f"another animal is called so, with the id {other}"
                expected = "a name that no other animal has, or that animal's id"
                remedy = f'write "{other}" as the id when it is the same animal, or another name'
                draft.tell("name", Kind.ID_TWICE, Unread(message, expected, other, remedy))
            draft.id = self._new_id(draft, draft.named, "id")
        elif draft.name:
            draft.id = self._new_id(draft, draft.name, "name")

    def _new_id(self, draft: Draft, text: str, held: str) -> AnimalId:
        """The folder name of a new animal; empty, and told, when none can be made or it is taken."""
        made = text if held == "id" and ID.fullmatch(text) else plain_id(text)
        taken = {animal.casefold(): animal for animal in self.collection.animals}
        if not made or len(made) > LONGEST_ID or not ID.fullmatch(made):
            remedy = "add a column id with a short plain name"
            why = Unread("no folder can be named after this", "letters and digits", remedy=remedy)
            draft.tell(held, Kind.ID_WRONG, why)
        elif made.casefold() in WORDS:
            message = f'"{made}" is a word of the records themselves, so no folder is called so'
            expected, remedy = f"any name but {', '.join(sorted(WORDS))}", "add a column id with another name"
            draft.tell(held, Kind.ID_WRONG, Unread(message, expected, remedy=remedy))
        elif other := taken.get(made.casefold()):
            message = f"its folder would be called {made}, and another animal has that"
            remedy = f'write "{other}" in a column id when it is the same animal, else another id'
            draft.tell(held, Kind.ID_TWICE, Unread(message, remedy=remedy))
        else:
            return made
        return ""

    def _find_parents(self, draft: Draft) -> list[Draft]:
        """Set the ids of the parents; the drafts of those that get a bare record."""
        made: list[Draft] = []
        if (cell := draft.cells.get("dam")) and cell.text.lower() not in NOTHING:
            draft.dam = self._animal(draft, "dam", " ".join(cell.text.split()), made)
        if (cell := draft.cells.get("sire")) and cell.text.lower() not in NOTHING:
            text = " ".join(cell.text.split())
            parts = ((text, None),) if text.casefold() in self.by_name else read_sires(text)
            found = [(self._animal(draft, "sire", name, made), odds) for name, odds in parts]
            odds = [chance for _, chance in found if chance is not None]
            if odds and (len(odds) < len(found) or sum(odds) != 1):
                message = "the odds of the possible sires do not sum to 1"
                remedy = "write none, or one for each: flint 2/3 or basalt 1/3"
                draft.tell("sire", Kind.ODDS_WRONG, Unread(message, remedy=remedy))
            draft.sires = tuple((sire, str(chance) if chance is not None else "") for sire, chance in found if sire)
        return made

    def _animal(self, draft: Draft, held: str, name: str, made: list[Draft]) -> AnimalId:
        """The animal that is meant as a dam or sire; empty, and told, when that cannot be said."""
        name = name.strip()
        found = list(self.by_name.get(name.casefold(), {}))
        if len(found) == 1:
            return found[0]
        if found:
            message = f'several animals are called "{name}": {", ".join(found[:6])}'
            remedy = "write the folder name of the one that is meant"
            draft.tell(held, Kind.ID_TWICE, Unread(message, remedy=remedy))
            return ""
        if self.with_parents and draft.species and not draft.known:
            sex = Sex.FEMALE if held == "dam" else Sex.MALE
            parent = Draft(draft.file, draft.row, bare=True, name=name, species=draft.species, sex=sex)
            parent.cells = {"name": draft.cells[held]}
            parent.id = self._new_id(parent, name, "name")
            if parent.id and parent.id.casefold() not in {other.casefold() for other in self.drafts}:
                self.drafts[parent.id] = parent
                self.by_name.setdefault(name.casefold(), {})[parent.id] = None
                made.append(parent)
                return parent.id
        message, expected = f'no record and no other row is called "{name}"', "the name or id of an animal"
        remedy = "correct it, add a row for it, or let bare records be made with --with-parents"
        draft.tell(held, Kind.ANIMAL_UNKNOWN, Unread(message, expected, nearest(name, self.by_name), remedy))
        return ""

    def _check_litter(self, draft: Draft) -> None:
        """A litter alone does not say which of its young a new animal is."""
        if not draft.texts.get("litter") or draft.known or draft.parents:
            return
        litter = draft.texts["litter"].partition("/")[0]
        near = "" if litter in self.collection.litters else nearest(litter, self.collection.litters)
        message = "which parents this litter has, or which of its young this is, is not said by the sheet"
        remedy = "name dam and sire in columns of their own, or list the young in the litter's record"
        draft.tell("litter", Kind.LITTER_UNKNOWN, Unread(message, nearest=near, remedy=remedy))

    def _check_possible(self, draft: Draft) -> None:
        """Possible het without a number, of an animal whose parents are not recorded, has no meaning as evidence."""
        if draft.known or draft.parents or self.possible is not None:
            return
        if {"dam", "sire"} & set(draft.cells) and not draft.whole:  # its parents may be known once the row is mended
            return
        for carried in draft.label.carried:
            if carried.chance is None:
                held = "genetics" if "genetics" in draft.cells else "hets"
                message = f'how likely "{carried.written}" is, is not said, and its parents are not recorded'
                remedy = 'write it, or "possible: 50%" in a columns file when all of the sheet means that'
                draft.tell(held, Kind.ODDS_WRONG, Unread(message, "a percentage, as in 66% het", remedy=remedy))

    def stated(self, draft: Draft) -> tuple[Carried, ...]:
        """What a label says becomes a previous keeper's statement only where no parents are recorded."""
        if draft.parents:
            return ()
        return tuple(
            Carried(c.locus, c.allele, self.possible, c.written, c.copies) if c.chance is None else c
            for c in draft.label.carried
        )


def _check_twice(drafts: Iterable[Draft]) -> None:
    """Two rows for one animal: neither is taken, since nothing says which is right."""
    groups: dict[tuple[str, str], list[Draft]] = {}
    for draft in drafts:
        if draft.id:
            groups.setdefault(("id", draft.id.casefold()), []).append(draft)
        if draft.name and not draft.known:
            groups.setdefault(("name", draft.name.casefold()), []).append(draft)
    for same in groups.values():
        first = [str(draft.row) for draft in same[: _TOLD_ROWS + 1]]
        for draft in same if len(same) > 1 else []:
            others = [row for row in first if row != str(draft.row)][:_TOLD_ROWS]
            more = f" and {len(same) - 1 - len(others)} more" if len(same) - 1 > len(others) else ""
            held, message = ("id" if "id" in draft.cells else "name"), f"this animal stands in row {', '.join(others)}"
            expected, remedy = "one row for each animal", "delete one of them, or give them different ids and names"
            draft.tell(held, Kind.ID_TWICE, Unread(f"{message}{more} as well", expected, remedy=remedy))


Difference = tuple[str, str]
"""The kind of column, and what differs, as a clause."""


def differences(draft: Draft, known: Known) -> Iterator[Difference]:
    """Where a row differs from the record that it stands for."""
    animal = known.collection.animals[draft.id]
    own_name = "" if animal.name in (animal.id, animal.number) else animal.name
    pairs: tuple[tuple[str, object, object], ...] = (
        ("name", draft.name, own_name or draft.name),
        ("species", draft.species if "species" in draft.cells else "", animal.species),
        ("sex", None if draft.sex is Sex.UNKNOWN else draft.sex, animal.sex),
        ("born", draft.days.get("born"), animal.born),
        ("died", draft.days.get("died"), animal.died),
        ("dam", draft.dam, animal.dam or ""),
        ("line", draft.texts.get("line"), animal.line),
        ("locality", draft.texts.get("locality"), animal.locality),
        ("state", draft.state, animal.offer.state if animal.offer else None),
    )
    for held, here, there in pairs:
        if here and here != there:
            yield held, f"the record says {there or 'nothing'}"
    sires = [sire for sire, _ in animal.sires]
    if draft.sires and sorted(sire for sire, _ in draft.sires) != sorted(sires):
        yield "sire", f"the record says {' or '.join(sires) or 'nothing'}"
    yield from _looks(draft, animal)
    for carried in draft.label.carried:
        if not _states(animal, carried):
            yield from carrying(draft, carried, known)


def seen_of(animal: Animal) -> Mapping[str, str]:
    """Locus to the look that the records name."""
    return {look.locus: look.look for genes in animal.genes for look in genes.judged.seen}


def _looks(draft: Draft, animal: Animal) -> Iterator[Difference]:
    if not draft.label.judged:
        return
    there = seen_of(animal)
    unlike = {locus for locus, look in draft.label.looks if there.get(locus) not in (look, None)}
    here = {locus for locus, _ in draft.label.looks}
    if unlike or here != set(there):
        looks = ", ".join(there.values()) or "nothing"
        judged = any(genes.judged.written for genes in animal.genes)
        yield "genetics", f"the record says that it shows {looks}" if judged else "the record judges nothing"


def _states(animal: Animal, carried: Carried) -> bool:
    """True when the record's own statement is the same."""
    for genes in animal.genes:
        for stated in genes.stated:
            if stated.locus == carried.locus and carried.chance is not None:
                held = sum((share for pair, share in stated.odds.items() if carried.allele in pair), Fraction(0))
                copies = max((pair.count(carried.allele) for pair in stated.odds), default=0)
                if held == carried.chance and copies == carried.copies:
                    return True
    return False


def carrying(draft: Draft, carried: Carried, known: Known) -> Iterator[Difference]:
    """What a label says of a gene, against what the evidence gives."""
    posterior = known.answers.posteriors.get(draft.id, {}).get(carried.locus, {})
    if not posterior:
        return
    if carried.copies == 2:
        chance = chance_of_copies(posterior, carried.allele, 2)
    else:
        chance = chance_of_allele(posterior, carried.allele)
    said = carried.chance
    fits = chance > 0 if said is None else abs(said - chance) < _ROUNDED and (said == 1) == (chance == 1)
    if fits:
        return
    if carried.copies == 1 and all(WILD not in pair and carried.allele in pair for pair in posterior):
        return
    what = "has two copies of" if carried.copies == 2 else "carries"
    side = "less" if said is not None and said < chance else "more"
    held = "none do" if not chance else f"{in_100(chance)} such animals do"
    yield (
        "genetics",
        f'"{carried.written}" says {side} than the records: that it {what} {carried.allele} rests on its parents and '
        f"other evidence, and by them {held}",
    )
