"""A litter's table in real Chromium: filled in by keyboard alone, with what would follow told before a row is kept."""

import io
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from helpers.at_the_desk import Keeper, at_the_desk
from helpers.from_text import write_files
from PIL import Image
from playwright.sync_api import Browser, Page, Route, expect

pytestmark = pytest.mark.browser

WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
LITTER = "2026-juniper-flint"
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
  hypo: {inheritance: recessive}
  tessera: {inheritance: dominant}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
born: 2021-07-14
shows: []
stated: {amel: certain, hypo: 66%}
=== animals/flint/animal.yaml
name: Flint
species: corn-snake
sex: male
born: 2021-07-14
shows: [amel]
stated: {hypo: certain}
=== litters/2026-juniper-flint/litter.yaml
dam: juniper
sire: flint
laid: 2026-05-20
born: 2026-07-18
young:
""" + "".join(f'  "{number:02d}":\n' for number in range(1, 16))
SIZES = {"phone": {"width": 390, "height": 844}, "desktop": {"width": 1280, "height": 800}}
SMALL = """[...document.querySelectorAll('main a, main button, main input:not([type=hidden]), main select')]
  .map(each => each.closest('label') || each)
  .filter(each => each.checkVisibility() && !(each.tagName === 'A' && each.closest('p')))
  .map(each => [each.textContent.trim(), each.getBoundingClientRect().height]).filter(each => each[1] < 43.9)"""
"""What a thumb would miss: controls lower than 44 px, but for links within a line of text."""


@pytest.fixture
def keeper(tmp_path: Path) -> Iterator[Keeper]:
    with at_the_desk(write_files(tmp_path / "content", RECORDS)) as keeper:
        yield keeper


@pytest.fixture(params=["phone", "desktop"])
def page(browser: Browser, keeper: Keeper, request: pytest.FixtureRequest) -> Iterator[Page]:
    context = browser.new_context(viewport=SIZES[request.param])  # type: ignore[arg-type]
    page = context.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.goto(f"{keeper.address}/litters/{LITTER}")
    yield page
    context.close()


def record(keeper: Keeper) -> str:
    return (keeper.content / f"litters/{LITTER}/litter.yaml").read_text()


def told(page: Page, number: str):  # type: ignore[no-untyped-def]
    return page.locator(f'[data-row="{number}"] [data-follows]')


def look(page: Page, number: str, of: str):  # type: ignore[no-untyped-def]
    return page.locator(f'[data-row="{number}"] [type=checkbox][value="{of}"]')


def wait_for(keeper: Keeper, text: str) -> None:
    for _ in range(200):
        if text in record(keeper):
            return
        time.sleep(0.05)
    pytest.fail(f"{text} was never written:\n{record(keeper)}")


def test_a_clutch_by_keyboard_alone(page: Page, keeper: Keeper) -> None:
    page.locator("#on").focus()
    while page.evaluate("document.activeElement.name") != "01.sex":
        page.keyboard.press("Tab")
    for number in range(1, 16):
        page.keyboard.press("f" if number % 2 else "m")
        for ticked in (number % 3 == 0, number % 5 == 0, number % 3 and number % 5):  # amelanistic, hypo, nothing seen
            page.keyboard.press("Tab")
            if ticked:
                page.keyboard.press("Space")
        for typed in ("", f"{number + 5}", f"{100 + number}"):  # another look, weight, price
            page.keyboard.press("Tab")
            page.keyboard.type(typed)
        page.keyboard.press("Enter")
    wait_for(keeper, "price: 115")
    for number in range(1, 16):
        looks = ", ".join(look for look, every in (("amel", 3), ("hypo", 5)) if number % every == 0)
        own = f"sex: {'female' if number % 2 else 'male'}, shows: [{looks}], weights: {{2026-11-25: {number + 5} g}}"
        assert own in record(keeper)
        assert f"{{price: {100 + number}, state: available, since: 2026-11-25}}" in record(keeper)
    expect(told(page, "15")).to_contain_text("No. 15: sex female, shows amel, hypo, weight 20 g, price 115.")


def test_what_would_follow_is_told_before_anything_is_kept(page: Page, keeper: Keeper) -> None:
    before = record(keeper)
    look(page, "01", "hypo").check()
    expect(told(page, "01")).to_contain_text("Juniper carries hypo for certain; until now may carry hypo")
    expect(told(page, "01")).to_contain_text("Each of the other 14 young may have hypo")
    assert record(keeper) == before
    look(page, "02", "nothing").focus()
    wait_for(keeper, "shows: [hypo]")


def test_what_cannot_be_is_told_and_never_kept(page: Page, keeper: Keeper) -> None:
    before = record(keeper)
    page.locator('[data-row="01"] input[list]').fill("tessera")
    expect(told(page, "01")).to_contain_text("This cannot be kept so.")
    expect(told(page, "01")).to_contain_text("Flint does not show tessera")
    look(page, "02", "nothing").focus()
    expect(told(page, "01")).to_contain_text("Nothing was changed.")
    assert record(keeper) == before
    page.locator('[data-row="01"] input[list]').fill("")
    expect(told(page, "01")).to_be_empty()


def test_a_look_that_is_typed_by_its_name_is_ticked_once_it_is_kept(page: Page, keeper: Keeper) -> None:
    page.locator('[data-row="01"] input[list]').fill("amelanistic")
    page.locator('[name="01.weight"]').fill("9")
    look(page, "02", "nothing").focus()
    expect(look(page, "01", "amel")).to_be_checked()
    expect(page.locator('[data-row="01"] input[list]')).to_have_value("")
    expect(page.locator('[name="01.weight"]')).to_have_value("9 g")
    assert "weights: {2026-11-25: 9 g}" in record(keeper)


def test_nothing_seen_and_a_look_exclude_each_other(page: Page) -> None:
    look(page, "01", "nothing").check()
    look(page, "01", "amel").check()
    assert not look(page, "01", "nothing").is_checked()
    look(page, "01", "nothing").check()
    assert not look(page, "01", "amel").is_checked()


def test_a_late_answer_is_dropped(page: Page) -> None:
    held: list[Route] = []

    def late(route: Route) -> None:
        if held:
            route.continue_()
        else:
            held.append(route)

    page.route("**/consider", late)
    look(page, "01", "hypo").check()
    page.wait_for_timeout(400)
    look(page, "01", "amel").check()
    expect(told(page, "01")).to_contain_text("No. 01: Amelanistic hypo")
    shown = told(page, "01").inner_text()
    held[0].continue_()
    page.wait_for_timeout(800)
    assert told(page, "01").inner_text() == shown


def test_a_row_waits_while_the_desk_does_not_answer(page: Page, keeper: Keeper) -> None:
    page.context.set_offline(True)
    look(page, "01", "amel").check()
    look(page, "02", "nothing").focus()
    expect(told(page, "01")).to_contain_text("Not kept yet; it waits here.")
    page.context.set_offline(False)
    wait_for(keeper, "shows: [amel]")


def test_a_row_that_waits_is_there_when_the_page_is_opened_again(page: Page, keeper: Keeper) -> None:
    page.route("**/litters/*", lambda route: route.abort() if route.request.method == "POST" else route.continue_())
    page.locator('[name="03.price"]').fill("140")
    look(page, "03", "hypo").check()
    page.locator('[data-row="03"] input[list]').fill("amel")
    look(page, "02", "nothing").focus()
    expect(told(page, "03")).to_contain_text("Not kept yet; it waits here.")
    before = record(keeper)
    assert "price: 140" not in before
    page.unroute("**/litters/*")
    page.on("dialog", lambda dialog: dialog.accept())
    page.reload()
    wait_for(keeper, "price: 140")
    assert "shows: [amel, hypo]" in record(keeper)
    expect(told(page, "03")).not_to_contain_text("Nothing was changed")
    assert page.evaluate("localStorage.length") == 0


def photograph(colour: str) -> bytes:
    written, image = io.BytesIO(), Image.new("RGB", (400, 300), colour)
    exif = image.getexif()
    exif.get_ifd(0x8769)[0x9003] = "2026:07:20 10:00:00"
    image.save(written, "JPEG", exif=exif)
    return written.getvalue()


def test_photographs_chosen_for_a_row_and_dropped_on_one(page: Page, keeper: Keeper) -> None:
    file = {"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": photograph("olive")}
    page.locator('[data-row="01"] input[type=file]').set_input_files(file)  # type: ignore[arg-type]
    expect(page.locator('[data-row="01"] img')).to_be_visible()
    dropped = page.evaluate_handle(
        """bytes => {
          const data = new DataTransfer();
          data.items.add(new File([new Uint8Array(bytes)], "IMG_2.jpg", { type: "image/jpeg" }));
          return data;
        }""",
        list(photograph("tan")),
    )
    page.dispatch_event('[data-row="02"]', "drop", {"dataTransfer": dropped})
    expect(page.locator('[data-row="02"] img')).to_be_visible()
    assert sorted(each.name for each in (keeper.content / f"litters/{LITTER}").glob("*.jpg")) == [
        "01 2026-07-20.jpg", "02 2026-07-20.jpg",
    ]  # fmt: skip
    text = page.evaluate_handle(
        """() => {
          const data = new DataTransfer();
          data.items.add(new File(["text"], "2026-07-20.jpg"));
          return data;
        }"""
    )
    page.dispatch_event('[data-row="03"]', "drop", {"dataTransfer": text})
    expect(told(page, "03")).to_contain_text("not a picture")


def test_without_scripts_one_button_keeps_the_table(browser: Browser, keeper: Keeper) -> None:
    context = browser.new_context(java_script_enabled=False, viewport=SIZES["phone"])  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(f"{keeper.address}/litters/{LITTER}")
    for number in ("01", "02"):
        look(page, number, "amel").check()
        page.locator(f'[name="{number}.weight"]').fill("9")
    page.get_by_role("button", name="Keep what is written").click()
    expect(page.get_by_role("status")).to_contain_text(
        "No. 01: shows amel, weight 9 g; No. 02: shows amel, weight 9 g."
    )
    assert record(keeper).count("shows: [amel], weights: {2026-11-25: 9 g}") == 2
    page.locator('[name="03.weight"]').fill("7 stone")
    page.locator('[data-row="03"] input[list]').fill("amle")
    page.get_by_role("button", name="Keep what is written").click()
    expect(page.get_by_role("alert")).to_contain_text('corn snake has no look "amle"')
    expect(page.locator('[name="03.weight"]')).to_have_value("7 stone")  # nothing that was typed is lost
    expect(page.locator('[data-row="03"] input[list]')).to_have_value("amle")
    page.get_by_role("button", name="One more young").click()
    assert '"16":' in record(keeper)
    context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_axe_finds_nothing_and_nothing_is_too_small_or_too_wide(
    browser: Browser, keeper: Keeper, scheme: str, size: str
) -> None:
    """Source: axe-core, rules of WCAG 2.0, 2.1 and 2.2, levels A and AA, and its good practice."""
    context = browser.new_context(viewport=SIZES[size], color_scheme=scheme)  # type: ignore[arg-type]
    page, found = context.new_page(), {}
    for address in (f"/litters/{LITTER}", f"/photos/{LITTER}/01"):
        page.goto(keeper.address + address)
        if address.startswith("/litters"):
            look(page, "01", "hypo").check()
            expect(told(page, "01")).to_contain_text("Juniper")
        result = Axe().run(page, options={"runOnly": {"type": "tag", "values": WCAG}}).response
        found |= {f"{address} {each['id']}": each["nodes"][0]["html"] for each in result["violations"]}
        assert page.evaluate("document.documentElement.scrollWidth") <= SIZES[size]["width"]
        assert page.evaluate(SMALL) == []
    context.close()
    assert found == {}
