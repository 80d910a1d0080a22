"""On a phone's first screen an animal answers: picture, label line, price, day, hidden genes, and how to ask."""

from pathlib import Path

import pytest
from helpers.pages import THEMES
from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

SCREEN = {"width": 390, "height": 844}
HEAD = 60
FINGER = 44
"""Pixels that a target has at least. Source: WCAG 2.2, 2.5.5 (level AAA)."""
PLACES = """() => {
  const boxes = (place) => [...document.querySelectorAll(place)].map(e => e.getBoundingClientRect());
  const bottom = (place) => Math.max(0, ...boxes(place).map(box => box.bottom));
  return {head: bottom(".masthead"), picture: bottom(".specimen-sheet-plate .picture"), line: bottom(".title .intro"),
    offer: bottom(".answer .offer"), statements: bottom(".statement"), ask: bottom(".answer-ask a"),
    askHigh: Math.max(0, ...boxes(".answer-ask a").map(box => box.height)), narrowest: Math.min(
      ...boxes(".statement > span").map(box => box.width))};
}"""


@pytest.mark.parametrize("theme", THEMES)
def test_everything_a_buyer_asks_first_stands_on_the_first_screen(
    browser: Browser, hosts: dict[str, str], demo: Path, theme: str
) -> None:
    page = browser.new_page(viewport=SCREEN)
    addresses = [path for path in demo.rglob("*.html") if 'class="answer"' in path.read_text("utf-8")]
    asked = pictured = 0
    for path in sorted(addresses):
        html, address = path.read_text("utf-8"), path.relative_to(demo).as_posix()
        page.goto(hosts[theme] + address, wait_until="load")
        page.evaluate("document.fonts.ready")
        found = page.evaluate(PLACES)
        assert 0 < found["head"] <= HEAD, address
        assert 0 < found["line"] < found["statements"] <= SCREEN["height"], address
        assert found["narrowest"] > SCREEN["width"] / 2, address
        assert found["picture"] < found["line"], address
        pictured += found["picture"] > 0
        if "answer-ask" in html:
            asked += 1
            assert 0 < found["offer"] < found["statements"] < found["ask"] <= SCREEN["height"], address
            assert found["askHigh"] >= FINGER, address
        else:
            assert found["ask"] == 0
    page.close()
    assert asked > 10
    assert pictured > asked


@pytest.mark.parametrize("theme", THEMES)
def test_the_breeders_words_and_pictures_stand_before_the_proof_and_tables_fold(
    browser: Browser, hosts: dict[str, str], theme: str
) -> None:
    page = browser.new_page(viewport=SCREEN)
    page.goto(hosts[theme] + "animals/juniper.html")
    tops = [page.locator(place).first.bounding_box() for place in (".statement", ".prose", ".strip", ".claim")]
    places = [box["y"] for box in tops if box]
    assert len(places) == 4
    assert places == sorted(places)
    tables = page.locator(".record table")
    assert tables.count() == 1
    assert not any(table.is_visible() for table in tables.all())
    page.locator(".record summary").first.click()
    assert tables.first.is_visible()
    page.emulate_media(media="print")
    page.goto(hosts[theme] + "litters/2026-tansy-slate-or-chalk/02.html")
    assert page.locator(".claim details").count() > 1
    for folded in page.locator(".claim details").all():
        assert not folded.locator("summary").is_visible()
        assert folded.locator("p").first.is_visible()
    page.close()


@pytest.mark.parametrize("theme", THEMES)
def test_a_project_begins_with_its_road_its_chance_and_what_is_next_and_ends_within_eight_screens(
    browser: Browser, hosts: dict[str, str], demo: Path, theme: str
) -> None:
    page = browser.new_page(viewport={"width": 360, "height": 740})
    lengths = {}
    for path in sorted((demo / "projects").glob("*.html")):
        page.goto(f"{hosts[theme]}projects/{path.name}", wait_until="load")
        page.evaluate("document.fonts.ready")
        order = [page.locator(place).first.bounding_box() for place in (".road-step", ".project-standing", ".stage")]
        places = [box["y"] for box in order if box]
        assert len(places) == 3, path.name
        assert places == sorted(places), path.name
        assert page.locator(".road-small img").count() > 0, path.name
        lengths[path.name] = page.evaluate("document.documentElement.scrollHeight")
    page.close()
    assert len(lengths) == 3
    assert max(lengths.values()) <= 6000, lengths
