"""The base of every written form: which names a record may hold, and how faults are told without stopping.

A form is filled from a tree with places. Each field reads its own part of the tree; a fault is told
through the report that is handed along, and the field stays empty, so that one run tells all faults.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, ClassVar, TypeVar

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    ValidationInfo,
    WithJsonSchema,
    WrapValidator,
    model_validator,
)
from pydantic.json_schema import SkipJsonSchema
from pydantic_core import PydanticUndefined, core_schema

from sitegen.content.report import At, Report
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar
from sitegen.findings import Kind, Place, nearest

F = TypeVar("F", bound="Form")
T = TypeVar("T")


class _Plain:
    """Marks a field whose value a function makes. pydantic's own mark looks through the type of the value as well."""

    def __init__(self, make: Callable[[Any, ValidationInfo], Any]) -> None:
        self._make = make

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        return core_schema.with_info_plain_validator_function(self._make)


_AS_IS = _Plain(lambda value, info: value)
_MISSING: Any = PydanticUndefined


def report_of(info: ValidationInfo) -> Report:
    """The report that is handed along while a form is filled."""
    context = info.context
    assert isinstance(context, Report)
    return context


class Form(BaseModel):
    """A group of named values. ``node`` is the part of the tree it was filled from."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, populate_by_name=True)
    what: ClassVar[str] = "this record"
    """What the group is called in a message."""

    node: SkipJsonSchema[Annotated[Any, _AS_IS]] = Field(exclude=True)

    @property
    def start(self) -> Place:
        """Where the group begins."""
        tree: Entries = self.node
        return tree.place

    def key(self, name: str) -> Scalar | None:
        """The name as it stands in the record, for faults that concern the line as a whole."""
        return next((key for key, _ in self.node.entries if key.text == name), None)

    def at(self, name: str) -> Scalar | Place:
        """Where ``name`` stands, or where the group begins when it does not stand there."""
        return self.key(name) or self.start

    @classmethod
    def written_names(cls) -> tuple[str, ...]:
        """Every name the group may hold, those of its own kind first."""
        return _shape(cls).names

    @model_validator(mode="before")
    @classmethod
    def _from_tree(cls, tree: Any, info: ValidationInfo) -> Any:
        """The tree as the fields expect it; unknown and missing names are told here."""
        report = report_of(info)
        assert isinstance(tree, Entries)
        shape = _shape(cls)
        values: dict[str, Any] = {"node": tree}
        for key, node in tree.entries:
            if key.text in shape.names:
                values[key.text] = node
            else:
                near, remedy = _meant(key.text, shape.names)
                report.error(
                    Kind.KEY_UNKNOWN,
                    key,
                    f'{cls.what} has nothing called "{key.text}"',
                    expected=f"one of {', '.join(shape.names)}",
                    nearest=near,
                    remedy=remedy,
                )
        for written in shape.required:
            if is_blank(values.get(written)):
                values.pop(written, None)
                report.error(
                    Kind.KEY_MISSING,
                    tree.place,
                    f'{cls.what} has no "{written}"',
                    expected=f"a line that begins with {written}:",
                    remedy=f"add {written}",
                )
        return values


_SAME = {
    "hatched": "born", "hatch_date": "born", "hatch date": "born", "birthday": "born", "dob": "born",
    "gender": "sex", "mother": "dam", "father": "sire", "deceased": "died", "offspring": "young", "hatchlings": "young",
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
    if elsewhere := [form.what for form in _forms(Form) if word in _shape(form).names]:
        return "", f"{word} has its place in {' or '.join(dict.fromkeys(elsewhere[:3]))}; move it, or delete the line"
    return nearest(name, names), "correct the name, or delete the line; notes of your own belong under private"


def _forms(form: type[Form]) -> list[type[Form]]:
    """Every kind of form there is."""
    return [kind for sub in form.__subclasses__() for kind in (sub, *_forms(sub))]


@dataclass(frozen=True, slots=True)
class _Shape:
    """Of a form: every name it may hold, those of its own kind first, and those that must be written."""

    names: tuple[str, ...]
    required: tuple[str, ...]


@cache
def _shape(form: type[Form]) -> _Shape:
    fields = {name: field for name, field in form.model_fields.items() if name != "node"}
    own = [name for name in fields if name in form.__annotations__]
    return _Shape(
        tuple(fields[name].alias or name for name in dict.fromkeys((*own, *fields))),
        tuple(field.alias or name for name, field in fields.items() if field.is_required()),
    )


def is_blank(node: Node | None) -> bool:
    """True when nothing is written."""
    return node is None or (isinstance(node, Scalar) and node.blank)


def filled(form: type[F], tree: Node, report: Report) -> F | None:
    """The form filled from the tree; None when something it cannot do without is missing."""
    if not isinstance(tree, Entries):
        report.error(
            Kind.VALUE_WRONG,
            tree,
            f"{form.what} is written as lines of a name and a value",
            expected='lines such as "name: Juniper"',
            remedy="begin each line with a name and a colon",
        )
        return None
    try:
        return form.model_validate(tree, context=report)
    except ValidationError:  # told already, by the fields
        return None


def _forgiving(form: type[F]) -> Callable[[Any, Callable[[Any], Any], ValidationInfo], F | None]:
    """A reader that makes None of a part that is not written or not usable, and lets the rest go on."""

    def read(tree: Any, handler: Callable[[Any], Any], info: ValidationInfo) -> F | None:
        return None if tree is None or is_blank(tree) else filled(form, tree, report_of(info))

    return read


def part(form: type[F]) -> Any:
    """Marks a field that holds a group of its own."""
    return WrapValidator(_forgiving(form))


def as_items(tree: Any, info: ValidationInfo) -> tuple[Node, ...]:
    """A list's entries; one entry alone may stand without brackets."""
    if isinstance(tree, Items):
        return tree.items
    if is_blank(tree):
        return ()
    if isinstance(tree, Scalar):
        return (tree,)
    report_of(info).error(
        Kind.VALUE_WRONG,
        tree,
        "a group stands where a list was expected",
        expected="a list: [one, two], or lines that begin with a dash",
        remedy="begin each entry with a dash and a space",
    )
    return ()


def as_named(tree: Any, info: ValidationInfo) -> dict[str, Node]:
    """A group's values by name."""
    if isinstance(tree, Entries):
        return {key.text: node for key, node in tree.entries}
    if not is_blank(tree):
        report_of(info).error(
            Kind.VALUE_WRONG,
            tree,
            "a group of named values was expected here",
            expected="lines of a name, a colon and a value",
            remedy="write each entry with its name and a colon",
        )
    return {}


def as_text_map(tree: Any, report: Report, *, blank_means_nothing: bool = False) -> list[tuple[Scalar, Scalar]]:
    """A group of single values, each with its name; what is not written at all is an empty group.

    Args:
        tree: The part of the record, or None.
        report: Takes what is wrong.
        blank_means_nothing: An entry without a value is kept, as an empty text.
    """
    if tree is None or is_blank(tree):
        return []
    if not isinstance(tree, Entries):
        report.error(
            Kind.VALUE_WRONG,
            tree,
            "a group of named values was expected here",
            expected="lines of a name, a colon and a value",
            remedy="write each entry with its name and a colon",
        )
        return []
    found = []
    for key, node in tree.entries:
        if not isinstance(node, Scalar):
            report.error(
                Kind.VALUE_WRONG,
                node,
                "a list or group stands where one value was expected",
                expected="a word or text",
                remedy="write one value",
            )
        elif not node.blank:
            found.append((key, node))
        elif blank_means_nothing:
            found.append((key, Scalar("", node.place)))
    return found


LISTED = BeforeValidator(as_items)
NAMED = BeforeValidator(as_named)


def leaf(
    read: Callable[[Scalar, Report], T | None], expected: str, schema: dict[str, Any], *, sure: bool = False
) -> tuple[Any, Any]:
    """The two marks of a field that holds one written value: how it is read, and its JSON Schema.

    Args:
        read: Makes a value of what is written, or tells why not and gives None.
        expected: What belongs there, for the message when a list or group stands there instead.
        schema: The JSON Schema of the written form.
        sure: The group is of no use without the value.
    """

    def usable(value: At[T] | None) -> At[T] | None:
        if sure and value is None:
            raise ValueError("told already")
        return value

    def validate(node: Any, info: ValidationInfo) -> At[T] | None:
        report = report_of(info)
        if not isinstance(node, Scalar):
            report.error(
                Kind.VALUE_WRONG,
                node,
                "a list or group stands where one value was expected",
                expected=expected,
                remedy="write one value",
            )
            return usable(None)
        value = None if node.blank else read(node, report)
        return usable(None if value is None else At(value, node.place, node.width))

    return _Plain(validate), WithJsonSchema(schema)


def raw(schema: dict[str, Any]) -> tuple[Any, Any]:
    """The marks of a field that is kept as a tree, to be read when more is known than the file alone says."""
    return _AS_IS, WithJsonSchema(schema)


@dataclass(frozen=True, slots=True)
class _EntriesSchema:
    """The JSON Schema of entries of a form, made when somebody asks for it."""

    form: type[Form]

    def __get_pydantic_json_schema__(self, core: Any, handler: Any) -> dict[str, Any]:
        schema = self.form.model_json_schema(by_alias=True)
        return {
            "anyOf": [
                {"type": "array", "items": schema},
                {"type": "object", "additionalProperties": {"anyOf": [schema, {"type": "null"}]}},
            ]
        }


def entries_of(form: type[Form]) -> tuple[Any, Any]:
    """The marks of a field that is kept as a tree of entries of a form, as a list or by name."""
    return _AS_IS, _EntriesSchema(form)


def described(text: str, *, alias: str | None = None) -> Any:
    """A field that may be left out."""
    return Field(default=None, description=text, alias=alias)


def required(text: str) -> Any:
    """A field that must be written."""
    return Field(description=text)
