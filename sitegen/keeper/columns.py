"""What the columns of a sheet hold: known by their headings, or by a keeper's own file of columns."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import yaml

from sitegen.content.yaml_tree import Entries, Node, Scalar, parse_tree
from sitegen.exact import parse_stated_chance
from sitegen.findings import Finding, Kind, Level, Place, nearest
from sitegen.keeper.sheets import Sheet, plain_heading

HEADINGS: Mapping[str, tuple[str, ...]] = {
    held: tuple(headings)
    for held, headings in yaml.safe_load(Path(__file__).with_name("headings.yaml").read_text(encoding="utf-8")).items()
}
"""What a column may hold, as a columns file calls it, to headings in plain words that say so."""
IN_GRAMS = frozenset({"weight g", "weight (g)", "weight in g", "weight grams", "grams"})
IN_CENTIMETRES = frozenset({"length cm", "length (cm)", "length in cm"})
KNOWN: Mapping[str, str] = {heading: held for held, headings in HEADINGS.items() for heading in headings}
_PRIVATE = "private "
_SEVERAL = frozenset({"genetics", "hets", "private", "ignore"})
"""What may stand in more than one column."""

_ORDERS = ("day first", "month first")


@dataclass(frozen=True, slots=True)
class Mapped:
    """A keeper's own file of columns.

    Attributes:
        words: A word of the sheet to what it stands for in labels.
        possible: The chance that "possible het" without a number stands for; None when that is not said.
        dates: ``day first`` or ``month first`` for 05/07/2021; empty when not said.
    """

    columns: Mapping[str, str] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    possible: Fraction | None = None
    dates: str = ""


def columns_of(sheet: Sheet, mapped: Mapped) -> tuple[Mapping[int, str], tuple[Finding, ...]]:
    """What each column holds, by position. A heading that is not understood, or one that stands twice, is an error."""
    held: dict[int, str] = {}
    names: dict[int, str] = {}
    findings: list[Finding] = []
    filled = {cell.column for row in sheet.rows for cell in row.cells}
    for column, heading in sheet.headings:
        plain = plain_heading(heading)
        found = mapped.columns.get(plain) or KNOWN.get(plain, "private" if plain.startswith(_PRIVATE) else "")
        place = Place(sheet.file, sheet.header_row, column)
        if column not in filled and (not found or found in held.values()):
            continue
        if not found:
            findings.append(_unknown(heading, place, mapped))
        elif found in held.values() and found not in _SEVERAL:
            first = next(names[other] for other, same in held.items() if same == found)
            message = f'"{first}" and "{heading}" are both read as {found}'
            remedy = f'write "{heading}: ignore" under columns in a file, and name it with --columns'
            expected = "one column of each kind"
            findings.append(Finding(Level.ERROR, Kind.KEY_TWICE, place, message, expected, remedy=remedy))
        else:
            held[column], names[column] = found, heading
    findings += _without_heading(sheet, filled)
    if not {"id", "name"} & set(held.values()):
        place, message = Place(sheet.file, sheet.header_row, 1), "no column holds names, so no row could be known again"
        expected = 'a heading "name" or "id"'
        findings.append(Finding(Level.ERROR, Kind.KEY_MISSING, place, message, expected, remedy="add one"))
    return held, tuple(findings)


def _without_heading(sheet: Sheet, filled: set[int]) -> Iterator[Finding]:
    """Columns that hold something and have no heading."""
    for column in sorted(filled - {column for column, _ in sheet.headings}):
        row = next(row.number for row in sheet.rows for cell in row.cells if cell.column == column)
        place, message = Place(sheet.file, row, column), f"column {column} has no heading and is not empty"
        yield Finding(Level.ERROR, Kind.KEY_MISSING, place, message, remedy="write a heading, or empty the column")


def _unknown(heading: str, place: Place, mapped: Mapped) -> Finding:
    message = f'what the column "{heading}" holds is not understood'
    expected = "a heading that sitegen guide spreadsheets lists"
    near = nearest(plain_heading(heading), (*KNOWN, *mapped.columns))
    remedy = (
        f'rename it, or write "{heading}: ignore" (or what it holds) under columns in a file, '
        "and name that file with --columns"
    )
    return Finding(Level.ERROR, Kind.KEY_UNKNOWN, place, message, expected, near, remedy)


def read_mapped(text: str, file: str) -> tuple[Mapped, tuple[Finding, ...]]:
    """A keeper's file of columns, and what is wrong with it."""
    tree, faults = parse_tree(text, file)
    findings = list(faults)
    entries = tree.entries if isinstance(tree, Entries) else ()
    if tree is not None and not isinstance(tree, Entries):
        findings.append(_wrong(tree.place, "this file holds no names with values", "columns: {Rack: ignore}"))
    columns: dict[str, str] = {}
    words: dict[str, str] = {}
    possible: Fraction | None = None
    dates = ""
    for key, node in entries:
        name, text_of = key.text.strip().lower(), node.text.strip() if isinstance(node, Scalar) else ""
        if name == "columns":
            columns = dict(_columns(node, findings))
        elif name == "words":
            words = {word.text.strip(): value.text.strip() for word, value in _pairs(node, findings)}
        elif name == "possible":
            possible = parse_stated_chance(text_of)
            if possible is None or not 0 < possible < 1:
                findings.append(_wrong(node.place, f'"{text_of}" is no chance below 1', "possible: 50%"))
                possible = None
        elif name == "dates" and text_of.lower() in _ORDERS:
            dates = text_of.lower()
        else:
            expected = "columns, words, possible, and dates (day first, or month first)"
            near = nearest(name, ("columns", "words", "possible", "dates", *_ORDERS))
            findings.append(_wrong(key.place, f'"{key.text}" is not understood here', expected, near))
    return Mapped(columns, words, possible, dates), tuple(findings)


def _pairs(node: Node, findings: list[Finding]) -> Iterator[tuple[Scalar, Scalar]]:
    """Names with one value each."""
    if isinstance(node, Scalar) and node.blank:
        return
    if not isinstance(node, Entries):
        findings.append(_wrong(node.place, "names with values were expected here", "Rack: ignore"))
        return
    for key, value in node.entries:
        if isinstance(value, Scalar):
            yield key, value
        else:
            findings.append(_wrong(value.place, f'one word was expected after "{key.text}"', "Rack: ignore"))


def _columns(node: Node, findings: list[Finding]) -> Iterator[tuple[str, str]]:
    for key, value in _pairs(node, findings):
        wanted = plain_heading(value.text)
        held = wanted if wanted in HEADINGS else KNOWN.get(wanted)
        if held is None:
            near, expected = nearest(wanted, HEADINGS), f"one of {', '.join(HEADINGS)}"
            findings.append(_wrong(value.place, f'no column holds "{value.text}"', expected, near))
        else:
            yield plain_heading(key.text), held


def _wrong(place: Place, message: str, expected: str, near: str = "") -> Finding:
    return Finding(Level.ERROR, Kind.VALUE_WRONG, place, message, expected, near, "correct the columns file")
