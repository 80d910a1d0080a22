"""Forms made from the declarations of a record's keys: what stands there as fields, and what was sent as a record.

A new key appears by itself. What a form has no field of its own for is shown as it is written in the file; what was
not touched is given back as it was.
"""

import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from typing import Any

from sitegen.content.declaration import AsWritten, ByName, Group, Leaf, ListOf, RecordKey
from sitegen.content.values import ANYTHING, PROSE, TEXT, TEXT_BY_NAME, YES
from sitegen.content.yaml_tree import Entries, Items, Node, parse_tree
from sitegen.genetics.loci import look_id
from sitegen.keeper.record_text import flow
from sitegen.keeper.records import Dropped
from sitegen.keeper.splicing import plain_tree, plain_value
from sitegen.keeper.spots import CannotEdit, Path, deepest, end_of
from sitegen.words.speech import capital

Choice = tuple[str, str, bool]
"""A value, what it is called, and whether it is chosen."""


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a form: line, text, words, marks or written; or several under one name: group, or rows of groups.

    ``nothing`` is what it can mean that nothing is marked, ``listed`` the list of names that it offers.
    """

    kind: str
    name: str
    label: str = ""
    about: str = ""
    value: str = ""
    choices: tuple[Choice, ...] = ()
    nothing: tuple[Choice, ...] = ()
    parts: tuple["Field", ...] = ()
    listed: str = ""
    wrong: tuple[str, ...] = ()

    @property
    def is_wrong(self) -> bool:
        """True where something is wrong in it."""
        return bool(self.wrong) or any(part.is_wrong for part in self.parts)

    @property
    def is_filled(self) -> bool:
        """True where something stands."""
        chosen = any(choice[2] for choice in (*self.choices, *self.nothing) if choice[0])
        return bool(self.value or chosen or any(part.is_filled for part in self.parts))


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a form knows beside the declarations.

    Attributes:
        text: The record's text; the form's part of it stands ``at`` a path.
        marks: Field to the choices that can be marked there: each value and what it is called.
        nothing: Field to the words for a key that is not written, and for one with an empty list.
        listed: Key to the list of names that it offers.
        sent: The values of each field that was sent, where the form is read, or shown again.
        wrong: What is wrong, by the path to it.
        unread: What was sent and cannot be read, by field.
    """

    text: str = ""
    at: Path = ()
    marks: Mapping[str, Sequence[tuple[str, str]]] = field(default_factory=dict)
    nothing: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    listed: Mapping[str, str] = field(default_factory=dict)
    sent: Mapping[str, Sequence[str]] = field(default_factory=dict)
    wrong: Mapping[Path, Sequence[str]] = field(default_factory=dict)
    unread: dict[str, str] = field(default_factory=dict)

    def typed(self, name: str, shown: str) -> str:
        """What was sent, or else as it was shown; a browser ends lines in its own way."""
        found = self.sent.get(name) or (shown,)
        return found[0].replace("\r\n", "\n").replace("\r", "\n")

    def rows(self, name: str, n_held: int) -> int:
        """How many rows there are: those that stand there, and an empty one, or as many as were sent."""
        sent = (each.removeprefix(f"{name}.").partition(".")[0] for each in self.sent if each.startswith(f"{name}."))
        return max([n_held, *(int(row) for row in sent if row.isdecimal() and int(row) < _MOST_ROWS)]) + 1

    def marks_of(self, key: RecordKey, name: str) -> Sequence[tuple[str, str]]:
        """What can be marked in a field."""
        match key.holds:
            case ListOf(each=Leaf(json={"enum": words})):
                return [(word, word) for word in words]
        return self.marks.get(name, ())


_MOST_ROWS = 3000
_LINE = 90
"""Characters that are read at once in a field of one line."""
_PAIRS = {
    "weights": ("day", "weight"), "lengths": ("day", "length"), "captions": ("photograph", "caption"),
    "stated": ("gene", "what was stated"), "copies": ("gene", "copies"), "reviewed": ("words", "why they are right"),
}  # fmt: skip
"""What stands before and behind each line, where that is not any name and value."""


@dataclass(frozen=True, slots=True)
class _Control:
    """One key in a form; ``was`` is the plain value that stood there when the form was made."""

    key: RecordKey
    path: Path
    name: str
    was: Any
    sheet: Sheet

    def field(self) -> Field:
        """What is shown."""
        raise NotImplementedError

    def wanted(self) -> Any:
        """What is to be written: ``was`` itself where nothing is different, None for nothing."""
        raise NotImplementedError

    def _shown(self, kind: str, **more: Any) -> Field:
        whole = kind not in ("group", "rows")  # what is wrong within these is told at their own fields
        here = (each for each in self.sheet.wrong if (each[: len(self.path)] if whole else each) == self.path)
        wrong = [told for path in here for told in self.sheet.wrong[path]]
        wrong += [self.sheet.unread[self.name]] if self.name in self.sheet.unread else []
        about, listed = self.key.about, self.sheet.listed.get(self.key.name, "")
        if not whole and self.key.holds != ANYTHING:
            about = re.sub(r": [\[{].*", ".", about)  # how it is written in the file
        if self.key.holds is YES:
            about = about.replace("true", "yes").replace("false", "no")
        label = capital(self.key.name.replace("_", " "))
        return Field(kind, self.name, label, capital(about), listed=listed, wrong=tuple(wrong), **more)


class _Typed(_Control):
    """What is typed as text."""

    def _text(self) -> str:
        """What was written, as it is shown."""
        return self.was or ""

    def _meant(self, text: str) -> Any:
        """What is to be written for another text, which is not blank."""
        raise NotImplementedError

    def wanted(self) -> Any:
        text, shown = self.sheet.typed(self.name, self._text()), self._text()
        if text == shown or (not text.strip() and self.was is None):
            return self.was
        return self._meant(text) if text.strip() else None


class _Line(_Typed):
    """One value."""

    def _text(self) -> str:
        said = (self.was or "").lower() if self.key.holds is YES else ""
        return "true" if said in ("yes", "on") else "false" if said in ("no", "off") else self.was or ""

    def field(self) -> Field:
        holds, value = self.key.holds, self.sheet.typed(self.name, self._text())
        words = {"true": "yes", "false": "no"} if holds is YES else {}
        if isinstance(holds, Leaf) and "enum" in holds.json:
            words = {each: each for each in holds.json["enum"]}
        if words:
            words |= {value: value} if value and value not in words else {}
            return self._shown("words", choices=tuple((each, told, each == value) for each, told in words.items()))
        return self._shown("text" if holds is PROSE or "\n" in value or len(value) > _LINE else "line", value=value)

    def _meant(self, text: str) -> Any:
        said = text.strip()
        if self.key.holds is YES and said in ("true", "false"):
            return said == "true"
        return f"{said}\n" if self._text().endswith("\n") or "\n" in said else said


class _Lines(_Typed):
    """Several values, one a line; ``[]`` says that there is none."""

    def _text(self) -> str:
        return "[]" if self.was == [] else "\n".join(_listed(self.was))

    def field(self) -> Field:
        return self._shown("text", value=self.sheet.typed(self.name, self._text()))

    def _meant(self, text: str) -> Any:
        return [line.strip() for line in text.split("\n") if line.strip() not in ("", "[]")]


class _Written(_Typed):
    """What is shown as it is written in the file, and read as such."""

    def _text(self) -> str:
        return "" if self.was is None else _as_it_stands(self.sheet.text, (*self.sheet.at, *self.path), self.was)

    def field(self) -> Field:
        text, holds = self.sheet.typed(self.name, self._text()), self.key.holds
        is_long = isinstance(holds, AsWritten) and (holds.each is not None or holds.json.get("type") == "array")
        return self._shown("written" if is_long or "\n" in text or len(text) > _LINE else "line", value=text)

    def _meant(self, text: str) -> Any:
        tree, findings = parse_tree(text, "")
        if tree is None or findings:
            self.sheet.unread[self.name] = f"{findings[0].message}; {findings[0].hint}"
            return self.was
        value, said = _value_of(tree), text.strip()
        value = said if value in (None, {}) and said[0] not in "{[" else value  # "#3" is no comment to who types it
        return self.was if plain_value(value) == self.was else value


class _Marks(_Control):
    """Some of a known few; what stands there besides is offered too, each as it is spelt there."""

    def _choices(self) -> tuple[dict[str, str], list[str]]:
        """Each value that can be marked with what it is called, and those that are marked."""
        marked = held = _listed(self.was)
        spelt, found = {look_id(text): text for text in held}, dict[str, str]()
        for value, told in self.sheet.marks_of(self.key, self.name):
            own = spelt.get(look_id(value)) or spelt.get(look_id(told))
            found[own or value] = told
        if f"{self.name}.asked" in self.sheet.sent:
            marked = list(self.sheet.sent.get(self.name, ()))
        return found | {text: text for text in (*held, *marked) if text not in found}, marked

    def _nothing(self) -> str:
        return self.sheet.typed(f"{self.name}.nothing", "none" if self.was == [] else "")

    def field(self) -> Field:
        choices, marked = self._choices()
        offered = sorted(((each, told, each in marked) for each, told in choices.items()), key=lambda each: not each[2])
        words = zip(("", "none"), self.sheet.nothing.get(self.name, ()), strict=False)
        nothing = tuple((value, told, self._nothing() == value) for value, told in words)
        return self._shown("marks", choices=tuple(offered), nothing=nothing)

    def wanted(self) -> Any:
        choices, marked = self._choices()
        held = _listed(self.was)
        if held and set(marked) == set(held):
            return self.was
        if marked:
            return [*(e for e in held if e in marked), *(e for e in choices if e in marked and e not in held)]
        return [] if self._nothing() == "none" else None


class _Fields(_Control):
    """A group."""

    def _controls(self) -> list[_Control]:
        assert isinstance(self.key.holds, Group)
        return controls(self.key.holds.listed, self.was or {}, self.sheet, self.path, f"{self.name}.")

    def field(self) -> Field:
        return self._shown("group", parts=tuple(each.field() for each in self._controls()))

    def wanted(self) -> Any:
        found = read(self._controls(), self.was or {})
        return found if found or self.was is not None else None


class _Rows(_Control):
    """A list of groups, each a row, and an empty row."""

    def _rows(self) -> Iterator[tuple[Any, _Fields]]:
        """What stood there, and the fields for it."""
        assert isinstance(self.key.holds, ListOf)
        one, held = replace(self.key, holds=self.key.holds.each), self.was or []
        for at in range(self.sheet.rows(self.name, len(held))):
            entry = held[at] if at < len(held) else None
            yield entry, _Fields(one, (*self.path, str(at)), f"{self.name}.{at}", entry, self.sheet)

    def field(self) -> Field:
        return self._shown("rows", parts=tuple(row.field() for _, row in self._rows()))

    def wanted(self) -> Any:
        entries = [(held, row.wanted()) for held, row in self._rows()]
        found = [said or (Dropped() if held else held) for held, said in entries if held is not None or said]
        return found if found or self.was is not None else None


class _Pairs(_Control):
    """Values by names of the keeper's own, each with its name in a row, and an empty row."""

    def _rows(self) -> Iterator[tuple[str | None, _Control, _Control]]:
        """What the value was called, None in a new row; the field of the name, and that of the value."""
        held = list((self.was or {}).items())
        words = _PAIRS.get(self.key.name, ("name", "what it says"))
        for at in range(self.sheet.rows(self.name, len(held))):
            name, value = held[at] if at < len(held) else ("", None)
            row = f"{self.name}.{at}"
            called, said = (self.sheet.typed(f"{row}.{each}", "").strip() for each in ("name", "value"))
            any_text = self.key.holds == ANYTHING and (at < len(held) or said[:1] not in ("[", "{"))
            as_text = any_text or self.key.holds == TEXT_BY_NAME
            shape = _Line if as_text and isinstance(value, str | None) else _Written
            first, second = (RecordKey(word, "", TEXT) for word in words)
            path = (*self.path, called or name)
            of_name = _Line(first, (*path, ""), f"{row}.name", name, self.sheet)
            yield name if at < len(held) else None, of_name, shape(second, path, f"{row}.value", value, self.sheet)

    def field(self) -> Field:
        rows = [(name.field(), value.field()) for _, name, value in self._rows()]
        parts = tuple(Field("group", f"{self.name}.{at}", parts=row) for at, row in enumerate(rows))
        return self._shown("rows", parts=parts)

    def wanted(self) -> Any:
        found: dict[str, Any] = {}
        for held, name, value in self._rows():
            called, said = str(name.wanted() or ""), value.wanted()
            if called != held or said != value.was:
                if said is None and (held is not None or not called):
                    continue
                why = f"{called} stands here twice" if called in found else "" if called else "say what this is about"
                if why or said is None:
                    self.sheet.unread[name.name] = why or "say what belongs to it"
                    called, said = held or "", value.was
            if called or held is not None:
                found[called] = said
        return found if found or self.was is not None else None


def controls(
    keys: Sequence[RecordKey], was: Mapping[str, Any], sheet: Sheet, path: Path = (), name: str = ""
) -> list[_Control]:
    """The keys of a group, and what else stands there; groups by name have forms of their own."""
    known, found = {key.name for key in keys}, []
    others = (RecordKey(each, "Records know nothing of this name.", AsWritten()) for each in was if each not in known)
    for key in (*keys, *others):
        if not isinstance(key.holds, ByName):
            held, called = was.get(key.name), f"{name}{key.name}"
            shape = _shape(key, held, bool(sheet.marks_of(key, called)))
            found.append(shape(key, (*path, key.name), called, held, sheet))
    return found


def _shape(key: RecordKey, was: Any, has_marks: bool) -> type[_Control]:
    """How a key is shown, by what may stand there and what does."""
    match key.holds:
        case Group() if isinstance(was, dict | None):
            return _Fields
        case Leaf() if isinstance(was, str | None):
            return _Line
        case ListOf(each=Group()) if was is None or (isinstance(was, list) and all(isinstance(e, dict) for e in was)):
            return _Rows
        case ListOf(each=Leaf()) if all(map(_is_plain, _listed(was))):
            return _Marks if has_marks else _Lines
        case AsWritten(json=json, each=each):
            by_name = was is None and each is None and json.get("type", "" if json else "object") == "object"
            return _Pairs if by_name or isinstance(was, dict) else _Written
    return _Written


def _is_plain(entry: Any) -> bool:
    """True for an entry that a line can hold."""
    return isinstance(entry, str) and entry == entry.strip() != "" and "\n" not in entry


def _listed(was: Any) -> list[Any]:
    """What stands in a list; one alone may stand without brackets."""
    return was if isinstance(was, list) else [] if was is None else [was]


def read(fields: Sequence[_Control], was: Mapping[str, Any]) -> dict[str, Any]:
    """What the fields say, as they were sent, as a group; a key that has no field stays as it is."""
    shown = {each.key.name for each in fields}
    found = {key: value for key, value in was.items() if key not in shown}
    for each in fields:
        value = each.wanted()
        if value is not None or (each.was is None and each.key.name in was):
            found[each.key.name] = value
    return found


def _as_it_stands(text: str, path: Path, held: Any) -> str:
    """A value as the file has it, not set in; as one line where it is not read so."""
    with suppress(CannotEdit):
        spot, depth = deepest(text, path)
        if depth == len(path) and spot.node is not None:
            column = spot.start - text.rfind("\n", 0, spot.start) - 1
            stands = textwrap.dedent(" " * column + text[spot.start : end_of(text, spot)]).replace("\r\n", "\n")
            tree, findings = parse_tree(stands, "")
            if not findings and plain_tree(tree) == held:
                return stands
    return flow(held)


def _value_of(node: Node) -> Any:
    """A tree as what may be written; true and false without quotes mean themselves."""
    if isinstance(node, Entries):
        return {key.text: _value_of(each) for key, each in node.entries}
    if isinstance(node, Items):
        return [_value_of(each) for each in node.items]
    if node.blank:
        return None
    return node.text == "true" if not node.quoted and node.text in ("true", "false") else node.text
