"""The index in Chromium: narrowed while one types, by keyboard, from the disk too; whole without scripts."""

from pathlib import Path

import pytest
from helpers.pages import THEMES
from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser


def shown(page: Page) -> list[str]:
    return page.evaluate(
        "[...document.querySelectorAll('[data-found] > li')].filter(e => e.offsetParent)"
        ".map(e => e.querySelector('a').textContent)"
    )


@pytest.mark.parametrize("theme", THEMES)
def test_words_narrow_the_index_and_the_address_keeps_them(browser: Browser, hosts: dict[str, str], theme: str) -> None:
    page = browser.new_page()
    troubles: list[str] = []
    page.on("console", lambda message: troubles.append(message.text))
    page.on("pageerror", lambda error: troubles.append(str(error)))
    page.goto(hosts[theme] + "search.html")
    everything = shown(page)
    page.get_by_role("searchbox").focus()
    page.keyboard.type("JUNÍPER")
    assert shown(page)
    told = page.locator("[data-found] > li:visible").all_text_contents()
    assert all("Juniper" in entry for entry in told)
    assert page.url.endswith("#find=JUN%C3%8DPER")
    assert page.get_by_role("status").text_content() == f"{len(shown(page))} of {len(everything)} found"
    page.reload()
    assert 0 < len(shown(page)) < len(everything)
    page.get_by_role("searchbox").fill("no such thing as this")
    assert shown(page) == []
    assert page.get_by_text("Nothing here has all of these words").is_visible()
    page.get_by_role("searchbox").fill("")
    assert shown(page) == everything
    page.get_by_role("searchbox").fill("terms")
    page.keyboard.press("Enter")
    page.wait_for_url("**/terms.html")
    page.close()
    assert troubles == []


@pytest.mark.parametrize(
    ("words", "told", "not_told"),
    [
        ("het amel", "het amelanistic", ": Amelanistic, "),
        ("poss het hypo", "possible het hypo", "Hypo gene"),
        ("66 het hypo", "possible het hypo (67 in 100)", "may have hypo"),
        ("on hold", "On hold.", "Available."),
        ("ghost male", "Ghost", ", female,"),
    ],
)
def test_animals_are_found_by_label_line_shorthand_combination_and_state(
    browser: Browser, hosts: dict[str, str], words: str, told: str, not_told: str
) -> None:
    page = browser.new_page()
    page.goto(hosts[THEMES[0]] + "search.html")
    page.get_by_role("searchbox").fill(words)
    found = page.locator("[data-found] > li:visible").all_text_contents()
    page.close()
    assert found
    assert any(told in entry for entry in found), found
    assert not any(not_told in entry for entry in found), found


@pytest.mark.parametrize("theme", THEMES)
def test_the_index_works_from_a_disk_and_stands_whole_without_scripts(
    browser: Browser, themed: dict[str, Path], theme: str
) -> None:
    address = (themed[theme] / "search.html").as_uri()
    page = browser.new_page()
    page.goto(address + "#find=amelanistic")
    narrowed = shown(page)
    page.close()
    context = browser.new_context(java_script_enabled=False)
    plain = context.new_page()
    plain.goto(address)
    whole = plain.locator("[data-found] > li a").count()
    assert 0 < len(narrowed) < whole
    assert not plain.locator("form").is_visible()
    assert plain.locator(".letters a").first.is_visible()
    context.close()


@pytest.mark.parametrize("theme", THEMES)
def test_what_is_available_is_narrowed_by_keyboard_and_counted_aloud(
    browser: Browser, hosts: dict[str, str], theme: str
) -> None:
    page = browser.new_page()
    page.goto(hosts[theme] + "available.html")
    everyone = page.locator("[data-list] > li:visible").count()
    page.get_by_label("Sex", exact=True).focus()
    page.keyboard.press("ArrowDown")
    page.wait_for_timeout(50)
    some = page.locator("[data-list] > li:visible").count()
    assert 0 < some < everyone
    assert page.get_by_role("status").text_content() == f"{some} of {everyone} shown"
    assert "#" in page.url
    page.reload()
    assert page.locator("[data-list] > li:visible").count() == some
    page.close()
