"""The collection as tables: one row an animal, one row a litter."""

import csv
import io
import os
import re
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from pathlib import Path

import openpyxl
from openpyxl.styles import Font

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection, latest_date
from sitegen.content.genes import Stated
from sitegen.content.writing import FileChange, NotWritten, write
from sitegen.content.yaml_tree import parse_tree
from sitegen.evidence.answers import Known
from sitegen.evidence.claims import claims_from
from sitegen.evidence.gathered import is_founder
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.evidence.reasons import reasons
from sitegen.exact import written
from sitegen.genetics.loci import WILD, Sex
from sitegen.genetics.questions import AnimalId
from sitegen.keeper.sheets import guarded
from sitegen.keeper.splicing import plain_tree, value_at
from sitegen.words.label_line import label_line
from sitegen.words.speech import Voice, plain

CellValue = str | int | Decimal
Table = list[list[CellValue]]

ANIMAL_HEADINGS = (
    "id", "name", "species", "sex", "born", "died", "dam", "sire", "litter", "shows", "stated", "unsure", "label line",
    "exact chances", "inbreeding", "line", "locality", "acquired", "weight (g)", "weighed", "length (cm)",
    "measured", "state", "price", "currency", "since", "ready", "until", "kept",
)  # fmt: skip
LITTER_HEADINGS = (
    "id", "name", "species", "dam", "sire", "paired", "laid", "born", "expected", "eggs", "infertile", "stillborn",
    "failed", "failed on", "young listed", "young not listed",
)  # fmt: skip
_EARLIEST = (1980, 1, 1, 0, 0, 0)
"""The earliest time that a ZIP archive can hold. Source: PKWARE APPNOTE, MS-DOS date format (from memory)."""
_CHANGED = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*")
_UNSURE_KINDS = (ClaimKind.MAY_CARRY, ClaimKind.ONE_OR_TWO_COPIES, ClaimKind.TOO_YOUNG)


@dataclass(frozen=True, slots=True)
class Tables:
    """The collection as two tables; the first row of each is its head."""

    animals: Table
    litters: Table


def tables_of(known: Known, *, with_private: bool = False) -> Tables:
    """The collection as tables.

    What is private is not part of any bound record. With ``with_private`` it is read once more from the texts of the
    records, into columns of its own.
    """
    voice = Voice(known.collection, known.answers, latest_date(known.collection))
    claims = claims_from(known.asked.evidence, known.answers, partial(reasons, known.asked), voice.as_of)
    private = private_of(known.collection, known.texts) if with_private else {}
    keys = list(dict.fromkeys(key for own in private.values() for key in own))
    animals: Table = [[*ANIMAL_HEADINGS, *(f"private {key}" for key in keys)]]
    for animal in known.collection.animals.values():
        own = private.get(animal.id, {})
        row = _animal(animal, known, claims[animal.id], voice)
        animals.append([*row, *(own.get(key, "") for key in keys)])
    litters: Table = [list(LITTER_HEADINGS), *_litters(known.collection)]
    return Tables(animals, litters)


def _animal(animal: Animal, known: Known, claims: Sequence[Claim], voice: Voice) -> list[CellValue]:
    collection = known.collection
    own_name = "" if animal.name in (animal.number, animal.id) else animal.name
    sex = "" if animal.sex is Sex.UNKNOWN else animal.sex.value
    weighing = animal.weights[-1] if animal.weights else None
    measuring = animal.lengths[-1] if animal.lengths else None
    offer = animal.offer
    price = offer.price if offer else None
    litter = f"{animal.litter}/{animal.number}" if animal.litter else ""
    born = animal.born or (collection.litters[animal.litter].born if animal.litter else None)
    return [
        animal.id, own_name, animal.species, sex, _day(born), _day(animal.died), animal.dam or "",
        _sires(animal.sires), litter, _shows(animal), _stated(animal, collection), _unsure(animal),
        plain(label_line(animal, claims, voice).whole()), _chances(claims),
        written(known.answers.inbreeding[animal.id]), animal.line, animal.locality,
        _day(animal.acquired.date) if animal.acquired else "",
        weighing.grams if weighing else "", _day(weighing.date) if weighing else "",
        _amount(Decimal(measuring.millimetres) / 10) if measuring else "", _day(measuring.date) if measuring else "",
        offer.state.value if offer else "", _amount(price.amount) if price else "", price.currency if price else "",
        _day(offer.since) if offer else "", _day(offer.ready) if offer else "",
        _day(offer.until) if offer else "", "yes" if animal.kept else "",
    ]  # fmt: skip


def _day(day: object) -> str:
    return str(day) if day else ""


def _amount(amount: Decimal) -> CellValue:
    return int(amount) if amount == amount.to_integral_value() else amount


def _sires(sires: Sequence[tuple[AnimalId, object]]) -> str:
    if len(sires) < 2:
        return sires[0][0] if sires else ""
    return " or ".join(f"{sire} {odds}" for sire, odds in sires)


def _shows(animal: Animal) -> str:
    """The looks that are seen; ``normal`` when none is; nothing when nobody judged."""
    seen = dict.fromkeys(look.look for genes in animal.genes for look in genes.judged.seen)
    judged = any(genes.judged.written and not genes.judged.unsure_all for genes in animal.genes)
    return ", ".join(seen) or ("normal" if judged else "")


def _unsure(animal: Animal) -> str:
    if any(genes.judged.unsure_all for genes in animal.genes):
        return "all"
    return ", ".join(dict.fromkeys(locus for genes in animal.genes for locus in genes.judged.unsure))


def _stated(animal: Animal, collection: Collection) -> str:
    """What a previous keeper stated, in the shorthand that ``sitegen import`` reads; only where it counts."""
    if not is_founder(animal):
        return ""
    stated = (one for genes in animal.genes for one in genes.stated)
    return ", ".join(text for one in stated if (text := _shorthand(one, animal, collection)))


def _shorthand(stated: Stated, animal: Animal, collection: Collection) -> str:
    """One statement as shorthand; empty for odds by genotype that shorthand cannot say."""
    locus = collection.species[animal.species].genome.locus(stated.locus)
    carried = {
        pair[1] if pair[0] == WILD else pair[0]: odds for pair, odds in stated.odds.items() if pair.count(WILD) == 1
    }
    others = [pair for pair in stated.odds if pair != (WILD, WILD) and pair.count(WILD) != 1]
    if others or len(carried) != 1 or locus.copies(animal.sex) == 1:
        return ""
    allele, chance = next(iter(carried.items()))
    if locus.genotype(WILD, allele) in locus.shown:
        return ""
    return f"het {allele}" if chance == 1 else f"{written(chance)} het {allele}"


def _chances(claims: Sequence[Claim]) -> str:
    found = [(claim.allele or claim.locus, claim.chance) for claim in claims if claim.kind in _UNSURE_KINDS]
    return "; ".join(f"{name} {written(chance)}" for name, chance in found)


def _litters(collection: Collection) -> Iterator[list[CellValue]]:
    for litter in collection.litters.values():
        counts = (litter.eggs, litter.infertile, litter.stillborn)
        yield [
            litter.id, "" if litter.name == litter.id else litter.name, litter.species, litter.dam or "",
            _sires(litter.sires), _day(litter.paired), _day(litter.laid), _day(litter.born), _day(litter.expected),
            *("" if count is None else count for count in counts),
            litter.failed.what.value if litter.failed else "", _day(litter.failed.date if litter.failed else None),
            len(litter.young), sum(others.count for others in litter.others),
        ]  # fmt: skip


def private_of(collection: Collection, texts: Mapping[str, str]) -> dict[AnimalId, dict[str, str]]:
    """What stands under ``private`` of each animal: in its own record, and in its litter's.

    ``texts`` are paths of records to their text.
    """
    records: dict[str, object] = {}
    found: dict[AnimalId, dict[str, str]] = {}
    for animal in collection.animals.values():
        places: list[tuple[str, tuple[str, ...]]] = [] if animal.is_young else [(animal.place.file, ())]
        if litter := collection.litters.get(animal.litter):
            places.append((litter.place.file, ("young", animal.number)))
        for file, keys in places:
            if file not in records:
                records[file] = plain_tree(parse_tree(texts.get(file, ""), file)[0])
            for key, text in _flat(value_at(records[file], (*keys, "private"))):
                found.setdefault(animal.id, {}).setdefault(key, text)
    return found


def _flat(value: object, path: str = "") -> Iterator[tuple[str, str]]:
    """Every text below a value with the names that lead to it."""
    if isinstance(value, str):
        yield path or "notes", value
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from _flat(each, f"{path} {key}".strip())
    elif isinstance(value, list) and (texts := [text for each in value for _, text in _flat(each)]):
        yield path or "notes", "; ".join(texts)


def csv_text(table: Table) -> str:
    """A table as CSV; text that a spreadsheet program would obey is guarded, numbers stay numbers."""
    lines = io.StringIO(newline="")
    writer = csv.writer(lines, lineterminator="\r\n")
    for row in table:
        writer.writerow([guarded(value) if isinstance(value, str) else value for value in row])
    return lines.getvalue()


def write_tables(tables: Tables, target: Path, *, replace: bool) -> tuple[Path, ...]:
    """Write the tables to one workbook, or to two CSV files with a mark that says UTF-8; the files written.

    Raises:
        NotWritten: A file stands there and may not be replaced, or one cannot be written.
    """
    if target.suffix.lower() == ".xlsx":
        files = {target: workbook_bytes({"animals": tables.animals, "litters": tables.litters})}
    else:  # spreadsheet programs know UTF-8 by its mark
        beside = target.with_name(f"{target.stem}-litters{target.suffix}")
        files = {target: csv_text(tables.animals).encode("utf-8-sig")}
        files[beside] = csv_text(tables.litters).encode("utf-8-sig")
    there = [path for path in files if os.path.lexists(path)]
    if there and not replace:
        raise NotWritten(f"{there[0]} is there already, and was not changed; add --replace to replace it")
    try:
        before = {path: path.read_bytes() for path in there}
    except OSError as error:
        raise NotWritten(f"{error.filename} cannot be replaced: {error.strerror}; nothing was changed") from error
    write(target.parent, [FileChange(path.name, before.get(path), content) for path, content in files.items()])
    return tuple(files)


def workbook_bytes(sheets: Mapping[str, Sequence[Sequence[CellValue]]]) -> bytes:
    """A workbook with a sheet for each name; the first row of each is its head. The same cells give the same bytes."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for number, row in enumerate(rows, 1):
            for column, value in enumerate(row, 1):
                if value == "":
                    continue
                cell = sheet.cell(number, column)
                cell.value = guarded(value) if isinstance(value, str) else value
                if isinstance(value, str):
                    cell.data_type = "s"
                if number == 1:
                    cell.font = Font(bold=True)
        sheet.freeze_panes = "B2"
    packed = io.BytesIO()
    book.save(packed)
    return _timeless(packed.getvalue())


def _timeless(raw: bytes) -> bytes:
    """The same archive as if it had been made long ago."""
    unpacked = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(unpacked, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            content = old.read(part)
            if part.filename == "docProps/core.xml":
                content = _CHANGED.sub(rb"\g<1>2000-01-01T00:00:00Z", content)
            entry = zipfile.ZipInfo(part.filename, _EARLIEST)
            entry.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(entry, content)
    return unpacked.getvalue()
