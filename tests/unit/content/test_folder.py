"""The content folder is read in fixed order, follows no links and tells what belongs nowhere."""

import os
import socket
import subprocess
import unicodedata
from pathlib import Path

import pytest
from helpers.from_text import write_files

from sitegen.content import folder
from sitegen.content.folder import Content, read_content
from sitegen.findings import Kind, Level

SMALL = """
=== site.yaml
name: Quillmoor Snakes
=== species/corn-snake.yaml
loci: {}
=== animals/juniper/animal.yaml
species: corn-snake
=== animals/juniper/2024-05-01.JPG
=== animals/juniper/b shed.webp
=== projects/ladder/project.yaml
species: corn-snake
=== projects/ladder/updates/2026-07-20-pips.md
# Pips
=== projects/ladder/updates/2026-07-20.png
=== pages/about.md
Words
=== .git/config
=== Thumbs.db
=== animals/.DS_Store
"""


def test_records_notes_pages_and_photos_are_found(tmp_path: Path) -> None:
    content, findings = read_content(write_files(tmp_path, SMALL))
    assert findings == ()
    assert list(content.texts) == [
        "animals/juniper/animal.yaml",
        "pages/about.md",
        "projects/ladder/project.yaml",
        "projects/ladder/updates/2026-07-20-pips.md",
        "site.yaml",
        "species/corn-snake.yaml",
    ]
    assert content.photos == {
        "animals/juniper": ("animals/juniper/2024-05-01.JPG", "animals/juniper/b shed.webp"),
        "projects/ladder/updates": ("projects/ladder/updates/2026-07-20.png",),
    }


def test_links_are_not_followed_and_are_told(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "animal.yaml").write_text("species: secret\n")
    root = write_files(tmp_path / "content", SMALL)
    (root / "animals" / "linked").symlink_to(outside)
    (root / "pages" / "loop.md").symlink_to(root / "pages" / "loop.md")
    content, findings = read_content(root)
    assert "animals/linked/animal.yaml" not in content.texts
    assert [(f.kind, str(f.place)) for f in findings] == [
        (Kind.FILE_UNREADABLE, "animals/linked"),
        (Kind.FILE_UNREADABLE, "pages/loop.md"),
    ]
    assert all(f.level is Level.ERROR and "copy here what it leads to" in f.remedy for f in findings)


@pytest.mark.parametrize(
    ("link", "told"),
    [
        ("site.yaml", Level.ERROR),
        ("species", Level.ERROR),
        ("species/corn-snake.yaml", Level.ERROR),
        ("animals", Level.ERROR),
        ("animals/juniper", Level.ERROR),
        ("animals/juniper/animal.yaml", Level.ERROR),
        ("projects/ladder/updates", Level.ERROR),
        ("projects/ladder/updates/2026-07-20-pips.md", Level.ERROR),
        ("pages/about.md", Level.ERROR),
        ("animals/juniper/notes", Level.NOTICE),
        ("notes", Level.NOTICE),
        ("pages/notes.txt", Level.NOTICE),
    ],
)
def test_a_link_is_told_wherever_it_stands_and_an_error_where_something_would_be_read(
    tmp_path: Path, link: str, told: Level
) -> None:
    root = write_files(tmp_path / "content", SMALL)
    place = root / link
    if place.exists():
        place.rename(tmp_path / "away")
        place.symlink_to(tmp_path / "away")
    else:
        place.symlink_to(tmp_path)
    content, findings = read_content(root)
    assert [(str(f.place), f.level) for f in findings] == [(link, told)]
    assert not [path for path in (*content.texts, *content.photos) if f"{path}/".startswith(f"{link}/")]


def test_a_photo_that_is_a_link_is_listed_and_told_where_photos_are_opened(tmp_path: Path) -> None:
    root = write_files(tmp_path / "content", SMALL)
    photo = root / "animals/juniper/2024-05-01.JPG"
    photo.rename(tmp_path / "away.jpg")
    photo.symlink_to(tmp_path / "away.jpg")
    content, findings = read_content(root)
    assert findings == ()
    assert "animals/juniper/2024-05-01.JPG" in content.photos["animals/juniper"]


@pytest.mark.parametrize("kind", ["pipe", "socket"])
def test_a_pipe_or_a_socket_in_place_of_a_record_is_told_at_once(tmp_path: Path, kind: str) -> None:
    root = write_files(tmp_path, SMALL)
    place = root / "animals/juniper/animal.yaml"
    place.unlink()
    if kind == "pipe":
        os.mkfifo(place)
    else:
        here = os.getcwd()
        os.chdir(place.parent)  # the address of a socket is short
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(place.name)
        os.chdir(here)
    content, findings = read_content(root)
    assert content.unreadable == ("animals/juniper/animal.yaml",)
    assert ["pipe or a device" in f.message for f in findings] == [True]


def test_the_content_folder_itself_may_be_reached_through_a_link(tmp_path: Path) -> None:
    real = write_files(tmp_path / "real", SMALL)
    link = tmp_path / "content"
    link.symlink_to(real)
    assert read_content(link) == read_content(real)


def test_a_byte_order_mark_and_the_line_ends_of_any_system_are_read(tmp_path: Path) -> None:
    (tmp_path / "site.yaml").write_bytes(b"\xef\xbb\xbfname: Quillmoor\r\nunits: metric\r\n")
    assert read_content(tmp_path)[0].texts["site.yaml"] == "name: Quillmoor\nunits: metric\n"


def test_a_file_that_is_not_utf_8_is_told_with_its_line(tmp_path: Path) -> None:
    (tmp_path / "site.yaml").write_bytes("name: a\nabout: größe\n".encode("latin-1"))
    content, findings = read_content(tmp_path)
    assert content == Content({}, {}, ("site.yaml",))
    assert [(f.kind, "line 2" in f.message) for f in findings] == [(Kind.FILE_UNREADABLE, True)]


def test_a_folder_name_that_is_no_text_is_told_and_can_be_shown(tmp_path: Path) -> None:
    root = write_files(tmp_path, SMALL)
    try:
        os.mkdir(os.fsencode(root / "animals") + b"/b\xffd")
    except OSError:
        pytest.skip("this file system only takes names that are text")
    findings = read_content(root)[1]
    assert [f.kind for f in findings] == [Kind.FILE_UNEXPECTED]
    assert str(findings[0].place).encode("utf-8") == b"animals/b\\udcffd"


def test_names_are_ordered_alike_however_their_accents_are_stored(tmp_path: Path) -> None:
    composed, split = unicodedata.normalize("NFC", "é"), unicodedata.normalize("NFD", "é")
    for name in (split, "f", "e"):
        write_files(tmp_path, f"=== animals/{name}/animal.yaml\nspecies: x\n")
    order = [unicodedata.normalize("NFC", path.split("/")[1]) for path in read_content(tmp_path)[0].texts]
    assert order == ["e", "f", composed]


def test_the_number_of_files_is_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root = write_files(tmp_path, SMALL)
    monkeypatch.setattr(folder, "MAX_FILES", 5)
    findings = read_content(root)[1]
    assert [f.kind for f in findings if f.level is Level.ERROR] == [Kind.FILE_TOO_LARGE]


@pytest.mark.skipif(os.geteuid() == 0, reason="the administrator may read everything")
def test_a_record_that_may_not_be_opened_is_told(tmp_path: Path) -> None:
    root = write_files(tmp_path, SMALL)
    (root / "site.yaml").chmod(0)
    content, findings = read_content(root)
    assert content.unreadable == ("site.yaml",)
    assert [f.kind for f in findings] == [Kind.FILE_UNREADABLE]


def test_an_empty_folder_within_the_content_is_nothing_to_tell(tmp_path: Path) -> None:
    root = write_files(tmp_path, SMALL)
    (root / "animals" / "later").mkdir()
    assert read_content(root)[1] == ()


def test_a_record_under_a_slightly_wrong_name_is_an_error_only_when_the_right_one_is_missing(tmp_path: Path) -> None:
    root = write_files(tmp_path, SMALL + "=== animals/flint/animal.yml\nspecies: corn-snake\n")
    write_files(root, "=== animals/juniper/animal.yml\nspecies: corn-snake\n")
    content, findings = read_content(root)
    assert [(str(f.place), f.level, f.nearest) for f in findings] == [
        ("animals/flint/animal.yml", Level.ERROR, "animals/flint/animal.yaml"),
        ("animals/juniper/animal.yml", Level.NOTICE, "animals/juniper/animal.yaml"),
    ]
    assert content.unreadable == ("animals/flint/animal.yaml",)


def test_a_record_beside_the_folders_is_an_error_and_its_remedy_mends_it(tmp_path: Path) -> None:
    root = write_files(tmp_path / "con tent", SMALL + "=== animals/fennel.yaml\nspecies: corn-snake\n")
    content, findings = read_content(root)
    assert [(str(f.place), f.level) for f in findings] == [("animals/fennel.yaml", Level.ERROR)]
    assert content.unreadable == ("animals/fennel/animal.yaml",)
    subprocess.run(findings[0].remedy.removeprefix("type: "), shell=True, check=True, cwd=tmp_path)
    content, findings = read_content(root)
    assert (findings, content.texts["animals/fennel/animal.yaml"]) == ((), "species: corn-snake\n")


def test_a_second_record_beside_the_folders_is_never_moved_over_the_first(tmp_path: Path) -> None:
    root = write_files(tmp_path / "content", SMALL + "=== animals/juniper.yml\nspecies: boa\n")
    finding = read_content(root)[1][0]
    assert finding.level is Level.ERROR
    assert "stands there already" in finding.expected
    subprocess.run(finding.remedy.rpartition(": ")[2], shell=True, check=True, cwd=tmp_path)
    content, findings = read_content(root)
    assert (findings, content.texts["animals/juniper/animal.yaml"]) == ((), "species: corn-snake\n")
    assert (tmp_path / "juniper.yml").read_text() == "species: boa\n"


def test_a_collection_without_settings_is_an_error_and_its_remedy_mends_it(tmp_path: Path) -> None:
    root = write_files(tmp_path / "content", SMALL.replace("=== site.yaml", "=== site.yml"))
    found = {str(f.place): f for f in read_content(root)[1]}
    assert found["site.yaml"].level is Level.ERROR
    subprocess.run(found["site.yaml"].remedy.removeprefix("type: "), shell=True, check=True, cwd=tmp_path)
    assert read_content(root)[1] == ()
    (root / "site.yaml").unlink()
    [missing] = read_content(root)[1]
    subprocess.run(missing.remedy.removeprefix("type: "), shell=True, check=True, cwd=tmp_path)
    content, findings = read_content(root)
    assert (findings, content.texts["site.yaml"]) == ((), "name: My Snakes\n")
