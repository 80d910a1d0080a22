"""A collection from a stranger, with links planted at every place: nothing is read through one, and each is named."""

import os
import time
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SMALL, run, run_as_process
from PIL import Image

from sitegen.app.console import excerpt_of
from sitegen.build import Order, build, check
from sitegen.content.writing import NotWritten, write
from sitegen.findings import Finding, Kind, Level, Place, SitegenError, has_errors
from sitegen.keeper.records import Proposal, new_file, open_records
from sitegen.render.themes import carried_themes

SECRET = "zq-outside-secret"
"""What lies in the user's home, and must get nowhere."""

WITH_ALL = (
    SMALL.replace("currency: GBP", "currency: GBP\ntheme: mine")
    + """
=== pages/about.md
# About
=== projects/snow/project.yaml
species: corn-snake
goal: {shows: [snow]}
=== projects/snow/updates/2024-01-01-first.md
# First
"""
)
THEME = """
=== mine/theme.yaml
name: Mine
version: 3
extends: specimen-sheet
=== mine/share.yaml
roman: [assets/font.ttf]
italic: [assets/font.ttf]
paper: "#ffffff"
card: "#ffffff"
ink: "#222222"
soft: "#444444"
accent: "#222222"
=== mine/assets/own/more.txt
The theme's own.
=== mine/templates/own/part.html
part
=== mine/locale/en.po
"""

LINKS = {
    "the top of the records": ("content/animals", "etc", "animals"),
    "the species": ("content/species", "etc", "species"),
    "the folder of an animal": ("content/animals/dam", "animal", "animals/dam"),
    "one more animal": ("content/animals/more", "animal", "animals/more"),
    "a litter": ("content/litters/2022-a", "animal", "litters/2022-a"),
    "an animal's record": ("content/animals/dam/animal.yaml", "animal/animal.yaml", "animals/dam/animal.yaml"),
    "a record that is a file of the system": ("content/animals/dam/animal.yaml", "passwd", "animals/dam/animal.yaml"),
    "the site": ("content/site.yaml", "passwd", "site.yaml"),
    "a species file": ("content/species/corn-snake.yaml", "passwd", "species/corn-snake.yaml"),
    "one more species file": ("content/species/more.yaml", "passwd", "species/more.yaml"),
    "a page": ("content/pages/about.md", "passwd", "pages/about.md"),
    "one more page": ("content/pages/more.md", "text.md", "pages/more.md"),
    "the pages": ("content/pages", "pages", "pages"),
    "the notes of a project": ("content/projects/snow/updates", "pages", "projects/snow/updates"),
    "a note": ("content/projects/snow/updates/2024-01-01-first.md", "text.md", "2024-01-01-first.md"),
    "a photo": ("content/animals/dam/2024-05-01.jpg", "secret.jpg", "animals/dam/2024-05-01.jpg"),
    "a photo that goes round": ("content/animals/dam/2024-05-01.jpg", "2024-05-01.jpg", "2024-05-01.jpg"),
    "a photo of a note": ("content/projects/snow/updates/2024-01-01.jpg", "secret.jpg", "2024-01-01.jpg"),
    "a theme": ("themes/mine", "theme", "mine is a link"),
    "a theme's facts": ("themes/mine/theme.yaml", "passwd", "mine/theme.yaml is a link"),
    "its assets": ("themes/mine/assets", "etc", "mine/assets is a link"),
    "the root of the system as its assets": ("themes/mine/assets", "/", "mine/assets is a link"),
    "the root of the system as its templates": ("themes/mine/templates", "/", "mine/templates is a link"),
    "an asset": ("themes/mine/assets/a.txt", "passwd", "mine/assets/a.txt is a link"),
    "a folder among its assets": ("themes/mine/assets/own", "etc", "mine/assets/own is a link"),
    "a template": ("themes/mine/templates/not_found.html", "text.md", "mine/templates/not_found.html is a link"),
    "a folder among its templates": ("themes/mine/templates/own", "etc", "mine/templates/own is a link"),
    "its share file": ("themes/mine/share.yaml", "share.yaml", "mine/share.yaml is a link"),
    "a font": ("themes/mine/assets/font.ttf", "font.ttf", "font.ttf is a link"),
    "its catalogues": ("themes/mine/locale", "etc", "mine/locale is a link"),
    "a catalogue": ("themes/mine/locale/en.po", "passwd", "mine/locale/en.po is a link"),
}
"""Where the link stands, what of the home it leads to, and what the message says."""


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """The user's own files, of which none is the stranger's business."""
    home = write_files(
        tmp_path / "home",
        f"=== passwd\n{SECRET}:x:0:0\n=== text.md\n# {SECRET}\n=== etc/shadow\n{SECRET}\n=== etc/x/animal.yaml\n"
        f"name: {SECRET}\nspecies: corn-snake\n=== animal/animal.yaml\nname: {SECRET}\nspecies: corn-snake\n"
        f"=== animal/litter.yaml\ndam: dam\nname: {SECRET}\n=== pages/note.md\n# {SECRET}\n=== theme/theme.yaml\n"
        f"version: 3\nextends: specimen-sheet\nabout: {SECRET}\n=== theme/assets/x.txt\n{SECRET}\n"
        f"=== share.yaml\n{SECRET}\n=== font.ttf\n{SECRET}\n",
    )
    Image.new("RGB", (321, 123), "red").save(home / "secret.jpg")
    return home


@pytest.fixture
def clone(tmp_path: Path) -> Path:
    clone = tmp_path / "clone"
    write_files(clone / "content", WITH_ALL)
    write_files(clone / "themes", THEME)
    font = carried_themes() / "specimen-sheet/assets/fonts/alegreya-roman-text.woff2"
    (clone / "themes/mine/assets/font.ttf").write_bytes(font.read_bytes())
    return clone


def plant(place: Path, aim: Path) -> None:
    """A link in place of what stands there."""
    if place.exists():
        clone = next(folder for folder in place.parents if folder.name == "clone")
        place.rename(clone.parent / f"moved-{time.monotonic_ns()}")
    place.parent.mkdir(parents=True, exist_ok=True)
    place.symlink_to(aim)


def everything(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): b"" if path.is_dir() else path.read_bytes() for path in sorted(folder.rglob("*"))
    }


@pytest.mark.parametrize("kind", LINKS)
def test_nothing_is_read_through_a_link_and_its_name_is_told(clone: Path, home: Path, kind: str) -> None:
    link, aim, named = LINKS[kind]
    plant(clone / link, home / aim)
    before = everything(home)
    began = time.process_time()
    order = Order(clone / "content", clone / "output", clone / "themes", workers=1)
    published = False
    try:
        built = build(order)
        told = [str(finding.place) + ": " + finding.message for finding in built.findings if has_errors([finding])]
        published = built.published is not None
    except SitegenError as error:
        told = [str(error)]
    assert time.process_time() - began < 20
    assert any(named in message and "is a link" in message for message in told), told
    assert not published or link.endswith(".jpg")  # a photo that cannot be read is left out, as any other
    assert everything(home) == before
    for path in (clone / "output").rglob("*"):
        assert not path.is_symlink()
        assert path.suffix not in (".avif", ".jpg") or "321" not in path.name
        assert path.is_dir() or SECRET.encode() not in path.read_bytes(), path
    if not link.startswith("themes"):
        assert any(named in str(finding.place) for finding in check(order) if has_errors([finding]))


@pytest.mark.parametrize("name", ["content", "themes", "output"])
def test_a_folder_that_nobody_named_is_refused_when_it_is_a_link(clone: Path, home: Path, name: str) -> None:
    (clone / name).rename(clone / "moved") if (clone / name).exists() else (clone / "moved").mkdir()
    (clone / name).symlink_to("moved")
    for command in ("build", "check"):
        done = run(clone, command)
        assert done.returncode == 2, done
        assert f"{name} is a link" in done.stderr
        assert f"--{name}" in done.stderr
    if name != "output":
        (clone / "content/site.yaml").write_text("name: Small\ncurrency: GBP\n", "utf-8")
        done = run(clone, "check", f"--{name}", name)
        assert "link" not in done.stderr + done.stdout


def test_what_the_user_named_may_lie_behind_a_link(clone: Path, home: Path) -> None:
    (clone / "content/site.yaml").write_text("name: Small\ncurrency: GBP\n", "utf-8")
    (clone / "mine").symlink_to("content")
    (clone / "photo.jpg").symlink_to(home / "secret.jpg")
    (clone / "sheet.csv").symlink_to(home / "sheet.csv")
    (home / "sheet.csv").write_text("name,species\nCopper,corn-snake\n", "utf-8")
    done = run(clone, "add", "photo", "dam", "photo.jpg", "--date", "2024-05-01", "--content", "mine")
    assert done.returncode == 0, done.stderr
    assert (clone / "content/animals/dam/2024-05-01.jpg").read_bytes() == (home / "secret.jpg").read_bytes()
    done = run(clone, "import", "sheet.csv", "--content", "mine")
    assert (clone / "content/animals/copper/animal.yaml").is_file(), done.stderr


def test_nothing_is_added_or_changed_through_a_link(clone: Path, home: Path) -> None:
    plant(clone / "content/animals", home / "etc")
    before = everything(home)
    (clone / "content/site.yaml").write_text("name: Small\ncurrency: GBP\n", "utf-8")
    for words in (
        ("add", "animal", "Copper", "--species", "corn-snake"),
        ("set", "x", "name", "Copper"),
        ("add", "weight", "x", "12", "--date", "2024-05-01"),
    ):
        assert run(clone, *words).returncode != 0, words
    records = open_records(clone / "content")
    change = Proposal((new_file("animals/copper/animal.yaml", "species: corn-snake\n"),), "")
    with pytest.raises(NotWritten, match="animals is a link"):
        write(records.root, change.files)
    assert everything(home) == before


def test_no_message_shows_what_lies_behind_a_link(clone: Path, home: Path) -> None:
    plant(clone / "content/animals/dam/animal.yaml", home / "passwd")
    finding = Finding(Level.ERROR, Kind.VALUE_WRONG, Place("animals/dam/animal.yaml", 1, 1), "x")
    assert excerpt_of(finding, clone / "content") == ""


@pytest.mark.parametrize(
    "place", ["content/animals/dam/animal.yaml", "content/animals/dam/2024-05-01.jpg", "themes/mine/assets/a.txt"]
)
def test_a_pipe_is_told_and_never_waited_for(clone: Path, place: str) -> None:
    (clone / place).unlink(missing_ok=True)
    os.mkfifo(clone / place)
    done = run_as_process(clone, "build")  # a wait for ever would end
    assert "Traceback" not in done.stderr
    assert done.returncode == 1
    assert Path(place).name in done.stderr
