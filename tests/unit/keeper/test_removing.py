"""What is taken out takes along what is its own, and stays while anything names it or a buyer may rest on it."""

import datetime as dt
from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.below import NotOpened
from sitegen.findings import ContentError, WrongUse
from sitegen.keeper.records import check_proposal, open_records
from sitegen.keeper.removing import remove_record
from sitegen.keeper.undo import undo_proposal
from sitegen.keeper.undo_record import put_in_place

NOON = dt.datetime(2026, 11, 29, 12, tzinfo=dt.UTC)
LITTER = "litters/2026-a/litter.yaml"
SMALL = """
=== site.yaml
name: Small
currency: GBP
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
=== animals/flint/animal.yaml
name: Old Flint
species: corn-snake
sex: male
=== animals/tansy/animal.yaml
species: corn-snake
captions:
  2026-05-01.jpg: In the sun   # a fine day
  2026-06-01.jpg: In the shade
=== litters/2026-a/litter.yaml
dam: juniper
sire: flint
born: 2026-07-01
captions: {03 2026-07-09.jpg: Third, 2026-07-01.jpg: All of them}
young:
  "03": {sex: male}
  "04":
    sex: female
    captions: {04 2026-07-09.jpg: Fourth}
=== projects/amber/project.yaml
name: Amber
species: corn-snake
"""
PHOTOS = ["animals/tansy/2026-05-01.jpg", "animals/tansy/2026-05-01.mp4", "animals/tansy/2026-05-01.vtt",
          "animals/tansy/2026-06-01.jpg", "litters/2026-a/03 2026-07-09.jpg", "litters/2026-a/04 2026-07-09.jpg",
          "litters/2026-a/2026-07-01.jpg"]  # fmt: skip


@pytest.fixture
def root(tmp_path: Path) -> Path:
    root = write_files(tmp_path / "content", SMALL)
    for path in PHOTOS:
        (root / path).write_bytes(path.encode())
    return root


def files(root: Path) -> dict[str, bytes]:
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in root.rglob("*") if path.is_file()}


def add(root: Path, path: str, line: str) -> None:
    """A line more in a file, which may be new."""
    (root / path).parent.mkdir(parents=True, exist_ok=True)
    with (root / path).open("a") as stream:
        stream.write(f"{line}\n")


def remove(root: Path, named: str) -> str:
    records = open_records(root)
    proposal = remove_record(records, named)
    check_proposal(records, proposal)
    put_in_place(root, proposal, NOON)
    return proposal.told


def refused(root: Path, named: str) -> list[str]:
    before = files(root)
    with pytest.raises(ContentError) as told:
        remove_record(open_records(root), named)
    assert files(root) == before
    return [f"{finding.place or '-'}: {finding.message}" for finding in told.value.findings]


@pytest.mark.parametrize("named", ["tansy", "animals/tansy", "content/animals/tansy/", "Tansy"])
def test_an_animal_goes_with_all_that_stands_beside_it_and_comes_back(root: Path, named: str) -> None:
    if named == "Tansy":
        add(root, "animals/tansy/animal.yaml", "name: Tansy")
    add(root, "animals/tansy/notes.txt", "mine")
    before = files(root)
    assert remove(root, named) == "tansy: taken out of the records, with 5 files beside it."
    assert not (root / "animals/tansy").exists()
    assert set(before) - set(files(root)) == {path for path in before if path.startswith("animals/tansy/")}
    put_in_place(root, undo_proposal(open_records(root)), NOON)
    assert files(root) == before


def test_a_young_goes_with_its_photographs_and_captions_alone(root: Path) -> None:
    before = files(root)
    assert remove(root, "2026-a/3") == "2026-a/03: taken out of the records, with 1 file beside it."
    text = (root / LITTER).read_text()
    assert "03" not in text.replace("2026-07-01", "")
    assert "captions: {2026-07-01.jpg: All of them}" in text
    assert set(before) - set(files(root)) == {"litters/2026-a/03 2026-07-09.jpg"}
    remove(root, "litters/2026-a/04")
    assert "young" not in (root / LITTER).read_text()
    assert not list(root.glob("litters/2026-a/04*"))
    for _ in range(2):
        put_in_place(root, undo_proposal(open_records(root)), NOON)
    assert files(root) == before


def test_a_photograph_goes_with_its_caption_and_its_video(root: Path) -> None:
    before = files(root)
    told = remove(root, "animals/tansy/2026-05-01.jpg")
    assert told == "animals/tansy/2026-05-01.jpg: taken out of the records, with 2 files beside it."
    assert "In the sun" not in (root / "animals/tansy/animal.yaml").read_text()
    assert "In the shade" in (root / "animals/tansy/animal.yaml").read_text()
    assert sorted(path.name for path in (root / "animals/tansy").iterdir()) == ["2026-06-01.jpg", "animal.yaml"]
    remove(root, "litters/2026-a/04 2026-07-09.jpg")
    assert "Fourth" not in (root / LITTER).read_text()
    for _ in range(2):
        put_in_place(root, undo_proposal(open_records(root)), NOON)
    assert files(root) == before


def test_a_litter_and_a_project_go(root: Path) -> None:
    add(root, "projects/amber/updates/2026-01-01-start.md", "# Start")
    assert remove(root, "amber") == "amber: taken out of the records, with 1 file beside it."
    assert not (root / "projects/amber").exists()
    assert remove(root, "2026-a") == "2026-a: taken out of the records, with 3 files beside it."
    assert remove(root, "old flint") == "flint: taken out of the records."


@pytest.mark.parametrize(
    ("named", "path", "line", "told"),
    [
        ("flint", "", "", "litters/2026-a/litter.yaml:2:7: this names flint"),
        ("tansy", "animals/rue/animal.yaml", "species: corn-snake\ndam: tansy", "animals/rue/animal.yaml:2:6: "),
        ("tansy", "animals/juniper/animal.yaml", "events: [{date: 2026-01-01, what: introduced, with: tansy}]",
         "animals/juniper/animal.yaml:3:"),
        ("tansy", "pages/about.md", "# Us\nSee [her](animals/tansy.html).", "pages/about.md:2:1: this names tansy"),
        ("tansy", "plan.yaml", "rest: [tansy]", "plan.yaml:1:"),
        ("2026-a", "animals/rue/animal.yaml", "species: corn-snake\nfrom_litter: 2026-a/03",
         "animals/rue/animal.yaml:2:14: "),
        ("2026-a/04", "projects/amber/updates/2026-01-01-a.md", "# A\n\n[x](litters/2026-a/04.html)",
         "projects/amber/updates/2026-01-01-a.md:3:1: "),
        ("animals/tansy/2026-05-01.jpg", "pages/a.md", "# A\n![x](animals/tansy/2026-05-01.jpg)", "pages/a.md:2:1: "),
    ],
)  # fmt: skip
def test_what_is_named_somewhere_stays(root: Path, named: str, path: str, line: str, told: str) -> None:
    if path:
        add(root, path, line)
    assert [each for each in refused(root, named) if each.startswith(told)], refused(root, named)


def test_what_only_sounds_alike_is_no_reason(root: Path) -> None:
    add(root, "pages/about.md", "# Us\nSee [her](animals/tansy-2.html) and animals/tansyish.")
    assert "taken out" in remove(root, "tansy")


@pytest.mark.parametrize(
    ("named", "path", "line", "told"),
    [
        ("tansy", "animals/tansy/animal.yaml", "offer: {state: sold, since: 2026-01-01}",
         "animals/tansy/animal.yaml:5:16: it is sold, so a buyer may hold a paper that rests on this record"),
        ("tansy", "animals/tansy/animal.yaml", "offer: {state: on hold, since: 2026-01-01}",
         "animals/tansy/animal.yaml:5:16: it is on hold, so"),
        ("tansy", "animals/tansy/animal.yaml", "private: {buyer: somebody}",
         'animals/tansy/animal.yaml:5:11: "buyer" stands there, so'),
        ("2026-a", LITTER, '  "05": {offer: {state: sold, since: 2026-09-01}}', f"{LITTER}:10:25: it is sold"),
        ("2026-a/05", LITTER, '  "05": {offer: {state: sold, since: 2026-09-01}}', f"{LITTER}:10:25: it is sold"),
    ],
)  # fmt: skip
def test_what_a_buyer_may_rest_on_stays(root: Path, named: str, path: str, line: str, told: str) -> None:
    add(root, path, line)
    (found,) = refused(root, named)
    assert found.startswith(told)


def test_the_offer_of_an_animal_counts_where_its_litter_has_it(root: Path) -> None:
    add(root, LITTER, '  "05": {sex: male, offer: {state: sold, since: 2026-09-01}}')
    add(root, "animals/rue/animal.yaml", "species: corn-snake\nfrom_litter: 2026-a/05")
    assert refused(root, "rue") == [
        f"{LITTER}:10:36: it is sold, so a buyer may hold a paper that rests on this record"
    ]


def test_of_a_record_in_error_any_line_in_which_it_stands_counts(root: Path) -> None:
    add(root, "animals/juniper/animal.yaml", "born: soon\nline: [tansy")
    assert refused(root, "tansy") == ["animals/juniper/animal.yaml:4:1: this names tansy"]
    (root / "animals/juniper/animal.yaml").write_bytes(b"species: \xff\n")
    (told,) = refused(root, "tansy")
    assert told.endswith("this cannot be read, so nobody can tell whether it names tansy")
    (root / "animals/juniper/animal.yaml").write_text("species: corn-snake\nsex: female\nborn: soon\n")
    add(root, "animals/tansy/animal.yaml", "born: soon")
    assert "taken out" in remove(root, "tansy")


def test_a_link_among_the_files_stops_it(root: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere.jpg").write_bytes(b"jpeg")
    (root / "animals/tansy/x.jpg").symlink_to(tmp_path / "elsewhere.jpg")
    with pytest.raises(NotOpened, match="link"):
        remove_record(open_records(root), "tansy")


@pytest.mark.parametrize(
    ("named", "told"),
    [
        ("tanzy", "nearest: tansy"),
        ("2026-b", 'no animal, litter or project "2026-b"'),
        ("ambre", "nearest: amber"),
        ("2026-a/09", 'lists no young "09"'),
        ("projects/tansy", 'no project "tansy"'),
        ("animals/tansy/2026-05-02.jpg", "no photograph animals/tansy/2026-05-02.jpg"),
        ("tansy/2026-05-01.jpg", "no photograph"),
        ("../site", "no litter"),
        ("site.yaml", "no animal, litter or project"),
    ],
)
def test_what_is_not_there_is_told(root: Path, named: str, told: str) -> None:
    with pytest.raises(WrongUse, match=told):
        remove_record(open_records(root), named)


def test_a_name_of_several_kinds_is_asked_for(root: Path) -> None:
    add(root, "projects/tansy/project.yaml", "name: T\nspecies: corn-snake")
    with pytest.raises(WrongUse, match="animals/tansy or projects/tansy; write which"):
        remove_record(open_records(root), "tansy")
    assert remove(root, "projects/tansy") == "tansy: taken out of the records."


def test_somebody_who_waits_goes_and_comes_back(root: Path) -> None:
    add(root, "waiting.yaml", "people:\n  Bea: {species: corn-snake}\n  Cy: {species: corn-snake}")
    before = files(root)
    assert remove(root, "waiting/bea").startswith("Bea is gone from waiting.yaml")
    assert "Bea" not in (root / "waiting.yaml").read_text()
    put_in_place(root, undo_proposal(open_records(root)), NOON)
    assert files(root) == before
