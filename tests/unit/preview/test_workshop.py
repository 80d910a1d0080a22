"""From state to state: what is kept, what is made again, and what the disk may do meanwhile."""

import threading
import time
from pathlib import Path

import pytest
from PIL import Image
from written import write_files

from sitegen.build import Order
from sitegen.preview.evidence import is_unchanged
from sitegen.preview.made import Made
from sitegen.preview.watching import changes
from sitegen.preview.workshop import Workshop
from sitegen.reading.folder import read_content
from sitegen.records.binding import bind_content
from sitegen.records.collection import Collection

THEMES = Path(__file__).parents[3] / "themes"
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


def collection_with(folder: Path, old: str, new: str) -> Collection:
    assert old in RECORDS
    read, _ = read_content(write_files(folder, RECORDS.replace(old, new)))
    collection, findings = bind_content(read)
    assert collection is not None, findings
    return collection


@pytest.mark.parametrize(
    ("old", "new", "unchanged"),
    [
        ("name: Juniper", "name: Juno", True),
        ("shows: []", "# a line\nshows: []\nabout: Calm.", True),
        ("shows: []", "shows: []\nweights: {2024-02-01: 40 g}", True),
        ("shows: []", "shows: []\nweights: {2025-02-01: 40 g}", False),  # old enough to be judged by then
        ("shows: []", "shows: [amel]", False),
        ("66%", "50%", False),
        ("sex: female", "sex: male", False),
        ("born: 2024-01-01", "born: 2024-01-02", False),
        ("12 months", "13 months", False),
        ("=== animals/juniper/", "=== animals/juno/", False),
    ],
)
def test_what_is_evidence_and_what_is_not(tmp_path: Path, old: str, new: str, unchanged: bool) -> None:
    before, after = collection_with(tmp_path / "a", "\n", "\n"), collection_with(tmp_path / "b", old, new)
    assert is_unchanged(before, after) == unchanged


def test_a_weight_asks_nothing_again_and_evidence_does(tmp_path: Path) -> None:
    workshop, content = workshop_at(tmp_path)
    answers, record = good(workshop).material.answers, content / JUNIPER
    record.write_text(record.read_text() + "weights: {2024-02-01: 40 g}\n")
    workshop.remake()
    assert good(workshop).material.answers is answers
    record.write_text(record.read_text().replace("66%", "50%"))
    workshop.remake()
    assert good(workshop).material.answers is not answers


def test_a_page_that_did_not_change_is_not_rendered_again(tmp_path: Path) -> None:
    workshop, content = workshop_at(tmp_path)
    page = workshop.find(good(workshop), "odds.html")
    (content / JUNIPER).write_text((content / JUNIPER).read_text() + "weights: {2024-02-01: 40 g}\n")
    workshop.remake()
    assert workshop.find(good(workshop), "odds.html") is page


def test_only_the_named_record_is_read_again_and_a_walk_finds_the_rest(tmp_path: Path) -> None:
    workshop, content = workshop_at(tmp_path)
    named = frozenset({(content / JUNIPER).absolute()})
    record, site = content / JUNIPER, content / "site.yaml"
    record.write_text(record.read_text().replace("name: Juniper", "name: Juno"))
    site.write_text("name: Another Collection\n")
    workshop.remake(named)
    material = good(workshop).material.collection
    assert material.animals["juniper"].name == "Juno"
    assert material.site.name == "A Collection"  # a change that nobody told is found by the walk that follows
    workshop.remake()
    assert good(workshop).material.collection.site.name == "Another Collection"
    record.unlink()
    workshop.remake(named)
    assert "juniper" not in good(workshop).material.collection.animals


def test_records_that_did_not_change_are_not_bound_again(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", RECORDS + "=== animals/moss/animal.yaml\nspecies: boa\nsex: male\n")
    workshop = Workshop(Order(content, tmp_path / "output", THEMES, workers=1))
    workshop.remake()
    before = good(workshop).material.collection.animals
    (content / JUNIPER).write_text((content / JUNIPER).read_text() + "weights: {2024-02-01: 40 g}\n")
    workshop.remake()
    after = good(workshop).material.collection.animals
    assert after["moss"] is before["moss"]
    assert after["juniper"] is not before["juniper"]
    write_files(content, "=== animals/fern/animal.yaml\nspecies: boa\nsex: male\n")
    workshop.remake()
    assert good(workshop).material.collection.animals["moss"] is not before["moss"]  # there are other records now


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
