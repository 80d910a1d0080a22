"""Photographs in full size without a script, data blocks under the strict policy, from a sub-path and from a disk."""

import functools
import http.server
import json
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route

pytestmark = pytest.mark.browser

ALL_LOADED = "Promise.all([...document.images].map(i => i.complete || new Promise(d => (i.onload = i.onerror = d))))"


class _BelowAPath(http.server.SimpleHTTPRequestHandler):
    """The site below ``/some/where/``, and nothing anywhere else."""

    def translate_path(self, path: str) -> str:
        return super().translate_path(path.removeprefix("/some/where") if path.startswith("/some/where/") else "/no")

    def log_message(self, format: str, *args: object) -> None:
        return


@pytest.fixture(scope="module", params=["from a sub-path", "from a disk"])
def root(request: pytest.FixtureRequest, demo: Path) -> Iterator[str]:
    if request.param == "from a disk":
        yield demo.as_uri() + "/"
        return
    handler = functools.partial(_BelowAPath, directory=str(demo))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/some/where/"
        server.shutdown()


def plain_page(browser: Browser, width: int, troubles: list[str]) -> Page:
    """A page without scripts."""
    page = browser.new_context(java_script_enabled=False, viewport={"width": width, "height": 800}).new_page()
    # A browser that shows a bare picture asks the host for an icon by itself.
    page.on("response", lambda r: troubles.append(r.url) if r.status >= 400 and "favicon.ico" not in r.url else None)
    # A request that ends because the test goes on to the next page is no trouble.
    page.on("requestfailed", lambda r: None if r.failure == "net::ERR_ABORTED" else troubles.append(r.url))
    return page


@pytest.mark.parametrize("width", [360, 1280])
def test_a_small_picture_leads_to_the_large_one_without_a_script(browser: Browser, root: str, width: int) -> None:
    troubles: list[str] = []
    page = plain_page(browser, width, troubles)
    page.goto(root + "animals/juniper.html")
    strip = page.locator(".strip li")
    assert strip.count() == 4
    notes = strip.locator("figcaption").all_inner_texts()
    assert ["4 months old" in notes[0], "4 years old" in notes[-1]] == [True, True]
    small = strip.nth(1).locator("picture img:not(.blur)").bounding_box()
    strip.nth(1).locator("figcaption a").click()
    page.wait_for_url("**/animals/juniper-pictures.html#photograph-2")
    for _ in range(100):  # until it has scrolled there, which a busy machine does later
        large = page.locator("#photograph-2 picture img:not(.blur)").bounding_box()
        if large is not None and -2 <= large["y"] < 400:
            break
        page.wait_for_timeout(100)
    assert small is not None
    assert large is not None
    assert large["width"] > 1.5 * small["width"]
    assert -2 <= large["y"] < 400, "the page stands at the picture"
    page.locator("#photograph-2 .full-plate-file a").click()
    assert page.url.endswith(".jpg")
    page.go_back()
    page.locator("header a", has_text="To the animal").click()
    assert page.url.endswith("animals/juniper.html")
    assert troubles == []


def test_a_picture_in_full_size_is_never_taller_than_the_window(browser: Browser, root: str, demo: Path) -> None:
    page = browser.new_page(viewport={"width": 1280, "height": 700})
    for path in sorted(demo.glob("animals/*-pictures.html")):
        page.goto(root + path.relative_to(demo).as_posix())
        for box in page.locator(".full-plate picture img:not(.blur)").all():
            shown = box.bounding_box()
            assert shown is not None
            assert shown["height"] <= 700
            assert shown["width"] <= 1280
            assert box.evaluate("i => getComputedStyle(i).objectFit") == "contain", "pictures are not stretched"


def test_data_blocks_stand_under_the_strict_policy_and_nothing_runs(browser: Browser, root: str) -> None:
    page = browser.new_page()
    told: list[str] = []
    page.on("console", lambda message: told.append(message.text))
    page.add_init_script("addEventListener('securitypolicyviolation', e => console.log('violation ' + e.blockedURI))")
    for address in ("index.html", "animals/juniper.html", "journal.html", "litters/2026-fennel-cinnabar/03.html"):
        page.goto(root + address)
        text = page.evaluate("document.querySelector('script[type=\"application/ld+json\"]').textContent")
        assert json.loads(text)["@context"] == "https://schema.org"
    page.evaluate("document.head.append(Object.assign(document.createElement('script'), {textContent: '1'}))")
    page.wait_for_timeout(100)
    assert [line for line in told if line.startswith("violation")] == ["violation inline"], "the watch itself works"


SHIFTS = """
window.shifts = 0;
new PerformanceObserver(list => list.getEntries().forEach(e => { window.shifts += e.value; }))
  .observe({type: 'layout-shift', buffered: true});
"""


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("address", ["journal.html", "animals/juniper-pictures.html", "animals/tansy-pictures.html"])
def test_nothing_moves_while_pictures_come(browser: Browser, root: str, address: str, width: int) -> None:
    """The pictures come late, and one after the other; none of them has its size from its bytes."""
    context = browser.new_context(viewport={"width": width, "height": 800})
    page = context.new_page()
    page.add_init_script(SHIFTS)

    def late(route: Route) -> None:
        page.wait_for_timeout(60)
        route.continue_()

    page.route("**/pictures/**", late)
    page.goto(root + address)
    tops = "[...document.querySelectorAll('picture')].map(p => Math.round(p.getBoundingClientRect().height))"
    before = page.evaluate(tops)
    for _ in range(6):
        page.mouse.wheel(0, 900)
        page.wait_for_timeout(80)
    page.evaluate("document.querySelectorAll('img').forEach(img => { img.loading = 'eager' })")
    page.evaluate(ALL_LOADED)
    assert page.evaluate(tops) == before
    assert page.evaluate("window.shifts") < 0.001, "the font that comes late may move a line by a hair"
    context.close()


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("address", ["journal.html", "journal/2025.html", "animals/tansy-pictures.html"])
def test_new_pages_stay_within_the_window(browser: Browser, root: str, address: str, width: int) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto(root + address)
    page.evaluate("document.querySelectorAll('img').forEach(img => { img.loading = 'eager' })")
    page.evaluate(ALL_LOADED)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate("[...document.images].filter(i => i.naturalWidth === 0).length") == 0


def test_years_of_the_journal_are_walked_by_keyboard(browser: Browser, root: str) -> None:
    page = browser.new_page()
    page.goto(root + "journal.html")
    here = page.locator("nav.years a[aria-current=page]")
    assert here.count() == 1
    here.focus()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/journal/2025.html")
    assert page.locator("h2").first.inner_text().endswith("2025")
