"""How a declared key is shown in a form, and how what was typed there is read."""

from typing import Any

import pytest
from helpers.filled_forms import form_of

from sitegen.app.desk.forms import Field, Sheet, controls, read
from sitegen.content.animals import ANIMAL
from sitegen.content.declaration import AsWritten, RecordKey
from sitegen.content.litters import LITTER
from sitegen.content.projects import PROJECT
from sitegen.content.public import PUBLIC
from sitegen.content.site import SITE
from sitegen.content.values import ANYTHING, DAY, PROSE, SEX, TEXT, TEXT_BY_NAME, TEXTS, YES
from sitegen.content.written_records import KINDS
from sitegen.keeper.records import Dropped

MEALS = ANIMAL.keys["meals"].holds


def shown(holds: Any, was: object, name: str = "new_key", **sheet: Any) -> Field:
    """The field of a key of which no form ever heard."""
    (control,) = controls(
        [RecordKey(name, "What it means.", holds)], {} if was is None else {name: was}, Sheet(**sheet)
    )
    return control.field()


def typed(holds: Any, was: object, sent: dict[str, str]) -> Any:
    """What is written of a key k when so much was typed."""
    held = {} if was is None else {"k": was}
    sheet = Sheet(sent={name: [value] for name, value in sent.items()})
    found = read(controls([RecordKey("k", "", holds)], held, sheet), held)
    assert not sheet.unread
    return found.get("k")


@pytest.mark.parametrize(
    ("holds", "was", "kind"),
    [
        (TEXT, None, "line"), (DAY, "2021-07", "line"), (PROSE, None, "text"), (TEXT, "two\nlines\n", "text"),
        (SEX, None, "words"), (YES, "true", "words"), (TEXTS, ["a"], "text"), (PUBLIC, None, "marks"),
        (TEXT_BY_NAME, {"2024-05-01": "310 g"}, "rows"), (MEALS, None, "rows"), (ANYTHING, {"paid": "120"}, "rows"),
        (ANIMAL.keys["acquired"].holds, None, "group"), (ANIMAL.keys["sire"].holds, "flint", "line"),
        (ANIMAL.keys["sire"].holds, {"flint": "2/3", "basalt": "1/3"}, "rows"),
        (ANIMAL.keys["haplotypes"].holds, None, "written"), (PROJECT.keys["stages"].holds, None, "written"),
        (DAY, ["2021", "2022"], "line"), (MEALS, "a rat", "line"), (AsWritten(), "anything", "line"),
    ],
)  # fmt: skip
def test_a_new_key_appears_by_what_it_holds(holds: object, was: object, kind: str) -> None:
    field = shown(holds, was)
    assert (field.kind, field.label) == (kind, "New key")


@pytest.mark.parametrize("kind", ["animal", "litter", "project", "site"])
def test_each_key_of_a_record_has_a_field(kind: str) -> None:
    names = {field.name for field in form_of(KINDS[kind], {})}
    assert set(KINDS[kind].names) - names == ({"young"} if kind == "litter" else set()), "young have forms of their own"


def test_a_list_of_groups_ends_with_an_empty_row() -> None:
    first, empty = shown(MEALS, [{"date": "2026-10-03", "what": "rat"}]).parts
    assert [part.value for part in first.parts[:2]] == ["2026-10-03", "rat"]
    assert [part.value for part in empty.parts[:2]] == ["", ""]


def test_a_word_that_is_not_among_those_is_kept() -> None:
    assert ("femal", "femal", True) in shown(SEX, "femal").choices


def test_yes_is_one_of_two_words_however_it_is_written() -> None:
    assert shown(YES, "Yes").choices == (("true", "yes", True), ("false", "no", False))


def test_looks_are_marked_as_they_are_spelt_in_the_record() -> None:
    marks = {"shows": [("amel", "amelanistic"), ("anery", "anerythristic")]}
    field = shown(TEXTS, ["Amelanistic", "snow"], "shows", marks=marks, nothing={"shows": ("not judged", "none")})
    assert field.choices == (
        ("Amelanistic", "amelanistic", True), ("snow", "snow", True), ("anery", "anerythristic", False),
    )  # fmt: skip
    assert field.nothing == (("", "not judged", True), ("none", "none", False))
    assert shown(TEXTS, [], "shows", marks=marks, nothing={"shows": ("not judged", "none")}).nothing[1][2]


@pytest.mark.parametrize(
    ("holds", "was", "sent", "written"),
    [
        (TEXT, None, {"k": "  a word "}, "a word"),
        (TEXT, "x", {"k": " "}, None),
        (PROSE, "one\n", {"k": "one\r\ntwo"}, "one\ntwo\n"),
        (YES, None, {"k": "true"}, True),
        (YES, "yes", {"k": "true"}, "yes"),
        (YES, "Off", {"k": "true"}, True),
        (TEXTS, None, {"k": "a\r\n\r\n b "}, ["a", "b"]),
        (TEXTS, ["a"], {"k": "[]"}, []),
        (TEXT_BY_NAME, {"2024": "3 g"}, {"k.0.name": "2024-05", "k.0.value": "3 g"}, {"2024-05": "3 g"}),
        (TEXT_BY_NAME, {"2024": "3 g"}, {"k.0.name": "", "k.0.value": ""}, {}),
        (MEALS, [{"date": "2026"}], {"k.0.date": "", "k.1.date": "2027"}, [Dropped(), {"date": "2027"}]),
        (ANIMAL.keys["sire"].holds, "flint", {"k": "[flint, basalt]"}, ["flint", "basalt"]),
        (ANIMAL.keys["sire"].holds, None, {"k": "#3"}, "#3"),
        (ANIMAL.keys["stated"].holds, None, {"k.0.name": "hypo", "k.0.value": "{+/+: 1/3, +/hypo: 2/3}"},
         {"hypo": {"+/+": "1/3", "+/hypo": "2/3"}}),
        (ANYTHING, None, {"k.0.name": "notes", "k.0.value": "bites: often"}, {"notes": "bites: often"}),
        (ANYTHING, None, {"k.0.name": "permits", "k.0.value": "[{number: 7}]"}, {"permits": [{"number": "7"}]}),
        (AsWritten(each=PROJECT), None, {"k": "- {only: true}"}, [{"only": True}]),
    ],
)  # fmt: skip
def test_what_was_typed_is_read(holds: object, was: object, sent: dict[str, str], written: object) -> None:
    assert typed(holds, was, sent) == written


@pytest.mark.parametrize(
    ("sent", "why"),
    [
        ({"weights.0.value": "3 g"}, "say what this is about"),
        ({"weights.0.name": "2024"}, "say what belongs to it"),
        ({"weights.0.name": "2024", "weights.0.value": "3 g", "weights.1.name": "2024", "weights.1.value": "4 g"},
         "2024 stands here twice"),
        ({"haplotypes": "[{a: b"}, "is opened"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_told_beside_it(sent: dict[str, str], why: str) -> None:
    sheet = Sheet(sent={key: [value] for key, value in sent.items()})
    fields = controls(ANIMAL.listed, {}, sheet)
    read(fields, {})
    assert [told for told in sheet.unread.values() if why in told]
    told = [
        field.wrong
        for each in fields
        for field in (each.field(), *(p for row in each.field().parts for p in row.parts))
    ]
    assert any(told), "and it is shown"


def test_a_part_of_a_form_that_was_not_sent_stays_as_it_was() -> None:
    was = {
        "name": "Juniper",
        "meals": [{"date": "2026"}],
        "weights": {"2024": "3 g"},
        "shows": ["amel"],
        "about": "x\n",
    }
    assert read(controls(ANIMAL.listed, was, Sheet(sent={"name": ["June"]})), was) == was | {"name": "June"}


def test_where_something_is_wrong_is_told_at_its_own_field() -> None:
    wrong = {("meals", "1", "date"): ["no day"], ("weights", "2024"): ["no weight"], ("offer",): ["twice"]}
    was = {"meals": [{"date": "2026"}, {"date": "x"}], "weights": {"2023": "3 g", "2024": "3"}, "offer": {"price": "1"}}
    form = {field.name: field for field in form_of(ANIMAL, was, wrong=wrong)}
    assert form["meals"].parts[1].parts[0].wrong == ("no day",)
    assert form["weights"].parts[1].parts[1].wrong == ("no weight",)
    assert (form["meals"].wrong, form["offer"].wrong) == ((), ("twice",))


def test_help_speaks_of_the_form_and_not_of_the_file() -> None:
    assert shown(YES, None, "taken").about == "What it means."
    about = {field.name: field.about for field in form_of(LITTER, {})} | {f.name: f.about for f in form_of(SITE, {})}
    assert about["events"] == "Its diary, from the first introduction."
    assert about["mixed_sires"].startswith("Yes when each young")
