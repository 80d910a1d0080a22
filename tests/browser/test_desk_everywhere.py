"""Every page of the desk in Chromium: before axe, by day and night, on phone and desktop, and before the Nu checker.

The pages are collected from the desk's own routes, so that a new one is looked at or fails here until it has an
example below.
"""

import itertools
import json
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import axe_playwright_python as axe_core
import pytest
from helpers.at_the_desk import DAY, Keeper, at_the_desk
from helpers.checked_markup import nu_command
from helpers.from_text import write_files
from helpers.small_plan import ROOM
from playwright.sync_api import Browser, Page, expect
from starlette.routing import Route

from sitegen.app.commands.desk import desk_of
from sitegen.build import Order

pytestmark = pytest.mark.browser

REPOSITORY = Path(__file__).parents[2]
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SIZES = {"phone": {"width": 390, "height": 844}, "desktop": {"width": 1280, "height": 800}}
EXAMPLES = {
    "/animals/{id}": ["/animals/juniper", "/animals/pyrite"],
    "/animals/new": ["/animals/new", "/animals/new?species=kenyan-sand-boa"],
    "/changes/{number:int}": ["/changes/1"],
    "/litters/{litter}": ["/litters/2026-fennel-cinnabar", "/litters/2026-tansy-slate-or-chalk"],
    "/litters/{id}/record": ["/litters/2026-fennel-cinnabar/record"],
    "/litters/{id}/{number}": ["/litters/2026-fennel-cinnabar/02"],
    "/offers": ["/offers", "/offers?state=sold", "/offers?state=none"],
    "/photos/{record:path}": ["/photos/juniper", "/photos/2026-fennel-cinnabar"],
    "/projects/{id}": ["/projects/snow-ladder"],
    "/round": ["/round", "/round?what=weights", "/round?what=meals&who=all"],
    "/waiting/{id}": ["/waiting/A.%20from%20the%20fair"],
    "/": ["/", "/animals/nobody"],
}
"""What is looked at where an address has a name in it, or shows more than one thing; any other address is an example
of itself."""
NO_PAGES = {"/favicon.ico", "/plan/how-far", "/photos/small/{mark}.jpg"}
ELSEWHERE = {"/site/{address:path}", "/begin"}
"""The site's own pages are looked at in the other files of this folder; a collection is begun below."""
COLOURS = ["color-contrast", "link-in-text-block"]
"""What can differ by night; everything else is asked by day."""
VIOLATIONS = """async asked => {
  const found = await axe.run({ runOnly: asked, resultTypes: ["violations"] });
  return found.violations.map(each => `${each.id}: ${each.nodes[0].html.slice(0, 160)}`);
}"""
UNNAMED = """[...document.querySelectorAll('input:not([type=hidden]), select, textarea, button')].filter(each =>
  !each.labels?.length && !each.ariaLabel && !each.textContent.trim() && !each.getAttribute('aria-labelledby')
).map(each => each.outerHTML.slice(0, 160))"""
"""Controls of which a screen reader could say nothing."""


def routes() -> list[Route]:
    desk = desk_of(Order(Path("nowhere"), Path("nowhere"), Path("nowhere")), lambda: DAY, print)
    return [each for each in desk._app.routes if "GET" in each.methods]  # type: ignore[attr-defined]


def addresses() -> list[str]:
    found = [each.path for each in routes() if not each.path.startswith("/desk/")]
    return [example for path in found if path not in NO_PAGES | ELSEWHERE for example in EXAMPLES.get(path, [path])]


def test_every_page_has_an_example() -> None:
    assert [address for address in addresses() if "{" in address] == []
    assert {each.path for each in routes()} >= NO_PAGES | ELSEWHERE | {*EXAMPLES}


@pytest.fixture(scope="module")
def keeper(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Keeper]:
    content = shutil.copytree(REPOSITORY / "content", tmp_path_factory.mktemp("desk") / "content")
    with at_the_desk(content) as keeper:
        assert keeper.send("/round", **{"weight:juniper": "812"}).facts["undo"] == 1
        yield keeper


@dataclass
class Looked:
    """A page in the browser, with whatever it complained about."""

    page: Page
    told: list[str] = field(default_factory=list)


@pytest.fixture
def looked(browser: Browser) -> Iterator[Looked]:
    context = browser.new_context()
    found = Looked(context.new_page())
    found.page.on("pageerror", lambda error: found.told.append(str(error)))
    found.page.on("console", lambda line: found.told.append(line.text) if line.type in ("error", "warning") else None)
    yield found
    context.close()


def faults_of(looked: Looked, where: str) -> list[str]:
    """What is wrong with a page as it is shown in four ways."""
    found, page = [], looked.page
    axe = (Path(axe_core.__file__).parent / "axe.min.js").read_text("utf-8")
    page.evaluate(axe)
    page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
    for name, scheme in itertools.product(SIZES, ("light", "dark")):
        page.set_viewport_size(SIZES[name])  # type: ignore[arg-type]
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        told = page.evaluate(VIOLATIONS, WCAG if scheme == "light" else COLOURS)
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            told.append("it scrolls sideways")
        found += [f"{where}, {name}, {scheme}: {each}" for each in told]
    found += [f"{where}: {each} of h1" for each in [page.locator("h1").count()] if each != 1]
    return found + [f"{where}: no name: {each}" for each in page.evaluate(UNNAMED)] + looked.told


@pytest.mark.parametrize("address", addresses())
def test_a_page_is_sound_on_phone_and_desktop_by_day_and_night(keeper: Keeper, looked: Looked, address: str) -> None:
    """Source: axe-core, rules of WCAG 2.0, 2.1 and 2.2, levels A and AA, and its good practice; 1.4.10 reflow."""
    looked.page.goto(keeper.address + address)
    looked.told[:] = [each for each in looked.told if "404" not in each or address != "/animals/nobody"]
    assert faults_of(looked, address) == []


def test_a_collection_that_begins_is_sound_before_and_after(looked: Looked, tmp_path: Path) -> None:
    with at_the_desk(tmp_path / "content") as keeper:
        looked.page.goto(keeper.address)
        expect(looked.page.locator("h1")).to_have_text("Begin a collection")
        assert faults_of(looked, "/begin") == []
        looked.page.get_by_label("What is it called?").fill("Test")
        looked.page.get_by_role("button", name="Begin").click()
        for address in ("/", "/round", "/animals", "/litters", "/projects", "/offers", "/changes", "/diary", "/plan"):
            looked.page.goto(keeper.address + address)
            assert faults_of(looked, f"empty {address}") == []


def test_a_refused_form_and_a_search_are_sound(keeper: Keeper, looked: Looked) -> None:
    page = looked.page
    page.goto(f"{keeper.address}/animals/slate")
    page.locator("[name='born']").fill("14.7.2021")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("Nothing was changed")
    looked.told[:] = [each for each in looked.told if "422" not in each]
    found = faults_of(looked, "refused")
    page.goto(f"{keeper.address}/plan")
    page.get_by_role("button", name="Which pairings?").click()
    expect(page.get_by_role("button", name="Stop looking")).to_be_visible()
    found += faults_of(looked, "the search")
    page.get_by_role("button", name="Stop looking").click()
    expect(page.get_by_role("alert")).to_contain_text("was ended")
    assert found + faults_of(looked, "the search that was ended") == []


def test_a_plan_is_sound(looked: Looked, tmp_path: Path) -> None:
    write_files(tmp_path / "content", "".join(f"=== {path}\n{text}" for path, text in ROOM.items()))
    with at_the_desk(tmp_path / "content") as keeper:
        looked.page.goto(f"{keeper.address}/plan")
        looked.page.get_by_role("button", name="Which pairings?").click()
        expect(looked.page.locator(".answer table").first).to_be_visible(timeout=120_000)
        assert faults_of(looked, "the plan") == []


def test_the_nu_checker_finds_no_error_and_no_warning(keeper: Keeper, tmp_path: Path) -> None:
    """Source: the Nu HTML Checker of the W3C and the WHATWG, validator.github.io/validator."""
    nu = nu_command()
    pages = {f"{number:02}.html": address for number, address in enumerate(addresses())}
    for name, address in pages.items():
        (tmp_path / name).write_bytes(keeper.look(address).body)
    command = [*nu, "--skip-non-html", "--format", "json", str(tmp_path)]
    run = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    told = [(pages[each["url"].rpartition("/")[2]], each["message"], each.get("extract"))
            for each in json.loads(run.stderr)["messages"]]  # fmt: skip
    assert told == []
