"""A form as a browser holds it: what it would send, as it is or with some fields filled in anew."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sitegen.app.desk.forms import Field, Sheet, controls, read
from sitegen.content.declaration import Group


def flat(fields: Sequence[Field]) -> Iterator[Field]:
    """Every field, those within others too."""
    for each in fields:
        yield each
        yield from flat(each.parts)


def as_sent(fields: Sequence[Field]) -> dict[str, list[str]]:
    """What a browser sends of a form that nobody touched: lines end in its own way, a field of one line has no others.

    Source: HTML standard, value sanitization and constructing the entry list.
    """
    sent: dict[str, list[str]] = {}
    for each in flat(fields):
        match each.kind:
            case "line":
                assert "\n" not in each.value
                sent[each.name] = [each.value]
            case "text" | "written":
                sent[each.name] = [each.value.replace("\n", "\r\n")]
            case "words":
                sent[each.name] = [next((value for value, _, chosen in each.choices if chosen), "")]
            case "marks":
                sent[f"{each.name}.asked"] = ["1"]
                sent[each.name] = [value for value, _, chosen in each.choices if chosen]
                if each.nothing:
                    sent[f"{each.name}.nothing"] = [value for value, _, chosen in each.nothing if chosen]
    return sent


def form_of(group: Group, was: Mapping[str, Any], **more: Any) -> tuple[Field, ...]:
    """The fields of a record."""
    return tuple(each.field() for each in controls(group.listed, was, Sheet(**more)))


def what_is_wanted(group: Group, was: Mapping[str, Any], sent: Mapping[str, Sequence[str]], **more: Any) -> Any:
    """What was sent, as a record."""
    sheet = Sheet(sent=sent, **more)
    wanted = read(controls(group.listed, was, sheet), was)
    assert not sheet.unread, sheet.unread
    return wanted
