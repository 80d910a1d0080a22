"""The preview in real Chromium: a saved record shows by itself at the same place, a broken one shows what to mend."""

import re
import shutil
import signal
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.program import SITEGEN
from playwright.sync_api import Browser, Page, expect

pytestmark = pytest.mark.browser

THEMES = Path(__file__).parents[2] / "themes"
LONG = "\n".join(f"  Line {number} of a long text.\n" for number in range(200))
RECORDS = f"""
=== site.yaml
name: A Collection
=== species/corn-snake.yaml
name: corn snake
loci:
  amel: {{name: amelanistic, inheritance: recessive}}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
shows: [amel]
about: |
{LONG}
"""


@pytest.fixture
def previewed(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    """The address of a running preview, and its content folder."""
    content = write_files(tmp_path / "content", RECORDS)
    command = [*SITEGEN, "preview", "--port", "0", "--content", str(content)]
    command += ["--output", str(tmp_path / "output"), "--themes", str(THEMES)]
    told = tmp_path / "told.txt"
    with (
        told.open("wb") as messages,
        subprocess.Popen(command, stdout=subprocess.PIPE, stderr=messages, cwd=tmp_path) as running,
    ):
        assert running.stdout is not None
        address = re.search(r"http://[\d.]+:\d+/", running.stdout.readline().decode())
        assert address is not None
        try:
            yield address[0], content
            running.send_signal(signal.SIGINT)
            assert running.wait(10) == 0
        finally:
            running.kill()
    assert "Traceback" not in told.read_text()
    assert "The preview has ended." in told.read_text()
    assert not (tmp_path / "output").exists()


def assert_scrolled_to(page: Page, wanted: int) -> None:
    """The page is there within a few seconds, give or take a line."""
    for _ in range(60):
        if abs(page.evaluate("scrollY") - wanted) <= 50:
            return
        page.wait_for_timeout(50)
    pytest.fail(f"scrolled to {page.evaluate('scrollY')}, not to {wanted}")


def test_a_saved_record_shows_by_itself_where_one_had_scrolled_to(
    browser: Browser, previewed: tuple[str, Path]
) -> None:
    address, content = previewed
    record = content / "animals/juniper/animal.yaml"
    sound = record.read_text()
    page = browser.new_page()
    troubles: list[str] = []
    page.on("pageerror", lambda error: troubles.append(str(error)))
    page.on("console", lambda message: troubles.append(message.text) if message.type == "error" else None)
    page.goto(f"{address}animals/juniper.html")
    heading = page.locator("h1").first
    expect(heading).to_have_text("Juniper")
    page.evaluate("scrollTo({top: 1500, behavior: 'instant'})")
    record.write_text(sound.replace("name: Juniper", "name: Juniper the Elder"))
    expect(heading).to_have_text("Juniper the Elder", timeout=5000)
    assert_scrolled_to(page, 1500)
    assert troubles == []

    record.write_text(sound.replace("[amel]", "[amle]"))
    expect(heading).to_have_text("Something is to be mended", timeout=5000)
    expect(page.locator(".place").first).to_have_text("animals/juniper/animal.yaml:3:9")
    expect(page.locator("pre").first).to_contain_text("shows: [amle]")
    expect(page.locator(".place").first).to_have_css("font-family", "monospace")  # its style has come

    page.get_by_text("The page as it was when all was well").click()
    expect(heading).to_have_text("Juniper the Elder")
    page.go_back()
    expect(heading).to_have_text("Something is to be mended")

    record.write_text(sound)
    expect(heading).to_have_text("Juniper", timeout=5000)
    assert_scrolled_to(page, 1500)
    page.close()


def test_a_record_that_goes_and_comes_back_is_followed(browser: Browser, previewed: tuple[str, Path]) -> None:
    address, content = previewed
    page = browser.new_page()
    page.goto(f"{address}animals/juniper.html")
    folder = content / "animals/juniper"
    folder.rename(content / "animals/sage")
    expect(page.locator("body")).not_to_contain_text("Line 7 of", timeout=5000)
    page.goto(f"{address}animals/sage.html")
    expect(page.locator("h1").first).to_have_text("Juniper")
    shutil.rmtree(content)
    expect(page.locator("h1").first).to_have_text("Something is to be mended", timeout=5000)
    write_files(content, RECORDS.replace("name: Juniper", "name: Sorrel"))
    page.goto(f"{address}animals/juniper.html")
    expect(page.locator("h1").first).to_have_text("Sorrel", timeout=10_000)
    page.close()


def test_the_keeper_finds_what_is_for_print_and_prints_no_word_of_it(
    browser: Browser, previewed: tuple[str, Path]
) -> None:
    address, _ = previewed
    page = browser.new_page()
    for name in ("Price list", "Tub cards"):
        page.goto(f"{address}animals/juniper.html")
        page.get_by_label("In the preview alone").get_by_role("link", name=name).click()
        expect(page.locator("h1")).to_have_text(name)
    bar = "document.querySelector('nav[aria-label=\"In the preview alone\"]')"
    page.evaluate(f"addEventListener('beforeprint', () => (window.unprinted = {bar}.hidden))")
    page.pdf()
    assert page.evaluate("unprinted") is True
    page.close()
