"""Finding an animal among many in Chromium: the sentence, its address, near misses, the keyboard, the reader's day."""

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from helpers.many_offers import write_offers
from helpers.pages import THEMES
from helpers.program import built
from playwright.sync_api import Browser, Page

WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
pytestmark = pytest.mark.browser
ROOT = Path(__file__).parents[2]
ALL = 150
SHOWN = "[...document.querySelectorAll('[data-list] > li')].filter(e => e.offsetParent)"
MADE = "2026-10-17"
"""The day of the statement: the newest of the records. Some can go now, some in December, some are on hold."""


@pytest.fixture(scope="module", params=THEMES)
def offers(request: pytest.FixtureRequest, made_once: Callable[[str, Callable[[Path], None]], Path]) -> str:
    """The address of a page with many animals on offer, in each theme."""

    def make(folder: Path) -> None:
        built(write_offers(folder / "content", ALL, request.param), folder / "output", ROOT / "themes")

    return (made_once(f"offers-{request.param}", make) / "output" / "available.html").as_uri()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    troubles: list[str] = []
    page.on("console", lambda message: troubles.append(message.text))
    page.on("pageerror", lambda error: troubles.append(str(error)))
    yield page
    context.close()
    assert troubles == []


def shown(page: Page) -> list[dict[str, str]]:
    return page.evaluate(f"{SHOWN}.map(e => ({{...e.dataset}}))")


def has(animal: dict[str, str], gene: str) -> float:
    held = dict(word.rsplit(":", 1) for word in animal["carries"].split())
    above, _, below = held.get(gene, "0").partition("/")
    return int(above) / int(below or 1)


def choose(page: Page, **values: str) -> None:
    for name, value in values.items():
        page.select_option(f"select[name={name}]", value)


def test_the_first_animal_is_on_the_first_screen_and_all_on_25(offers: str, page: Page) -> None:
    page.goto(offers)
    assert len(shown(page)) == ALL
    first = page.locator("[data-list] > li").first.bounding_box()
    assert first is not None
    assert first["y"] + first["height"] < 844 / 2
    high = page.evaluate(
        "() => { document.querySelectorAll('.found').forEach(e => e.style.contentVisibility = 'visible');"
        " return document.documentElement.scrollHeight; }"
    )
    assert high / 844 <= 25


def test_the_choice_reads_as_a_sentence_and_narrows_by_all_of_it(offers: str, page: Page) -> None:
    page.goto(offers)
    page.click("summary[data-chosen]")
    before = shown(page)
    choose(
        page,
        sex="female",
        species="corn-snake",
        gene="amelanistic",
        gene2="caramel",
        chance="1/2",
        price="200",
        go="now",
    )
    expected = [
        animal
        for animal in before
        if animal["sex"] == "female" and animal["species"] == "corn-snake" and float(animal["price"]) <= 200
        and has(animal, "amelanistic") >= 1 / 2 and has(animal, "caramel") >= 1 / 2 and animal["go"] == MADE
    ]  # fmt: skip
    assert 0 < len(expected) < len(before)
    assert shown(page) == expected
    assert page.get_by_role("status").text_content() == f"{len(expected)} of {ALL} shown"
    page.click("summary[data-chosen]")
    page.wait_for_timeout(50)
    assert page.text_content("summary[data-chosen]") == (
        "a female corn snake, has at least 50 in 100 for amelanistic and caramel, for £200 at most, can go now"
    )


def test_beside_every_choice_stands_how_many_it_leaves(offers: str, page: Page) -> None:
    page.goto(offers + "#sex=male")
    page.click("summary[data-chosen]")
    texts = page.locator("select[name=gene] option:not(:checked)").all_text_contents()
    values = page.locator("select[name=gene] option:not(:checked)").evaluate_all("all => all.map(o => o.value)")
    assert len(values) > 3
    for value, text in zip(values, texts, strict=True):
        page.select_option("select[name=gene]", value)
        assert text.endswith(f" ({len(shown(page))})")


def test_the_address_keeps_the_choice_and_gives_it_back(offers: str, page: Page) -> None:
    page.goto(offers)
    page.click("summary[data-chosen]")
    choose(page, sex="female", gene="hypo", chance="2/3", order="price")
    narrowed, address = shown(page), page.url
    assert address == f"{offers}#sex=female&chance=2%2F3&gene=hypo&order=price"
    page.goto("about:blank")
    page.goto(address)
    assert shown(page) == narrowed
    page.click("summary[data-chosen]")
    page.get_by_role("button", name="Show all").click()
    page.wait_for_timeout(50)
    assert len(shown(page)) == ALL
    page.goto("about:blank")
    page.goto(offers + "#sex=neither&gene=&price=7&nonsense=1")
    assert len(shown(page)) == ALL


def test_where_none_fits_the_nearest_are_shown_with_what_they_lack(offers: str, page: Page) -> None:
    page.goto(offers + "#species=kenyan-sand-boa&gene=albino&gene2=caramel&price=100")
    near = shown(page)
    assert page.get_by_role("status").text_content() == "None fits all of it; three are near:"
    assert len(near) == 3
    for animal in near:
        assert not (animal["species"] == "kenyan-sand-boa" and has(animal, "albino") and has(animal, "caramel"))
    missed = page.locator("[data-miss]").all_text_contents()
    assert len(missed) == 3
    assert all(text.startswith("All but this: ") for text in missed)
    page.goto("about:blank")
    page.goto(offers)
    assert page.locator("[data-miss]").count() == 0


def test_a_price_that_is_a_little_too_high_is_nearer_than_another_animal(offers: str, page: Page) -> None:
    page.goto(offers + "#sex=female&shows=albino")
    cheapest = min(float(animal["price"]) for animal in shown(page))
    limits = page.locator("select[name=price] option").evaluate_all("all => all.map(o => o.value).filter(v => v)")
    below = [limit for limit in limits if float(limit) < cheapest]
    if not below:
        pytest.skip("one of them costs no more than the lowest limit")
    page.click("summary[data-chosen]")
    choose(page, price=below[-1])
    near = shown(page)
    assert all(animal["sex"] == "female" for animal in near)
    assert f"for £{below[-1]} at most" in page.locator("[data-miss]").first.text_content()


@pytest.mark.parametrize("day", ["2026-09-20", MADE, "2026-12-09", "2027-01-15"])
def test_now_is_the_day_of_the_readers_clock_but_not_before_the_page_was_made(
    offers: str, page: Page, day: str
) -> None:
    page.clock.set_fixed_time(dt.datetime.fromisoformat(f"{day}T10:00:00"))
    page.goto(offers)
    told = [animal["go"] for animal in shown(page)]
    page.goto(offers + "#go=now")
    page.reload()
    today = max(day, MADE)
    assert len(shown(page)) == sum(bool(go) and go <= today for go in told)
    assert {MADE, "2026-12-02", ""} < set(told)


def test_it_stays_in_sight_and_leaves_the_animals_in_sight(offers: str, page: Page) -> None:
    page.goto(offers)
    page.mouse.wheel(0, 4000)
    page.wait_for_timeout(200)
    bar = page.locator("[data-finding]").bounding_box()
    assert bar is not None
    assert (bar["y"], bar["height"] < 70) == (0, True)
    page.click("summary[data-chosen]")
    choose(page, gene="amelanistic")
    box = page.locator("[data-finding]").bounding_box()
    assert box is not None
    assert box["height"] < 844 * 0.6
    assert box["width"] <= 390


def test_all_of_it_can_be_done_by_keyboard(offers: str, page: Page) -> None:
    page.goto(offers)
    page.locator("summary[data-chosen]").focus()
    page.keyboard.press("Enter")
    reached = []
    for _step in range(8):
        page.keyboard.press("Tab")
        reached.append(page.evaluate("document.activeElement.name"))
        if reached[-1] == "sex":
            page.keyboard.press("ArrowDown")
        if reached[-1] == "gene":
            page.keyboard.type("hyp")
    assert reached == ["sex", "species", "shows", "chance", "gene", "gene2", "price", "go"]
    page.wait_for_timeout(50)
    assert page.url.endswith("#sex=female&gene=hypo")
    assert all(animal["sex"] == "female" and has(animal, "hypo") for animal in shown(page))
    link = page.locator("[data-list] > li:visible a").first
    link.focus()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Tab")
    top = page.evaluate("document.activeElement.getBoundingClientRect().top")
    bar = page.locator("[data-finding]").bounding_box()
    assert bar is not None
    assert top >= bar["y"] + bar["height"] - 1


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1366, "dark")])
def test_axe_finds_nothing_with_the_sentence_open_and_near_misses_told(
    offers: str, browser: Browser, width: int, scheme: Literal["light", "dark"]
) -> None:
    """Source: axe-core, rules of WCAG 2.0, 2.1 and 2.2, levels A and AA."""
    page = browser.new_page(viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True)
    page.goto(offers + "#species=kenyan-sand-boa&gene=albino&gene2=caramel&price=100")
    page.evaluate("document.querySelector('details[open], details').open = true")
    assert page.locator("[data-miss]").count() == 3
    result = Axe().run(page, options={"runOnly": {"type": "tag", "values": WCAG}}).response
    page.close()
    assert [(found["id"], [node["target"] for node in found["nodes"]]) for found in result["violations"]] == []


def test_without_scripts_the_list_stands_whole_and_leads_to_pages_by_gene(offers: str, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    plain = context.new_page()
    plain.goto(offers)
    assert plain.locator("[data-list] > li").count() == ALL
    assert not plain.locator("form").is_visible()
    plain.get_by_role("link", name="caramel", exact=True).click()
    assert plain.locator("h1").text_content() == "Compare by caramel"
    assert plain.locator("main a").count() > 3
    context.close()
