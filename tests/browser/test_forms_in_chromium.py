"""The forms of records in real Chromium: by keyboard alone, before axe, by day and night, on phone and desk."""

import itertools
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from helpers.at_the_desk import Keeper, at_the_desk
from playwright.sync_api import Browser, BrowserContext, Page, expect

pytestmark = pytest.mark.browser

WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
SIZES = {"desktop": {"width": 1280, "height": 800}, "phone": {"width": 390, "height": 844}}
PAGES = ["/animals", "/animals/new", "/animals/new?species=corn-snake", "/animals/pyrite", "/litters", "/litters/new",
         "/litters/2026-fennel-cinnabar/record", "/litters/2026-fennel-cinnabar/02", "/projects", "/projects/new",
         "/projects/snow-ladder", "/about"]  # fmt: skip
SMALL = """[...document.querySelectorAll('main :is(a, button, summary, select, input:not([type=hidden]))')]
  .map(each => each.closest('label') || each).filter(each => each.checkVisibility())
  .map(each => [each.textContent, each.getBoundingClientRect().height]).filter(each => each[1] < 23.9)"""
"""What WCAG 2.2 calls too small a target: less than 24 px high."""


@pytest.fixture(scope="module")
def keeper(demo_content: Path) -> Iterator[Keeper]:
    with at_the_desk(demo_content) as keeper:
        yield keeper


@pytest.fixture(scope="module")
def demo_content(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return shutil.copytree(Path(__file__).parents[2] / "content", tmp_path_factory.mktemp("desk") / "content")


def opened(context: BrowserContext, keeper: Keeper, address: str) -> Page:
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.on("console", lambda line: pytest.fail(line.text) if "Content Security" in line.text else None)
    page.goto(keeper.address + address)
    return page


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", list(SIZES))
def test_axe_finds_nothing_and_nothing_scrolls_sideways(
    browser: Browser, keeper: Keeper, size: str, scheme: str
) -> None:
    """Source: axe-core, rules of WCAG 2.0, 2.1 and 2.2, levels A and AA; 1.4.10 reflow and 2.5.8 target size."""
    context = browser.new_context(viewport=SIZES[size], color_scheme=scheme)  # type: ignore[arg-type]
    found = {}
    for address in PAGES:
        page = opened(context, keeper, address)
        page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
        result = Axe().run(page, options={"runOnly": {"type": "tag", "values": WCAG}}).response
        told = [f"{each['id']}: {each['nodes'][0]['html'][:120]}" for each in result["violations"]]
        told += [f"too small: {each}" for each in page.evaluate(SMALL)]
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            told.append("scrolls sideways")
        headings = page.locator("h1, h2, h3").evaluate_all("all => all.map(each => +each.tagName[1])")
        assert headings[0] == 1
        assert all(after <= before + 1 for before, after in itertools.pairwise(headings))
        if told:
            found[address] = told
        page.close()
    context.close()
    assert found == {}


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport=SIZES["desktop"])  # type: ignore[arg-type]
    yield made
    made.close()


def tab_to(page: Page, selector: str) -> None:
    """Press tab until the field has the focus."""
    for _ in range(400):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    pytest.fail(f"{selector} is not reached by tab")


def test_a_record_is_found_changed_and_saved_by_keyboard_alone(context: BrowserContext, keeper: Keeper) -> None:
    page = opened(context, keeper, "/animals")
    tab_to(page, "#filter")
    page.keyboard.type("motley female")
    expect(page.get_by_role("status").filter(has_text="of 17")).to_be_visible()
    expect(page.locator("[data-lines] > li:visible")).to_have_count(3)
    page.keyboard.press("Shift+Tab")
    tab_to(page, "a[href='/animals/juniper']")
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text("Juniper")
    tab_to(page, "[name='name']")
    page.keyboard.type("Juniper the First")
    tab_to(page, "[name='shows'][value='charcoal']")
    page.keyboard.press("Space")
    tab_to(page, "button[name='show']")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="What would be written")).to_be_visible()
    expect(page.locator("pre")).to_contain_text("+shows: [amel, motley, charcoal]")
    tab_to(page, "[name='shows'][value='charcoal']")
    page.keyboard.press("Space")
    tab_to(page, ".always button.first")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status").first).to_contain_text("changed name")
    text = (keeper.content / "animals/juniper/animal.yaml").read_text()
    assert text.startswith("name: Juniper the First\nspecies")
    assert "shows: [amel, motley]\n" in text


def test_a_subject_is_unfolded_by_keyboard_and_what_has_the_focus_is_seen(
    context: BrowserContext, keeper: Keeper
) -> None:
    page = opened(context, keeper, "/animals/flint")
    tab_to(page, "summary")
    page.keyboard.press("Enter")
    for _ in range(11):
        page.keyboard.press("Tab")
        seen = page.evaluate(
            """() => { const it = document.activeElement; const box = it.getBoundingClientRect();
            const bar = document.querySelector('.always');
            return bar.contains(it) || box.bottom <= bar.getBoundingClientRect().top + 1; }"""
        )
        assert seen, "the buttons at the foot of the page cover the field"


def test_without_script_a_form_is_sent_and_answered(browser: Browser, keeper: Keeper) -> None:
    context = browser.new_context(viewport=SIZES["phone"], java_script_enabled=False)  # type: ignore[arg-type]
    page = opened(context, keeper, "/animals/slate")
    page.locator("[name='born']").fill("14.7.2021")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("Nothing was changed")
    expect(page.locator("[name='born']")).to_have_value("14.7.2021")
    expect(page.locator("[name='born']")).to_be_focused()
    page.locator("[name='born']").fill("2022-07")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("status").first).to_contain_text("changed born")
    context.close()
