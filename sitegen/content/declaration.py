"""Declares what a record may hold: each key once, with what it means, how it is read, and what is usual without it.

A record's class declares its keys as fields (``died: PartialDate | None = keyed(DAY, "When it died.")``), and those
that are made into something else as class variables. From these come the reading with places, the findings about names
that are unknown or missing, the JSON Schema, and the tables of the guide.

No library for validation does this: a value is needed with its place while a record is bound and without it later,
and what a dam or a look means is known only when all records are read. A model of such a library would be a second
class for each kind of record, with every key once more.
"""

import dataclasses
import inspect
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Protocol, TypeVar

from sitegen.content.report import At, Report
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar, entries_of, is_blank, tell_no_value
from sitegen.findings import Kind, Place, nearest

R = TypeVar("R")
Schema = dict[str, Any]
_KEY = "key"
_NULL: Schema = {"type": "null"}


class Holds(Protocol):
    """What may stand behind a key. ``usual`` is the plain value when nothing is written."""

    @property
    def usual(self) -> Any: ...  # noqa: D102 - said above

    def read(self, node: Node | None, report: Report) -> Any:
        """The value with its place; what cannot be read is told and left out, so that one run tells all faults."""

    def schema(self, groups: dict[str, Schema]) -> Schema:
        """The JSON Schema; groups that it refers to are put into ``groups``."""


@dataclass(frozen=True, slots=True)
class RecordKey:
    """One name that a record may hold: as written, what it means, what stands behind it, whether it must be there.

    ``prose`` marks what is published in the breeder's own words.
    """

    name: str
    about: str
    holds: Holds
    needed: bool = False
    prose: bool = False


def keyed(
    holds: Holds, about: str, *, alias: str = "", needed: bool = False, prose: bool = False, usual: Any = ...
) -> Any:
    """Declares a key as a field of a record's class.

    Args:
        holds: What stands behind it.
        about: What it means, in one line.
        alias: How it is written, where that is not the field's name.
        needed: Without it the group is of no use.
        prose: It is published in the breeder's own words.
        usual: What holds when it is left out, where that is not what ``holds`` says.
    """
    declared = RecordKey(alias, about, holds, needed, prose)
    default = dataclasses.MISSING if needed else holds.usual if usual is ... else usual
    return field(default=default, metadata={_KEY: declared})


def key_only(holds: Holds, about: str, *, needed: bool = False, prose: bool = False) -> Any:
    """Declares a key that the record does not keep, since something else is made of it; a class variable."""
    return field(init=False, metadata={_KEY: RecordKey("", about, holds, needed, prose)})


@dataclass(frozen=True, slots=True)
class Leaf:
    """A single value: ``make`` reads what is written, or tells why not and gives None.

    ``expected`` says what belongs there, for the message when a list or group stands there instead.
    """

    make: Callable[[Scalar, Report], Any]
    expected: str
    json: Schema
    usual: Any = None

    def read(self, node: Node | None, report: Report) -> At[Any] | None:
        """The value that is written."""
        if node is None:
            return None
        if not isinstance(node, Scalar):
            tell_no_value(node, self.expected, report)
            return None
        value = None if node.blank else self.make(node, report)
        return None if value is None else At(value, node.place, node.width)

    def schema(self, groups: dict[str, Schema]) -> Schema:
        """That of the value."""
        return self.json


@dataclass(frozen=True, slots=True)
class ListOf:
    """Several of a kind; one alone may stand without brackets. What cannot be read is left out."""

    each: Holds
    json: Schema | None = None
    usual: tuple[()] = ()

    def read(self, node: Node | None, report: Report) -> tuple[Any, ...]:
        """Every entry that could be read."""
        found = [self.each.read(item, report) for item in self._items(node, report)]
        return tuple(each for each in found if each is not None)

    @staticmethod
    def _items(node: Node | None, report: Report) -> tuple[Node, ...]:
        if isinstance(node, Items):
            return node.items
        if node is None or is_blank(node):
            return ()
        if isinstance(node, Scalar):
            return (node,)
        report.wrong(
            node,
            "a group stands where a list was expected",
            "a list: [one, two], or lines that begin with a dash",
            "begin each entry with a dash and a space",
        )
        return ()

    def schema(self, groups: dict[str, Schema]) -> Schema:
        """A list, or as it was declared."""
        return self.json or {"anyOf": [{"items": self.each.schema(groups), "type": "array"}, _NULL]}


@dataclass(frozen=True, slots=True)
class ByName:
    """Groups of a kind by name; None for one that is left empty or cannot be read."""

    each: "Group"
    usual: None = None

    def read(self, node: Node | None, report: Report) -> "dict[str, Written | None]":
        """The groups by their names."""
        return {name.text: self.each.read(entry, report) for name, entry in entries_of(node, report)}

    def schema(self, groups: dict[str, Schema]) -> Schema:
        """Any names, with a group behind each."""
        return {"anyOf": [{"additionalProperties": self.each.schema(groups), "type": "object"}, _NULL]}


@dataclass(frozen=True, slots=True)
class AsWritten:
    """What is kept as it stands, to be read when more is known than the file alone says.

    Where ``each`` is a group, it is a list of such groups, or they stand by name.
    """

    json: Schema = field(default_factory=dict)
    each: "Group | None" = None
    usual: None = None

    def read(self, node: Node | None, report: Report) -> Node | None:
        """The part of the record."""
        return node

    def schema(self, groups: dict[str, Schema]) -> Schema:
        """As it was declared; that of the groups stands in place, since it is no part of this one."""
        if self.each is None:
            return self.json
        own = self.each.json_schema()
        by_name = {"additionalProperties": {"anyOf": [own, _NULL]}, "type": "object"}
        return {"anyOf": [{"items": own, "type": "array"}, by_name]}


_GROUPS: "list[Group]" = []


@dataclass(frozen=True, slots=True, eq=False)
class Group:
    """The keys that may stand together, by field, and the class that declares them.

    Attributes:
        what, name: What the group is called in a message, and in schemas.
        own: Fields of keys that only this kind has, where it shares others; they are listed first.
    """

    what: str
    name: str
    about: str
    keys: Mapping[str, RecordKey]
    own: Collection[str]
    kind: type[Any]
    usual: None = None

    def __post_init__(self) -> None:
        _GROUPS.append(self)

    @property
    def listed(self) -> tuple[RecordKey, ...]:
        """Every key, those of this kind first."""
        return tuple(self.keys[each] for each in dict.fromkeys((*self.own, *self.keys)))

    @property
    def names(self) -> tuple[str, ...]:
        """Every key as it is written, those of this kind first."""
        return tuple(each.name for each in self.listed)

    def read(self, node: Node | None, report: Report) -> "Written | None":
        """The group as it is written; None when nothing is, or when something that it cannot do without is missing."""
        if node is None or is_blank(node):
            return None
        if not isinstance(node, Entries):
            parts = [f"{one.name}: ..." for one in self.keys.values() if one.needed]
            report.wrong(
                node,
                f"{self.what} is written as lines of a name and a value",
                f"such lines, or in one line: {{{', '.join(parts)}}}"
                if len(parts) > 1
                else 'lines such as "name: Juniper"',
                "begin each line with a name and a colon",
            )
            return None
        self._check_names(node, report)
        held = {name.text: value for name, value in node.entries}
        written = self._filled(node, held, report)
        missing = [one.name for one in self.keys.values() if one.needed and is_blank(held.get(one.name))]
        for name in missing:
            expected = f"a line that begins with {name}:"
            message = f'{self.what} has no "{name}"'
            report.missing(node.place, message, expected, f"add {name}")
        unread = [each for each, one in self.keys.items() if one.needed and written.values[each] is None]
        return None if missing or unread else written

    def empty(self, tree: Entries) -> "Written":
        """The group with nothing in it, for one of which only the name is written, at a part of the record."""
        return self._filled(tree, {}, Report())

    def _filled(self, tree: Entries, held: Mapping[str, Node], report: Report) -> "Written":
        return Written(
            self, tree, {each: one.holds.read(held.get(one.name), report) for each, one in self.keys.items()}
        )

    def _check_names(self, tree: Entries, report: Report) -> None:
        """Tells names that the group does not hold."""
        names = self.names
        for name, _ in tree.entries:
            if name.text not in names:
                near, remedy = _meant(name.text, names)
                report.error(
                    Kind.KEY_UNKNOWN,
                    name,
                    f'{self.what} has nothing called "{name.text}"',
                    expected=f"one of {', '.join(names)}",
                    nearest=near,
                    remedy=remedy,
                )

    def schema(self, groups: dict[str, Schema]) -> Schema:
        """A reference to the group, which may be left empty."""
        if self.name not in groups:
            groups[self.name] = self._properties(groups)
        return {"anyOf": [{"$ref": f"#/$defs/{self.name}"}, _NULL]}

    def json_schema(self) -> Schema:
        """The JSON Schema of the group with those that it refers to."""
        groups: dict[str, Schema] = {}
        own = self._properties(groups)
        return {"$defs": dict(sorted(groups.items())), **own} if groups else own

    def _properties(self, groups: dict[str, Schema]) -> Schema:
        properties = {
            one.name: dict(sorted({**one.holds.schema(groups), "description": one.about}.items()))
            for one in self.keys.values()
        }
        required = [one.name for one in self.keys.values() if one.needed]
        own = {"additionalProperties": False, "description": self.about, "properties": properties, "type": "object"}
        return dict(sorted({**own, **({"required": required} if required else {})}.items()))


def group_behind(holds: Holds) -> Group | None:
    """The group that stands behind a key, once or several times."""
    inner = holds.each if isinstance(holds, ListOf | ByName | AsWritten) else holds
    return inner if isinstance(inner, Group) else None


def group_of(kind: type[Any], what: str, *, name: str = "") -> Group:
    """The group whose keys a class declares, those of its own first, described by its docstring's first paragraph.

    ``what`` it is called in a message, and ``name`` in schemas where that is not the class's.
    """
    # not fields(): it leaves out class variables, and those are the keys that the record does not keep
    declared = {one.name: one for one in kind.__dataclass_fields__.values() if _KEY in one.metadata}
    keys = {each: replace(one.metadata[_KEY], name=one.metadata[_KEY].name or each) for each, one in declared.items()}
    own = [each for each in keys if each in kind.__annotations__]
    about = (inspect.getdoc(kind) or "").partition("\n\n")[0]
    return Group(what, f"{name or kind.__name__}Form", about, keys, own, kind)


@dataclass(frozen=True, slots=True)
class Written:
    """A group as it was written. What was read stands under the field's name, with its place: ``animal.born``."""

    group: Group
    tree: Entries
    values: Mapping[str, Any]

    def __getattr__(self, name: str) -> Any:
        if name in self.group.keys:
            return self.values[name]
        raise AttributeError(f"{self.group.what} has no key {name}")

    @property
    def start(self) -> Place:
        """Where the group begins."""
        return self.tree.place

    def key(self, name: str) -> Scalar | None:
        """A name as it stands in the record, for faults that concern the line as a whole."""
        return next((key for key, _ in self.tree.entries if key.text == name), None)

    def at(self, name: str) -> Scalar | Place:
        """Where a name stands, or where the group begins when it does not stand there."""
        return self.key(name) or self.start

    def node(self, name: str) -> Node | None:
        """What stands behind a name, as it is written."""
        return next((node for key, node in self.tree.entries if key.text == name), None)

    def record(self, makes: type[R], **given: Any) -> R:
        """The record that is made of the group: what is not given is as it is written, or else as usual.

        Raises:
            ValueError: A field that cannot be made of this group alone is written and not given.
        """
        fields: Any = dataclasses.fields(makes)  # type: ignore[arg-type] # a record's class is a dataclass
        for one in fields:
            if one.name not in given and one.name in self.values:
                value = _plain(self.values[one.name], one.name)
                given |= {} if value is None else {one.name: value}
        return makes(**given)


def _plain(value: Any, name: str) -> Any:
    """A value without its place."""
    match value:
        case None:
            return None
        case At():
            return value.value
        case tuple():
            return tuple(_plain(each, name) for each in value)
        case Written():
            return value.record(value.group.kind)
    raise ValueError(f"{name} is made of more than what is written")


_SAME = {
    "hatched": "born", "hatch_date": "born", "hatch date": "born", "birthday": "born", "dob": "born",
    "gender": "sex", "mother": "dam", "father": "sire", "deceased": "died", "offspring": "young", "hatchlings": "young",
    "otherwise": "else", "or_else": "else", "note": "wants", "notes": "wants", "price": "up_to",
}  # fmt: skip
"""Other names of the same thing, to that of the records."""
_GENES = frozenset({"morph", "morphs", "genetics", "het", "hets", "visual", "visuals", "traits", "carries"})


def _meant(name: str, names: tuple[str, ...]) -> tuple[str, str]:
    """The name that was meant by one that is not held, where that is plain, and what to do."""
    word = name.strip().lower()
    if _SAME.get(word) in names:
        return _SAME[word], f"write {_SAME[word]}"
    if word in _GENES and "stated" in names:
        return "", (
            "what is seen belongs under shows; what is carried unseen under stated if a previous keeper told you "
            "(stated: {amel: certain}), and nowhere if its own parents here prove it"
        )
    if elsewhere := sorted({group.what for group in _GROUPS if word in group.names}, key=_rank):
        return "", f"{word} has its place in {' or '.join(elsewhere[:3])}; move it, or delete the line"
    own = "wants" if "wants" in names else "private"
    return nearest(name, names), f"correct the name, or delete the line; notes of your own belong under {own}"


_USUAL_ORDER = (
    "welfare", "an allele", "a locus", "litter_size", "breeding_season", "an entry of linked", "a species file",
    "a price", "an offer", "acquired", "a meal", "a test", "a young", "an animal's record", "an entry of others",
    "failed", "a litter's record", "contact", "pictures", "ready_when", "site.yaml", "a goal",
    "an entry of keep or else", "a stage", "an entry of decisions", "an alternative", "a project's record",
    "an event", "quarantine", "a permit",
)  # fmt: skip
"""Groups in the order in which they are told, so that it does not depend on which module was imported first."""


def _rank(what: str) -> tuple[int, str]:
    return (_USUAL_ORDER.index(what) if what in _USUAL_ORDER else len(_USUAL_ORDER)), what
