"""What the breeder is told about every kind of mistake, as the console prints it."""

import shutil
from pathlib import Path

import pytest
from helpers.pedigrees import closed
from helpers.program import DAY

from sitegen.app.console import excerpt_of, plain_finding
from sitegen.build import Order, check
from sitegen.content.folder import MAX_TEXT_BYTES
from sitegen.findings import Finding, Kind

MISTAKES = Path(__file__).parent / "mistakes"


def grown(kind: Kind, tmp_path: Path) -> Path:
    """The content folder of a mistake, with what is too large to keep added to a copy of it."""
    content = MISTAKES / kind / "content"
    if kind is Kind.FILE_TOO_LARGE:
        content = Path(shutil.copytree(content, tmp_path / "content"))
        record = content / "species/corn-snake.yaml"
        record.write_text(record.read_text() + "# " + "long " * (MAX_TEXT_BYTES // 5))
    if kind is Kind.TOO_TANGLED:
        content = Path(shutil.copytree(content, tmp_path / "content"))
        for member in closed(200):
            folder = content / "animals" / member.id
            folder.mkdir(parents=True)
            parents = f"dam: {member.dam}\nsire: {member.sires[0][0]}\n" if member.dam else "stated: {amel: 50%}\n"
            text = f"species: corn-snake\nsex: {member.sex}\nshows: []\n{parents}"
            (folder / "animal.yaml").write_text(text)
    return content


def found_in(content: Path, tmp_path: Path) -> tuple[Finding, ...]:
    return check(Order(content, tmp_path / "output", tmp_path / "themes", today=DAY))


@pytest.mark.parametrize("kind", list(Kind))
def test_each_kind_of_mistake_is_told_so_that_the_breeder_can_mend_it(
    kind: Kind, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    content = grown(kind, tmp_path)
    findings = found_in(content, tmp_path)
    told = "".join(f"{plain_finding(finding, excerpt_of(finding, content))}\n" for finding in findings)
    told = told.replace(str(content), "content")
    expected = MISTAKES / kind / "expected.txt"
    if request.config.getoption("--rewrite-expected", default=False):
        expected.write_text(told, encoding="utf-8")
    assert kind in {finding.kind for finding in findings}
    assert expected.read_text(encoding="utf-8") == told


def test_every_kind_has_a_folder_and_every_folder_is_a_kind() -> None:
    folders = {path.name for path in MISTAKES.iterdir() if path.is_dir()}
    assert {kind.value for kind in Kind} == folders


@pytest.mark.parametrize("kind", list(Kind))
def test_each_finding_names_a_file_of_the_folder_and_a_remedy(kind: Kind, tmp_path: Path) -> None:
    content = grown(kind, tmp_path)
    for finding in found_in(content, tmp_path):
        assert finding.remedy
        assert finding.message
        if kind not in (Kind.FOLDER_MISSING, Kind.FOLDER_EMPTY):
            assert finding.place is not None
            missing = kind is Kind.RECORD_MISSING and finding.place.file == "site.yaml"
            assert (content / finding.place.file).exists() or missing
