"""What is meant by a name, and which folder a new record gets."""

from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.findings import WrongUse
from sitegen.keeper.lookup import find_animal, find_litter, find_number, find_project, find_species, free_id, numbered
from sitegen.keeper.records import Records, open_records

RECORDS = """
=== species/corn-snake.yaml
name: corn snake
=== species/boa.yaml
name: boa
=== animals/juniper/animal.yaml
name: Old Juniper
species: corn-snake
=== animals/flint/animal.yaml
name: Twin
species: corn-snake
=== animals/basalt/animal.yaml
name: Twin
species: corn-snake
from_litter: 2022-a/02
=== litters/2022-a/litter.yaml
name: The first
dam: juniper
young: {"01": , "02": , "10": }
=== projects/ladder/project.yaml
name: Ladder
species: corn-snake
"""


@pytest.fixture
def records(tmp_path: Path) -> Records:
    return open_records(write_files(tmp_path / "content", RECORDS))


@pytest.mark.parametrize(
    ("named", "file", "keys"),
    [
        ("juniper", "animals/juniper/animal.yaml", ()),
        ("animals/juniper/", "animals/juniper/animal.yaml", ()),
        ("old juniper", "animals/juniper/animal.yaml", ()),
        ("2022-a/1", "litters/2022-a/litter.yaml", ("young", "01")),
        ("the first/10", "litters/2022-a/litter.yaml", ("young", "10")),
        ("2022-a/02", "animals/basalt/animal.yaml", ()),
    ],
)
def test_an_animal_is_found_by_folder_name_or_number(
    named: str, file: str, keys: tuple[str, ...], records: Records
) -> None:
    place = find_animal(records, named)
    assert (place.file, place.keys) == (file, keys)


@pytest.mark.parametrize(
    ("named", "told"),
    [("twin", "flint"), ("junipr", "nearest: juniper"), ("2022-a/7", "there are 01, 02, 10"), ("2022-b/1", "2022-a")],
)
def test_what_cannot_be_found_is_told_with_what_there_is(named: str, told: str, records: Records) -> None:
    with pytest.raises(WrongUse, match=told):
        find_animal(records, named)


def test_litters_projects_and_species_are_found_by_name(records: Records) -> None:
    assert find_litter(records, "THE FIRST").shown == "2022-a"
    assert find_project(records, "ladder/").kind == "project"
    assert find_species(records, "Corn Snake") == "corn-snake"
    with pytest.raises(WrongUse, match="several species"):
        find_species(records, "")
    assert [find_number(records, "2022-a", wanted) for wanted in ("1", "010", "3")] == ["01", "10", ""]


def test_a_folder_that_is_taken_or_cannot_be_one_is_refused(records: Records) -> None:
    assert free_id(records, "animals", "Große Jún", "") == "große-jún"
    for name, said in (("Juniper", ""), ("All", ""), ("!", ""), ("A", "a b")):
        with pytest.raises(WrongUse, match="--id"):
            free_id(records, "animals", name, said)
    assert numbered("a", ["a", "A 2"]) == "a 3"
