"""The documents name what exists, and nothing that does not."""

import re
import tomllib
from pathlib import Path

import click
import pytest
from helpers.from_text import CORN, told
from helpers.guide_tables import commands

from sitegen.findings import Kind

REPOSITORY = Path(__file__).parent.parent.parent
README = (REPOSITORY / "README.md").read_text(encoding="utf-8")
GUIDE = sorted((REPOSITORY / "sitegen" / "guide").glob("*.md"))
RECORDS = (REPOSITORY / "sitegen" / "guide" / "records.md").read_text(encoding="utf-8")
DEVELOPERS = (REPOSITORY / "DEVELOPERS.md").read_text(encoding="utf-8")


def options(found: click.Command) -> list[click.Option]:
    return [parameter for parameter in found.params if isinstance(parameter, click.Option)]


def test_the_top_level_is_as_agreed() -> None:
    visible = {path.name for path in REPOSITORY.iterdir() if not path.name.startswith(".")}
    assert visible - {"build", "dist"} == {
        "README.md", "DEVELOPERS.md", "pyproject.toml", "sitegen", "content", "themes", "tests", "output",
    }  # fmt: skip


def test_the_first_paragraph_of_the_readme_states_the_job() -> None:
    first = README.split("\n\n")[1]
    for word in ("snake breeder", "website", "evidence", "claimed"):
        assert word in first


@pytest.mark.parametrize(("text", "most"), [(README, 12_000), (DEVELOPERS, 18_000)])
def test_the_documents_to_begin_with_stay_short(text: str, most: int) -> None:
    assert len(text.encode()) < most


def test_the_readme_leads_to_every_page_of_the_guide() -> None:
    assert {f"sitegen/guide/{page.name}" for page in GUIDE} == set(
        re.findall(r"\((sitegen/guide/[\w-]+\.md)\)", README)
    )


@pytest.mark.parametrize("text", [README, *(page.read_text("utf-8") for page in GUIDE)])
def test_every_option_that_a_document_names_exists(text: str) -> None:
    own = {spelling for _, found in commands() for option in options(found) for spelling in option.opts}
    assert set(re.findall(r"`(--[a-z-]+)", text)) <= own | {"--help"}


def test_every_kind_of_finding_has_a_mistake_to_show_it() -> None:
    folders = {path.name for path in (REPOSITORY / "tests" / "mistakes").iterdir() if path.is_dir()}
    assert {kind.value for kind in Kind} == folders


def test_the_floors_in_the_document_are_those_that_are_checked() -> None:
    contracts = tomllib.loads((REPOSITORY / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"]
    floors = "\n".join(contracts[0]["layers"])
    assert floors in DEVELOPERS


@pytest.mark.parametrize("text", [README, DEVELOPERS, *(page.read_text("utf-8") for page in GUIDE)])
def test_every_path_that_a_document_names_exists(text: str) -> None:
    for path in re.findall(r"`((?:tests|sitegen|content|themes)/[\w/.-]+?\.(?:py|md|yaml))`", text):
        if "ID" not in path and not path.startswith("content/"):
            assert (REPOSITORY / path).exists(), path


def test_the_example_of_a_project_is_a_sound_record() -> None:
    box = re.search(
        r"```yaml\n(species: corn-snake\n.*?)```", RECORDS.split("### `projects/ID/project.yaml`")[1], re.DOTALL
    )
    assert box is not None
    animals = "".join(
        f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nsex: {sex}\nborn: 2020-01-01\n"
        for name, sex in (("juniper", "female"), ("yarrow", "female"), ("flint", "male"), ("basalt", "male"))
    )
    assert told(CORN + animals + f"=== projects/x/project.yaml\n{box[1]}") == []
