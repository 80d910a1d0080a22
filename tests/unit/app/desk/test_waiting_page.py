"""The waiting list at the desk."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.at_the_desk import Keeper, at_the_desk
from helpers.from_text import write_files

RECORDS = """\
=== site.yaml
name: Test
currency: EUR
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
name: Juniper
sex: female
shows: [amel]
offer: {price: 140, state: available, since: 2026-11-01}
"""


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    write_files(tmp_path / "content", RECORDS)
    with at_the_desk(tmp_path / "content") as keeper:
        yield keeper


def waiting(keeper: Keeper) -> str:
    return (keeper.content / "waiting.yaml").read_text()


def test_somebody_is_added_told_what_fits_served_and_deleted(keeper: Keeper) -> None:
    assert "Nobody waits." in keeper.look("/waiting").text
    said = {"name": "Zq of the fair", "contact": "rings on Sundays", "shows": "amel", "sex": "female", "up_to": "150"}
    assert keeper.send("/waiting", as_json=False, **said).status == 303
    page = keeper.look("/waiting").text
    assert "Juniper fits what Zq of the fair waits for" in page
    assert "shows amel; up to €150" in page
    assert keeper.send("/waiting/Zq%20of%20the%20fair/done", as_json=False).status == 303
    assert "done: 2026-11-25" in waiting(keeper)
    found = keeper.send("/waiting/Zq%20of%20the%20fair/remove").facts
    assert "Zq" not in waiting(keeper)
    assert "sitegen undo --forget" in str(found["told"])


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ({"name": ""}, "say who waits"),
        ({"name": "B", "shows": "amle"}, "amle"),
        ({"name": "B", "up_to": "a little"}, "is not a price"),
        ({"name": "B", "species": "dragon"}, "dragon"),
    ],
)
def test_what_cannot_be_is_told_and_what_was_typed_stays(keeper: Keeper, said: dict[str, str], told: str) -> None:
    page = keeper.send("/waiting", as_json=False, contact="zq-by-letter", **said)
    assert page.status == 422
    assert told in page.text
    assert "zq-by-letter" in page.text
    assert not (keeper.content / "waiting.yaml").exists()


def test_nothing_of_it_is_in_the_site(keeper: Keeper) -> None:
    keeper.send("/waiting", name="zq-a-name", contact="zq-a-contact", wants="zq-a-wish", shows="amel")
    for address in ("", "available.html", "animals/juniper.html", "data/collection.json", "sitemap.xml"):
        assert "zq-a" not in keeper.look(f"/site/{address}").text


def test_an_entry_and_the_plan_have_forms_as_every_record(keeper: Keeper) -> None:
    keeper.send("/waiting", name="B", contact="rings")
    page = keeper.look("/waiting/B").text
    assert 'value="rings"' in page
    assert keeper.look("/waiting/nobody").status == 404
    assert "The first season that is planned" in keeper.look("/plan/wishes").text
    found = keeper.send("/plan/wishes", was="{}", litters="3")
    assert found.facts["refused"] is False
    assert "litters: 3" in (keeper.content / "plan.yaml").read_text()
