"""The desk by keyboard alone, once through, and as a screen reader is told of it."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.at_the_desk import Keeper, at_the_desk
from helpers.from_text import write_files
from playwright.sync_api import Browser, Page, expect

pytestmark = pytest.mark.browser

SLOW = 30_000
"""Milliseconds that a busy machine may take."""
RECORDS = """
=== site.yaml
name: Test
language: en-GB
currency: EUR
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
born: 2021-07-14
shows: [amel]
weights: {2026-11-01: 420 g}
meals: [{date: 2026-11-10, what: adult mouse}]
=== animals/flint/animal.yaml
name: Flint
species: corn-snake
sex: male
born: 2021-07-14
shows: []
stated: {amel: certain}
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
sire: flint
born: 2026-07-18
young:
  "01": {offer: {price: 60, state: available, since: 2026-11-01}}
"""
OUTLINED = """() => { const style = getComputedStyle(document.activeElement);
  const label = document.activeElement.closest('label');
  return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2
    || document.activeElement.type === 'date'  // the browser shows which of its parts has the focus
    || label && getComputedStyle(label).outlineStyle !== 'none'; }"""
ACTIVE = "document.activeElement.outerHTML.slice(0, 120)"


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    with at_the_desk(write_files(tmp_path / "content", RECORDS)) as keeper:
        yield keeper


@pytest.fixture
def page(browser: Browser, keeper: Keeper) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    page.goto(keeper.address)
    yield page
    context.close()


def tab_to(page: Page, selector: str) -> None:
    """Press tab until there, and see on the way that what has the focus is always shown."""
    for _ in range(120):
        page.keyboard.press("Tab")
        assert page.evaluate(OUTLINED), page.evaluate(ACTIVE)
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    pytest.fail(f"{selector} is not reached by tab")


def test_the_first_key_leads_past_the_places(page: Page) -> None:
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.getBoundingClientRect().left") >= 0
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")


def test_a_day_at_the_desk_by_keyboard_alone(page: Page, keeper: Keeper) -> None:
    tab_to(page, "a[href='/round']")
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text("The round", timeout=SLOW)
    weight = '[name="weight:juniper"]'
    if not page.evaluate("selector => document.activeElement.matches(selector)", weight):
        tab_to(page, weight)
    page.keyboard.type("424")
    page.keyboard.press("Tab")
    active = page.evaluate(ACTIVE)
    page.keyboard.press("Space")
    juniper = page.get_by_role("group", name="Juniper", exact=True)
    page.keyboard.press("Tab")
    page.keyboard.press("Shift+Tab")
    expect(juniper.locator("output")).to_contain_text("Saved", timeout=SLOW)
    assert page.evaluate(ACTIVE) == active, "the focus was lost when the entry was saved"
    page.goto(f"{keeper.address}/litters/2026-juniper-flint")
    tab_to(page, '[name="01.sex"]')
    page.keyboard.press("f")
    tab_to(page, '[name="01.price"]')
    page.keyboard.type("75")
    page.keyboard.press("Enter")
    expect(page.locator("#no-01 [data-follows]")).to_contain_text("price 75", timeout=SLOW)
    assert page.evaluate("document.activeElement !== document.body")
    page.goto(f"{keeper.address}/offers")
    tab_to(page, "#s1")
    page.keyboard.press("o")
    expect(page.locator("[data-told]").first).to_contain_text("on hold", timeout=SLOW)
    assert page.evaluate("document.activeElement.id") == "s1"
    page.goto(f"{keeper.address}/changes")
    tab_to(page, "main form button")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status").first).to_contain_text("Taken back", timeout=SLOW)


def test_a_screen_reader_is_told_whose_field_it_is(page: Page, keeper: Keeper) -> None:
    page.goto(f"{keeper.address}/round")
    expect(page.get_by_role("group", name="Juniper", exact=True)).to_match_aria_snapshot("""
      - group "Juniper":
        - heading "Juniper" [level=2]
        - paragraph: /420 g/
        - paragraph: /adult mouse/
        - paragraph:
          - textbox "Weight, g"
        - paragraph:
          - checkbox "adult mouse again"
        - paragraph:
          - combobox "Fed something else"
        - paragraph:
          - checkbox "refused"
        - paragraph:
          - checkbox "shed"
        - paragraph:
          - textbox "Note"
    """)
    page.goto(f"{keeper.address}/litters/2026-juniper-flint")
    told = page.get_by_role("table").aria_snapshot()
    named = ['rowheader "01"', 'combobox "Sex of No. 01"', 'group "What No. 01 shows"', 'checkbox "amelanistic"',
             'checkbox "nothing seen"', 'combobox "Another look of No. 01"', 'textbox "Weight of No. 01"',
             'textbox "Price of No. 01": "60"', 'checkbox "No. 01 is kept"',
             'link "Photographs of No. 01"']  # fmt: skip
    places = [told.find(f"- {each}") for each in named]
    assert -1 not in places
    assert places == sorted(places)
    heads = page.get_by_role("columnheader").all_inner_texts()
    assert heads == ["No.", "Sex", "What it shows", "Weight", "Price", "Kept", "Photographs"]
    assert re.search(r"[Jj]uniper", page.locator("h1").inner_text())
