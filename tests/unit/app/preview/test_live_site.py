"""From state to state: what is kept, what is made again, and what the disk may do meanwhile."""

from pathlib import Path

from helpers.from_text import write_files
from PIL import Image

from sitegen.app.preview.live_site import LiveSite, SiteFiles
from sitegen.build import Order
from sitegen.findings import Kind

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
FLINT = "animals/flint/animal.yaml"
PLANNED = """
=== site.yaml
name: A Collection
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
born: 2020-01-01
shows: [amel]
=== animals/flint/animal.yaml
species: corn-snake
sex: male
born: 2020-01-01
shows: [amel]
=== projects/p/project.yaml
species: corn-snake
goal: {shows: [amel]}
decisions: [{date: 2026-01-01, text: We begin.}]
stages:
  only: {season: 2027, dam: juniper, sire: flint}
"""


def site_at(folder: Path) -> tuple[LiveSite, Path]:
    content = write_files(folder / "content", RECORDS)
    site = LiveSite(Order(content, folder / "output", THEMES, workers=1))
    assert site.remake().is_sound
    return site, content


def good(site: LiveSite) -> SiteFiles:
    made = site.state.good
    assert made is not None
    return made


def test_the_state_is_the_same_while_nothing_changed(tmp_path: Path) -> None:
    site, content = site_at(tmp_path)
    state = site.state
    (content / JUNIPER).touch()
    assert site.remake() is state


def test_a_half_written_record_leaves_the_last_good_site(tmp_path: Path) -> None:
    site, content = site_at(tmp_path)
    whole, before = (content / JUNIPER).read_bytes(), site.state.good
    for length in range(0, len(whole), 7):
        (content / JUNIPER).write_bytes(whole[:length])
        state = site.remake()
        assert state.good is not None
        assert state.is_sound or state.trouble
        assert state.is_sound or state.good is before or before is not state.good
    (content / JUNIPER).write_bytes(whole[:30] + b"\xff\xfe")
    assert not site.remake().is_sound
    (content / JUNIPER).write_bytes(whole)
    assert site.remake().is_sound


def test_many_photographs_at_once_and_one_that_is_still_being_copied(tmp_path: Path) -> None:
    site, content = site_at(tmp_path)
    for number in range(30):
        Image.new("RGB", (80 + number, 60), "olive").save(content / f"animals/juniper/2024-05-{number + 1:02d}.jpg")
    whole = (content / "animals/juniper/2024-05-07.jpg").read_bytes()
    (content / "animals/juniper/2024-05-07.jpg").write_bytes(whole[:200])
    state = site.remake()
    assert [str(finding.place) for finding in state.trouble] == ["animals/juniper/2024-05-07.jpg"]
    (content / "animals/juniper/2024-05-07.jpg").write_bytes(whole)
    assert site.remake().is_sound
    assert len({photograph.file for photograph in good(site).photographs.values()}) == 30
    html = good(site).find("animals/juniper.html")
    assert html is not None
    assert html.count(b"<img") >= 30
    (content / "animals/juniper/2024-05-07.jpg").unlink()
    site.remake()
    assert len({photograph.file for photograph in good(site).photographs.values()}) == 29


def test_a_theme_that_breaks_and_is_mended_is_followed(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", RECORDS.replace("name: A Collection", "name: A\ntheme: own"))
    themes = write_files(
        tmp_path / "themes", "=== own/theme.yaml\nname: own\nversion: 3\nextends: specimen-sheet\n"
    )  # fmt: skip
    site = LiveSite(Order(content, tmp_path / "output", themes))
    assert site.remake().is_sound
    (themes / "own/theme.yaml").write_text("nonsense: yes\n")
    assert "nonsense" in site.remake().fault
    (themes / "own/theme.yaml").write_text("name: own\nversion: 3\nextends: specimen-sheet\n")
    assert site.remake().is_sound


def kinds(site: LiveSite) -> list[Kind]:
    good = site.state.good
    assert good is not None
    return [finding.kind for finding in good.findings]


def test_a_change_that_is_no_evidence_is_seen_in_the_plans(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", PLANNED)
    site = LiveSite(Order(content, tmp_path / "output", THEMES, workers=1))
    site.remake()
    assert kinds(site) == []
    whole = (content / FLINT).read_text()
    (content / FLINT).write_text(whole + "offer: {state: sold, since: 2026-02-01}\n")
    site.remake()
    assert kinds(site) == [Kind.PLAN_PARENT_GONE]
    (content / FLINT).write_text(whole)
    site.remake()
    assert kinds(site) == []


def test_an_impossible_plan_is_told_and_the_last_good_site_stays(tmp_path: Path) -> None:
    content = write_files(tmp_path / "content", PLANNED)
    site = LiveSite(Order(content, tmp_path / "output", THEMES, workers=1))
    before = site.remake().good
    (content / FLINT).write_text((content / FLINT).read_text().replace("shows: [amel]", "shows: []"))
    state = site.remake()
    assert [finding.kind for finding in state.trouble] == [Kind.PLAN_TOO_SHORT]
    assert state.good is before
