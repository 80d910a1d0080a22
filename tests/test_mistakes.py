"""What the breeder is told about every kind of mistake, as the console prints it."""

import shutil
from pathlib import Path

import pytest

from sitegen.console import excerpt_of, plain_finding
from sitegen.findings import Finding, Kind, in_order
from sitegen.reading.folder import MAX_TEXT_BYTES, read_content
from sitegen.records.binding import bind_content

MISTAKES = Path(__file__).parent / "mistakes"
FOUND_LATER = {Kind.CONTRADICTION, Kind.TOO_TANGLED, Kind.PHOTO_UNREADABLE, Kind.LINK_BROKEN}
"""Kinds that are not found in the records themselves; their folders are tested where they are found."""
GROWN = {Kind.FILE_TOO_LARGE: "species/corn-snake.yaml"}
"""Files that are made larger than any record before they are read, to keep them out of the repository."""


def found_in(content: Path) -> tuple[Finding, ...]:
    read, findings = read_content(content)
    return in_order((*findings, *bind_content(read)[1]))


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind not in FOUND_LATER])
def test_each_kind_of_mistake_is_told_so_that_the_breeder_can_mend_it(
    kind: Kind, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    content = MISTAKES / kind / "content"
    if kind in GROWN:
        content = Path(shutil.copytree(content, tmp_path / "content"))
        grown = content / GROWN[kind]
        grown.write_text(grown.read_text() + "# " + "long " * (MAX_TEXT_BYTES // 5))
    findings = found_in(content)
    told = "".join(f"{plain_finding(finding, excerpt_of(finding, content))}\n" for finding in findings)
    told = told.replace(str(content), "content")
    expected = MISTAKES / kind / "expected.txt"
    if request.config.getoption("--rewrite-expected", default=False):
        expected.write_text(told, encoding="utf-8")
    assert kind in {finding.kind for finding in findings}
    assert expected.read_text(encoding="utf-8") == told


def test_every_kind_has_a_folder_and_every_folder_is_a_kind() -> None:
    folders = {path.name for path in MISTAKES.iterdir() if path.is_dir()}
    assert {kind.value for kind in Kind if kind not in FOUND_LATER} <= folders
    assert folders <= {kind.value for kind in Kind}


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind not in FOUND_LATER])
def test_each_finding_names_a_file_of_the_folder_and_a_remedy(kind: Kind) -> None:
    content = MISTAKES / kind / "content"
    for finding in found_in(content):
        assert finding.remedy
        assert finding.message
        if kind not in (Kind.FOLDER_MISSING, Kind.FOLDER_EMPTY):
            assert finding.place is not None
            assert (content / finding.place.file).exists()
