"""The desk on a phone in real Chromium, over the address of the home network: no secure page, as on a real phone."""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from helpers.at_the_desk import NEAR, Home, desk_and_phone
from helpers.from_text import write_files
from PIL import Image
from playwright.sync_api import Browser, Page, Route, expect

from sitegen.app.home_network import home_address
from sitegen.app.loopback import AT_HOME
from sitegen.findings import WrongUse

pytestmark = pytest.mark.browser

WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
RECORDS = """
=== site.yaml
name: Test
language: en-GB
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
species: corn-snake
name: Juniper
sex: female
born: 2020-07-01
weights: {2026-11-01: 402 g}
=== animals/flint/animal.yaml
species: corn-snake
name: Flint
sex: male
born: 2020-07-01
=== litters/2026-a/litter.yaml
dam: juniper
sire: flint
born: 2026-07-01
young: {"01": {sex: female, shows: []}, "02": }
"""


@pytest.fixture
def home(tmp_path: Path) -> Iterator[Home]:
    try:
        host = home_address()
    except WrongUse as error:
        pytest.skip(f"{error}")
    bounds = replace(AT_HOME, networks=(*AT_HOME.networks, *NEAR.networks))
    with desk_and_phone(write_files(tmp_path / "content", RECORDS), bounds, host) as home:
        yield home


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    yield page
    context.close()


def let_in(home: Home, page: Page) -> None:
    page.goto(home.door.address)
    page.get_by_label("The six digits that the computer shows").fill(home.door.spaced_code)
    page.get_by_role("button", name="Let me in").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Litters")


def to_the_round(page: Page) -> None:
    page.get_by_role("link", name="The round").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("The round")
    page.wait_for_load_state("load")


def axe(page: Page, where: str) -> None:
    found = Axe().run(page, options={"runOnly": WCAG}).response["violations"]
    assert not found, (where, [(each["id"], each["nodes"][0]["html"]) for each in found])


def test_a_code_is_typed_a_weight_entered_and_a_photograph_taken(home: Home, page: Page, tmp_path: Path) -> None:
    page.goto(home.door.address)
    assert page.evaluate("window.isSecureContext") is False
    axe(page, "code")
    let_in(home, page)
    axe(page, "litters")
    to_the_round(page)
    field = page.locator('[name="weight:juniper"]')
    field.fill("411")
    field.press("Enter")
    told = page.locator('[data-animal="juniper"] output')
    expect(told).to_contain_text("Saved, 411 g")
    file = home.keeper.content / "animals/juniper/animal.yaml"
    assert "411 g" in file.read_text()
    told.get_by_role("button", name="Take it back").tap()
    expect(told).to_have_text(re.compile("Taken back"))
    assert "411 g" not in file.read_text()
    axe(page, "round")
    Image.new("RGB", (80, 60), "red").save(tmp_path / "2026-11-20.jpg")
    page.goto(f"{home.door.address}litters/2026-a")
    axe(page, "litter")
    page.get_by_label("Take or choose photographs of No. 01").set_input_files(tmp_path / "2026-11-20.jpg")
    expect(page.locator("#no-01 img")).to_have_count(1)
    for address in ("", "round", "litters/2026-a", "photos/juniper"):
        page.goto(home.door.address + address)
        assert page.evaluate("document.documentElement.scrollWidth") <= 390, address


def test_entries_wait_in_the_open_page_while_the_network_is_away_and_count_once(home: Home, page: Page) -> None:
    let_in(home, page)
    to_the_round(page)

    def away(route: Route) -> None:
        route.abort()

    page.route("**/round?*", away)
    for name, weight in (("juniper", "412"), ("flint", "388")):
        field = page.locator(f'[name="weight:{name}"]')
        field.fill(weight)
        field.press("Enter")
    expect(page.locator("[data-waiting]")).to_contain_text("2 entries wait")
    page.unroute("**/round?*", away)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    for name, weight in (("juniper", "412"), ("flint", "388")):
        expect(page.locator(f'[data-animal="{name}"] output')).to_contain_text("Saved", timeout=20_000)
        written = (home.keeper.content / f"animals/{name}/animal.yaml").read_text()
        assert written.count(f"{weight} g") == 1


def test_what_waits_is_kept_when_the_phone_is_put_out_and_sent_when_it_is_let_in_again(home: Home, page: Page) -> None:
    let_in(home, page)
    to_the_round(page)
    home.door.shut()
    field = page.locator('[name="weight:juniper"]')
    field.fill("413")
    field.press("Enter")
    expect(page.locator("[data-waiting]")).to_contain_text("1 entry waits")
    home.door.make_code()
    let_in(home, page)
    to_the_round(page)
    expect(page.locator('[data-animal="juniper"] output')).to_contain_text("Saved", timeout=20_000)
    assert "413 g" in (home.keeper.content / "animals/juniper/animal.yaml").read_text()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_computers_first_page_tells_how_a_phone_comes_in(home: Home, browser: Browser, scheme: str) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 800}, color_scheme=scheme)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(home.keeper.address)
    expect(page.locator("#phone")).to_contain_text(home.door.spaced_code)
    axe(page, scheme)
    home.door.try_code(home.door.code)
    page.reload()
    expect(page.locator("#phone")).to_contain_text("A phone is let in")
    axe(page, scheme)
    page.get_by_role("button", name="Let it out").click()
    expect(page.locator("#phone")).to_contain_text("No phone is let in.")
    page.get_by_role("button", name="Make a code for a phone").click()
    expect(page.locator("#phone")).to_contain_text(home.door.spaced_code)
    context.close()
