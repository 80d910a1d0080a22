"""The documents name what exists, and nothing that does not."""

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from bound import CORN, told

from sitegen.commands import _COMMANDS, _sitegen
from sitegen.findings import Kind
from sitegen.records.schemas import json_schemas

REPOSITORY = Path(__file__).parent.parent.parent
README = (REPOSITORY / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (REPOSITORY / "DEVELOPERS.md").read_text(encoding="utf-8")


def command(name: str) -> click.Command:
    found = _sitegen.get_command(click.Context(_sitegen), name)
    assert found is not None
    return found


def options(found: click.Command) -> list[click.Option]:
    """The options of a command and of the commands below it."""
    below = found.commands.values() if isinstance(found, click.Group) else ()
    own = [parameter for parameter in found.params if isinstance(parameter, click.Option)]
    return [*own, *(option for each in below for option in options(each))]


def test_the_top_level_is_as_agreed() -> None:
    visible = {path.name for path in REPOSITORY.iterdir() if not path.name.startswith(".")}
    assert visible - {"build", "dist"} == {
        "README.md", "DEVELOPERS.md", "pyproject.toml", "sitegen", "content", "themes", "tests", "output",
    }  # fmt: skip


def test_the_first_paragraph_of_the_readme_states_the_job() -> None:
    first = README.split("\n\n")[1]
    for word in ("snake breeder", "website", "evidence", "claimed"):
        assert word in first


@pytest.mark.parametrize("name", list(_COMMANDS))
def test_every_command_and_option_stands_in_the_readme(name: str) -> None:
    assert f"`sitegen {name}" in README
    for option in options(command(name)):
        if "--workers" not in option.opts:
            assert option.opts[0] in README, f"{name} {option.opts[0]}"


@pytest.mark.parametrize("name", [name for name in _COMMANDS if isinstance(command(name), click.Group)])
def test_every_command_below_a_command_stands_in_the_readme(name: str) -> None:
    group = command(name)
    assert isinstance(group, click.Group)
    for below in group.commands:
        assert f"`sitegen {name} {below}" in README


def test_every_option_that_the_readme_names_exists() -> None:
    own = {spelling for name in _COMMANDS for option in options(command(name)) for spelling in option.opts}
    assert set(re.findall(r"`(--[a-z-]+)", README)) <= own | {"--help"}


def test_every_kind_of_finding_has_a_mistake_to_show_it() -> None:
    folders = {path.name for path in (REPOSITORY / "tests" / "mistakes").iterdir() if path.is_dir()}
    assert {kind.value for kind in Kind} == folders


def names_in(part: object) -> Iterator[str]:
    """The names of every group that a schema describes, however deep."""
    if isinstance(part, dict):
        if isinstance(part.get("properties"), dict):
            yield from part["properties"]
        part = list(part.values())
    for each in part if isinstance(part, list) else ():
        yield from names_in(each)


@pytest.mark.parametrize("file", sorted(json_schemas()))
def test_every_key_of_every_record_stands_in_the_readme(file: str) -> None:
    keys = set(names_in(json_schemas()[file]))
    missing = {key for key in keys if not re.search(rf"`{re.escape(key)}[`:]", README)}
    assert not missing


def test_the_floors_in_the_document_are_those_that_are_checked() -> None:
    contracts = tomllib.loads((REPOSITORY / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"]
    floors = "\n".join(contracts[0]["layers"])
    assert floors in DEVELOPERS


@pytest.mark.parametrize("text", [README, DEVELOPERS])
def test_every_path_that_a_document_names_exists(text: str) -> None:
    for path in re.findall(r"`((?:tests|sitegen|content|themes)/[\w/.-]+?\.(?:py|md|yaml))`", text):
        if "ID" not in path and not path.startswith("content/"):
            assert (REPOSITORY / path).exists(), path


def test_the_example_of_a_project_is_a_sound_record() -> None:
    box = re.search(
        r"```yaml\n(species: corn-snake\n.*?)```", README.split("**`projects/ID/project.yaml`**")[1], re.DOTALL
    )
    assert box is not None
    animals = "".join(
        f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nsex: {sex}\nborn: 2020-01-01\n"
        for name, sex in (("juniper", "female"), ("yarrow", "female"), ("flint", "male"), ("basalt", "male"))
    )
    assert told(CORN + animals + f"=== projects/x/project.yaml\n{box[1]}") == []
