"""Reads the file beside a buyer's paper: bounded, of a known version, unchanged, and of the right shape.

The format is documented in :mod:`sitegen.site.paper_facts`. Reading it guesses nothing; what cannot be read is told.
"""

import json
from dataclasses import dataclass, is_dataclass
from enum import Enum
from types import UnionType
from typing import Any, NoReturn, get_args, get_origin, get_type_hints

from sitegen.evidence.kinds import Basis, ClaimKind
from sitegen.findings import ContentError, Finding, Kind, Level, Place
from sitegen.genetics.loci import Sex
from sitegen.site.paper_facts import FORMAT, VERSION, record_version

MAX_BYTES = 1_000_000
"""A paper has some ten thousand."""
_MOST_TOLD = 8
_UNCHANGED = "ask the breeder for the file again, or write down by hand what the printed paper says"


@dataclass(frozen=True, slots=True)
class SpeciesPart:
    """The species, as the breeder's own file names it."""

    id: str
    name: str
    scientific: str | None


@dataclass(frozen=True, slots=True)
class AnimalPart:
    """Who the animal is."""

    id: str
    name: str
    species: SpeciesPart
    sex: Sex
    born: str | None
    died: str | None
    line: str | None
    locality: str | None
    page: str | None


@dataclass(frozen=True, slots=True)
class BreederPart:
    """Who made the statement."""

    name: str
    site: str | None
    email: str | None


@dataclass(frozen=True, slots=True)
class LookPart:
    """A look that was seen."""

    look: str
    name: str
    locus: str


@dataclass(frozen=True, slots=True)
class ShowsPart:
    """What was seen; ``judged`` is False where nobody wrote it down."""

    judged: bool
    looks: tuple[LookPart, ...]


@dataclass(frozen=True, slots=True)
class ClaimPart:
    """One statement, with its exact odds by genotype as text."""

    kind: ClaimKind
    locus: str
    allele: str | None
    look: str | None
    gene: str
    genotypes: dict[str, str]
    basis: Basis
    words: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PaperForm:
    """Everything that later records can start from."""

    date: str
    record: str
    animal: AnimalPart
    breeder: BreederPart
    shows: ShowsPart
    claims: tuple[ClaimPart, ...]


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper that was read, with its text, so that whatever is wrong in it can be told with line and column."""

    form: PaperForm
    file: str
    text: str

    def place(self, word: str) -> tuple[Place, int]:
        """Where a word first stands, and how many signs are meant; the file as a whole when it is not found."""
        return _spot(self.file, self.text, word)


def read_paper(content: bytes, file: str) -> Paper:
    """The paper.

    ``content`` are the bytes of the file, at most one more than ``MAX_BYTES``.

    Raises:
        ContentError: It is too large, no paper, of another version, changed, or not of the right shape.
    """
    if len(content) > MAX_BYTES:
        message = f"a paper never has more than {MAX_BYTES:,} bytes"
        expected = "the file beside a buyer's paper, such as 03-paper.json"
        _refuse(Kind.FILE_TOO_LARGE, Place(file), message, expected, "name that file")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        message, expected = "this is no text in UTF-8", "the file beside a buyer's paper"
        _refuse(Kind.FILE_UNREADABLE, Place(file), message, expected, _UNCHANGED)
    facts = _facts(text, file)
    _check_version(facts, file, text)
    _check_unchanged(facts, file, text)
    wrong: list[tuple[Kind, str]] = []
    form = _shaped(PaperForm, facts, "", wrong)
    if not wrong and not (form.animal.id and form.animal.name):
        wrong.append((Kind.VALUE_WRONG, "animal: its id or its name is empty"))
    if wrong:
        expected = "what the schema of a paper asks for"
        findings = [Finding(Level.ERROR, kind, Place(file), told, expected, "", _UNCHANGED) for kind, told in wrong]
        raise ContentError(findings[:_MOST_TOLD])
    return Paper(form, file, text)


def _refuse(kind: Kind, place: Place, message: str, expected: str, remedy: str, width: int = 0) -> NoReturn:
    raise ContentError([Finding(Level.ERROR, kind, place, message, expected, "", remedy, width)])


def _facts(text: str, file: str) -> dict[str, object]:
    """The file as plain data."""
    expected = "a JSON file, as it stands beside a buyer's paper"
    try:
        facts = json.loads(text, parse_constant=_no_number)
    except json.JSONDecodeError as error:
        place = Place(file, error.lineno, error.colno)
        _refuse(Kind.FILE_UNREADABLE, place, f"this is not JSON: {error.msg}", expected, _UNCHANGED)
    except (ValueError, RecursionError):
        _refuse(Kind.FILE_UNREADABLE, Place(file), "this is not JSON that a paper holds", expected, _UNCHANGED)
    if not isinstance(facts, dict) or facts.get("format") != FORMAT:
        message = "this is not the file of a buyer's paper"
        remedy = "name the file beside the paper, such as 03-paper.json"
        _refuse(Kind.VALUE_WRONG, Place(file), message, f'"format": "{FORMAT}"', remedy)
    return facts


def _no_number(said: str) -> NoReturn:
    """NaN and infinities, which Python reads and JSON does not know."""
    raise ValueError(said)


def _check_version(facts: dict[str, object], file: str, text: str) -> None:
    version = facts.get("version")
    if version == VERSION and not isinstance(version, bool):
        return
    place, width = _spot(file, text, "version")
    told = f"version {version}" if isinstance(version, int) else "no version that is known"
    message = f"this paper has {told}; this program reads version {VERSION}"
    remedy = "use a sitegen that reads it, or write down by hand what the printed paper says"
    _refuse(Kind.VALUE_WRONG, place, message, f"version {VERSION}", remedy, width)


def _check_unchanged(facts: dict[str, object], file: str, text: str) -> None:
    said = facts.get("record")
    try:
        found = record_version(facts)
    except ValueError:  # half of a surrogate pair, which no text in UTF-8 holds
        found = ""
    if said != found:
        place, width = _spot(file, text, "record")
        message = f"this paper was changed after it was made: its record version is {found or 'none'} now"
        expected = f"the record version that it names, {said[:20] if isinstance(said, str) else '12 digits'}"
        _refuse(Kind.VALUE_WRONG, place, message, expected, _UNCHANGED, width)


def _shaped(wanted: Any, value: object, where: str, wrong: list[tuple[Kind, str]]) -> Any:
    """A value as the type that is wanted, None where ``wrong`` says why not; what is not needed here is left alone.

    ``wanted`` is one of the parts of a paper, or the type of one of their fields; ``where`` the names that lead to the
    value, with points between.
    """
    if is_dataclass(wanted) and isinstance(value, dict):
        hints = get_type_hints(wanted)
        places = {name: f"{where}.{name}".lstrip(".") for name in hints}
        wrong += [(Kind.KEY_MISSING, f"{place} is missing") for name, place in places.items() if name not in value]
        found = {
            name: _shaped(hints[name], value[name], place, wrong) for name, place in places.items() if name in value
        }
        return None if wrong else wanted(**found)  # type: ignore[operator] # a class, not one of its instances
    outer, inner = get_origin(wanted), get_args(wanted)
    if outer is tuple and isinstance(value, list):
        return tuple(_shaped(inner[0], each, f"{where}.{number}", wrong) for number, each in enumerate(value))
    if outer is dict and isinstance(value, dict) and all(isinstance(each, str) for each in value.values()):
        return value
    if type(value) in (inner if outer is UnionType else (wanted,)):
        return value
    if isinstance(wanted, type) and issubclass(wanted, Enum) and value in [each.value for each in wanted]:
        return wanted(value)
    wrong.append((Kind.VALUE_WRONG, f"{where}: this is not what a paper says there"))
    return None


def _spot(file: str, text: str, word: str) -> tuple[Place, int]:
    """Where a word first stands in quotes, as it is or with its letters escaped, and how many signs are meant."""
    for spelt in (json.dumps(word, ensure_ascii=False), json.dumps(word)):
        if (at := text.find(spelt)) >= 0:
            return Place(file, text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)), len(spelt)
    return Place(file), 0
