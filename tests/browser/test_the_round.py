"""The round in real Chromium: by keyboard alone, with the network away, and each entry counted once."""

import datetime as dt
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from helpers.at_the_desk import Keeper, at_the_desk
from helpers.from_text import write_files
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

pytestmark = pytest.mark.browser

WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
NAMES = [f"snake-{number:02}" for number in range(12)]
WEIGHTS = [f"{301 + 7 * number}" for number in range(12)]
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
""" + "".join(
    f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nname: {name.title()}\nborn: 2021-07-14\n"
    f"weights: {{2026-01-{10 + at}: {300 + 7 * at} g}}\nmeals: [{{date: 2026-11-10, what: adult mouse}}]\n"
    for at, name in enumerate(NAMES)
)
SMALL = """[...document.querySelectorAll('main a, main button, main input:not([type=hidden]), main select')]
  .map(each => each.closest('label') || each).filter(each => each.checkVisibility())
  .map(each => [each.textContent, each.getBoundingClientRect().height]).filter(each => each[1] < 43.9)"""
"""What a thumb would miss: controls lower than 44 px."""
DESKTOP, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    with at_the_desk(write_files(tmp_path / "content", RECORDS)) as keeper:
        yield keeper


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport=DESKTOP)  # type: ignore[arg-type]
    yield made
    made.close()


def record(keeper: Keeper, name: str) -> str:
    return (keeper.content / f"animals/{name}/animal.yaml").read_text()


def opened(context: BrowserContext, keeper: Keeper, address: str = "/round") -> Page:
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.goto(keeper.address + address)
    return page


def told(page: Page, name: str) -> str:
    return page.locator(f'[data-animal="{name}"] output').inner_text().strip()


def enter(page: Page, name: str, field: str, value: str) -> None:
    page.locator(f'[name="{field}:{name}"]').fill(value)
    page.keyboard.press("Enter")


@pytest.mark.parametrize("address", ["/round", "/round?what=weights"])
def test_twelve_weights_by_keyboard_alone(context: BrowserContext, keeper: Keeper, address: str) -> None:
    page = opened(context, keeper, address)
    expect(page.locator('[name="weight:snake-00"]')).to_be_focused()
    for weight in WEIGHTS:
        page.keyboard.type(weight)
        page.keyboard.press("Enter")
    for name, weight in zip(NAMES, WEIGHTS, strict=True):
        expect(page.locator(f'[data-animal="{name}"] output')).to_contain_text(f"Saved, {weight} g.", timeout=20_000)
        assert f"2026-11-25: {weight} g" in record(keeper, name)


def test_every_field_of_a_row_is_reached_by_the_tabulator_and_saved_when_it_is_left(
    context: BrowserContext, keeper: Keeper
) -> None:
    page = opened(context, keeper)
    for keys in ("402", "Tab", "Space", "Tab", "Tab", "Space", "Tab", "Space", "Tab", "in one piece", "Tab"):
        if keys in ("Tab", "Space"):
            page.keyboard.press(keys)
        else:
            page.keyboard.type(keys)
    row = page.locator('[data-animal="snake-00"] output')
    expect(row).to_contain_text("Saved, 402 g; adult mouse refused; shed; in one piece.")
    text = record(keeper, "snake-00")
    assert text.count("2026-11-25, what: adult mouse") == 1
    assert "what: adult mouse, taken: false" in text
    assert "2026-11-25, what: shed}" in text


def test_twelve_meals_are_a_tap_each(context: BrowserContext, keeper: Keeper) -> None:
    page = opened(context, keeper, "/round?what=meals")
    for name in NAMES:
        page.locator(f'[data-animal="{name}"]').get_by_label("adult mouse again").click()
    for name in NAMES:
        expect(page.locator(f'[data-animal="{name}"] output')).to_contain_text(
            "Saved, adult mouse taken.", timeout=20_000
        )
        assert "{date: 2026-11-25, what: adult mouse}" in record(keeper, name)


def test_a_weight_that_can_hardly_be_right_is_asked_about(context: BrowserContext, keeper: Keeper) -> None:
    page = opened(context, keeper)
    enter(page, "snake-00", "weight", "30")
    row = page.locator('[data-animal="snake-00"]')
    expect(row.locator("output")).to_contain_text("30 g, after 300 g on 10 January 2026: is that right?")
    assert "2026-11-25" not in record(keeper, "snake-00")
    page.reload()  # what was asked is asked still
    expect(row.get_by_label("Weight, g")).to_have_value("30")
    row.get_by_role("button", name="No", exact=True).click()
    expect(row.get_by_label("Weight, g")).to_have_value("")
    expect(row.get_by_label("Weight, g")).to_be_focused()
    enter(page, "snake-00", "weight", "31")
    row.get_by_role("button", name="Yes, that is right").click()
    expect(row.locator("output")).to_contain_text("Saved, 31 g.")
    assert "2026-11-25: 31 g" in record(keeper, "snake-00")


def test_what_is_wrong_is_told_in_its_row_and_mended_there(context: BrowserContext, keeper: Keeper) -> None:
    page = opened(context, keeper)
    enter(page, "snake-00", "weight", "heavy")
    row = page.locator('[data-animal="snake-00"] output')
    expect(row).to_contain_text('Not saved: "heavy" is not a weight')
    enter(page, "snake-00", "weight", "301")
    expect(row).to_contain_text("Saved, 301 g.")
    expect(row).not_to_contain_text("Not saved")
    enter(page, "snake-00", "weight", "302")  # a correction is no question
    expect(row).to_contain_text("Saved, 302 g.")
    assert record(keeper, "snake-00").count("2026-11-25") == 1


def test_while_the_network_is_away_entries_wait_and_come_once_and_in_order(
    context: BrowserContext, keeper: Keeper
) -> None:
    page = opened(context, keeper)
    context.set_offline(True)
    enter(page, "snake-00", "weight", "402")
    enter(page, "snake-01", "weight", "403")
    enter(page, "snake-01", "fed", "rat")
    enter(page, "snake-01", "fed", "large rat")  # corrected while it waits
    expect(page.locator('[data-animal="snake-00"] output')).to_contain_text("Waits: 402.")
    expect(page.locator("[data-waiting]")).to_contain_text("3 entries wait until the desk can be reached.")
    assert "2026-11-25" not in record(keeper, "snake-00") + record(keeper, "snake-01")
    tries: list[str] = []
    page.on("request", lambda request: tries.append(request.url))
    page.wait_for_timeout(6000)
    assert len(tries) <= 2  # not one for each that waits
    page.close()  # and opened again on the same device
    context.set_offline(False)
    page = opened(context, keeper)
    expect(page.locator('[data-animal="snake-01"] output')).to_contain_text("Saved, 403 g; large rat taken.")
    expect(page.locator("[data-waiting]")).to_be_empty()
    assert "2026-11-25: 402 g" in record(keeper, "snake-00")
    assert "2026-11-25: 403 g" in record(keeper, "snake-01")
    assert re.findall("2026-11-25, what: (.*)}", record(keeper, "snake-01")) == ["large rat"]
    assert page.evaluate("localStorage.length") == 0


def test_what_waits_is_told_and_sent_from_the_round_of_others_too(context: BrowserContext, keeper: Keeper) -> None:
    page = opened(context, keeper)
    context.set_offline(True)
    enter(page, "snake-00", "weight", "402")
    enter(page, "snake-01", "weight", "30")
    page.close()
    context.set_offline(False)
    page = opened(context, keeper, "/round?who=nobody")
    told = "Snake-01, 2026-11-25: 30 is not saved: 30 g, after 307 g on 11 January 2026: is that right?"
    expect(page.locator("[data-waiting]")).to_have_text(told)
    page.locator("[data-waiting] a").click()  # and leads to where it can be answered
    page.get_by_role("button", name="Yes, that is right").click()
    expect(page.locator('[data-animal="snake-01"] output')).to_contain_text("Saved, 30 g.")
    assert "2026-11-25: 402 g" in record(keeper, "snake-00")


def test_an_entry_whose_answer_was_lost_is_sent_again_and_counts_once(context: BrowserContext, keeper: Keeper) -> None:
    page = opened(context, keeper)
    ids: list[str] = []

    def lose_the_first(route: Route) -> None:
        if route.request.method == "POST":
            found = re.search(r'name="entry"\s+(\S+)', route.request.post_data or "")
            ids.append(found[1] if found else "")
            if len(ids) == 1:
                route.fetch()  # the desk has it, and the page never learns
                route.abort()
                return
        route.continue_()

    context.route("**/round*", lose_the_first)
    enter(page, "snake-00", "fed", "rat")
    expect(page.locator("[data-waiting]")).to_contain_text("1 entry waits until the desk can be reached.")
    assert record(keeper, "snake-00").count("what: rat") == 1
    enter(page, "snake-00", "fed", "large rat")  # corrected though nobody knows whether it came
    expect(page.locator('[data-animal="snake-00"] output')).to_contain_text("Saved, large rat taken.", timeout=10_000)
    assert len(ids) == 3
    assert ids[0] == ids[1] != ids[2]
    assert re.findall("2026-11-25, what: (.*)}", record(keeper, "snake-00")) == ["large rat"]


def test_what_was_typed_is_kept_when_the_page_goes_away(context: BrowserContext, keeper: Keeper) -> None:
    page = opened(context, keeper)
    context.set_offline(True)
    page.locator('[name="weight:snake-00"]').fill("402")
    page.evaluate("Object.defineProperty(document, 'hidden', {value: true, configurable: true});"
                  "document.dispatchEvent(new Event('visibilitychange'))")  # fmt: skip
    assert "402" in page.evaluate("JSON.stringify(localStorage)")
    context.set_offline(False)


@pytest.mark.parametrize("address", ["/round", "/diary"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
def test_axe_finds_nothing_and_a_phone_never_scrolls_sideways(
    browser: Browser, keeper: Keeper, address: str, scheme: str, size: dict[str, int]
) -> None:
    """Source: axe-core, rules of WCAG 2.0, 2.1 and 2.2, levels A and AA."""
    page = browser.new_page(viewport=size, color_scheme=scheme)  # type: ignore[arg-type]
    page.goto(keeper.address + address)
    page.locator("details summary").click()
    if address == "/round":
        enter(page, "snake-00", "weight", "30")
        enter(page, "snake-01", "weight", "heavy")
        enter(page, "snake-02", "weight", "320")
        expect(page.locator('[data-animal="snake-02"] output')).to_contain_text("Saved")
    result = Axe().run(page, options={"runOnly": {"type": "tag", "values": WCAG}}).response
    assert [(v["id"], [n["target"] for n in v["nodes"]][:3]) for v in result["violations"]] == []
    assert len(result["passes"]) > 5
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    assert page.evaluate(SMALL) == []
    page.close()


def test_without_script_one_button_saves_all(browser: Browser, keeper: Keeper) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(keeper.address + "/round")
    page.locator('[name="weight:snake-00"]').fill("402")
    page.locator('[data-animal="snake-03"]').get_by_label("adult mouse again").check()
    page.get_by_role("button", name="Save").click()
    said = f"On {dt.date(2026, 11, 25)}: snake-00 402 g; snake-03 adult mouse taken."
    expect(page.locator("[data-said]")).to_contain_text(said)
    context.close()


def test_what_was_saved_is_taken_back_in_its_row(context: BrowserContext, keeper: Keeper) -> None:
    before = record(keeper, "snake-00")
    page = opened(context, keeper)
    row = page.locator('[data-animal="snake-00"]')
    enter(page, "snake-00", "weight", "402")
    expect(row.locator("output")).to_contain_text("Saved, 402 g.")
    row.get_by_role("button", name="Take it back").click()
    expect(row.locator("output")).to_contain_text("Taken back.")
    expect(row.get_by_label("Weight, g")).to_have_value("")
    assert record(keeper, "snake-00") == before
    row.get_by_label("shed").check()
    expect(row.locator("output")).to_contain_text("Saved, shed.")
    row.get_by_label("shed").uncheck()  # which is the same
    expect(row.locator("output")).to_contain_text("Taken back.")
    assert record(keeper, "snake-00") == before
