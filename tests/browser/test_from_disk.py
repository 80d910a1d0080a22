"""The default theme in real Chromium, opened from a disk: policy, widths, and lists that can be narrowed."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.small_site import animal, collection, small_material, whole_site
from playwright.sync_api import Browser, Page

from sitegen.genetics.loci import Sex
from sitegen.render.pages import render_page
from sitegen.render.themes import find_theme, theme_files

pytestmark = pytest.mark.browser

LONG = "Wollgraswindröschen-Ratonneau-von-der-Quillmündung " * 3


@pytest.fixture(scope="module")
def on_disk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small site with long names and without pictures, in a folder whose name needs encoding."""
    folder = tmp_path_factory.mktemp("a site ä")
    records = collection()
    more = {f"x{n}": animal(f"x{n}", LONG + str(n), Sex.MALE if n % 2 else Sex.FEMALE, "amel") for n in range(4)}
    theme = find_theme("specimen-sheet")
    pages = whole_site(small_material(replace(records, animals={**records.animals, **more}), pictured=False))
    files = {page.address: render_page(page, theme) for page in pages} | theme_files(theme)
    for address, content in files.items():
        target = folder / address
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)
    return folder


@pytest.fixture
def disk_page(browser: Browser) -> Iterator[Page]:
    """A page that fails the test when anything is refused, missing or broken."""
    page = browser.new_page()
    troubles: list[str] = []
    page.on("console", lambda message: troubles.append(message.text))
    page.on("pageerror", lambda error: troubles.append(str(error)))
    # A request that ends because the test goes on to the next page is no trouble.
    page.on("requestfailed", lambda r: None if r.failure == "net::ERR_ABORTED" else troubles.append(r.url))
    yield page
    page.close()
    assert troubles == []


def test_style_and_font_work_from_disk(on_disk: Path, disk_page: Page) -> None:
    disk_page.goto((on_disk / "litters/2026-x/01.html").as_uri())
    loaded = disk_page.evaluate("document.fonts.ready.then(f => [...f].filter(x => x.status == 'loaded').length)")
    assert loaded >= 1
    assert "Alegreya" in disk_page.evaluate("getComputedStyle(document.body).fontFamily")


@pytest.mark.parametrize("width", [320, 360, 768])
def test_nothing_is_wider_than_the_window_in_a_wider_fallback_font(browser: Browser, on_disk: Path, width: int) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.route("**/*.woff2", lambda route: route.abort())
    for path in sorted(on_disk.rglob("*.html")):
        page.goto(path.as_uri())
        page.evaluate("document.documentElement.style.setProperty('font-family', 'DejaVu Serif, serif')")
        page.evaluate("document.body.style.setProperty('font-family', 'DejaVu Serif, serif')")
        wider = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wider == 0, path.name
    page.close()


@pytest.mark.parametrize("width", [320, 360, 768, 1280])
def test_nothing_is_wider_than_the_window(on_disk: Path, disk_page: Page, width: int) -> None:
    disk_page.set_viewport_size({"width": width, "height": 800})
    for path in sorted(on_disk.rglob("*.html")):
        if path.name == "404.html":
            continue  # its links start at the root of a host
        disk_page.goto(path.as_uri())
        wider = disk_page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wider == 0, path.name


def test_targets_are_large_enough(on_disk: Path, disk_page: Page) -> None:
    """Source: WCAG 2.2, 2.5.8: 24 by 24 px; links within a sentence are exempt."""
    disk_page.set_viewport_size({"width": 360, "height": 800})
    disk_page.goto((on_disk / "collection.html").as_uri())
    small = disk_page.evaluate(
        """[...document.querySelectorAll('nav a, h3 a, select, button, .colophon li a')]
           .filter(e => e.getClientRects().length).map(e => [e.textContent, e.getBoundingClientRect()])
           .filter(([, box]) => box.height < 24 || box.width < 24).map(([text]) => text)"""
    )
    assert small == []


def visible(page: Page) -> list[str]:
    return page.evaluate(
        "[...document.querySelectorAll('[data-list] > li')].filter(e => e.offsetParent)"
        ".map(e => e.querySelector('h3 a').textContent)"
    )


def test_lists_narrow_and_sort_and_the_address_keeps_the_choice(on_disk: Path, disk_page: Page) -> None:
    address = (on_disk / "collection.html").as_uri()
    disk_page.goto(address)
    everyone = visible(disk_page)
    assert {"Juniper", "Flint", "Sorrel"} < set(everyone)
    disk_page.select_option("select[name=shows]", "amelanistic")
    shown = visible(disk_page)
    assert "Juniper" in shown
    assert "Flint" not in shown
    disk_page.select_option("select[name=sex]", "male")
    disk_page.select_option("select[name=order]", "name")
    assert visible(disk_page) == [LONG + "1", LONG + "3"]
    assert disk_page.url == f"{address}#sex=male&shows=amelanistic&order=name"
    assert disk_page.text_content("output") == f"2 of {len(everyone)} shown"
    disk_page.reload()
    assert visible(disk_page) == [LONG + "1", LONG + "3"]
    disk_page.click("button[type=reset]")
    disk_page.wait_for_timeout(50)
    assert visible(disk_page) == everyone


def test_a_chance_is_asked_for_exactly(on_disk: Path, disk_page: Page) -> None:
    disk_page.goto((on_disk / "collection.html").as_uri() + "#gene=hypo&chance=2/3")
    assert visible(disk_page) == ["Juniper"]
    disk_page.select_option("select[name=chance]", "1")
    assert disk_page.text_content("output") == "None fits all of it; three are near:"
    disk_page.select_option("select[name=chance]", "")
    assert len(visible(disk_page)) > 1


def test_without_scripts_the_list_is_whole_and_no_empty_controls_stand_there(on_disk: Path, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((on_disk / "collection.html").as_uri())
    assert page.locator("[data-list] > li").count() >= 7
    assert not page.locator("form").is_visible()
    context.close()
