"""A form sent back as it was shown changes no byte; one field changed changes that value alone."""

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from helpers.filled_forms import as_sent, flat, form_of, what_is_wanted
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.app.desk.forms import Sheet, controls, read
from sitegen.content.animals import YOUNG
from sitegen.content.written_records import KINDS
from sitegen.findings import ContentError
from sitegen.keeper import splicing
from sitegen.keeper.differences import differences
from sitegen.keeper.record_text import lines
from sitegen.keeper.records import Added, Dropped
from sitegen.keeper.spots import CannotEdit
from sitegen.keeper.spots import Path as Names

CONTENT = Path(__file__).parents[2] / "content"
RECORDS = [path.relative_to(CONTENT).as_posix() for path in sorted(CONTENT.rglob("*.yaml"))]
LOOKS = {"shows": [("amel", "amelanistic"), ("anery", "anerythristic")], "unsure": [("all", "all of them")]}
FORMED = ("animal", "litter", "project", "site")
"""Kinds of record that have a form."""
NOTHING = {"shows": ("not judged", "none")}


def kind_of(record: str) -> str:
    return "species" if record.startswith("species/") else Path(record).stem


def leaves(found: Any, at: Names = ()) -> dict[Names, object]:
    parts = splicing.parts_of(found)
    if not parts:
        return {at: found}
    return {path: leaf for key, each in parts.items() for path, leaf in leaves(each, (*at, key)).items()}


def changed(text: str, kind: str, changes: Mapping[Names, Any]) -> str:
    """The record after the changes, made one after the other."""
    for path, value in changes.items():
        if isinstance(value, Dropped):
            text = splicing.drop(text, kind, path)
        elif isinstance(value, Added):
            text = splicing.append(text, kind, path, value.entry)
        else:
            text = splicing.put(text, kind, path, value)
    return text


@pytest.mark.parametrize("record", RECORDS)
def test_a_record_of_the_demo_sent_back_is_as_it_was(record: str) -> None:
    text = (CONTENT / record).read_text("utf-8")
    was, group = splicing.plain(text), KINDS[kind_of(record)]
    for more in ({}, {"marks": LOOKS, "nothing": NOTHING}):
        sent = as_sent(form_of(group, was, text=text, **more))
        assert differences(was, what_is_wanted(group, was, sent, text=text, **more)) == {}
        assert differences(was, what_is_wanted(group, was, sent, **more)) == {}, "also where the file is another by now"


@pytest.mark.parametrize("record", [each for each in RECORDS if each.startswith("litters/")])
def test_a_young_of_the_demo_sent_back_is_as_it_was(record: str) -> None:
    text = (CONTENT / record).read_text("utf-8")
    for number, held in (splicing.plain(text).get("young") or {}).items():
        place = {"text": text, "at": ("young", number), "marks": LOOKS, "nothing": NOTHING}
        sent = as_sent(form_of(YOUNG, held or {}, **place))
        assert differences(held, what_is_wanted(YOUNG, held or {}, sent, **place)) == {}


WORDS = st.text(st.characters(exclude_categories=("Cs", "Cc", "Cf", "Co", "Cn", "Zl", "Zp")), max_size=12) | (
    st.sampled_from(
        ["66%", "[]", "{}", "{a: b", "#3", "a: b", "- x", "|", "~", "true", "two\nlines\n", "'", '"x', "140,00"]
    )
)
VALUES = st.recursive(
    st.none() | WORDS, lambda held: st.lists(held, max_size=3) | st.dictionaries(WORDS, held, max_size=3), max_leaves=8
)


@settings(deadline=None)
@given(data=st.data(), kind=st.sampled_from(FORMED))
def test_whatever_stands_in_a_record_is_sent_back_as_it_was(data: st.DataObject, kind: str) -> None:
    names = st.sampled_from(KINDS[kind].names) | WORDS.filter(lambda each: "\n" not in each)
    held = data.draw(st.dictionaries(names, VALUES, max_size=5))
    text = "\n".join(lines(held.items())) + "\n"
    try:
        was = splicing.plain(text)
    except ContentError:
        return
    if not isinstance(was, dict):
        return
    sheet = {"text": text, "marks": LOOKS, "nothing": NOTHING}
    fields = form_of(KINDS[kind], was, **sheet)
    if any("\n" in field.value for field in flat(fields) if field.kind == "line"):
        return  # a name of several lines
    wanted = what_is_wanted(KINDS[kind], was, as_sent(fields), **sheet)
    assert differences(was, wanted) == {}


@settings(deadline=None, max_examples=150)
@given(
    data=st.data(),
    record=st.sampled_from([r for r in RECORDS if kind_of(r) in ("animal", "litter", "project", "site")]),
)
def test_one_field_changed_changes_that_value_alone(data: st.DataObject, record: str) -> None:
    text, kind = (CONTENT / record).read_text("utf-8"), kind_of(record)
    was, group = splicing.plain(text), KINDS[kind]
    sheet = {"text": text, "marks": LOOKS, "nothing": NOTHING}
    fields = form_of(group, was, **sheet)
    sent = as_sent(fields)
    one = data.draw(st.sampled_from([each for each in flat(fields) if each.kind in ("line", "text", "words")]))
    typed = data.draw(WORDS if one.kind == "text" else WORDS.filter(lambda each: "\n" not in each))
    filled = Sheet(**sheet, sent=sent | {one.name: [typed.replace("\n", "\r\n")]})
    changes = differences(was, read(controls(group.listed, was, filled), was))
    try:
        after = changed(text, kind, changes)
    except CannotEdit:
        return
    before, now = leaves(was), leaves(splicing.plain(after))
    other = {path for path in {*before, *now} if before.get(path) != now.get(path)}
    assert {path[0] for path in other} <= {one.name.partition(".")[0]}
    if one.name.endswith(".name"):
        assert len({path[:2] for path in other}) <= 2, "the name that it had, and the one that it has"
    elif other:
        assert len({path[: min(2, 1 + one.name.count("."))] for path in other}) == 1
    assert re.findall(r" #.*", after) == re.findall(r" #.*", text)
