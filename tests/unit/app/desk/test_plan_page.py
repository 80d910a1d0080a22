"""The plan at the desk: asked beside the desk's own work, and nothing of it written."""

import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.at_the_desk import Keeper, at_the_desk
from helpers.from_text import write_files
from helpers.small_plan import ROOM


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    write_files(tmp_path / "content", "".join(f"=== {path}\n{text}" for path, text in ROOM.items()))
    with at_the_desk(tmp_path / "content") as keeper:
        yield keeper


def answered(keeper: Keeper, **asked: object) -> str:
    """The page when the search has ended."""
    assert keeper.send("/plan/ask", as_json=False, **asked).status == 303
    deadline = time.monotonic() + 120
    while not keeper.look("/plan/how-far").facts["done"]:
        assert time.monotonic() < deadline
        time.sleep(0.1)
    return keeper.look("/plan").text


def test_the_page_gives_the_choices_and_searches_for_nothing_by_itself(keeper: Keeper) -> None:
    page = keeper.look("/plan").text
    assert "Which pairings?" in page
    assert "Juniper x Flint" not in page
    assert keeper.look("/plan/how-far").facts == {"done": True, "told": ""}


def test_the_answer_is_that_of_the_command_with_the_choices_kept(keeper: Keeper) -> None:
    page = answered(keeper, ask="plan", litters="1", places="9")
    assert "Juniper x Flint" in page
    assert 'name="places" inputmode="numeric" value="9"' in page
    assert '<th scope="row">Juniper</th>' in page
    (keeper.content / "animals/flint/animal.yaml").write_text(
        ROOM["animals/flint/animal.yaml"] + "weights: {2026-11-02: 300 g}\n"
    )
    assert "The records have changed since this was asked." in keeper.look("/plan").text


def test_who_rests_is_not_paired(keeper: Keeper) -> None:
    page = answered(keeper, ask="plan", without=["juniper"])
    assert "Juniper x Flint" not in page
    assert 'value="juniper" checked' in page


def test_which_young_to_keep(keeper: Keeper) -> None:
    assert "free to offer" in answered(keeper, ask="keep", litter="2026-juniper-flint").lower()


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"ask": "plan", "season": "2020"}, "can no longer be paired"),
        ({"ask": "plan", "without": ["nobody"]}, "there is no animal &#34;nobody&#34;"),
        ({"ask": "keep", "litter": "../.."}, "there is no litter"),
    ],
)
def test_what_cannot_be_asked_is_told(keeper: Keeper, asked: dict[str, object], told: str) -> None:
    assert told in answered(keeper, **asked)


def test_a_search_can_be_ended(keeper: Keeper) -> None:
    keeper.send("/plan/ask", as_json=False, ask="plan")
    keeper.send("/plan/stop", as_json=False)
    deadline = time.monotonic() + 60
    while not keeper.look("/plan/how-far").facts["done"]:
        assert time.monotonic() < deadline
        time.sleep(0.1)


def test_nothing_is_written(keeper: Keeper) -> None:
    before = {path: path.read_bytes() for path in keeper.content.rglob("*") if path.is_file()}
    answered(keeper, ask="buy")
    assert {path: path.read_bytes() for path in keeper.content.rglob("*") if path.is_file()} == before
