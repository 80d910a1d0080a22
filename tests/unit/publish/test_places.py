from pathlib import Path

import pytest

from sitegen.findings import OutputRefused
from sitegen.publish.places import check_output


def test_a_new_folder_beside_the_content_is_fine(tmp_path: Path) -> None:
    check_output(tmp_path / "output", [tmp_path / "content"])
    assert not (tmp_path / "output").exists()


def test_a_link_is_refused_even_to_a_sound_folder(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "output").symlink_to(tmp_path / "real")
    with pytest.raises(OutputRefused, match="is a link"):
        check_output(tmp_path / "output")


def test_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "output").write_text("mine")
    with pytest.raises(OutputRefused, match="is a file"):
        check_output(tmp_path / "output")


@pytest.mark.parametrize(
    ("output", "reason"),
    [
        ("content", "itself"),
        ("content/site", "lies inside"),
        ("content/../content/x", "lies inside"),
        (".", "holds the folder"),
    ],
)
def test_output_and_content_must_lie_apart(tmp_path: Path, output: str, reason: str) -> None:
    (tmp_path / "content").mkdir()
    with pytest.raises(OutputRefused, match=reason):
        check_output(tmp_path / output, [tmp_path / "content"])


def test_a_source_reached_through_a_link_counts_as_what_it_is(tmp_path: Path) -> None:
    (tmp_path / "content").mkdir()
    (tmp_path / "other-name").symlink_to(tmp_path / "content")
    with pytest.raises(OutputRefused, match="lies inside"):
        check_output(tmp_path / "content" / "out", [tmp_path / "other-name"])


def test_root_home_and_what_is_above_home_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    home = tmp_path / "people" / "keeper"
    home.mkdir(parents=True)
    monkeypatch.setenv("HOME", str(home))
    for place in (Path("/"), home, home.parent):
        with pytest.raises(OutputRefused, match="not a folder for a site"):
            check_output(place)
    check_output(home / "site")
