"""One row of a sheet as a draft of a record, with everything in it that was not understood."""

import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TypeVar

from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate
from sitegen.findings import Finding, Kind, Level, Place, nearest
from sitegen.genetics.loci import Sex
from sitegen.keeper.cells import (
    NOTHING,
    Unread,
    read_day,
    read_length,
    read_price,
    read_sex,
    read_state,
    read_weight,
    read_yes,
)
from sitegen.keeper.columns import IN_CENTIMETRES, IN_GRAMS
from sitegen.keeper.labels import Carried, Label, LabelReader, merged
from sitegen.keeper.record_text import Value
from sitegen.keeper.sheets import Cell, Row, plain_heading

T = TypeVar("T")
_DAYS = ("born", "died", "acquired", "weighed", "measured", "since", "ready", "until")
_SHOWN = 70
_PRIVATE = "private"


@dataclass(slots=True)
class Draft:
    """An animal as a row tells it. None, or nothing, where the row does not say.

    Attributes:
        id: The folder name it gets, or the id of the record it is known to be; empty until it is planned.
        known: The row stands for a record that exists.
        bare: It is only named as a parent.
        unsound: It cannot be true beside other rows; one of them says why.
        waits: It is understood, and a parent of it stands in a row that is not taken.
        named: What the sheet calls it as its id.
        dam, sires: The ids of its parents; sires with their odds as text, or nothing.
        days: born, died, acquired, weighed, measured, since, ready, until.
        texts: line, locality, about, litter, and weight, length and price as a record writes them.
        private: What is never published, by heading.
        cells: The first cell of each kind of column, for places.
        text: The record that is made of it, once it is.
    """

    file: str
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
    dam: str = ""
    sires: tuple[tuple[str, str], ...] = ()
    days: dict[str, PartialDate] = field(default_factory=dict)
    texts: dict[str, str] = field(default_factory=dict)
    state: OfferState | None = None
    kept: bool = False
    unsure: tuple[str, ...] = ()
    label: Label = field(default_factory=Label)
    private: dict[str, str] = field(default_factory=dict)
    cells: dict[str, Cell] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    text: str = ""

    @property
    def whole(self) -> bool:
        """True when everything in the row was understood, and can be true."""
        return not self.unsound and all(finding.level is not Level.ERROR for finding in self.findings)

    @property
    def called(self) -> str:
        """What the sheet calls it."""
        return self.name or self.named or f"row {self.row}"

    @property
    def parents(self) -> tuple[str, ...]:
        """The ids of its dam and of its possible sires."""
        return tuple(parent for parent in (self.dam, *(sire for sire, _ in self.sires)) if parent)

    def tell(self, held: str | Cell, kind: Kind, why: Unread, level: Level = Level.ERROR) -> None:
        """Say what is wrong with the row, at a cell or at the first cell of a kind, else at its beginning."""
        cell = held if isinstance(held, Cell) else self.cells.get(held)
        where = f'row {self.row}, {cell.heading} "{_clipped(cell.text)}"' if cell else f"row {self.row}"
        place = Place(self.file, self.row, cell.column if cell else 1)
        finding = Finding(level, kind, place, f"{where}: {why.message}", why.expected, why.nearest, why.remedy)
        if finding not in self.findings:
            self.findings.append(finding)


@dataclass(frozen=True, slots=True)
class RowReader:
    """Reads the rows of one sheet.

    Attributes:
        columns: What its columns hold, by position.
        dates: ``day first`` or ``month first`` for 05/07/2021; empty when not said.
        readers: The id of each species of the collection to the reader of its labels.
        usual: The species of a row that names none; empty when that is not known.
    """

    file: str
    columns: Mapping[int, str]
    dates: str
    readers: Mapping[str, LabelReader]
    usual: str

    def read(self, row: Row) -> Draft:
        """The draft of a row."""
        draft = Draft(self.file, row.number)
        by_kind: dict[str, list[Cell]] = {}
        for cell in row.cells:
            by_kind.setdefault(self.columns.get(cell.column, "ignore"), []).append(cell)
        draft.cells = {held: cells[0] for held, cells in by_kind.items()}
        texts = {held: " ".join(cells[0].text.split()) for held, cells in by_kind.items()}
        draft.named = _same(texts.get("id", ""))
        draft.name = _known_text(_same(texts.get("name", "")))
        draft.texts = {held: _known_text(texts.get(held, "")) for held in ("line", "locality", "litter")}
        draft.texts["about"] = draft.cells["about"].text if "about" in draft.cells else ""
        draft.species = self._species(draft, texts.get("species", ""))
        for held in _DAYS:
            if day := _value(draft, held, read_day(texts.get(held, ""), self.dates)):
                draft.days[held] = day
        _read_offer(draft, texts)
        self._rest(draft, texts)
        _read_private(draft, by_kind.get("private", []))
        if draft.species:
            self._labels(draft, by_kind)
        if not draft.name and not draft.named:
            why = Unread("the animal has neither a name nor an id", remedy="write one")
            draft.tell("", Kind.KEY_MISSING, why)
        return draft

    def _species(self, draft: Draft, written: str) -> str:
        expected = f"one of {', '.join(self.readers)}"
        if not written:
            if not self.usual:
                why = Unread("no species is named", expected, remedy="add a column species, or write --species")
                draft.tell("", Kind.SPECIES_UNKNOWN, why)
            return self.usual
        spellings = {
            spelling.casefold(): own.id
            for own in (reader.species for reader in self.readers.values())
            for spelling in (own.scientific, own.name, own.id)
            if spelling
        }
        found = spellings.get(written.casefold(), "")
        if not found:
            near, remedy = nearest(written, spellings), "correct it, or write a file for the species"
            draft.tell("species", Kind.SPECIES_UNKNOWN, Unread("there is no such species", expected, near, remedy))
        return found

    def _rest(self, draft: Draft, texts: Mapping[str, str]) -> None:
        """Sex, weight, length, what is kept, what was not judged."""
        if "sex" in texts:
            draft.sex = _value(draft, "sex", read_sex(texts["sex"]))
        if texts.get("kept", "").lower() not in NOTHING:
            draft.kept = bool(_value(draft, "kept", read_yes(texts["kept"])))
        for held, on in (("weight", "weighed"), ("length", "measured")):
            if (quantity := texts.get(held, "")).lower() in NOTHING:
                continue
            heading = plain_heading(draft.cells[held].heading)
            if held == "weight":
                read = read_weight(quantity, in_grams=heading in IN_GRAMS)
            else:
                read = read_length(quantity, in_centimetres=heading in IN_CENTIMETRES)
            draft.texts[held] = _value(draft, held, read) or ""
            if on not in draft.days and on not in texts:
                remedy = f'add it, or write "{held}: ignore" under columns in a file'
                why = Unread(f"the day of the {held} is not said", f"the day in a column {on}", remedy=remedy)
                draft.tell(held, Kind.KEY_MISSING, why)
        unsure = texts.get("unsure", "")
        if unsure and draft.species:
            draft.unsure = ("all",) if unsure.lower() == "all" else self._unsure(draft, unsure)

    def _unsure(self, draft: Draft, text: str) -> tuple[str, ...]:
        names = self.readers[draft.species]
        found = []
        for word in (part.strip() for part in text.split(",")):
            named = names.lexicon.find(word) if word else None
            locus = names.loci.get(word.lower().replace(" ", "-"))
            if locus or (named and (named.carried or named.shown)):
                found.append(locus.id if locus else word)
            elif word:
                why = Unread(f'there is no gene "{word}"', nearest=names.near(word), remedy="correct it")
                draft.tell("unsure", Kind.GENE_UNKNOWN, why)
        return tuple(found)

    def _labels(self, draft: Draft, by_kind: Mapping[str, list[Cell]]) -> None:
        """Everything that is said of genes, and what labels say beside it."""
        reader = self.readers[draft.species]
        labels = []
        for held in ("genetics", "hets"):
            for cell in by_kind.get(held, []):
                label = Label() if cell.text.lower() in ("-", "?") else reader.read(cell.text, hets=held == "hets")
                if held == "hets" or plain_heading(cell.heading) == "stated":
                    label.judged = label.judged and bool(label.looks)
                    label.normal = False
                for fault in label.faults:
                    draft.tell(cell, Kind.GENE_UNKNOWN if fault.unknown else Kind.VALUE_WRONG, fault)
                labels.append(label)
        draft.label = merged(labels)
        _check_agreement(draft)


def _value(draft: Draft, held: str, found: "T | Unread | None") -> T | None:
    """What a cell says; told when it says nothing."""
    if not isinstance(found, Unread):
        return found
    draft.tell(held, Kind.VALUE_WRONG, found)
    return None


def _read_offer(draft: Draft, texts: Mapping[str, str]) -> None:
    """Price and state; a price alone does not say that an animal is for sale."""
    state, price = texts.get("state", ""), texts.get("price", "")
    if state.lower() not in NOTHING:
        draft.state = _value(draft, "state", read_state(state))
    if price.lower() not in NOTHING:
        draft.texts["price"] = _value(draft, "price", read_price(price, texts.get("currency", ""))) or ""
    beside = next((held for held in ("price", "since", "ready", "until") if texts.get(held)), None)
    if beside and draft.state is None and "state" not in draft.cells and price.lower() not in NOTHING:
        expected = "available, on hold, sold or not for sale in a column state"
        remedy = 'write it beside the price, or "price: private" in a columns file when it is what was paid'
        draft.tell(beside, Kind.KEY_MISSING, Unread("whether it is offered is not said", expected, remedy=remedy))


def _read_private(draft: Draft, cells: Sequence[Cell]) -> None:
    """Cells under headings that are never published; a heading that stands twice is numbered."""
    for cell in cells:
        key = plain_heading(cell.heading).removeprefix(_PRIVATE).strip(" :") or "notes"
        number = 2
        while key in draft.private:
            key, number = f"{key.rstrip(' 0123456789')} {number}", number + 1
        draft.private[key] = cell.text


def _check_agreement(draft: Draft) -> None:
    """What a row says twice must be the same; sex and birth are taken from labels where no column says them."""
    label = draft.label
    if label.normal and label.looks:
        _tell_clash(draft, "genetics", Kind.EVIDENCE_CLASH, "it is said to be normal, and to show something")
    stated: dict[tuple[str, str], Fraction | None] = {}
    for carried in label.carried:
        if stated.setdefault((carried.locus, carried.allele), carried.chance) != carried.chance:
            _tell_clash(draft, "genetics", Kind.EVIDENCE_CLASH, f"it says two things of {carried.allele}")
        if carried.copies == 1 and (carried.locus, carried.allele) in label.looks:
            message = f"{carried.allele} is said to be seen, and to be carried unseen"
            _tell_clash(draft, "genetics", Kind.EVIDENCE_CLASH, message)
    sexes = dict.fromkeys([*([draft.sex] if draft.sex else []), *label.sexes])
    known = [sex for sex in sexes if sex is not Sex.UNKNOWN]
    if len(known) > 1:
        _tell_clash(draft, "sex", Kind.SEX_CLASH, "it is said to be both male and female")
    draft.sex = known[0] if known else next(iter(sexes), None)
    days = [*([draft.days["born"]] if "born" in draft.days else []), *label.born]
    if days:
        finest = draft.days["born"] = max(days, key=lambda day: bool(day.month) + bool(day.day))
        if any(day.latest < finest.earliest or finest.latest < day.earliest for day in days):
            _tell_clash(draft, "born", Kind.DATE_IMPOSSIBLE, "it is said to be born at two times")


def _tell_clash(draft: Draft, held: str, kind: Kind, message: str) -> None:
    draft.tell(held, kind, Unread(message, remedy="correct one of the two"))


def record_values(draft: Draft, stated: Sequence[Carried]) -> dict[str, Value]:
    """What stands in the record of a new animal, in the order in which it is written.

    Args:
        draft: All its references stand for records.
        stated: What a previous keeper's label says, for an animal whose parents are not recorded.
    """
    days = {held: str(day) for held, day in draft.days.items()}
    weight, weighed = draft.texts.get("weight"), days.get("weighed")
    length, measured = draft.texts.get("length"), days.get("measured")
    offer = {"price": draft.texts.get("price"), "state": draft.state}
    offer |= {key: days.get(key) for key in ("since", "ready", "until")}
    values: dict[str, Value] = {
        "name": draft.name,
        "species": draft.species,
        "sex": draft.sex.value if draft.sex and draft.sex is not Sex.UNKNOWN else None,
        "born": days.get("born"),
        "died": days.get("died"),
        "dam": draft.dam,
        "sire": _sires(draft.sires),
        "shows": draft.label.shows if draft.label.judged else None,
        "unsure": draft.unsure or None,
        "acquired": {"date": days["acquired"]} if "acquired" in days else None,
        "stated": dict(map(_statement, stated)) or None,
        "line": draft.texts.get("line"),
        "locality": draft.texts.get("locality"),
        "weights": {weighed: weight} if weight and weighed else None,
        "lengths": {measured: length} if length and measured else None,
        "offer": {key: str(value) for key, value in offer.items() if value} if draft.state else None,
        "kept": draft.kept or None,
        "about": draft.texts.get("about"),
        "private": draft.private or None,
    }
    return {key: value for key, value in values.items() if value not in (None, "")}


def _sires(sires: Sequence[tuple[str, str]]) -> Value:
    if any(odds for _, odds in sires):
        return dict(sires) if len(sires) > 1 else sires[0][0]
    names = [sire for sire, _ in sires]
    return names[0] if len(names) == 1 else names or None


def _statement(carried: Carried) -> tuple[str, Value]:
    """A gene and what is stated of it; thirds as the trade writes them."""
    if carried.copies == 2:
        return carried.locus, {f"{carried.allele}/{carried.allele}": "1"}
    chance = carried.chance
    assert chance is not None
    percent = {"2/3": "66%", "1/3": "33%"}.get(str(chance), str(chance))
    if chance.denominator in (2, 4, 5, 10, 20, 50, 100):
        percent = f"{chance * 100}%"
    return carried.allele, "certain" if chance == 1 else percent


def _same(text: str) -> str:
    return unicodedata.normalize("NFC", text.strip())


def _known_text(text: str) -> str:
    return "" if text.lower() in NOTHING else text


def _clipped(text: str) -> str:
    text = " ".join(text.split())
    return f"{text[:_SHOWN]} ..." if len(text) > _SHOWN else text
