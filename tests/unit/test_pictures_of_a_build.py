"""What a build encodes, and what it does not: words cost no picture, and a damaged one is made anew."""

from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SMALL
from PIL import Image

from sitegen.build import Built, Order, build

THEMES = Path(__file__).parent.parent.parent / "themes"
PHOTO = "animals/dam/2024-05-01.jpg"
RECORD = "animals/dam/animal.yaml"
KINDS = {"pictures", "share", "tiny"}


@pytest.fixture
def content(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / "cache"))
    folder = write_files(tmp_path / "content", SMALL)
    with (folder / "site.yaml").open("a") as site:
        site.write("address: https://small.example/\n")
    Image.effect_noise((1000, 700), 60).convert("RGB").save(folder / PHOTO, quality=80)
    return folder


def built(content: Path) -> Built:
    made = build(Order(content, content.parent / "output", THEMES, workers=1))
    assert made.published is not None, [str(finding) for finding in made.findings]
    return made


def files(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def shown(content: Path) -> set[str]:
    return {name for name in files(content.parent / "output") if name.startswith("pictures/")}


def add(content: Path, line: str) -> None:
    with (content / RECORD).open("a") as record:
        record.write(line + "\n")


def test_a_second_build_makes_no_picture(content: Path) -> None:
    first = built(content)
    assert first.pictures_made > 4
    assert built(content).pictures_made == 0


def test_a_changed_caption_encodes_nothing(content: Path) -> None:
    built(content)
    before = shown(content)
    add(content, "captions: {2024-05-01.jpg: After a shed}")
    assert built(content).pictures_made == 0
    assert "After a shed" in (content.parent / "output/animals/dam.html").read_text("utf-8")
    assert shown(content) == before


def test_another_name_makes_its_share_picture_alone(content: Path) -> None:
    built(content)
    before = shown(content)
    add(content, "name: Dame")
    again = built(content)
    changed = shown(content) ^ before
    assert 1 <= again.pictures_made == len(changed - before) <= 4  # its own, its litter's, a young's
    assert all(name.startswith("pictures/share-") for name in changed)


def test_a_photo_moved_to_another_animal_is_not_encoded_again(content: Path) -> None:
    built(content)
    (content / PHOTO).rename(content / "animals/sire/2024-05-02 other name.jpg")
    again = built(content)
    assert again.pictures_made == 2  # the share pictures of both animals


def test_a_lost_store_is_made_again_and_gives_the_same_pictures(content: Path) -> None:
    first = built(content)
    before = {name: (content.parent / "output" / name).read_bytes() for name in shown(content)}
    for path in sorted((content.parent / "cache").rglob("*"), reverse=True):
        path.unlink() if path.is_file() else path.rmdir()
    assert built(content).pictures_made == first.pictures_made
    assert {name: (content.parent / "output" / name).read_bytes() for name in shown(content)} == before


@pytest.mark.parametrize("damage", ["a bit", "cut off", "zeroed"])
def test_a_damaged_picture_is_made_anew_and_never_published(content: Path, damage: str) -> None:
    first = built(content)
    before = {name: (content.parent / "output" / name).read_bytes() for name in shown(content)}
    entries = [path for path in (content.parent / "cache").rglob("*") if path.parent.parent.name in KINDS]
    assert {path.parent.parent.name for path in entries} == KINDS
    for path in entries:
        whole = path.read_bytes()
        middle = len(whole) // 2 + 33
        flipped = whole[:middle] + bytes([whole[middle] ^ 16]) + whole[middle + 1 :]
        path.write_bytes({"a bit": flipped, "cut off": whole[:middle], "zeroed": bytes(len(whole))}[damage])
    assert built(content).pictures_made == first.pictures_made
    assert {name: (content.parent / "output" / name).read_bytes() for name in shown(content)} == before


def test_kept_things_inside_a_collection_are_ignored_and_left_as_they_are(content: Path) -> None:
    outside = content.parent.parent / f"{content.parent.name}-precious"
    outside.mkdir()
    (outside / "ab").mkdir()
    (outside / "ab" / "abc-1.jpg").write_bytes(b"mine")
    clean = built(content)
    output = content.parent / "output"
    before = {name: (output / name).read_bytes() for name in files(output)}
    old = content.parent / ".sitegen"
    old.mkdir()
    for name in ("pictures", "share", "facts", "seen", "inferred", "release-output"):
        (old / name).symlink_to(outside)
    assert built(content).n_pages == clean.n_pages
    assert {
        name: (content.parent / "output" / name).read_bytes() for name in files(content.parent / "output")
    } == before
    assert files(outside) == {"ab/abc-1.jpg"}
    assert sorted(path.name for path in old.iterdir()) == sorted(
        ("pictures", "share", "facts", "seen", "inferred", "release-output")
    )
