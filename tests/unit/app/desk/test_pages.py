"""What every page of the desk is met with first."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.at_the_desk import Keeper, at_the_desk


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    content = tmp_path / "content"
    (content / "species").mkdir(parents=True)
    (content / "site.yaml").write_text("name: Test\ncurrency: EUR\n")
    (content / "species" / "corn-snake.yaml").write_text(
        "name: corn snake\nbirths: eggs\nsexes: ZW\nloci:\n  amel: {name: amelanistic, inheritance: recessive}\n"
    )
    for name, sex in (("juniper", "female"), ("flint", "male")):
        (content / "animals" / name).mkdir(parents=True)
        (content / "animals" / name / "animal.yaml").write_text(
            f"species: corn-snake\nname: {name.title()}\nsex: {sex}\nborn: 2021-07-14\nshows: []\n"
        )
    with at_the_desk(content) as keeper:
        yield keeper


def test_the_first_page_is_a_list_of_sentences(keeper: Keeper) -> None:
    page = keeper.look("/")
    assert page.status == 200
    assert "Nothing is due on November 25, 2026." in page.text
    assert page.headers["content-security-policy"].startswith("default-src 'none'")
    assert page.headers["cache-control"] == "no-store"


def test_the_site_is_shown_with_the_way_back(keeper: Keeper) -> None:
    page = keeper.look("/site/animals/juniper.html")
    assert page.status == 200
    assert '<a href="/animals/juniper">Change this record</a>' in page.text


def test_records_in_error_are_told_with_their_place(keeper: Keeper) -> None:
    (keeper.content / "animals/flint/animal.yaml").write_text("species: corn-snake\nshows: [amle]\n")
    for address in ("/", "/site/"):
        page = keeper.look(address)
        assert page.status == 409
        assert "amle" in page.text
        assert "animals/flint/animal.yaml:2:9" in page.text


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1:1", ""])
def test_what_another_site_sends_is_refused(keeper: Keeper, origin: str) -> None:
    headers = {"Origin": origin} if origin else {}
    assert keeper.ask("POST", "/round", "token=x", **headers).status == 403


def test_a_host_of_another_name_is_refused(keeper: Keeper) -> None:
    assert keeper.ask("GET", "/", Host="evil.example").status == 421
