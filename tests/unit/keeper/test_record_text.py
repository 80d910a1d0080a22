"""Records are written in their usual order, in words that are read back as they were."""

from pathlib import Path

import pytest

from sitegen.content import animals, litters, prices, projects
from sitegen.keeper.record_text import USUAL, in_usual_order, new_record
from sitegen.keeper.splicing import plain


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


@pytest.mark.parametrize("bound", [False, True])
def test_a_record_is_bound_to_its_schema_where_there_is_one(bound: bool, tmp_path: Path) -> None:
    if bound:
        (tmp_path / ".schemas").mkdir()
        (tmp_path / ".schemas/animal.schema.json").write_text("{}")
    text = new_record(tmp_path / "content", "animals/a/animal.yaml", "animal", {"name": "A"})
    line = "# yaml-language-server: $schema=../../../.schemas/animal.schema.json\n"
    assert text == (line if bound else "") + "name: A\n"
