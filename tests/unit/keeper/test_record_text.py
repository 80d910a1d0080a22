"""Records are written in their usual order, in words that are read back as they were."""

from pathlib import Path

import pytest

from sitegen.content import animals, litters, prices, projects
from sitegen.keeper.record_text import USUAL, in_usual_order, new_record
from sitegen.keeper.splicing import plain, put


def test_every_name_of_a_record_has_its_usual_place() -> None:
    assert sorted(USUAL["animal"]) == sorted({*animals.ANIMAL.names, *animals.YOUNG.names})
    assert sorted(USUAL["litter"]) == sorted(litters.LITTER.names)
    assert sorted(USUAL["project"]) == sorted(projects.PROJECT.names)
    assert sorted(USUAL["offer"]) == sorted(prices.OFFER.names)


def test_values_stand_in_the_usual_order() -> None:
    assert list(in_usual_order("animal", {"private": {}, "born": "2021", "name": "A"})) == ["name", "born", "private"]


def test_a_new_record_is_read_as_it_was_given(tmp_path: Path) -> None:
    values = {"name": "A: b", "shows": [], "weights": {"2024-05-01": "3 g"}, "young": {"01": None}, "kept": "yes"}
    text = new_record(
        tmp_path, "animals/a/animal.yaml", "animal", {**values, "private": {"notes": "two\nlines"}}, ["x"]
    )
    assert plain(text) == {**values, "private": {"notes": "two\nlines"}}
    assert text.startswith("# x\nname: ")
    assert '\nyoung:\n  "01":\n' in text


def test_a_text_of_several_lines_is_a_block_that_people_can_edit(tmp_path: Path) -> None:
    values = {
        "acquired": {"date": "2024", "from": "a\nb"},
        "about": "# One: 1\n\n  - two\n",
        "private": {"notes": "x\ny"},
    }
    text = new_record(tmp_path, "animals/a/animal.yaml", "animal", values)
    assert text == (
        "acquired:\n  date: 2024\n  from: |-\n    a\n    b\n"
        "about: |\n  # One: 1\n\n    - two\n"
        "private:\n  notes: |-\n    x\n    y\n"
    )
    assert plain(text) == values


@pytest.mark.parametrize("text", [
    "a\nb", "a\nb\n", "a\n\nb", "a\n  b", "a: b\n# c\n- d", "a\nb\n\n", "\na\nb", " a\nb", "a \nb", "a\n \nb",
    "a\tb\nc", "a\r\nb", "a\n", "---\na", "a\n...\n", "a\u2028b\nc", "\n\n",
])  # fmt: skip
def test_every_text_of_several_lines_is_read_back_as_it_was_said(text: str, tmp_path: Path) -> None:
    record = new_record(tmp_path, "animals/a/animal.yaml", "animal", {"about": text, "private": {"notes": text}})
    if "\u2028" in text:
        assert "|" not in record
    else:
        assert plain(record) == {"about": text, "private": {"notes": text}}
        assert plain(put("name: A\n", "animal", ("about",), text)) == {"name": "A", "about": text}


@pytest.mark.parametrize("bound", [False, True])
def test_a_record_is_bound_to_its_schema_where_there_is_one(bound: bool, tmp_path: Path) -> None:
    if bound:
        (tmp_path / ".schemas").mkdir()
        (tmp_path / ".schemas/animal.schema.json").write_text("{}")
    text = new_record(tmp_path / "content", "animals/a/animal.yaml", "animal", {"name": "A"})
    line = "# yaml-language-server: $schema=../../../.schemas/animal.schema.json\n"
    assert text == (line if bound else "") + "name: A\n"
