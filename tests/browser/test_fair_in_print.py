"""The price list and the tub cards as Chromium prints them: sides counted, nothing cut, two sizes, two languages."""

import re
from pathlib import Path

import pytest
from helpers.many_offers import write_offers
from helpers.program import built
from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser
THEMES = Path(__file__).parents[2] / "themes"
CASES = [("en-GB", "specimen-sheet"), ("de-DE", "specimen-sheet"), ("en-GB", "picture-room")]
HARM = '"Three of nine young sway and strike beside their food; three animals prove nothing, but we sell none of them."'
WIDTHS = {"A4": 186, "Letter": 191.9}
"""Millimetres of printed width, within margins of 12 mm."""


@pytest.fixture(scope="module", params=CASES, ids=lambda case: "-".join(case))
def fair(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site with 60 offers, at a long address, one of whose genes harms."""
    language, theme = request.param
    folder = tmp_path_factory.mktemp("fair")
    content = write_offers(folder / "content", 60, theme, language)
    for picture in content.glob("litters/*/*.jpg"):
        picture.unlink()
    with (content / "site.yaml").open("a") as file:
        file.write("address: https://a-rather-long-name.example/snakes/\n")
    species = content / "species" / "kenyan-sand-boa.yaml"
    told = re.sub(
        r"(  albino:.*?inheritance: recessive\n)",
        rf"\1    welfare: {{text: {HARM}}}\n",
        species.read_text(),
        flags=re.S,
    )
    assert HARM in told
    species.write_text(told)
    built(content, folder / "output", THEMES)
    return folder / "output"


def opened(browser: Browser, file: Path, size: str = "A4") -> Page:
    page = browser.new_page(viewport={"width": round(WIDTHS[size] / 25.4 * 96), "height": 1000})
    page.goto(file.as_uri())
    page.emulate_media(media="print")
    return page


def n_sides(page: Page, size: str) -> int:
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", page.pdf(format=size)))


@pytest.mark.parametrize("size", WIDTHS)
def test_sixty_offers_stand_on_two_sides(browser: Browser, fair: Path, size: str) -> None:
    page = opened(browser, fair / "print/price-list.html", size)
    assert page.locator("tbody tr").count() == 60
    assert n_sides(page, size) == 2
    assert page.evaluate("parseFloat(getComputedStyle(document.querySelector('td')).fontSize)") >= 6.9 * 96 / 72
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.close()


@pytest.mark.parametrize("size", WIDTHS)
def test_eight_cards_stand_on_a_side_and_nothing_of_any_is_cut(browser: Browser, fair: Path, size: str) -> None:
    page = opened(browser, fair / "print/tub-cards.html", size)
    sheets = page.eval_on_selector_all(".cards", "all => all.map(each => each.children.length)")
    assert sum(sheets) == 60 + 28
    assert set(sheets) <= {8, 4}
    assert n_sides(page, size) == len(sheets)
    cut = """all => all.filter(card => {
        const inside = card.getBoundingClientRect();
        return card.scrollHeight > card.clientHeight || card.scrollWidth > card.clientWidth
            || [...card.querySelectorAll("*")].some(each => each.getBoundingClientRect().bottom > inside.bottom - 4);
    }).map(card => card.innerText)"""
    assert page.eval_on_selector_all(".card", cut) == []
    code = page.evaluate("document.querySelector('.card .qr').getBoundingClientRect().width / 96 * 25.4")
    assert code >= 20, "a telephone reads modules of half a millimetre (common practice, no source)"
    page.close()


def test_a_gene_that_harms_is_marked_on_the_list_and_told_on_its_card(browser: Browser, fair: Path) -> None:
    page = opened(browser, fair / "print/price-list.html")
    marked = page.locator("tbody tr", has=page.locator(".price-mark")).count()
    assert 0 < marked < 60
    assert HARM.strip('".') in page.inner_text("#note-1")
    page.goto((fair / "print/tub-cards.html").as_uri())
    assert page.locator(".card", has=page.locator(".card-note")).count() >= marked
    page.close()


@pytest.mark.parametrize("address", ["print/price-list.html", "print/tub-cards.html"])
def test_both_are_black_on_white_and_nothing_else_of_the_site_is_printed(
    browser: Browser, fair: Path, address: str
) -> None:
    page = browser.new_page(color_scheme="dark")
    page.goto((fair / address).as_uri())
    page.emulate_media(media="print")
    for part in (".masthead", ".paper-bar", ".colophon"):
        assert page.evaluate(f"getComputedStyle(document.querySelector('{part}')).display") == "none", part
    colours = "all => [...new Set(all.map(each => getComputedStyle(each).color))]"
    inks = page.eval_on_selector_all("main :is(article, .card) *:not(path):not(svg)", colours)
    assert set(inks) <= {"rgb(0, 0, 0)", "rgb(51, 51, 51)"}, "no colour tells anything"
    page.close()


@pytest.mark.parametrize("size", WIDTHS)
def test_what_is_available_is_printed_without_what_is_gone(browser: Browser, demo: Path, size: str) -> None:
    page = opened(browser, demo / "available.html", size)
    assert n_sides(page, size) <= 2
    assert page.locator(".cautions p:visible", has_text="Wash your hands").count() == 1
    assert page.locator("details .ledger:visible").count() == 0
    page.close()
