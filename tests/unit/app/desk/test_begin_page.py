"""A collection that begins at the desk."""

from pathlib import Path

from helpers.at_the_desk import at_the_desk

SAID = {"name": "My Snakes", "species": "corn-snake", "currency": "GBP", "units": "metric", "language": "en"}


def test_without_a_collection_the_desk_asks_three_questions_and_it_begins(tmp_path: Path) -> None:
    with at_the_desk(tmp_path / "new" / "content") as keeper:
        assert keeper.look("/").headers["location"] == "/begin"
        assert "What is it called?" in keeper.look("/begin").text
        assert keeper.send("/begin", as_json=False, **SAID).headers["location"] == "/"
        assert "No animal is recorded yet: write down the first." in keeper.look("/").text
        assert not (tmp_path / "new/content/animals").exists()  # forms show how one is written
        assert "currency: GBP" in (tmp_path / "new/content/site.yaml").read_text()
        assert keeper.look("/site/").status == 200
        assert keeper.look("/begin").status == 303  # no second one


def test_what_cannot_be_is_told_and_what_was_typed_stays(tmp_path: Path) -> None:
    with at_the_desk(tmp_path / "new" / "content") as keeper:
        keeper.look("/begin")
        for wrong in ({"currency": "QQQ"}, {"species": "dragon"}, {"name": " "}):
            page = keeper.send("/begin", as_json=False, **{**SAID, "place": "Saltby", **wrong})
            assert (page.status, "Nothing was changed" in page.text, "Saltby" in page.text) == (422, True, True)
        assert not (tmp_path / "new").exists()


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "diary.txt").write_text("mine")
    with at_the_desk(tmp_path / "content") as keeper:
        keeper.look("/begin")
        page = keeper.send("/begin", as_json=False, **SAID)
        assert (page.status, "not empty (diary.txt)" in page.text) == (422, True)
        assert not (tmp_path / "content").exists()
