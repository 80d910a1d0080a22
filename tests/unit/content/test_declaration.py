"""Keys of records: which may stand where, and what was meant by others."""

from dataclasses import dataclass
from typing import ClassVar

import pytest
from helpers.from_text import CORN, told

from sitegen.content.animals import ANIMAL, Animal
from sitegen.content.declaration import Written, group_of, key_only, keyed
from sitegen.content.report import Report
from sitegen.content.values import DAY, TEXT, TEXTS, WHOLE, YES, PartialDate
from sitegen.content.yaml_tree import parse_tree
from sitegen.findings import Kind, Place


@pytest.mark.parametrize(
    ("line", "near", "remedy"),
    [
        ("hatched: 2021", "born", "write born"),
        ("gender: male", "sex", "write sex"),
        ("mother: a", "dam", "write dam"),
        ("state: sold", "", "state has its place in an offer"),
        ("price: 140 EUR", "", "price has its place in an offer"),
        ("hets: [amel]", "", "what is seen belongs under shows"),
        ("morph: amel", "", "what is seen belongs under shows"),
        ("show: [amel]", "shows", "correct the name"),
        ("wieghts: {}", "weights", "correct the name"),
        ("sure: [amel]", "", "correct the name"),
    ],
)
def test_a_key_is_answered_with_the_one_that_was_meant_or_where_it_belongs(line: str, near: str, remedy: str) -> None:
    (finding,) = told(CORN + f"=== animals/a/animal.yaml\nspecies: corn-snake\n{line}\n")
    assert (finding.kind, finding.nearest) == (Kind.KEY_UNKNOWN, near)
    assert finding.remedy.startswith(remedy)


@dataclass(frozen=True, slots=True, kw_only=True)
class Perch:
    """Something to sit on.

    More about it.
    """

    span: int = keyed(WHOLE, "In centimetres.", needed=True)
    wood: str = keyed(TEXT, "Of which tree.", alias="timber")
    bark: bool = keyed(YES, "true when it has its bark.", usual=True)
    knots: tuple[str, ...] = keyed(TEXTS, "Anything.")
    felled: ClassVar = key_only(DAY, "When.")
    place: Place


PERCH = group_of(Perch, "a perch")


def written(text: str) -> tuple[Written | None, Report]:
    report = Report()
    return PERCH.read(parse_tree(text, "r.yaml")[0], report), report


def test_a_record_is_made_of_what_is_written_and_of_what_is_usual() -> None:
    form, report = written("span: 30\ntimber: beech\nknots: [one, ~, two]\nfelled: 2024\n")
    assert form is not None
    assert form.record(Perch, place=form.start) == Perch(
        span=30, wood="beech", bark=True, knots=("one", "two"), place=Place("r.yaml", 1, 1)
    )
    assert (form.wood.place, form.felled.value) == (Place("r.yaml", 2, 9), PartialDate(2024))
    assert report.findings == []


def test_what_is_given_goes_before_what_is_written() -> None:
    form, _ = written("span: 30\ntimber: beech\n")
    assert form is not None
    assert form.record(Perch, place=form.start, wood="oak").wood == "oak"


def test_one_run_tells_every_fault_of_a_group_that_cannot_stand() -> None:
    form, report = written("spna: 30\nbark: perhaps\nknots: {a: b}\n")
    assert form is None
    assert sorted(finding.kind for finding in report.findings) == sorted(
        [Kind.KEY_UNKNOWN, Kind.KEY_MISSING, Kind.VALUE_WRONG, Kind.VALUE_WRONG]
    )
    assert [finding.nearest for finding in report.findings if finding.kind is Kind.KEY_UNKNOWN] == ["span"]


def test_the_schema_and_the_names_follow_from_the_declaration() -> None:
    schema = PERCH.json_schema()
    assert (schema["description"], schema["required"]) == ("Something to sit on.", ["span"])
    assert tuple(schema["properties"]) == PERCH.names == ("span", "timber", "bark", "knots", "felled")
    assert schema["properties"]["timber"]["description"] == "Of which tree."


def test_a_name_that_is_no_key_is_no_value() -> None:
    form, _ = written("span: 30\n")
    with pytest.raises(AttributeError, match="a perch has no key hook"):
        form.hook  # type: ignore[union-attr]  # noqa: B018


def test_what_is_made_of_more_than_the_group_must_be_given() -> None:
    form = ANIMAL.read(parse_tree("species: corn-snake\nweights: {2024-05-01: 310 g}\n", "r.yaml")[0], Report())
    assert form is not None
    with pytest.raises(ValueError, match="weights"):
        form.record(Animal, id="a", place=form.start, genes=())
