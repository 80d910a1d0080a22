"""Which record each row stands for, who its parents are, and which rows hang on others."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.content.collection import Collection
from sitegen.content.references import WORDS, plain_id
from sitegen.findings import Kind, nearest
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId
from sitegen.keeper.cells import NOTHING, read_sires
from sitegen.keeper.columns import Field
from sitegen.keeper.labels import Carried
from sitegen.keeper.rows import Draft, RowReader

_ID = re.compile(r"[^\W_][\w-]*")
_LONGEST_ID = 80
_TOLD_ROWS = 5


@dataclass(slots=True)
class Planner:
    """Brings the rows of a sheet together with the records that stand.

    Attributes:
        collection: The sound records.
        rows: Tells what is wrong.
        with_parents: Parents that have neither a record nor a row get a bare record.
        possible: The chance that "possible het" stands for, if the keeper says so.
        by_name: A name or id as it may be written, to the ids it may stand for.
        drafts: Every draft by its id.
    """

    collection: Collection
    rows: RowReader
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
        self._check_twice(drafts)
        for draft in drafts:
            for spelling in (draft.named, draft.name, draft.id):
                if spelling and draft.id:
                    self.by_name.setdefault(spelling.casefold(), {})[draft.id] = None
            if draft.id:
                self.drafts.setdefault(draft.id, draft)
        parents: list[Draft] = []
        for draft in drafts:
            parents += self._parents(draft)
            self._check_litter(draft)
            self._check_possible(draft)
        return [*parents, *drafts]

    def _recognise(self, draft: Draft) -> None:
        """The record that a row stands for, or the id of a new one."""
        named = self.by_name.get(draft.named.casefold(), {}) if draft.named else {}
        called = self.by_name.get(draft.name.casefold(), {}) if draft.name else {}
        if draft.named and not named and not _ID.fullmatch(draft.named):  # its folder may have been made by an import
            named = self.by_name.get(plain_id(draft.named), {})
        if named:
            self._known_as(draft, list(named), Field.ID)
        elif draft.named:
            if called:
                self._tell_name_taken(draft, next(iter(called)))
            draft.id = self._new_id(draft, draft.named, Field.ID)
        elif called:
            self._known_as(draft, list(called), Field.NAME)
        elif draft.name:
            draft.id = self._new_id(draft, draft.name, Field.NAME)

    def _known_as(self, draft: Draft, ids: list[AnimalId], held: Field) -> None:
        if len(ids) == 1:
            draft.id, draft.known = ids[0], True
            return
        self.rows.tell(
            draft, held, Kind.ID_TWICE, f"several animals are called so: {', '.join(ids[:6])}",
            expected="an id that one animal has", remedy="write its folder name in a column id",
        )  # fmt: skip

    def _tell_name_taken(self, draft: Draft, other: AnimalId) -> None:
        self.rows.tell(
            draft, Field.NAME, Kind.ID_TWICE, f"another animal is called so, with the id {other}",
            expected="a name that no other animal has, or that animal's id", near=other,
            remedy=f'write "{other}" as the id when it is the same animal, or another name',
        )  # fmt: skip

    def _new_id(self, draft: Draft, text: str, held: Field) -> AnimalId:
        """The folder name of a new animal; empty, and told, when none can be made or it is taken."""
        made = text if held is Field.ID and _ID.fullmatch(text) else plain_id(text)
        if not made or len(made) > _LONGEST_ID or not _ID.fullmatch(made):
            self.rows.tell(
                draft, held, Kind.ID_WRONG, "no folder can be named after this",
                expected="letters and digits", remedy="add a column id with a short plain name",
            )  # fmt: skip
            return ""
        if made.casefold() in WORDS:
            self.rows.tell(
                draft, held, Kind.ID_WRONG, f'"{made}" is a word of the records themselves, so no folder is called so',
                expected=f"any name but {', '.join(sorted(WORDS))}", remedy="add a column id with another name",
            )  # fmt: skip
            return ""
        taken = {animal.casefold(): animal for animal in self.collection.animals}
        if other := taken.get(made.casefold()):
            self.rows.tell(
                draft, held, Kind.ID_TWICE, f"its folder would be called {made}, and another animal has that",
                remedy=f'write "{other}" in a column id when it is the same animal, else another id',
            )  # fmt: skip
            return ""
        return made

    def _check_twice(self, drafts: list[Draft]) -> None:
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
                self.rows.tell(
                    draft, Field.ID if Field.ID in draft.cells else Field.NAME, Kind.ID_TWICE,
                    f"this animal stands in row {', '.join(others)}{more} as well", expected="one row for each animal",
                    remedy="delete one of them, or give them different ids and names",
                )  # fmt: skip

    def _parents(self, draft: Draft) -> list[Draft]:
        """The ids of the parents, and the drafts of those that get a bare record."""
        made: list[Draft] = []
        if (cell := draft.cells.get(Field.DAM)) and cell.text.lower() not in NOTHING:
            draft.dam = self._animal(draft, Field.DAM, " ".join(cell.text.split()), Sex.FEMALE, made)
        if (cell := draft.cells.get(Field.SIRE)) and cell.text.lower() not in NOTHING:
            text = " ".join(cell.text.split())
            parts = ((text, None),) if text.casefold() in self.by_name else read_sires(text)
            found = [(self._animal(draft, Field.SIRE, name, Sex.MALE, made), odds) for name, odds in parts]
            odds = [chance for _, chance in found if chance is not None]
            if odds and (len(odds) < len(found) or sum(odds) != 1):
                self.rows.tell(
                    draft, Field.SIRE, Kind.ODDS_WRONG, "the odds of the possible sires do not sum to 1",
                    remedy="write none, or one for each: flint 2/3 or basalt 1/3",
                )  # fmt: skip
            draft.sires = tuple((sire, str(chance) if chance is not None else "") for sire, chance in found if sire)
        return made

    def _animal(self, draft: Draft, held: Field, name: str, sex: Sex, made: list[Draft]) -> AnimalId:
        """The animal that is meant; empty, and told, when that cannot be said."""
        name = name.strip()
        found = list(self.by_name.get(name.casefold(), {}))
        if len(found) == 1:
            return found[0]
        if found:
            self.rows.tell(
                draft, held, Kind.ID_TWICE, f'several animals are called "{name}": {", ".join(found[:6])}',
                remedy="write the folder name of the one that is meant",
            )  # fmt: skip
            return ""
        if self.with_parents and draft.species and not draft.known:
            parent = Draft(draft.row, bare=True, name=name, species=draft.species, sex=sex)
            parent.cells = {Field.NAME: draft.cells[held]}
            parent.id = self._new_id(parent, name, Field.NAME)
            if parent.id and parent.id.casefold() not in {other.casefold() for other in self.drafts}:
                self.drafts[parent.id] = parent
                self.by_name.setdefault(name.casefold(), {})[parent.id] = None
                made.append(parent)
                return parent.id
        near = nearest(name, self.by_name)
        self.rows.tell(
            draft, held, Kind.ANIMAL_UNKNOWN, f'no record and no other row is called "{name}"',
            expected="the name or id of an animal", near=near,
            remedy="correct it, add a row for it, or let bare records be made with --with-parents",
        )  # fmt: skip
        return ""

    def _check_litter(self, draft: Draft) -> None:
        """A litter alone does not say which of its young a new animal is."""
        if not draft.litter or draft.known or draft.dam or draft.sires:
            return
        litter = draft.litter.partition("/")[0]
        near = "" if litter in self.collection.litters else nearest(litter, self.collection.litters)
        self.rows.tell(
            draft, Field.LITTER, Kind.LITTER_UNKNOWN,
            "which parents this litter has, or which of its young this is, is not said by the sheet",
            near=near, remedy="name dam and sire in columns of their own, or list the young in the litter's record",
        )  # fmt: skip

    def _check_possible(self, draft: Draft) -> None:
        """Possible het without a number, of an animal whose parents are not recorded, has no meaning as evidence."""
        if draft.known or draft.dam or draft.sires or self.possible is not None:
            return
        named = {Field.DAM, Field.SIRE} & set(draft.cells)
        for carried in draft.label.carried if not (named and not draft.whole) else ():
            if carried.chance is None:
                self.rows.tell(
                    draft, Field.GENETICS if Field.GENETICS in draft.cells else Field.HETS, Kind.ODDS_WRONG,
                    f'how likely "{carried.written}" is, is not said, and its parents are not recorded',
                    expected="a percentage, as in 66% het",
                    remedy='write it, or "possible: 50%" in a columns file when all of the sheet means that',
                )  # fmt: skip

    def stated(self, draft: Draft) -> tuple[Carried, ...]:
        """What a label says becomes a previous keeper's statement only where no parents are recorded."""
        if draft.dam or draft.sires:
            return ()
        return tuple(
            Carried(c.locus, c.allele, self.possible, c.written, c.copies) if c.chance is None else c
            for c in draft.label.carried
        )

    def hanging(self, drafts: Iterable[Draft], lost: Mapping[AnimalId, Draft]) -> Iterator[tuple[Draft, Draft]]:
        """Drafts whose parent is one of the lost ones, with that parent."""
        for draft in drafts:
            parent = next((p for p in (draft.dam, *(sire for sire, _ in draft.sires)) if p in lost), "")
            if parent:
                yield draft, lost[parent]
