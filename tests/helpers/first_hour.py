"""A keeper's first hour at the desk in a browser, as `sitegen/guide/first-hour.md` tells it."""

from collections.abc import Iterator

from playwright.sync_api import Locator, Page, expect

DAY = "2026-08-20"
SLOW = 30_000
"""Milliseconds that a busy machine may take."""
PHONE, TABLE = {"width": 390, "height": 844}, {"width": 1000, "height": 700}


def first_hour(page: Page, address: str) -> Iterator[str]:
    """Do it; after each part of the story its name, while the page that it ends on is shown."""
    page.set_viewport_size(TABLE)  # type: ignore[arg-type]
    page.goto(address)
    page.get_by_label("What is it called?").fill("My Snakes")
    page.get_by_label("Which species do you keep?").select_option("corn-snake")
    yield "begin"
    page.get_by_role("button", name="Begin").click()
    yield "today"
    page.get_by_role("link", name="write down the first").click()
    new_animal(page, "Juniper", "female", "2021-07-14", ["amel"])
    yield "animal"
    place(page, "Animals")
    page.get_by_role("link", name="A new animal").click()
    new_animal(page, "Flint", "male", "2021-06-20", [], ("amel", "66%"))
    new_litter(page)
    yield "clutch"
    row(page, "01").locator('input[value="amel"]').check()
    expect(told(page, "01")).to_contain_text("Flint", timeout=SLOW)
    row(page, "01").evaluate("each => each.scrollIntoView({ block: 'center' })")
    yield "follows"
    describe(page)
    yield "described"
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    place(page, "The round")
    for name, weight in (("Juniper", "412"), ("Flint", "388")):
        weighed = page.get_by_role("group", name=name, exact=True)
        weighed.get_by_label("Weight").fill(weight)
        page.keyboard.press("Enter")
        expect(weighed.locator("output")).to_contain_text("Saved", timeout=SLOW)
    yield "round"
    page.set_viewport_size(TABLE)  # type: ignore[arg-type]
    offer(page)
    yield "offer"
    place(page, "The site")
    yield "site"
    page.get_by_role("link", name="Back to the desk").click()
    place(page, "Changes")
    yield "changes"
    page.get_by_role("button", name="Take back").first.click()
    yield "back"


def place(page: Page, name: str) -> None:
    """Go to a page that every page leads to."""
    page.get_by_role("navigation", name="The desk").get_by_role("link", name=name, exact=True).click()


def new_animal(
    page: Page, name: str, sex: str, born: str, shows: list[str], stated: tuple[str, str] | None = None
) -> None:
    """A record of its own, once its form is open."""
    page.get_by_label("Name").fill(name)
    page.get_by_label("Sex").select_option(sex)
    page.get_by_label("Born").fill(born)
    for look in shows:
        page.locator(f'[name="shows"][value="{look}"]').check()
    if not shows:
        page.get_by_label("it was looked at and shows none of these").check()
    if stated:
        for label, value in zip(("Gene", "What was stated"), stated, strict=True):
            page.get_by_label(label, exact=True).fill(value)
    page.get_by_role("button", name="Begin the record").click()
    expect(page.locator("h1")).to_have_text(name, timeout=SLOW)


def new_litter(page: Page) -> None:
    """Six young of the two."""
    place(page, "Litters")
    page.get_by_role("link", name="A new litter").click()
    said = {"Dam": "juniper", "Sire": "flint", "Laid": "2026-05-20", "Born": "2026-07-18", "Eggs": "8", "Young": "6"}
    for label, value in said.items():
        page.get_by_label(label, exact=True).fill(value)
    page.get_by_role("button", name="Begin the record").click()
    expect(row(page, "06")).to_be_visible(timeout=SLOW)


def row(page: Page, number: str) -> Locator:
    """A young in the litter's table."""
    return page.locator(f'[data-row="{number}"]')


def told(page: Page, number: str) -> Locator:
    """What is said below its row."""
    return row(page, number).locator("[data-follows]")


def describe(page: Page) -> None:
    """All six, each with a look or with nothing seen, and a price for those that may go."""
    for count in range(1, 7):
        number = f"{count:02}"
        own = row(page, number)
        own.locator("select").select_option("female" if count % 2 else "male")
        own.locator(f'input[value="{"amel" if count % 3 == 1 else "nothing"}"]').check()
        if count > 1:
            own.get_by_label(f"Price of No. {number}").fill("140" if count == 4 else "60")
        page.keyboard.press("Enter" if count > 1 else "Tab")
    for count in range(2, 7):
        expect(told(page, f"{count:02}")).to_contain_text("price", timeout=SLOW)


def offer(page: Page) -> None:
    """The amelanistic one is held for somebody."""
    place(page, "Offers")
    held = page.get_by_role("form", name="No. 04")
    held.get_by_label("State").select_option("on hold")
    expect(held.get_by_role("status")).to_contain_text("on hold", timeout=SLOW)
