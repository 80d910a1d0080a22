"""One row of a sheet as a draft of a record, with everything in it that was not understood."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TypeVar

from sitegen.content.animals import OfferState
from sitegen.content.species import Species
from sitegen.content.values import PartialDate
from sitegen.findings import Finding, Kind, Level, Place, nearest
from sitegen.genetics.loci import Sex
from sitegen.keeper.cells import (
    NOTHING,
    Unread,
    read_day,
    read_price,
    read_sex,
    read_state,
    read_weight,
    read_yes,
)
from sitegen.keeper.columns import IN_GRAMS, Columns, Field, Mapped
from sitegen.keeper.labels import Label, LabelReader, merged
from sitegen.keeper.sheets import Cell, Row, plain_heading

T = TypeVar("T")
_SHOWN = 70
_PRIVATE = "private"


@dataclass(slots=True)
class Draft:
    """An animal as a row tells it. None, or nothing, where the row does not say.

    Attributes:
        row: The number of the row.
        id: The folder name it gets, or the id of the record it is known to be; empty until it is planned.
        known: The row stands for a record that exists.
        bare: It is only named as a parent.
        unsound: It cannot be true beside other rows; one of them says why.
        waits: It is understood, and a parent of it stands in a row that is not taken.
        named: What the sheet calls it as its id.
        dam, sires: The cells that name its parents, and then the ids they stand for.
        private: What is never published, by heading.
        cells: The first cell of each kind, for places.
        findings: What was not understood.
    """

    row: int
    id: str = ""
    known: bool = False
    bare: bool = False
    waits: bool = False
    unsound: bool = False
    named: str = ""
    name: str = ""
    species: str = ""
    sex: Sex | None = None
    born: PartialDate | None = None
    died: PartialDate | None = None
    acquired: PartialDate | None = None
    weighed: PartialDate | None = None
    since: PartialDate | None = None
    ready: PartialDate | None = None
    weight: str = ""
    price: str = ""
    state: OfferState | None = None
    kept: bool | None = None
    unsure: tuple[str, ...] = ()
    line: str = ""
    locality: str = ""
    about: str = ""
    litter: str = ""
    label: Label = field(default_factory=Label)
    private: dict[str, str] = field(default_factory=dict)
    cells: dict[Field, Cell] = field(default_factory=dict)
    dam: str = ""
    sires: tuple[tuple[str, str], ...] = ()
    findings: list[Finding] = field(default_factory=list)

    @property
    def whole(self) -> bool:
        """True when everything in the row was understood, and can be true."""
        return not self.unsound and all(finding.level is not Level.ERROR for finding in self.findings)

    @property
    def called(self) -> str:
        """What the sheet calls it."""
        return self.name or self.named or f"row {self.row}"


@dataclass(frozen=True, slots=True)
class RowReader:
    """Reads the rows of one sheet.

    Attributes:
        file: What the sheet's file is called.
        columns, mapped: What its columns hold.
        species: The species of the collection.
        usual: The species of a row that names none; empty when that is not known.
        readers: Species id to the reader of its labels.
    """

    file: str
    columns: Columns
    mapped: Mapped
    species: Mapping[str, Species]
    usual: str
    readers: dict[str, LabelReader] = field(default_factory=dict)

    def read(self, row: Row) -> Draft:
        """The draft of a row."""
        draft = Draft(row.number)
        by_field: dict[Field, list[Cell]] = {}
        for cell in row.cells:
            held = self.columns.held.get(cell.column, Field.IGNORE)
            by_field.setdefault(held, []).append(cell)
        draft.cells = {held: cells[0] for held, cells in by_field.items()}
        texts = {held: " ".join(cells[0].text.split()) for held, cells in by_field.items()}
        draft.named = _same(texts.get(Field.ID, ""))
        draft.name = _same(texts.get(Field.NAME, ""))
        if draft.name.lower() in NOTHING:
            draft.name = ""
        draft.line = _known_text(texts.get(Field.LINE, ""))
        draft.locality = _known_text(texts.get(Field.LOCALITY, ""))
        draft.about = by_field[Field.ABOUT][0].text if Field.ABOUT in by_field else ""
        draft.litter = _known_text(texts.get(Field.LITTER, ""))
        draft.species = self._species(draft, texts.get(Field.SPECIES, ""))
        self._days(draft, texts)
        self._offer(draft, texts)
        self._rest(draft, texts)
        self._private(draft, by_field.get(Field.PRIVATE, []))
        if draft.species:
            self._labels(draft, by_field)
        if not draft.name and not draft.named:
            self.tell(draft, None, Kind.KEY_MISSING, "the animal has neither a name nor an id", remedy="write one")
        return draft

    def tell(
        self, draft: Draft, held: Field | None, kind: Kind, message: str, *, expected: str = "", near: str = "",
        remedy: str = "", level: Level = Level.ERROR, cell: Cell | None = None,
    ) -> None:  # fmt: skip
        """Say what is wrong with a row, at the cell of a kind where there is one."""
        cell = cell or (draft.cells.get(held) if held else None)
        where = f'row {draft.row}, {cell.heading} "{_clipped(cell.text)}"' if cell else f"row {draft.row}"
        place = Place(self.file, draft.row, cell.column if cell else 1)
        finding = Finding(level, kind, place, f"{where}: {message}", expected, near, remedy)
        if finding not in draft.findings:
            draft.findings.append(finding)

    def reader(self, species: str) -> LabelReader:
        """The reader of a species' labels."""
        if species not in self.readers:
            self.readers[species] = LabelReader(self.species[species], self.mapped.words)
        return self.readers[species]

    def _species(self, draft: Draft, written: str) -> str:
        if not written:
            if not self.usual:
                self.tell(
                    draft, None, Kind.SPECIES_UNKNOWN, "no species is named",
                    expected=f"one of {', '.join(self.species)}", remedy="add a column species, or write --species",
                )  # fmt: skip
            return self.usual
        spellings = {
            spelling.casefold(): own.id
            for own in self.species.values()
            for spelling in (own.scientific, own.name, own.id)
            if spelling
        }
        found = spellings.get(written.casefold(), "")
        if not found:
            near = nearest(written, spellings)
            self.tell(
                draft, Field.SPECIES, Kind.SPECIES_UNKNOWN, "there is no such species",
                expected=f"one of {', '.join(self.species)}", near=near,
                remedy="correct it, or write a file for the species",
            )  # fmt: skip
        return found

    def _value(self, draft: Draft, held: Field, found: "T | Unread | None") -> T | None:
        """What a cell says; told when it says nothing."""
        if isinstance(found, Unread):
            self.tell(
                draft, held, Kind.VALUE_WRONG, found.message, expected=found.expected, near=found.nearest,
                remedy=found.remedy,
            )  # fmt: skip
            return None
        return found

    def _days(self, draft: Draft, texts: Mapping[Field, str]) -> None:
        def day(held: Field) -> PartialDate | None:
            return self._value(draft, held, read_day(texts.get(held, ""), self.mapped.dates))

        draft.born, draft.died, draft.acquired = day(Field.BORN), day(Field.DIED), day(Field.ACQUIRED)
        draft.weighed, draft.since, draft.ready = day(Field.WEIGHED), day(Field.SINCE), day(Field.READY)

    def _offer(self, draft: Draft, texts: Mapping[Field, str]) -> None:
        """Price and state; a price alone does not say that an animal is for sale."""
        state, price = texts.get(Field.STATE, ""), texts.get(Field.PRICE, "")
        if state.lower() not in NOTHING:
            draft.state = self._value(draft, Field.STATE, read_state(state))
        if price.lower() not in NOTHING:
            draft.price = self._value(draft, Field.PRICE, read_price(price, texts.get(Field.CURRENCY, ""))) or ""
        beside = next((held for held in (Field.PRICE, Field.SINCE, Field.READY) if texts.get(held)), None)
        if beside and draft.state is None and Field.STATE not in draft.cells and price.lower() not in NOTHING:
            self.tell(
                draft, beside, Kind.KEY_MISSING, "whether it is offered is not said",
                expected="available, on hold, sold or not for sale in a column state",
                remedy='write it beside the price, or "price: private" in a columns file when it is what was paid',
            )  # fmt: skip

    def _rest(self, draft: Draft, texts: Mapping[Field, str]) -> None:
        """Sex, weight, what is kept, what was not judged."""
        if Field.SEX in texts:
            draft.sex = self._value(draft, Field.SEX, read_sex(texts[Field.SEX]))
        if texts.get(Field.KEPT, "").lower() not in NOTHING:
            draft.kept = self._value(draft, Field.KEPT, read_yes(texts[Field.KEPT]))
        weight = texts.get(Field.WEIGHT, "")
        if weight.lower() not in NOTHING:
            in_grams = plain_heading(draft.cells[Field.WEIGHT].heading) in IN_GRAMS
            draft.weight = self._value(draft, Field.WEIGHT, read_weight(weight, in_grams=in_grams)) or ""
            if draft.weighed is None and Field.WEIGHED not in texts:
                self.tell(
                    draft, Field.WEIGHT, Kind.KEY_MISSING, "the day of weighing is not said",
                    expected="the day in a column weighed",
                    remedy='add it, or write "weight: ignore" under columns in a file',
                )  # fmt: skip
        unsure = texts.get(Field.UNSURE, "")
        if unsure and draft.species:
            draft.unsure = self._unsure(draft, unsure)

    def _unsure(self, draft: Draft, text: str) -> tuple[str, ...]:
        if text.lower() == "all":
            return ("all",)
        names = self.reader(draft.species)
        found = []
        for word in (part.strip() for part in text.split(",")):
            named = names.lexicon.find(word) if word else None
            locus = names.loci.get(word.lower().replace(" ", "-"))
            if locus or (named and (named.carried or named.shown)):
                found.append(locus.id if locus else word)
            elif word:
                self.tell(
                    draft, Field.UNSURE, Kind.GENE_UNKNOWN, f'there is no gene "{word}"', near=names.near(word),
                    remedy="correct it",
                )  # fmt: skip
        return tuple(found)

    def _private(self, draft: Draft, cells: list[Cell]) -> None:
        for cell in cells:
            heading = plain_heading(cell.heading)
            key = heading.removeprefix(_PRIVATE).strip(" :") or "notes"
            number = 2
            while key in draft.private:
                key, number = f"{key.rstrip(' 0123456789')} {number}", number + 1
            draft.private[key] = cell.text

    def _labels(self, draft: Draft, by_field: Mapping[Field, list[Cell]]) -> None:
        """Everything that is said of genes, and what labels say beside it."""
        reader = self.reader(draft.species)
        labels = []
        for held in (Field.GENETICS, Field.HETS):
            for cell in by_field.get(held, []):
                stated = plain_heading(cell.heading) == "stated"
                label = Label() if cell.text.lower() in ("-", "?") else reader.read(cell.text, hets=held is Field.HETS)
                if stated or held is Field.HETS:
                    label.judged = label.judged and bool(label.looks)
                    label.normal = False
                for fault in label.faults:
                    kind = Kind.GENE_UNKNOWN if fault.unknown else Kind.VALUE_WRONG
                    self.tell(
                        draft, held, kind, fault.message, near=fault.nearest, remedy=fault.remedy, cell=cell
                    )  # fmt: skip
                labels.append(label)
        draft.label = merged(iter(labels))
        self._agree(draft)

    def _agree(self, draft: Draft) -> None:
        """What a row says twice must be the same."""
        label = draft.label
        if label.normal and label.looks:
            self.tell(draft, Field.GENETICS, Kind.EVIDENCE_CLASH, "it is said to be normal, and to show something",
                      remedy="correct one of the two")  # fmt: skip
        stated: dict[tuple[str, str], Fraction | None] = {}
        for carried in label.carried:
            if stated.setdefault((carried.locus, carried.allele), carried.chance) != carried.chance:
                self.tell(draft, Field.GENETICS, Kind.EVIDENCE_CLASH, f"it says two things of {carried.allele}",
                          remedy="correct one of the two")  # fmt: skip
            seen = {(locus, look) for locus, look in label.looks}
            if carried.copies == 1 and (carried.locus, carried.allele) in seen:
                self.tell(
                    draft, Field.GENETICS, Kind.EVIDENCE_CLASH,
                    f"{carried.allele} is said to be seen, and to be carried unseen", remedy="correct one of the two",
                )  # fmt: skip
        sexes = dict.fromkeys([*([draft.sex] if draft.sex else []), *label.sexes])
        known = [sex for sex in sexes if sex is not Sex.UNKNOWN]
        if len(known) > 1:
            self.tell(draft, Field.SEX, Kind.SEX_CLASH, "it is said to be both male and female",
                      remedy="correct one of the two")  # fmt: skip
        draft.sex = known[0] if known else next(iter(sexes), None)
        draft.born = self._one_birth(draft, [*([draft.born] if draft.born else []), *label.born])

    def _one_birth(self, draft: Draft, days: list[PartialDate]) -> PartialDate | None:
        """The finest of several days of birth that agree."""
        finest = max(days, key=lambda day: bool(day.month) + bool(day.day), default=None)
        if finest and any(day.latest < finest.earliest or finest.latest < day.earliest for day in days):
            self.tell(draft, Field.BORN, Kind.DATE_IMPOSSIBLE, "it is said to be born at two times",
                      remedy="correct one of the two")  # fmt: skip
        return finest


def _same(text: str) -> str:
    return unicodedata.normalize("NFC", text.strip())


def _known_text(text: str) -> str:
    return "" if text.lower() in NOTHING else text


def _clipped(text: str) -> str:
    text = " ".join(text.split())
    return f"{text[:_SHOWN]} ..." if len(text) > _SHOWN else text
