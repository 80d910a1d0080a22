"""From state to state: what is kept, what is made again, and what the disk may do meanwhile."""

import threading
import time
from pathlib import Path

from helpers.from_text import write_files
from PIL import Image

from sitegen.app.preview.made import Made
from sitegen.app.preview.watching import changes
from sitegen.app.preview.workshop import Workshop
from sitegen.build import Order

THEMES = Path(__file__).parents[4] / "themes"
RECORDS = """
=== site.yaml
name: A Collection
=== species/corn-snake.yaml
name: corn snake
loci:
  amel: {name: amelanistic, inheritance: recessive}
  late: {inheritance: recessive, visible_from: 12 months}
=== species/boa.yaml
name: boa
loci: {}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
born: 2024-01-01
shows: []
stated: {amel: 66%}
"""
JUNIPER = "animals/juniper/animal.yaml"


def workshop_at(folder: Path) -> tuple[Workshop, Path]:
    content = write_files(folder / "content", RECORDS)
    workshop = Workshop(Order(content, folder / "output", THEMES, workers=1))
    assert workshop.remake().is_sound
    return workshop, content


def good(workshop: Workshop) -> Made:
    made = workshop.state.good
    assert made is not None
    return made


def test_the_state_is_the_same_while_nothing_changed(tmp_path: Path) -> None:
    workshop, content = workshop_at(tmp_path)
    state = workshop.state
    (content / JUNIPER).touch()
    assert workshop.remake() is state


def test_a_half_written_record_leaves_the_last_good_site(tmp_path: Path) -> None:
    workshop, content = workshop_at(tmp_path)
    whole, before = (content / JUNIPER).read_bytes(), workshop.state.good
    for length in range(0, len(whole), 7):
        (content / JUNIPER).write_bytes(whole[:length])
        state = workshop.remake()
        assert state.good is not None
        assert state.is_sound or state.trouble
        assert state.is_sound or state.good is before or before is not state.good
    (content / JUNIPER).write_bytes(whole[:30] + b"\xff\xfe")
    assert not workshop.remake().is_sound
    (content / JUNIPER).write_bytes(whole)
    assert workshop.remake().is_sound


def test_many_photographs_at_once_and_one_that_is_still_being_copied(tmp_path: Path) -> None:
    workshop, content = workshop_at(tmp_path)
    for number in range(30):
        Image.new("RGB", (80 + number, 60), "olive").save(content / f"animals/juniper/2024-05-{number + 1:02d}.jpg")
    whole = (content / "animals/juniper/2024-05-07.jpg").read_bytes()
    (content / "animals/juniper/2024-05-07.jpg").write_bytes(whole[:200])
    state = workshop.remake()
    assert [str(finding.place) for finding in state.trouble] == ["animals/juniper/2024-05-07.jpg"]
    (content / "animals/juniper/2024-05-07.jpg").write_bytes(whole)
    assert workshop.remake().is_sound
    assert len({photograph.file for photograph in good(workshop).photographs.values()}) == 30
    html = workshop.find(good(workshop), "animals/juniper.html")
    assert html is not None
    assert html.count(b"<img") >= 30
    (content / "animals/juniper/2024-05-07.jpg").unlink()
    workshop.remake()
    assert len({photograph.file for photograph in good(workshop).photographs.values()}) == 29


def test_a_theme_that_breaks_and_is_mended_is_followed(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", RECORDS.replace("name: A Collection", "name: A\ntheme: own"))
    themes = write_files(
        tmp_path / "themes", "=== own/theme.yaml\nname: own\nversion: 1\nextends: field-notes\n"
    )  # fmt: skip
    workshop = Workshop(Order(content, tmp_path / "output", themes))
    assert workshop.remake().is_sound
    (themes / "own/theme.yaml").write_text("nonsense: yes\n")
    assert "nonsense" in workshop.remake().fault
    (themes / "own/theme.yaml").write_text("name: own\nversion: 1\nextends: field-notes\n")
    assert workshop.remake().is_sound


def test_folders_that_come_and_go_are_watched(tmp_path: Path) -> None:
    stop, told = threading.Event(), list[frozenset[Path]]()
    folder = tmp_path / "content"

    def follow() -> None:
        for changed in changes([folder], stop):
            told.append(changed)

    thread = threading.Thread(target=follow)
    thread.start()

    def wait_for(path: Path) -> bool:
        for _ in range(100):
            if any(path in changed for changed in told):
                told.clear()
                return True
            time.sleep(0.05)
        return False

    try:
        folder.mkdir()
        assert wait_for(folder)
        time.sleep(0.3)
        (folder / "site.yaml").write_text("name: x\n")
        assert wait_for(folder / "site.yaml")
        folder.rename(tmp_path / "elsewhere")
        assert wait_for(folder)
        folder.mkdir()
        assert wait_for(folder)
    finally:
        stop.set()
        thread.join(5)
    assert not thread.is_alive()
