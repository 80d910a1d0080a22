"""A new collection is sound before any of it is written, and is written only where nothing stands."""

from pathlib import Path

import pytest

from sitegen.content.writing import write
from sitegen.evidence.answers import read_known
from sitegen.findings import ContentError, WrongUse
from sitegen.keeper.new_collection import check_empty, new_collection
from sitegen.keeper.new_records import carried

SPECIES = ["corn snake", "boa-constrictor"]
SAID = {"name": "Mine: all", "currency": "eur", "language": "en", "units": "metric", "email": "", "place": "No"}


def test_a_new_collection_is_sound_and_bound_to_its_schemas(tmp_path: Path) -> None:
    proposal = new_collection(tmp_path / "mine", SPECIES, SAID)
    assert not (tmp_path / "mine").exists()
    write(tmp_path / "mine", proposal.files)
    known, findings = read_known(tmp_path / "mine" / "content")
    assert (known is not None, findings) == (True, ())
    for file in proposal.files:
        first = file.after.decode().splitlines()[0]
        if file.path.endswith(".yaml"):
            schema = Path(tmp_path / "mine" / file.path).parent / first.partition("$schema=")[2]
            assert schema.is_file()


@pytest.mark.parametrize("name", carried())
def test_a_collection_can_begin_with_each_species(tmp_path: Path, name: str) -> None:
    write(tmp_path / "mine", new_collection(tmp_path / "mine", [name], SAID).files)
    known, findings = read_known(tmp_path / "mine" / "content")
    assert (known is not None, findings) == (True, ())


def test_what_cannot_stand_in_a_record_is_told(tmp_path: Path) -> None:
    with pytest.raises(ContentError):
        new_collection(tmp_path, SPECIES, {**SAID, "currency": "EURI"})
    with pytest.raises(WrongUse, match="nearest: corn-snake"):
        new_collection(tmp_path, ["corn-snak"], SAID)


def test_only_an_empty_folder_is_begun_in(tmp_path: Path) -> None:
    check_empty(tmp_path)
    check_empty(tmp_path / "none")
    (tmp_path / "letter").write_text("dear")
    for folder, told in ((tmp_path, r"is not empty \(letter\)"), (tmp_path / "letter", "is a file")):
        with pytest.raises(WrongUse, match=told):
            check_empty(folder)
